"""A reading of the metal: which alloy classes fit, what each metal bounds, how strongly, and what it does not say.

Values are wt% by symbol. The conditions of each rule are data of the pack (`more.when`, `more.ratio`, `more.needs`);
this module only asks how likely the reading meets them. No single metal decides a label.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from planish.facts.book import FactBook
from planish.reasoning.measuring.alloys import ClassFit, rank
from planish.reasoning.measuring.cautioning import BY_ELEMENT, XRAY, cautions
from planish.reasoning.measuring.elements import LIGHT, called, symbol
from planish.reasoning.measuring.figures import below, between, checked, in_words, place, problem
from planish.reasoning.measuring.measured import (
    LADDER,
    Measured,
    Settings,
    Strength,
    doubt_of,
    item_from,
    lower,
    refused,
    span_in_words,
    used,
)
from planish.reasoning.measuring.reading_facts import ranges, text, words
from planish.reasoning.measuring.surfaces import Surface, next_spot, steps_for, surface_of
from planish.records import EvidenceItem, Fact, Observation, Problem, Quantity, freeze
from planish.records.evidence import Event

FIRES = 0.5
NEAR = 0.05
EVENTS: dict[str, Event] = {
    "body_made": "body_made",
    "part_made": "part_made",
    "finish_applied": "finish_applied",
    "repair": "repair",
}
ALWAYS_SAID = ("xrf.caution.stop", "xrf.caution.depth", "xrf.caution.calibration")


@dataclass(frozen=True, slots=True, kw_only=True)
class Fired:
    """One rule and how likely the reading meets its condition (0..1), with its strength after the surface is counted."""

    rule: Fact
    chance: float
    strength: Strength | None
    missing: tuple[str, ...] = ()
    """Words the specialist must add before the rule may speak ("rolled", "turned")."""


def measure_composition(
    observation: Observation, book: FactBook, settings: Settings | None = None
) -> Measured:
    """What a hand-held or laboratory reading says of one part. Values: wt% by symbol; `surface`, `spot` say where."""
    settings = settings or Settings()
    reading, problems = readings(observation, settings)
    if problems:
        return refused(*problems)
    if not reading:
        return refused(
            problem(
                place(observation),
                "No metal is given.",
                "Give wt% by symbol: Zn=34.1±0.5.",
                "composition.empty",
            )
        )
    surface = surface_of(observation)
    fired = applying(reading, observation, surface, book)
    classes = rank(reading, book, settings)
    items = _items(observation, fired, reading, settings)
    return Measured(
        items=items,
        sentences=(
            *_classes_said(classes),
            *(_rule_said(f, surface) for f in fired),
            *_near_said(reading, observation, surface, book),
            *_unseen_said(reading, observation),
            f"Strength: {surface.why}.",
            next_spot(reading, surface),
        ),
        problems=_gaps(observation, reading),
        cautions=_cautions(reading, surface, book),
        details=_details(reading, classes, fired, surface, settings),
    )


def readings(observation: Observation, settings: Settings) -> tuple[dict[str, Quantity], tuple[Problem, ...]]:
    """wt% by symbol, each with an uncertainty, and what is wrong with them; a value that is no metal is passed over
    only when the observation is of another kind."""
    found: dict[str, Quantity] = {}
    problems: list[Problem] = []
    where = place(observation)
    for name, given in observation.values.items():
        metal = symbol(name)
        if metal is None:
            if observation.kind == "composition":
                problems.append(
                    problem(where, f"{name!r} is no chemical element.", "Use a symbol such as Cu, Zn, Sn, Pb.",
                            "composition.unknown_element", found=name)
                )  # fmt: skip
            continue
        value = checked(called(metal).capitalize(), given, "wt%", where, least=0.0)
        if isinstance(value, Problem):
            problems.append(value)
        elif metal in found:
            problems.append(
                problem(where, f"{called(metal)} is given twice.", "Give it once.", "composition.twice")
            )
        else:
            spread = value.uncertainty or max(settings.xrf_relative * value.amount, settings.xrf_least)
            found[metal] = Quantity(value.amount, "wt%", spread)
    if not problems and (trouble := _sum_trouble(found, where)):
        problems.append(trouble)
    return dict(sorted(found.items())), tuple(problems)


def _sum_trouble(found: Mapping[str, Quantity], where: str) -> Problem | None:
    total = math.fsum(q.amount for q in found.values())
    slack = min(5.0, max(2.0, 2.0 * math.sqrt(math.fsum(q.uncertainty**2 for q in found.values()))))
    if total <= 100.0 + slack:
        return None
    return problem(
        where,
        f"The percentages add up to {total:.1f}.",
        "Check the figures, or have the reading made to add up to 100.",
        "composition.sum",
        found=f"{total:.1f}",
        why="Parts of one metal cannot be more than the whole.",
    )


def kinds_of(reading: Mapping[str, Quantity]) -> frozenset[str]:
    """Broad kinds of metal a reading is: the words that rules use in `material`."""

    def share(metal: str) -> float:
        return reading[metal].amount if metal in reading else 0.0

    main = max(reading, key=share)
    kinds = set()
    if main == "Cu" or share("Cu") >= 40:
        kinds.add("copper alloy")
        if share("Zn") >= 2 and share("Zn") >= share("Sn") and share("Ni") < 5:
            kinds.add("brass")
    if share("Cu") >= 20 and share("Ni") >= 5 and share("Zn") >= 5:
        kinds.add("white copper alloy")
    if main == "Sn" and share("Sn") >= 40:
        kinds.add("pewter")
    if main == "Fe":
        kinds.add("iron")
    return frozenset(kinds)


def applying(
    reading: Mapping[str, Quantity],
    observation: Observation,
    surface: Surface,
    book: FactBook,
    least: float = FIRES,
) -> tuple[Fired, ...]:
    """Rules whose condition the reading meets with a chance of at least `least`, most likely strongest first."""
    kinds = kinds_of(reading)
    fired = []
    for rule in book.family("xrf_rule"):
        chance = chance_of(rule, reading, kinds)
        if chance >= least:
            strength = text(rule, "strength")
            base: Strength = strength if strength in LADDER else "weak"
            fired.append(
                Fired(
                    rule=rule,
                    chance=chance,
                    strength=lower(base, steps_for(surface, rule.bounds)),
                    missing=_missing(rule, observation),
                )
            )
    return tuple(sorted(fired, key=lambda f: (_rung(f.strength), -f.chance, f.rule.id)))


def chance_of(rule: Fact, reading: Mapping[str, Quantity], kinds: frozenset[str]) -> float:
    """Chance that the true composition meets the rule's condition, 0..1; 0 when a metal it needs was not reported."""
    limits = ranges(rule, "when")
    material = text(rule, "material")
    if (material and material not in kinds) or text(rule, "not_material") in kinds:
        return 0.0
    if not limits or any(metal not in reading for metal in limits):
        return 0.0
    chance = 1.0
    for metal, (low, high) in limits.items():
        open_low = -math.inf if low <= 0 else low
        open_high = math.inf if high >= 100 else high
        chance *= between(open_low, open_high, reading[metal].amount, reading[metal].uncertainty)
    return chance * _ratio_chance(rule, reading)


