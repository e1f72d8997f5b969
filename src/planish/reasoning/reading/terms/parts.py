"""Which part a word speaks of, what is denied, what is only probable: settled from the words beside it."""

from planish.reasoning.reading.hits import Hit
from planish.reasoning.reading.lexicon import Lexicon
from planish.reasoning.reading.tokens import LOWER, Tokens

_OF_PARTS = frozenset({"state", "material", "surface", "technique", "decoration", "place"})
_BRIDGES = frozenset(
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
_CLAUSE = frozenset(",;.:\n()")
_NEGATED = frozenset(
    {
        "state",
        "material",
        "mark",
        "inscription",
        "surface",
        "decoration",
        "technique",
        "place",
        "object",
        "part",
        "evidence",
        "puff",
        "provenance",
    }
)
_REACH = 7
_DOUBT = {"possibly": "possible", "perhaps": "possible", "maybe": "possible"}


def settle_parts(hits: list[Hit], tokens: Tokens, lexicon: Lexicon) -> None:
    """Give states, materials, surfaces and techniques the part they speak of."""
    for k, hit in enumerate(hits):
        if hit.side == "part":
            hit.part = hit.entry.value.term
        elif hit.side in _OF_PARTS:
            hit.part = _part_after(hits, k, tokens) or (
                _part_before(hits, k, tokens) if hit.side in ("state", "surface") else ""
            )
            if hit.side == "state" and not hit.part:
                hit.part = _word_before(hits, k, tokens, lexicon)


def _part_after(hits: list[Hit], k: int, tokens: Tokens) -> str:
    """The part right after the word: "later cover", "turned ivory finial", "repair to the rim", "silver-mounted"."""
    hit, at = hits[k], hits[k].last
    crossed = 0
    for follower in hits[k + 1 : k + 5]:
        between = tokens.low[at : follower.first]
        if len(between) > 4 or any(word not in _BRIDGES for word in between):
            break
        if between and hit.side != "state":
            break
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
        at, crossed = follower.last, crossed + 1
    if (
        hit.side in ("material", "place")
        and at == hit.last
        and at < len(tokens.low)
        and tokens.low[at] in ("mounted", "bound", "mounts")
    ):
        return "mounts"
    return ""


def _part_before(hits: list[Hit], k: int, tokens: Tokens) -> str:
    """The part named before in the same clause: "the cover later", "handle and hinge replaced"."""
    hit = hits[k]
    for earlier in reversed(hits[max(0, k - 4) : k]):
        between = tokens.low[earlier.last : hit.first]
        if len(between) > 4 or any(word in _CLAUSE for word in between):
            return ""
        if earlier.side == "part":
            return (
                ""
                if any(
                    word not in _BRIDGES and word not in ("later", "has", "have", "been", "now", "all")
                    for word in between
                )
                else earlier.entry.value.term
            )
        if earlier.side == "decoration" and earlier.entry.noun:
            return "decoration"
        if earlier.side == "object":
            told = any(h.side == "object" for h in hits[: hits.index(earlier)])
            return earlier.entry.value.term if told and not between else ""
    return ""


_ASIDE = frozenset(",;.(\n")


def _word_before(hits: list[Hit], k: int, tokens: Tokens, lexicon: Lexicon) -> str:
    """A part that no list has: one word between a stop and the state ("clapper missing", "baize replaced")."""
    hit, low = hits[k], tokens.low
    at = hit.first - 1
    if at < 1 or low[at - 1] not in _ASIDE or not low[at].isalpha() or low[at] in lexicon.function:
        return ""
    before = hits[k - 1] if k and hits[k - 1].last == hit.first else None
    if before is None:
        return low[at] if hit.entry.value.kind in _OF_A_THING and tokens.cap[at] == LOWER else ""
    if before.side == "material" and hit.entry.value.term != "later":
        return before.entry.value.term
    return before.entry.value.term if before.side == "mark" else ""


_OF_A_THING = frozenset({"replaced", "restored", "damage"})


def settle_denials(hits: list[Hit], tokens: Tokens, lexicon: Lexicon) -> None:
    """Mark what stands under a "no", "not" or "without" as denied, up to the end of its clause."""
    low = tokens.low
    for k, hit in enumerate(hits):
        if hit.side != "negator" or _is_number_sign(hit, tokens):
            continue
        limit, taken = hit.last + _REACH, False
        for follower in hits[k + 1 : k + 6]:
            between = low[hit.last : follower.first]
            if follower.first > limit or any(
                (w in _CLAUSE and not (w == "," and taken and "or" in between)) or w in lexicon.negation_ends
                for w in between
            ):
                break
            if follower.side in _NEGATED:
                follower.strength = "denied"
                taken = True
                limit = follower.last + 4


def _is_number_sign(hit: Hit, tokens: Tokens) -> bool:
    """No. 12 is a number; "no later than" is a date; "not only" and "no doubt" deny nothing."""
    low, after = tokens.low, hit.last
    follower = low[after] if after < len(low) else ""
    return follower in (".", "later", "doubt", "only", "less", "earlier") or follower.isdigit()


def settle_doubts(hits: list[Hit], tokens: Tokens) -> None:
    """ "Probably Dutch", "possibly bronze", "brass (?)": the word beside is likely or possible."""
    low = tokens.low
    for k, hit in enumerate(hits):
        if hit.side == "doubter" and k + 1 < len(hits) and hits[k + 1].first - hit.last <= 1:
            hits[k + 1].strength = hits[k + 1].strength or _DOUBT.get(low[hit.first], "likely")
        after = low[hit.last : hit.last + 2]
        if hit.side in ("material", "place", "part", "object") and (
            after[:1] == ["?"] or after == ["(", "?"]
        ):
            hit.strength = hit.strength or "possible"
