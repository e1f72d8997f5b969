"""Are these the right words? Each rule a rule book may name is one small function: clause, paper → faults.

A rule reports only what the words themselves show; thresholds and word lists come from the clause's settings.
"""

import re
from collections.abc import Callable, Iterator

from planish.reasoning.admitting.paper import (
    Paper,
    broken,
    kind,
    making_dates,
    met,
    not_understood,
    setting_number,
    setting_words,
    term,
)
from planish.reasoning.contradicting.saying import either
from planish.records import Claim, Clause, ClauseAnswer, DateValue, Fact, MakerValue, MeasureValue, Years

Rule = Callable[[Clause, Paper], Iterator[ClauseAnswer]]
CLASH = "clash"
"""Not a side of a claim: a clash of the label with itself."""
WORDS_KEEP_IT = "The words keep this clause."


def sides_looked_at(clause: Clause) -> frozenset[str] | None:
    """Sides without which no rule of the clause can find a fault; None when one looks at the text itself."""
    given = clause.settings.get("rules", ())
    looked: set[str] = set()
    for name in given if isinstance(given, tuple) else ():
        _, sides = RULES.get(name, (None, None))
        if sides is None:
            return None
        looked |= sides
    return frozenset(looked)


def check_wording(clause: Clause, paper: Paper) -> Iterator[ClauseAnswer]:
    """Run the rules that the clause names; one answer that it is met when none finds a fault."""
    given = clause.settings.get("rules", ())
    sound = True
    for name in given if isinstance(given, tuple) else ():
        rule, _ = RULES.get(name, (None, None))
        for answer in (not_understood(clause, [str(name)]),) if rule is None else rule(clause, paper):
            sound = False
            yield answer
    if sound:
        yield met(clause, WORDS_KEEP_IT)


def date_too_vague(clause: Clause, paper: Paper) -> Iterator[ClauseAnswer]:
    """The narrowest date of making is wider than the clause allows; a period name may be wider than years."""
    dates = making_dates(paper)
    spans = [(_width(value), claim, value) for claim, value in dates]
    if not spans or any(width is None for width, _, _ in spans):
        return
    width, claim, value = min(spans, key=lambda entry: entry[0] or 0)
    widest = setting_number(clause, "widest_years", 100)
    if value.period:
        widest = max(widest, setting_number(clause, "widest_period_years", 130))
    if width is not None and width > widest:
        yield broken(
            clause, f"“{claim.words}” spans {width} years; this rule book allows {widest:.0f}.", "date.too_vague",
            claims=(claim,), remedy="Narrow it to what the object bears: a quarter of a century, or circa and a year.",
        )  # fmt: skip


def _width(value: DateValue) -> int | None:
    years = value.written or value.years
    if years.earliest is None or years.latest is None:
        return None
    return years.latest - years.earliest


_GIVES_A_YEAR = ("mark", "inscription", "evidence")


def date_too_exact(clause: Clause, paper: Paper) -> Iterator[ClauseAnswer]:
    """A single year with nothing on the label that could give it."""
    dated = [c for c in paper.side("date") if isinstance(c.value, DateValue) and c.value.event != "body_made"]
    said = any(value.said for _, value in making_dates(paper))
    if dated or said or paper.side(*_GIVES_A_YEAR):
        return
    for claim, value in making_dates(paper):
        years = value.written or value.years
        exact = years.earliest is not None and years.earliest == years.latest
        if exact and not (value.approximate or value.uncertain) and _bare_year(claim):
            yield broken(
                clause, f"“{claim.words}” is one year, and the label does not say what gives it.", "date.too_exact",
                claims=(claim,), remedy=f"Write c.{years.earliest}, or say: dated, hallmarked or documented {years.earliest}.",
                instead=f"c.{years.earliest}",
            )  # fmt: skip


def _bare_year(claim: Claim) -> bool:
    return re.fullmatch(r"\D{0,4}\d{4}\D{0,2}", claim.words) is not None


def dates_disagree(clause: Clause, paper: Paper) -> Iterator[ClauseAnswer]:
    """Two dates on the label that cannot both be true."""
    yield from _clashes(clause, paper, "date.")


def materials_disagree(clause: Clause, paper: Paper) -> Iterator[ClauseAnswer]:
    """Two materials of one part that cannot both be true."""
    yield from _clashes(clause, paper, "material.")


