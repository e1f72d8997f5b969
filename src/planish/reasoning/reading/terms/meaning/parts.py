"""Which part a state, a surface or an ornament speaks of: settled from the words beside it."""

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.lexicon import Lexicon
from planish.reasoning.reading.terms.meaning.damage import names_work
from planish.reasoning.reading.terms.meaning.shapes import COLOURS
from planish.reasoning.reading.terms.phrasing.phrase import names_damage
from planish.reasoning.reading.tokens import LOWER, Tokens

BRIDGES = frozenset(
    {
        "to",
        "the",
        "at",
        "in",
        "on",
        "of",
        "its",
        "and",
        "is",
        "are",
        "a",
        "probably",
        "with",
        "around",
        "from",
        "both",
        "one",
        "has",
        "been",
        "was",
        "were",
        "possibly",
    }
)
CLAUSE = frozenset(",;.:\n()")


def settle_parts(hits: list[Hit], tokens: Tokens, lexicon: Lexicon, struck: set[int]) -> None:
    """Give states and surfaces the part they speak of. `struck` are tokens of names told as marks."""
    for k, hit in enumerate(hits):
        if hit.side == "part":
            hit.part = hit.entry.value.term
        elif hit.side == "state" and hit.entry.value.term not in _WITH_ITS_PART:
            if hit.entry.value.term == "missing" and tokens.low[hit.last : hit.last + 1] in _WHAT:
                hit.part = _part_after(hits, k, tokens) or hit.part
            hit.part = hit.part or (
                _mark_before(hits, k)
                or _told_where(hits, k, tokens.low)
                or _of_the_paint(hits, k, tokens.low)
                or _part_after(hits, k, tokens)
                or _part_before(hits, k, tokens)
                or _what_it_lacks(hits, k, tokens, lexicon)
                or _unlisted_after(hits, k, tokens, lexicon)
                or _word_before(hits, k, tokens, lexicon)
                or ("mark" if hit.entry.value.kind in _OF_A_MARK and _after_mark(hit, tokens, struck) else "")
            )
        elif hit.side == "surface" and not hit.part:
            hit.part = _part_before(hits, k, tokens) or _substance_before(hits, k, tokens.low)
        elif hit.side == "mark" and hit.entry.value.kind == "unmarked" and k:
            before = hits[k - 1]
            told = before.side == "part" or (before.side == "object" and before.mention)
            hit.part = before.entry.value.term if told and before.last == hit.first else ""


def _substance_before(hits: list[Hit], k: int, low: list[str]) -> str:
    """ "the nut polished", "the horn polished": the substance that "the" points at."""
    before = hits[k - 1] if k else None
    told = before is not None and before.side == "material" and before.last == hits[k].first
    return before.entry.value.term if told and before is not None and low[before.first - 1] == "the" else ""


_WHAT = (["one"], ["a"], ["an"], ["its"], ["the"], ["two"], ["some"], ["both"])
"""Words that open what is missing: "case missing one hook"."""
_WITH_ITS_PART = frozenset({"later spout", "liner missing"})
"""States whose own words name the part."""
_OF_A_MARK = frozenset({"wear", "damage", "corrosion"})


def _after_mark(hit: Hit, tokens: Tokens, struck: set[int]) -> bool:
    """ "touch of J. Aldous rubbed", "signed A. Voss, indistinct"."""
    at = hit.first - 1
    while at > 0 and not tokens.low[at][0].isalnum() and tokens.low[at] not in ".;\n":
        at -= 1
    return at in struck


def _mark_before(hits: list[Hit], k: int) -> str:
    """ "marks rubbed on the cover": the wear is the marks', wherever they stand."""
    before, hit = hits[k - 1] if k else None, hits[k]
    worn = before is not None and before.side == "mark" and before.last == hit.first
    return (
        before.entry.value.term
        if before is not None
        and worn
        and hit.entry.value.kind in _OF_A_MARK
        and before.entry.value.kind != "unmarked"
        else ""
    )


