"""What a date speaks of: the making, a part, the ornament, a repair, an inscription, or only a story about the object."""

import re
from bisect import bisect_left, bisect_right
from collections.abc import Mapping
from dataclasses import replace

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.terms.dating.beside import names_a_taste, of_a_design, of_a_paper
from planish.reasoning.reading.terms.dating.second_dates import (
    MODELS,
    of_another,
    part_before,
    refines,
    struck_afterwards,
)
from planish.reasoning.reading.terms.dating.tastes import is_a_taste
from planish.reasoning.reading.terms.dating.using import tells_a_use
from planish.reasoning.reading.terms.dating.written_dates import (
    AND_THE_DATE,
    STRUCK_LATER,
    after_letters,
    given_on,
)
from planish.reasoning.reading.terms.phrasing.phrase import Phrase, is_motif
from planish.reasoning.reading.tokens import Tokens
from planish.records import Claim, DateValue, Side, TermValue
from planish.records.evidence import Event

_STORY = ("provenance", "evidence")
_REPAIRS = frozenset({"restored", "refinished", "altered"})
_AFTERWARDS = frozenset({"designed", "repair", "decorated", "inscribed", "finish_applied"})
_OF_THE_WORK = frozenset({"designed", "cast", "printed"})
"""Told in a line of its own these date the work: dates in the prose below are only its story."""
_AGAIN = (
    "repaint",
    "overpaint",
    "regil",
    "re-gil",
    "replat",
    "re-plat",
    "retin",
    "re-tin",
    "restor",
    "repair",
    "replace",
)
"""How words begin that tell of work done to an older thing."""
_YEAR = re.compile(r"\d{4}|\d(?:st|nd|rd|th)\b")
"""A year or century still to come in the text."""
_LONG_SINCE = 60
"""Years that no owner's time and no find takes: a century told of a thing is when it was made (house default)."""
_PROSE = 120
"""Characters from which a line is prose and no heading (house default, common practice, no source)."""
_GONE = frozenset({"missing", "incomplete", "liner missing"})
_RETAIL = frozenset({"retailed by", "sold by", "supplied by"})


