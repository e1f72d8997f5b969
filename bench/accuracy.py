"""How often the truth lies where weighing says, on objects drawn from a stated model. Run: python -m bench.accuracy

The model (all figures house choices, printed by this file; nothing here is data from any fair):
period pieces 70 %, later copies 10 %, marriages 7 %, replaced parts 8 %, misread marks 5 %. Things were made evenly over
1650-1830, copies evenly over 1840-2020 of things of 1650-1830. Each object shows a mark, a form, a capacity and
those of nine dated techniques that a maker of its year could use, each seen with chance 0.35; every item lies with its own
doubt (its window then falls anywhere). A copyist gets an imitable feature right with chance 0.8. Half of the replaced parts
are recorded as if they belonged to the body. The claim lies within 20 years of what the thing is or pretends to be.

Baselines: the common years of all windows (an empty meeting is an alarm, wider gaps first); and the same weighing
without the copy hypothesis (the alarm is a low chance of the claim). `--write FOLDER` also writes the curve as SVG.
"""

import random
import sys
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from planish.reasoning.weighing import Case, CasePart, DatedClaim, Settings
from planish.reasoning.weighing.densities import flat_top
from planish.reasoning.weighing.likelihood import Row
from planish.reasoning.weighing.model import downward
from planish.reasoning.weighing.scoring import compile_case, score, variants_of
from planish.reasoning.weighing.weigh import claim_mask
from planish.records import EvidenceItem, Years

FIRST, LAST = 1400, 2030
TECHNIQUES = (1700, 1738, 1781, 1820, 1838, 1841, 1869, 1896, 1926)
KINDS = (
    ("period piece", 0.70),
    ("later copy", 0.10),
    ("marriage", 0.07),
    ("replaced part", 0.08),
    ("misread mark", 0.05),
)
LEVELS = (0.5, 0.6, 0.7, 0.8, 0.9, 0.95)
FALSE_ALARMS = (0.02, 0.05)
WEIGHED, WITHOUT, MEETING = "weighing", "without copies", "common years"


@dataclass(frozen=True)
class Drawn:
    """One invented object: what it is, when it was made, and what it shows."""

    kind: str
    made: int
    case: Case


def window_around(rng: random.Random, year: int, width: int) -> tuple[Years, ...]:
    """A window of `width` years with the year somewhere inside, cut to the grid."""
    low = year - rng.randrange(width)
    return (Years(max(low, FIRST), min(low + width - 1, LAST)),)


def draw(rng: random.Random) -> Drawn:
    """Draw one object from the stated model."""
    kind = rng.choices([k for k, _ in KINDS], [w for _, w in KINDS])[0]
    looks_like = rng.randrange(1650, 1831)
    made = rng.randrange(1840, 2021) if kind == "later copy" else looks_like
    items = [*imitable(rng, kind, looks_like), *binding(rng, made)]
    parts: list[CasePart] = []
    if kind == "marriage":
        other = rng.randrange(1650, 1831)
        parts.append(CasePart(name="cover", marriage_chance=0.15))
        cover = EvidenceItem(id="cover", sentence="cover", part="cover", event="part_made", doubt=0.05)
        items.append(replace(cover, windows=window_around(rng, other, 30)))
    if kind == "replaced part":
        items.append(late_hinge(rng, made, parts))
    centre = looks_like + rng.randrange(-10, 11)
    claim = DatedClaim(id="claim", words=f"c. {centre}", years=Years(centre - 10, centre + 10))
    return Drawn(kind, made, Case(claims=(claim,), items=tuple(items), parts=tuple(parts)))


def imitable(rng: random.Random, kind: str, looks_like: int) -> list[EvidenceItem]:
    """Mark, form and capacity: what a copyist aims at."""
    items = []
    for name, width, doubt in (("mark", 36, 0.05), ("form", 60, 0.10), ("capacity", 120, 0.05)):
        right = rng.random() >= doubt
        if kind == "later copy":
            right = right and rng.random() < 0.8
        if kind == "misread mark" and name == "mark":
            right = False
        year = looks_like if right else rng.randrange(FIRST, LAST + 1)
        windows = window_around(rng, year, width)
        item = EvidenceItem(id=name, sentence=name, windows=windows, doubt=doubt)
        if name == "form":
            heights = flat_top(windows[0], 0.8, FIRST, LAST)
            curve = tuple((FIRST + i, float(h)) for i, h in enumerate(heights))
            item = replace(item, windows=(), curve=curve)
        items.append(item)
    return items


def binding(rng: random.Random, made: int) -> list[EvidenceItem]:
    """Techniques with a first year, seen on the thing itself; a misreading names one of any time."""
    items = []
    for n, first in enumerate(TECHNIQUES):
        possible = first <= made
        if rng.random() < (0.35 if possible else 0.35 * 0.02):
            items.append(
                EvidenceItem(
                    id=f"technique{n}", sentence="t", windows=(Years(first, None),), doubt=0.02, binding=True
                )
            )
    return items


