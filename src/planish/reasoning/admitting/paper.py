"""One label before the rule book: its claims by side, looked up once for all clauses."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from planish.facts.book import FactBook
from planish.reasoning.contradicting.label_facts import within_label
from planish.records import (
    Claim,
    Clause,
    ClauseAnswer,
    Contradiction,
    DateValue,
    ListedObject,
    Reading,
    RuleBook,
    TermValue,
)
from planish.records.problems import Severity

NAMING = ("object", "material", "surface", "technique", "decoration", "state", "provenance")
"""Sides whose words can name a thing that a clause or a law asks about."""
_NAMES = frozenset(NAMING)


@dataclass(slots=True, kw_only=True, eq=False)
class Paper:
    """A listed object, its reading, and what it is held against. `sides` leaves denied claims out; `clashes`
    are those of the label with itself; `terms` the settled words, `words` settled and written ones of what names a thing;
    `dates` the dates of making of the whole object."""

    listed: ListedObject
    reading: Reading
    rules: RuleBook
    book: FactBook
    discipline: str
    clashes: tuple[Contradiction, ...]
    sides: Mapping[str, tuple[Claim, ...]]
    terms: frozenset[str]
    words: frozenset[str]
    dates: tuple[tuple[Claim, DateValue], ...]

    def side(self, *names: str) -> tuple[Claim, ...]:
        """Claims of those sides that the label does not deny, in label order within a side."""
        if len(names) == 1:
            return self.sides.get(names[0], ())
        sides = self.sides
        return tuple([claim for name in names if name in sides for claim in sides[name]])


def paper_of(
    listed: ListedObject, reading: Reading, rules: RuleBook, book: FactBook, discipline: str
) -> Paper:
    """Sort the claims of a reading by side."""
    sides: dict[str, list[Claim]] = {}
    terms: set[str] = set()
    words: set[str] = set()
    dates: list[tuple[Claim, DateValue]] = []
    for claim in reading.claims:
        if claim.strength == "denied":
            continue
        side, value = claim.side, claim.value
        sides.setdefault(side, []).append(claim)
        if isinstance(value, TermValue):
            terms.add(settled := value.term.lower())
            if side in _NAMES:
                words.update((settled, claim.words.lower()))
        elif (
            side == "date" and isinstance(value, DateValue) and value.event == "body_made" and not claim.part
        ):
            dates.append((claim, value))
    return Paper(
        listed=listed,
        reading=reading,
        rules=rules,
        book=book,
        discipline=discipline,
        clashes=within_label(reading, book),
        sides={name: tuple(claims) for name, claims in sides.items()},
        terms=frozenset(terms),
        words=frozenset(words),
        dates=tuple(dates),
    )


def term(claim: Claim) -> str:
    """The settled word of a claim in lower case; empty when it is no word."""
    return claim.value.term.lower() if isinstance(claim.value, TermValue) else ""


def kind(claim: Claim) -> str:
    """The class of the settled word."""
    return claim.value.kind if isinstance(claim.value, TermValue) else ""


def says(claim: Claim, words: Iterable[str]) -> bool:
    """True when the claim's settled term or its own words are among `words` (lower case)."""
    return term(claim) in words or claim.words.lower() in words


def making_dates(paper: Paper) -> tuple[tuple[Claim, DateValue], ...]:
    """Dates of making of the whole object."""
    return paper.dates


_SETTINGS: dict[tuple[int, str], tuple[Clause, frozenset[str]]] = {}


def setting_words(clause: Clause, name: str) -> frozenset[str]:
    """A clause's list of words in lower case; empty when it has none. Kept, for a fair asks of every label."""
    kept = _SETTINGS.get((id(clause), name))
    if kept is not None and kept[0] is clause:
        return kept[1]
    given = clause.settings.get(name, ())
    words = frozenset(str(word).lower() for word in given) if isinstance(given, tuple | list) else frozenset()
    if len(_SETTINGS) > 500:
        _SETTINGS.clear()
    _SETTINGS[(id(clause), name)] = (clause, words)
    return words


def setting_number(clause: Clause, name: str, otherwise: float) -> float:
    """A clause's figure, or `otherwise`."""
    given = clause.settings.get(name, otherwise)
    return float(given) if isinstance(given, int | float) else otherwise


def broken(
    clause: Clause,
    sentence: str,
    fault: str,
    *,
    remedy: str = "",
    claims: Iterable[Claim] = (),
    facts: tuple[str, ...] = (),
    severity: Severity | None = None,
    wrong_side: float | None = None,
    instead: str = "",
) -> ClauseAnswer:
    """The clause is broken, and on what grounds. `instead` are exact words for the first of `claims`."""
    claims = tuple(claims)
    return ClauseAnswer(
        clause=clause.number,
        answer="broken",
        sentence=sentence,
        remedy=remedy,
        fault=fault,
        severity=severity or clause.severity,
        claims=tuple(claim.id for claim in claims),
        facts=facts,
        wrong_side=wrong_side,
        instead=((claims[0].id, instead),) if instead and claims else (),
    )


_MET: dict[tuple[int, str], tuple[Clause, ClauseAnswer]] = {}


def met(clause: Clause, sentence: str, wrong_side: float | None = None) -> ClauseAnswer:
    """The clause is met as far as the words go. Most labels keep most clauses, so the same answer is given again."""
    kept = _MET.get((id(clause), sentence))
    if kept is not None and kept[0] is clause and kept[1].wrong_side == wrong_side:
        return kept[1]
    answer = ClauseAnswer(
        clause=clause.number, answer="met", sentence=sentence, severity=clause.severity, wrong_side=wrong_side
    )
    if len(_MET) > 1000:
        _MET.clear()
    _MET[(id(clause), sentence)] = (clause, answer)
    return answer


def cannot_tell(
    clause: Clause,
    sentence: str,
    fault: str = "",
    *,
    remedy: str = "",
    claims: Iterable[Claim] = (),
    facts: tuple[str, ...] = (),
    wrong_side: float | None = None,
) -> ClauseAnswer:
    """The words do not say; a person is asked."""
    return ClauseAnswer(
        clause=clause.number,
        answer="cannot_tell",
        sentence=sentence,
        remedy=remedy,
        fault=fault,
        severity=clause.severity,
        claims=tuple(claim.id for claim in claims),
        facts=facts,
        wrong_side=wrong_side,
    )


def not_understood(clause: Clause, names: Iterable[str]) -> ClauseAnswer:
    """The rule book asks for checks that planish does not have: said, never passed over."""
    return cannot_tell(
        clause,
        f"This clause asks for a check that is not known here: {', '.join(names)}.",
        "rulebook.unknown_check",
        remedy="Correct the name in the rule book, or look at this clause by hand.",
    )