def _clashes(clause: Clause, paper: Paper, prefix: str) -> Iterator[ClauseAnswer]:
    for clash in paper.clashes:
        if clash.fault.startswith(prefix) and clash.hard:
            yield ClauseAnswer(
                clause=clause.number,
                answer="broken",
                sentence=clash.sentence,
                remedy=either(clash.ways_out),
                fault=clash.fault,
                severity=clash.severity,
                claims=clash.claims,
                facts=clash.facts,
            )


def period_abroad(clause: Clause, paper: Paper) -> Iterator[ClauseAnswer]:
    """A period name of one country on an object of another: "Georgian" on a Dutch box."""
    places = {term(claim): claim for claim in paper.side("place")}
    if not places:
        return
    for claim, value in making_dates(paper):
        if not value.period or not value.country:
            continue
        for fact in paper.book.family("period_country"):
            if value.country not in _words(fact, "countries"):
                continue
            for place in (places[name] for name in _words(fact, "abroad") if name in places):
                yield broken(
                    clause, f"“{claim.words}” counts by the rulers of another country than “{place.words}”.",
                    "date.period_abroad", claims=(claim, place), facts=(fact.id,),
                    remedy=f"Write the years ({_span(value.years)}), or the period name of the country of origin.",
                    instead=_span(value.years) if value.years.bounded else "",
                )  # fmt: skip


def _words(fact: Fact, name: str) -> tuple[str, ...]:
    given = fact.more.get(name, ())
    return given if isinstance(given, tuple) else ()


def _span(years: Years) -> str:
    return (
        f"{'…' if years.earliest is None else years.earliest}–{'…' if years.latest is None else years.latest}"
    )


_BARE_HALLMARK = frozenset({"hallmarked", "hall-marked", "fully hallmarked", "hallmark", "hallmarks", "full hallmarks",
                            "fully marked", "full set of hallmarks", "silver hallmarks"})  # fmt: skip


def bare_hallmark(clause: Clause, paper: Paper) -> Iterator[ClauseAnswer]:
    """ "Hallmarked" with no town, year, standard or sponsor."""
    struck = any(
        isinstance(c.value, DateValue) and c.value.event == "mark_struck" for c in paper.side("date")
    )
    for claim in paper.side("mark"):
        if claim.words.lower() in _BARE_HALLMARK and not struck and not _said_near(claim, paper):
            yield broken(
                clause, f"“{claim.words}” does not say what the marks are.", "mark.bare_hallmark", claims=(claim,),
                remedy="Give the town, the year and the sponsor's mark, or write bears marks and describe them.",
                instead="bears marks",
            )  # fmt: skip


def _said_near(claim: Claim, paper: Paper) -> bool:
    """A place, a maker, a date or letters of a mark within thirty characters after the word."""
    return any(
        0 <= other.span.start - claim.span.end <= 30 and other.id != claim.id
        for other in paper.side("place", "maker", "date", "mark", "inscription")
    )


def which_ounce(clause: Clause, paper: Paper) -> Iterator[ClauseAnswer]:
    """A weight in ounces that can be avoirdupois or troy."""
    for claim in paper.side("measure"):
        value = claim.value
        if (
            isinstance(value, MeasureValue)
            and value.role == "weight"
            and len(value.readings) > 1
            and not value.same_as_written
        ):
            grams = " or ".join(f"{amount:.0f} g ({unit})" for amount, unit, _ in value.readings)
            yield broken(clause, f"“{claim.words}” can be {grams}.", "measure.which_ounce", claims=(claim,),
                         remedy="Write oz troy or oz avoirdupois, or give grams.")  # fmt: skip


def over_what(clause: Clause, paper: Paper) -> Iterator[ClauseAnswer]:
    """A length that does not say height, width or diameter; plates and other `customary` ones are measured across."""
    customary = setting_words(clause, "customary")
    for claim in paper.side("measure"):
        value = claim.value
        if (
            isinstance(value, MeasureValue)
            and value.base_unit == "mm"
            and (
                claim.told_apart_by.startswith("measure it") or value.role in ("", "size", "unknown", "open")
            )
            and value.role not in customary
        ):
            yield broken(clause, f"“{claim.words}” does not say over what it was measured.", "measure.over_what",
                         claims=(claim,), remedy="Say height, width, length or diameter.")  # fmt: skip


