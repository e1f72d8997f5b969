"""Every word of the packs, put where a label would put it: it claims what it should, and no word beside it is disturbed.

The truth of each sentence follows from how it was put together, so this needs no hand-written case for a new word. Words
with senses on more than one side (a stand, a crown) are settled by what stands beside them and have cases of their own.
"""

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from itertools import cycle

import pytest

import planish
from planish.facts.words import english
from planish.reasoning.reading.lexicon import Entry, Lexicon, Node, lexicon_of
from tests.reading.test_labels import of_side

SIDES = ("object", "mention", "part", "form", "count", "date", "place", "maker", "material", "surface", "technique", "decoration",
         "mark", "inscription", "measure", "state", "style", "provenance", "evidence", "puff", "price")  # fmt: skip
Word = tuple[str, str]
"""A phrase as written, and the settled term it stands for."""


def words_of_one_side(lexicon: Lexicon) -> dict[str, list[tuple[str, Entry]]]:
    """Phrases of the packs by side, those with one sense only."""
    found: dict[str, list[tuple[str, Entry]]] = defaultdict(list)

    def walk(nodes: Mapping[str, Node], before: tuple[str, ...]) -> None:
        for word, node in nodes.items():
            if len({entry.side for entry in node.entries}) == 1:
                found[node.entries[0].side].append((" ".join((*before, word)), node.entries[0]))
            walk(node.next, (*before, word))

    walk(lexicon.root, ())
    return found


BY_SIDE = words_of_one_side(lexicon_of(english()))
METALS = frozenset({"copper alloy", "copper", "iron", "silver", "tin alloy", "gold", "zinc alloy", "lead"})
UNSURE = frozenset({"925", "ct", "carat"})
"""What such a metal's name ends in may as well count or weigh the next word: 925 yards, 14 ct diamonds."""
OF_METAL = (
    "gold weight",
    "gold weights",
    "wire candlestick",
    "wire candlesticks",
    "grain measure",
    "grain measures",
    "grain scoop",
    "grain scoops",
)
"""Things called after a metal: behind another metal either word may be meant."""
CAPACITIES = lexicon_of(english()).capacities
"""A quart mug tells its capacity besides: its labels have cases of their own."""
OBJECTS: list[Word] = [
    (p, e.value.term)
    for p, e in BY_SIDE["object"]
    if e.value.kind != "sculpture"
    and p not in OF_METAL
    and CAPACITIES.isdisjoint(p.replace("-", " ").split())
]
TWO_WAYS = ("well", "wells", "wick hole", "wick holes")
"""Parts that the words of a state beside them may take to themselves: well made up, a wick hole; so may a metal the wire of "steel wire grips"."""
PARTS: list[Word] = [
    (p, e.value.term) for p, e in BY_SIDE["part"] if p not in TWO_WAYS and not p.startswith("wire ")
]
METAL: list[Word] = [
    (p, e.value.term)
    for p, e in BY_SIDE["material"]
    if e.value.kind in METALS and p[0] != "." and p.split()[-1] not in UNSURE
]
MOTIFS: list[Word] = [(p, e.value.term) for p, e in BY_SIDE["decoration"] if e.value.kind == "motif"]
WITHIN = ("liner missing", "later spout")
"""States that name their own part."""
DAMAGE: list[Word] = [(p, e.value.term) for p, e in BY_SIDE["state"] if e.value.kind in ("damage", "wear", "restored", "replaced") and e.value.term not in WITHIN]  # fmt: skip

WRITTEN = frozenset(phrase for words in BY_SIDE.values() for phrase, _ in words)
"""Every phrase of the packs."""


def run_together(one: Word, other: Word) -> bool:
    """ "gold" before "plate", "alpaca" before "wool winder": the two make another phrase of the packs."""
    before, after = one[0].split(), other[0].split()
    return any(
        " ".join((*before[i:], *after[:j])) in WRITTEN
        for i in range(len(before))
        for j in range(1, len(after) + 1)
    )


Sentence = tuple[str, dict[str, list[str]]]


def named(thing: Word, metal: Word, **more: list[str]) -> dict[str, list[str]]:
    """What a sentence about a thing of metal claims, and what else it says."""
    more["material"] = [metal[1], *more.get("material", [])]
    return {"object": [thing[1]], **more}


