"""Density by weighing in air and in water, with the buoyancy of air and the warmth of the water.

rho = Wa (rho_water - rho_air)/(Wa - Ww) + rho_air. Water by Tanaka et al. 2001 (Metrologia 38, 301-309; 0 to 40 degC).
Uncertainties are carried by exact partial derivatives to first order; the weighings are taken as independent. A
density dates nothing by itself: it tells metal from metal, and sound metal from hollow.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from planish.facts.book import FactBook
from planish.reasoning.measuring import mixing
from planish.reasoning.measuring.cautioning import BY_METHOD, cautions
from planish.reasoning.measuring.elements import symbol
from planish.reasoning.measuring.figures import in_words, needed, place, problem
from planish.reasoning.measuring.measured import Measured, Settings, refused, used
from planish.reasoning.measuring.reading_facts import name_of, number
from planish.records import Fact, Observation, Problem, Quantity, freeze

AIR = 0.0012
"""g/cm3, air indoors (fact book: phys.rule.hydrostatic)."""
AIR_SPREAD = 0.00004
"""From a cold high hall to a hot low one; its effect on a metal is below 0.01 %."""
TANAKA = (-3.983035, 301.797, 522528.9, 69.34881, 999.974950)
TAP_WATER = 0.0002
"""Relative: dissolved salts and air of tap water (a few parts in ten thousand)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighing:
    """One object weighed twice: g in air, g under water, degC of the water."""

    air: Quantity
    water: Quantity
    temperature: Quantity


def water_density(celsius: float) -> float:
    """Density of air-free water at one atmosphere, kg/m3, for 0 to 40 degC. Error of the formula below 0.001 kg/m3."""
    a1, a2, a3, a4, a5 = TANAKA
    return a5 * (1 - (celsius + a1) ** 2 * (celsius + a2) / (a3 * (celsius + a4)))


def density_of(weighing: Weighing, air_density: float = AIR) -> Quantity:
    """Density in g/cm3 with its standard uncertainty. Needs air > water > 0 and 0 to 40 degC."""
    air, water, t = weighing.air.amount, weighing.water.amount, weighing.temperature.amount
    liquid = water_density(t) / 1000.0
    loss = air - water
    rho = air * (liquid - air_density) / loss + air_density
    warmth = (water_density(min(t + 0.01, 40.0)) - water_density(max(t - 0.01, 0.0))) / 1000.0 / 0.02
    d_air = -water * (liquid - air_density) / loss**2
    d_water = air * (liquid - air_density) / loss**2
    d_liquid = air / loss
    u_liquid = math.hypot(warmth * weighing.temperature.uncertainty, TAP_WATER * liquid)
    spread = math.sqrt(
        (d_air * weighing.air.uncertainty) ** 2
        + (d_water * weighing.water.uncertainty) ** 2
        + (d_liquid * u_liquid) ** 2
        + ((1 - air / loss) * AIR_SPREAD) ** 2
    )
    return Quantity(rho, "g/cm3", spread)


def reading_in_water(mass_air: float, density: float, celsius: float, air_density: float = AIR) -> float:
    """What the scale should show under water, g, for a reading in air and a density in g/cm3: the way back."""
    liquid = water_density(celsius) / 1000.0
    return mass_air * (1 - (liquid - air_density) / (density - air_density))


