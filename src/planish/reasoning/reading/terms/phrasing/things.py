"""Which of the things that a label names are the thing itself, told again, shown on it or only where it comes from."""

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.terms.phrasing.going_on import DEVICES, beside_motif
from planish.reasoning.reading.terms.phrasing.ornament import WORKED
from planish.reasoning.reading.terms.phrasing.phrase import Phrase, is_motif
from planish.reasoning.reading.tokens import Tokens


def only_source(phrase: Phrase, tokens: Tokens) -> bool:
    """ "From the old chest: six spoons": what the label opens with is where the thing comes from."""
    low, sentence = tokens.low, tokens.sentence
    return low[0] == "from" and sentence[phrase.first] == 0 and low[phrase.last : phrase.last + 1] == [":"]


def meant_for(phrase: Phrase, tokens: Tokens) -> bool:
    """ "Warmer for plates": behind a word that no list has, what it is for is not the thing itself."""
    low, at = tokens.low, phrase.first - 1
    return phrase.relation == "for" and at > 0 and low[at] == "for" and low[at - 1].isalpha()


def is_head_of(phrase: Phrase, head: Hit, tokens: Tokens) -> bool:
    """ "Shell cameo, head of Flora": whose head it is says that it is only shown."""
    low = tokens.low
    return (
        head.entry.value.term == "head"
        and low[head.last : head.last + 1] == ["of"]
        and phrase.last == head.last
    )


def is_shown(phrase: Phrase, before: Phrase, tokens: Tokens) -> bool:
    """ "pierced with urns and swags": what is worked into a thing is its ornament, no second thing."""
    if phrase.relation == "with" and before.part in DEVICES and phrase.first - before.last <= 2:
        return True  # "crest of an arm with a dagger"
    if phrase.relation == "with" and phrase.told in ("his", "her", "their") and beside_motif(before):
        return True  # "a soldier with his rifle"
    if phrase.joined:
        struck = tokens.low[phrase.last : phrase.last + 1] in (["mark"], ["marks"], ["stamp"])
        return (
            not struck
            and before.head is not None
            and is_motif(before.head)
            and before.relation == phrase.relation
        )
    if phrase.relation == "of" and before.noun in DEVICES and phrase.first - before.last <= 2:
        return True  # "crest of a tower"
    low, at = tokens.low, phrase.first - 1
    while at > 0 and phrase.first - at < 4 and low[at] != "with":
        at -= 1
    return phrase.relation == "with" and at > 0 and low[at] == "with" and low[at - 1] in WORKED


def names_again(phrase: Phrase, before: Phrase | None, main: Phrase | None, tokens: Tokens) -> bool:
    """ "Tavern pots: three pewter quart mugs": said again after a colon, with their number."""
    colon = phrase.first > 0 and tokens.low[phrase.first - 1] == ":"
    if not colon or before is not main or before is None or "material" in before.sides:
        return False
    return "count" in phrase.sides or tokens.low[before.first] in _CLASSES


def says_what_it_is(phrase: Phrase, before: Phrase | None, main: Phrase | None) -> bool:
    """ "Toby the sailor, a brass tobacco jar": a bare name at the head of the label, then the thing with its substance."""
    bare = main is not None and main.sides == {"object"} and main.first == 0 and not phrase.joined
    near = before is main or (before is not None and before.before is main and "material" not in before.sides)
    told = phrase.relation == "," and phrase.told in ("a", "an") and "material" in phrase.sides
    return bare and near and told and not phrase.likeness


def puts_in_english(
    phrase: Phrase, head: Hit, before: Phrase | None, main: Phrase | None, tokens: Tokens
) -> bool:
    """ "Zinnkanne, pewter stitze": a thing under another tongue's name alone, then one of its kind with its substance."""
    if main is None or before is not main or main.head is None or phrase.relation not in (",", "("):
        return False
    value, told = main.head.entry.value, "material" in phrase.sides and not phrase.likeness
    alone = main.sides <= {"object", "count"} and tokens.low[main.head.first] not in value.term.split()
    return told and alone and head.entry.value.kind == value.kind


def in_apposition(
    phrase: Phrase, head: Hit, before: Phrase | None, main: Phrase | None, tokens: Tokens
) -> bool:
    """ "kettle, Japanese tetsubin, Meiji": a thing of the same kind with the place that the first had not is the first."""
    if main is None or before is not main or main.head is None or phrase.relation != ",":
        return False
    placed = phrase.sides <= {"place", "object"} and "place" in phrase.sides and not phrase.likeness
    follows = tokens.low[phrase.last : phrase.last + 1]
    alike = head.entry.value.kind == main.head.entry.value.kind
    return placed and alike and "place" not in main.sides and (not follows or not follows[0][0].isalnum())


def heads_a_list(phrase: Phrase, tokens: Tokens) -> bool:
    """ "Group: three copper measures"."""
    low = tokens.low
    return (
        len(phrase.hits) == 1 and low[phrase.first] == "group" and low[phrase.last : phrase.last + 1] == [":"]
    )


_CLASSES = frozenset({"trophy", "trophies", "prize", "award"})
"""Words for what a thing was for: "Trophy: silver rose bowl" is a bowl as well."""
