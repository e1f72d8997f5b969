"""What is the object, what its company and its parts, and which of them each describing word speaks of.

The object is the head of the first phrase that stands free; a noun under "with", "on", "of", "like" or after it in a
list is company, a part or a picture, and what describes that noun says nothing of the whole.
"""

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.lexicon import Grammar
from planish.reasoning.reading.terms.phrasing.compounds import leave_compounds
from planish.reasoning.reading.terms.phrasing.describing import describe
from planish.reasoning.reading.terms.phrasing.going_on import DEVICES, beside_motif, goes_on, lists_on
from planish.reasoning.reading.terms.phrasing.lending import (
    carry_back,
    give_to_holder,
    only_meant_for,
    only_tells_a_shape,
    past_shapes,
)
from planish.reasoning.reading.terms.phrasing.lent import (
    place_of_what_is_shown,
    substance_of_cover,
    substance_of_ornament,
)
from planish.reasoning.reading.terms.phrasing.ornament import as_ornament, where_it_is
from planish.reasoning.reading.terms.phrasing.phrase import Phrase, is_motif, names_damage
from planish.reasoning.reading.terms.phrasing.subjects import (
    LAID_ON,
    give_ahead,
    held_by,
    mended_with,
    told_of,
)
from planish.reasoning.reading.terms.phrasing.telling import PAINTED, is_picture, part_alone, told_again
from planish.reasoning.reading.terms.phrasing.things import (
    heads_a_list,
    in_apposition,
    is_head_of,
    is_shown,
    meant_for,
    names_again,
    only_source,
    puts_in_english,
    says_what_it_is,
)
from planish.reasoning.reading.tokens import Tokens

_SHARED = frozenset({"with", "in", "of"})
_STANDING = frozenset({"mounted", "raised", "set", "stands", "standing", "fixed", "mtd"})
_OPENS = frozenset({"", ".", "is"})
_FREE = frozenset({"", ",", ".", "is", "("})


