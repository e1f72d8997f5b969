"""Whether the packs are sound: a plain list of checks, each giving Problems with place, sentence and remedy.

Run `python -m planish.facts.checking`: it prints what it finds and ends with 1 when there is anything to mend.
Reading problems (missing source, years backwards, unknown keys, one id twice) come from `loading`; here is what only
shows when the whole book lies open.
"""

import re
import sys
from collections.abc import Callable, Iterator, Mapping

from planish.facts.book import FactBook
from planish.facts.loading import discipline_ids, disciplines, load
from planish.facts.on_label import ON_LABEL_KEYS
from planish.facts.rulebooks import load_rulebook, rulebook_ids
from planish.records import Fact, Problem

FAMILIES = frozenset(
    [
        "alloy",
        "alloy_density",
        "assay",
        "capacity",
        "capacity_cypher",
        "capacity_measure",
        "capacity_number",
        "caution",
        "condition_term",
        "custom",
        "date_fact",
        "date_phrase",
        "date_phrase_reading",
        "element",
        "event_order",
        "legal",
        "melting",
        "metal_word",
        "origin_country",
        "origin_mark",
        "patent",
        "patent_year_gb",
        "patent_year_us",
        "period",
        "period_country",
        "period_note",
        "pewter_mark",
        "physics_rule",
        "plated_mark",
        "source_conflict",
        "thread_pair",
        "thread_size",
        "thread_system",
        "uk_design",
        "uk_design_class",
        "uk_design_month",
        "uk_design_number",
        "uk_design_number_early",
        "uk_design_position",
        "uk_design_year",
        "water_density",
        "xrf_caution",
        "xrf_rule",
    ]
)
"""Every family that a room looks up. A new one is added here and described in docs/packs.md."""

FIRST_YEAR, LAST_YEAR = 1, 2100

Check = Callable[[FactBook], Iterator[Problem]]


def _problem(fact: Fact, code: str, what: str, remedy: str) -> Problem:
    return Problem(where=f"fact {fact.id}", what=what, remedy=remedy, code=f"fact.{code}", severity=2)


def known_family(book: FactBook) -> Iterator[Problem]:
    """A family that no room knows is a slip of the pen."""
    for fact in book:
        if fact.family not in FAMILIES:
            yield _problem(fact, "unknown_family", f"Its family {fact.family!r} is not known.",
                           f"Use one of: {', '.join(sorted(FAMILIES))}.")  # fmt: skip


def years_that_can_be(book: FactBook) -> Iterator[Problem]:
    """Years outside 1 to 2100 are misprints here (Roman pewter is on file)."""
    for fact in book:
        for year in (fact.years.earliest, fact.years.latest):
            if year is not None and not FIRST_YEAR <= year <= LAST_YEAR:
                yield _problem(fact, "year_out_of_range", f"It has the year {year}.", "Correct the year.")


def use_has_its_years(book: FactBook) -> Iterator[Problem]:
    """A floor needs an earliest year, a ceiling a latest one. Years read from the mark itself are excused."""
    for fact in book:
        if fact.more.get("year_from") == "mark":
            continue
        if fact.use == "not_before" and fact.years.earliest is None:
            yield _problem(
                fact,
                "no_earliest",
                "It is a not_before without an earliest year.",
                "Give earliest, or use info.",
            )
        if fact.use == "not_after" and fact.years.latest is None:
            yield _problem(
                fact, "no_latest", "It is a not_after without a latest year.", "Give latest, or use info."
            )
        if fact.use == "within" and fact.years.earliest is None and fact.years.latest is None:
            yield _problem(
                fact, "no_years", "It is a within without any year.", "Give earliest or latest, or use info."
            )


def hard_facts_are_read(book: FactBook) -> Iterator[Problem]:
    """A hard edge taken from low confidence would contradict labels on thin grounds."""
    for fact in book:
        if fact.hardness == "hard" and fact.confidence == "low" and fact.use != "info":
            yield _problem(
                fact,
                "hard_and_unsure",
                "It is hard, and its confidence is low.",
                "Make it soft, or find a better source.",
            )