def _part_after(hits: list[Hit], k: int, tokens: Tokens) -> str:
    """The part right after the word: "later cover", "turned ivory finial", "repair to the rim", "silver-mounted"."""
    hit, at = hits[k], hits[k].last
    crossed = 0
    for follower in hits[k + 1 : k + 5]:
        between = tokens.low[at : follower.first]
        if len(between) > 4 or not (all(word in BRIDGES for word in between) or _reaches_to(hit, between)):
            break
        if between and not _reaches_over(hit, between):
            break
        if "and" in between and names_work(tokens.low[hit.last - 1]):
            break  # "a replacement and the lid lost"
        if follower.side == "part":
            return follower.entry.value.term
        if hit.side == "state" and follower.side == "object" and any(h.side == "object" for h in hits[:k]):
            return follower.entry.value.term
        if hit.side == "state" and follower.side == "decoration" and follower.entry.noun:
            return "decoration"
        if (
            follower.side
            not in (
                "form",
                "technique",
                "material",
                "surface",
                "decoration",
                "state",
                "negator",
                "puff",
                "place",
            )
            or crossed == 3
        ):
            break
        if follower.side in ("negator", "place", "material") and between:
            break
        if (
            follower.side == "state"
            and "and" in between
            and hit.entry.value.kind != follower.entry.value.kind
        ):
            break
        at, crossed = follower.last, crossed + 1
    if (
        hit.side in ("material", "place")
        and at == hit.last
        and at < len(tokens.low)
        and tokens.low[at] in ("mounted", "bound", "mounts")
    ):
        return "mounts"
    return ""


def _of_the_paint(hits: list[Hit], k: int, low: list[str]) -> str:
    """ "Later black paint": the paint is later, at most its colour stands between."""
    after = hits[k + 1] if k + 1 < len(hits) else None
    painted = after is not None and after.side == "material" and after.entry.value.kind == "paper and paint"
    near = after is not None and COLOURS.issuperset(low[hits[k].last : after.first])
    return after.entry.value.term if after is not None and painted and near else ""


def _reaches_to(hit: Hit, between: list[str]) -> bool:
    """ "Restoration to brushing slide", "repair to lower right foot": one or two words between tell which."""
    which = between[1:]
    return (
        hit.side == "state"
        and between[:1] == ["to"]
        and 0 < len(which) < 3
        and all(word.isalpha() and len(word) > 3 and word not in _SAYS_MORE for word in which)
    )


_SAYS_MORE = frozenset(
    {"with", "and", "from", "their", "some", "other", "which", "over", "under", "near", "above", "below"}
)
_WHERE = (["at"], ["near"], ["in"], ["on"])
"""Behind "hinge broken" these tell only where: "at one side"."""


def _told_where(hits: list[Hit], k: int, low: list[str]) -> str:
    """ "hinge broken at one side", "handle restored at joint": the part right before, not the place behind."""
    hit, holder = hits[k], hits[k - 1] if k else None
    if (
        holder is None
        or holder.last != hit.first
        or holder.side != "part"
        or low[hit.last : hit.last + 1] not in _WHERE
    ):
        return ""
    term = holder.entry.value.term
    return term if term != "plating" else ""


def _reaches_over(hit: Hit, between: list[str]) -> bool:
    """ "repair to the rim"; but "good colour with spout" and "converted to anchor" say nothing of what follows."""
    value = hit.entry.value
    turned = value.term.startswith(("converted", "adapted", "wired"))
    return hit.side == "state" and not (turned or (value.kind == "good" and "with" in between))


