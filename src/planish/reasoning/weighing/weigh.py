"""Weigh a case: years of every event and part, how far the claim stands, and what each item did."""

from dataclasses import replace

import numpy as np

from planish.reasoning.contradicting import claim_as_item, smallest_clashes
from planish.reasoning.contradicting.masks import Place
from planish.reasoning.contradicting.order import place_of
from planish.reasoning.weighing import saying
from planish.reasoning.weighing.case import (
    Case,
    ClaimWeight,
    CopyWeight,
    DatedClaim,
    EventYears,
    ItemWeight,
    PartWeight,
    Weighing,
)
from planish.reasoning.weighing.chain import one_year_factor
from planish.reasoning.weighing.checking import BLOCKING, check
from planish.reasoning.weighing.likelihood import Row, Rows, window_shape
from planish.reasoning.weighing.model import Model, downward, upward
from planish.reasoning.weighing.ranges import band, shortest_ranges, width_of
from planish.reasoning.weighing.scoring import (
    HOUSE,
    Scored,
    compile_case,
    copy_given,
    place_of_claim,
    score,
    variants_of,
)
from planish.reasoning.weighing.settings import Settings
from planish.reasoning.weighing.stressing import beside_flat, depends, explanations, stress_lines
from planish.records import Contradiction, Problem, Years


def weigh(case: Case, settings: Settings = HOUSE) -> Weighing:
    """Weigh one object. Bad input gives a `blocked` weighing with Problems and no figure; nothing raises.

    The order in which items come never matters. Opinions take no part: the panel's track is never multiplied in.
    """
    problems = check(case, settings)
    if any(p.severity <= BLOCKING for p in problems):
        return Weighing(case=case.id, problems=problems, blocked=True, clashes=_clashes(case, settings))
    model = compile_case(case, settings)
    variants = variants_of(model)
    scored = score(model, variants, settings.copy_chance)
    if not scored.any_year:
        return Weighing(case=case.id, problems=(*problems, _nothing_left()), blocked=True)
    return _weighed(case, settings, problems, model, variants, scored)


def _weighed(
    case: Case,
    settings: Settings,
    problems: tuple[Problem, ...],
    model: Model,
    variants: Rows,
    scored: Scored,
) -> Weighing:
    period, events = _event_years(model, variants[0], scored, settings)
    mask = claim_mask(case.main_claim, settings)
    chances = scored.claim(mask)
    items = _item_weights(model, scored, chances, period) if mask is not None else ()
    stress = stress_lines(settings, model, scored, mask) if mask is not None else ()
    coherence = float(scored.log10_period[0])
    return Weighing(
        case=case.id,
        problems=problems,
        claims=tuple(_claim_weight(c, case, model, scored, events, settings) for c in case.claims),
        events=events,
        items=items,
        parts=_part_weights(model, variants[:1]),
        copy=_copy_weight(scored, settings),
        coherence=coherence,
        pulls_apart=coherence < settings.pulls_apart,
        clashes=_clashes(case, settings),
        explanations=explanations(settings, model, items, scored, mask),
        stress=stress,
        depends_on_assumptions=depends(float(chances[0]), stress),
        beside_flat=beside_flat(case, settings, mask),
        defaults=saying.defaults(case, settings, model),
    )


def _nothing_left() -> Problem:
    return Problem(
        where="the evidence",
        what="No year is left that every certain item allows.",
        remedy="Give one of them a doubt, move it to its own part or event, or leave it out.",
        severity=2,
        code="years.none_left",
    )


def claim_mask(claim: DatedClaim | None, settings: Settings, widen: int = 0) -> Row | None:
    """1 in the years of the claim, widened on both sides; None without a claim."""
    if claim is None:
        return None
    low, high = claim.years.earliest, claim.years.latest
    years = Years(None if low is None else low - widen, None if high is None else high + widen)
    return window_shape((years,), settings.first, settings.last)


def _clashes(case: Case, settings: Settings) -> tuple[Contradiction, ...]:
    claims = [claim_as_item(c.id, c.words, c.years, part=c.part, event=c.event) for c in case.claims]
    return smallest_clashes(
        [*claims, *case.items],
        chain=case.chain,
        sources=case.sources,
        first=settings.first,
        last=settings.last,
    )


