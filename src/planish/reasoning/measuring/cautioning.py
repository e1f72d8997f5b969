"""Which cautions belong to which method. The words are facts of the book; here is only the pairing."""

from collections.abc import Iterable

from planish.facts.book import FactBook
from planish.reasoning.measuring.reading_facts import statements, text

DEFER = "Follow the law of the place and the rules of the hall; leave licensed work to licensed people."
XRAY = ("safety.xray_use", "safety.xray_uk", "safety.xray_us", "safety.xray_au")
BY_ELEMENT: dict[str, tuple[str, ...]] = {
    "Pb": ("safety.lead",),
    "Hg": ("safety.mercury",),
    "Cd": ("safety.cadmium",),
    "As": ("safety.arsenic",),
}
BY_METHOD: dict[str, tuple[str, ...]] = {
    "density": ("safety.weight",),
    "capacity": ("safety.weight", "safety.lead"),
    "members": ("safety.weight",),
}
BY_TERM: dict[str, tuple[str, ...]] = {
    "cond.lead_bloom": ("safety.lead", "safety.lead_bloom"),
    "cond.bronze_disease": ("safety.verdigris",),
    "cond.verdigris": ("safety.verdigris",),
    "cond.copper_soap": ("safety.verdigris",),
    "cond.nitrate_lacquer": ("safety.solvents", "safety.uv"),
    "cond.relacquering": ("safety.solvents", "safety.uv"),
    "cond.repatination": ("safety.solvents", "safety.uv"),
    "cond.repainted": ("safety.arsenic", "safety.uv"),
    "cond.resin_fill": ("safety.uv",),
    "cond.regilding": ("safety.mercury", *XRAY),
    "cond.replating": XRAY,
    "cond.retinning": XRAY,
    "cond.weld_repair": XRAY,
    "cond.reseamed": ("safety.lead", *XRAY),
    "cond.tin_corrosion": ("safety.lead",),
    "cond.acid_aged": ("safety.lead",),
}


def cautions(book: FactBook, ids: Iterable[str]) -> tuple[str, ...]:
    """The cautions of `ids` in words, each once, closed by the deference to law and licence; empty when none is on file."""
    found = statements(book, tuple(dict.fromkeys(ids)))
    if not found:
        return ()
    said = [f"{hazard}: {f.statement}" if (hazard := text(f, "hazard")) else f.statement for f in found]
    return (*said, DEFER)