def praise_without_evidence(clause: Clause, paper: Paper) -> Iterator[ClauseAnswer]:
    """Words of praise that need support, with nothing on the label that supports them."""
    if paper.side("evidence"):
        return
    words = setting_words(clause, "words")
    for claim in paper.side("puff"):
        if term(claim) in words or claim.words.lower() in words or (not words and kind(claim) == "wild"):
            yield broken(clause, f"“{claim.words}” claims more than the label supports.", "word.praise",
                         claims=(claim,), remedy="Leave the word out, or name the evidence.")  # fmt: skip


_CLAUSE_END = re.compile(r"[.;,]")


def hedges_piled(clause: Clause, paper: Paper) -> Iterator[ClauseAnswer]:
    """More hedges on one statement than the clause allows: "possibly attributed to, in the manner of"."""
    hedges = setting_words(clause, "hedges")
    most = int(setting_number(clause, "most_hedges", 1))
    if not hedges:
        return
    low = paper.reading.text.lower()
    pattern = _hedge_pattern(hedges)
    if len(pattern.findall(low)) <= most:
        return
    for part in _CLAUSE_END.split(low):
        found = pattern.findall(part)
        if len(found) > most:
            yield broken(clause, f"“{part.strip()}” piles up hedges: {', '.join(found)}.", "word.hedges_piled",
                         remedy="Keep the one that the object bears.")  # fmt: skip


_HEDGE_PATTERNS: dict[frozenset[str], re.Pattern[str]] = {}


def _hedge_pattern(hedges: frozenset[str]) -> re.Pattern[str]:
    if hedges not in _HEDGE_PATTERNS:
        longest_first = sorted(hedges, key=lambda word: (-len(word), word))
        _HEDGE_PATTERNS[hedges] = re.compile(rf"(?<!\w)(?:{'|'.join(map(re.escape, longest_first))})(?!\w)")
    return _HEDGE_PATTERNS[hedges]


_WORD = re.compile(r"[^\W\d_]+")


def foreign_only(clause: Clause, paper: Paper) -> Iterator[ClauseAnswer]:
    """The words are of a language that the fair does not use."""
    foreign = setting_words(clause, "foreign_words")
    english = setting_words(clause, "own_words")
    words = _WORD.findall(paper.reading.text.lower())
    if english.isdisjoint(words) and sum(word in foreign for word in words) >= 2:
        yield broken(clause, "The label is in another language only.", "word.foreign_only",
                     remedy="Add the description in the fair's language.")  # fmt: skip


_SIGNED = re.compile(r"\b(?:signed|signature|stamped|touch(?:mark)?s?)\b", re.IGNORECASE)


def by_without_support(clause: Clause, paper: Paper) -> Iterator[ClauseAnswer]:
    """ "By" a maker claims the whole object; a mark, a signature or a paper must bear it."""
    if paper.side("mark", "evidence", "inscription") or _SIGNED.search(paper.reading.text):
        return
    for claim in paper.side("maker"):
        value = claim.value
        if (
            isinstance(value, MakerValue)
            and value.hand == "yes"
            and claim.strength == "stated"
            and value.qualifier
        ):
            yield broken(clause, f"“{claim.words}” claims the maker's own work, and the label shows no mark or paper.",
                         "maker.by_without_support", claims=(claim,),
                         remedy=f"Name the mark, or write attributed to {value.name}.",
                         instead=f"attributed to {value.name}")  # fmt: skip


_SELLS = re.compile(
    r"[\s,(]{1,3}(?:the\s)?(?:retailers?|dealers?|sellers?|ironmongers?|outfitters?)\b", re.IGNORECASE
)
"""A word of selling right after the name."""


def retailer_as_maker(clause: Clause, paper: Paper) -> Iterator[ClauseAnswer]:
    """A retailer's name given as the maker's."""
    for claim in paper.side("maker"):
        value = claim.value
        if (
            isinstance(value, MakerValue)
            and value.role == "retailer"
            and "yes" in (value.hand, value.workshop)
        ) or (
            isinstance(value, MakerValue)
            and value.hand == "yes"
            and _SELLS.match(paper.reading.text, claim.span.end)
        ):
            yield broken(clause, f"“{claim.words}” gives a retailer as the maker.", "maker.retailer_as_maker",
                         claims=(claim,), remedy=f"Write retailed by {value.name}.", instead=f"retailed by {value.name}")  # fmt: skip


