"""Condition words: what each looks like, what shows it, how a label owns up to it, and which event it is of.

A condition bears on a finish, a repair or a replaced part; it never dates the body. A term says that the event
happened; when is bounded only where the pack names a fact that dates it (`more.dated_by`).
"""

from planish.facts.book import FactBook
from planish.reasoning.measuring.cautioning import BY_TERM, cautions
from planish.reasoning.measuring.figures import place, problem
from planish.reasoning.measuring.measured import (
    Measured,
    Settings,
    item_from,
    part_named,
    refused,
    span_in_words,
    used,
)
from planish.reasoning.measuring.reading_facts import name_of, statements, text, words
from planish.records import EvidenceItem, Fact, Observation, Years, freeze
from planish.records.evidence import Event

EVENT_OF: dict[str, Event] = {
    "finish_applied": "finish_applied",
    "repair": "repair",
    "part_made": "part_made",
}
DECORATION: dict[str, Event] = {"cond.embellished": "decorated", "cond.later_engraving": "inscribed"}


def terms_on_file(book: FactBook) -> tuple[str, ...]:
    """Short names of every condition term: "repatination", "marriage"."""
    return tuple(f.id.removeprefix("cond.") for f in book.family("condition_term"))


def term(word: str, book: FactBook) -> Fact | None:
    """The term that `word` names: its id, its short name, or what the trade calls it; None when not on file."""
    wanted = word.strip().casefold().replace("-", "").replace(" ", "_")
    for fact in book.family("condition_term"):
        names = {fact.id, fact.id.removeprefix("cond."), name_of(fact)}
        if wanted in {n.casefold().replace("-", "").replace(" ", "_") for n in names}:
            return fact
    return None


def measure_condition(observation: Observation, book: FactBook, settings: Settings | None = None) -> Measured:
    """Condition terms (`terms`, or one in `words`) on one part."""
    settings = settings or Settings()
    named = observation.terms or ((observation.words,) if observation.words.strip() else ())
    found = [(word, term(word, book)) for word in named]
    problems = tuple(
        problem(
            place(observation), f"{word!r} is no condition term on file.",
            f"Choose one of: {', '.join(terms_on_file(book))}.", "condition.unknown", found=word,
        )
        for word, fact in found
        if fact is None
    )  # fmt: skip
    facts = [fact for _, fact in found if fact is not None]
    if not facts:
        return refused(
            *(
                problems
                or (
                    problem(
                        place(observation), "No condition term is given.", "Name one.", "condition.empty"
                    ),
                )
            )
        )
    return Measured(
        items=tuple(item for fact in facts if (item := _item(fact, observation, book, settings)) is not None),
        sentences=tuple(line for fact in facts for line in _said(fact, book)),
        problems=problems,
        cautions=cautions(book, [i for fact in facts for i in BY_TERM.get(fact.id, ())]),
        details=freeze(
            {
                "terms": tuple(_row(fact) for fact in facts),
                "facts": tuple(fact.id for fact in facts),
                "settings": used(settings, "doubt_condition"),
            }
        ),
    )


def _item(fact: Fact, observation: Observation, book: FactBook, settings: Settings) -> EvidenceItem | None:
    event = DECORATION.get(fact.id) or EVENT_OF.get(fact.bounds)
    if event is None:
        return None
    floor, dated_by = _floor(fact, book)
    when = f" {span_in_words(Years(floor, None))}" if floor is not None else " at a date not known"
    return item_from(
        fact, observation, sentence=f"{name_of(fact)}: {_event_words(event)}{when}.", event=event,
        windows=(Years(floor, None),), doubt=settings.doubt_condition, strength="weak",
        part=part_named(observation, name_of(fact).casefold()) if event == "part_made" else None,
        group=f"condition:{observation.part or 'body'}", more_facts=dated_by,
        limits=("A condition never dates the body.", f"Shown by: {text(fact, 'shown_by')}."),
    )  # fmt: skip


def _event_words(event: Event) -> str:
    return {
        "finish_applied": "a finish was put on or taken off after making",
        "repair": "a repair was made",
        "part_made": "a part was made apart from the body",
        "decorated": "decoration was added after making",
        "inscribed": "words or arms were cut after making",
    }[event]


def _floor(fact: Fact, book: FactBook) -> tuple[int | None, tuple[str, ...]]:
    dating = [f for f in statements(book, words(fact, "dated_by")) if f.years.earliest is not None]
    if not dating:
        return fact.years.earliest, ()
    return min(f.years.earliest or 0 for f in dating), tuple(f.id for f in dating)


def _said(fact: Fact, book: FactBook) -> list[str]:
    floor, _ = _floor(fact, book)
    lines = [
        f"{name_of(fact)}: {fact.statement}",
        f"Looks like: {text(fact, 'looks_like')}.",
        f"Shown by: {text(fact, 'shown_by')}.",
        f"A label says: {text(fact, 'disclose')} ({text(fact, 'weight')}).",
    ]
    if floor is not None:
        lines.append(f"It is not before {floor}.")
    lines += [f"Mind: {caveat}" for caveat in fact.caveats]
    if fact.bounds == "body_made":
        lines.append("That is a conclusion about the piece, not a measure: no year follows from the word.")
    elif fact.bounds != "none":
        lines.append("It says nothing of when the body was made.")
    return lines


def _row(fact: Fact) -> dict[str, object]:
    return {
        "term": name_of(fact), "fact": fact.id, "looks_like": text(fact, "looks_like"), "shown_by": text(fact, "shown_by"),
        "disclose": text(fact, "disclose"), "weight": text(fact, "weight"), "bounds": fact.bounds,
    }  # fmt: skip
