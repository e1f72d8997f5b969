"""Screw threads: pitch and diameter in, every standard that fits out, and the floor of the *part*.

A match bounds the screw, never the whole object. Two systems often share a size: all that fit are named, and the
floor is the earliest of them. Tolerances are house settings: pitch within 1.5 %, crests worn by up to 3 %.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from planish.facts.book import FactBook
from planish.reasoning.measuring.figures import in_words, needed, place, problem
from planish.reasoning.measuring.measured import Measured, Settings, item_from, part_named, refused, used
from planish.reasoning.measuring.reading_facts import name_of, number, text
from planish.records import EvidenceItem, Fact, Observation, Problem, Quantity, Years, freeze

RATIO = (0.1, 0.35)
"""Pitch over diameter of screws anyone would cut: the range over which chance is reckoned."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Screw:
    """What was measured of one thread: mm, mm, degrees (included flank angle, None when not measured)."""

    pitch: Quantity
    major: Quantity
    angle: Quantity | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ThreadFit:
    """One standard size that fits: which row, of which system, and how far off it is."""

    system: Fact
    size: Fact | None
    name: str
    pitch_off: float
    """(measured - standard) / standard."""
    major_off: float


def measure_thread(observation: Observation, book: FactBook, settings: Settings | None = None) -> Measured:
    """Which standards one screw fits. Values: `pitch` (mm) or `tpi`, `diameter` (mm), and `angle` (deg) if known."""
    settings = settings or Settings()
    screw = _screw(observation)
    if isinstance(screw, tuple):
        return refused(*screw)
    fits = fitting(screw, book, settings)
    if not fits:
        return _no_fit(observation, screw, book, settings)
    return _answer(observation, screw, fits, book, settings)


def fitting(screw: Screw, book: FactBook, settings: Settings) -> tuple[ThreadFit, ...]:
    """Every size on file within tolerance, and every system of one constant pitch; nearest pitch first."""
    systems = {fact.id.removeprefix("thread."): fact for fact in book.family("thread_system")}
    found = [
        fit
        for size in book.family("thread_size")
        if (system := systems.get(text(size, "system"))) is not None
        and _angle_fits(screw, system, settings)
        and (fit := _fit(screw, size, system, settings)) is not None
    ]
    found += [
        fit
        for system in systems.values()
        if _angle_fits(screw, system, settings)
        for fit in _constant_pitch(screw, system, settings)
    ]
    return tuple(sorted(found, key=lambda f: (abs(f.pitch_off) + abs(f.major_off), f.name)))


def floor(fit: ThreadFit) -> int | None:
    """First year of these dimensions: of the forerunner that had them already, when the pack names one."""
    own = fit.system.years.earliest
    numbered = fit.size is not None and _numbered(fit.size)
    older = number(fit.system, "numbered_from" if numbered else "dimensions_from")
    ends = [year for year in (own, None if older is None else int(older)) if year is not None]
    return min(ends) if ends else None


def chance(screw: Screw, book: FactBook, settings: Settings) -> float:
    """Share of the pitches one might cut at this diameter that would pass for some standard: luck, 0..1.

    Pitches are taken as likely anywhere, on a log scale, between 0.1 and 0.35 of the diameter.
    """
    low, high = (math.log(r * screw.major.amount) for r in RATIO)
    spans = []
    for size in book.family("thread_size"):
        pitch, major = number(size, "pitch_mm"), number(size, "major_mm")
        if pitch and major and _major_fits(screw.major, major, settings):
            half = settings.pitch_tolerance + settings.sigmas * screw.pitch.uncertainty / pitch
            spans.append((math.log(pitch) - half, math.log(pitch) + half))
    covered, reach = 0.0, low
    for start, end in sorted(spans):
        start, end = max(start, reach), min(end, high)
        if end > start:
            covered += end - start
            reach = end
    return covered / (high - low)


