"""Noun phrases of a label: what heads each, how it hangs on what stands before, and which words describe what.

The object is the head of the first phrase that stands free; a noun under "with", "on", "of", "like" or after it in a
list is company, a part or a picture, and what describes that noun says nothing of the whole.
"""

from collections.abc import Mapping
from itertools import repeat

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.lexicon import Lexicon
from planish.reasoning.reading.terms.phrasing.phrase import (
    HEADING,
    Item,
    Phrase,
    When,
    first_of,
    is_motif,
    may_head,
    names_damage,
    only_like,
)
from planish.reasoning.reading.tokens import LOWER, Tokens

_WITHIN = frozenset(
    {"object", "part", "mark", "inscription", "material", "surface", "technique", "decoration", "place", "form", "state", "puff", "style", "count"}
)  # fmt: skip
_NAMES_A_NOUN = frozenset({"material", "surface", "place", "count"})
_HELD = frozenset({"handle", "loop handle", "scroll handle", "swing handle", "grip", "haft", "hilt", "shaft"})
_COATS = frozenset({"plated", "silver", "gold", "enamel", "tin alloy", "metal"})
_BASES = frozenset({"copper", "copper alloy", "iron", "tin alloy", "zinc alloy", "metal"})
_METALS = _COATS | _BASES
_MAKING = frozenset({"form", "surface", "technique", "decoration"})
_PASSED = frozenset({"doubter", "firm", "place_name", "coat"})
_UNKNOWN = ("unknown", "")
_APART = ("relation", ",")
_SUFFIXES = ("ly", "ed", "ing")


