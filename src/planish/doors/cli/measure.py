"""`planish measure`: one measurement in, what it says and what it does not, with sources."""

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any, NoReturn

import click

from planish.records import Fact, Observation, Problem, Quantity, freeze

if TYPE_CHECKING:
    from planish.facts.book import FactBook
    from planish.reasoning.measuring import Measured

OBJECT = "the object"


def _given(text: str, unit: str, where: str) -> Quantity:
    """A figure typed by a person, or an exit with the reason in words."""
    from planish.reasoning.measuring.figures import quantity_from_text

    value = quantity_from_text(text, unit, where)
    if isinstance(value, Problem):
        _stop([value])
    return value


def _stop(problems: Iterable[Problem]) -> NoReturn:
    from planish.doors.cli.showing import problems_in_words

    problems_in_words(problems)
    raise SystemExit(2)


def _metals(metals: Iterable[str]) -> dict[str, Quantity]:
    values: dict[str, Quantity] = {}
    for metal in metals:
        name, mark, figure = metal.partition("=")
        if not mark:
            _stop([_unread(f"reading {metal!r}", "Write a metal and its wt%, such as Zn=34.1±0.5.")])
        if name in values:
            _stop([_unread(f"{name}, given twice", "Give each metal once.")])
        values[name] = _given(figure, "wt%", f"reading of {name}")
    return values


def _look(
    kind: str,
    *,
    values: Mapping[str, Quantity] | None = None,
    more: Mapping[str, object] | None = None,
    **words: Any,
) -> Observation:
    return Observation(
        id="here",
        object_id=OBJECT,
        kind=kind,
        by="command line",
        values=freeze(values),
        more=freeze(more),
        **words,
    )


def _show(observation: Observation, as_json: bool) -> None:
    """Measure, print, and exit with 2 when nothing could be measured."""
    from planish.facts.loading import load
    from planish.reasoning.measuring import measure

    book, _ = load("metalware")
    _print(measure(observation, book), book, as_json)


def _print(measured: "Measured", book: "FactBook", as_json: bool) -> None:
    from planish.doors.cli import showing

    if as_json:
        showing.as_json(measured)
    else:
        for sentence in measured.sentences:
            click.echo(click.wrap_text(sentence, 100, "", "  "))
        _print_items(measured.items)
        _print_sources([fact for i in measured.facts if (fact := book.look(i).fact) is not None])
        _print_settings(measured.details)
        for caution in measured.cautions:
            click.echo(click.wrap_text(f"Caution. {caution}", 100, "", "  "))
        showing.problems_in_words(measured.problems)
    if measured.problems and not measured.sentences:
        raise SystemExit(2)


def _print_items(items: Iterable[Any]) -> None:
    from planish.doors.cli.showing import as_table
    from planish.reasoning.measuring.measured import span_in_words

    rows = [
        (
            item.event.replace("_", " "),
            " or ".join(span_in_words(w) for w in item.windows),
            item.strength,
            f"{item.doubt:.3f}",
            "binding" if item.binding else "imitable",
        )
        for item in items
    ]
    if rows:
        click.echo("")
        as_table("For weighing", ("event", "years", "strength", "doubt", "kind"), rows)


def _print_sources(facts: list[Fact]) -> None:
    said = {
        "found": "read",
        "memory": "from memory",
        "derived": "our arithmetic",
        "practice": "common practice",
    }
    for fact in facts:
        part = ", partly from memory" if fact.partly_memory else ""
        click.echo(click.wrap_text(f"[{fact.id}] {fact.source} ({said[fact.verified]}{part})", 100, "", "  "))


def _print_settings(details: Mapping[str, object]) -> None:
    settings = details.get("settings")
    if isinstance(settings, Mapping) and settings:
        listed = ", ".join(f"{name.replace('_', ' ')} {value:g}" for name, value in settings.items())
        click.echo(click.wrap_text(f"House settings used: {listed}.", 100, "", "  "))


json_option = click.option("--json", "as_json", is_flag=True, help="Print the whole answer as JSON.")
part_option = click.option("--part", default="", help="Which part was measured: body, cover, screw.")
original_option = click.option(
    "--original/--not-original",
    default=None,
    help="Whether a specialist says that the mark is original to the piece.",
)


@click.group(name="measure", epilog="Example: planish measure thread --tpi 20 --diameter 6.35")
def command() -> None:
    """Say what one measurement tells, and what it does not: of which event, how strongly, from which source.

    Figures may carry an uncertainty: 34.1±0.5 or 34.1+/-0.5. Exit codes: 0 done, 2 the figures cannot be used.
    """


