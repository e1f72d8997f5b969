"""Names of people, firms and places. What stands inside a name claims nothing: Brass Lantern Inn, John Silver."""

from dataclasses import dataclass
from itertools import compress, count

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.lexicon import Lexicon
from planish.reasoning.reading.terms.meaning.shapes import COLOURS
from planish.reasoning.reading.tokens import CAPITAL, LOWER, Tokens

_TRADE = frozenset(
    ["object", "material", "technique", "part", "form", "count", "surface", "decoration", "state", "place", "style", "puff"]
)  # fmt: skip
_BREAKS = _TRADE | {
    "provenance",
    "evidence",
    "mark",
    "inscription",
    "qualifier",
    "unknown",
    "price",
    "negator",
}
SHIPS = frozenset({"hms", "rms", "hmy", "uss", "ss", "mv"})
_OFFICES = frozenset(
    {
        "earl", "earls", "duke", "dukes", "marquess", "marquis", "baron", "barons", "viscount", "countess", "duchess", "prince", "princess",
        "bishop", "archbishop", "dean", "mayor", "sheriff", "lord", "king", "queen", "emperor", "elector", "museum", "university", "bank",
        "city", "borough", "county", "diocese", "college", "house", "tower", "abbey", "cathedral", "institute", "academy",
        "port", "order", "knight", "treaty", "battle", "siege", "ministry", "department",
    }
)  # fmt: skip
_SURNAMES = frozenset(
    {"lane", "hill", "bridge", "park", "hall", "house", "mill", "court", "church", "castle", "chapel", "row", "barn", "bay", "lodge", "band", "ship", "mine", "press", "farm", "parish", "town", "garrison", "abbey", "yard", "quay", "lake", "beach"}
)  # fmt: skip
_BODIES = frozenset({"guild", "school", "sisters", "sisterhood"})
"""Makers that go on with "of": the Guild of St Bride."""
_JOINS = frozenset({"&", "and"})
_LONGEST = 8
_ENDS_A_NAME = frozenset(
    {"aged", "aet", "aetatis", "born", "died", "with", "who", "whose", "from", "in", "on", "at", "dated", "working", "active", "after", "was", "fl", "circa"}
)  # fmt: skip
"""Words that follow a name and are none of it, though in capitals like the rest of the label."""


@dataclass(frozen=True, slots=True)
class Name:
    """Tokens `first` up to `last` that make one name. `kind` is person, firm, place or guess."""

    first: int
    last: int
    kind: str