def late_hinge(rng: random.Random, made: int, parts: list[CasePart]) -> EvidenceItem:
    """A later hinge with a dated technique; half of them are recorded as the body's own."""
    first = rng.choice([t for t in TECHNIQUES if t > made] or [1926])
    item = EvidenceItem(id="hinge", sentence="hinge", windows=(Years(first, None),), doubt=0.02, binding=True)
    if rng.random() < 0.5:
        parts.append(CasePart(name="hinge", marriage_chance=0.15))
        return replace(item, part="hinge", event="part_made")
    return item


def weighed(case: Case, settings: Settings) -> tuple[Row, float, float]:
    """Years of the making over both hypotheses, chance of a copy, chance of the claim."""
    model = compile_case(case, settings)
    weights = variants_of(model)[:1]
    scored = score(model, weights, settings.copy_chance)
    chance = float(scored.copy[0])
    copied = downward(model.root, model.true_copy, weights[0], model.prior, model.smear, model.late)[
        ("", "made")
    ]
    years = (1.0 - chance) * scored.period[0] + chance * copied
    return years, chance, float(scored.claim(claim_mask(case.main_claim, settings))[0])


def level_of(years: Row, made: int) -> float:
    """Chance of the years taken before the true one, in the order in which the shortest range takes them: likeliest
    first, equal ones from the middle outwards. The truth lies in the shortest range of any share above this."""
    index = np.arange(len(years))
    middle = float(np.searchsorted(np.cumsum(years), years.sum() / 2.0))
    order = np.lexsort((index, np.abs(index - middle), -np.round(years / years.max(), 9)))
    before = order[: int(np.flatnonzero(order == made - FIRST)[0])]
    return float(years[before].sum())


def meeting(case: Case) -> tuple[int, int]:
    """Latest beginning and earliest end of the body's windows (a form by the years of its flat top)."""
    low, high = FIRST, LAST
    for item in case.items:
        if item.part:
            continue
        spans = item.windows
        if item.curve:
            half = max(h for _, h in item.curve) / 2
            inside = [y for y, h in item.curve if h >= half]
            spans = (Years(inside[0], inside[-1]),)
        low = max(low, spans[0].earliest or FIRST)
        high = min(high, spans[0].latest or LAST)
    return low, high


def alarm_rate(alarms: dict[str, list[float]], false_alarms: float) -> float:
    """Share of copies whose alarm lies above that of all but `false_alarms` of the other objects."""
    others = np.sort(np.array(alarms["other"]))
    threshold = others[min(len(others) - 1, int(np.ceil((1 - false_alarms) * len(others))))]
    return float((np.array(alarms["copy"]) > threshold).mean())


def wilson(hits: int, count: int) -> tuple[float, float]:
    """95 % interval of a share."""
    z, p = 1.959964, hits / count
    centre, half = p + z * z / (2 * count), z * ((p * (1 - p) + z * z / (4 * count)) / count) ** 0.5
    return (centre - half) / (1 + z * z / count), (centre + half) / (1 + z * z / count)


def run(count: int = 2000, seed: int = 1840) -> dict[str, object]:
    """Draw, weigh by all three ways, and count."""
    rng = random.Random(seed)
    levels: dict[str, list[float]] = {WEIGHED: [], WITHOUT: []}
    by_kind: dict[str, list[tuple[bool, bool]]] = {k: [] for k, _ in KINDS}
    inside_meeting = 0
    widths: dict[str, list[int]] = {WEIGHED: [], WITHOUT: [], MEETING: []}
    alarms: dict[str, dict[str, list[float]]] = {
        m: {"copy": [], "other": []} for m in (WEIGHED, WITHOUT, MEETING)
    }
    for _ in range(count):
        drawn = draw(rng)
        who = "copy" if drawn.kind == "later copy" else "other"
        years, copied, _ = weighed(drawn.case, Settings())
        plain, _, claim = weighed(drawn.case, Settings(copy_chance=0.0))
        low, high = meeting(drawn.case)
        for name, row in ((WEIGHED, years), (WITHOUT, plain)):
            levels[name].append(level_of(row, drawn.made))
            widths[name].append(int(np.searchsorted(np.cumsum(np.sort(row)[::-1]), 0.8)) + 1)
        by_kind[drawn.kind].append((levels[WEIGHED][-1] < 0.8, levels[WITHOUT][-1] < 0.8))
        inside_meeting += low <= drawn.made <= high
        widths[MEETING].append(max(0, high - low + 1))
        alarms[WEIGHED][who].append(copied)
        alarms[WITHOUT][who].append(1.0 - claim)
        alarms[MEETING][who].append(float(low - high))
    return {
        "levels": levels,
        "by_kind": by_kind,
        "meeting": inside_meeting,
        "widths": widths,
        "alarms": alarms,
        "count": count,
    }


