"""A label's words underlined by what they claim, for the terminal and as one HTML page without outside resources.

Colour is never the only sign: every kind has its own letter and its own line.
"""

import html
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from planish.records import Claim, DateValue, MakerValue, MeasureValue, Reading

if TYPE_CHECKING:
    from rich.text import Text

KINDS: dict[str, tuple[str, str, str]] = {
    "object": ("o", "solid", "blue"),
    "count": ("n", "dotted", "blue"),
    "date": ("d", "double", "magenta"),
    "place": ("p", "dashed", "green"),
    "maker": ("k", "solid", "magenta"),
    "material": ("m", "double", "green"),
    "surface": ("s", "dotted", "green"),
    "technique": ("t", "dashed", "cyan"),
    "decoration": ("e", "dotted", "cyan"),
    "mark": ("h", "dashed", "magenta"),
    "inscription": ("i", "dotted", "magenta"),
    "measure": ("z", "solid", "cyan"),
    "state": ("c", "solid", "red"),
    "style": ("y", "dashed", "blue"),
    "provenance": ("v", "dotted", "yellow"),
    "evidence": ("l", "dashed", "yellow"),
    "price": ("£", "solid", "yellow"),
    "puff": ("w", "double", "red"),
    "unread": ("?", "wavy", "red"),
}
"""Side of a claim: its letter, its line, its colour."""

_PAGE = """<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>Labels as read</title>
<style>
body {{ font: 1.05rem/2 Georgia, serif; margin: 2rem auto; max-width: 46rem; padding: 0 1rem; color: #1b1b1b; background: #fff; }}
p.label {{ white-space: pre-wrap; border-left: .2rem solid #bbb; padding-left: .8rem; }}
mark {{ background: none; color: inherit; text-decoration: underline .12rem; text-underline-offset: .22rem; }}
sup {{ font: .7rem/1 system-ui, sans-serif; padding-left: .1rem; }}
ul {{ columns: 14rem; list-style: none; padding: 0; font: .9rem/1.7 system-ui, sans-serif; }}
{styles}
</style></head><body>
{labels}
<h2>What the lines mean</h2>
<ul>{legend}</ul>
</body></html>
"""
_INK = {
    "blue": "#1f4e9c",
    "magenta": "#8a1f7a",
    "green": "#1f6b3a",
    "cyan": "#0b6470",
    "red": "#a3241c",
    "yellow": "#7a5a00",
}


def runs(reading: Reading) -> Iterator[tuple[str, str, str]]:
    """The whole text cut into (words, kind, what it says); kind is empty where nothing is claimed."""
    marks: list[tuple[int, int, str, str]] = [
        (c.span.start, c.span.end, c.side, says(c)) for c in reading.claims
    ]
    marks += [(u.span.start, u.span.end, "unread", "not read") for u in reading.unread]
    at = 0
    for start, end, kind, what in sorted(marks):
        if start < at:
            continue
        if start > at:
            yield reading.text[at:start], "", ""
        yield reading.text[start:end], kind, what
        at = end
    if at < len(reading.text):
        yield reading.text[at:], "", ""


SETTINGS = {
    "circa_years": "“circa” taken as {} years on both sides",
    "circa_range_years": "“circa” before a range taken as {} years on both sides",
    "circa_decade_years": "“circa” before a decade taken as {} years on both sides",
    "circa_century_years": "“circa” before a century taken as {} years on both sides",
    "question_years": "“?” taken as {} years on both sides",
    "turn_years": "“turn of the century” taken as {} years on both sides",
    "century_starts_at": "centuries counted from year {} of the hundred",
    "periods": "years of periods and reigns as the {} reckons them",
    "hundreds": "“the 1800s” taken as a {}",
}
"""How a setting of the rule book that turned words into years is told; the others are told as part and years."""


def setting_in_words(setting: str) -> str:
    """One convention as the reader noted it ("circa_years=10"), for people."""
    name, given, value = setting.partition("=")
    if not given:
        return setting
    if name in SETTINGS:
        return SETTINGS[name].format(value)
    return f"“{name.replace('_', ' ')}” taken as years {value}"


def says(claim: Claim) -> str:
    """One claim in a few words, for a tool tip or a table."""
    value = claim.value
    if isinstance(value, DateValue):
        words = f"{_year(value.years.earliest)} to {_year(value.years.latest)}"
        words += "" if value.event == "body_made" else f", {value.event.replace('_', ' ')}"
        words += f" ({'; '.join(map(setting_in_words, value.conventions))})" if value.conventions else ""
    elif isinstance(value, MeasureValue):
        words = f"{value.role} {value.amount:g} {value.base_unit}" + (
            f" over {value.over}" if value.over else ""
        )
    elif isinstance(value, MakerValue):
        slots = ", ".join(f"{s} {getattr(value, s)}" for s in ("hand", "workshop", "period", "copies"))
        words = f"{value.name}, {value.role}: {slots}"
    else:
        words = value.term + (f" ({value.kind})" if value.kind else "")
    words += f", of the {claim.part}" if claim.part else ""
    words += f", {claim.strength}" if claim.strength != "stated" else ""
    return words + (f"; other readings possible: {claim.told_apart_by}" if claim.told_apart_by else "")


def _year(year: int | None) -> str:
    return "open" if year is None else str(year)


def as_text(reading: Reading) -> "Text":
    """The label for a terminal: words underlined and coloured, each followed by the letter of its kind."""
    from rich.text import Text

    text = Text()
    for words, kind, _ in runs(reading):
        if kind:
            letter, _, colour = KINDS[kind]
            text.append(words, style=f"underline {colour}")
            text.append(f"[{letter}]", style="dim")
        else:
            text.append(words)
    return text


def legend(readings: Iterable[Reading]) -> list[tuple[str, str]]:
    """(letter, kind) of every kind that occurs, in the order of the table."""
    used = {kind for reading in readings for _, kind, _ in runs(reading)}
    return [(KINDS[kind][0], kind) for kind in KINDS if kind in used]


def as_page(readings: Iterable[Reading]) -> str:
    """One HTML page: every label, and the meaning of the lines."""
    kept = list(readings)
    styles = "\n".join(
        f".{kind} {{ text-decoration-style: {line}; text-decoration-color: {_INK[colour]}; }}"
        for kind, (_, line, colour) in KINDS.items()
    )
    items = "".join(
        f'<li><mark class="{kind}">{kind}</mark><sup>{html.escape(letter)}</sup></li>'
        for letter, kind in legend(kept)
    )
    return _PAGE.format(styles=styles, labels="\n".join(map(_paragraph, kept)), legend=items)


def _paragraph(reading: Reading) -> str:
    pieces = []
    for words, kind, what in runs(reading):
        quoted = html.escape(words)
        if kind:
            quoted = f'<mark class="{kind}" title="{html.escape(what, quote=True)}">{quoted}</mark><sup>{html.escape(KINDS[kind][0])}</sup>'
        pieces.append(quoted)
    return f'<p class="label">{"".join(pieces)}</p>'