def _screw(observation: Observation) -> Screw | tuple[Problem, ...]:
    pitch, tpi = needed(observation, "pitch", "mm"), needed(observation, "tpi", "tpi")
    major = needed(observation, "diameter", "mm", aliases=("major",))
    angle = needed(observation, "angle", "deg")
    wrong = tuple(value for value in (pitch, tpi, major, angle) if isinstance(value, Problem))
    if wrong:
        return wrong
    if isinstance(tpi, Quantity) and not isinstance(pitch, Quantity):
        if tpi.amount <= 0:
            return (_not_positive(observation, "The count of threads per inch", tpi),)
        pitch = Quantity(25.4 / tpi.amount, "mm", 25.4 * tpi.uncertainty / tpi.amount**2)
    if not isinstance(pitch, Quantity) or not isinstance(major, Quantity):
        missing = "the pitch (or threads per inch)" if not isinstance(pitch, Quantity) else "the diameter"
        return (
            problem(
                place(observation),
                f"A thread needs {missing} too.",
                "Measure over ten threads and divide; take the diameter over the crests.",
                "thread.incomplete",
            ),
        )
    for name, value in (("The pitch", pitch), ("The diameter", major)):
        if value.amount <= 0:
            return (_not_positive(observation, name, value),)
    if isinstance(angle, Quantity) and not 0 < angle.amount < 180:
        return (
            problem(
                place(observation),
                f"A flank angle of {angle.amount:g} degrees cannot be.",
                "Give the included angle, commonly 47.5, 55 or 60.",
                "thread.angle",
            ),
        )
    return Screw(pitch=pitch, major=major, angle=angle if isinstance(angle, Quantity) else None)


def _not_positive(observation: Observation, name: str, value: Quantity) -> Problem:
    return problem(
        place(observation),
        f"{name} is {value.amount:g}; it must be above nought.",
        "Measure it again, or correct the figure.",
        "figure.too_small",
        found=f"{value.amount:g}",
    )


def _angle_fits(screw: Screw, system: Fact, settings: Settings) -> bool:
    standard = number(system, "flank_angle_deg")
    if screw.angle is None or standard is None:
        return True
    allowed = settings.angle_tolerance + settings.sigmas * screw.angle.uncertainty
    return abs(screw.angle.amount - standard) <= allowed


def _major_fits(major: Quantity, standard: float, settings: Settings) -> bool:
    slack = settings.sigmas * major.uncertainty
    low, high = standard * (1 - settings.major_wear) - slack, standard * (1 + settings.major_excess) + slack
    return low <= major.amount <= high


def _fit(screw: Screw, size: Fact, system: Fact, settings: Settings) -> ThreadFit | None:
    pitch, major = number(size, "pitch_mm"), number(size, "major_mm")
    if not pitch or not major:
        return None
    allowed = settings.pitch_tolerance * pitch + settings.sigmas * screw.pitch.uncertainty
    if abs(screw.pitch.amount - pitch) > allowed or not _major_fits(screw.major, major, settings):
        return None
    return ThreadFit(
        system=system,
        size=size,
        name=size_name(size),
        pitch_off=screw.pitch.amount / pitch - 1,
        major_off=screw.major.amount / major - 1,
    )


def _constant_pitch(screw: Screw, system: Fact, settings: Settings) -> list[ThreadFit]:
    counts = system.more.get("constant_tpi")
    if not isinstance(counts, Sequence) or isinstance(counts, str):
        return []
    fits = []
    for count in counts:
        pitch = 25.4 / float(count)
        allowed = settings.pitch_tolerance * pitch + settings.sigmas * screw.pitch.uncertainty
        if abs(screw.pitch.amount - pitch) <= allowed and screw.major.amount >= 2 * pitch:
            off = screw.pitch.amount / pitch - 1
            name = f"{name_of(system)}, {count} tpi at any diameter"
            fits.append(ThreadFit(system=system, size=None, name=name, pitch_off=off, major_off=0.0))
    return fits


def size_name(size: Fact) -> str:
    """ "1/4 in BSW", "2 BA", "M6": as the trade writes it."""
    system, designation = text(size, "system"), text(size, "designation")
    if system == "M":
        return designation
    if system == "M_OLD":
        return f"older metric {designation}"
    return f"{designation} {system}"


def _numbered(size: Fact) -> bool:
    return text(size, "designation").startswith("No.")


