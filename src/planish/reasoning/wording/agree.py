"""The strongest sentence that every finding and all hard evidence carry, as the smallest change to the label as hung."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import get_args

from planish.reasoning.wording.adding import unsaid_id
from planish.reasoning.wording.changes import changes
from planish.reasoning.wording.clashing import clash_by_clash
from planish.reasoning.wording.climbing import climbs
from planish.reasoning.wording.dating import cut, trade_years
from planish.reasoning.wording.lattice import Trees, entails, join, qualifier_for
from planish.reasoning.wording.phrases import date_words, phrase, written_measure
from planish.reasoning.wording.splicing import splice
from planish.reasoning.wording.why import finding_sentence, other_meanings, sentence
from planish.records import (
    AgreedWords,
    Claim,
    ClaimValue,
    Conventions,
    DateValue,
    Disclosure,
    Finding,
    Ground,
    MakerValue,
    MeasureValue,
    PooledDates,
    Problem,
    Reading,
    Side,
    Span,
    Step,
    TermValue,
    Unsaid,
    Years,
)

STANDING = ("stands", "open")
_YEARS = re.compile(r"(?:\b(?:circa|ca\.?|c\.)\s*)?\d{4}(?:\s*[–-]\s*\d{2,4}\b)?", re.IGNORECASE)
FREE = ("count", "mark", "inscription", "state", "decoration", "object")
"""Sides whose agreed words are written as they were carried, not derived from a term."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Settings:
    """What every step needs to know."""

    trees: Trees
    conventions: Conventions
    form: Mapping[str, object]
    carried: Mapping[str, Sequence[ClaimValue]]
    dates: Mapping[str, PooledDates]
    allowed: Years | None
    against: Mapping[str, Sequence[Ground]] = field(default_factory=dict)

    def words(self, claim: Claim, value: ClaimValue) -> str:
        """`value` in words, with the best fitting qualifier for a maker."""
        if isinstance(value, MakerValue) and not value.qualifier:
            value = replace(value, qualifier=qualifier_for(value, self.trees))
        if isinstance(value, TermValue) and (claim.side in FREE or "words" in value.more):
            return str(value.more.get("words", value.term))
        if isinstance(value, MeasureValue) and value.as_written:
            return written_measure(value)
        if isinstance(value, DateValue) and value.event != "body_made" and _YEARS.search(claim.words):
            years = date_words(value, self.conventions, self.form)
            return _YEARS.sub(lambda _: years, claim.words, count=1)  # the words around name the event
        side = "style" if isinstance(value, TermValue) and claim.side == "date" else claim.side
        return phrase(value, side=side, conventions=self.conventions, form=self.form)


def agree(
    reading: Reading,
    *,
    findings: Mapping[str, Finding],
    grounds: Sequence[Ground] = (),
    carried: Mapping[str, Sequence[ClaimValue]] | None = None,
    dates: Mapping[str, PooledDates] | None = None,
    allowed: Years | None = None,
    disclosures: Sequence[Disclosure] = (),
    unsaid: Sequence[Unsaid] = (),
    trees: Trees | None = None,
    looks: Mapping[str, tuple[str, int]] | None = None,
    form: Mapping[str, object] | None = None,
    definitions: Mapping[str, str] | None = None,
    other_definitions: Mapping[str, str] | None = None,
) -> AgreedWords:
    """Find the words that every finding and all hard evidence carry.

    `findings` by claim id; `grounds` are contradictions and broken clauses that keep a claim out, with the exact words
    of the remedy where it gives them. `carried` gives per claim the values that the opinions carry (unnamed); their
    join is the agreed value. The object's name, and words that own up to a state, stay when they fall and nobody gives
    others, with a Problem that asks for them. `dates` gives pooled years instead, where the opinions were pooled: the label's years come
    from the pool. Both are cut to `allowed`, the years that undisputed binding evidence leaves. A claim that falls and
    for which nobody carries anything is left out: saying less is always true. `disclosures` must stand in the label; `unsaid` are
    sides on which it is silent and for which opinions carry values (years may come from `dates` under "unsaid.date").
    `looks` maps a side to the smallest look (words, minutes) that would let a weakened claim climb. Words change only
    where a claim changes; everything else stays as hung.
    """
    carried, against = clash_by_clash(reading.claims, findings, grounds, carried or {}, moves=_moves)
    settings = _Settings(
        trees=trees or Trees(),
        conventions=reading.conventions,
        form=form or {},
        carried=carried,
        dates=dates or {},
        allowed=allowed,
        against=against,
    )
    steps = [_step(claim, findings.get(claim.id), settings) for claim in reading.claims]
    steps = _once(reading.claims, _periods_follow(reading.claims, steps))
    added = [step for one in unsaid if (step := _say(one, settings)) is not None]
    added += [_disclose(one) for one in disclosures if not _said_already(one, reading, steps)]
    text = splice(reading.text, steps, added, reading.claims)
    kept = (*_agreed_claims(reading.claims, steps), *_new_claims(added))
    return AgreedWords(
        text=text,
        claims=kept,
        steps=(*steps, *added),
        changes=changes(reading.text, text),
        climbs=climbs(
            reading.claims, steps, looks or {}, settings.words, settings.trees, reading.conventions
        ),
        warnings=other_meanings(kept, definitions or {}, other_definitions or {}),
        problems=(
            *_humps(reading.claims, settings),
            *_dateless(reading.claims, steps),
            *_asked(reading.claims, steps, owned=bool(added)),
        ),
    )


