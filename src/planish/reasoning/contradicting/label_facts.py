"""A label against dated facts, and against itself: the smallest sets of its own words that cannot all be true.

What a fact looks for on a label is data in the packs (`facts.on_label`). A hard edge gives "these two cannot both be
true"; a soft or unverified one gives a question, never a contradiction that binds. What is merely rare is not
reported. Nothing here knows whether a mark is original to the object: the sentences leave that way out open.
"""

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from planish.facts.book import FactBook
from planish.facts.on_label import LabelIndex, Series, Trigger, label_index
from planish.records import Claim, Contradiction, DateValue, Fact, Reading, TermValue, Years
from planish.records.problems import Severity

_MARKED = ("mark", "inscription", "maker")
_COPY_WORDS = frozenset({"copy", "reproduction", "replica", "facsimile", "recast"})
_STYLE_WORDS = frozenset({"style", "styled", "revival", "revivalist", "manner", "taste", "after", "copying"})


@dataclass(frozen=True, slots=True)
class _Thing:
    """Words that a trigger fired on: the claim's id (if there is a claim), its words and its part."""

    claim: str
    words: str
    part: str


@dataclass(frozen=True, slots=True)
class _Dated:
    """A date on the label that speaks of making, with every way it can be read."""

    claim: Claim
    readings: tuple[Years, ...]

    def before(self, year: int) -> bool:
        return all(years.latest is not None and years.latest < year for years in self.readings)

    def after(self, year: int) -> bool:
        return all(years.earliest is not None and years.earliest > year for years in self.readings)

    def apart(self, other: "_Dated") -> bool:
        return not any(a.meets(b) for a in self.readings for b in other.readings)


def against_facts(reading: Reading, book: FactBook) -> tuple[Contradiction, ...]:
    """Every clash of the label with the facts of `book`, and with itself, sharpest first; empty when all agrees."""
    index = label_index(book)
    dates = _dates(reading)
    found = [*_with_facts(reading, index, dates), *within_label(reading, book)]
    return tuple(sorted(found, key=lambda one: (not one.hard, one.severity)))


def within_label(reading: Reading, book: FactBook) -> tuple[Contradiction, ...]:
    """Clashes of the label's own words: two dates of making, events out of order, two materials of one part."""
    last = _LAST.get("")
    if last is not None and last[0] is reading and last[1] is book:
        return last[2]
    index = label_index(book)
    dates = _dates(reading)
    making = [one for one in dates if _of_making(one)]
    found = (
        *_dates_disagree(reading, making, index),
        *_out_of_order(dates, making, index),
        *_materials_disagree(reading, index),
    )
    _LAST[""] = (reading, book, found)
    return found


_LAST: dict[str, tuple[Reading, FactBook, tuple[Contradiction, ...]]] = {}
"""The last answer: the rule book and the facts ask for the same label one after the other."""


def _dates(reading: Reading) -> list[_Dated]:
    return [
        _Dated(claim, (claim.value.years, *(o.years for o in claim.other if isinstance(o, DateValue))))
        for claim in reading.claims
        if claim.side == "date" and claim.strength != "denied" and isinstance(claim.value, DateValue)
    ]


def _event(dated: _Dated) -> str:
    return dated.claim.value.event if isinstance(dated.claim.value, DateValue) else ""


def _of_making(dated: _Dated) -> bool:
    return _event(dated) in ("body_made", "part_made")


# --- against facts -------------------------------------------------------------------------------------------------


def _with_facts(reading: Reading, index: LabelIndex, dates: list[_Dated]) -> Iterator[Contradiction]:
    making = [one for one in dates if _of_making(one)]
    if not making:
        return
    best: dict[str, tuple[tuple[bool, int], Contradiction]] = {}
    terms = _terms(reading)
    disclosed = _disclosed(reading)
    for trigger, thing, fact, years in _fired(reading, index):
        if trigger.needs and not trigger.needs & terms:
            continue
        if _is_disclosed(trigger, thing, disclosed):
            continue
        for dated in _dates_of(thing.part, making):
            clash = _clash(trigger, fact, years, thing, dated)
            if clash is not None:
                _keep(best, trigger.group, clash)
                break
    yield from _one_a_thing(best)


def _keep(
    best: dict[str, tuple[tuple[bool, int], Contradiction]],
    group: str,
    clash: tuple[tuple[bool, int], Contradiction],
) -> None:
    if group not in best or clash[0] > best[group][0]:
        best[group] = clash