class DatePlacer:
    """Settles dates one by one, with the words before and after each in the same sentence."""

    def __init__(
        self,
        tokens: Tokens,
        hits: list[Hit],
        when: Mapping[int, Phrase],
        lettered: list[tuple[int, int]],
        story: list[tuple[int, int]],
    ) -> None:
        self.tokens, self.hits, self.when = tokens, hits, when
        self.lettered, self.story = lettered, story
        self.starts = [tokens.start[hit.first] for hit in hits]
        self.made_in = -1
        self.made: DateValue | None = None
        self.headed = False

    def place(self, claim: Claim) -> Claim:
        """The same claim with the event and part that its surroundings give it."""
        value = claim.value
        if not isinstance(value, DateValue) or claim.side == "inscription":
            return claim
        s, e = claim.span.start, claim.span.end
        if value.event == "body_made" and names_a_taste(self.tokens.text, e):
            return replace(claim, side="style", value=TermValue(term=claim.words, kind="style"))
        if self._is_written(value, s, e):
            return _moved(claim, value, "inscribed", "", side="inscription")
        in_use = not value.said and tells_a_use(self.tokens, s)
        if in_use or (
            self.story and any(a <= s < b for a, b in self.story) and not self._closes_the_label(claim, value)
        ):
            return _moved(claim, value, "label", "", side="provenance")
        if value.event == "body_made" and not claim.part and self._behind_closed_clause(claim, value):
            return self._main_or_story(claim, value)
        told = self._from_phrase(claim, value)
        if told is not None:
            return told
        if value.event in _AFTERWARDS and self.made_in < 0 and not claim.part and self._set_off(claim):
            made = replace(value, event="body_made")
            claim = replace(claim, value=made)
            if _tells_of_ornament(value, claim.words):
                return self._main_or_story(claim, made)
            value = made
        at = bisect_right(self.starts, s)
        if value.event == "repair" and not claim.part and at and self.hits[at - 1].side == "part":
            near = self.tokens.text[self.tokens.end[self.hits[at - 1].last - 1] : s]
            return replace(claim, part=self.hits[at - 1].entry.value.term) if near.strip() == "" else claim
        self._note_the_work(claim, value)
        if claim.part or value.event != "body_made":
            return claim
        placed = self._from_before(claim, value, at) or self._from_after(claim, value, at)
        if placed is not None:
            return placed
        return self._main_or_story(claim, value)

    def _note_the_work(self, claim: Claim, value: DateValue) -> None:
        """A line of its own with a word such as "cast" heads the label as a year of making does."""
        told = not claim.part and value.event in _OF_THE_WORK and self.made_in < 0
        if told and not self._in_prose(claim):
            self.made_in, self.headed = self.tokens.text.count("\n", 0, claim.span.start), True

    def _is_written(self, value: DateValue, start: int, end: int) -> bool:
        """Among the letters on the object, right behind them, or a plain year behind a word of lettering."""
        if self.lettered and any(a <= start and end <= b for a, b in self.lettered):
            return True
        if value.said == "the date" and _may_be_written(value):
            return True  # "has the date 1652 pricked in it"
        if value.said == "dated" and given_on(self.tokens.text, start):
            return True
        told = not value.said or value.said in AND_THE_DATE
        plain = value.event == "body_made" and told and _may_be_written(value)
        return plain and (
            after_letters(self.tokens, self.hits, self.starts, start, value.said)
            or any(start - b == 1 or self.tokens.text[b:start] == " - " for _, b in self.lettered)
        )

    def _closes_the_label(self, claim: Claim, value: DateValue) -> bool:
        """ "formerly the property of a lady, c. 1680.", "excavated in Kent, 15th century, 19 cm": a circa at the very end, or
        the label's only century, set off, is the making's."""
        text, s, e = self.tokens.text, claim.span.start, claim.span.end
        first, last = value.years.earliest, value.years.latest
        century = first is not None and last is not None and last - first > _LONG_SINCE
        return (
            (century or (value.approximate and not text[e:].strip(" .")))
            and value.event == "body_made"
            and self.made_in < 0
            and text[:s].rstrip().endswith(",")
        )

    def _from_phrase(self, claim: Claim, value: DateValue) -> Claim | None:
        """ "copy of a 16th century ewer", "portrait of George III", "mounts French c. 1745"."""
        phrase = self.when.get(bisect_left(self.tokens.start, claim.span.start))
        if phrase is None or claim.part:
            return None
        if phrase.likeness or is_a_taste(claim, value, phrase):
            kind = "likeness" if phrase.likeness else "style"
            return replace(claim, side="style", value=TermValue(term=claim.words, kind=kind))
        head, first = phrase.head, bisect_left(self.tokens.start, claim.span.start)
        if first and head is not None and head.side == "mark" and self.tokens.low[first - 1] in _FALSE:
            return replace(claim, side="style", value=TermValue(term=claim.words, kind="likeness"))
        if (
            value.event == "body_made"
            and phrase.relation
            and head is not None
            and head.side == "part"
            and first < head.first
            and self._opens_here(first)
            and self.tokens.sentence[first] == self.tokens.sentence[head.first]
        ):
            return _moved(claim, value, "part_made", phrase.part) if phrase.part != "body" else None
        if value.event == "body_made" and phrase.whole and head is not None and first < head.first:
            return self._main_or_story(claim, value)
        if (
            value.event == "body_made"
            and phrase.relation
            and head is not None
            and head.mention
            and first < head.first
        ):
            model = head.entry.value.term in MODELS
            return _moved(claim, value, "designed" if model else "part_made", "" if model else phrase.part)
        if (other := of_another(phrase, first, value)) is not None:
            return _moved(claim, value, *other)
        if (
            value.event == "body_made"
            and head is not None
            and head.side == "mark"
            and (head.entry.value.term in STRUCK_LATER or struck_afterwards(head, first, self.made, value))
        ):
            return _moved(claim, value, "inscribed", "", side="inscription")
        if (
            value.period
            and phrase.relation == "of"
            and not phrase.noun
            and not self._tells_the_time(claim)
            and self._names_a_subject(claim.span.start)
        ):
            return replace(claim, side="decoration", value=TermValue(term=claim.words, kind="subject"))
        if (
            value.event == "body_made"
            and self.made_in >= 0
            and not phrase.noun
            and phrase.relation == ","
            and phrase.part
        ):
            return _moved(claim, value, "part_made", phrase.part)
        if (
            value.event == "body_made"
            and phrase.part not in ("", "body")
            and phrase.headed_first
            and phrase.relation not in ("with", "on")
            and not (head is not None and self._aside_closed(head, claim))
        ):
            return _moved(claim, value, "part_made", phrase.part)
        return None

    def _opens_here(self, first: int) -> bool:
        """False for "teapot bachelor size 1930s ebonised handle": right behind an unlisted noun the years are not the handle's."""
        before = self.tokens.low[first - 1] if first else ","
        return len(before) < 4 or before in ("with", "later") or not before.isalpha() or self._known(first)

    def _known(self, last: int) -> bool:
        """True where a word of the trade ends at token `last`."""
        at = bisect_left(self.starts, self.tokens.start[last])
        return at > 0 and self.hits[at - 1].last == last

    def _aside_closed(self, head: Hit, claim: Claim) -> bool:
        """ "with five attachments (one associated), English c. 1850": behind the closed bracket the whole is spoken of."""
        return ")," in self.tokens.text[self.tokens.end[head.last - 1] : claim.span.start]

    def _behind_closed_clause(self, claim: Claim, value: DateValue) -> bool:
        """ "candelabra, branches later, c. 1810": behind a closed clause of part and state, the only circa dates the whole."""
        at = bisect_right(self.starts, claim.span.start)
        placed = (
            at > 2 and self.hits[at - 1].side == "place"
        )  # ", branches associated, Dutch late 17th century"
        at -= placed
        if (
            not (value.approximate or placed)
            or self.made_in >= 0
            or at < 2
            or self.hits[at - 1].side != "state"
        ):
            return False
        low, state, part = self.tokens.low, self.hits[at - 1], self.hits[at - 2]
        opens = "," in low[max(0, part.first - 2) : part.first]
        begins = self.hits[at].first if placed else bisect_left(self.tokens.start, claim.span.start)
        closed = low[state.last : begins] == [","]
        told = part.side == "part" and part.last == state.first
        return opens and told and closed and _YEAR.search(self.tokens.text, claim.span.end) is None

    def _names_a_subject(self, start: int) -> bool:
        """ "portrait of George III", "jubilee of Queen Anne": a ruler told of, no date; "reign of George III" is one."""
        low = self.tokens.low
        at = bisect_left(self.tokens.start, start) - 1
        return at > 0 and low[at] == "of" and low[at - 1] not in _TIMES and low[at - 1].isalpha()

    def _tells_the_time(self, claim: Claim) -> bool:
        """ "of William and Mary date, 1690", "of Georgian workmanship": the word behind the period says that it dates the thing."""
        behind = self.tokens.text[claim.span.start : claim.span.end + 16].lower().split()
        return not _OF_THE_TIME.isdisjoint(behind)

    def _set_off(self, claim: Claim) -> bool:
        """A comma right before the only date: "repainted, 19th century" dates the object, not the paint.

        "Repainted, c. 1870" as a sentence of its own, and ", re-gilt c. 1900" with no comma inside, date the work done again.
        """
        before = self.tokens.text[max(0, claim.span.start - 4) : claim.span.start].rstrip()
        value = claim.value
        again = isinstance(value, DateValue) and value.said.lower().startswith(_AGAIN)
        if "," in claim.words:
            return not (again and before.endswith("."))
        if isinstance(value, DateValue) and value.event == "designed":
            return False  # "chair, designed 1925"
        return before.endswith(",") and not again

    def _from_before(self, claim: Claim, value: DateValue, at: int) -> Claim | None:
        """ "the cover later, c. 1850", "later handle 1870", "restored 1890", "engraved with arms c. 1760"."""
        part = ""
        state: Hit | None = None
        lettered = False
        for hit in reversed(self.hits[max(0, at - 4) : at]):
            gap = self.tokens.text[self.tokens.end[hit.last - 1] : claim.span.start]
            lettered = lettered or hit.side in ("decoration", "inscription", "mark")
            if (
                len(gap) > 40
                or any(c in gap for c in ".;\n(")
                or ")," in gap
                or (state is None and gap.count(",") > 1)
            ):
                break
            if hit.side == "place" and self._heads_clause(hit, gap):
                return None
            if hit.side == "state" and state is None:
                state, part = hit, part or hit.part
            elif hit.side == "part" and state is not None and self._comma_between(hit, state):
                break
            elif hit.side == "part" and not part and len(gap) < 24:
                part = hit.entry.value.term
                if state is None and not lettered and self._turns_to(hit, gap):
                    return _moved(claim, value, "part_made", part)
            elif self._of_the_ornament(hit, gap, value):
                if value.said == "dated" and hit.entry.value.term == "inscription":
                    return _moved(claim, value, "inscribed", "", side="inscription")
                return _moved(claim, value, "decorated", "")
            elif hit.side == "object" and state is None:
                return self._of_company(claim, value, hit, gap)
        aside = (
            state is not None and "," in self.tokens.text[self.tokens.end[state.last - 1] : claim.span.start]
        )
        newer = state is not None and state.entry.value.kind == "replaced" and part != "decoration"
        closed = (
            state is not None
            and value.approximate
            and state.entry.value.term == "replaced"
            and self._ends(claim)
        )  # "replaced silver spout, ca 1755"
        if aside and self.made_in < 0 and (closed or not newer):
            return None
        return self._by_state(claim, value, state, part)

    def _ends(self, claim: Claim) -> bool:
        """Nothing more is told behind the date but a size."""
        return _YEAR.search(self.tokens.text, claim.span.end) is None

    def _of_the_ornament(self, hit: Hit, gap: str, value: DateValue) -> bool:
        """ "with arms c. 1760"; "salver, 1745, engraved with winners from 1922": with no stop since the verb, later years
        belong to what it tells."""
        if hit.side != "decoration":
            return False
        if hit.entry.noun and len(gap) < 6 and (self.made_in >= 0 or "," not in gap):
            return True
        told = self.tokens.low[hit.last - 1] in _ORNAMENTED and gap.startswith(" with ")
        opened = told or (is_motif(hit) and gap == " ")
        return opened and "," not in gap and self.made_in >= 0 and not refines(self.made, value)

    def _of_company(self, claim: Claim, value: DateValue, thing: Hit, gap: str) -> Claim | None:
        """ "lid set with a coin of 1644": once the making is told, the year of a thing that is only mentioned."""
        if thing.mention and gap == " of " and self.made_in >= 0:
            return _moved(claim, value, "part_made", thing.entry.value.term)
        return None

    def _heads_clause(self, place: Hit, gap: str) -> bool:
        """ "later inscription, Exeter 1704": town and year set off by a comma are the making's."""
        return not gap.strip() and place.first > 0 and self.tokens.low[place.first - 1] == ","

    def _comma_between(self, part: Hit, state: Hit) -> bool:
        """ "ball to base, wired in the 20th century": the comma parts the two."""
        return "," in self.tokens.low[part.last : state.first]

    def _turns_to(self, hit: Hit, gap: str) -> bool:
        """ ", the mounts French, c. 1755" after a date of making: a part told of with "the", its place and its years."""
        tokens = self.tokens
        if gap in (" of ", " of c. ") and self.made_in >= 0:
            return True
        told = hit.first > 1 and tokens.low[hit.first - 1] == "the" and tokens.low[hit.first - 2] in ",;."
        return told and self.made_in >= 0 and gap.count(",") < 2

    def _by_state(self, claim: Claim, value: DateValue, state: Hit | None, part: str) -> Claim | None:
        if state is None or state.strength == "denied" or state.entry.value.term in _GONE:
            return None
        if state.entry.value.kind == "replaced" and part == "decoration":
            return _moved(claim, value, "decorated", "")
        if state.entry.value.kind == "replaced" and part:
            return _moved(claim, value, "part_made", part)
        if state.entry.value.kind in _REPAIRS:
            engraved = (
                state.entry.value.term.startswith("later ") and state.entry.value.term[6:] in _ORNAMENTED
            )
            return _moved(
                claim,
                value,
                "decorated" if engraved or part == "decoration" else "repair",
                "" if engraved else part,
            )
        return None

    def _from_after(self, claim: Claim, value: DateValue, at: int) -> Claim | None:
        """ "with 19th century arms", "an 18th century cover": the ornament or part right after the date."""
        crossed = 0
        position = claim.span.end
        for hit in self.hits[at : at + 4]:
            gap = self.tokens.text[position : self.tokens.start[hit.first]]
            if gap.strip(" -"):
                return None
            if hit.side == "part" and self._under_with(claim):
                return _moved(claim, value, "part_made", hit.entry.value.term)
            if hit.side == "state" and _names_a_repair(self.tokens.low[hit.last - 1]):
                return _moved(claim, value, "repair", hit.part)
            if hit.side == "decoration" and hit.entry.noun:
                return _moved(claim, value, "decorated", "")
            if hit.side in ("object", "mark") or crossed == 2:
                return None
            position, crossed = self.tokens.end[hit.last - 1], crossed + 1
        return None

    def _under_with(self, claim: Claim) -> bool:
        before = self.tokens.text[max(0, claim.span.start - 12) : claim.span.start].lower().rstrip()
        return before.endswith(("with", "on", "and", "with a", "with an", "on a", "on an", "later"))

    def _main_or_story(self, claim: Claim, value: DateValue) -> Claim:
        """The first date speaks of the making; one in a later line told with "in" or "born" is only a story.

        So is any date of a long line of prose under a heading that has its date, unless a word of making stands by it.
        """
        text, s = self.tokens.text, claim.span.start
        if of_a_design(text, s, claim.span.end):
            return _moved(claim, value, "designed", "")
        line = self.tokens.text.count("\n", 0, claim.span.start)
        if 0 <= self.made_in < line and refines(self.made, value):
            return claim
        if 0 <= self.made_in < line and self.headed and not value.said and self._in_prose(claim):
            return _moved(claim, value, "label", "", side="provenance")
        if of_a_paper(text, s, claim.span.end):
            return _moved(claim, value, "label", "", side="provenance")
        before = self.tokens.text[max(0, claim.span.start - 10) : claim.span.start].lower().rstrip()
        word = before.rsplit(" ", 1)[-1].strip("(.,")
        if self.made_in >= 0 and line > self.made_in and word in _TOLD:
            return _moved(claim, value, "label", "", side="provenance")
        phrase = self.when.get(bisect_left(self.tokens.start, claim.span.start))
        if part := part_before(phrase, self.made, value, self.tokens.sentence):
            return _moved(claim, value, "part_made", part)
        if self.made_in < 0:
            self.made_in, self.headed, self.made = line, not self._in_prose(claim), value
        return claim

    def _in_prose(self, claim: Claim) -> bool:
        text = self.tokens.text
        begin, end = text.rfind("\n", 0, claim.span.start) + 1, text.find("\n", claim.span.start)
        return (end if end >= 0 else len(text)) - begin > _PROSE