@command.command(epilog="Example: planish measure composition Zn=34.1±0.5 Cu=64.9±0.6 --surface polished")
@click.argument("metals", nargs=-1, required=True, metavar="METAL=WT%...")
@click.option(
    "--surface", default="", help="polished, worn, patinated, lacquered, plated, soldered, drilling ..."
)
@click.option("--spot", default="", help="Where it was read: inside foot rim, handle.")
@click.option("--spots", default=1, help="How many spots of this part agree.")
@click.option("--instrument", default="", help="handheld XRF, laboratory ...")
@click.option("--words", default="", help="What was seen of the make: cast, rolled sheet, turned.")
@part_option
@json_option
def composition(
    metals: tuple[str, ...],
    surface: str,
    spot: str,
    spots: int,
    instrument: str,
    words: str,
    part: str,
    as_json: bool,
) -> None:
    """A reading of the metal in wt%: alloy classes that fit, and what each metal bounds. "<0.05" is below detection."""
    values = _metals(metals)
    _show(
        _look(
            "composition",
            values=values,
            more={"spots": spots},
            surface=surface,
            spot=spot,
            instrument=instrument,
            words=words,
            part=part,
        ),
        as_json,
    )


def _unread(where: str, remedy: str) -> Problem:
    return Problem(where=where, what="This cannot be read.", remedy=remedy, code="figure.unread")


@command.command(epilog="Example: planish measure parts 'Cu=70±0.5 Zn=29±0.5' 'Cu=61±0.5 Zn=36±0.5'")
@click.argument("first")
@click.argument("second")
@click.option("--surface", default="", help="The surface both were read on.")
@json_option
def parts(first: str, second: str, surface: str, as_json: bool) -> None:
    """Two readings, of a body and a part: of one melt, or of two?"""
    from planish.facts.loading import load
    from planish.reasoning.measuring.composition import parts_compared

    one, two = (
        _look("composition", values=_metals(words.split()), part=part, surface=surface)
        for words, part in ((first, "first"), (second, "second"))
    )
    book, _ = load("metalware")
    _print(parts_compared(one, two, book), book, as_json)


@command.command(epilog="Example: planish measure density --air 812.4 --water 716.9 --temp 19.5")
@click.option("--air", required=True, help="Weight in air, g.")
@click.option("--water", required=True, help="Weight hung in water, g.")
@click.option("--temp", default="", help="Warmth of the water, degC (20±3 if not given).")
@click.option("--alloy", type=click.Choice(["tin-lead", "brass"]), help="When a specialist says it is that.")
@click.argument("metals", nargs=-1, metavar="[METAL=WT%...]")
@part_option
@json_option
def density(
    air: str, water: str, temp: str, alloy: str | None, metals: tuple[str, ...], part: str, as_json: bool
) -> None:
    """Density by weighing in air and in water; with metals, compare with what their alloy should have."""
    values = {"air": _given(air, "g", "weight in air"), "water": _given(water, "g", "weight in water")}
    if temp:
        values["temperature"] = _given(temp, "degC", "warmth of the water")
    values |= _metals(metals)
    _show(_look("density", values=values, more={"alloy": alloy} if alloy else {}, part=part), as_json)


@command.command(epilog="Example: planish measure capacity 568 --pm 4 --marked pint")
@click.argument("amount")
@click.option("--pm", default="", help="Uncertainty in the same unit.")
@click.option("--unit", default="ml", help="ml, cl, l, cu in, or a named measure such as 'imperial pint'.")
@click.option("--marked", default="", help="The unit engraved on it: pint, quart, gill.")
@click.option("--place", default="", help="England, Scotland, Ireland or US, when known.")
@part_option
@json_option
def capacity(amount: str, pm: str, unit: str, marked: str, place: str, part: str, as_json: bool) -> None:
    """What a vessel holds: every measure it can be, which cannot be told apart, and what years follow."""
    value = _given(amount, unit, "capacity")
    if pm:
        value = Quantity(value.amount, value.unit, _given(pm, unit, "uncertainty").amount)
    _show(
        _look("capacity", values={"capacity": value}, more={"unit": marked, "place": place}, part=part),
        as_json,
    )


@command.command(epilog="Example: planish measure thread --tpi 20 --diameter 6.3±0.05 --angle 55")
@click.option("--tpi", default="", help="Threads per inch.")
@click.option("--pitch", default="", help="Pitch, mm.")
@click.option("--diameter", required=True, help="Diameter over the crests, mm.")
@click.option("--angle", default="", help="Included flank angle, degrees.")
@part_option
@json_option
def thread(tpi: str, pitch: str, diameter: str, angle: str, part: str, as_json: bool) -> None:
    """A screw: every standard that fits and the first year of the part."""
    given = {
        "tpi": (tpi, "tpi"),
        "pitch": (pitch, "mm"),
        "diameter": (diameter, "mm"),
        "angle": (angle, "deg"),
    }
    values = {name: _given(text, unit, name) for name, (text, unit) in given.items() if text}
    _show(_look("thread", values=values, part=part), as_json)


