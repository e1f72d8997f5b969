"""Claims put together in the order in which they stand, and what is left over."""

import re
from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from dataclasses import replace
from itertools import compress, count
from operator import itemgetter, not_

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.lexicon import Lexicon
from planish.reasoning.reading.measures import Measured, MeasureFound, value_for
from planish.reasoning.reading.measures.agreement import Sized, contradictions
from planish.reasoning.reading.terms.letters import Inscription
from planish.reasoning.reading.terms.naming.bronzes import A_BRONZE
from planish.reasoning.reading.terms.naming.credits import MakerFound
from planish.reasoning.reading.terms.naming.names import Name
from planish.reasoning.reading.tokens import Tokens
from planish.records import (
    Claim,
    ClaimValue,
    MakerValue,
    Problem,
    Side,
    Slot,
    Span,
    Strength,
    TermValue,
    Unread,
)
from planish.records.frozen import filler

_SIDES: dict[str, Side] = {
    side: side
    for side in (
        "object", "count", "place", "material", "surface", "technique", "decoration", "mark", "inscription",
        "state", "style", "provenance", "evidence", "puff",
    )
}  # fmt: skip
_SIDES["part"] = "object"
_SIDES["form"] = "object"
_STRENGTHS: dict[str, Strength] = {s: s for s in ("stated", "likely", "possible", "open", "denied")}
_SILENT = frozenset(
    {"function", "negator", "doubter", "price", "qualifier", "unknown", "likeness", "coat", "joins"}
)
_PRECIOUS = frozenset({"silver", "gold"})
_ROUND = frozenset(
    {"rim", "base", "foot", "lip", "mouth", "well", "bowl", "dial", "mirror", "lens", "wheel", "plate"}
)
"""Parts whose bare size is usually taken across (common practice, no source)."""
_LONG = frozenset({"handle", "blade", "shaft", "spout", "barrel", "stem"})
"""Parts whose bare size is usually taken along (common practice, no source)."""
_filled, _span, _unread = filler(Claim), filler(Span), filler(Unread)
_SPANS = frozenset({"width", "diameter", "length"})
"""What is told of a part right before the figures; a height is the whole object's ("loaded bases 12 in high")."""
_STOPS = frozenset(",;(.:\n")
_HANGS = frozenset({"with", "on", "and", "to", "over", "of", "in", "at", "for", "by"})
_DAMAGES = frozenset(
    name + ending
    for name in ("split", "crack", "tear", "hole", "dent", "chip", "scratch", "patch")
    for ending in ("", "s", "es")
)
_DAMAGED = re.compile(r"\b(split|crack|tear|hole|dent|chip|scratch|patch)e?s?\b[^.;\n]*$", re.IGNORECASE)
"""Damage told of in the same clause: "a filled split at the back, 2 cm long" measures the split."""
_DAMAGE_BEHIND = re.compile(
    r"\)?[ -](?:old |long |small )?(split|crack|tear|hole|dent|chip|scratch|hairline)(?:e?s)?\b",
    re.IGNORECASE,
)
"""A damage right behind its size: "a small (c. 1 inch) scratch"."""
_ONE_DAMAGE = re.compile(
    r"\b(?:a|an|one|two|three|with|small|tiny|short|long|old|hairline|minor|slight|filled|single|edge|rim|slim|large)\s$",
    re.IGNORECASE,
)
"""What stands before a damage told of as a noun: "a small split, 2 cm", and not "peak split, 5 cm"."""
_SMALL = 60
"""Millimetres that a size behind "dents, " may have to be the dent's and not the thing's (house default)."""
_DESCRIBED = re.compile(r"(?:[a-z][a-z-]* ){1,3}")
"""Up to three words, no stop between, before the part that a figure measures."""
_SAID_TO_BE = re.compile(
    r"\s(?:is|are|was|measures?|measuring)(?:\s(?:about|approx\.?|approximately|some|roughly|just|only))*$"
)
"""Between a part and its size: "the lid is about 15 cm across"."""
_UP_TO = (["to"], ["over"], ["including"], ["incl"], ["inc"], ["excluding"], ["excl"], ["without"])
"""Before a part these say how far the thing itself was measured: "to rim 15 cm, over finial 24 cm"."""
_LEADS = 40
"""Characters within which a size may stand before the thing it is of ("12 in brass charger")."""
_WHICH = "the words differ between houses: the rule book's definition decides"


