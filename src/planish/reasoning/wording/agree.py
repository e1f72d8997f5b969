"""The strongest sentence that every finding and all hard evidence carry, as the smallest change to the label as hung."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from planish.reasoning.wording.changes import changes
from planish.reasoning.wording.lattice import Trees, entails, join, qualifier_for, weaker
from planish.reasoning.wording.phrases import phrase
from planish.records import (
    AgreedWords,
    Claim,
    ClaimValue,
    Climb,
    Conventions,
    DateValue,
    Disclosure,
    Finding,
    Ground,
    MakerValue,
    Problem,
    Reading,
    Step,
    Years,
)

STANDING = ("stands", "open")
_LEFT_BEHIND = re.compile(
    r"(?:^|(?<=[\s,;:(]))(?:by|from|of|in|and|with|circa|c\.|for|to)\s*$", re.IGNORECASE
)


def agree(
    reading: Reading,
    *,
    findings: Mapping[str, Finding],
    grounds: Sequence[Ground] = (),
    carried: Mapping[str, Sequence[ClaimValue]] | None = None,
    allowed: Years | None = None,
    disclosures: Sequence[Disclosure] = (),
    trees: Trees | None = None,
    looks: Mapping[str, tuple[str, int]] | None = None,
    form: Mapping[str, object] | None = None,
    definitions: Mapping[str, str] | None = None,
    other_definitions: Mapping[str, str] | None = None,
) -> AgreedWords:
    """Find the words that every finding and all hard evidence carry.

    `findings` by claim id; `grounds` are contradictions and broken clauses that keep a claim out. `carried` gives per
    claim the values that the opinions carry (unnamed); their join is the agreed value, cut to `allowed`, the years that
    undisputed binding evidence leaves. A claim that falls and for which nobody carries anything is left out: saying
    less is always true. `disclosures` must stand in the label. `looks` maps a side to the smallest look (words, minutes)
    that would let a weakened claim climb. Words change only where a claim changes; everything else stays as hung.
    """
    settings = _Settings(trees or Trees(), reading.conventions, form or {}, carried or {}, allowed)
    against: dict[str, list[Ground]] = {}
    for ground in grounds:
        against.setdefault(ground.claim, []).append(ground)
    steps = [
        _step(claim, findings.get(claim.id), against.get(claim.id, []), settings) for claim in reading.claims
    ]
    added = [_disclose(disclosure) for disclosure in disclosures if not _said_already(disclosure, reading)]
    text = _splice(reading.text, steps, added)
    kept = _agreed_claims(reading.claims, steps)
    return AgreedWords(
        text=text,
        claims=kept,
        steps=(*steps, *added),
        changes=changes(reading.text, text),
        climbs=tuple(_climbs(reading.claims, steps, looks or {}, settings)),
        warnings=tuple(_other_meanings(kept, definitions or {}, other_definitions or {})),
        problems=tuple(_humps(reading.claims, settings)),
    )


class _Settings:
    """What every step needs to know."""

    __slots__ = ("allowed", "carried", "conventions", "form", "trees")

    def __init__(
        self,
        trees: Trees,
        conventions: Conventions,
        form: Mapping[str, object],
        carried: Mapping[str, Sequence[ClaimValue]],
        allowed: Years | None,
    ) -> None:
        self.trees, self.conventions, self.form = trees, conventions, form
        self.carried, self.allowed = carried, allowed

    def words(self, claim: Claim, value: ClaimValue) -> str:
        """`value` in words, with the best fitting qualifier for a maker."""
        if isinstance(value, MakerValue):
            value = replace(value, qualifier=qualifier_for(value, self.trees) or value.qualifier)
        return phrase(value, side=claim.side, conventions=self.conventions, form=self.form)


def _step(claim: Claim, finding: Finding | None, grounds: Sequence[Ground], settings: _Settings) -> Step:
    why = [ground.sentence for ground in grounds if ground.keeps_out]
    falls = finding is not None and finding.answer not in STANDING
    if finding is not None and falls:
        why = [*finding.reasons, finding.rule, *why]
    values = list(settings.carried.get(claim.id, ()))
    if not falls and not why:
        return Step(claim=claim.id, did="kept", before=claim.words, after=claim.words, span=claim.span)
    agreed = _within(join(values, tree=claim.side, trees=settings.trees), settings.allowed)
    if agreed is None:
        return _left_out(claim, why)
    after = settings.words(claim, agreed)
    if after == claim.words:
        return Step(claim=claim.id, did="kept", before=claim.words, after=after, span=claim.span)
    weaker_than_hung = entails(claim.value, agreed, tree=claim.side, trees=settings.trees)
    return Step(
        claim=claim.id,
        did="weakened" if weaker_than_hung else "reworded",
        before=claim.words,
        after=after,
        value=agreed,
        span=claim.span,
        why=tuple(why),
    )


def _left_out(claim: Claim, why: Sequence[str]) -> Step:
    return Step(claim=claim.id, did="left_out", before=claim.words, after="", span=claim.span, why=tuple(why))


def _within(value: ClaimValue | None, allowed: Years | None) -> ClaimValue | None:
    """Cut a date to the years that hard evidence leaves; None when none is left."""
    if not isinstance(value, DateValue) or allowed is None or value.event != "body_made":
        return value
    if not value.years.meets(allowed):
        return None
    first = _pick(max, value.years.earliest, allowed.earliest)
    last = _pick(min, value.years.latest, allowed.latest)
    cut = Years(first, last)
    return value if cut == value.years else replace(value, years=cut, period="", core=None, edtf="")


def _pick(choose: object, a: int | None, b: int | None) -> int | None:
    known = [year for year in (a, b) if year is not None]
    return choose(known) if known and callable(choose) else None


def _disclose(disclosure: Disclosure) -> Step:
    why = tuple(s for s in (disclosure.sentence,) if s)
    return Step(claim="", did="added", before="", after=disclosure.words, why=why)


def _said_already(disclosure: Disclosure, reading: Reading) -> bool:
    wanted = disclosure.words.casefold()
    return any(wanted in claim.words.casefold() for claim in reading.claims if claim.side == "state")


def _splice(text: str, steps: Sequence[Step], added: Sequence[Step]) -> str:
    """Put the new words where the old ones stood; tidy what a left-out claim leaves behind."""
    changed = sorted(
        (s for s in steps if s.span and s.did not in ("kept", "added")),
        key=lambda s: s.span.start if s.span else 0,
        reverse=True,
    )
    limit = len(text) + 1
    for step in changed:
        if step.span is None or step.span.end > limit:
            continue  # an overlapping claim further right has already changed these characters
        limit = step.span.start
        before, after = text[: step.span.start], text[step.span.end :]
        if not step.after:
            before = _LEFT_BEHIND.sub("", before)
        text = before + step.after + after
    text = _tidy(text) if changed else text
    sentences = [step.after[:1].upper() + step.after[1:] for step in added]
    return (
        " ".join([text.rstrip(), *(f"{sentence.rstrip('.')}." for sentence in sentences)]).strip()
        if added
        else text
    )


def _tidy(text: str) -> str:
    text = re.sub(r"\(\s*\)", "", text)
    text = re.sub(r"[ \t]+([,;:.])", r"\1", text)
    text = re.sub(r"([,;:])(?:\s*[,;:])+", r"\1", text)
    text = re.sub(r"[,;:]\s*\.", ".", text)
    text = re.sub(r"^[\s,;:.]+", "", text)
    return re.sub(r"[ \t]{2,}", " ", text).rstrip(" ,;:")


def _agreed_claims(claims: Sequence[Claim], steps: Sequence[Step]) -> tuple[Claim, ...]:
    kept: list[Claim] = []
    for claim, step in zip(claims, steps, strict=False):
        if step.did == "kept":
            kept.append(claim)
        elif step.value is not None:
            kept.append(replace(claim, value=step.value, words=step.after))
    return tuple(kept)


def _climbs(
    claims: Sequence[Claim], steps: Sequence[Step], looks: Mapping[str, tuple[str, int]], settings: _Settings
) -> list[Climb]:
    climbs = []
    for claim, step in zip(claims, steps, strict=False):
        if step.did not in ("weakened", "left_out") or claim.side not in looks:
            continue
        look, minutes = looks[claim.side]
        rungs = [
            claim.value,
            *weaker(
                claim.value, tree=claim.side, trees=settings.trees, circa=settings.conventions.circa_years
            ),
        ]
        above = [
            r
            for r in rungs
            if step.value is None or (r != step.value and _stronger(r, step.value, claim, settings))
        ]
        if above:
            climbs.append(
                Climb(claim=claim.id, words=settings.words(claim, above[-1]), look=look, minutes=minutes)
            )
    return climbs


def _stronger(rung: ClaimValue, agreed: ClaimValue, claim: Claim, settings: _Settings) -> bool:
    return entails(rung, agreed, tree=claim.side, trees=settings.trees)


def _other_meanings(claims: Sequence[Claim], own: Mapping[str, str], others: Mapping[str, str]) -> list[str]:
    warnings = []
    for claim in claims:
        word = claim.value.qualifier if isinstance(claim.value, MakerValue) else ""
        if word in own and word in others and own[word] != others[word]:
            warnings.append(f"“{word}” here means: {own[word]} Elsewhere it can mean: {others[word]}")
    return warnings


def _humps(claims: Sequence[Claim], settings: _Settings) -> list[Problem]:
    """Opinions about a date that do not meet at all: their hull would say what nobody thinks."""
    problems = []
    for claim in claims:
        dates = [v for v in settings.carried.get(claim.id, ()) if isinstance(v, DateValue)]
        latest_start = max((v.years.earliest for v in dates if v.years.earliest is not None), default=None)
        earliest_end = min((v.years.latest for v in dates if v.years.latest is not None), default=None)
        if latest_start is not None and earliest_end is not None and latest_start > earliest_end + 50:
            problems.append(
                Problem(
                    where=f"words “{claim.words}”",
                    what=f"The opinions carry dates that lie apart: until {earliest_end}, and from {latest_start}.",
                    why="One span over both would say what nobody thinks.",
                    remedy="Refer the object, or ask for a look that tells the two apart.",
                    severity=2,
                    code="wording.two_humps",
                )
            )
    return problems