_TOLD = frozenset(
    {
        "in",
        "born",
        "died",
        "since",
        "until",
        "of",
        "by",
        "the",
        "from",
        "on",
        "fund",
        "purchase",
        "gift",
        "after",
        "before",
        "during",
        "and",
        "to",
    }
)


_FALSE = frozenset({"pseudo", "spurious", "fake", "faked", "forged", "false", "mock", "bogus"})
_ORNAMENTED = frozenset(
    {"chased", "engraved", "decorated", "inscribed", "painted", "pierced", "punched", "embossed", "re-engraved"}
)  # fmt: skip
_OF_THE_TIME = frozenset({"date", "date,", "date.", "make", "manufacture", "workmanship", "origin", "age"})
_TIMES = frozenset(
    {"reign", "time", "times", "period", "era", "age", "days", "years", "end", "beginning", "part", "middle", "style"}
)  # fmt: skip


def _tells_of_ornament(value: DateValue, words: str) -> bool:
    """ "crest engraved, c. 1815": the comma parts the ornament from the years of making."""
    return value.event in ("decorated", "inscribed") and "," in words


def _may_be_written(value: DateValue) -> bool:
    """Only a plain year stands on an object: nobody engraves "circa" or a century."""
    written = value.written or value.years
    return not value.approximate and written.earliest == written.latest


def _names_a_repair(word: str) -> bool:
    """ "19th century repair" dates the repair; "18th century repaired tankard" the tankard."""
    return word.startswith(("repair", "restoration", "replacement", "alteration")) and not word.endswith("ed")


def _moved(claim: Claim, value: DateValue, event: Event, part: str, side: Side = "date") -> Claim:
    return replace(claim, side=side, part=part, value=replace(value, event=event))