def practice_says_so(book: FactBook) -> Iterator[Problem]:
    """What is marked found or derived may not call itself common practice, and the other way round."""
    for fact in book:
        if "no source" in fact.source.body.lower() and fact.verified not in ("practice", "memory"):
            yield _problem(fact, "practice_as_found", "Its source says that there is none, and it is marked verified.",
                           'Mark it verified = "practice".')  # fmt: skip


def statements_are_sentences(book: FactBook) -> Iterator[Problem]:
    """A statement is shown to people: it starts like a sentence and is not empty of letters."""
    for fact in book:
        if len(fact.statement) < 5 or not re.search(r"[A-Za-z]{2}", fact.statement):
            yield _problem(fact, "no_sentence", f"Its statement is {fact.statement!r}.", "Write a sentence.")


def references_lead_somewhere(book: FactBook) -> Iterator[Problem]:
    """A series that a trigger counts by, a thread system, and dating facts of a condition term are on file."""
    for fact in book:
        for name in _referred(fact):
            if name not in book.families() and book.look(name).fact is None:
                yield _problem(fact, "dangling_reference", f"It refers to {name!r}, which is not on file.",
                               "Correct the name, or add the fact.")  # fmt: skip


def _referred(fact: Fact) -> Iterator[str]:
    on_label = fact.more.get("on_label")
    if isinstance(on_label, Mapping):
        for series in on_label.get("series", ()):
            yield str(series).partition(":")[0]
    dated_by = fact.more.get("dated_by", ())
    yield from (str(name) for name in dated_by) if isinstance(dated_by, tuple) else ()


def label_words_are_understood(book: FactBook) -> Iterator[Problem]:
    """`more.on_label` has known keys, something to look for, lower-case words and patterns that compile."""
    for fact in book:
        given = fact.more.get("on_label")
        if not isinstance(given, Mapping):
            continue
        for key in sorted(set(given) - ON_LABEL_KEYS):
            yield _problem(fact, "on_label_unknown_key", f"on_label has a key nobody knows: {key}.",
                           f"Use one of: {', '.join(sorted(ON_LABEL_KEYS))}.")  # fmt: skip
        if not any(given.get(key) for key in ("terms", "marks", "patterns")):
            yield _problem(
                fact, "on_label_empty", "on_label looks for nothing.", "Give terms, marks or patterns."
            )
        for word in (*given.get("terms", ()), *given.get("marks", ())):
            if word != word.lower():
                yield _problem(
                    fact, "on_label_capitals", f"on_label has {word!r}.", "Write words in lower case."
                )
        for pattern in given.get("patterns", ()):
            try:
                re.compile(pattern)
            except re.error as error:
                yield _problem(
                    fact, "on_label_bad_pattern", f"A pattern cannot be read: {error}.", "Mend the pattern."
                )


CHECKS: tuple[Check, ...] = (
    known_family,
    years_that_can_be,
    use_has_its_years,
    hard_facts_are_read,
    practice_says_so,
    statements_are_sentences,
    references_lead_somewhere,
    label_words_are_understood,
)


def check_book(book: FactBook) -> tuple[Problem, ...]:
    """Everything that the list of checks finds in `book`."""
    return tuple(problem for check in CHECKS for problem in check(book))


def check_everything() -> tuple[Problem, ...]:
    """Every pack on file: facts of each discipline, disciplines, rule books."""
    found: list[Problem] = list(disciplines()[1])
    for name in discipline_ids():
        book, problems = load(name)
        found.extend((*problems, *check_book(book)))
    for name in rulebook_ids():
        found.extend(load_rulebook(name)[1])
    return tuple(dict.fromkeys(found))


def main() -> int:
    """Print each problem and a closing line; 1 when there is any."""
    problems = check_everything()
    for problem in problems:
        print(problem)
    print(f"packs: {len(load('metalware')[0])} facts, {len(discipline_ids())} disciplines, "
          f"{len(rulebook_ids())} rule books, {len(problems)} to mend")  # fmt: skip
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main())