def table(found: dict[str, object]) -> str:
    """The figures as a table in Markdown."""
    levels, count = found["levels"], found["count"]
    alarms, widths = found["alarms"], found["widths"]
    lines = [
        "| way | truths in the 80 % range | median width, years | copies caught at 2 % false alarms | at 5 % |",
        "| --- | --- | --- | --- | --- |",
    ]
    for name in (WEIGHED, WITHOUT, MEETING):
        hits = found["meeting"] if name == MEETING else sum(v < 0.8 for v in levels[name])  # type: ignore[index]
        low, high = wilson(hits, count)  # type: ignore[arg-type]
        caught = [f"{alarm_rate(alarms[name], f):.0%}" for f in FALSE_ALARMS]  # type: ignore[index]
        width = int(np.median(widths[name]))  # type: ignore[index]
        lines.append(
            f"| {name} | {hits / count:.1%} ({low:.1%}–{high:.1%}) | {width} | {caught[0]} | {caught[1]} |"
        )  # type: ignore[operator]
    return "\n".join(lines)


def curve_svg(found: dict[str, object]) -> str:
    """Calibration: nominal share against share of truths inside, with the diagonal."""
    levels = found["levels"]

    def place(nominal: float, actual: float) -> str:
        return f"{60 + 400 * (nominal - 0.4) / 0.6:.1f} {340 - 300 * actual:.1f}"

    out = [
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 500 400" width="500" height="400" role="img" '
        'font-family="Libertinus Serif, Georgia, serif" font-size="12" fill="#241f1a">',
        "<title>Share of truths inside the range against the share it claims to hold</title>",
        '<rect width="500" height="400" fill="#fbf7ee"/>',
        f'<path d="M{place(0.4, 0.4)}L{place(1, 1)}" stroke="#6a6d70" stroke-dasharray="2 3" fill="none"/>',
        '<path d="M60 40V340H460" stroke="#241f1a" fill="none"/>',
    ]
    for share in (0.0, 0.2, 0.4, 0.6, 0.8, 1.0):
        out.append(f'<text x="52" y="{344 - 300 * share:.0f}" text-anchor="end">{share:.0%}</text>')
    for level in LEVELS:
        x = place(level, 0).split()[0]
        out.append(f'<text x="{x}" y="357" text-anchor="middle">{level:.0%}</text>')
    for name, colour, dash in ((WEIGHED, "#3e7d71", ""), (WITHOUT, "#8d3a28", "6 3")):
        shares = [(lv, float((np.array(levels[name]) < lv).mean())) for lv in LEVELS]  # type: ignore[index]
        path = "L".join(place(*s) for s in shares)
        out.append(
            f'<path d="M{path}" fill="none" stroke="{colour}" stroke-width="2.5" stroke-dasharray="{dash}"/>'
        )
        for level, share in shares:
            x, y = place(level, share).split()
            out.append(f'<circle cx="{x}" cy="{y}" r="3.5" fill="{colour}"/>')
        y = 62 if name == WEIGHED else 82
        out.append(
            f'<path d="M80 {y - 4}H116" stroke="{colour}" stroke-width="2.5" stroke-dasharray="{dash}"/>'
        )
        out.append(f'<text x="124" y="{y}">{name}</text>')
    out.append('<text x="260" y="382" text-anchor="middle">share the range claims to hold</text>')
    out.append(
        '<text x="18" y="190" text-anchor="middle" transform="rotate(-90 18 190)">truths inside</text></svg>'
    )
    return "\n".join(out) + "\n"


def main() -> None:
    """Print the model and the figures; write the curve when asked."""
    found = run()
    print(__doc__.split("\n\n")[1])
    print(table(found))
    for name, values in found["levels"].items():  # type: ignore[attr-defined]
        print(f"  {name:<16}" + "  ".join(f"{lv:.0%}: {(np.array(values) < lv).mean():.1%}" for lv in LEVELS))
    for kind, hits in found["by_kind"].items():  # type: ignore[attr-defined]
        with_copies, without = np.mean(hits, axis=0)
        print(
            f"  {kind:<16} n {len(hits):4d}  in the 80 % range {with_copies:.1%}, without copies {without:.1%}"
        )
    if "--write" in sys.argv:
        target = Path(sys.argv[sys.argv.index("--write") + 1]) / "weighing-calibration.svg"
        target.write_text(curve_svg(found), encoding="utf-8")
        print(f"curve in {target}")


if __name__ == "__main__":
    main()
