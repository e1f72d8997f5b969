"""Gathering people: who takes part, on which panels, with which conflicts; which stands there are."""

import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from planish.errands.opening.refusing import refuse
from planish.errands.opening.wiring import OFFICE, Fair
from planish.ledger.journal import Draft

TABLES = ("person", "panel", "stand")


def read_people(path: Path) -> Mapping[str, list[dict[str, Any]]]:
    """The tables [[person]], [[panel]] and [[stand]] of a TOML file; refuses anything else with the place."""
    try:
        content = tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise refuse(
            path.name, f"The file cannot be read: {error}.", "See docs/fair.md for what it holds."
        ) from error
    strange = sorted(content.keys() - set(TABLES))
    if strange or not content:
        what = f"It holds {strange[0]!r}." if strange else "It holds nothing."
        raise refuse(path.name, what, "Give [[person]], [[panel]] or [[stand]] tables; see docs/fair.md.")
    return content


def gather(fair: Fair, content: Mapping[str, list[dict[str, Any]]]) -> dict[str, int]:
    """Record people, roles, conflicts, panels and stands that are not known yet; says how many of each were new."""
    state = fair.state
    drafts: list[Draft] = []
    counts = dict.fromkeys(TABLES, 0)
    for stand in content.get("stand", []):
        if str(stand["id"]) not in state.stands:
            counts["stand"] += 1
            drafts.append(_stand(stand))
    for person in content.get("person", []):
        if str(person["id"]) not in state.people:
            counts["person"] += 1
            drafts += _person(person)
    for panel in content.get("panel", []):
        if str(panel["id"]) not in state.panels:
            counts["panel"] += 1
            drafts.append(panel_draft(panel))
    if drafts:
        fair.record(drafts)
    return counts


def _stand(stand: Mapping[str, Any]) -> Draft:
    number = str(stand["id"])
    body = {"number": str(stand.get("number", number)), "exhibitor": str(stand.get("exhibitor", ""))}
    return Draft(kind="stand.added", sub=number, who=OFFICE, body=body)


def not_reserved(who: str) -> None:
    """Refuses the name under which the desk itself writes: whoever had it would sign for the whole office."""
    if who.strip().casefold() == OFFICE:
        remedy = "Give another one, such as olga; the desk itself writes under this one."
        raise refuse(f"person {who}", "This short name is taken by the office.", remedy, code="person.office")


def _person(person: Mapping[str, Any]) -> list[Draft]:
    who = str(person["id"])
    not_reserved(who)
    skills = [str(skill) for skill in person.get("disciplines", person.get("skills", []))]
    drafts = [
        Draft(
            kind="person.added",
            sub=who,
            who=OFFICE,
            body={"name": str(person.get("name", who)), "disciplines": skills},
        )
    ]
    roles = person.get("roles", ["member"])
    drafts += [Draft(kind="role.given", sub=who, who=OFFICE, body={"role": str(role)}) for role in roles]
    for stand in person.get("conflicts", []):
        drafts.append(Draft(kind="conflict.declared", sub=who, who=OFFICE, body={"stand": str(stand)}))
    return drafts


def panel_draft(panel: Mapping[str, Any], *, who: str = OFFICE) -> Draft:
    """The event that forms a panel, or forms it anew."""
    body: dict[str, Any] = {"members": [str(member) for member in panel["members"]]}
    if panel.get("leader"):
        body["leader"] = str(panel["leader"])
    if panel.get("disciplines"):
        body["disciplines"] = [str(name) for name in panel["disciplines"]]
    return Draft(kind="panel.formed", sub=str(panel["id"]), who=who, body=body)