def _ratio_chance(rule: Fact, reading: Mapping[str, Quantity]) -> float:
    given = rule.more.get("ratio")
    if not isinstance(given, Mapping):
        return 1.0
    top, bottom = reading.get(str(given.get("of"))), reading.get(str(given.get("to")))
    limits = given.get("range")
    if top is None or bottom is None or bottom.amount <= 0 or not isinstance(limits, Sequence):
        return 0.0
    ratio = top.amount / bottom.amount
    spread = math.hypot(top.uncertainty / bottom.amount, ratio * bottom.uncertainty / bottom.amount)
    low = -math.inf if float(limits[0]) <= 0 else float(limits[0])
    return between(low, float(limits[1]), ratio, spread)


def _missing(rule: Fact, observation: Observation) -> tuple[str, ...]:
    needed = words(rule, "needs")
    said = f"{observation.words} {observation.surface} {observation.spot} {' '.join(observation.terms)}".casefold()
    return () if not needed or any(word in said for word in needed) else needed


def _rung(strength: Strength | None) -> int:
    return len(LADDER) if strength is None else LADDER.index(strength)


def _items(
    observation: Observation, fired: Sequence[Fired], reading: Mapping[str, Quantity], settings: Settings
) -> tuple[EvidenceItem, ...]:
    speaking = [f for f in fired if _dates(f)]
    kept = [f for f in speaking if not any(_outdone(f, other) for other in speaking)]
    return tuple(_item(observation, f, reading, settings) for f in kept)


def _dates(fired: Fired) -> bool:
    years = fired.rule.years
    return (
        fired.strength is not None
        and not fired.missing
        and fired.rule.bounds in EVENTS
        and fired.rule.more.get("dates") is not False
        and (years.earliest is not None or years.latest is not None)
    )