def _one_a_thing(best: Mapping[str, tuple[tuple[bool, int], Contradiction]]) -> Iterator[Contradiction]:
    """Of several facts about the same words and the same date the sharpest is enough."""
    seen: set[tuple[str, ...]] = set()
    for _, one in sorted(best.values(), key=lambda entry: entry[0], reverse=True):
        if one.claims not in seen:
            seen.add(one.claims)
            yield one


def _terms(reading: Reading) -> frozenset[str]:
    return frozenset(
        c.value.term.lower()
        for c in reading.claims
        if isinstance(c.value, TermValue) and c.strength != "denied"
    )


def _fired(
    reading: Reading, index: LabelIndex
) -> Iterator[tuple[Trigger, _Thing, Fact, tuple[int | None, int | None]]]:
    """Each trigger that the label's words set off, with the years that bind: (earliest, latest)."""
    for claim in reading.claims:
        if claim.strength == "denied":
            continue
        for trigger in _triggers_of(claim, index):
            thing = _Thing(claim.id, claim.words, claim.part)
            yield trigger, thing, trigger.fact, _edges(trigger.fact)
    for trigger, words, numbers in _numbers(reading.text, index.numbered):
        claim_id, part = _claim_at(reading, words)
        dated = _year_of(numbers, trigger.series)
        if dated is not None:
            fact, year = dated
            yield trigger, _Thing(claim_id, words, part), fact, (year - trigger.slack_years, None)


def _triggers_of(claim: Claim, index: LabelIndex) -> Iterable[Trigger]:
    found: dict[int, Trigger] = {}
    if isinstance(claim.value, TermValue):
        for word in {claim.value.term.lower(), claim.words.lower()}:
            for trigger in index.by_term.get(word, ()):
                found[id(trigger)] = trigger
    if claim.side in _MARKED and index.phrases is not None:
        for phrase in index.phrases.findall(claim.words.lower()):
            for trigger in index.by_mark[phrase]:
                found[id(trigger)] = trigger
    return found.values()


def _edges(fact: Fact) -> tuple[int | None, int | None]:
    earliest = fact.years.earliest if fact.use in ("not_before", "within") else None
    latest = fact.years.latest if fact.use in ("not_after", "within") else None
    return earliest, latest


def _numbers(text: str, triggers: tuple[Trigger, ...]) -> Iterator[tuple[Trigger, str, int]]:
    """Registered and patent numbers in the text. When two patterns take the same digits the longer words win."""
    low = text.lower()
    if "rd" not in low and "reg" not in low and "pat" not in low:
        return
    taken: dict[int, tuple[int, Trigger, str, int]] = {}
    for trigger in triggers:
        for pattern in trigger.patterns:
            for match in pattern.finditer(text):
                number = int("".join(c for c in match.group(1) if c.isdecimal()))
                kept = taken.get(match.start(1))
                if kept is None or match.start() < kept[0]:
                    taken[match.start(1)] = (match.start(), trigger, match.group(0), number)
    for _, trigger, words, number in taken.values():
        yield trigger, words, number


def _claim_at(reading: Reading, words: str) -> tuple[str, str]:
    at = reading.text.find(words)
    for claim in reading.claims:
        if claim.side in _MARKED and claim.span.start < at + len(words) and claim.span.end > at:
            return claim.id, claim.part
    return "", ""


def _year_of(number: int, series: tuple[Series, ...]) -> tuple[Fact, int] | None:
    """The earliest year that any series which reaches `number` allows; None when one of them says nothing."""
    found: list[tuple[int, str, Fact]] = []
    for one in series:
        if one.last is not None and number > one.last:
            continue
        at = bisect_right(one.firsts, number) - 1
        year = one.facts[at].years.earliest if at >= 0 else None
        if year is None:
            return None
        found.append((year, one.facts[at].id, one.facts[at]))
    if not found:
        return None
    year, _, fact = min(found, key=lambda entry: entry[:2])
    return fact, year


def _disclosed(reading: Reading) -> dict[str, set[str]]:
    """Words of condition and disclosure by part: settled terms, words as written, and their single words."""
    found: dict[str, set[str]] = {}
    for claim in reading.claims:
        if claim.side in ("state", "decoration") and isinstance(claim.value, TermValue):
            words = claim.words.lower()
            found.setdefault(claim.part, set()).update((claim.value.term, words, *words.split()))
    return found


def _is_disclosed(trigger: Trigger, thing: _Thing, disclosed: Mapping[str, set[str]]) -> bool:
    if not trigger.unless or not disclosed:
        return False
    words = disclosed.get(thing.part, set()) | disclosed.get("", set())
    return bool(trigger.unless & words)


def _dates_of(part: str, making: list[_Dated]) -> list[_Dated]:
    """The dates of that part; when it has none, those of the whole."""
    own = [one for one in making if one.claim.part == part]
    return own or [one for one in making if one.claim.part == ""]