class Relations:
    """Settles, phrase by phrase, what is the object, what its company, and what the describing words speak of."""

    def __init__(self, tokens: Tokens, grammar: Grammar) -> None:
        self.tokens, self.grammar = tokens, grammar
        self.main: Phrase | None = None
        self.terms: set[str] = set()
        self.main_sides: set[str] = set()
        self.denied = False
        self.unlisted = -1
        self.listing = False

    def settle(self, phrases: list[Phrase]) -> None:
        """Fill in `part`, `likeness` and `whole` of every phrase, then give them to the words within."""
        for phrase in phrases:
            self._one(phrase, phrase.before)
        carry_back(phrases)
        give_ahead(phrases)
        give_to_holder(phrases)
        for phrase in phrases:
            describe(phrase)
            if len(phrase.hits) > 1 and not phrase.part:
                substance_of_cover(phrase, self.tokens.low)
                substance_of_ornament(phrase, self.tokens.low)
            leave_compounds(phrase, self.main, self.tokens, self.grammar)
        for before, phrase, after in zip(phrases, phrases[1:], [*phrases[2:], None], strict=False):
            if (
                phrase.relation == "on"
                and phrase.head is not None
                and phrase.head.side == "part"
                and "," not in self.tokens.low[before.last : phrase.first]
            ):
                where_it_is(before, phrase, after, phrase.head.entry.value.term)
        told_again(phrases, self.tokens.low)

    def _one(self, phrase: Phrase, before: Phrase | None) -> None:
        copy = self._likeness(phrase, before)
        head = phrase.head
        if phrase.made and not (head is not None and head.side == "part"):
            phrase.part = phrase.made
            laid_in = phrase.made == "inlay" and "material" not in phrase.sides
            if (
                head is not None
                and head.side == "object"
                and (laid_in or (phrase.joined and beside_motif(before)))
            ):
                as_ornament(head, before.part if before is not None else "")
            return
        if head is not None and head.side == "part" and self.main is None and phrase.relation in _OPENS:
            head = part_alone(phrase, head) or _as_object(head)
        if head is not None and head.side == "object":
            self._object(phrase, head, before, copy)
        elif head is not None and is_motif(head):
            self._motif(phrase, head, before)
        elif head is not None:
            self._part(phrase, head, before)
        elif phrase.noun:
            self._unlisted(phrase)
        elif before is not None:
            if self.tokens.low[phrase.first - 1] == "for" or (
                phrase.relation == "for" and phrase.told == "a"
            ):
                only_meant_for(phrase)
            shown = self._ornament_of(phrase, before)
            phrase.part = before.noun if shown else self._from_before(phrase, before)
        elif phrase.relation == "on" and "material" in phrase.sides and self.main is not None:
            phrase.part = "stand"
        if self.main is None and "count" in phrase.sides:
            self.listing = self.tokens.low[phrase.last : phrase.last + 1] == [":"] or self.listing

    def _motif(self, phrase: Phrase, head: Hit, before: Phrase | None) -> None:
        """ "the lid engraved with tulips" shows them on the lid; "inlaid with silver poppies" has the silver in the poppies."""
        if (
            phrase.relation == "("
            and before is not None
            and before.hits
            and before.hits[-1].side == "material"
        ):
            head.side = "coat"  # "horn (buffalo)": whose horn it is
            return
        if phrase.relation == "for" and self._only_a_source(phrase):
            head.side = "coat"
            return
        if (
            before is not None
            and before.head is not None
            and phrase.told in ("a", "an")
            and self._next_to(before, phrase)
        ):
            head.part = phrase.part = before.part  # "handle a fox's mask"
            return
        pictured = before is not None and is_picture(before)
        hangs = phrase.relation in ("with", "in", "of", "and")
        if phrase.relation == "on" and before is not None and before.sides == {"decoration"}:
            hangs = True  # "scrolls around a flower"
        hangs = hangs or (before is not None and lists_on(phrase, before, self.tokens))
        beside = (
            phrase.joined and before is not None and before.head is not None and before.head.side == "part"
        )
        worn = before is not None and before.part and not pictured and hangs and not beside
        if (
            worn
            and before is not None
            and before.head is not None
            and before.head.side == "decoration"
            and phrase.joined
        ):
            head.part = before.head.part  # "initials RF & phoenix": both are on the thing
        else:
            head.part = before.part if worn and before is not None else ""
        coated = any(hit.side == "surface" and hit.last <= head.first for hit in phrase.hits)
        if (
            "material" in phrase.sides
            and self.main is None
            and self.unlisted < 0
            and phrase.relation in _OPENS
        ):
            self.unlisted = self.tokens.sentence[phrase.first]  # "Silver wreath": the ornament is the thing
        else:
            phrase.part = phrase.noun if coated or "material" in phrase.sides else head.part
        if before is not None and (phrase.relation not in _FREE or beside_motif(before)):
            place_of_what_is_shown(phrase, head)

    def _only_a_source(self, phrase: Phrase) -> bool:
        """ "From a church", "made by a blacksmith": where a thing is from and who made it are not shown on it."""
        low, first = self.tokens.low, phrase.first
        made = any(low[i] == "by" and low[i - 1] in _MADE for i in range(max(first - 3, 1), first))
        return made or "from" in low[max(first - 3, 0) : first]

    def _next_to(self, before: Phrase, phrase: Phrase) -> bool:
        """A part, and right behind it with no stop the article and what the part looks like."""
        head = before.head
        return head is not None and head.side == "part" and head.last == before.last == phrase.first - 1

    def _part(self, phrase: Phrase, head: Hit, before: Phrase | None) -> None:
        """A phrase under a part, or under ornament and marks, which the part before may bear."""
        if head.side == "part" and before is not None and phrase.relation == "of" and before.noun in DEVICES:
            as_ornament(head, before.noun)  # "crest of an arm with a dagger"
            phrase.part = before.noun
            return
        phrase.part = phrase.noun
        if head.side == "decoration" and phrase.relation == "with" and before and self._bears(before, phrase):
            head.part = before.part
        if phrase.relation == "for" and "for" in self.tokens.low[max(phrase.first - 4, 0) : phrase.first]:
            head.side = "coat" if head.side == "part" else head.side  # "a key for a church door"

    def _bears(self, before: Phrase, phrase: Phrase) -> bool:
        """ "Silver boss with crest": the part named right before bears it."""
        one_sentence = self.tokens.sentence[before.first] == self.tokens.sentence[phrase.first]
        return (
            one_sentence
            and not phrase.joined  # "with detachable handle and coat of arms"
            and before.head is not None
            and before.head.side == "part"
            and all(
                hit.side in ("decoration", "technique")
                for hit in before.hits
                if hit.first > before.head.first
            )
        )

    @staticmethod
    def _is_part(before: Phrase) -> bool:
        """ "lid pierced and engraved": two verbs on one part; "figures and foliage" are two things."""
        told = not before.sides.isdisjoint(("decoration", "technique", "state"))
        head = before.head
        if head is None:  # "handles in ormolu cast and chased"
            return (
                bool(before.part)
                and before.relation == "in"
                and before.hits[-1].side in ("decoration", "technique")
            )
        return told and head.side == "part" and before.hits[-1].first > head.first

    @staticmethod
    def _names_a_thing(before: Phrase, phrase: Phrase) -> bool:
        """ "nozzles, one loose"; but "bases, 21 cm high, two drilled" and "unmarked, some corrosion" tell of the whole."""
        near = phrase.first - before.last <= 3
        return near and not (before.head is not None and before.head.entry.value.kind == "unmarked")

    def _told_of_some(self, phrase: Phrase) -> bool:
        """ "two loose", "some repaired" are some of what was named; "some bleeding to the cover" is not."""
        word = self.tokens.low[phrase.first]
        amount = phrase.told == "some" and word.endswith(
            ("ing", "wear", "ion", "age", "nts", "s", "ish", "ust")
        )
        if phrase.told in ("one", "two") and word in _DAMAGES:
            return False  # "rim worn, one crack"
        if phrase.told == "a":  # "finial, a replacement"
            return any(hit.entry.value.kind == "replaced" for hit in phrase.hits if hit.side == "state")
        return phrase.told in _SOME and (not amount or word in ("missing", "lacking", "wanting"))

    @staticmethod
    def _shared(phrase: Phrase) -> bool:
        """ "a lid of brass", "a lid pierced with scrolls": what is said of the part; but not the second of two ornaments."""
        if "material" in phrase.sides:
            return True
        return not phrase.joined and ("decoration" in phrase.sides or "surface" in phrase.sides)

    def _also_shown(self, phrase: Phrase, before: Phrase) -> bool:
        """ "grille with scrolls and flowers": two nouns of ornament on one part; a verb ("and engraved") may tell of the whole."""
        if {"decoration"} == before.sides == phrase.sides and len(before.hits) == 1 < len(phrase.hits):
            return (
                before.head is None and phrase.first - before.last == 1
            )  # "with embossed and chased thistles"
        return all(
            piece.sides == {"decoration"}
            and not any(self.tokens.low[h.last - 1].endswith("ed") for h in piece.hits)
            for piece in (phrase, before)
        )

    def _likeness(self, phrase: Phrase, before: Phrase | None) -> bool:
        """Mark what the object only resembles. Returns True for what it is a copy of, which is of its kind as well."""
        if phrase.relation == "like":
            phrase.likeness = True
        elif phrase.relation == "of" and before is not None:
            if "state" in before.sides and any(h.entry.value.term == "reproduction" for h in before.hits):
                phrase.likeness = True
                return True
            between = self.tokens.low[before.last : phrase.first]
            phrase.likeness = before.likeness and not any(word in ",;." for word in between)
        return False

    def _from_before(self, phrase: Phrase, before: Phrase) -> str:
        """The part that a phrase without a noun speaks of: "a base with green baize", "liners (one chipped)"."""
        relation, sides = phrase.relation, phrase.sides
        if (
            relation == "of"
            and sides == {"material"}
            and "traces" in self.tokens.low[before.last : phrase.first]
        ):
            return ""  # "acorn knop, traces of paint"
        while before.relation == "(" and relation != "(" and before.before is not None:
            if ")" not in self.tokens.low[before.last : phrase.first]:
                break  # still inside the bracket: "(handle of horn)"
            before = before.before
        if relation in ("with", "in") and "material" in sides and mended_with(phrase, before):
            return before.part or "repair"
        if relation == "on" and "material" in sides and self._stands(phrase, before):
            return before.noun if before.noun in PAINTED else "stand"
        if (
            "state" in sides
            and relation not in (".", "is")
            and (relation == "(" or self._told_of_some(phrase))
        ):
            few = phrase.told == "some" and names_damage(phrase.hits[-1], self.tokens)
            if phrase.told == "two" and not before.part and self._counted():
                return phrase.told  # "eight handles, two replaced"
            return before.part if not few and self._names_a_thing(before, phrase) else ""
        if phrase.told == "each" and before.part and self.main is not None and not self._counted():
            return before.part  # "box of counters, each engraved"
        if (
            relation == "with"
            and sides == {"state"}
            and before.sides == {"material"}
            and before.told == "the"
        ):
            return before.hits[-1].entry.value.term  # "the ivory with a hairline"
        if phrase.told == "its" and before.part and before.relation == "." and "surface" in sides:
            return before.part  # "The figure retains its original gilding"
        if phrase.told in _SOME and not before.part and sides <= _FRAGMENT and self._counted():
            return phrase.told
        return self._shared_part(phrase, before)

    def _counted(self) -> bool:
        return self.main is not None and "count" in self.main_sides

    def _shared_part(self, phrase: Phrase, before: Phrase) -> str:
        """The part of the phrase before, where this one goes on telling of it."""
        relation, sides = phrase.relation, phrase.sides
        one_sentence = self.tokens.sentence[before.first] == self.tokens.sentence[phrase.first]
        if (
            relation == "("
            and sides == {"material"}
            and before.head is not None
            and before.head.side == "part"
        ):
            return before.part  # "mounts (German silver)"
        if one_sentence and relation == "is":
            return told_of(phrase, before, self.tokens)
        apart = relation == "of" and "surface" in sides and "," in self.tokens.low[before.last : phrase.first]
        if one_sentence and relation in _SHARED and before.part and self._shared(phrase) and not apart:
            return held_by(phrase, before, self.tokens.low).part
        if phrase.joined and sides <= {"decoration", "technique", "surface"} and self._is_part(before):
            return before.part
        if phrase.joined and relation in _SHARED and before.part and self._also_shown(phrase, before):
            return before.part
        if (phrase.relation in (",", "of") or phrase.joined) and goes_on(phrase, before, self.tokens):
            return before.part
        if relation == "in" and any(h.side == "inscription" for h in before.hits):
            return "inscription"
        if relation == "," and "state" in sides <= _TOLD and (part := self._clause_of(phrase, before)):
            return part
        if relation == "," and sides <= _FRAGMENT and (part := self._subject(phrase, before)):
            return part
        near = phrase.first - before.last <= 2
        if near and relation == "of" and "place" in sides and before.noun not in ("", *self.terms):
            return before.noun
        return ""

    def _clause_of(self, phrase: Phrase, before: Phrase) -> str:
        """ "... censer. Wood cover with jade knop, later": what a sentence or a clause that opens with a part ends with is told of that part."""
        tokens, opener = self.tokens, before
        while not any(word in ";.\n" for word in tokens.low[opener.first - 1 : opener.first]):
            if opener.before is None or opener.before.first >= opener.first:
                return ""
            opener = opener.before
        one_sentence = tokens.sentence[opener.first] == tokens.sentence[phrase.first]
        told = opener.head is not None and opener.head.side == "part" and self.main is not None
        if not one_sentence or not told or opener is self.main or opener.relation not in (".", ",", ""):
            return ""
        return opener.part if any(h.entry.value.kind == "replaced" for h in phrase.hits) else ""

    def _subject(self, phrase: Phrase, before: Phrase) -> str:
        """ "... bronze mortar. Pestle associated, brass, 18th century": the rest of a sentence that opens with a part tells
        of that part, when the thing's own substance or place was told before."""
        sentence = self.tokens.sentence
        opener: Phrase | None = before
        while opener is not None and opener.relation == "," and not opener.noun:
            opener = opener.before
        if opener is None or opener.relation != "." or not opener.part or not opener.headed_first:
            return ""
        if sentence[opener.first] != sentence[phrase.first] or any(
            h.entry.value.term == "missing" for h in opener.hits
        ):
            return ""
        return opener.part if phrase.sides <= self.main_sides | {"surface", "technique"} else ""

    @staticmethod
    def _ornament_of(phrase: Phrase, before: Phrase) -> bool:
        """ "set with cabochons of blue glass": the ornament is of the glass."""
        near = phrase.first - before.last <= 3
        shown = near and before.head is not None and is_motif(before.head)
        return shown and phrase.relation == "of" and "material" in phrase.sides

    def _stands(self, phrase: Phrase, before: Phrase) -> bool:
        """ "mounted on leather", "six on velvet": the thing stands on it; "silver on copper", "oil on canvas" are made of both."""
        low, first = self.tokens.low, phrase.first
        if first < 2 or low[first - 1] != "on":
            return False
        if low[first - 2] in LAID_ON or low[first - 2] in ".\n":
            return False  # "Limoges enamel. On copper."
        coats = any(hit.last == first - 1 and hit.side in ("material", "surface") for hit in before.hits)
        return low[first - 2] in _STANDING or (self.main is not None and not coats)

    def _only_shown(self, phrase: Phrase, head: Hit, before: Phrase) -> bool:
        """A thing that is an ornament of the thing in hand, or tells its shape, and is no second thing."""
        if is_head_of(phrase, head, self.tokens):
            as_ornament(head, before.part)
            return True
        if is_shown(phrase, before, self.tokens):
            as_ornament(head, before.part or (before.noun if before.noun in DEVICES else ""))
            place_of_what_is_shown(phrase, head)
            phrase.part = head.part
            return True
        return before is self.main and phrase.relation == "," and only_tells_a_shape(phrase, head)

    def _object(self, phrase: Phrase, head: Hit, before: Phrase | None, copy: bool) -> None:
        if before is not None and self.main is not None and self._only_shown(phrase, head, before):
            return
        sentence, term = self.tokens.sentence[phrase.first], head.entry.value.term
        free = phrase.relation in _FREE and not phrase.likeness
        if self.main is None and head.entry.value.kind == "sculpture" and heads_a_list(phrase, self.tokens):
            self.listing = True
        elif head.strength == "denied" or (
            self.denied and phrase.relation == "," and "material" not in phrase.sides
        ):
            self.denied = True
        elif self.main is None:
            hangs_on_nothing = before is None or (before.head is None and "material" not in before.sides)
            copied = phrase.likeness and copy
            phrase.whole = copied or (
                (
                    free
                    or (
                        phrase.relation in ("of", "for")
                        and hangs_on_nothing
                        and not only_source(phrase, self.tokens)
                        and not meant_for(phrase, self.tokens)
                        and not (self.denied and phrase.relation == "for")
                    )
                )
                and not (self.unlisted == sentence and phrase.relation in ("", ",", "("))
            )
        elif says_what_it_is(phrase, before, self.main):
            self.main.whole, phrase.whole = False, True
            self.main, self.main_sides = phrase, phrase.sides
        elif (
            (free and term in self.terms)
            or names_again(phrase, before, self.main, self.tokens)
            or puts_in_english(phrase, head, before, self.main, self.tokens)
        ):
            phrase.whole = True
        elif free and sentence == self.tokens.sentence[self.main.first]:
            beside = phrase.joined and past_shapes(before)
            phrase.whole = beside or self.listing
        if phrase.whole:
            if self.main is None:
                self.main, self.main_sides = phrase, phrase.sides
            self.terms.add(term)
        elif not in_apposition(phrase, head, before, self.main, self.tokens):
            phrase.part = term

    def _unlisted(self, phrase: Phrase) -> None:
        """A noun that no list has: the object itself when it comes first, else a part of it."""
        if (
            self.main is None
            and self.unlisted < 0
            and phrase.relation in _FREE
            and "material" in phrase.sides
        ):
            self.unlisted = self.tokens.sentence[phrase.first]
        elif self.main is not None or self.unlisted >= 0 or phrase.relation == "with":
            phrase.part = phrase.noun


def _as_object(head: Hit) -> Hit:
    """A word for a part as well as for a thing, before any thing was named (what was denied is none): a bowl."""
    thing = next((entry for entry in head.entries if entry.side == "object"), None)
    if thing is not None:
        head.choose(thing)
        head.part = ""
    return head


_DAMAGES = frozenset(
    {"crack", "cracks", "chip", "chips", "hole", "holes", "dent", "dents", "hairline", "riveted"}
)
_MADE = frozenset({"made", "forged", "carved", "built", "turned", "given", "used", "owned", "worn", "done"})
_SOME = frozenset({"one", "two", "both", "all", "some"})
_TOLD = frozenset({"state", "puff"})
_FRAGMENT = frozenset({"material", "place", "surface", "technique"})