def _part_before(hits: list[Hit], k: int, tokens: Tokens) -> str:
    """The part named before in the same clause: "the cover later", "handle and hinge replaced"."""
    hit = hits[k]
    said: list[tuple[int, int]] = []
    for earlier in reversed(hits[max(0, k - 4) : k]):
        if earlier.side == "state" and hit.side == "state":
            said.append((earlier.first, earlier.last))
            continue
        between = [
            tokens.low[i] for i in range(earlier.last, hit.first) if not any(a <= i < b for a, b in said)
        ]
        if len(between) > 4 or any(word in CLAUSE for word in between):
            return ""
        if between[:1] == ["and"] and not HAS_BEEN.isdisjoint(between):
            return ""  # "dovetailed on all seams and is in good order"
        if earlier.side == "part" and (holder := _held_at(hits, earlier, tokens.low)):
            return holder
        if earlier.side == "part":
            return (
                ""
                if any(
                    word not in BRIDGES and word not in _SO and not word.endswith("ly") for word in between
                )
                and not (len(between) == 1 and between[0].isalpha())
                else earlier.entry.value.term
            )
        if earlier.side == "decoration" and earlier.entry.noun:
            return "decoration"
        if earlier.side == "decoration" and not between and _opens_its_clause(hits, earlier, tokens.low):
            return earlier.entry.value.term if earlier.entry.value.kind == "motif" else ""
        if earlier.side == "object":
            told = any(h.side == "object" for h in hits[: hits.index(earlier)])
            opens = earlier.first > 0 and tokens.low[earlier.first - 1] in _ASIDE
            holds = opens and between[:1] == ["with"] and (_SO | _SIZED).issuperset(between[1:])
            return earlier.entry.value.term if told and (holds or HAS_BEEN.issuperset(between)) else ""
    return ""


HAS_BEEN = frozenset({"has", "have", "been", "is", "are", "was", "were"})


def _opens_its_clause(hits: list[Hit], noun: Hit, low: list[str]) -> bool:
    """ "Rosettes lost", "silk ribbons gone": nothing but its substance stands between a stop and the noun."""
    before = next((hit for hit in hits if hit.last == noun.first), None)
    at = before.first if before is not None and before.side == "material" else noun.first
    return at == 0 or low[at - 1] in _ASIDE


def _held_at(hits: list[Hit], place: Hit, low: list[str]) -> str:
    """ "screw at foot later", "hinge to the lid replaced": the first is told of, the second is where it sits."""
    i = place.first - 1 - (low[place.first - 1 : place.first] == ["the"])
    if i < 1 or low[i] not in (
        "at",
        "on",
        "to",
        "in",
        "under",
        "near",
        "around",
        "round",
        "over",
        "above",
        "below",
        "inside",
        "behind",
    ):
        return ""
    return next((h.entry.value.term for h in hits if h.side == "part" and h.last == i), "")


_SO = frozenset(
    {
        "later",
        "has",
        "have",
        "been",
        "now",
        "all",
        "very",
        "quite",
        "rather",
        "much",
        "more",
        "a",
        "little",
        "touch",
        "trifle",
        "bit",
        "but",
        "not",
        "slight",
        "light",
        "faint",
        "minor",
        "minimal",
        "tiny",
        "deep",
        "heavy",
        "short",
        "long",
        "single",
        "one",
        "two",
        "three",
        "four",
        "some",
        "several",
        "few",
    }
)
_SIZED = frozenset({"small", "large", "old", "an", "minute", "hairline"})
_ASIDE = frozenset(",;.(\n")


def _word_before(hits: list[Hit], k: int, tokens: Tokens, lexicon: Lexicon) -> str:
    """A part that no list has: one word between a stop and the state ("clapper missing", "baize replaced")."""
    hit, low = hits[k], tokens.low
    at = hit.first - 1
    if subject := _subject(hits, k, tokens, lexicon) or _named_as_one(low, at, lexicon):
        return subject
    if at > 0 and low[at] in _OF_TWO:
        return low[at]
    if k and hits[k - 1].side == "mark" and _only_hedged(low[hits[k - 1].last : hit.first]):
        return hits[k - 1].entry.value.term  # "mark slightly rubbed"
    if (
        low[at : at + 1] == ["one"]
        and at
        and low[at - 1] in _ASIDE
        and any(h.side == "count" for h in hits[:k])
    ):
        return "one"
    if at > 0 and low[at] == "date" and low[at - 1] in _ASIDE:
        return "date"
    if k and hits[k - 1].last == hit.first and hits[k - 1].side == "mark":
        return hits[k - 1].entry.value.term
    if at < 1 or low[at - 1] not in _ASIDE or not low[at].isalpha() or _no_noun(low[at], lexicon):
        return ""
    if low[at].endswith("ly"):
        return ""
    before = hits[k - 1] if k and hits[k - 1].last == hit.first else None
    if before is None:
        told = hit.entry.value
        return (
            low[at]
            if told.kind in _OF_A_THING
            and not names_damage(hit, tokens)
            and (tokens.cap[at] == LOWER or low[at - 1] == ".")
            else ""
        )
    if before.side == "material" and hit.entry.value.term != "later":
        return before.entry.value.term
    return before.entry.value.term if before.side == "mark" and before.entry.value.kind != "unmarked" else ""