def _clash(
    trigger: Trigger, fact: Fact, years: tuple[int | None, int | None], thing: _Thing, dated: _Dated
) -> tuple[tuple[bool, int], Contradiction] | None:
    earliest, latest = years
    if earliest is not None and dated.before(earliest):
        end, gap = "earliest", earliest - max(y.latest or earliest for y in dated.readings)
    elif latest is not None and dated.after(latest):
        end, gap = "latest", min(y.earliest or latest for y in dated.readings) - latest
    else:
        return None
    hard = _binds(fact) and _binds(trigger.fact) and trigger.hard_end in ("both", end)
    ways = _ways_out(trigger, years, end)
    facts = tuple(dict.fromkeys((trigger.fact.id, fact.id)))
    said = (trigger.fact,) if fact is trigger.fact else (trigger.fact, fact)
    return (hard, gap), Contradiction(
        id=f"label.{fact.id}.{thing.claim or 'text'}.{dated.claim.id}",
        sentence=_sentence(thing.words, _date_words(dated), ways, said, hard),
        claims=tuple(c for c in (thing.claim, dated.claim.id) if c),
        facts=facts,
        ways_out=ways,
        hard=hard,
        fault=trigger.fault,
        severity=_severity(trigger.severity),
    )


def _binds(fact: Fact) -> bool:
    """A fact given from memory is shown as unverified and asks; it does not contradict on its own."""
    return fact.hardness == "hard" and fact.verified != "memory"


def _severity(value: int) -> Severity:
    return 1 if value <= 1 else 2 if value == 2 else 3 if value == 3 else 4


_EARLY = {
    "part_made": "the part is of {year} or later and the label should say so",
    "finish_applied": "the finish was put on in {year} or later and the label should say so",
    "mark_struck": "the object is of {year} or later, or the mark was added to it",
    "registered": "the object is of {year} or later, or the mark was added to it",
}


def _ways_out(trigger: Trigger, years: tuple[int | None, int | None], end: str) -> tuple[str, ...]:
    if end == "earliest":
        first = _EARLY.get(trigger.fact.bounds, "the object was made in {year} or later").format(
            year=years[0]
        )
    else:
        first = f"the object was made by about {years[1]}"
    return (first, f"it is not {trigger.says}", *trigger.ways)


def _date_words(dated: _Dated) -> str:
    """The label's own words for the date, with years beside a period name."""
    words = f"“{dated.claim.words}”"
    if any(c.isdigit() for c in dated.claim.words):
        return words
    return f"{words} ({_span(dated.readings[0])})"


def _span(years: Years) -> str:
    if years.earliest == years.latest:
        return str(years.earliest)
    return (
        f"{'' if years.earliest is None else years.earliest}–{'' if years.latest is None else years.latest}"
    )


def _sentence(one: str, other: str, ways: tuple[str, ...], facts: tuple[Fact, ...], hard: bool) -> str:
    opening = (
        "These two cannot both be true" if hard else "These two seldom stand together, so there is a question"
    )
    grounds = " ".join(f"{fact.statement} {_witness(fact)}" for fact in facts)
    return f"{opening}: “{one}” and {other}. Either {', or '.join(ways)}. {grounds}".rstrip()


def _witness(fact: Fact) -> str:
    sure = fact.verified if not fact.partly_memory else f"{fact.verified}, partly from memory"
    return f"[{fact.id}; {fact.source}; {sure}]"


# --- against itself ------------------------------------------------------------------------------------------------


def _dates_disagree(reading: Reading, making: list[_Dated], index: LabelIndex) -> Iterator[Contradiction]:
    """Two dates of making of one part that share no year: "Georgian, 1890"."""
    if len(making) < 2 or _speaks_of_a_copy(reading):
        return
    for at, one in enumerate(making):
        for other in making[at + 1 :]:
            if one.claim.part == other.claim.part and one.apart(other):
                yield _two_dates(one, other, index)
                return


def _speaks_of_a_copy(reading: Reading) -> bool:
    return any(
        isinstance(c.value, TermValue)
        and (
            c.side == "style" or (c.side in ("state", "technique", "object") and c.value.term in _COPY_WORDS)
        )
        for c in reading.claims
    )