class PhraseFinder:
    """Cuts one text into phrases. `covered` are tokens read as dates and measures, `named` tokens inside names, `dates`
    the last token of the date that begins at a token. `when` tells in which phrase a date stands."""

    def __init__(
        self,
        tokens: Tokens,
        hits: list[Hit],
        lexicon: Lexicon,
        *,
        covered: bytearray,
        named: set[int],
        dates: Mapping[int, int],
    ) -> None:
        self.tokens, self.covered, self.named, self.dates = tokens, covered, named, dates
        self.grammar = lexicon.grammar
        self.when: dict[int, Phrase] = {}
        self.phrases: list[Phrase] = []
        self.at = {hit.first: hit for hit in hits}
        self.ends = {hit.last for hit in hits}
        self.ended = {last - 1 for last in dates.values() if _sentence_over(tokens, last)}
        self.shouts = sum(tokens.cap) > len(tokens)
        self.items: list[Item] = []
        self.relation = self.made = self.made_next = ""
        self.joined = self.barrier = False
        self.told = ""

    def find(self) -> list[Phrase]:
        """Every phrase, in order."""
        low, at, covered, named = self.tokens.low, self.at, self.covered, self.named
        after = 0
        for i, (kind, value) in enumerate(map(self.grammar.classes.get, low, repeat(_UNKNOWN))):
            if i < after:
                continue
            if i in at:
                hit = at[i]
                self._hit(hit)
                after = hit.last
            elif covered[i]:
                if i in self.dates:
                    self.items.append(When(i, self.dates[i]))
                elif i in self.ended:
                    self._close(".")
                elif self.items and isinstance(self.items[-1], Hit) and self.items[-1].side == "material":
                    self._close(",")
            elif i in named:
                self._close(",")
                self.barrier = True
            elif kind == "stop":
                self._close(value)
            elif kind == "unknown":
                self._unlisted(i, low[i])
            elif kind != "skip":
                self._steer(i, kind, value)
        self._close("")
        return self.phrases

    def _hit(self, hit: Hit) -> None:
        side = hit.side
        if side in _WITHIN:
            if side in ("mark", "inscription") and self._leaves_unmarked(hit):
                self._close(",")
            if side == "part" and self._inside(hit):
                self._relate("in")
                return
            if side == "state" and self._is_filled(hit):
                return
            if side in _MAKING:
                kind, part = self.grammar.classes.get(self.tokens.low[hit.first], _UNKNOWN)
                if kind == "makes":
                    self._makes(hit.first, hit.last, part)
            self.items.append(hit)
            if side == "decoration" and self.tokens.low[hit.last - 1] == "with":
                self._relate("with")
        elif side == "likeness" or (side == "qualifier" and only_like(hit)):
            self._close("like")
        elif side == "joins":
            joins = hit.entry.value.term
            self._relate("," if joins == "apart" else joins)
        elif side in _PASSED:
            return
        else:
            self._close("for" if side != "negator" else self.relation)

    def _inside(self, hit: Hit) -> bool:
        """ "touch of A. Voss of York inside lid": after nothing but a place, "inside" joins and names no part."""
        if self.tokens.low[hit.first] != "inside" or hit.last not in self.at or not self.items:
            return False
        placed = all(isinstance(item, Hit) and item.side == "place" for item in self.items)
        if placed:
            hit.side = "coat"
        return placed

    def _is_filled(self, hit: Hit) -> bool:
        """ "Lead-filled base": what fills it, and no repair of the base."""
        kind, part = self.grammar.classes.get(self.tokens.low[hit.first], _UNKNOWN)
        before = self.items[-1] if self.items else None
        if (
            kind != "makes"
            or not isinstance(before, Hit)
            or before.side != "material"
            or before.last != hit.first
        ):
            return False
        before.part, hit.side = part, "coat"
        return True

    def _leaves_unmarked(self, hit: Hit) -> bool:
        """ "candlestick bears no marks", "sideboard No. 814", "lantern marked PORT", "bowl won at a show": a thing and what it bears are no compound noun."""
        before = self.items[-1] if self.items else None
        value = hit.entry.value
        given = value.term == "presentation"
        verb = (
            value.kind == "unmarked"
            or value.term == "numbered"
            or given
            or self.tokens.low[hit.first].endswith("ed")
        )
        bears = ("object", "part", "mark") if value.term == "numbered" else ("object", "part")
        return verb and isinstance(before, Hit) and before.side in bears

    def _steer(self, i: int, kind: str, value: str) -> None:
        """A word that ends a phrase or says how the next one hangs on what stands before."""
        if kind == "relation":
            if (value == "on" and self._coats(i)) or self._short_for_with(i) or self._glued_like(i, value):
                return
            if (
                value == "and"
                and self.relation == "like"
                and not self.items
                and self.tokens.low[i - 1].isalpha()
            ):
                return  # "in the shape of a bearded and horned satyr"
            verb = value == "like" and i and self.grammar.classes.get(self.tokens.low[i - 1]) == _APART
            self._relate("," if verb else value)
        elif kind == "opens":
            if self.items:
                self._close("with" if self._ends_with_with() else ",")
            self.told = value
        elif kind == "makes":
            self._makes(i, i + 1, value)
        elif self._ends(i):
            self._close(".")

    def _short_for_with(self, i: int) -> bool:
        """The stroke of "w/ brass pans"."""
        return self.tokens.low[i] == "/" and i > 0 and self.tokens.low[i - 1] == "w"

    def _glued_like(self, i: int, relation: str) -> bool:
        """The "like" of "Wexcombe-like bowl" opens nothing."""
        tokens = self.tokens
        return relation == "like" and i > 0 and tokens.text[tokens.end[i - 1] : tokens.start[i]] == "-"

    def _ends_with_with(self) -> bool:
        """ "set with a citrine": the "with" belongs to a phrase of the pack."""
        last = self.items[-1]
        return isinstance(last, Hit) and self.tokens.low[last.last - 1] == "with"

    def _coats(self, i: int) -> bool:
        """ "silver plate on copper coaster", "plated on copper": a coat and what it lies on describe one thing."""
        last, after = self.items[-1] if self.items else None, self.at.get(i + 1)
        if (
            not isinstance(last, Hit)
            or after is None
            or last.last != i
            or after.side != "material"
            or last.side not in ("material", "surface")
        ):
            return False
        coat = last.side == "surface" or last.entry.value.kind in _COATS
        return coat and after.entry.value.kind in _BASES

    def _ends(self, i: int) -> bool:
        """A stop that shortens a word ("w. lid") ends nothing."""
        tokens = self.tokens
        if i + 1 >= len(tokens) or i == 0 or tokens.sentence[i + 1] != tokens.sentence[i]:
            return True
        if tokens.low[i + 1] == ".":
            return True
        known = i in self.ends or self.covered[i - 1] > 0 or self.covered[i + 1] > 0
        return tokens.start[i + 1] > tokens.end[i] and (known or len(tokens.low[i - 1]) > 4)

    def _makes(self, first: int, last: int, part: str) -> None:
        """ "lead-lined" gives the lead its part; "lined with lead" opens a phrase of that part."""
        before = self.items[-1] if self.items else None
        if part in _FASTENED and self.tokens.low[last : last + 1] in _WHERETO:
            return  # "two slivers of bone riveted on either side"
        last += self.tokens.low[last : last + 1] in _ALL_OVER
        if self.tokens.low[last : last + 1] in (["with"], ["in"], ["by"], ["w"]):
            self.made_next = part
        elif isinstance(before, Hit) and before.side in ("material", "surface") and before.last == first:
            shape, limb = self.at.get(first), self.at.get(last)
            if limb is not None and limb.entry.value.term in _HELD and self.tokens.low[first] == "bound":
                return  # "wicker bound handle": the handle has it
            if shape is not None and shape.side == "form":
                if before.entry.value.kind in _METALS and not self._glued(first):
                    return  # "pewter covered jug": a jug of pewter with its cover
                shape.side = "coat"
            before.part = part
            shape = self.at.get(first)
            if shape is not None and shape.side == "form":
                shape.side = "coat"

    def _glued(self, i: int) -> bool:
        return self.tokens.text[self.tokens.end[i - 1] : self.tokens.start[i]] == "-"

    def _relate(self, relation: str) -> None:
        if relation == "and":
            before = self.phrases[-1] if self.phrases and not self.items else None
            made = before.made if before is not None else self.made
            aside = before is not None and before.relation == "(" and self.relation != "("
            aside = aside or (not self.items and self.relation == "is")  # "being tiered and chased"
            self._close(before.relation if before is not None and not aside else self.relation)
            self.joined, self.made = True, made
            return
        self._close(relation)
        self.made, self.made_next = self.made_next, ""

    def _unlisted(self, i: int, word: str) -> None:
        """A word that no list has may be a noun: three letters at least, small or opening its sentence, no verb by its looks."""
        if word.endswith(_SUFFIXES):
            if self.items:
                self.items.append(When(i, i + 1))
        elif len(word) > 2 and word.isalpha():
            cap, sentence = self.tokens.cap, self.tokens.sentence
            if cap[i] == LOWER or self.shouts or i == 0 or sentence[i] != sentence[i - 1]:
                self.items.append(i)

    def _close(self, relation: str) -> None:
        """End the phrase being gathered and open the next under `relation`."""
        if self.items:
            if relation in ("of", "is") and len(self.items) == 1 and self._names_a_part(self.items[0]):
                self._add(self.items, self.relation)
            else:
                self._cut(self.items)
            self.items = []
        elif self.relation in (".", "(") and relation in (",", ""):
            relation = self.relation
        elif self.relation == "like" and relation in ("in", "of"):
            relation = "like"
        self.relation, self.joined, self.told, self.made = relation, False, "", ""

    def _names_a_part(self, item: Item) -> bool:
        """ "the knuckle of bone": behind a thing, a word that no list has and what it is of."""
        return (
            isinstance(item, int)
            and self.told in ("the", "its")
            and bool(self.phrases)
            and self.tokens.low[item] not in self.grammar.whole
        )

    def _cut(self, items: list[Item]) -> None:
        """Words put one after the other without a stop: "kettle copper lid" is a kettle and a lid of copper."""
        if len(items) == 1:
            if isinstance(items[0], Hit):
                self._add_one(items[0])
            elif isinstance(items[0], When):
                self._add(items, self.relation)
            return
        piece: list[Item] = []
        noun, relation = -1, self.relation
        for k, item in enumerate(items):
            if isinstance(item, Hit):
                heads = item.side in HEADING and may_head(item) and not self._only_worked(item)
            else:
                heads = isinstance(item, int) and (
                    self._is_noun(item, piece, noun)
                    or (k == 0 and self._opens_with_noun(item, items[1]))
                    or (
                        (noun < 0 or self._next_to_part(piece, noun, items[k + 1 : k + 2]))
                        and bool(self.phrases)
                        and self._of_state(items, k)
                    )
                )
            if heads:
                bare = 0 <= noun == len(piece) - 1 and _bears_a_device(piece[noun], item)
                if bare or (0 <= noun < len(piece) - 1 and not _one_name(piece[noun:], item)):
                    over = self._told_behind(piece, noun)
                    self._add(piece[:over], relation)
                    piece, relation, self.joined, self.told = piece[over:], ",", False, ""
                noun = len(piece)
            elif isinstance(item, int):
                continue
            piece.append(item)
        if piece:
            self._add(piece, relation)

    def _opens_with_noun(self, word: int, after: Item) -> bool:
        """ ", slats teak": a plural that no list has, between a comma and its substance."""
        noun = self.tokens.low[word]
        plural = noun.endswith("s") and not noun.endswith(("ss", "us")) and len(noun) > 4
        made = isinstance(after, Hit) and after.side == "material" and after.first == word + 1
        return (
            plural
            and made
            and self.relation == ","
            and bool(self.phrases)
            and self.tokens.low[word - 1] == ","
        )

    def _only_worked(self, item: Hit) -> bool:
        """ "chequered walnut butts": a pattern told as a verb describes the noun that its substance stands before."""
        worked = item.side == "decoration" and self.tokens.low[item.last - 1].endswith("ed")
        after = self.at.get(item.last)
        return worked and after is not None and after.side == "material"

    def _told_behind(self, piece: list[Item], noun: int) -> int:
        """Where the first noun's own words end: "candelabra pair plated on copper c. 1830 scrolled arms" tells of the candelabra up to its date."""
        for k in range(len(piece) - 1, noun + 1, -1):
            item = piece[k]
            if isinstance(item, When) and item.first in self.dates:
                return k + 1
        return noun + 1

    def _of_state(self, items: list[Item], k: int) -> bool:
        """ "mirror pieces lost": a word that no list has, right before a state, is what the state is said of."""
        item, after = items[k], items[k + 1] if k + 1 < len(items) else None
        return (
            isinstance(item, int)
            and isinstance(after, Hit)
            and after.side == "state"
            and after.first == item + 1
            and self.tokens.low[item] not in self.grammar.whole
            and not names_damage(after, self.tokens)
        )

    def _next_to_part(self, piece: list[Item], noun: int, after: list[Item]) -> bool:
        """ "wick pick lost": behind a part, a word that no list has makes another part of the two, when that is gone or later."""
        part, said = piece[noun], after[0] if after else None
        gone = isinstance(said, Hit) and said.entry.value.kind == "replaced"
        return (
            gone
            and isinstance(part, Hit)
            and isinstance(said, Hit)
            and part.side == "part"
            and part.last == said.first - 1
        )

    def _is_noun(self, word: int, piece: list[Item], noun: int) -> bool:
        """True where a word that no list has follows a noun of its kind, or what names a noun."""
        if self.tokens.low[word] in self.grammar.whole:
            return False
        if self._describes_next(word):
            return False
        after = piece[noun + 1 :] if noun >= 0 else piece
        if noun >= 0 and not after:
            return isinstance(piece[noun], int)
        return any(isinstance(i, Hit) and i.side in _NAMES_A_NOUN for i in after)

    def _describes_next(self, i: int) -> bool:
        """ "camphor wood chest": a word that no list has, right before a substance or a thing, describes it."""
        after = self.at.get(i + 1)
        return after is not None and after.side in ("material", "object", "part")

    def _add_one(self, hit: Hit) -> None:
        """What `_add` does for the commonest phrase, one word of the trade alone."""
        heads = hit.side in HEADING and may_head(hit)
        head, noun = (hit, hit.entry.value.term) if heads else (None, "")
        phrase = Phrase(
            self.relation,
            hit.first,
            hit.last,
            self.joined,
            self.told,
            [hit],
            {hit.side},
            head,
            noun,
            self.made,
        )
        phrase.before = self.phrases[-1] if self.phrases and not self.barrier else None
        self.barrier = False
        self.phrases.append(phrase)

    def _add(self, piece: list[Item], relation: str) -> None:
        before = self.phrases[-1] if self.phrases and not self.barrier else None
        last = piece[-1] + 1 if isinstance(piece[-1], int) else piece[-1].last
        hits: list[Hit] = []
        sides: set[str] = set()
        dates: list[When] = []
        head: Hit | None = None
        noun = ""
        for item in piece:
            if isinstance(item, Hit):
                hits.append(item)
                sides.add(item.side)
                if item.side in HEADING and may_head(item):
                    if head is not None and head.side == "object" and is_motif(item):
                        continue
                    head, noun = item, item.entry.value.term
            elif isinstance(item, int):
                head, noun = None, self.tokens.low[item]
            else:
                dates.append(item)
        first = first_of(piece[0])
        phrase = Phrase(relation, first, last, self.joined, self.told, hits, sides, head, noun, self.made)
        phrase.before = before
        for date in dates:
            self.when[date.first] = phrase
        self.barrier = False
        self.phrases.append(phrase)


