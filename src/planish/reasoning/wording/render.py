"""A full label from claims, in the house form of the rule book."""

from collections.abc import Mapping, Sequence

from planish.reasoning.wording.house import ELEMENTS, order_of
from planish.reasoning.wording.phrases import phrase
from planish.records import Claim, Conventions, MeasureValue, TermValue

LAST = ("provenance", "evidence")
HEAD = ("object", "count", "material", "measure")


def render(claims: Sequence[Claim], *, conventions: Conventions, form: Mapping[str, object]) -> str:
    """Write a label: head (count, material, object), then what else is claimed, then measures, then provenance.

    Only what stands in `claims` is written; denied claims keep their own words. The order is the house's (`house.py`).
    """
    sides = tuple(s for name in order_of(form) for s in ELEMENTS[name] if s not in (*HEAD, *LAST))
    whole = [claim for claim in claims if not claim.part]
    head = _head(whole)
    body = [_said(c, conventions, form) for side in sides for c in whole if c.side == side]
    parts = [_of_part(c, conventions, form) for c in claims if c.part and c.side not in ("measure", "object")]
    first = ", ".join(words for words in (head, *body, *parts) if words)
    measures = ", ".join(_said(c, conventions, form) for c in claims if isinstance(c.value, MeasureValue))
    last = [_said(c, conventions, form) for side in LAST for c in whole if c.side == side]
    return " ".join(_sentence(words) for words in (first, measures, *last) if words)


def _head(claims: Sequence[Claim]) -> str:
    def terms(side: str) -> list[str]:
        found = (c for c in claims if c.side == side and c.strength != "denied")
        return [c.value.term for c in found if isinstance(c.value, TermValue)]

    things = terms("object")
    count = [c.words for c in claims if c.side == "count"]
    named = " ".join([*count[:1], " and ".join(terms("material")), *things[:1]])
    return " ".join(named.split())


def _said(claim: Claim, conventions: Conventions, form: Mapping[str, object]) -> str:
    free = claim.side in ("mark", "inscription", "state", "decoration", "provenance", "evidence")
    if free or claim.strength == "denied":
        return claim.words
    words = phrase(claim.value, side=claim.side, conventions=conventions, form=form)
    hedge = claim.qualifier if claim.strength in ("likely", "possible") and claim.side != "maker" else ""
    return f"{hedge} {words}".strip() if hedge not in words else words


def _of_part(claim: Claim, conventions: Conventions, form: Mapping[str, object]) -> str:
    words = _said(claim, conventions, form)
    return words if claim.part in words else f"the {claim.part} {words}"


def _sentence(words: str) -> str:
    text = words[:1].upper() + words[1:]
    return text if text.endswith((".", "!", "?")) else text + "."
