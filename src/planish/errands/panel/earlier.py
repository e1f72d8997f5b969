"""Cases of earlier fairs, out of their folders or their archives, where this fair's rule book allows them.

    earlier_cases(fair, [Path("saltmere-2025"), Path("saltmere-2024-archive")])

The switch is `like_cases_from_earlier_fairs` with its clause; how far back it goes is `memory_between_fairs_years`, counted
between the years of the two rule books. What is taken over is what hung then, the outcome and its reasons as they stood at that
fair; the fault is found by reading those words with today's rule book, so that like is compared with like. No ballot, no name
and no price of an earlier fair is read.
"""

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from planish.errands.opening.refusing import refuse
from planish.errands.opening.wiring import LEDGER, RULES, Fair, open_fair
from planish.errands.panel.checking import check
from planish.errands.panel.liking import TREATED, as_case, gravest, outcome_reasons
from planish.facts.rulebooks import load_rulebook
from planish.reasoning.matching import Case
from planish.records import ListedObject, RuleBook
from planish.records.frozen import EMPTY

OBJECTS = Path("data") / "objects.jsonl"


@dataclass(frozen=True, slots=True, kw_only=True)
class Earlier:
    """Cases of earlier fairs; `then` holds by case id the words that hung and the reasons, as they stood there."""

    cases: tuple[Case, ...] = ()
    then: Mapping[str, tuple[str, tuple[str, ...]]] = field(default_factory=lambda: EMPTY)


@dataclass(frozen=True, slots=True)
class _Then:
    """One object that was decided at an earlier fair."""

    listed: ListedObject
    outcome: str
    reasons: tuple[str, ...]
    disciplines: tuple[str, ...] = ()


def earlier_cases(fair: Fair, places: Sequence[Path]) -> Earlier:
    """Every decided object of the fairs at `places`. Refuses where the rule book knows no memory, or goes not so far back."""
    if not places:
        return Earlier()
    if not fair.rules.voting.like_cases_from_earlier_fairs:
        clause = fair.rules.voting.clauses.get("like_cases_from_earlier_fairs", "")
        raise refuse(
            "like cases of earlier fairs",
            f"The rule book does not allow them{f' (clause {clause})' if clause else ' (house default)'}.",
            "Compare within this fair, or have the switch like_cases_from_earlier_fairs adopted before the fair.",
            code="like.no_memory",
            kind="rule",
        )
    cases: list[Case] = []
    known: dict[str, tuple[str, tuple[str, ...]]] = {}
    for place in places:
        name, found = _read(fair, place)
        for then in found:
            id_ = f"{place.resolve()}#{then.listed.id}"
            known[id_] = then.listed.text, then.reasons
            cases.extend(_cases(fair, id_, name, then))
    return Earlier(cases=tuple(cases), then=known)


def _cases(fair: Fair, id_: str, name: str, then: _Then) -> Iterator[Case]:
    checked = check(then.listed, fair.kit)
    made = [
        as_case(
            checked,
            fault,
            id=id_,
            fair=name,
            stand=f"{then.listed.stand}/{then.listed.number or then.listed.id}",
            outcome=TREATED.get(then.outcome),
            disciplines=then.disciplines,
        )
        for fault in checked.faults
        if fault.code
    ]
    yield from gravest(made)


def _read(fair: Fair, place: Path) -> tuple[str, list[_Then]]:
    """A fair's name with its year, and what was decided there."""
    if (place / OBJECTS).is_file():
        rules = _rules(place / "data" / RULES)
        name = _remembered(fair, place, rules)
        lines = (place / OBJECTS).read_text(encoding="utf-8").splitlines()
        return name, [then for line in lines if (then := _archived(json.loads(line)))]
    if (place / LEDGER).is_file() and place.resolve() != fair.folder.resolve():
        with open_fair(place) as other:
            name = _remembered(fair, place, other.rules)
            return name, [
                _Then(
                    ListedObject(
                        id=story.listed.id,
                        stand=story.listed.stand,
                        number=story.listed.number,
                        text=story.labels[0].text if story.labels else story.listed.text,
                    ),
                    story.state.outcome,
                    outcome_reasons(story),
                    story.state.disciplines,
                )
                for story in other.state.objects.values()
                if story.state.examination in ("confirmed", "final") and story.state.outcome in TREATED
            ]
    raise refuse(str(place), "It is neither an earlier fair's folder nor an archive.", "Name such a folder.")


def _archived(row: Mapping[str, object]) -> _Then | None:
    if row.get("examination") not in ("confirmed", "final") or row.get("outcome") not in TREATED:
        return None
    listed = ListedObject(
        id=str(row["id"]),
        stand=str(row["stand"]),
        number=str(row["number"]),
        text=str(row["words_as_hung"]),
    )
    said = row.get("reasons")
    return _Then(listed, str(row["outcome"]), tuple(map(str, said)) if isinstance(said, list) else ())


def _rules(path: Path) -> RuleBook:
    rules, problems = load_rulebook(path)
    if not rules.id and problems:
        raise refuse(str(path), "Its rule book cannot be read.", "Name another archive of that fair.")
    return rules


def _remembered(fair: Fair, place: Path, then: RuleBook) -> str:
    """The fair's name with its year; refuses one from before what the rule book remembers."""
    now, year = fair.rules.switches.get("fair_year"), then.switches.get("fair_year")
    most = fair.rules.switches.get("memory_between_fairs_years")
    if isinstance(now, int) and isinstance(year, int) and isinstance(most, int) and now - year > most:
        raise refuse(
            str(place),
            f"That fair was held in {year}; this rule book remembers {most} years.",
            "Leave it out.",
            code="like.too_long_ago",
            kind="rule",
        )
    return f"{then.fair or then.id}{f' {year}' if isinstance(year, int) else ''}"
