"""Does the answer hang on the house defaults? And what would follow from each way to explain an odd item."""

from dataclasses import replace

import numpy as np

from planish.reasoning.weighing.case import Case, Explanation, ItemWeight, StressLine
from planish.reasoning.weighing.likelihood import Row, tempers
from planish.reasoning.weighing.model import Model, Track, likelihood_rows, tracks
from planish.reasoning.weighing.ranges import band, step_of
from planish.reasoning.weighing.scoring import Scored, compile_case, copy_given, score
from planish.reasoning.weighing.settings import Settings
from planish.records import EvidenceItem

MISREAD_DOUBT = 0.5


def stress_lines(
    settings: Settings, model: Model, scored: Scored, mask: Row | None
) -> tuple[StressLine, ...]:
    """The main claim with every doubt tripled, with groups independent or counted once, and with other copy rates."""
    count = len(model.items)
    claim = scored.claim(mask)
    grouped = any(item.group for item in model.items)
    lines = [_line(f"every doubt × {settings.stress_doubt:g}", _with_doubts(model, settings, mask))]
    if grouped:
        lines.append(_line("items of one group independent", float(claim[count + 1])))
        lines.append(_line("items of one group counted once", float(claim[count + 2])))
    ln10 = np.log(10.0)
    if np.isfinite(scored.log10_copy[0]):
        inside = float((scored.period[0] * mask).sum()) if mask is not None else 0.0
        for rate in settings.copy_chances_beside:
            chance = copy_given(scored.log10_period[:1] * ln10, scored.log10_copy[:1] * ln10, rate)[0]
            lines.append(_line(f"base rate of copies {rate:.0%}", min(inside, 1.0) * (1.0 - float(chance))))
    return tuple(lines)


def _line(assumption: str, probability: float) -> StressLine:
    return StressLine(assumption=assumption, probability=probability, band=band(probability))


def _with_doubts(model: Model, settings: Settings, mask: Row | None) -> float:
    """The claim with every doubt multiplied: f/F is read back from L = (1 - e) f/F + e."""
    doubts = np.array([[item.doubt] for item in model.items]).reshape(-1, 1)
    more = np.minimum(doubts * settings.stress_doubt, 0.99)
    rows = (1.0 - more) * np.maximum(model.likelihoods - doubts, 0.0) / (1.0 - doubts) + more
    period, true_copy, target = tracks(model.items, rows, settings.imitation)
    return _main(replace(model, period=period, true_copy=true_copy, target=target), settings, mask)


def _main(model: Model, settings: Settings, mask: Row | None) -> float:
    weights = tempers(model.items).reshape(1, -1)
    return float(score(model, weights, settings.copy_chance).claim(mask)[0])


def depends(probability: float, lines: tuple[StressLine, ...]) -> bool:
    """True when the band moves by more than one step under any one changed assumption."""
    return any(abs(step_of(line.probability) - step_of(probability)) > 1 for line in lines)


def beside_flat(case: Case, settings: Settings, mask: Row | None) -> StressLine | None:
    """The main claim under the flat prior, shown beside any other prior; None when the prior is flat already."""
    if not settings.prior or mask is None:
        return None
    flat = replace(settings, prior=(), prior_name="flat")
    return _line("flat prior", _main(compile_case(case, flat), flat, mask))


def explanations(
    settings: Settings,
    model: Model,
    items: tuple[ItemWeight, ...],
    scored: Scored,
    mask: Row | None,
) -> tuple[Explanation, ...]:
    """For each item that pulls against the rest: later copy, later part or addition, misreading. Never picks one."""
    if mask is None:
        return ()
    chances = scored.claim(mask)
    alarm = float(scored.copy[0]) > settings.copy_alarm
    odd = [
        i
        for i, weight in enumerate(items)
        if weight.doubt >= 0.5
        or weight.fit < settings.odd_one_out
        or (alarm and model.items[i].binding and weight.influence < -1.0)
    ]
    misread = _misread(model, settings, odd, mask)
    return tuple(
        way
        for i, doubted in zip(odd, misread, strict=True)
        for way in _ways(settings, model.items[i], float(chances[i + 1]), doubted)
    )


def _misread(model: Model, settings: Settings, odd: list[int], mask: Row) -> list[float]:
    """The main claim with each of the odd items, in turn, as likely wrong as right: one more row and variant for each."""
    if not odd:
        return []
    count = len(model.items)
    doubted = [replace(model.items[i], doubt=max(model.items[i].doubt, MISREAD_DOUBT)) for i in odd]
    rows = likelihood_rows(doubted, model.first, model.last, model.prior)
    more = tracks(doubted, rows, settings.imitation)
    longer = replace(
        model,
        period=_longer(model.period, more[0], count),
        true_copy=_longer(model.true_copy, more[1], count),
        target=_longer(model.target, more[2], count),
    )
    full = tempers(model.items)
    weights = np.tile(np.concatenate((full, np.zeros(len(odd)))), (len(odd), 1))
    for n, i in enumerate(odd):
        weights[n, i], weights[n, count + n] = 0.0, full[i]
    chances: list[float] = score(longer, weights, settings.copy_chance).claim(mask).tolist()
    return chances


def _longer(track: Track, more: Track, count: int) -> Track:
    at = dict(track.at)
    for place, rows in more.at.items():
        at[place] = (*at.get(place, ()), *(count + row for row in rows))
    return Track(np.vstack((track.rows, more.rows)), at)


def _ways(settings: Settings, item: EvidenceItem, without: float, misread: float) -> tuple[Explanation, ...]:
    said = item.sentence.strip().rstrip(".")
    later = "a replaced or later part" if item.binding else "a later addition"
    ways = [
        (
            "later part" if item.binding else "later addition",
            f"{later}: give it its own part or event",
            without,
        ),
        ("misreading", "a misreading: look again, and raise its doubt", misread),
    ]
    if item.binding and settings.copy_chance > 0.0:
        ways.insert(0, ("later copy", "the whole is a later copy: the claim falls", 0.0))
    return tuple(
        Explanation(
            kind=kind,
            item=item.id,
            sentence=f"“{said}” may mean {words}. The claim would then be {band(p)}.",
            probability=p,
            band=band(p),
        )
        for kind, words, p in ways
    )
