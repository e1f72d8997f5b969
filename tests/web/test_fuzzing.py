"""The whole API against its own description: generated requests, never a 500, every answer of the shape it promises.

A bounded run with a fixed seed; `make fuzz` runs longer. The checks are schemathesis's own (OpenAPI 3.1): no server
error, statuses and content types that the description names, bodies that fit it. What a signed-in chair may send is
nearly everything.
"""

import os
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, given, settings
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from tests.web.fairs import HOME, Served

EXAMPLES = int(os.environ.get("PLANISH_FUZZ", "2"))
CHECKS: list[Any] = [
    not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_schema_conformance,
]
ENDS = {"sign_out", "change_passphrase", "verify_log"}
"""Left out: they end the session that the run works with, or read the whole log back each time."""
SLOW = list(HealthCheck)


def broken_by(operation: Any, fair: Served, who: str) -> str:
    """What the first failing request to one operation says; "" when none fails."""

    @settings(
        max_examples=EXAMPLES,
        deadline=None,
        database=None,
        derandomize=True,
        phases=[Phase.generate],
        suppress_health_check=SLOW,
    )
    @given(case=operation.as_strategy())
    def attempt(case: Any) -> None:
        sent = case.as_transport_kwargs(base_url=HOME)
        for name in ("allow_redirects", "timeout", "verify", "cert", "proxies"):
            sent.pop(name, None)
        sent["headers"] = {k: v for k, v in dict(sent["headers"]).items() if k.lower() != "user-agent"}
        sent["headers"] |= {"origin": HOME}
        sent.pop("cookies", None)
        fair.desk.accounts._wrong.clear()  # a fuzzer guesses; waiting would hide what lies behind
        case.validate_response(fair[who].request(**sent), checks=CHECKS)

    try:
        attempt()
    except BaseExceptionGroup as group:
        return str(group.exceptions[0])
    except Exception as error:
        return f"{type(error).__name__}: {error}"
    return ""


@pytest.mark.parametrize("who", ["chair", "stand 7"])
def test_no_request_breaks_the_desk(fair: Served, who: str) -> None:
    schema = schemathesis.openapi.from_dict(fair.app.openapi())
    operations = [found.ok() for found in schema.get_all_operations()]
    wanted = [one for one in operations if one.definition.raw["operationId"] not in ENDS]
    assert len(wanted) > 80
    broken = {one.label: broken_by(one, fair, who)[:600] for one in wanted}
    assert {label: said for label, said in broken.items() if said} == {}
    assert fair.stranger().get("/api/v1/session").status_code == 200
