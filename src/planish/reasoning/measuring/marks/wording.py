"""Words and devices in a mark: MADE IN, country names, EPNS, crowned X, verification cyphers.

Each fact of the book names its words in `more.mark` (or a country's in `more.name`). The longest wording that stands
in the mark as whole words is taken; a shorter one inside it (GERMANY in WEST GERMANY) is not counted again.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planish.facts.book import FactBook
from planish.reasoning.measuring.figures import place, problem
from planish.reasoning.measuring.marks.striking import belonging, struck
from planish.reasoning.measuring.measured import Measured, Settings, merged, refused, span_in_words, used
from planish.reasoning.measuring.reading_facts import number, text
from planish.records import EvidenceItem, Fact, Observation, Problem, Years, freeze

FAMILIES = ("origin_mark", "origin_country", "plated_mark", "pewter_mark", "capacity")
ORIGIN = {"origin_mark", "origin_country"}
DEVICES = ("CROWN", "ANCHOR")
"""Too bare to tell an assay office's device from any other crown or anchor."""
MEANINGLESS = ("pew-hallmarks-1630s", "pseudo-no-meaning")
"""Rows of small shields: struck by anyone at any date, so they take the doubt of pseudo-marks."""
ABBREVIATED = {"E P N S": "EPNS", "E P B M": "EPBM", "B M E P": "EPBM", "E P": "EPNS", "U S A": "USA"}
ALSO = {
    "ep-1840": ("EPNS", "EPBM", "EPGS", "EPC", "EP", "ELECTRO PLATE", "ELECTROPLATE", "ELECTRO-PLATED"),
    "pew-epbm": ("EPBM", "BMEP"),
    "nickel-silver-start": ("NICKEL SILVER", "GERMAN SILVER", "BRITISH PLATE", "ARGENTINE"),
    "uk-ltd": ("LTD", "LIMITED", "LD"),
    "uk-plc": ("PLC",),
    "us-country-name-1891": (
        "ENGLAND",
        "FRANCE",
        "GERMANY",
        "AUSTRIA",
        "JAPAN",
        "SCOTLAND",
        "IRELAND",
        "HOLLAND",
        "SWEDEN",
    ),
    "us-zone-germany": ("US ZONE GERMANY", "GERMANY US ZONE", "US ZONE"),
    "west-germany": ("WEST GERMANY", "WESTERN GERMANY"),
    "gdr": ("GDR", "DDR", "EAST GERMANY", "GERMAN DEMOCRATIC REPUBLIC"),
    "us-occupied-japan": ("OCCUPIED JAPAN",),
    "great-britain-word": ("GREAT BRITAIN", "UNITED KINGDOM", "MADE IN UK"),
    "uk-foreign-word": ("FOREIGN", "FOREIGN MAKE", "MADE ABROAD"),
    "pew-hallmarks-1630s": ("PSEUDO-HALLMARKS", "PSEUDO HALLMARKS"),
    "ver-wr-crowned": ("CROWNED WR", "CROWN WR", "WR CROWNED"),
}
"""Spellings of one wording that the pack writes only once."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """One wording found in a mark: the fact that dates it, and the characters it covers."""

    fact: Fact
    wording: str
    start: int
    end: int


def measure_words(observation: Observation, book: FactBook, settings: Settings | None = None) -> Measured:
    """The words of a mark from `words` (as struck), and settled terms (fact ids) from `terms`."""
    settings = settings or Settings()
    found = found_in(observation.words, book, str(observation.more.get("material", "")))
    by_term = [fact for term in observation.terms if (fact := book.look(term).fact) is not None]
    unknown = tuple(
        _unknown(observation, term) for term in observation.terms if book.look(term).state == "not on file"
    )
    facts = tuple({f.id: f for f in [*(f.fact for f in found), *by_term]}.values())
    if not facts:
        return refused(
            *unknown,
            problem(
                place(observation), f"Nothing in {observation.words!r} is on file.",
                "Write the words as struck; a maker's name needs its own register, which planish does not hold.", "mark.not_on_file",
                found=observation.words,
            ),
        )  # fmt: skip
    items: list[EvidenceItem] = []
    sentences: list[str] = []
    floors = []
    for fact in facts:
        sentences.append(fact.statement)
        if windows := windows_of(fact):
            floor = None if is_stamp(fact) else windows[0].earliest
            floors += [floor] if floor is not None else []
            items += _struck(fact, observation, settings, windows, floor)
            sentences.append(f"So the mark is {' or '.join(span_in_words(w) for w in windows)}.")
        sentences += [f"Mind: {caveat}" for caveat in fact.caveats[:2]]
    if floors:
        sentences.append(belonging(observation, max(floors)))
    if any(is_stamp(fact) for fact in facts):
        sentences.append("A verification stamp dates its own stamping: the vessel may be older by any time.")
    return Measured(
        items=tighter(items),
        sentences=tuple(dict.fromkeys(s for s in sentences if s)),
        problems=unknown,
        details=freeze(
            {
                "wordings": tuple({"words": f.wording, "fact": f.fact.id} for f in found),
                "facts": tuple(f.id for f in facts),
                "settings": used(settings, "doubt_mark", "doubt_soft_mark", "doubt_pseudo_mark"),
            }
        ),
    )


def is_stamp(fact: Fact) -> bool:
    """Verification stamps, which never bound the vessel from below."""
    return fact.family == "capacity" and fact.id.startswith("ver-")


def tighter(items: Sequence[EvidenceItem]) -> tuple[EvidenceItem, ...]:
    """Leave out a floor that a later floor of the same event outdoes with no more doubt."""

    def outdone(item: EvidenceItem) -> bool:
        return any(
            other.event == item.event
            and _floor(other) > _floor(item)
            and other.doubt <= item.doubt
            and _one_sided(other)
            and _one_sided(item)
            for other in items
        )

    return tuple(item for item in items if not outdone(item))


def _floor(item: EvidenceItem) -> int:
    return item.windows[0].earliest or 0


def _one_sided(item: EvidenceItem) -> bool:
    return len(item.windows) == 1 and item.windows[0].latest is None


def _struck(
    fact: Fact, observation: Observation, settings: Settings, windows: tuple[Years, ...], floor: int | None
) -> tuple[EvidenceItem, ...]:
    doubt = settings.doubt_pseudo_mark if fact.id in MEANINGLESS else settings.doubt_mark
    doubt = max(doubt, settings.doubt_soft_mark) if fact.hardness != "hard" else doubt
    sentence = f"{fact.statement} ({' or '.join(span_in_words(w) for w in windows)})"
    return struck(
        fact, observation, settings, sentence=sentence, windows=windows, doubt=doubt,
        object_floor=floor,
    )  # fmt: skip


def windows_of(fact: Fact) -> tuple[Years, ...]:
    """The spans a mark can be of: the fact's own union of windows, or its years by the widest published reading."""
    if fact.use == "info" or fact.more.get("year_from"):
        return ()
    given = fact.more.get("windows")
    if isinstance(given, tuple):
        return merged(Years(int(w[0]), int(w[1])) for w in given)
    earliest, latest = fact.years.earliest, fact.years.latest
    outer_first, outer_last = number(fact, "outer_earliest"), number(fact, "outer_latest")
    if earliest is not None and outer_first is not None:
        earliest = min(earliest, int(outer_first))
    if latest is not None and outer_last is not None:
        latest = max(latest, int(outer_last))
    return (Years(earliest, latest),) if earliest is not None or latest is not None else ()