class Assembly:
    """Claims being gathered for one text. Not shared, not kept: `claims_in_order` gives the frozen result."""

    def __init__(self, tokens: Tokens) -> None:
        self.tokens = tokens
        self.covered = bytearray(len(tokens))
        self.problems: list[Problem] = []
        self.measured = Measured()
        self._drafts: list[tuple[int, int, _Draft]] = []
        self._usual = ""
        self._usual_at = -1
        self._flat = False
        self._main_term = ""
        self._precious_at = -1
        self._part_ends: dict[int, str] = {}
        self._clause_ends: dict[int, str] = {}
        self._part_starts: dict[int, str] = {}
        self._company_ends: dict[int, str] = {}
        self._apart_ends: dict[int, str] = {}
        self._told_apart: dict[int, str] = {}
        self._company_usual: dict[str, str] = {}

    def cover(self, start: int, end: int) -> None:
        """Mark the tokens that touch characters `start`..`end` as read."""
        first, last = bisect_right(self.tokens.end, start), bisect_left(self.tokens.start, end)
        if first < last:
            self._mark(first, last)

    def add(self, claim: Claim) -> None:
        """Add a claim made elsewhere."""
        draft = (
            claim.side,
            claim.value,
            claim.part,
            claim.strength,
            claim.qualifier,
            claim.other,
            claim.told_apart_by,
        )
        self._drafts.append((claim.span.start, claim.span.end, draft))

    def _claim(
        self, side: Side, value: ClaimValue, start: int, end: int, *, part: str = "", strength: str = "stated", qualifier: str = "",
        other: tuple[ClaimValue, ...] = (), told: str = "",
    ) -> None:  # fmt: skip
        self._drafts.append((start, end, (side, value, part, strength, qualifier, other, told)))

    def price(self, start: int, end: int) -> None:
        """A price, kept as written."""
        self.cover(start, end)
        self._claim("price", TermValue(term=self.tokens.text[start:end], kind="price"), start, end)

    def cover_measures(self) -> None:
        """Mark what the measures have read; their problems are kept."""
        for found in self.measured.found:
            self.cover(found.item.start, found.end)
        for start, end in self.measured.read_besides:
            self.cover(start, end)
        self.problems += self.measured.problems

    def measures(self) -> None:
        """Measures become claims once the object is known: plates are measured across, spoons along."""
        before: MeasureFound | None = None
        sizes: list[Sized] = []
        for found in self.measured.found:
            start = found.item.start
            found.part = found.part or self._part_of(found, before)
            before = found
            value, other, told = value_for(
                found,
                usual=self._usual_over(found.part, start),
                precious=0 <= self._precious_at < start,
                flat=self._flat and 0 <= self._usual_at < start and not found.part,
            )
            strength = "likely" if found.by_order else "stated"
            sizes.append(Sized(value, found.part, not found.by_order, start, found.end))
            self._claim(
                "measure", value, start, found.end, part=found.part, strength=strength, other=other, told=told
            )
        if len(sizes) > 1:
            self.problems += contradictions(self.tokens.text, sizes)

    def _part_of(self, found: MeasureFound, before: MeasureFound | None) -> str:
        """A part beside the figures; the later figures of one size have the part of the first."""
        start = found.item.start
        damaged = found.unit.base == "mm" and not _DAMAGES.isdisjoint(self.tokens.words)
        if damaged and (damage := self._damage_before(found)):
            return damage
        if found.unit.base == "g" and not found.item.role_word:
            return self._part_weighed(start, before)
        if found.role and found.unit.base == "mm":
            return self._part_measured(found)
        if not found.role and found.item.unit is not None:
            return self._part_beside(start, found.end)
        if not found.by_order:
            return ""
        one_size = before is not None and before.by_order and before.lengths == found.lengths
        if before is not None and one_size and start - before.end < 6:
            return before.part
        return self._sized_before(start)

    def _damage_before(self, found: MeasureFound) -> str:
        """The damage that a size tells of; behind a comma only a small one does."""
        start = found.item.start
        small = found.item.value * found.unit.amount <= _SMALL
        if small and (behind := _DAMAGE_BEHIND.match(self.tokens.text, found.end, found.end + 24)):
            return behind[1].lower()
        damage = _DAMAGED.search(self.tokens.text, max(0, start - 60), start)
        if damage is None:
            return ""
        at = damage.start()
        named = small and _ONE_DAMAGE.search(self.tokens.text, max(0, at - 12), at)
        return "" if "," in damage[0] and not named else damage[1].lower()

    def _part_beside(self, start: int, end: int) -> str:
        """ "barrel 25 cm", "25 cm barrel": the part right before a bare size, or right after it."""
        text = self.tokens.text
        before = self._part_before(start)
        goes_on = text[end : end + 1] == " " and (text[end - 1] != "." or text[end + 1 : end + 2].islower())
        return before or (self._part_after(start, end) if goes_on else "")

    def _part_after(self, start: int, end: int) -> str:
        """ "33 in. blade"; "9 inch enamel dial" where the figure opens its clause."""
        text = self.tokens.text
        if end + 1 in self._part_starts:
            return self._part_starts[end + 1]
        led = text[:start].rstrip()
        if led[-1:] not in ("", ",", ";", ".", "(", ":", "\n") and not led.endswith(
            (" with", " has", " having")
        ):
            return ""
        described = _DESCRIBED.match(text, end + 1, end + 40)
        return next(
            (
                part
                for at, part in self._part_starts.items()
                if described
                and end < at <= described.end()
                and text[at - 1] == " "
                and _HANGS.isdisjoint(text[end:at].split())
            ),
            "",
        )

    def _part_before(self, start: int) -> str:
        """ "tongs, poker 29 in": what stands right before a bare size, a part or a thing set apart by its comma."""
        end = len(self.tokens.text[:start].rstrip(" ("))
        if said := _SAID_TO_BE.search(self.tokens.text, max(0, end - 40), end):
            end = said.start()
        return self._part_ends.get(end, "") or self._apart_ends.get(end, "")

    def _part_weighed(self, start: int, before: MeasureFound | None) -> str:
        """ "weights 7 lb to ½ oz": each is one of the weights that come with the scales."""
        text = self.tokens.text
        if (
            before is not None
            and before.unit.base == "g"
            and text[before.end : start].strip() in ("to", "-", "–")
        ):
            return before.part
        end = len(text[:start].rstrip())
        up_to = text[:end].removesuffix(" to").removesuffix(" up")
        return self._company_ends.get(end, "") or self._company_ends.get(len(up_to), "")

    def _part_measured(self, found: MeasureFound) -> str:
        """ "shade height 12 cm"; "bowl 10 cm across" where the part opens its clause: a size with its role may be a part's."""
        end = len(self.tokens.text[: found.item.start].rstrip())
        if said := _SAID_TO_BE.search(self.tokens.text, max(0, end - 40), end):
            return self._part_ends.get(said.start(), "") or self._company_ends.get(said.start(), "")
        if found.item.prefixed and len(found.item.role_word) > 2:
            return self._part_ends.get(end, "") or self._company_ends.get(end, "")
        apart = self._told_apart.get(end, "")  # "Ewer 35 cm high" of an ewer and basin
        return apart or (self._clause_ends.get(end, "") if found.role in _SPANS else "")

    def _sized_before(self, start: int) -> str:
        """ "box 22 x 15 cm" beside a compass: the size of what stands right before it."""
        end = len(self.tokens.text[:start].rstrip())
        return self._part_ends.get(end, "") or self._company_ends.get(end, "")

    def _usual_over(self, part: str, start: int) -> str:
        if part in _ROUND:
            return "diameter"
        if part in _LONG:
            return "length"
        if part in self._company_usual:
            return self._company_usual[part]
        near = 0 <= self._usual_at < start + _LEADS
        return self._usual if near and not part else ""

    def maker(self, found: MakerFound, part: str = "") -> None:
        """A maker; a qualifier on which houses differ is said to be so."""
        start, end = self.tokens.start[found.first], self.tokens.end[found.last - 1]
        self._mark(found.first, found.last)
        other: tuple[ClaimValue, ...] = ()
        if found.differs:
            other = (replace(found.value, period=_other_period(found.value)),)
        self._claim(
            "maker",
            found.value,
            start,
            end,
            part=part,
            strength=found.strength,
            qualifier=found.qualifier,
            other=other,
            told=f"{_WHICH}; {found.differs}" if found.differs else "",
        )

    def inscription(self, found: Inscription, lexicon: Lexicon) -> None:
        """Letters on the object. A stamp that names a substance says so in `more`; the reader does not."""
        start, end = self.tokens.start[found.first], self.tokens.end[found.last - 1]
        self._mark(found.first, found.last)
        text = self.tokens.text[start:end]
        says = tuple(lexicon.says[w] for w in self.tokens.low[found.first : found.last] if w in lexicon.says)
        side: Side = (
            "mark"
            if found.word in ("stamped", "marked", "marks", "mark", "stamp", "impressed")
            else "inscription"
        )
        more = {"says": says} if says else {}
        self._claim(side, TermValue(term=text, kind=found.word or "letters", more=more), start, end)

    def names(self, names: Iterable[Name]) -> None:
        """Names are read, though they may claim nothing; a firm that made nothing here stays to be seen as unread."""
        for name in names:
            if name.kind not in ("guess", "firm", "partners"):
                self._mark(name.first, name.last)

    def terms(self, hits: list[Hit], lexicon: Lexicon) -> None:
        """Words of the trade, each by its side; things spoken of after the first sentence with an object are mentions."""
        for k, hit in enumerate(hits):
            if hit.side in _SILENT or hit.side not in _SIDES:
                self._mark(hit.first, hit.last) if hit.side in _SILENT and hit.side != "unknown" else None
                if hit.side == "price":
                    self._stock_number(hit.last)
                continue
            if 1 in self.covered[hit.first : hit.last]:
                continue
            value = hit.entry.value
            if hit.likeness:
                words = " ".join(self.tokens.low[hit.first : hit.last])
                value = TermValue(term=words, kind="likeness")
            elif hit.mention:
                value = TermValue(term=value.term, kind="mention", more=value.more)
            elif hit.side == "object":
                if self._usual_at < 0:
                    self._main_term = value.term
                    self._usual, self._usual_at = (
                        str(value.more.get("measured", "")),
                        self.tokens.start[hit.first],
                    )
                    self._flat = bool(value.more.get("flat"))
            elif hit.side == "material":
                self._note_precious(hit)
            elif hit.side == "count":
                value = _counted(value, hits, k, self.tokens, lexicon)
                if value.more.get("number") and self.tokens.low[hit.last : hit.last + 1] == [
                    str(value.more["number"])
                ]:
                    self._mark(hit.last, hit.last + 1)
            self._term(hit, value)

    def _stock_number(self, at: int) -> None:
        """ "stock no. 4471", "ref: B 112": the dealer's own number, which claims nothing of the thing."""
        low = self.tokens.low
        last = at
        while (
            last < len(low)
            and last - at < 5
            and (low[last] in ".:/-" or low[last].isdigit() or len(low[last]) == 1)
        ):
            last += 1
        if any(word.isdigit() for word in low[at:last]):
            self._mark(at, last)

    def named_by_its_metal(self, hit: Hit) -> None:
        """The word for bronze says what the thing is as well as its substance."""
        start, end = self.tokens.start[hit.first], self.tokens.end[hit.last - 1]
        self._claim("object", A_BRONZE, start, end, strength="likely")
        self._usual, self._usual_at = str(A_BRONZE.more["measured"]), start

    def coat_listed(self, hit: Hit, value: TermValue) -> None:
        """ "silver, gilding": a coat listed among the substances is one of them too, while it is of the whole."""
        if hit.strength != "denied" and not hit.part:
            self._claim("material", value, self.tokens.start[hit.first], self.tokens.end[hit.last - 1])

    def _note_precious(self, hit: Hit) -> None:
        if (
            self._precious_at < 0
            and hit.entry.value.kind in _PRECIOUS
            and not hit.part
            and hit.strength != "denied"
        ):
            self._precious_at = self.tokens.start[hit.first]

    def _term(self, hit: Hit, value: TermValue) -> None:
        start = self.tokens.start[hit.first]
        end = hit.end if hit.end > 0 else self.tokens.end[hit.last - 1]
        self._mark(hit.first, hit.last)
        if hit.side == "part" and self.tokens.low[hit.first - 1 : hit.first] not in _UP_TO:
            self._part_ends[end] = self._part_starts[start] = hit.part
            if self._opens_clause(hit.first):
                self._clause_ends[end] = hit.part
        elif value.kind == "mention" and hit.side == "object":
            self._part_starts[start] = self._company_ends[end] = value.term
            self._company_usual[value.term] = str(value.more.get("measured", ""))
            again = self._main_term.endswith(value.term) and " and " not in self._main_term
            if not again and self._main_term != value.term and self._opens_clause(hit.first):
                self._told_apart[end] = value.term
            if hit.first and self.tokens.low[hit.first - 1] in ",;." and not again:
                self._apart_ends[end] = value.term
        if hit.letters:
            value = TermValue(term=value.term, kind=value.kind, more={**value.more, "letters": hit.letters})
        self._claim(
            _SIDES[hit.side], value, start, end, part=hit.part, strength=hit.strength or hit.entry.strength
        )

    def _opens_clause(self, i: int) -> bool:
        """True for the base in ", brass base 12 cm wide": nothing but describing words since the last stop."""
        for word in self.tokens.low[i - 1 : max(i - 4, -1) : -1] if i else ():
            if word in _STOPS:
                return True
            if not word[0].isalpha() or word in _HANGS:
                return False
        return i == 0

    def _mark(self, first: int, last: int) -> None:
        if last - first == 1:
            self.covered[first] = 1
        else:
            self.covered[first:last] = b"\1" * (last - first)

    def claims_in_order(self) -> tuple[Claim, ...]:
        """All claims as they stand in the text, numbered c1, c2, ..."""
        text = self.tokens.text
        ordered = sorted(self._drafts, key=_PLACE)
        claims = []
        for number, (start, end, (side, value, part, strength, qualifier, other, told)) in enumerate(
            ordered, 1
        ):
            settled = _STRENGTHS.get(strength, "stated")
            span, words = _span(start, end), text[start:end]
            claims.append(
                _filled(f"c{number}", side, value, words, span, part, qualifier, settled, other, told)
            )
        return tuple(claims)

    def unread(self, lexicon: Lexicon) -> tuple[Unread, ...]:
        """Runs of words and figures that nobody read, joined over the words that only join."""
        tokens, function = self.tokens, lexicon.function
        runs: list[list[int]] = []
        open_run = False
        low, before = tokens.low, -1
        for i in compress(count(), map(not_, self.covered)):
            word = low[i]
            open_run = open_run and i == before + 1
            before = i
            if not word[0].isalnum():
                open_run = open_run and word in "&'’.-/"
            elif word in function:
                continue
            elif open_run:
                runs[-1][1] = i
            else:
                runs.append([i, i])
                open_run = True
        spans = [(tokens.start[a], tokens.end[b]) for a, b in runs]
        return tuple([_unread(tokens.text[s:e], _span(s, e)) for s, e in spans])


_Draft = tuple[Side, ClaimValue, str, str, str, tuple[ClaimValue, ...], str]
"""A claim still without its number: side, value, part, strength, qualifier, other readings, what tells them apart."""


_PLACE = itemgetter(0, 1)


def _other_period(value: MakerValue) -> Slot:
    return "no" if value.period == "open" else "open"


def _counted(value: TermValue, hits: list[Hit], k: int, tokens: Tokens, lexicon: Lexicon) -> TermValue:
    """A set of how many: the figure or number word right after it ("set of twelve", "set of 6")."""
    if value.more.get("number"):
        return value
    at = hits[k].last
    if at < len(tokens) and tokens.low[at] == "of":
        at += 1
    word = tokens.low[at] if at < len(tokens) else ""
    number = lexicon.numbers.get(word, int(word) if word.isdecimal() and len(word) < 5 else 0)
    return TermValue(term=value.term, kind=value.kind, more={"number": number} if number else {})