def _bears_a_device(thing: Item, device: Item) -> bool:
    """ "marrow scoop crest of a tower": without a stop, the thing and then what is engraved on it."""
    return (
        isinstance(thing, Hit)
        and isinstance(device, Hit)
        and thing.side == "object"
        and device.side == "decoration"
        and device.entry.value.term in ("crest", "arms", "monogram", "initials")
    )


_FASTENED = frozenset({"rivets", "nails", "pins", "studs"})
_WHERETO = (["on"], ["to"], ["onto"], ["at"], ["over"], ["together"])
_ALL_OVER = (["overall"], ["throughout"], ["finely"], ["richly"], ["extensively"])


def _one_name(between: list[Item], last: Item) -> bool:
    """ "Flintlock travelling pistol": a kind, a shape and the thing are one name, whose last noun tells what it is."""
    return (
        isinstance(last, Hit)
        and last.side == "object"
        and isinstance(between[0], Hit)
        and between[0].side == "object"
        and all(isinstance(item, Hit) and item.side == "form" for item in between[1:])
    )


def _sentence_over(tokens: Tokens, last: int) -> bool:
    """A date whose own stop ends the sentence: "Danish, 18thC. Ball feet"."""
    return (
        last < len(tokens)
        and tokens.low[last - 1] == "."
        and tokens.sentence[last] != tokens.sentence[last - 1]
    )