def plain(things: Iterator[Word], metals: Iterator[Word]) -> Iterator[Sentence]:
    """Every thing, with a place and years."""
    for _, thing, metal in zip(OBJECTS, things, metals, strict=False):
        if run_together(metal, thing):
            continue
        yield (
            f"English {metal[0]} {thing[0]}, 18th century, height 24 cm",
            named(thing, metal, place=["England"], date=["1701-1800 body_made"], measure=["height 240 mm"]),
        )


def company(things: Iterator[Word], metals: Iterator[Word]) -> Iterator[Sentence]:
    """Every fourth thing, in the company of another one of another metal."""
    for other, thing, metal in zip(OBJECTS[::4], things, metals, strict=False):
        lining = next(metals)
        if run_together(metal, thing) or run_together(lining, other):
            continue
        yield (
            f"{metal[0]} {thing[0]} in a {lining[0]} {other[0]}",
            named(thing, metal, material=[f"{lining[1]} of {other[1]}"], mention=[other[1]]),
        )


def parts(things: Iterator[Word], metals: Iterator[Word]) -> Iterator[Sentence]:
    """Every part, of a metal of its own; then what befell it."""
    for (written, part), thing, metal, damage in zip(PARTS, things, metals, cycle(DAMAGE), strict=False):
        own = next(metals)
        if not run_together(own, (written, part)):
            yield (
                f"{metal[0]} {thing[0]} with {own[0]} {written}",
                named(thing, metal, material=[f"{own[1]} of {part}"], part=[f"{part} of {part}"]),
            )
        yield (
            f"{metal[0]} {thing[0]}, {written} {damage[0]}",
            named(thing, metal, part=[f"{part} of {part}"], state=[f"{damage[1]} of {part}"]),
        )
        yield (
            f"{metal[0]} {thing[0]}. The {written} is later.",
            named(thing, metal, part=[f"{part} of {part}"], state=[f"later of {part}"]),
        )


def substances(things: Iterator[Word], metals: Iterator[Word]) -> Iterator[Sentence]:
    """Every metal, stated of the whole and denied."""
    for metal, thing in zip(METAL, things, strict=False):
        other = next(metals)
        yield (
            f"{thing[0]}, {metal[0]}, not {other[0]}",
            named(thing, metal, material=[f"{other[1]} [denied]"]),
        )


def motifs(things: Iterator[Word], metals: Iterator[Word]) -> Iterator[Sentence]:
    """Everything that ornament shows, on the whole and on a part."""
    for motif, thing, metal, part in zip(MOTIFS, things, metals, cycle(PARTS), strict=False):
        yield (
            f"{metal[0]} {thing[0]} engraved with {motif[0]}",
            named(thing, metal, decoration=["engraved", motif[1]]),
        )
        of = f" of {part[1]}"
        yield (
            f"{metal[0]} {thing[0]}, the {part[0]} chased with {motif[0]}",
            named(thing, metal, decoration=[f"chased{of}", f"{motif[1]}{of}"], part=[f"{part[1]}{of}"]),
        )


def wrong(sentence: str, truth: Mapping[str, list[str]]) -> list[str]:
    """Claims that the sentence does not make."""
    reading = planish.read_label(sentence[0].upper() + sentence[1:])
    return [
        f"{side}: {claim}"
        for side in SIDES
        for claim in (Counter(of_side(reading, side)) - Counter(truth.get(side, ()))).elements()
    ]


@pytest.mark.parametrize("sentences", [plain, company, parts, substances, motifs], ids=lambda f: f.__name__)
def test_every_word_claims_what_its_place_gives_it(sentences: object) -> None:
    assert callable(sentences)
    composed = list(sentences(cycle(OBJECTS), cycle(METAL)))
    found = [(text, claims) for text, truth in composed if (claims := wrong(text, truth))]
    assert not found, f"{len(found)} of {len(composed)}, such as {found[:5]}"


def test_a_claim_too_many_is_seen() -> None:
    assert wrong("pewter plate", {"object": ["plate"]}) == ["material: pewter"]