def model_as_cast(clause: Clause, paper: Paper) -> Iterator[ClauseAnswer]:
    """Cast from a named model, and one bare year: the model's, or the casting's?"""
    models = [
        c for c in paper.side("maker") if isinstance(c.value, MakerValue) and "model" in c.value.qualifier
    ]
    dates = paper.side("date")
    bare = [
        c
        for c in dates
        if isinstance(c.value, DateValue) and c.value.event == "body_made" and not c.value.said
    ]
    if models and bare and len(bare) == len(dates):
        yield broken(clause, f"“{bare[0].words}” can be the year of the model or of the casting.", "date.model_as_cast",
                     claims=(models[0], bare[0]), remedy="Date the casting apart: the model of 1895, cast c.1910.")  # fmt: skip


def under_claimed(clause: Clause, paper: Paper) -> Iterator[ClauseAnswer]:
    """A century or a period where the label itself names the year that its marks or its inscription give."""
    years = [
        (claim, value.years.earliest)
        for claim in paper.side("date", "mark", "inscription")
        if isinstance(value := claim.value, DateValue)
        and value.years.earliest is not None
        and value.years.earliest == value.years.latest
    ]
    wide = setting_number(clause, "wide_years", 30)
    for claim, value in making_dates(paper):
        for exact, year in years:
            if (_width(value) or 0) > wide and value.years.holds(year):
                yield broken(clause, f"“{claim.words}” says less than “{exact.words}” bears.", "date.under_claimed",
                             claims=(claim, exact), remedy=f"Write {year}, and what gives it.")  # fmt: skip
                return


_FAINT = re.compile(r"\ufffd|\?\?+|\[(?:illegible|faint|unreadable|\.{2,}|…)\]|\(illegible\)", re.IGNORECASE)


def faint(clause: Clause, paper: Paper) -> Iterator[ClauseAnswer]:
    """Letters that nobody could read: a faint print, a torn label, a scan that lost its letters."""
    lost = _FAINT.search(paper.reading.text)
    if lost:
        yield broken(clause, f"The label cannot be read at “{lost.group()}”.", "word.faint",
                     remedy="Print the label again.")  # fmt: skip


def arms_as_provenance(clause: Clause, paper: Paper) -> Iterator[ClauseAnswer]:
    """Engraved arms given as ownership with no other evidence."""
    if paper.side("evidence"):
        return
    arms = [c for c in paper.side("decoration") if term(c) in ("arms", "coat of arms", "crest", "armorial")]
    owners = [c for c in paper.side("provenance") if kind(c) in ("owner", "")]
    if arms and owners:
        yield broken(clause, f"“{arms[0].words}” does not prove “{owners[0].words}”.", "provenance.arms",
                     claims=(arms[0], owners[0]), remedy="Say whose arms they are, and that ownership is not shown.")  # fmt: skip


def set_made_up(clause: Clause, paper: Paper) -> Iterator[ClauseAnswer]:
    """A pair or a set that the label itself says is not one: "set of twelve, one to match"."""
    counts = paper.side("count")
    whole = [c for c in counts if kind(c) in ("pair", "set")]
    apart = [c for c in counts if kind(c) in ("made up", "composite set", "matched pair")]
    apart += [c for c in paper.side("state") if term(c) in ("associated", "matched")]
    if whole and apart:
        yield broken(clause, f"“{whole[0].words}” and “{apart[0].words}” do not agree.", "count.made_up",
                     claims=(whole[0], apart[0]), remedy="Write matched pair, or eleven and one to match.")  # fmt: skip


RULES: dict[str, tuple[Rule, frozenset[str] | None]] = {
    rule.__name__: (rule, None if sides is None else frozenset(sides.split()))
    for rule, sides in (
        (date_too_vague, "date"),
        (date_too_exact, "date"),
        (dates_disagree, CLASH),
        (materials_disagree, CLASH),
        (period_abroad, "date"),
        (bare_hallmark, "mark"),
        (which_ounce, "measure"),
        (over_what, "measure"),
        (praise_without_evidence, "puff"),
        (hedges_piled, None),
        (foreign_only, None),
        (by_without_support, "maker"),
        (retailer_as_maker, "maker"),
        (arms_as_provenance, "decoration"),
        (model_as_cast, "maker"),
        (under_claimed, "date"),
        (faint, None),
        (set_made_up, "count"),
    )
}
"""Every wording rule by the name that a rule book uses, and the sides without which it can find nothing (None: it looks
at the text itself)."""