def _step(claim: Claim, finding: Finding | None, settings: _Settings) -> Step:
    bearing = settings.against.get(claim.id, ())
    grounds = [ground for ground in bearing if ground.keeps_out]
    falls = finding is not None and _moves(finding)
    if not falls and not grounds:
        return _kept(claim)
    why = tuple(dict.fromkeys((*_reasons(claim, finding), *(sentence(g.sentence) for g in grounds))))
    remedy = next((g for g in bearing if g.instead), None)
    if remedy is not None and not settings.carried.get(claim.id) and claim.id not in settings.dates:
        value = remedy.value or _exact_value(claim, remedy.instead)
        return _worded(claim, value, remedy.instead, why, settings)
    agreed, how = _agreed(claim, settings)
    if agreed is None and _must_be_said(claim):
        return replace(_kept(claim), why=why)  # saying nothing would say more: see `_asked`
    if agreed is None:
        return Step(
            claim=claim.id, did="left_out", before=claim.words, after="", span=claim.span, why=(*why, *how)
        )
    return _worded(claim, agreed, settings.words(claim, agreed), (*why, *how), settings)


def _moves(finding: Finding) -> bool:
    """A claim moves when it falls, or when views on it stay divided; silence of some is no objection."""
    if finding.answer == "no_quorum":
        return finding.does_not_hold > 0
    return finding.answer not in STANDING


def _reasons(claim: Claim, finding: Finding | None) -> tuple[str, ...]:
    if finding is None or not _moves(finding):
        return ()
    return (*(sentence(reason) for reason in finding.reasons), finding_sentence(claim.words, finding))


def _must_be_said(claim: Claim) -> bool:
    """The object's name, without which a label says nothing, and what owns up to a state, whose silence would claim more."""
    return claim.side == "state" or (claim.side == "object" and not claim.part)


def _kept(claim: Claim) -> Step:
    return Step(claim=claim.id, did="kept", before=claim.words, after=claim.words, span=claim.span)


def _worded(claim: Claim, value: ClaimValue, words: str, why: tuple[str, ...], settings: _Settings) -> Step:
    if words == claim.words:
        return _kept(claim)
    weaker = entails(claim.value, value, tree=claim.side, trees=settings.trees)
    return Step(
        claim=claim.id,
        did="weakened" if weaker else "reworded",
        before=claim.words,
        after=words,
        value=value,
        span=claim.span,
        why=why,
    )


def _agreed(claim: Claim, settings: _Settings) -> tuple[ClaimValue | None, tuple[str, ...]]:
    """The value carried and, for pooled years, how it was found."""
    pooled = settings.dates.get(claim.id)
    if pooled is not None and isinstance(claim.value, DateValue):
        return _from_pool(claim.value, pooled, settings)
    values = list(settings.carried.get(claim.id, ()))
    value = join(values, tree=claim.side, trees=settings.trees)
    if isinstance(value, MakerValue) and not (value.qualifier or qualifier_for(value, settings.trees)):
        return None, ("No word on file says just what all carry of the maker.",)
    if not isinstance(value, DateValue) or value.event != "body_made":
        return value, ()
    years = cut(value.years, settings.allowed)
    if years is None:
        return None, ()
    return (value if years == value.years else _bare(value, years)), ()


def _from_pool(
    value: DateValue, pooled: PooledDates, settings: _Settings
) -> tuple[ClaimValue | None, tuple[str, ...]]:
    if pooled.label is None:
        return None, (sentence(pooled.why),) if pooled.why else ()
    years = cut(pooled.label, settings.allowed)
    if years is None:
        return None, ()
    if pooled.humps:
        raw = cut(pooled.humps[0], settings.allowed)
        years = trade_years(raw, years, settings.conventions) if raw is not None else years
    share = next((c.partition("=")[2] for c in pooled.conventions if c.startswith("label_share=")), "")
    how = f"The years are the shortest span that holds {_percent(share)} of the years given, pooled with equal weight"
    hard = ", without the years that hard evidence excludes" if settings.allowed is not None else ""
    return _bare(value, years), (f"{how}{hard}; the ends are rounded outwards.",)