def _outdone(fired: Fired, other: Fired) -> bool:
    """The same metal already gives a tighter bound of the same event at least as strongly: one reading counts once."""
    if fired is other or fired.rule.bounds != other.rule.bounds:
        return False
    if text(fired.rule, "element") != text(other.rule, "element") or _rung(other.strength) > _rung(
        fired.strength
    ):
        return False
    a, b = fired.rule.years, other.rule.years
    return (
        a.latest is None
        and b.latest is None
        and (b.earliest or 0, other.rule.id) > (a.earliest or 0, fired.rule.id)
    )


def _item(
    observation: Observation, fired: Fired, reading: Mapping[str, Quantity], settings: Settings
) -> EvidenceItem:
    rule, strength = fired.rule, fired.strength
    assert strength is not None
    least = settings.doubt_alloy_instrument if observation.instrument else settings.doubt_alloy
    doubt = 1 - (1 - doubt_of(strength, (rule.years,), least, settings)) * fired.chance
    return item_from(
        rule,
        observation,
        sentence=f"{_metals(rule, reading)}: {rule.statement} ({span_in_words(rule.years)}, {strength})",
        event=EVENTS[rule.bounds],
        windows=(rule.years,),
        doubt=doubt,
        strength=strength,
        group=f"composition:{observation.part or 'body'}:{rule.bounds}",
        binding=True,
        part="part measured" if rule.bounds == "part_made" and not observation.part else None,
        hard=strength == "decisive" and rule.hardness == "hard",
        limits=(f"Reading needed: {text(rule, 'reading')}.", "No single metal decides a label."),
    )


def _metals(rule: Fact, reading: Mapping[str, Quantity]) -> str:
    return ", ".join(f"{called(m)} {in_words(reading[m])}" for m in ranges(rule, "when") if m in reading)


def _rule_said(fired: Fired, surface: Surface) -> str:
    rule = fired.rule
    years = f" ({span_in_words(rule.years)})" if rule.bounds in EVENTS and _has_years(rule) else ""
    if rule.more.get("dates") is False:
        years = ""
    if fired.missing:
        return f"If it is {' or '.join(fired.missing)}: {rule.statement}{years}"
    if fired.strength is None:
        return f"{rule.statement} Too weak to count here: {surface.why}."
    return f"{rule.statement}{years} {fired.strength.capitalize()}{_surely(fired.chance)}."


def _has_years(rule: Fact) -> bool:
    return rule.years.earliest is not None or rule.years.latest is not None


def _surely(chance: float) -> str:
    return "" if chance >= 0.95 else ", and the edge of the rule lies within the uncertainty of the reading"


def _near_said(
    reading: Mapping[str, Quantity], observation: Observation, surface: Surface, book: FactBook
) -> list[str]:
    near = [f for f in applying(reading, observation, surface, book, NEAR) if f.chance < FIRES and _dates(f)]
    return [f"Cannot tell, but not ruled out by the uncertainty: {text(f.rule, 'reading')}." for f in near]


def _classes_said(classes: Sequence[ClassFit]) -> list[str]:
    fits = [c for c in classes if c.fits]
    if fits:
        best = fits[0].log_likelihood
        listed = "; ".join(f"{c.name}{_behind(best - c.log_likelihood)}" for c in fits[:5])
        more = f" and {len(fits) - 5} wider or less likely" if len(fits) > 5 else ""
        return [f"Classes that fit, likeliest first: {listed}{more}."]
    nearest = "; ".join(f"{c.name} ({c.misfit_in_words})" for c in classes[:3] if c.misfit_in_words)
    return [f"No class on file fits{f'; nearest: {nearest}' if nearest else ''}."]


def _behind(difference: float) -> str:
    if difference < math.log(3):
        return ""
    return " (fits less well)" if difference < math.log(30) else " (fits much less well)"


def _unseen_said(reading: Mapping[str, Quantity], observation: Observation) -> list[str]:
    said = []
    light = [called(m) for m in reading if m in LIGHT]
    if light and "lab" not in observation.instrument.casefold():
        said.append(f"In air a hand-held analyser gives {', '.join(light)} only as a hint.")
    left = 100 - math.fsum(q.amount for q in reading.values())
    if left > 5:
        said.append(f"{left:.0f} % of the metal is not accounted for.")
    return said


def _gaps(observation: Observation, reading: Mapping[str, Quantity]) -> tuple[Problem, ...]:
    if math.fsum(q.amount for q in reading.values()) >= 50:
        return ()
    return (
        Problem(
            where=place(observation),
            what="The main metal is not given, so few rules and no class can be judged.",
            remedy="Add the main metal of the reading (Cu, Sn, Fe, Pb, Zn).",
            code="composition.main_metal",
            severity=4,
        ),
    )