def _two_dates(one: _Dated, other: _Dated, index: LabelIndex) -> Contradiction:
    period, year = (one, other) if _period(one) or not _period(other) else (other, one)
    name = _period(period)
    ways = (
        (f"it was made in {_span(period.readings[0])}", f"it is in the {name} style: say “{name} style, {year.claim.words}”")
        if name
        else (f"it was made in {_span(one.readings[0])}", f"it was made in {_span(other.readings[0])}")
    )  # fmt: skip
    struck = index.orders.get("mark_struck") if _by_marks(one) or _by_marks(other) else None
    facts = tuple(v.fact for v in (one.claim.value, other.claim.value) if isinstance(v, DateValue) and v.fact)
    grounds = () if struck is None else (struck,)
    return Contradiction(
        id=f"label.dates.{one.claim.id}.{other.claim.id}",
        sentence=_sentence(period.claim.words, _date_words(year), ways, grounds, True),
        claims=(one.claim.id, other.claim.id),
        facts=(*facts, *(fact.id for fact in grounds)),
        ways_out=ways,
        hard=True,
        fault="date.dates_disagree" if struck is None else "date.marks_disagree",
        severity=3 if struck is None else 2,
    )


def _by_marks(dated: _Dated) -> bool:
    """True when the label says that the marks give this date."""
    said = dated.claim.value.said if isinstance(dated.claim.value, DateValue) else ""
    return "mark" in said


def _period(dated: _Dated) -> str:
    return dated.claim.value.period if isinstance(dated.claim.value, DateValue) else ""


def _out_of_order(dates: list[_Dated], making: list[_Dated], index: LabelIndex) -> Iterator[Contradiction]:
    """Events that cannot stand in that order: "George I coffee pot, hallmarked 1911"."""
    for event in dates:
        fact = index.orders.get(_event(event))
        if fact is None:
            continue
        for made in _dates_of(event.claim.part, making):
            if _wrong_order(str(fact.more["relation"]), event, made):
                yield _order_clash(event, made, fact)
                break


_SLACK = 2
"""Years that a mark may lie from the making it belongs to: date letters change in the spring and stock waits."""


def _wrong_order(relation: str, event: _Dated, made: _Dated) -> bool:
    first = min((y.earliest for y in made.readings if y.earliest is not None), default=None)
    last = max((y.latest for y in made.readings if y.latest is not None), default=None)
    too_late = last is not None and event.after(last + (_SLACK if relation == "at_making" else 0))
    too_early = first is not None and event.before(first - (_SLACK if relation == "at_making" else 0))
    if relation == "not_before_making":
        return too_early
    return too_late or (relation == "at_making" and too_early)


def _order_clash(event: _Dated, made: _Dated, fact: Fact) -> Contradiction:
    hard = fact.hardness == "hard"
    words = made.claim.words
    ways = (
        f"the object is not of {_span(made.readings[0])}: say what “{words}” means, or write “in the {words} style”",
        f"“{event.claim.words}” does not belong to this object or is misread",
    )
    return Contradiction(
        id=f"label.{fact.id}.{event.claim.id}.{made.claim.id}",
        sentence=_sentence(event.claim.words, _date_words(made), ways, (fact,), hard),
        claims=(event.claim.id, made.claim.id),
        facts=(fact.id,),
        ways_out=ways,
        hard=hard,
        fault=f"date.{_event(event)}_out_of_order",
        severity=2 if hard else 3,
    )


def _materials_disagree(reading: Reading, index: LabelIndex) -> Iterator[Contradiction]:
    """Two materials that cannot be true of the same part: "silver teapot, EPNS"."""
    claims = [
        c
        for c in reading.claims
        if c.side in ("material", "surface", "mark")
        and c.strength != "denied"
        and isinstance(c.value, TermValue)
    ]
    seen: set[str] = set()
    for one in claims:
        for trigger in index.clashing.get(_term(one), ()):
            for other in claims:
                if _term(other) in trigger.clash and _same_part(one, other) and trigger.group not in seen:
                    seen.add(trigger.group)
                    yield _two_materials(one, other, trigger)


def _term(claim: Claim) -> str:
    return claim.value.term.lower() if isinstance(claim.value, TermValue) else ""


def _same_part(one: Claim, other: Claim) -> bool:
    apart = one.span.end <= other.span.start or other.span.end <= one.span.start
    return apart and one.part == other.part


def _two_materials(one: Claim, other: Claim, trigger: Trigger) -> Contradiction:
    ways = trigger.ways or (f"it is {trigger.says}: say so alone", "they are two parts: name the parts")
    return Contradiction(
        id=f"label.{trigger.fact.id}.{one.id}.{other.id}",
        sentence=_sentence(one.words, f"“{other.words}”", ways, (trigger.fact,), True),
        claims=(one.id, other.id),
        facts=(trigger.fact.id,),
        ways_out=ways,
        hard=True,
        fault=trigger.fault,
        severity=_severity(trigger.severity),
    )