_COPULA = frozenset({"is", "are", "was", "were", "been", "has", "have"})
_OPENS = frozenset({"the", "its", "a", "one", "this", "each"})


def _subject(hits: list[Hit], k: int, tokens: Tokens, lexicon: Lexicon) -> str:
    """ "The fret is a replacement": the noun that no list has, before the verb."""
    low, at, told = tokens.low, hits[k].first - 1, False
    earliest = hits[k - 1].last if k else 0
    while at >= earliest and (low[at] in _COPULA or low[at] in _SO or low[at].endswith("ly")):
        told = told or low[at] in _COPULA
        at -= 1
    known = at < max(earliest, 1) or low[at - 1] not in _OPENS or _no_noun(low[at], lexicon)
    return "" if known or not told or tokens.cap[at] != LOWER else low[at]


def _named_as_one(low: list[str], article: int, lexicon: Lexicon) -> str:
    """ ", one eye a replacement": the noun that no list has, counted, before the article."""
    if article < 3 or low[article] not in ("a", "an") or low[article - 2] not in _COUNTED:
        return ""
    noun = low[article - 1]
    return noun if noun.isalpha() and not _no_noun(noun, lexicon) and low[article - 3] in _ASIDE else ""


_COUNTED = frozenset({"one", "two", "the", "its", "both", "three"})


def _only_hedged(between: list[str]) -> bool:
    """The "slightly" of "mark slightly rubbed"."""
    return len(between) == 1 and between[0].endswith("ly")


def _what_it_lacks(hits: list[Hit], k: int, tokens: Tokens, lexicon: Lexicon) -> str:
    """ "Lacks damper": the word after, that no list has, up to the end of its clause."""
    hit, low = hits[k], tokens.low
    at = hit.last
    if (
        low[hit.last - 1] not in ("lacks", "lacking")
        or at >= len(low)
        or (k + 1 < len(hits) and hits[k + 1].first == at)
    ):
        return ""
    ends = at + 1 >= len(low) or low[at + 1] in CLAUSE
    return low[at] if ends and low[at].isalpha() and not _no_noun(low[at], lexicon) else ""


def _unlisted_after(hits: list[Hit], k: int, tokens: Tokens, lexicon: Lexicon) -> str:
    """ "copper showing to the ribs", "crack to the gusset": a noun that no list has, up to the end of its clause."""
    hit, low = hits[k], tokens.low
    local = hit.entry.value.kind in _LOCAL or low[hit.last - 1] in ("loss", "losses")
    if not local or low[hit.last : hit.last + 1] not in _AT:
        return ""
    at = hit.last + 1 + (low[hit.last + 1 : hit.last + 2] in _ITS)
    listed = k + 1 < len(hits) and hits[k + 1].first <= at
    if listed or at >= len(low) or len(low[at]) < 4 or not low[at].isalpha() or tokens.cap[at] != LOWER:
        return ""
    ends = at + 1 >= len(low) or low[at + 1] in CLAUSE
    return low[at] if ends and low[at] not in _VAGUE and not _no_noun(low[at], lexicon) else ""


_LOCAL = frozenset({"wear", "damage", "corrosion", "restored"})
_AT = (["to"], ["on"], ["at"], ["in"])
_ITS = (["the"], ["its"], ["one"], ["both"])
_VAGUE = frozenset(
    {
        "places",
        "parts",
        "areas",
        "spots",
        "extremities",
        "date",
        "keeping",
        "transit",
        "past",
        "antiquity",
        "ends",
        "points",
        "surface",
        "metal",
    }
)


def _no_noun(word: str, lexicon: Lexicon) -> bool:
    return word in lexicon.function or lexicon.grammar.classes.get(word) == ("skip", "")


_OF_TWO = frozenset({"other", "second", "rest", "remainder"})
_OF_A_THING = frozenset({"replaced", "restored", "damage"})