def _percent(share: str) -> str:
    return f"{100 * float(share):g} %" if share else "most"


def _bare(value: DateValue, years: Years) -> DateValue:
    return replace(
        value,
        years=years,
        period="",
        core=None,
        written=None,
        edtf="",
        fact="",
        approximate=False,
        uncertain=False,
        grain="year",
    )


def _exact_value(claim: Claim, words: str) -> ClaimValue:
    """What exact words of a remedy claim: a period name turned into a style says nothing of date."""
    if isinstance(claim.value, DateValue):
        return TermValue(term=claim.value.period or claim.words, kind="style", more={"words": words})
    return TermValue(term=words, more={"words": words})


def _periods_follow(claims: Sequence[Claim], steps: Sequence[Step]) -> list[Step]:
    """Another date of the making that the agreed years contradict cannot stay: a period name becomes a style.

    A period name that holds all agreed years stays; one that holds only some says more than anybody carries.
    """
    moved = [
        (claim, step.value)
        for claim, step in zip(claims, steps, strict=True)
        if _of_making(claim) and step.did != "kept" and isinstance(step.value, DateValue)
    ]
    if not moved:
        return list(steps)
    _, agreed = moved[0]
    made = []
    for claim, step in zip(claims, steps, strict=True):
        stays = step.did != "kept" or not _of_making(claim) or _holds_all(claim.value, agreed)
        made.append(step if stays else _as_style(claim, agreed))
    return made


def _of_making(claim: Claim) -> bool:
    value = claim.value
    whole = claim.side == "date" and not claim.part and claim.strength != "denied"
    return whole and isinstance(value, DateValue) and value.event == "body_made"


def _holds_all(value: ClaimValue, agreed: DateValue) -> bool:
    return isinstance(value, DateValue) and entails(agreed, replace(value, event=agreed.event))


def _as_style(claim: Claim, agreed: DateValue) -> Step:
    why = (f"“{claim.words}” does not hold all the years that the label gives now.",)
    value = claim.value
    apart = isinstance(value, DateValue) and not value.years.meets(agreed.years)
    if isinstance(value, DateValue) and value.period and apart:
        words = f"{claim.words} style"
        return Step(
            claim=claim.id,
            did="reworded",
            before=claim.words,
            after=words,
            value=_exact_value(claim, words),
            span=claim.span,
            why=why,
        )
    return Step(claim=claim.id, did="left_out", before=claim.words, after="", span=claim.span, why=why)


def _say(unsaid: Unsaid, settings: _Settings) -> Step | None:
    """What the opinions carry together for a side on which the label is silent; None when they carry nothing together."""
    claim = _silence(unsaid.side, unsaid.values[0] if unsaid.values else DateValue(years=Years()))
    held = replace(settings, carried={claim.id: unsaid.values})
    value, how = _agreed(claim, held)
    words = settings.words(claim, value) if value is not None else ""
    if not words:
        return None
    return Step(claim=claim.id, did="added", before="", after=words, value=value, why=(*unsaid.why, *how))


def _silence(side: Side, value: ClaimValue) -> Claim:
    return Claim(id=unsaid_id(side), side=side, value=value, words="", span=Span(0, 0))


def _new_claims(added: Sequence[Step]) -> tuple[Claim, ...]:
    """Claims that the label makes now and did not make as hung."""
    sides = {unsaid_id(side): side for side in get_args(Side)}
    return tuple(
        replace(_silence(sides[step.claim], step.value), words=step.after)
        for step in added
        if step.value is not None and step.claim in sides
    )


def _disclose(disclosure: Disclosure) -> Step:
    why = tuple(sentence(s) for s in (disclosure.sentence,) if s)
    return Step(claim="", did="added", before="", after=disclosure.words, why=why)


def _said_already(disclosure: Disclosure, reading: Reading, steps: Sequence[Step]) -> bool:
    wanted = (disclosure.words.casefold(), *(word.casefold() for word in disclosure.told_by))
    new = [step.after.casefold() for step in steps if step.did in ("reworded", "weakened")]
    if any(_spoken(word, words) for word in wanted for words in new):
        return True
    for claim in reading.claims:
        words = claim.words.casefold()
        same_part = not disclosure.part or claim.part == disclosure.part or disclosure.part in words
        if claim.side == "state" and same_part and any(word in words for word in wanted):
            return True
    return disclosure.words.casefold() in reading.text.casefold()