def _answer(
    observation: Observation, screw: Screw, fits: tuple[ThreadFit, ...], book: FactBook, settings: Settings
) -> Measured:
    names = tuple(fit.name for fit in fits)
    floors = [floor(fit) for fit in fits]
    luck = chance(screw, book, settings)
    said = f"{_figures(screw)} fits {_either(names)}."
    sentences = [said, *_look_alikes(names, book), *_older(fits)]
    items: tuple[EvidenceItem, ...] = ()
    known = [year for year in floors if year is not None]
    if len(known) == len(floors):
        first = min(known)
        sentence = f"{said} This part is not before {first}; the body may be older."
        sentences.append(f"The part (not the whole object) is not before {first}, if the match is not luck.")
        lead = fits[floors.index(first)]
        doubt = 1 - (1 - settings.doubt_technique) * (1 - luck)
        items = (
            item_from(
                lead.system,
                observation,
                sentence=sentence,
                event="part_made",
                windows=(Years(first, None),),
                doubt=doubt,
                strength="strong" if luck <= 0.05 else "moderate",
                group=f"thread:{observation.part or 'part'}",
                binding=True,
                part=part_named(observation, "screw"),
                hard=lead.system.hardness == "hard",
                more_facts=tuple(f.id for fit in fits for f in (fit.system, fit.size) if f is not None),
                limits=(
                    "A shop's own screw may agree with a standard by luck.",
                    "A replaced screw says nothing of the body.",
                ),
            ),
        )
    else:
        sentences.append("One of these systems has no firm first year, so no year follows.")
    if screw.angle is None and len({number(f.system, "flank_angle_deg") for f in fits}) > 1:
        sentences.append("The flank angle would tell them apart: 47.5, 55 or 60 degrees.")
    sentences.append(
        f"About {luck:.0%} of the pitches a shop might have cut at this diameter would pass for some standard."
    )
    return Measured(
        items=items,
        sentences=tuple(sentences),
        details=freeze(
            {
                "fits": tuple(_row(fit) for fit in fits),
                "by_luck": round(luck, 4),
                "pitch_mm": round(screw.pitch.amount, 4),
                "settings": used(
                    settings,
                    "pitch_tolerance",
                    "major_wear",
                    "major_excess",
                    "angle_tolerance",
                    "sigmas",
                    "doubt_technique",
                ),
            }
        ),
    )


def _older(fits: Sequence[ThreadFit]) -> list[str]:
    said = []
    for fit in fits:
        own, first = fit.system.years.earliest, floor(fit)
        if own is not None and first is not None and first < own:
            said.append(
                f"{name_of(fit.system)} is of {own}, but an older thread had these dimensions from about {first} "
                "(year from memory)."
            )
    return list(dict.fromkeys(said))


def _row(fit: ThreadFit) -> dict[str, object]:
    return {
        "name": fit.name,
        "system": name_of(fit.system),
        "first_year": fit.system.years.earliest,
        "dimensions_from": floor(fit),
        "pitch_off_percent": round(100 * fit.pitch_off, 2),
        "diameter_off_percent": round(100 * fit.major_off, 2),
        "facts": tuple(f.id for f in (fit.system, fit.size) if f is not None),
    }


def _look_alikes(names: Sequence[str], book: FactBook) -> list[str]:
    pairs = ((text(pair, "a"), text(pair, "b"), pair.statement) for pair in book.family("thread_pair"))
    return [
        f"Easily taken for one another: {a} and {b}. {why}" for a, b, why in pairs if a in names or b in names
    ]


def _figures(screw: Screw) -> str:
    return (
        f"Pitch {in_words(screw.pitch, 3)} ({25.4 / screw.pitch.amount:.1f} threads per inch), "
        f"diameter {in_words(screw.major)}"
    )


def _either(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} or {names[-1]}"


def _no_fit(observation: Observation, screw: Screw, book: FactBook, settings: Settings) -> Measured:
    hand = book.look("thread.HAND").fact
    said = [
        f"{_figures(screw)} fits no standard on file.",
        "No year follows: a shop's own thread is possible at any date.",
    ]
    if hand is not None:
        said.append(hand.statement)
    return Measured(
        sentences=tuple(said),
        details=freeze(
            {
                "fits": (),
                "pitch_mm": round(screw.pitch.amount, 4),
                "facts": (hand.id,) if hand is not None else (),
                "observation": observation.id,
                "settings": used(settings, "pitch_tolerance", "major_wear", "major_excess", "sigmas"),
            }
        ),
    )