def found_in(words: str, book: FactBook, material: str = "") -> tuple[Found, ...]:
    """Dated wordings that stand in `words` as whole words, longest first; shorter ones inside them left out.

    Wordings of pewter alone are passed over when `material` is given and is no pewter.
    """
    plain = normal(words)
    hits = []
    pewter = not material or any(word in material.casefold() for word in ("pewter", "tin", "britannia"))
    for fact, wording in _wordings(book):
        if fact.family == "pewter_mark" and not pewter:
            continue
        for match in re.finditer(rf"(?<![A-Z0-9]){re.escape(wording)}(?![A-Z0-9])", plain):
            hits.append(Found(fact=fact, wording=wording, start=match.start(), end=match.end()))
    kept = [h for h in hits if not any(_inside(h, other) for other in hits)]
    return tuple(sorted(kept, key=lambda h: (h.start, -(h.end - h.start), h.fact.id)))


def normal(words: str) -> str:
    """Capitals, full stops dropped, spaces single: "E.P.N.S." and "e p n s" become EPNS, "VR 49" VR NUMBER."""
    plain = re.sub(r"\s+", " ", re.sub(r"[.,;:\"“”]", " ", words.upper())).strip()
    plain = re.sub(r"\b(VR|GR|ER) ?\d+\b", r"\1 NUMBER", plain)
    for spaced, short in ABBREVIATED.items():
        plain = re.sub(rf"(?<![A-Z0-9]){spaced}(?![A-Z0-9])", short, plain)
    return plain


def _wordings(book: FactBook) -> Iterator[tuple[Fact, str]]:
    for family in FAMILIES:
        for fact in book.family(family):
            if fact.more.get("encode") is False:
                continue
            written = text(fact, "mark") or (text(fact, "name") if family == "origin_country" else "")
            spellings = [re.sub(r"\(.*?\)", "", part).strip() for part in written.split(" / ")]
            for wording in dict.fromkeys((*spellings, *ALSO.get(fact.id, ()))):
                if len(wording) > 1 and normal(wording) not in DEVICES:
                    yield fact, normal(wording)


def _inside(hit: Found, other: Found) -> bool:
    alike = hit.fact.family == other.fact.family or {hit.fact.family, other.fact.family} <= ORIGIN
    longer = other.end - other.start > hit.end - hit.start and alike
    return longer and other.start <= hit.start and hit.end <= other.end


def _unknown(observation: Observation, term: str) -> Problem:
    return problem(
        place(observation),
        f"The term {term!r} is not on file.",
        "Choose a term of the discipline.",
        "term.unknown",
        found=term,
    )
