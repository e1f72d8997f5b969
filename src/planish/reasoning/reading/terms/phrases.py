"""Noun phrases of a label: what heads each, how it hangs on what stands before, and which words describe what.

The object is the head of the first phrase that stands free; a noun under "with", "on", "of", "like" or after it in a
list is company, a part or a picture, and what describes that noun says nothing of the whole.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.lexicon import Grammar, Lexicon
from planish.reasoning.reading.tokens import LOWER, Tokens

_NOUNS = frozenset({"object", "part", "mark", "inscription"})
_WITHIN = frozenset(
    {"object", "part", "mark", "inscription", "material", "surface", "technique", "decoration", "place", "form", "state", "puff", "style", "count"}
)  # fmt: skip
_FREE = frozenset({"", ",", ".", "is", "("})
_NAMES_A_NOUN = frozenset({"material", "surface", "place"})
_SUFFIXES = ("ly", "ed", "ing")


@dataclass(frozen=True, slots=True)
class When:
    """Tokens `first` up to `last` read as a date."""

    first: int
    last: int


@dataclass(slots=True, eq=False)
class Phrase:
    """Hits from token `first` up to `last` under one head. `part` is what its describing words speak of, "" the whole.

    `relation` is how it hangs on what stands before; `made` a part that a word such as "lined with" gave it.
    """

    relation: str
    first: int
    last: int
    joined: bool = False
    told: bool = False
    hits: list[Hit] = field(default_factory=list)
    head: Hit | None = None
    noun: str = ""
    made: str = ""
    part: str = ""
    likeness: bool = False
    whole: bool = False
    before: "Phrase | None" = None

    @property
    def headed_first(self) -> bool:
        """True when nothing stands before a thing: "mounts French c. 1745" is said of the mounts."""
        head = self.head
        return head is not None and head.first == self.first and head.side in ("object", "part")

    def describes(self, side: str) -> bool:
        """True when it holds a word of `side`."""
        return any(hit.side == side for hit in self.hits)


@dataclass(slots=True, eq=False)
class _Open:
    """The phrase being gathered: words in order, each a hit or the index of a word that no list has."""

    relation: str = ""
    joined: bool = False
    told: bool = False
    made: str = ""
    items: list["Item"] = field(default_factory=list)


Item = Hit | When | int
"""A hit, a date, or the index of a word that no list has."""


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
        self.when: dict[int, Phrase] = {}
        self._made = ""
        self.lexicon, self.grammar = lexicon, lexicon.grammar
        self.at = {hit.first: hit for hit in hits}
        self.ends = {hit.last for hit in hits}
        self.shouts = sum(tokens.cap) > len(tokens)
        self.phrases: list[Phrase] = []
        self.open = _Open()

    def find(self) -> list[Phrase]:
        """Every phrase, in order."""
        i, n = 0, len(self.tokens)
        while i < n:
            hit = self.at.get(i)
            if hit is not None:
                self._hit(hit)
                i = hit.last
            else:
                self._word(i)
                i += 1
        self._close("")
        return self.phrases

    def _hit(self, hit: Hit) -> None:
        side = hit.side
        if side in _WITHIN:
            if (makes := self.grammar.makes.get(self.tokens.low[hit.first])) is not None:
                self._makes(hit.first, hit.last, makes)
            self.open.items.append(hit)
        elif side == "likeness" or (side == "qualifier" and _only_like(hit)):
            self._close("like")
        elif side in ("doubter", "firm", "place_name"):
            return
        else:
            self._close("for" if side != "negator" else self.open.relation)

    def _word(self, i: int) -> None:
        word, grammar = self.tokens.low[i], self.grammar
        if self.covered[i]:
            if i in self.dates:
                self.open.items.append(When(i, self.dates[i]))
        elif self.named and i in self.named:
            self._close(",")
        elif not word[0].isalnum():
            self._stop(i, word)
        elif word in grammar.makes:
            self._makes(i, i + 1, grammar.makes[word])
        elif (relation := grammar.relation.get(word)) is not None:
            verb = relation == "like" and i and grammar.relation.get(self.tokens.low[i - 1]) == "apart"
            self._relate("apart" if verb else relation)
        elif word in grammar.opens:
            if self.open.items:
                self._close(",")
            self.open.told = word == "the"
        elif word not in self.lexicon.function and self._may_be_noun(i, word):
            self.open.items.append(i)

    def _stop(self, i: int, word: str) -> None:
        if word in "'’\"“”‘*#":
            return
        if word in "&+/":
            self._relate("and")
        elif word in "([":
            self._close("(")
        elif word == "." and not self._ends(i):
            return
        else:
            self._close("," if word in ",)]-–—" else ".")

    def _ends(self, i: int) -> bool:
        """A stop that shortens a word ("w. lid") ends nothing."""
        tokens = self.tokens
        if i + 1 >= len(tokens) or i == 0 or tokens.sentence[i + 1] != tokens.sentence[i]:
            return True
        known = i in self.ends or self.covered[i - 1] > 0 or self.covered[i + 1] > 0
        return tokens.start[i + 1] > tokens.end[i] and (known or len(tokens.low[i - 1]) > 4)

    def _makes(self, first: int, last: int, part: str) -> None:
        """ "lead-lined" gives the lead its part; "lined with lead" opens a phrase of that part."""
        before = self.open.items[-1] if self.open.items else None
        if self.tokens.low[last : last + 1] in (["with"], ["in"], ["by"]):
            self._made = part
        elif isinstance(before, Hit) and before.side == "material" and before.last == first:
            before.part = part

    def _relate(self, relation: str) -> None:
        if relation == "and":
            before = self.phrases[-1] if self.phrases and not self.open.items else None
            made = before.made if before is not None else self.open.made
            self._close(before.relation if before is not None else self.open.relation)
            self.open.joined, self.open.made = True, made
            return
        self._close("," if relation == "apart" else relation)
        self.open.made, self._made = self._made, ""

    def _may_be_noun(self, i: int, word: str) -> bool:
        """A word of at least three letters, in small letters or opening its sentence, that does not look like a verb."""
        if len(word) < 3 or not word.isalpha() or word in self.grammar.no_noun or word.endswith(_SUFFIXES):
            return False
        tokens = self.tokens
        return tokens.cap[i] == LOWER or self.shouts or i == 0 or tokens.sentence[i] != tokens.sentence[i - 1]

    def _close(self, relation: str) -> None:
        """End the phrase being gathered and open the next under `relation`."""
        was = self.open
        if was.items:
            self._cut(was)
        elif was.relation in (".", "(") and relation in (",", ""):
            relation = was.relation
        self.open = _Open(relation, joined=False)

    def _cut(self, was: _Open) -> None:
        """Words put one after the other without a stop: "kettle copper lid" is a kettle and a lid of copper."""
        piece: list[Item] = []
        noun, relation, first_piece = -1, was.relation, True
        for item in was.items:
            if self._is_noun(item, piece, noun):
                if 0 <= noun < len(piece) - 1:
                    self._add(piece[: noun + 1], was, relation, first_piece)
                    piece, relation, first_piece = piece[noun + 1 :], ",", False
                noun = len(piece)
            elif isinstance(item, int):
                continue
            piece.append(item)
        if piece:
            self._add(piece, was, relation, first_piece)

    def _is_noun(self, item: Item, piece: list[Item], noun: int) -> bool:
        if isinstance(item, Hit):
            return _may_head(item)
        if isinstance(item, When) or self.tokens.low[item] in self.grammar.whole:
            return False
        after = piece[noun + 1 :] if noun >= 0 else piece
        if noun >= 0 and not after:
            return isinstance(piece[noun], int)
        return any(isinstance(i, Hit) and i.side in _NAMES_A_NOUN for i in after) or not self.phrases

    def _add(self, piece: list[Item], was: _Open, relation: str, first_piece: bool) -> None:
        phrase = Phrase(
            relation,
            _first(piece[0]),
            piece[-1] + 1 if isinstance(piece[-1], int) else piece[-1].last,
            was.joined and first_piece,
            was.told and first_piece,
            [item for item in piece if isinstance(item, Hit)],
            made=was.made,
            before=self.phrases[-1] if self.phrases else None,
        )
        for item in piece:
            if isinstance(item, int):
                phrase.head, phrase.noun = None, self.tokens.low[item]
            elif isinstance(item, When):
                self.when[item.first] = phrase
            elif _may_head(item):
                phrase.head, phrase.noun = item, item.entry.value.term
        self.phrases.append(phrase)


def _first(item: Item) -> int:
    return item if isinstance(item, int) else item.first


def _may_head(hit: Hit) -> bool:
    return hit.side in _NOUNS or (hit.side == "decoration" and hit.entry.noun)


def _only_like(hit: Hit) -> bool:
    """ "after", "in the manner of" and the like, before what is no name of a maker."""
    maker = hit.entry.maker
    return maker is not None and maker.hand == "no" and maker.workshop == "no" and maker.role == "maker"


class Relations:
    """Settles, phrase by phrase, what is the object, what its company, and what the describing words speak of."""

    def __init__(self, tokens: Tokens, grammar: Grammar) -> None:
        self.tokens, self.grammar = tokens, grammar
        self.main: Phrase | None = None
        self.terms: set[str] = set()
        self.unlisted = -1
        self.listing = False

    def settle(self, phrases: list[Phrase]) -> None:
        """Fill in `part`, `likeness` and `whole` of every phrase, then give them to the words within."""
        for phrase in phrases:
            self._one(phrase, phrase.before)
        _carry_back(phrases)
        for phrase in phrases:
            _describe(phrase)

    def _one(self, phrase: Phrase, before: Phrase | None) -> None:
        if phrase.made:
            phrase.part = phrase.made
            return
        copy = (
            before is not None
            and before.describes("state")
            and any(h.entry.value.term == "reproduction" for h in before.hits)
        )
        if phrase.relation == "of" and copy:
            phrase.likeness = True
        elif phrase.relation == "like" or (
            phrase.relation == "of" and before is not None and before.likeness
        ):
            phrase.likeness, copy = True, False
        head = phrase.head
        if head is not None and head.side == "object":
            self._object(phrase, head, before, copy)
        elif head is not None:
            phrase.part = phrase.noun
        elif phrase.noun:
            self._unlisted(phrase)
        elif phrase.relation == "is" and before is not None:
            phrase.part = before.part
        elif (
            phrase.relation == "of"
            and before is not None
            and phrase.describes("place")
            and (before.head or before.noun)
        ):
            phrase.part = before.noun if before.noun not in self.terms or before.head is None else ""
        if self.main is None and phrase.describes("count"):
            self.listing = self.tokens.low[phrase.last : phrase.last + 1] == [":"] or self.listing

    def _object(self, phrase: Phrase, head: Hit, before: Phrase | None, copy: bool) -> None:
        sentence, term = self.tokens.sentence[phrase.first], head.entry.value.term
        free = phrase.relation in _FREE and not phrase.likeness
        if head.strength == "denied":
            phrase.whole = False
        elif self.main is None:
            hangs_on_nothing = before is None or (before.head is None and not before.describes("material"))
            copied = phrase.likeness and copy
            phrase.whole = copied or (
                (free or (phrase.relation in ("of", "for") and hangs_on_nothing))
                and not (self.unlisted == sentence and phrase.relation in ("", ",", "("))
            )
        elif free and term in self.terms:
            phrase.whole = True
        elif free and sentence == self.tokens.sentence[self.main.first]:
            beside = phrase.joined and before is not None and before.whole
            phrase.whole = beside or self.listing
        if phrase.whole:
            self.main = self.main or phrase
            self.terms.add(term)
        else:
            phrase.part = term

    def _unlisted(self, phrase: Phrase) -> None:
        """A noun that no list has: the object itself when it comes first, else a part of it."""
        if (
            self.main is None
            and self.unlisted < 0
            and phrase.relation in _FREE
            and phrase.describes("material")
        ):
            self.unlisted = self.tokens.sentence[phrase.first]
        elif self.main is not None or self.unlisted >= 0:
            phrase.part = phrase.noun


def _carry_back(phrases: list[Phrase]) -> None:
    """ "ivory and silver handle": a phrase without a noun, joined to the next, speaks of what the next does."""
    after: Phrase | None = None
    for phrase in reversed(phrases):
        if (
            after is not None
            and after.joined
            and not phrase.noun
            and not phrase.made
            and phrase.relation == after.relation
            and after.first - phrase.last <= 2
            and any(
                phrase.describes(side) and after.describes(side) for side in ("material", "place", "surface")
            )
        ):
            phrase.part, phrase.likeness = after.part, after.likeness
        after = phrase


_OF_PARTS = frozenset({"material", "surface", "technique", "decoration"})
_LOOK = frozenset({"material", "place", "surface"})


def _describe(phrase: Phrase) -> None:
    head = phrase.head
    for hit in phrase.hits:
        side = hit.side
        if side == "object":
            hit.mention = hit is not head or not phrase.whole
        elif phrase.likeness and side in _LOOK:
            hit.side, hit.likeness = "style", True
        elif side == "part":
            hit.part = hit.entry.value.term
        elif hit is head or hit.part or not phrase.part:
            continue
        elif side in _OF_PARTS or (
            side == "place" and (head is None or hit.first < head.first or phrase.told or phrase.headed_first)
        ):
            hit.part = phrase.part


def settle_looks(hits: list[Hit], tokens: Tokens, grammar: Grammar) -> None:
    """ "Nuremberg type", "bronze-effect", "faux ivory": the word names a look, not a place of making or a substance."""
    low = tokens.low
    for hit in hits:
        if hit.side not in _LOOK:
            continue
        after = low[hit.last] if hit.last < len(low) else ""
        glued = tokens.text[tokens.end[hit.last - 1] : tokens.start[hit.last]] if after else ""
        if after in grammar.look_after and glued in ("-", " ") and (after != "like" or glued == "-"):
            hit.last += 1
        elif not (hit.first and low[hit.first - 1] in grammar.look_before):
            continue
        hit.side, hit.likeness = "style", True
    last = 0
    kept = []
    for hit in hits:
        if hit.first >= last:
            kept.append(hit)
        last = max(last, hit.last)
    hits[:] = kept
