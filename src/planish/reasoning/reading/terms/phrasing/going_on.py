"""Phrases that go on telling of the part that the phrase before had: one list of ornament, its form, two verbs on one noun."""

from planish.reasoning.reading.terms.phrasing.phrase import Phrase, is_motif
from planish.reasoning.reading.tokens import Tokens

DEVICES = frozenset({"crest", "arms", "coat of arms", "badge", "emblem", "motto"})
"""Nouns of ornament behind which "of" tells what is drawn."""
_ORNAMENT = {"decoration"}


def goes_on(phrase: Phrase, before: Phrase, tokens: Tokens) -> bool:
    """True where a phrase without a head tells of the part that `before` tells of."""
    low = tokens.low
    if phrase.relation == "of" and of_its_form(phrase, before, tokens):
        return True
    if phrase.joined and before.part and _worked_alike(phrase, before, low):
        return True
    return low[phrase.last - 1].endswith("s") and lists_on(phrase, before, tokens)


def of_its_form(phrase: Phrase, before: Phrase, tokens: Tokens) -> bool:
    """ "the bowl of oval form", "handle of tapering form engraved": said of the part right before, with no comma between."""
    named = before.head is not None and before.head.side == "part" and before.head.last == before.last
    near = (named and phrase.first - before.last <= 3) or (phrase.joined and before.part and not before.noun)
    shaped = "form" in phrase.sides or phrase.sides == {"puff"}
    parted = any(word in ",;" for word in tokens.low[before.last : phrase.first])
    return bool(near) and shaped and not parted and _one_sentence(phrase, before, tokens)


def _worked_alike(phrase: Phrase, before: Phrase, low: list[str]) -> bool:
    """ "grille with pierced and engraved scrolls": two verbs right before one noun of ornament."""
    alike = before.relation == phrase.relation and before.sides == _ORNAMENT == phrase.sides
    verb, noun = low[before.last - 1], low[phrase.last - 1]
    return alike and phrase.first - before.last == 1 and verb.endswith("ed") and not noun.endswith("ed")


def lists_on(phrase: Phrase, before: Phrase, tokens: Tokens) -> bool:
    """ "the lid chased with birds, flowers, and leaves": one list of what is shown, all on the lid."""
    noun = not tokens.low[before.last - 1].endswith("ed")
    shown = phrase.sides == _ORNAMENT == before.sides and noun and before.relation != "."
    near = phrase.relation == "," and phrase.first - before.last <= 3
    return shown and near and _one_sentence(phrase, before, tokens)


def beside_motif(before: Phrase | None) -> bool:
    """ "inlaid with birds and an urn"."""
    return before is not None and before.head is not None and is_motif(before.head)


def _one_sentence(phrase: Phrase, before: Phrase, tokens: Tokens) -> bool:
    return tokens.sentence[before.first] == tokens.sentence[phrase.first]