def _event_years(
    model: Model, weights: Row, scored: Scored, settings: Settings
) -> tuple[dict[Place, Row], tuple[EventYears, ...]]:
    period = downward(model.root, model.period, weights, model.prior, model.smear)
    copied = downward(model.root, model.true_copy, weights, model.prior, model.smear, model.late)
    chance = float(scored.copy[0])
    events = []
    for place in period:
        mixed = (1.0 - chance) * period[place] + chance * copied[place]
        ranges = shortest_ranges(mixed, settings.range_share, settings.first)
        events.append(
            EventYears(
                part=place[0],
                event=place[1],
                first=settings.first,
                chances=tuple(mixed.tolist()),
                period_chances=tuple(period[place].tolist()),
                ranges=ranges,
                period_ranges=shortest_ranges(period[place], settings.range_share, settings.first),
                share=settings.range_share,
                sentence=saying.event_sentence(place, ranges, settings.range_share),
            )
        )
    return period, tuple(events)


def _claim_weight(
    claim: DatedClaim,
    case: Case,
    model: Model,
    scored: Scored,
    events: tuple[EventYears, ...],
    settings: Settings,
) -> ClaimWeight:
    place = place_of_claim(claim)
    years = next(e for e in events if (e.part, e.event) == place)
    mask, wide = claim_mask(claim, settings), claim_mask(claim, settings, settings.widen)
    assert mask is not None
    assert wide is not None
    period = float(np.array(years.period_chances) @ mask)
    if claim == case.main_claim:
        chance, widened = float(scored.claim(mask)[0]), float(scored.claim(wide)[0])
    else:
        chances = np.array(years.chances)
        chance, widened = float(chances @ mask), float(chances @ wide)
    width = ""
    if chance < settings.exact_below and widened >= settings.exact_widened:
        width = "too exact"
    elif mask.sum() > settings.vague_factor * width_of(years.ranges):
        width = "too vague"
    prior = float(model.prior @ mask)
    return ClaimWeight(
        claim=claim,
        probability=chance,
        if_period_piece=period,
        band=band(chance),
        lift=chance / prior if prior > 0.0 else 0.0,
        width=width,
        sentence=saying.claim_sentence(claim, chance, width, years.ranges),
    )


def _item_weights(
    model: Model, scored: Scored, chances: Row, period: dict[Place, Row]
) -> tuple[ItemWeight, ...]:
    kept = np.clip(chances, 1e-12, 1.0 - 1e-12)
    odds = np.log10(kept / (1.0 - kept))
    weighed = []
    for i, item in enumerate(model.items):
        fit = float(scored.log10_period[0] - scored.log10_period[i + 1])
        likelihood = model.likelihoods[i]
        shares = np.where(likelihood > 0.0, item.doubt / np.where(likelihood > 0.0, likelihood, 1.0), 0.0)
        doubt = float(period[place_of(item)] @ shares)
        note = "odd one out" if fit < HOUSE.odd_one_out else "fits the rest" if fit > 0.0 else ""
        influence = float(odds[0] - odds[i + 1])
        weighed.append(
            ItemWeight(
                item=item.id,
                influence=influence,
                fit=fit,
                doubt=min(doubt, 1.0),
                note=note,
                sentence=saying.item_sentence(item, influence, doubt, note),
            )
        )
    return tuple(weighed)


def _part_weights(model: Model, weights: Rows) -> tuple[PartWeight, ...]:
    out = []
    for node in model.root.children:
        if node.hangs != "part":
            continue
        part = upward(node, model.period, weights, model.prior, model.smear).belief[0]
        factor = one_year_factor(_body_without(model, weights, node.place), part, model.prior, model.smear)
        apart = node.value / (node.value + (1.0 - node.value) * factor) if node.value > 0.0 else 0.0
        name = node.place[0]
        out.append(
            PartWeight(
                part=name,
                factor=factor,
                prior_marriage=node.value,
                marriage=apart,
                band=band(apart),
                sentence=saying.part_sentence(name, factor, apart),
            )
        )
    return tuple(out)


def _body_without(model: Model, weights: Rows, part: Place) -> Row:
    rest = tuple(child for child in model.root.children if child.place != part)
    body = replace(model.root, children=rest)
    row: Row = upward(body, model.period, weights, model.prior, model.smear).belief[0]
    return row


def _copy_weight(scored: Scored, settings: Settings) -> CopyWeight:
    ln10 = np.log(10.0)
    period, copied = scored.log10_period[:1] * ln10, scored.log10_copy[:1] * ln10
    possible = bool(np.isfinite(copied[0]))
    beside = tuple(
        (h, float(copy_given(period, copied, h)[0]) if possible else 0.0)
        for h in settings.copy_chances_beside
    )
    chance = float(scored.copy[0])
    return CopyWeight(
        probability=chance,
        band=band(chance),
        prior=settings.copy_chance,
        beside=beside,
        sentence=saying.copy_sentence(chance, settings, possible=possible),
    )
