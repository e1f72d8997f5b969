"""Capacity: millilitres in, every measure it can be out, which cannot be told apart, and what years follow.

Real vessels scatter about their standard by a couple of per cent, so an ale pint and an imperial pint can seldom be
told apart. Capacity is imitable evidence: a later copy keeps the old measure. A verification mark dates only itself.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from planish.facts.book import FactBook
from planish.reasoning.measuring.cautioning import BY_METHOD, cautions
from planish.reasoning.measuring.figures import UNITS, checked, in_words, place, problem
from planish.reasoning.measuring.measured import (
    Measured,
    Settings,
    item_from,
    merged,
    refused,
    span_in_words,
    used,
)
from planish.reasoning.measuring.reading_facts import number, text
from planish.records import EvidenceItem, Fact, Observation, Problem, Quantity, Years, freeze

BARE = {
    "gallon": "gallon", "gallons": "gallon", "quart": "quart", "quarts": "quart", "pint": "pint", "pints": "pint",
    "gill": "gill", "gills": "gill", "mutchkin": "mutchkin", "chopin": "chopin", "pottle": "pottle",
    "half pint": "half pint", "fl oz": "fluid ounce", "oz": "ounce", "pt": "pint", "qt": "quart", "gal": "gallon",
}  # fmt: skip
STANDARD_NAMES = {
    "ale": "old ale measure", "wine": "old wine measure", "winchester": "Winchester measure",
    "winchester_272": "Winchester measure by the 272-inch gallon", "imperial_1824": "imperial measure",
    "imperial_modern": "imperial measure (modern)", "irish": "old Irish measure", "us_liquid": "US liquid measure",
    "scots_stirling": "old Scots measure", "scots_ale_glasgow": "Scots ale measure of Glasgow",
}  # fmt: skip
ALIASES = {
    "ale": ("ale", "beer"), "wine": ("wine", "queen anne"), "winchester": ("winchester",),
    "imperial_1824": ("imperial", "imp"), "irish": ("irish",), "us_liquid": ("us", "american"),
    "scots_stirling": ("scots", "scottish"), "scots_ale_glasgow": ("glasgow",),
}  # fmt: skip
FACT_OF = {
    "ale": "cap-ale-282", "wine": "cap-wine-231", "winchester": "cap-winchester", "winchester_272": "cap-winchester",
    "imperial_1824": "cap-imperial-1824", "imperial_modern": "cap-imperial-1824", "irish": "cap-irish-217",
    "us_liquid": "cap-us", "scots_stirling": "cap-scots-pint", "scots_ale_glasgow": "cap-scots-ale",
}  # fmt: skip
SAME = {"imperial_modern": "imperial_1824", "winchester_272": "winchester"}
"""Reckonings of one measure that no vessel can tell apart, or that the books mix: one answer, not two."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CapacityFit:
    """One measure a vessel can be: the row, how far off (relative), and in how many standard uncertainties."""

    row: Fact
    off: float
    sigmas: float

    @property
    def standard(self) -> str:
        """The standard's short name ("ale")."""
        return text(self.row, "standard")

    @property
    def name(self) -> str:
        """ "pint, old ale measure"."""
        return f"{text(self.row, 'unit')}, {STANDARD_NAMES.get(self.standard, self.standard)}"


def measure_capacity(observation: Observation, book: FactBook, settings: Settings | None = None) -> Measured:
    """What a vessel holds. Values: `capacity` in ml (cl, l, cu in), filled to where `spot` says.

    `more["unit"]` ("pint") narrows the answer to that unit when the vessel is marked with it, `more["place"]`
    ("Scotland") to the standards of one country.
    """
    settings = settings or Settings()
    given = observation.values.get("capacity") or observation.values.get("volume")
    if given is None:
        return refused(_missing(observation))
    volume = _volume(observation, given, book)
    if isinstance(volume, Problem):
        return refused(volume)
    if not volume.uncertainty:
        volume = Quantity(volume.amount, "ml", volume.amount * settings.capacity_relative)
    fits = fitting(
        volume, book, settings, unit=_asked(observation, "unit"), country=_asked(observation, "place")
    )
    return _answer(observation, volume, fits, book, settings)