class NameFinder:
    """Finds names in one text. Holds the tokens and which hit covers each, nothing else."""

    def __init__(self, tokens: Tokens, hits: list[Hit], lexicon: Lexicon, covered: bytearray) -> None:
        self.tokens, self.hits, self.lexicon, self.covered = tokens, hits, lexicon, covered
        self.at: dict[int, Hit] = {hit.first: hit for hit in hits}
        for hit in hits:
            if hit.last - hit.first > 1:
                self.at.update(dict.fromkeys(range(hit.first + 1, hit.last), hit))

    def find(self) -> list[Name]:
        """Every name, in order of its first token."""
        names: list[Name] = []
        for hit in self.hits:
            if len(hit.entries) == 1 and hit.side not in ("firm", "place_name"):
                continue
            name = self._from_hit(hit)
            if name is not None:
                names.append(name)
        names += self._people()
        names += self._offices()
        names += self._partners()
        names.sort(key=lambda name: (name.first, -name.last))
        kept: list[Name] = []
        for name in names:
            if not kept or name.last > kept[-1].last:
                kept.append(name)
        return kept

    def _from_hit(self, hit: Hit) -> Name | None:
        sides = [entry.side for entry in hit.entries]
        if "firm" in sides:
            name = self._firm(hit)
            if name is not None:
                return name
        if "place_name" in sides:
            return self._place(hit)
        return None

    def _firm(self, hit: Hit) -> Name | None:
        """& Co, Ltd, Brothers: the name goes back over capitals to the first word of the trade."""
        first = self._back(hit.first, through_trade=1)
        if first == hit.first or (
            self.tokens.cap[hit.first] == LOWER
            and self.tokens.low[hit.first] not in ("&", "and", "et", "family")
        ):
            return None
        if self.tokens.low[hit.first] in ("&", "and"):
            first = self._partner_before(first)
        last = hit.last
        while (more := self.at.get(last)) is not None and any(e.side == "firm" for e in more.entries):
            last = more.last
        return Name(first, last, "person" if self.tokens.low[hit.first] == "family" else "firm")

    def _partner_before(self, first: int) -> int:
        """ "De Harle, Shore & Co": up to two capitals that no list has, between stops, are the first partner."""
        low, cap = self.tokens.low, self.tokens.cap
        if first < 2 or low[first - 1] != ",":
            return first
        at = first - 1
        while (
            at > 0
            and first - at < 4
            and cap[at - 1] != LOWER
            and low[at - 1].isalpha()
            and at - 1 not in self.at
        ):
            at -= 1
        opens = at == 0 or not low[at - 1][0].isalnum()
        return at if at < first - 1 and opens and not any(self.covered[at:first]) else first

    def _place(self, hit: Hit) -> Name | None:
        """Street, Inn, Company: up to three capitalised words before it belong to the name, trade words or not."""
        lower = self.tokens.cap[hit.first] == LOWER
        if lower and self.tokens.low[hit.first] not in ("collection", "family", "street", "inn", "estate"):
            return None
        if self._trade_follows(hit.last) and not lower:
            return None
        first = self._back(hit.first, through_trade=3)
        if first == hit.first or self._is_a_surname(hit, first):
            return None
        if lower and self._sentence_start(first) and hit.first - first == 1 and self._is_trade(first):
            first_word_only = self.tokens.low[hit.first] != "family"
            if first_word_only:
                return None
        return Name(first, hit.last, "place")

    def _is_a_surname(self, hit: Hit, first: int) -> bool:
        """ "Thomas & Mary Lane", "by John Hill": behind a given name, and not told of as a place, Lane is a surname."""
        low = self.tokens.low
        if low[hit.first] not in _SURNAMES or low[hit.first - 1] not in self.lexicon.given:
            return False
        if first and low[first - 1] in ("in", "at", "near", "off", "from", "of"):
            return False
        before = low[hit.first - 2] if hit.first > 1 else "."
        return low[hit.first - 1] not in self.lexicon.reigns or before in ("&", "and", "by", ".", ";", "\n")

    def _back(self, before: int, *, through_trade: int) -> int:
        """Walk back from `before` over one name; at most `through_trade` words of the trade next to it belong to it."""
        tokens, at = self.tokens, before
        while at > 0 and before - at < _LONGEST:
            i = at - 1
            low = tokens.low[i]
            if self.covered[i] or tokens.sentence[i] != tokens.sentence[before] or low == "\n":
                break
            if low in (".", "'", "&"):
                if low == "." and i and len(tokens.low[i - 1]) > 4:
                    break
                at = i
                continue
            if tokens.cap[i] == LOWER or (self._breaks(i) and before - i > through_trade):
                if (
                    low not in self.lexicon.particles
                    or low in ("of", "the", "and")
                    or i == 0
                    or tokens.cap[i - 1] == LOWER
                ):
                    break
            elif self._steers(i):
                break
            at = i
        while at < before and (not tokens.low[at][0].isalnum()):
            at += 1
        return at

    def _people(self) -> list[Name]:
        names: list[Name] = []
        given, low, covered, past = self.lexicon.given, self.tokens.low, self.covered, 0
        for i in compress(count(), self.tokens.cap):  # the capitals: LOWER is 0
            if low[i] not in given and not (len(low[i]) == 1 and self._initial(i)):
                continue
            if i < past or covered[i] or self._long_place(i):
                continue
            end = self._surname_end(i)
            if end > i + 1:
                names.append(Name(i, end, "person"))
                past = end
        return names

    def _partners(self) -> list[Name]:
        """ ", Yates & Birch,": two capitals joined between stops, one of them unknown, are a firm."""
        tokens, low, n = self.tokens, self.tokens.low, len(self.tokens)
        if "&" not in tokens.words:
            return []
        found = []
        for i in range(1, n - 1):
            if low[i] != "&" or tokens.cap[i - 1] != CAPITAL or tokens.cap[i + 1] != CAPITAL:
                continue
            opens = i == 1 or low[i - 2] in ",;(\n" or self._sentence_start(i - 1)
            closes = i + 2 >= n or not low[i + 2][0].isalnum()
            one, other = self.at.get(i - 1), self.at.get(i + 1)
            known = [hit for hit in (one, other) if hit is not None]
            unknown = len(known) < 2 and all(hit.side in ("material", "place") for hit in known)
            if opens and closes and unknown and not self.covered[i - 1] and not self.covered[i + 1]:
                found.append(Name(i - 1, i + 2, "partners"))
        return found

    def _offices(self) -> list[Name]:
        """Earl of Derby, Museum of London: the town is part of a title and no place of making."""
        tokens, low = self.tokens, self.tokens.low
        found: list[Name] = []
        if _OFFICES.isdisjoint(tokens.words) and SHIPS.isdisjoint(tokens.words):
            return found
        for i in range(1, len(low) - 1):
            if low[i - 1] in SHIPS and tokens.cap[i] != LOWER and not self.covered[i]:
                found.append(Name(i - 1, i + 1, "office"))
            if low[i] != "of" or low[i - 1] not in _OFFICES or tokens.cap[i - 1] == LOWER:
                continue
            end = i + 1 + (low[i + 1] == "the")
            if end < len(low) and tokens.cap[end] != LOWER and not self.covered[end]:
                found.append(Name(i - 1, max(end + 1, self.at[end].last if end in self.at else 0), "office"))
        return found

    def _long_place(self, i: int) -> bool:
        """The W. of "W. Country"."""
        hit = self.at.get(i)
        return hit is not None and hit.side == "place" and hit.last - hit.first > 1

    def _initial(self, i: int) -> bool:
        low = self.tokens.low
        return len(low[i]) == 1 and i + 1 < len(low) and low[i + 1] == "." and low[i] != "c"

    def _surname_end(self, i: int) -> int:
        """Where the name that begins with a given name or initial at `i` ends; `i` itself when it is no name."""
        tokens, low = self.tokens, self.tokens.low
        j, surname = i + 1, False
        while (
            j < len(low)
            and j - i < _LONGEST
            and not self.covered[j]
            and tokens.sentence[j] == tokens.sentence[i]
        ):
            word = low[j]
            if (
                (word == "." and len(low[j - 1]) <= 6)
                or self._partner(j, surname)
                or (
                    word in self.lexicon.particles
                    and j + 1 < len(low)
                    and tokens.cap[j + 1] != LOWER
                    and word not in ("of", "the", "and", "&")
                )
            ):
                j += 1
            elif (
                tokens.cap[j] == LOWER
                or not word[0].isalpha()
                or word in _ENDS_A_NAME
                or (self._breaks(j) and low[j - 1] != "&" and (surname or self._reign(i, j)))
            ):
                break
            else:
                surname = surname or (word not in self.lexicon.given and not self._initial(j))
                j += 1
        while j > i and low[j - 1] in (".", "&") and not self._initial(j - 2):
            j -= 1
        return j if surname else i

    def _partner(self, j: int, surname: bool) -> bool:
        """ "& Creek" after a surname."""
        tokens = self.tokens
        if tokens.low[j] not in ("&", "and") or j + 1 >= len(tokens) or tokens.cap[j + 1] != CAPITAL:
            return False
        return (surname and tokens.low[j] == "&") or (not surname and tokens.low[j + 1] in self.lexicon.given)

    def _reign(self, i: int, j: int) -> bool:
        """George, Anne, Louis and the like alone before a word of the trade are a period, not a given name."""
        return self.tokens.low[j - 1] in self.lexicon.reigns and j == i + 1

    def _breaks(self, i: int) -> bool:
        hit = self.at.get(i)
        return hit is not None and hit.side in _BREAKS

    def _steers(self, i: int) -> bool:
        hit = self.at.get(i)
        return hit is not None and hit.side in (
            "qualifier",
            "provenance",
            "evidence",
            "negator",
            "unknown",
            "mark",
        )

    def _is_trade(self, i: int) -> bool:
        hit = self.at.get(i)
        return hit is not None and hit.side in _TRADE

    def _trade_follows(self, i: int) -> bool:
        return (
            i < len(self.tokens)
            and self.tokens.cap[i] != LOWER
            and self._is_trade(i)
            and self.at[i].side != "place"
        )

    def _sentence_start(self, i: int) -> bool:
        return i == 0 or self.tokens.sentence[i - 1] != self.tokens.sentence[i]

    def stands_in_name(self, hit: Hit) -> bool:
        """True for a capitalised material beside a capital nobody knows: Holloway Brass, Silver Wharton."""
        tokens, low = self.tokens, self.tokens.low
        if tokens.cap[hit.first] != CAPITAL or hit.last - hit.first > 1:
            return False
        after, before = hit.last, hit.first - 1
        if self._turned_round(hit) or self._in_partnership(hit) or self._surname_of_line(hit):
            return True
        if after < len(low) and (self.covered[after] or self.at.get(after) is not None):
            follows = self.at.get(after)
            if follows is None or follows.side in _TRADE:
                return False
        if self._sentence_start(hit.first) and self._thing_follows(after):
            return False
        if before > 0 and low[before] == "of" and low[before - 1] != "made":
            return True
        if self._unknown(after, hit):
            return True
        return self._unknown(before, hit) and low[before] not in COLOURS and not self._sentence_start(before)

    def _thing_follows(self, i: int) -> bool:
        """ "Pewter Passover plate": the capital after the substance is followed by a thing in small letters."""
        thing = self.at.get(i + 1)
        small = i + 1 < len(self.tokens) and self.tokens.cap[i + 1] == LOWER
        return small and thing is not None and thing.side in ("object", "part")

    def stands_in_title(self, hit: Hit) -> bool:
        """Great Exhibition, Royal Oak: a word of praise with a capital, amid a sentence, beside a capital nobody knows."""
        i = hit.first
        if self.tokens.cap[i] != CAPITAL or self._sentence_start(i):
            return False
        return (
            self._unknown(hit.last, hit)
            or self._unknown(i - 1, hit)
            or self.tokens.low[i - 1] in self.lexicon.given
        )

    def _in_partnership(self, hit: Hit) -> bool:
        """Reed & Barrow, Lincoln and Reed: joined by "&" or "and" to a capital that is no word of the trade."""
        low, cap = self.tokens.low, self.tokens.cap
        after, before = hit.last + 1, hit.first - 2
        if hit.last < len(low) and low[hit.last] in _JOINS and self._unknown(after, hit):
            if low[after + 1 : after + 2] and low[after + 1] in self.lexicon.grammar.look_after:
                return False
            return after + 1 >= len(low) or cap[after + 1] != CAPITAL or self._sentence_start(after + 1)
        if before < 0 or low[before + 1] not in _JOINS or cap[before] != CAPITAL:
            return False
        other = self.at.get(before)
        partner = self._unknown(before, hit) or (other is not None and other.side == "place")
        alone = low[before - 1 : before] == [","] and (hit.last >= len(low) or not low[hit.last][0].isalnum())
        return partner and (alone or self._sentence_start(before))

    def _surname_of_line(self, hit: Hit) -> bool:
        """Beatrix Stone: an unknown capital and the word are all that stands on the line."""
        before, n = hit.first - 1, len(self.tokens)
        return (
            self._unknown(before, hit)
            and self._sentence_start(before)
            and (hit.last >= n or self.tokens.low[hit.last] in ("\n", "(", ";"))
        )

    def _turned_round(self, hit: Hit) -> bool:
        """Wood, Thomas: a surname before its given name, alone at the start of its sentence."""
        low, at = self.tokens.low, hit.last + 1
        if (
            not self._sentence_start(hit.first)
            or at >= len(low)
            or low[hit.last] != ","
            or low[at] not in self.lexicon.given
        ):
            return False
        return at + 1 >= len(low) or not low[at + 1][0].isalpha()

    def _unknown(self, i: int, hit: Hit) -> bool:
        tokens = self.tokens
        return (
            0 <= i < len(tokens)
            and tokens.cap[i] == CAPITAL
            and tokens.sentence[i] == tokens.sentence[hit.first]
            and not self.covered[i]
            and self.at.get(i) is None
            and tokens.low[i] not in self.lexicon.function
        )

    def run_after(self, i: int) -> int:
        """Where a name beginning at `i` ends, read greedily: capitals, initials, "&", firm words, particles."""
        tokens, low = self.tokens, self.tokens.low
        j, n = i, len(low)
        while j < n and j - i < _LONGEST and not self.covered[j] and tokens.sentence[j] == tokens.sentence[i]:
            word = low[j]
            hit = self.at.get(j)
            if hit is not None and j > i and any(e.side == "firm" for e in hit.entries):
                j = hit.last
                if low[j : j + 1] == ["."] and not self._firm_at(j + 1):
                    break
            elif tokens.cap[j] != LOWER and word[0].isalpha():
                if j > i and word in _ENDS_A_NAME:
                    break
                if (
                    j > i
                    and hit is not None
                    and hit.side in _BREAKS
                    and hit.side != "puff"
                    and low[j - 1] != "&"
                ):
                    break
                j += 1
            elif word in ("&", "and", "'") or word in self.lexicon.particles:
                of_a_body = word == "of" and low[j - 1] in _BODIES
                if (
                    j == i
                    or j + 1 >= n
                    or tokens.cap[j + 1] == LOWER
                    or (word in ("of", "the") and not of_a_body)
                ):
                    break
                j += 1
            elif (
                word == "."
                and j > i
                and len(low[j - 1]) <= 6
                and j + 1 < n
                and (tokens.cap[j + 1] != LOWER or low[j + 1] == "&" or self._particle(j + 1))
            ):
                if tokens.sentence[j + 1] != tokens.sentence[i]:
                    break
                j += 1
            else:
                break
        return j

    def _particle(self, i: int) -> bool:
        """The "van" of J. van Ende."""
        return self.tokens.low[i] in self.lexicon.particles and self.tokens.cap[i + 1 : i + 2] == [CAPITAL]

    def _firm_at(self, i: int) -> bool:
        hit = self.at.get(i)
        return hit is not None and any(e.side == "firm" for e in hit.entries)


def tells_a_life(hit: Hit, tokens: Tokens) -> bool:
    """ "a maker working 1660-1690", "working in London": said of a person, no state of the thing."""
    low, after = tokens.low, hit.last
    return (
        low[hit.first] == "working"
        and hit.last - hit.first == 1
        and after < len(low)
        and (low[after].isdigit() or low[after] in ("in", "c", "circa", "from", "between"))
    )


def names_a_circle(hit: Hit, tokens: Tokens) -> bool:
    """ "the Coalbrookdale group": people who worked together, no group of figures."""
    i = hit.first
    return tokens.low[i] == "group" and i > 1 and tokens.low[i - 2] == "the" and tokens.cap[i - 1] != LOWER
