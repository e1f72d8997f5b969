"""Does the answer hang on the house defaults? And what would follow from each way to explain an odd item."""

from dataclasses import replace

import numpy as np

from planish.reasoning.weighing.case import Case, Explanation, ItemWeight, StressLine
from planish.reasoning.weighing.likelihood import Row, tempers
from planish.reasoning.weighing.model import Model
from planish.reasoning.weighing.ranges import band, step_of
from planish.reasoning.weighing.scoring import Scored, compile_case, copy_given, score
from planish.reasoning.weighing.settings import Settings
from planish.records import EvidenceItem

_MISREAD_DOUBT = 0.5


def stress_lines(
    case: Case, settings: Settings, model: Model, scored: Scored, mask: Row | None
) -> tuple[StressLine, ...]:
    """The main claim with every doubt tripled, with groups independent or counted once, and with other copy rates."""
    count = len(model.items)
    claim = scored.claim(mask)
    grouped = any(item.group for item in model.items)
    lines = [_line(f"every doubt × {settings.stress_doubt:g}", _with_doubts(case, settings, mask))]
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


def _with_doubts(case: Case, settings: Settings, mask: Row | None) -> float:
    model = compile_case(case, settings, settings.stress_doubt)
    return _main(model, settings, mask)


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
    case: Case, settings: Settings, items: tuple[ItemWeight, ...], scored: Scored, mask: Row | None
) -> tuple[Explanation, ...]:
    """For each item that pulls against the rest: later copy, later part or addition, misreading. Never picks one."""
    if mask is None:
        return ()
    by_id = {item.id: item for item in case.items}
    chances = scored.claim(mask)
    alarm = float(scored.copy[0]) > settings.copy_alarm
    out: list[Explanation] = []
    for i, weight in enumerate(items):
        item = by_id[weight.item]
        odd = weight.doubt >= 0.5 or weight.fit < settings.odd_one_out
        if odd or (alarm and item.binding and weight.influence < -1.0):
            out.extend(_ways(case, settings, item, float(chances[i + 1]), mask))
    return tuple(out)


def _ways(
    case: Case, settings: Settings, item: EvidenceItem, without: float, mask: Row
) -> tuple[Explanation, ...]:
    said = item.sentence.strip().rstrip(".")
    doubted = replace(item, doubt=max(item.doubt, _MISREAD_DOUBT), hard=False)
    changed = replace(case, items=tuple(doubted if i.id == item.id else i for i in case.items))
    misread = _main(compile_case(changed, settings), settings, mask)
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