def fitting(
    volume: Quantity, book: FactBook, settings: Settings, *, unit: str = "", country: str = ""
) -> tuple[CapacityFit, ...]:
    """Every measure within the scatter of real vessels and the uncertainty of the filling, nearest first."""
    found = []
    for row in book.family("capacity_measure"):
        standard = millilitres(row)
        if standard is None or not _wanted(row, unit, country):
            continue
        spread = math.hypot(volume.uncertainty, settings.vessel_scatter * standard)
        away = abs(volume.amount - standard) / spread
        if away <= settings.sigmas:
            found.append(CapacityFit(row=row, off=volume.amount / standard - 1, sigmas=away))
    nearest: dict[tuple[str, str], CapacityFit] = {}
    for fit in sorted(found, key=lambda fit: (fit.sigmas, fit.row.id)):
        nearest.setdefault((SAME.get(fit.standard, fit.standard), text(fit.row, "unit")), fit)
    return tuple(nearest.values())


def chance(book: FactBook, settings: Settings, relative: float) -> float:
    """Share of capacities, on a log scale from the least to the greatest measure on file, that would fit by luck."""
    sizes = sorted(s for row in book.family("capacity_measure") if (s := millilitres(row)))
    if len(sizes) < 2:
        return 0.0
    half = settings.sigmas * math.hypot(relative, settings.vessel_scatter)
    covered, reach = 0.0, math.log(sizes[0]) - half
    for size in sizes:
        start, end = max(math.log(size) - half, reach), math.log(size) + half
        covered, reach = covered + max(0.0, end - start), max(reach, end)
    return covered / (math.log(sizes[-1] / sizes[0]) + 2 * half)


def millilitres(row: Fact) -> float | None:
    """A measure in ml from its cubic inches (1 in = 25.4 mm exactly), so that no rounding of the table comes in."""
    inches = number(row, "cubic_inches")
    return inches * 16.387064 if inches is not None else number(row, "ml")


def candidates(unit: str, book: FactBook) -> tuple[str, ...]:
    """What a bare unit ("pint") can mean: each standard with its millilitres."""
    return tuple(
        f"{STANDARD_NAMES.get(text(row, 'standard'), text(row, 'standard'))} {size:.0f} ml"
        for row in book.family("capacity_measure")
        if _unit_is(row, unit)
        and (size := millilitres(row)) is not None
        and text(row, "standard") not in SAME
    )


def _asked(observation: Observation, name: str) -> str:
    value = observation.more.get(name)
    return value.strip().casefold() if isinstance(value, str) else ""


def _unit_is(row: Fact, unit: str) -> bool:
    own = text(row, "unit").casefold()
    return own == unit or own.startswith(f"{unit} (") or (f"({unit})" in own)


def _wanted(row: Fact, unit: str, country: str) -> bool:
    if unit and not _unit_is(row, BARE.get(unit, unit)):
        return False
    where = row.jurisdiction.casefold()
    return not country or country in where or (where == "gb and ireland" and country != "us")


def _missing(observation: Observation) -> Problem:
    return problem(place(observation), "No capacity is given.", "Give it in millilitres.", "capacity.missing")


def _volume(observation: Observation, given: Quantity, book: FactBook) -> Quantity | Problem:
    word = given.unit.strip().casefold()
    if word in UNITS:
        volume = checked("The capacity", given, "ml", place(observation))
        if isinstance(volume, Quantity) and volume.amount <= 0:
            return problem(
                place(observation), f"The capacity is {volume.amount:g} ml; it must be above nought.",
                "Fill it again, or correct the figure.", "figure.too_small", found=f"{given.amount:g}",
            )  # fmt: skip
        return volume
    standard, unit = _which(word)
    if unit and standard:
        rows = [
            r
            for r in book.family("capacity_measure")
            if text(r, "standard") == standard and _unit_is(r, unit)
        ]
        if rows and (size := millilitres(rows[0])) is not None:
            return checked(
                "The capacity",
                Quantity(given.amount * size, "ml", given.uncertainty * size),
                "ml",
                place(observation),
                least=1e-9,
            )
    if unit:
        return problem(
            place(observation),
            f"{given.amount:g} {given.unit}: which {unit}? It can be {'; '.join(candidates(unit, book)) or 'several'}.",
            "Give millilitres, or name the measure (ale, wine, Winchester, imperial, Scots, Irish, US).",
            "capacity.which",
            found=f"{given.amount:g} {given.unit}",
            why="The same word held from under half a litre to nearly two.",
        )
    return problem(
        place(observation), f"{given.unit!r} is no unit of capacity on file.", "Give millilitres.", "figure.unit",
        found=given.unit,
    )  # fmt: skip


def _which(words: str) -> tuple[str, str]:
    unit = next(
        (BARE[w] for w in sorted(BARE, key=len, reverse=True) if words == w or words.endswith(f" {w}")), ""
    )
    before = words.removesuffix(words.split(" ")[-1]).strip()
    standard = next(
        (s for s, names in ALIASES.items() if any(n in before.split() or n == before for n in names)), ""
    )
    return standard, unit


