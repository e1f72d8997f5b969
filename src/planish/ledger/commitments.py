"""Salted commitments: the log proves what was written without holding it readable.

A private field stands in `raw` as `{"c": hex}` with c = SHA-256(0x02 ‖ salt ‖ path ‖ 0 ‖ value), 32 random bytes of
salt, `path` the field's name and `value` its JSON as UTF-8 bytes. The pair (salt, value) is the *opening*; deleting it
deletes the text, and the chain still verifies. Salts come in as arguments.
"""

import hashlib
import json
import re
from collections.abc import Callable, Iterable, Mapping, Set
from dataclasses import dataclass
from typing import Any

from planish.ledger.events import SECRET_LIMIT, Event, kind_of, to_bytes
from planish.records.frozen import quick

SALT_BYTES = 32
_HEX = re.compile(r"[0-9a-f]{64}")


@quick
@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """The readable side of one commitment: the field `path`, its salt, its value as JSON bytes."""

    path: str
    salt: bytes
    value: bytes

    def read(self) -> Any:
        """The value."""
        return json.loads(self.value)


def commitment(salt: bytes, path: str, value: bytes) -> str:
    """c as 64 hex digits. Raises ValueError unless the salt is 32 bytes and the path holds no zero byte."""
    if len(salt) != SALT_BYTES or "\0" in path:
        raise ValueError("a salt has 32 bytes and a path no zero byte")
    return hashlib.sha256(b"\x02" + salt + path.encode() + b"\0" + value).hexdigest()


def commit_body(
    body: Mapping[str, Any], private: Iterable[str], salt: Callable[[], bytes]
) -> tuple[dict[str, Any], tuple[Opening, ...]]:
    """Put a commitment in the place of each private field that is there; give the openings beside it."""
    hidden = frozenset(private)
    shown: dict[str, Any] = {}
    openings = []
    for path, value in body.items():
        if path not in hidden:
            shown[path] = value
            continue
        opening = Opening(path=path, salt=salt(), value=to_bytes(value))
        shown[path] = {"c": commitment(opening.salt, path, opening.value)}
        openings.append(opening)
    return shown, tuple(openings)


def is_commitment(value: Any) -> bool:
    """True for `{"c": 64 hex digits}`."""
    if not isinstance(value, dict) or len(value) != 1:
        return False
    text = value.get("c")
    return isinstance(text, str) and _HEX.fullmatch(text) is not None


def committed(event: Event) -> dict[str, str]:
    """Every commitment in the event's body, by field name."""
    return {
        path: value["c"] for path, value in event.body.items() if type(value) is dict and is_commitment(value)
    }


def fault(event: Event, openings: Iterable[Opening], gone: Set[str] = frozenset()) -> str:
    """What is wrong with the openings handed in beside an event; "" when nothing is.

    Every commitment needs its opening and every opening its commitment, and they must agree; a private field must
    not stand readable in the body. `gone` are fields whose text was deleted: they come without.
    """
    wanted = committed(event)
    kind = kind_of(event)
    naked = [] if kind is None else sorted((kind.private & event.body.keys()) - wanted.keys())
    if naked:
        return f"the field {naked[0]} stands readable in the event"
    offered = [*openings]
    if sorted(opening.path for opening in offered) != sorted(wanted.keys() - gone):
        return "commitments and openings do not pair up"
    if sum(len(opening.value) for opening in offered) > SECRET_LIMIT:
        return f"the openings are longer than {SECRET_LIMIT} bytes"
    for opening in offered:
        if not opens(opening, wanted[opening.path]):
            return f"the opening of {opening.path} does not match its commitment"
    return ""


def opens(opening: Opening, c: str) -> bool:
    """True when the opening's salt and value give the commitment `c`."""
    return len(opening.salt) == SALT_BYTES and commitment(opening.salt, opening.path, opening.value) == c
