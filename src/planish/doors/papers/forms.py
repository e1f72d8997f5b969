"""What was noted at the tables, from JSON Lines: observations and ballots, each odd line a Problem with its place."""

import json
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, TypeVar

from planish.records import Answer, Ballot, Observation, Problem, Quantity, Years, freeze
from planish.records.opinions import ConditionFinding, DateOpinion

T = TypeVar("T")
VERDICTS = ("holds", "does_not_hold", "cannot_say")
OUTCOMES = ("accept", "relabel", "remove", "refer")


class OddForm(ValueError):
    """A line that cannot be taken; the sentence says what is odd in it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BallotForm:
    """A ballot as handed in: the object as typed, and each answer's claim as side, part and words."""

    object: str
    ballot: Ballot
    claims: tuple[Mapping[str, str], ...]


def lines(text: str, name: str, make: Callable[[Mapping[str, Any]], T]) -> tuple[list[T], list[Problem]]:
    """Read JSON Lines; `make` turns one line into a form or raises OddForm."""
    made: list[T] = []
    problems: list[Problem] = []
    for number, line in _filled(text):
        try:
            content = json.loads(line)
            if not isinstance(content, dict):
                raise OddForm("It is not a set of named fields.")
            made.append(make(content))
        except (json.JSONDecodeError, OddForm, TypeError, KeyError, ValueError) as error:
            said = f"The field {error} is missing." if isinstance(error, KeyError) else f"{error}"
            problems.append(
                Problem(
                    where=f"{name}, line {number}",
                    what=said,
                    remedy="Mend this line and hand the file in again; the other lines are not lost.",
                    code="form.odd",
                    found=line[:200],
                )
            )
    return made, problems


def _filled(text: str) -> Iterator[tuple[int, str]]:
    for number, line in enumerate(text.splitlines(), 1):
        if line.strip() and not line.lstrip().startswith("#"):
            yield number, line


def observation(content: Mapping[str, Any]) -> Observation:
    """An observation form. `values` are numbers, or [amount, unit, uncertainty]."""
    original = content.get("original")
    if original not in (True, False, None):
        raise OddForm(f"original is {original!r}; it is true, false or left out.")
    return Observation(
        id=str(content.get("id", "")),
        object_id=str(content["object"]),
        kind=str(content["kind"]),
        by=str(content["by"]),
        part=str(content.get("part", "")),
        values=freeze({name: _quantity(name, value) for name, value in content.get("values", {}).items()}),
        words=str(content.get("words", "")),
        terms=tuple(str(term) for term in content.get("terms", ())),
        instrument=str(content.get("instrument", "")),
        spot=str(content.get("spot", "")),
        surface=str(content.get("surface", "")),
        about=str(content.get("about", "")),
        original=original,
        corrects=str(content.get("corrects", "")),
        more=freeze(content.get("more", {})),
    )


def _quantity(name: str, value: Any) -> Quantity:
    if isinstance(value, Mapping):
        value = [value["amount"], value.get("unit", ""), value.get("uncertainty", 0.0)]
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        value = [value, ""]
    if isinstance(value, list) and 2 <= len(value) <= 3 and isinstance(value[0], (int, float)):
        return Quantity(float(value[0]), str(value[1]), float(value[2]) if len(value) == 3 else 0.0)
    raise OddForm(f"{name} is {value!r}; give a number, or [amount, unit, uncertainty].")


def ballot(content: Mapping[str, Any]) -> BallotForm:
    """A ballot form; {"pass": true} is an accept that is silent on every claim, {"recused": true} steps back."""
    answers = tuple(_answer(answer) for answer in content.get("answers", ()))
    made = Ballot(
        object_id=str(content["object"]),
        person=str(content["person"]),
        round=_round(content.get("round", 1)),
        recused=bool(content.get("recused", False)),
        answers=tuple(answer for answer, _ in answers),
        date=_date(content.get("date")),
        conditions=tuple(ConditionFinding(**found) for found in content.get("conditions", ())),
        outcome="accept" if content.get("pass") else _outcome(content.get("outcome")),
        reasons=tuple(str(reason) for reason in content.get("reasons", ())),
        wording=str(content.get("wording", "")),
        new_fact=bool(content.get("new_fact", False)),
        competent=bool(content.get("competent", True)),
        sets_aside=tuple((str(one), str(why)) for one, why in content.get("sets_aside", ())),
    )
    if not made.recused and made.outcome is None:
        raise OddForm("It proposes no outcome: accept, relabel, remove or refer.")
    return BallotForm(object=made.object_id, ballot=made, claims=tuple(ref for _, ref in answers))


def _round(value: Any) -> Any:
    if value not in (1, 2):
        raise OddForm(f"Round {value!r}: there are rounds 1 and 2.")
    return value


def _outcome(value: Any) -> Any:
    if value is not None and value not in OUTCOMES:
        raise OddForm(f"The outcome {value!r} is none of {', '.join(OUTCOMES)}.")
    return value


def _answer(content: Mapping[str, Any]) -> tuple[Answer, Mapping[str, str]]:
    if content["verdict"] not in VERDICTS:
        raise OddForm(f"The verdict {content['verdict']!r} is none of {', '.join(VERDICTS)}.")
    ref = content["claim"]
    ref = {"side": str(ref)} if isinstance(ref, str) else {str(k): str(v) for k, v in ref.items()}
    answer = Answer(
        claim="",
        verdict=content["verdict"],
        reason=str(content.get("reason", "")),
        instead=_instead(content.get("instead", {})),
    )
    return answer, ref


INSTEAD = ("qualifier", "name", "term", "words")


def _instead(content: Any) -> tuple[tuple[str, str], ...]:
    """What would be signed in its place: plain words, or named: qualifier, name, term, words."""
    named = {"words": content} if isinstance(content, str) else content
    odd = [name for name in named if name not in INSTEAD] if isinstance(named, Mapping) else [named]
    if odd:
        raise OddForm(f"instead holds {odd[0]!r}; it takes {', '.join(INSTEAD)}.")
    return tuple(sorted((str(name), str(words)) for name, words in named.items()))


def _date(content: Any) -> DateOpinion | None:
    if content is None:
        return None
    years = Years(content.get("earliest"), content.get("latest"))
    sure = float(content.get("sure", 0.8))
    if not 0.5 <= sure <= 0.95:
        raise OddForm(f"How sure is {sure}; it lies from 0.5 to 0.95.")
    return DateOpinion(
        years=years, best=content.get("best"), sure=sure, blind=bool(content.get("blind", False))
    )