def _answer(
    observation: Observation,
    volume: Quantity,
    fits: tuple[CapacityFit, ...],
    book: FactBook,
    settings: Settings,
) -> Measured:
    sentences = [_said(volume, fits)]
    items: tuple[EvidenceItem, ...] = ()
    if fits:
        luck = (
            0.0 if _asked(observation, "unit") else chance(book, settings, volume.uncertainty / volume.amount)
        )
        item = _item(observation, volume, fits, luck, settings)
        if luck:
            sentences.append(
                f"It bears no unit: {luck:.0%} of all capacities between the least and the greatest measure would fit one by luck."
            )
        sentences += _apart(fits)
        if item is not None:
            items = (item,)
            sentences.append(f"If made to measure: {' or '.join(span_in_words(w) for w in item.windows)}.")
        else:
            sentences.append("Between them they cover every year, so no year follows.")
    odd = book.look("cap-unusual-not-early").fact
    if odd is not None:
        sentences.append(odd.statement)
    stamp = book.look("ver-stamp-is-later").fact
    if stamp is not None:
        sentences.append(stamp.statement)
    filling = book.look("cap-how-to-measure").fact
    said = cautions(book, BY_METHOD["capacity"])
    return Measured(
        items=items,
        sentences=tuple(sentences),
        cautions=(*(filling.caveats if filling is not None else ()), *said),
        details=freeze(
            {
                "ml": round(volume.amount, 2),
                "uncertainty_ml": round(volume.uncertainty, 2),
                "fits": tuple(_row(fit) for fit in fits),
                "facts": (*(fit.row.id for fit in fits), "cap-ale-vs-imperial", "cap-unusual-not-early"),
                "settings": used(settings, "vessel_scatter", "sigmas", "capacity_relative", "doubt_capacity"),
            }
        ),
    )


def _row(fit: CapacityFit) -> dict[str, object]:
    return {
        "name": fit.name,
        "ml": round(millilitres(fit.row) or 0.0, 1),
        "off_percent": round(100 * fit.off, 1),
        "sigmas": round(fit.sigmas, 2),
        "years": span_in_words(fit.row.years),
        "where": fit.row.jurisdiction,
        "facts": (fit.row.id,),
    }


def _said(volume: Quantity, fits: Sequence[CapacityFit]) -> str:
    if not fits:
        return f"{in_words(volume, 1)} agrees with no measure on file within the scatter of real vessels; no year follows."
    listed = "; ".join(f"{fit.name} ({100 * fit.off:+.1f} %)" for fit in fits)
    return f"{in_words(volume, 1)} can be: {listed}."


def _apart(fits: Sequence[CapacityFit]) -> list[str]:
    kinds = tuple(
        dict.fromkeys(STANDARD_NAMES.get(SAME.get(f.standard, f.standard), f.standard) for f in fits)
    )
    if len(kinds) < 2:
        return []
    return [f"At this uncertainty these cannot be told apart: {', '.join(kinds[:-1])} and {kinds[-1]}."]


def _item(
    observation: Observation, volume: Quantity, fits: Sequence[CapacityFit], luck: float, settings: Settings
) -> EvidenceItem | None:
    windows = merged(_period(fit.row) for fit in fits)
    if any(w.earliest is None and w.latest is None for w in windows):
        return None
    spans = " or ".join(span_in_words(w) for w in windows)
    return item_from(
        fits[0].row,
        observation,
        sentence=f"It holds {in_words(volume, 1)}, which fits {fits[0].name}"
        f"{f' and {len(fits) - 1} more' if len(fits) > 1 else ''}: {spans}, if it was made to measure.",
        event="body_made",
        windows=windows,
        doubt=1 - (1 - settings.doubt_capacity) * (1 - luck),
        strength="moderate" if luck < 0.1 else "weak",
        group=f"capacity:{observation.part or 'body'}",
        more_facts=tuple(
            dict.fromkeys(i for f in fits for i in (f.row.id, FACT_OF.get(f.standard, f.row.id)))
        ),
        limits=(
            "A later copy keeps the old measure.",
            "Dents, relining and repairs change what a vessel holds.",
            "Local measures went on long after 1825.",
        ),
    )


def _period(row: Fact) -> Years:
    # The modern litre definition of 1985 cannot be seen in a vessel: imperial is imperial from 1826.
    return Years(1826, None) if text(row, "standard") == "imperial_modern" else row.years
