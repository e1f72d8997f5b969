"""What a phrase tells beside its head: what is painted or told again, and how bad a damage is."""

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.lexicon import Entry
from planish.reasoning.reading.terms.phrasing.phrase import Phrase
from planish.records import TermValue, freeze

_PICTURES = frozenset({"sculpture", "pictures and books"})
"""Kinds of things that are all picture: what they show is shown by the whole label."""
PAINTED = frozenset(
    {
        "intaglio",
        "cameo",
        "miniature",
        "portrait miniature",
        "portrait",
        "painting",
        "silhouette",
        "picture",
        "print",
    }
)
"""Pictures are painted on ivory or copper and do not stand on it."""
_GOES_ON = frozenset({"is", "has", "may", "shows", "needs", "requires", "falls", "comes", "appears"})
_SIZES = frozenset({"small", "large", "deep", "shallow", "tall", "slender"})


def is_picture(phrase: Phrase) -> bool:
    """ "a relief of carp", "a miniature of a lady": what it shows is not upon a part."""
    head = phrase.head
    if phrase.noun.endswith("frame"):
        return False
    return phrase.noun in PAINTED or (head is not None and head.entry.value.kind in _PICTURES)


def told_again(phrases: list[Phrase], low: list[str]) -> None:
    """ "horn hilt ... the horn is buffalo", "ivory scale ... Ivory is subject to licence": a substance spoken of again
    is that of the part that had it first."""
    had: dict[str, str] = {}
    for phrase in phrases:
        if "material" not in phrase.sides:
            continue
        again = phrase.told == "the" or (phrase.last < len(low) and low[phrase.last] in _GOES_ON)
        for hit in phrase.hits:
            if hit.side == "material":
                term = hit.entry.value.term
                if term not in had:
                    had[term] = hit.part
                elif not hit.part and again and not phrase.noun:
                    hit.part = had[term]


def part_alone(phrase: Phrase, head: Hit) -> Hit | None:
    """ "Lead cistern panel", "sword pommel": a part right behind the name of its thing is the object, all of it."""
    thing = next((hit for hit in phrase.hits if hit.last == head.first), None)
    if thing is None or thing.side != "object" or head.last - head.first > 1:
        return None
    value, part = thing.entry.value, head.entry.value.term
    named = TermValue(term=f"{value.term} {part}", kind=value.kind, more=freeze({"is_a": (part,)}))
    thing.choose(Entry("object", named))
    thing.last, head.side = head.last, "coat"
    phrase.hits.remove(head)
    phrase.head, phrase.noun = thing, named.term
    return thing


def only_how_bad(word: Hit, state: Hit, phrase: Phrase) -> bool:
    """ "small repairs", "an old split", "nice wear": said of the damage, unless the thing itself follows."""
    value = word.entry.value
    sized = word.side == "form" and (value.term in _SIZES or value.term == "one-piece")
    praised = word.side == "puff" and value.kind == "praise"
    follows = phrase.head is not None and phrase.head.first >= state.last
    return (sized or praised) and not follows and state.entry.value.kind != "good"