def measure_density(observation: Observation, book: FactBook, settings: Settings | None = None) -> Measured:
    """Density of one piece. Values: `air` and `water` in g, `temperature` in degC; elements in wt% to compare with.

    `more["alloy"]` = "tin-lead" or "brass" turns the density into lead or zinc, when a specialist says it is that.
    """
    settings = settings or Settings()
    given = _weighing(observation, settings)
    if isinstance(given, tuple):
        return refused(*given)
    density = density_of(given)
    sentences = [
        f"Density {in_words(density, 3)}: {in_words(given.air)} in air, {in_words(given.water)} in water "
        f"of {given.temperature.amount:g} degC."
    ]
    sentences += _what_fits(density, book, settings)
    sentences += _by_alloy(observation, density, book)
    details: dict[str, object] = {
        "density_g_cm3": round(density.amount, 4),
        "uncertainty": round(density.uncertainty, 4),
    }
    composition = {
        s: q for name, q in observation.values.items() if (s := symbol(name)) and name not in ("air", "water")
    }
    if composition:
        said, more = _against(composition, density, book)
        sentences += said
        details |= more
    sentences.append("A density dates nothing by itself.")
    rows = details.get("rows", ())
    details["facts"] = (
        "phys.rule.hydrostatic",
        "phys.rule.water_tanaka",
        *(rows if isinstance(rows, tuple) else ()),
        *(fact.id for fact, _ in fitting_densities(density, book, settings)[:6]),
    )
    details["settings"] = used(settings, "scale_g", "thermometer_c", "handbook_relative", "sigmas")
    return Measured(
        sentences=tuple(sentences),
        cautions=(
            "Trapped air, hollow stems, a filling of plaster or pitch, or a wooden core make a density meaningless.",
            "Weigh in water only what water cannot harm and the owner allows.",
            *cautions(book, BY_METHOD["density"]),
        ),
        details=freeze(details),
    )


def _weighing(observation: Observation, settings: Settings) -> Weighing | tuple[Problem, ...]:
    air = needed(observation, "air", "g")
    water = needed(observation, "water", "g")
    warmth = needed(observation, "temperature", "degC", aliases=("temp",))
    wrong = tuple(v for v in (air, water, warmth) if isinstance(v, Problem))
    if wrong:
        return wrong
    if not isinstance(air, Quantity) or not isinstance(water, Quantity):
        which = "in air" if not isinstance(air, Quantity) else "in water"
        return (
            problem(
                place(observation),
                f"The weight {which} is missing.",
                "Weigh it in air and hung in water.",
                "density.incomplete",
            ),
        )
    warmth = warmth if isinstance(warmth, Quantity) else Quantity(20.0, "degC", 3.0)
    if trouble := _impossible(observation, air, water, warmth):
        return (trouble,)
    if not warmth.uncertainty:
        warmth = Quantity(warmth.amount, "degC", settings.thermometer_c)
    air, water = (q if q.uncertainty else Quantity(q.amount, "g", settings.scale_g) for q in (air, water))
    return Weighing(air=air, water=water, temperature=warmth)


def _impossible(observation: Observation, air: Quantity, water: Quantity, warmth: Quantity) -> Problem | None:
    where = place(observation)
    if air.amount <= 0:
        return problem(
            where,
            f"The weight in air is {air.amount:g} g; a mass is above nought.",
            "Weigh it again with the scale set to nought.",
            "density.mass",
            found=f"{air.amount:g}",
        )
    if water.amount >= air.amount:
        return problem(
            where,
            f"In water it weighs {water.amount:g} g, in air {air.amount:g} g: nothing weighs more in water.",
            "Check whether the two figures are the wrong way round, and that it hung free of the vessel.",
            "density.heavier_in_water",
        )
    if water.amount <= 0:
        return problem(
            where,
            f"In water it weighs {water.amount:g} g: it floats, so it holds air or is no metal.",
            "Let the air out, or use another method.",
            "density.floats",
        )
    if not 0 <= warmth.amount <= 40:
        return problem(
            where,
            f"Water of {warmth.amount:g} degC is outside 0 to 40 degC.",
            "Use water at the warmth of the room.",
            "density.temperature",
        )
    return None


def _what_fits(density: Quantity, book: FactBook, settings: Settings) -> list[str]:
    fits = fitting_densities(density, book, settings)
    if not fits:
        return [
            "No metal or alloy on file has this density: think of trapped air, a filling, or a core of another metal."
        ]
    listed = ", ".join(f"{name_of(fact)} ({value:g})" for fact, value in fits[:6])
    more = f" and {len(fits) - 6} more" if len(fits) > 6 else ""
    return [f"Handbook densities that agree: {listed}{more}. Many mixtures share one density."]