def _spoken(word: str, words: str) -> bool:
    return re.search(rf"(?<!\w){re.escape(word)}(?!\w)", words) is not None


def _once(claims: Sequence[Claim], steps: Sequence[Step]) -> list[Step]:
    """What new words of the same side say now is not said a second time: "eleven and one to match, ..., one to match"."""
    new = [
        (claim.side, claim.part, step.after.casefold())
        for claim, step in zip(claims, steps, strict=True)
        if step.did in ("reworded", "weakened")
    ]
    return [
        replace(step, did="left_out", after="", why=(f"The label says “{step.after}” at another place now.",))
        if step.did == "kept" and claim.side in ("count", "state") and _again(claim, new)
        else step
        for claim, step in zip(claims, steps, strict=True)
    ]


def _again(claim: Claim, new: Sequence[tuple[str, str, str]]) -> bool:
    words = claim.words.casefold()
    return any((claim.side, claim.part) == (side, part) and _spoken(words, said) for side, part, said in new)


def _agreed_claims(claims: Sequence[Claim], steps: Sequence[Step]) -> tuple[Claim, ...]:
    kept: list[Claim] = []
    for claim, step in zip(claims, steps, strict=False):
        if step.did == "kept":
            kept.append(claim)
        elif step.value is not None:
            side = "style" if claim.side == "date" and isinstance(step.value, TermValue) else claim.side
            kept.append(replace(claim, side=side, value=step.value, words=step.after, strength="stated"))
    return tuple(kept)


def _humps(claims: Sequence[Claim], settings: _Settings) -> list[Problem]:
    """Opinions about a date that do not meet: one span over all would say what nobody thinks."""
    problems = []
    for claim in claims:
        pooled = settings.dates.get(claim.id)
        if pooled is not None and pooled.label is None:
            spans = " and ".join(f"{y.earliest}–{y.latest}" for y in pooled.humps)
            problems.append(_refer(claim, f"The years given fall apart{': ' + spans if spans else ''}."))
            continue
        values = [v for v in settings.carried.get(claim.id, ()) if isinstance(v, DateValue)]
        latest_start = max((v.years.earliest for v in values if v.years.earliest is not None), default=None)
        earliest_end = min((v.years.latest for v in values if v.years.latest is not None), default=None)
        if latest_start is not None and earliest_end is not None and latest_start > earliest_end + 50:
            said = f"The opinions carry dates that lie apart: until {earliest_end}, and from {latest_start}."
            problems.append(_refer(claim, said))
    return problems


def _refer(claim: Claim, what: str) -> Problem:
    return Problem(
        where=f"words “{claim.words}”",
        what=what,
        why="One span over all of them would say what nobody thinks.",
        remedy="Refer the object, or ask for a look that tells the two apart.",
        severity=2,
        code="wording.two_humps",
    )


def _dateless(claims: Sequence[Claim], steps: Sequence[Step]) -> list[Problem]:
    """Leaving the only date out is true and not enough: somebody must say years that they carry."""
    dates = [step for claim, step in zip(claims, steps, strict=True) if _of_making(claim)]
    if not dates or any(isinstance(s.value, DateValue) or s.did == "kept" for s in dates):
        return []
    before = ", ".join(f"“{step.before}”" for step in dates)
    return [
        Problem(
            where=f"words {before}",
            what="The agreed words give no date: the one hung does not hold and no other is carried.",
            remedy="Ask for years that the table can sign (planish ballot --dates), then look at the words again.",
            severity=2,
            code="wording.no_date",
        )
    ]


def _asked(claims: Sequence[Claim], steps: Sequence[Step], *, owned: bool) -> list[Problem]:
    """Names and disclosures that fell and for which nobody gave other words: they stay, and the panel is asked.

    A name is not asked for when the label now owns up to something: that is the other way out.
    """
    return [
        _name_asked(step) if claim.side == "object" else _state_asked(step)
        for claim, step in zip(claims, steps, strict=True)
        if step.did == "kept" and step.why and not (owned and claim.side == "object")
    ]


def _name_asked(step: Step) -> Problem:
    return Problem(
        where=f"words “{step.before}”",
        what="The panel does not carry this name, and nobody gave another.",
        why="A label must name its object.",
        remedy="Give the name that the panel carries, or say in the label what is later or replaced.",
        severity=2,
        code="wording.name_asked",
    )


def _state_asked(step: Step) -> Problem:
    return Problem(
        where=f"words “{step.before}”",
        what="The panel does not carry these words of condition, and nobody gave others.",
        why="Leaving them out would claim a better state than the label does now.",
        remedy="Say what the damage or the change is, and on which part.",
        severity=2,
        code="wording.state_asked",
    )