@command.command(epilog="Example: planish measure diamond --class I --top R --right 12 --left K --bottom 6")
@click.option("--class", "circle", default="", help="What stands in the circle above: I to XIII.")
@click.option("--top", default="", help="Top corner.")
@click.option("--right", default="", help="Right corner: a number is 1842-67, a letter 1868-83.")
@click.option("--bottom", default="", help="Bottom corner.")
@click.option("--left", default="", help="Left corner.")
@original_option
@json_option
def diamond(
    circle: str, top: str, right: str, bottom: str, left: str, original: bool | None, as_json: bool
) -> None:
    """A British registration diamond of 1842-83: class, date and parcel."""
    corners = freeze({"circle": circle, "top": top, "right": right, "bottom": bottom, "left": left})
    _show(_look("mark", more={"diamond": corners}, original=original), as_json)


@command.command(epilog="Example: planish measure registered 412211 --original")
@click.argument("number")
@original_option
@json_option
def registered(number: str, original: bool | None, as_json: bool) -> None:
    """A British registered design number (Rd No.) of 1884 or later: its year."""
    _show(_look("mark", more={"registered": number}, original=original), as_json)


@command.command(epilog="Example: planish measure patent gb 12345/1890")
@click.argument("country", type=click.Choice(["gb", "us"]))
@click.argument("number")
@original_option
@json_option
def patent(country: str, number: str, original: bool | None, as_json: bool) -> None:
    """A patent number: British with its year (12345/1890) or above 100,000; American utility, or design with D."""
    _show(_look("mark", more={"patent": number, "country": country}, original=original), as_json)


@command.command(epilog="Example: planish measure mark 'MADE IN ENGLAND EPNS' --original")
@click.argument("words")
@click.option(
    "--material", default="", help="pewter, brass ...: words of pewter alone are passed over on other metal."
)
@original_option
@json_option
def mark(words: str, material: str, original: bool | None, as_json: bool) -> None:
    """The words or device of a mark: countries, trade-mark words, plated-ware and pewter marks, verification stamps."""
    _show(_look("mark", words=words, more={"material": material}, original=original), as_json)


@command.command(epilog="Example: planish measure members weight 310 305 298 402")
@click.argument("measure")
@click.argument("figures", nargs=-1, required=True)
@click.option("--unit", default="g", help="Unit of the figures.")
@click.option("--pm", default="", help="Uncertainty of one measuring.")
@click.option(
    "--groups", default="", help="One letter a member, two kinds in all (AABB): do the kinds differ?"
)
@json_option
def members(measure: str, figures: tuple[str, ...], unit: str, pm: str, groups: str, as_json: bool) -> None:
    """Weights, diameters or spacings of the members of a set: is one odd, or do two kinds differ?"""
    spread = _given(pm, unit, "uncertainty").amount if pm else None
    values = {}
    for place, figure in enumerate(figures, start=1):
        value = _given(figure, unit, f"member {place}")
        values[str(place)] = value if spread is None else Quantity(value.amount, value.unit, spread)
    _show(
        _look("members", values=values, more={"measure": measure, **({"groups": groups} if groups else {})}),
        as_json,
    )


@command.command(epilog="Example: planish measure engraved 22-10 --weight 688.4")
@click.argument("engraved")
@click.option("--weight", required=True, help="Present weight, g.")
@json_option
def engraved(engraved: str, weight: str, as_json: bool) -> None:
    """An engraved weight (22-10: ounces and pennyweights troy; 1 lb 4 oz) against the present one."""
    _show(
        _look("weight", values={"weight": _given(weight, "g", "weight")}, more={"engraved": engraved}),
        as_json,
    )


@command.command(epilog="Example: planish measure condition repatination")
@click.argument("term", required=False, default="")
@part_option
@json_option
def condition(term: str, part: str, as_json: bool) -> None:
    """A condition word: what it looks like, what shows it, how a label owns up to it. Without a word: all of them."""
    if not term:
        from planish.facts.loading import load
        from planish.reasoning.measuring.condition import terms_on_file

        click.echo(", ".join(terms_on_file(load("metalware")[0])))
        return
    _show(_look("condition", words=term, part=part), as_json)