def fitting_densities(
    density: Quantity, book: FactBook, settings: Settings
) -> tuple[tuple[Fact, float], ...]:
    """Alloys and metals on file whose printed density agrees, nearest first."""
    found: dict[str, tuple[Fact, float]] = {}
    for fact in (*book.family("alloy"), *book.family("element"), *book.family("alloy_density")):
        value = number(fact, "density_g_cm3")
        code = name_of(fact).split()[0]
        if value is None or any(code in listed and value == same for listed, (_, same) in found.items()):
            continue
        spread = math.hypot(density.uncertainty, settings.handbook_relative * value)
        if abs(value - density.amount) <= settings.sigmas * spread:
            found.setdefault(name_of(fact), (fact, value))
    return tuple(sorted(found.values(), key=lambda pair: (abs(pair[1] - density.amount), pair[0].id)))


def _by_alloy(observation: Observation, density: Quantity, book: FactBook) -> list[str]:
    alloy = observation.more.get("alloy")
    if alloy == "tin-lead":
        lead = mixing.lead_in_tin(density, book)
        if not -lead.uncertainty * 2 <= lead.amount <= 100 + lead.uncertainty * 2:
            return [
                "As tin and lead alone this density is impossible: another metal or trapped air is in it."
            ]
        return [
            f"As tin and lead alone it holds {in_words(Quantity(max(lead.amount, 0.0), 'wt%', lead.uncertainty), 1)} of lead; antimony, bismuth or copper would shift that."
        ]
    if alloy == "brass":
        zinc = mixing.zinc_in_brass(density, book)
        if zinc is None:
            return ["As plain brass this density lies outside the handbook rows (8.39 to 8.96)."]
        wrong = mixing_would_say(density.amount, book)
        return [
            f"As plain brass it holds {in_words(zinc, 1)} of zinc by the handbook rows. Adding volumes would say "
            f"{wrong:.0f} % and be wrong: brass is denser than its parts."
        ]
    return []


def mixing_would_say(density: float, book: FactBook) -> float:
    """wt% zinc that plain additivity reads from a brass density: shown as a warning, never as the answer."""
    densities = mixing.element_densities(book)
    copper, zinc = densities["Cu"], densities["Zn"]
    return 100.0 * (1 / copper - 1 / density) / (1 / copper - 1 / zinc)


def _against(
    composition: Mapping[str, Quantity], density: Quantity, book: FactBook
) -> tuple[list[str], dict[str, object]]:
    predicted = mixing.predict(composition, book)
    if predicted is None:
        return [
            "The composition given is too small a part of the whole to say what density it should have."
        ], {}
    expected = predicted.density
    apart = (density.amount - expected.amount) / math.hypot(density.uncertainty, expected.uncertainty)
    said = [f"Sound metal of the composition given should have {in_words(expected, 3)} ({predicted.method})."]
    if abs(predicted.additivity_off) > 0.01:
        said.append(
            f"Adding volumes would give {predicted.additive:.2f}, {100 * predicted.additivity_off:+.1f} %: it fails for "
            "this kind of alloy, so handbook rows were used."
        )
    if apart < -2:
        said.append("The piece is lighter than that: hollow, porous, trapped air, or a lighter metal within.")
    elif apart > 2:
        said.append(
            "The piece is heavier than that: a heavier metal within (lead filling?), or the surface is not the bulk."
        )
    else:
        said.append("The two agree: the surface reading may speak for the whole.")
    details: dict[str, object] = {
        "expected_g_cm3": round(expected.amount, 4),
        "expected_uncertainty": round(expected.uncertainty, 4),
        "additive_g_cm3": round(predicted.additive, 4),
        "additive_off_percent": round(100 * predicted.additivity_off, 2),
        "method": predicted.method,
        "rows": predicted.rows,
        "no_density_on_file": predicted.unknown,
        "apart_in_uncertainties": round(apart, 2),
    }
    return said, details