def _cautions(reading: Mapping[str, Quantity], surface: Surface, book: FactBook) -> tuple[str, ...]:
    ids = [*XRAY]
    for metal, own in BY_ELEMENT.items():
        if metal in reading and reading[metal].amount > 0.1:
            ids += own
    ids += ["xrf.caution.patina"] if surface.covered else []
    ids += ["xrf.caution.zinc_skin"] if "Zn" in reading and reading["Zn"].amount > 20 else []
    ids += ["xrf.caution.lead_smear"] if "Pb" in reading and reading["Pb"].amount > 1 else []
    ids += ["xrf.caution.overlap"] if {"Pb", "As"} <= reading.keys() or {"Hg", "Au"} <= reading.keys() else []
    return cautions(book, (*ids, *ALWAYS_SAID))


def _details(
    reading: Mapping[str, Quantity],
    classes: Sequence[ClassFit],
    fired: Sequence[Fired],
    surface: Surface,
    settings: Settings,
) -> Mapping[str, object]:
    return freeze(
        {
            "reading": {
                m: {"wt%": q.amount, "uncertainty": round(q.uncertainty, 4)} for m, q in reading.items()
            },
            "kinds": tuple(sorted(kinds_of(reading))),
            "classes": tuple(
                {
                    "name": c.name,
                    "fact": c.alloy.id,
                    "fits": c.fits,
                    "log_likelihood": round(c.log_likelihood, 3),
                    "furthest_in_uncertainties": round(c.furthest, 2),
                    "misfit": c.misfit_in_words,
                    "years": span_in_words(c.alloy.years),
                }
                for c in classes[:12]
            ),
            "rules": tuple(
                {
                    "fact": f.rule.id,
                    "chance": round(f.chance, 4),
                    "strength": f.strength or "none",
                    "needs": f.missing,
                }
                for f in fired
            ),
            "facts": tuple(
                dict.fromkeys([*(f.rule.id for f in fired), *(c.alloy.id for c in classes[:5] if c.fits)])
            ),
            "surface": {"steps": surface.steps, "why": surface.why},
            "settings": used(
                settings,
                "xrf_relative",
                "xrf_least",
                "impurity",
                "recipe_spread",
                "doubt_alloy",
                "doubt_alloy_instrument",
                "ratio_weak",
                "ratio_moderate",
                "ratio_strong",
            ),
        }
    )


def parts_compared(
    first: Observation, second: Observation, book: FactBook, settings: Settings | None = None
) -> Measured:
    """Are two parts of one melt? Metals read on both are compared in standard uncertainties of the difference.

    Compare like surface with like. A difference is a reason to look, never a year: a maker may join cast and sheet.
    """
    settings = settings or Settings()
    one, wrong = readings(first, settings)
    two, wrong_too = readings(second, settings)
    if wrong or wrong_too:
        return refused(*wrong, *wrong_too)
    shared = sorted(one.keys() & two.keys())
    if not shared:
        return refused(
            problem(
                place(second),
                "The two readings share no metal.",
                "Read the same metals on both.",
                "parts.nothing_shared",
            )
        )
    apart = {
        metal: (two[metal].amount - one[metal].amount)
        / math.hypot(one[metal].uncertainty, two[metal].uncertainty)
        for metal in shared
    }
    worst = max(shared, key=lambda metal: abs(apart[metal]))
    alike = 1 - (1 - 2 * (1 - below(abs(apart[worst]), 0.0, 1.0))) ** len(shared)
    differ = alike < settings.odd_level
    rule = book.look("xrf.mismatch" if differ else "xrf.match").fact
    said = [
        f"Furthest apart is {called(worst)}: {in_words(one[worst])} on the {first.part or 'first'}, {in_words(two[worst])} on the "
        f"{second.part or 'second'}.",
        rule.statement if rule is not None else "",
    ]
    if first.surface != second.surface:
        said.append("The two surfaces differ: compare like with like before anything is made of this.")
    if rule is not None:
        said += [f"Mind: {caveat}" for caveat in rule.caveats]
    return Measured(
        sentences=tuple(said),
        cautions=cautions(book, XRAY),
        details=freeze(
            {
                "furthest": worst,
                "furthest_in_uncertainties": round(abs(apart[worst]), 2),
                "chance_in_one_melt": round(alike, 4),
                "differ": differ,
                "facts": (rule.id,) if rule is not None else (),
                "settings": used(settings, "xrf_relative", "xrf_least", "odd_level"),
            }
        ),
    )
