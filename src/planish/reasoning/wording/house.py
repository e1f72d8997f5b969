"""A whole label in the house form of the rule book: the same claims and every word kept, in the house's order and figures.

`form` holds `order` (names of elements), `dates` (an example that shows how circa is written), `measures` ("cm" or
"mm") and `inches_too`. A form that would change what the label claims is not offered: see `in_house_form`.
"""

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from planish.reasoning.wording.leaving import sentences
from planish.reasoning.wording.phrases import circa_form, measure_words
from planish.reasoning.wording.splicing import tight
from planish.records import Claim, DateValue, MeasureValue, Reading, Span

ELEMENTS: Mapping[str, tuple[str, ...]] = {
    "object": ("object", "count"),
    "maker": ("maker",),
    "place": ("place",),
    "date": ("date", "style"),
    "material": ("material",),
    "technique": ("technique", "surface", "decoration", "puff"),
    "state": ("state",),
    "measures": ("measure",),
    "marks": ("mark", "inscription"),
    "provenance": ("provenance", "evidence"),
}
"""What a rule book may name in `order`, and the sides of claims that belong to it."""
ORDER = (
    "object",
    "maker",
    "place",
    "date",
    "material",
    "technique",
    "state",
    "measures",
    "marks",
    "provenance",
)
_BREAK = re.compile(r"[,;]\s+|\s+[–—|]\s+")
_CIRCA = re.compile(r"^(?:circa|ca\.?|c\.?)\s*(?=\d)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Phrase:
    """Words between two commas, with the claims made in them; `whole` when they are a sentence of their own."""

    words: str
    claims: tuple[Claim, ...]
    element: str
    whole: bool = False


def in_house_form(reading: Reading, form: Mapping[str, object], read_again: Callable[[str], Reading]) -> str:
    """`reading`'s label in the house form; "" when no form can be given that reads back as the very same claims.

    The description is put in the house's order; sentences of their own stay whole and follow in that order. Circa is
    written as the house writes it, lengths in the house's unit with inches beside them where the house wants them.
    """
    order = order_of(form)
    phrases = list(_phrases(reading))
    if not phrases or phrases[0].element != "object":
        return ""
    described = [p for p in phrases if not p.whole]
    described = _apart(described) if _follows(order) else _together(described)
    ranked = [*_ranked(described, order)]
    sizes = [p for p in ranked if p.element == "measures"]
    rest = _ranked([*(p for p in phrases if p.whole), *_as_sentence(sizes, form)], order)
    first = ", ".join(_said(p, form) for p in ranked if p.element != "measures")
    text = " ".join(_sentence(words) for words in (first, *(_said(p, form) for p in rest)) if words)
    return text if _same(reading, read_again(text)) else ""


def order_of(form: Mapping[str, object]) -> tuple[str, ...]:
    """The house's order of elements; those it does not name follow in the usual one."""
    given = form.get("order", ())
    named = tuple(str(one) for one in given) if isinstance(given, (list, tuple)) else ()
    known = tuple(name for name in named if name in ELEMENTS)
    return (*known, *(name for name in ORDER if name not in known))


def _follows(order: Sequence[str]) -> bool:
    """True when the house names the material after the object: "Flagon, pewter"."""
    return order.index("material") > order.index("object")


def _phrases(reading: Reading) -> Iterator[Phrase]:
    """The description phrase by phrase, then every other sentence whole; only the first phrase names the object."""
    for at, span in enumerate(sentences(reading.text)):
        inside = [c for c in reading.claims if span.start <= c.span.start < span.end]
        short = bool(inside) and not _left_over(_phrase(span, inside, reading.text)) and _brief(inside)
        parts = [span] if at and not short else list(_split(span, inside, reading.text))
        for part in parts:
            phrase = _phrase(part, inside, reading.text)
            named = phrase.element == "object" and part.start > 0
            yield replace(
                phrase, whole=at > 0 and not short, element="technique" if named else phrase.element
            )


def _brief(claims: Sequence[Claim]) -> bool:
    """True for a sentence that only names place, date, material or measures: it belongs to the description."""
    return all(c.side in ("place", "date", "material", "style", "measure") and not c.part for c in claims)


def _split(span: Span, claims: Sequence[Claim], text: str) -> Iterator[Span]:
    start = span.start
    for found in _BREAK.finditer(text, span.start, span.end):
        opened = text.count("(", start, found.start()) > text.count(")", start, found.start())
        if opened or any(c.span.start < found.start() < c.span.end for c in claims):
            continue
        yield Span(start, found.start())
        start = found.end()
    yield Span(start, span.end)


def _phrase(span: Span, claims: Sequence[Claim], text: str) -> Phrase:
    words = text[span.start : span.end].rstrip()
    words = (
        words[:-1].rstrip() if words.endswith(".") and not re.search(r"\b(?:in|oz|ins)\.$", words) else words
    )
    inside = tuple(
        replace(c, span=Span(c.span.start - span.start, min(c.span.end - span.start, len(words))))
        for c in claims
        if span.start <= c.span.start < span.end
    )
    return Phrase(words, inside, _element(inside))


def _element(claims: Sequence[Claim]) -> str:
    named = next((c for c in claims if c.side == "object" and not c.part), None)
    kind = getattr(named.value, "kind", "") if named is not None else "mention"
    if named is not None and kind not in ("mention", "part", "form"):
        return "object"
    of_parts = [c for c in claims if c.part]
    sides = [c.side for c in claims]
    if of_parts and "state" not in sides:
        return "technique"
    if any(isinstance(c.value, MeasureValue) for c in claims):
        return "measures"
    for side in sides:
        found = next((name for name, of in ELEMENTS.items() if side in of and name != "object"), "")
        if found:
            return found
    return "technique"


def _ranked(phrases: Sequence[Phrase], order: Sequence[str]) -> list[Phrase]:
    """In the house's order; the name comes first whatever it is named with."""
    place = {name: at for at, name in enumerate(order)}
    return sorted(phrases, key=lambda p: -1 if p.element == "object" else place[p.element])


def _apart(phrases: list[Phrase]) -> list[Phrase]:
    """ "Pewter flagon by J. Orrin" becomes "Flagon", "by J. Orrin" and "pewter" where the house names the object first."""
    head, rest = phrases[0], phrases[1:]
    head, maker = _maker_apart(head)
    materials = [c for c in head.claims if c.side == "material"]
    plain = {c.side for c in head.claims} <= {"count", "material", "object"} and len(materials) == 1
    if not plain or _left_over(head):
        return [head, *maker, *rest]
    metal = materials[0]
    words = head.words[: metal.span.start] + head.words[metal.span.end :].lstrip()
    others = tuple(c for c in head.claims if c is not metal)
    cut = Phrase(words, others, "object")
    named = Phrase(_lower(metal.words, metal), (replace(metal, span=Span(0, len(metal.words))),), "material")
    return [cut, *maker, *rest, named]


def _together(phrases: list[Phrase]) -> list[Phrase]:
    """ "Flagon", "pewter" becomes "Pewter flagon" where the house names the material first."""
    head, maker = _maker_apart(phrases[0])
    metals = [
        p
        for p in phrases[1:]
        if p.element == "material" and len(p.claims) == 1 and p.words == p.claims[0].words
    ]
    bare = {c.side for c in head.claims} == {"object"} and not _left_over(head)
    if len(metals) != 1 or not bare:
        return [head, *maker, *phrases[1:]]
    words = f"{metals[0].words} {_lower(head.words, head.claims[0])}"
    return [Phrase(words, (), "object"), *maker, *(p for p in phrases[1:] if p is not metals[0])]


def _maker_apart(head: Phrase) -> tuple[Phrase, list[Phrase]]:
    """A maker who ends the head phrase stands by himself."""
    last = head.claims[-1] if head.claims else None
    if last is None or last.side != "maker" or last.span.end < len(head.words) or not last.span.start:
        return head, []
    cut = Phrase(tight(head.words[: last.span.start]), head.claims[:-1], head.element)
    return cut, [Phrase(last.words, (replace(last, span=Span(0, len(last.words))),), "maker")]


def _left_over(phrase: Phrase) -> bool:
    """True when the phrase has words that no claim was read from."""
    rest = phrase.words
    for claim in sorted(phrase.claims, key=lambda c: c.span, reverse=True):
        rest = rest[: claim.span.start] + rest[claim.span.end :]
    return any(sign.isalnum() for sign in rest)


def _lower(words: str, claim: Claim) -> str:
    term = getattr(claim.value, "term", "")
    plain = term[:1].islower() and not words[1:2].isupper()
    return words[:1].lower() + words[1:] if plain else words


def _as_sentence(sizes: Sequence[Phrase], form: Mapping[str, object]) -> list[Phrase]:
    words = ", ".join(_said(p, form) for p in sizes)
    return [Phrase(words, (), "measures", whole=True)] if words else []


def _said(phrase: Phrase, form: Mapping[str, object]) -> str:
    """The phrase's words with circa and lengths as the house writes them."""
    words = phrase.words
    for claim in sorted(phrase.claims, key=lambda c: c.span, reverse=True):
        before, own, after = (
            words[: claim.span.start],
            words[claim.span.start : claim.span.end],
            words[claim.span.end :],
        )
        words = before + _restated(claim, own, after, form) + after
    return words


def _restated(claim: Claim, own: str, after: str, form: Mapping[str, object]) -> str:
    value = claim.value
    if isinstance(value, DateValue):
        return _CIRCA.sub(lambda _: circa_form(form), own)
    if not isinstance(value, MeasureValue) or value.base_unit != "mm" or claim.strength != "stated":
        return own
    said = value.role in own.casefold() and value.role != ""
    if not said or value.same_as_written or value.approximate or value.over or after.lstrip().startswith("("):
        return own
    return measure_words(value, form)


def _sentence(words: str) -> str:
    text = words[:1].upper() + words[1:]
    return text if text.endswith((".", "!", "?")) else f"{text}."


def _same(one: Reading, other: Reading) -> bool:
    """True when both labels make the same claims, whatever their order."""
    return _claimed(one) == _claimed(other)


def _claimed(reading: Reading) -> list[tuple[str, ...]]:
    return sorted((c.side, c.part, c.strength, *_meaning(c)) for c in reading.claims)


def _meaning(claim: Claim) -> tuple[str, ...]:
    value = claim.value
    if isinstance(value, DateValue):
        return (value.event, str(value.years), value.period)
    if isinstance(value, MeasureValue):
        return (value.role, f"{value.amount / 2.0:.0f}" if value.base_unit == "mm" else f"{value.amount:g}")
    return (repr(value),)
