"""New words where the old ones stood: every other character of the label stays as hung."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from planish.reasoning.wording.adding import insertion
from planish.reasoning.wording.leaving import with_what_hangs
from planish.records import Claim, Span, Step

_LEFT_BEHIND = re.compile(
    r"(?:^|(?<=[\s,;:(–—]))(?:(?:by|from|of|in|and|with|circa|c\.|for|to)\s+)*(?:by|from|of|in|and|with|circa|c\.|for|to)\s*$",
    re.IGNORECASE,
)
_LOOSE = ",;:–—|"
_LOOSE_END = re.compile(r"(?:\s-(?=\s*$)|[\s,;:–—|])\s*$")
_LOOSE_START = re.compile(r"^(?:-\s|[\s,;:.–—|])+")
_DASH = re.compile(r"[–—|-]\s")
_VOWEL = re.compile(r"[aeiou]|8|1[18](?:\d\d)?(?!\d)|h(?:our|onest|eir)", re.IGNORECASE)
_CONSONANT = re.compile(r"uni(?!m|n|d)|u[st][eiu]|eu|one?\b|once", re.IGNORECASE)
_SENTENCE_ENDS = re.compile(r"(?:(?<!\bc)(?<!\bca)\.\s+|\n\s*)")
_ARTICLE = re.compile(r"\b([Aa])(n?)(\s+)$")
_NO_DESCRIPTION = ("measure", "provenance", "evidence", "price")


@dataclass(frozen=True, slots=True)
class Edit:
    """Characters `start` to `end` (not included) of the label as hung become `words`."""

    start: int
    end: int
    words: str


def splice(text: str, steps: Sequence[Step], added: Sequence[Step], claims: Sequence[Claim]) -> str:
    """The label with every changed step's words in place, and what was added as sentences of its own.

    Of two steps whose characters overlap the one that stands further right is kept. Additions stand after the
    description and before the measures where the measures begin a sentence, else at the end.
    """
    steps = with_what_hangs(text, steps, claims)
    joining = _joining(text, added, claims)
    for edit in _in_order([*_edits(_to_match(steps, claims)), *joining.values()]):
        text = _replaced(text, edit)
    sentences = [step for step in added if step.claim not in joining]
    described = [step.after for step in sentences if not _measures(step)]
    text = _with_sentences(text, described, _tail(claims, steps)) if described else text
    measured = [step.after for step in sentences if _measures(step)]
    return _with_sentences(text, measured, "") if measured else text


def _joining(text: str, added: Sequence[Step], claims: Sequence[Claim]) -> dict[str, Edit]:
    """Additions that stand beside what the label says already."""
    edits = {}
    for step in added:
        side = step.claim.removeprefix("unsaid.")
        found = insertion(side, step.after, text, claims) if side != step.claim else None
        if found is not None:
            edits[step.claim] = Edit(found.start, found.end, found.words)
    return edits


def _measures(step: Step) -> bool:
    return step.claim == "unsaid.measure"


def _to_match(steps: Sequence[Step], claims: Sequence[Claim]) -> Iterable[Step]:
    """ "eleven and one to match" stands around the noun: "eleven pewter plates and one to match"."""
    for step in steps:
        number, found, rest = step.after.partition(" and ")
        noun = _noun_after(step, claims) if found and rest.endswith("to match") else None
        if noun is None:
            yield step
            continue
        yield replace(step, after=number)
        end = Span(noun.span.end, noun.span.end)
        yield replace(step, after=f" and {rest}", span=end)


def _noun_after(step: Step, claims: Sequence[Claim]) -> Claim | None:
    if step.span is None or step.did in ("kept", "added"):
        return None
    counted = next((c for c in claims if c.id == step.claim), None)
    if counted is None or counted.side != "count":
        return None
    at = step.span.end
    return next((c for c in claims if c.side == "object" and not c.part and c.span.start >= at), None)


def _edits(steps: Iterable[Step]) -> list[Edit]:
    return [
        Edit(s.span.start, s.span.end, s.after)
        for s in steps
        if s.span is not None and s.did not in ("kept", "added")
    ]


def _in_order(edits: Iterable[Edit]) -> list[Edit]:
    """From the right, so that what stands further left keeps its place; of two that overlap the right one is kept."""
    kept: list[Edit] = []
    for edit in sorted(edits, key=lambda edit: (edit.start, edit.end, edit.words), reverse=True):
        if not kept or edit.end <= kept[-1].start:
            kept.append(edit)
    return kept


def _replaced(text: str, edit: Edit) -> str:
    before, after = text[: edit.start], text[edit.end :]
    if not edit.words:
        return _closed(before, text[edit.start : edit.end], after)
    words = edit.words
    if _begins_sentence(before) and text[edit.start : edit.start + 1].isupper():
        words = words[:1].upper() + words[1:]
    ended = text[edit.start : edit.end].endswith(".") and not words.endswith(".")
    if ended and (not after.strip() or after.lstrip()[0].isupper()):
        words += "."
    return _article(before, words) + words + after


def _begins_sentence(before: str) -> bool:
    return not before.strip() or before.rstrip().endswith((".", "!", "?", "\n"))


def _article(before: str, words: str) -> str:
    """ "a" becomes "an" before a vowel, and the other way round, when the word after it has changed."""
    found = _ARTICLE.search(before)
    if found is None or not words[:1].isalnum():
        return before
    return f"{before[: found.start()]}{found[1]}{'n' if _takes_an(words) else ''}{found[3]}"


def _takes_an(words: str) -> bool:
    """By sound: an hour, an 18th-century, an urn; a unique, a used, a European, a one-handled."""
    return bool(_VOWEL.match(words)) and not _CONSONANT.match(words)


def _closed(before: str, gone: str, after: str) -> str:
    """Close the gap that a left-out claim leaves: no empty brackets, no doubled or lost stops, one space."""
    before = _LEFT_BEHIND.sub("", before)
    if before.endswith("(") and after.startswith(")"):
        before, after = before[:-1], after[1:]
    rest = after.lstrip(" \t")
    if before.endswith("("):
        return before + _LOOSE_START.sub("", rest)
    if rest.startswith(")"):
        return tight(before) + rest
    if not before.strip():
        rest = _LOOSE_START.sub("", rest)
        return before + rest[:1].upper() + rest[1:]
    if not rest.strip(_LOOSE + "."):
        return _ended(before, gone + rest) + (rest[rest.index("\n") :] if "\n" in rest else "")
    if _begins_sentence(before):
        rest = _LOOSE_START.sub("", rest)
        return before + rest[:1].upper() + rest[1:]
    if gone.endswith(".") and rest[0] not in _LOOSE:
        return f"{_ended(before, gone)} {rest}"
    if rest[0] in ",;:." or _DASH.match(rest):
        return tight(before) + (" " if _DASH.match(rest) else "") + rest
    joined = (
        before.rstrip(" \t") + " " + rest if before[-1] in " \t" or after[:1] in " \t" else before + after
    )
    return _article(before.rstrip(" \t") + " ", rest) + rest if joined.endswith(" " + rest) else joined


def tight(before: str) -> str:
    """`before` without the punctuation that would stand loose at its end; a hyphen only where it stands as a dash."""
    while (found := _LOOSE_END.search(before)) is not None:
        before = before[: found.start()]
    return before


def _ended(before: str, gone: str) -> str:
    """`before` without loose punctuation, and with the stop that the words gone had."""
    kept = tight(before)
    return kept if kept.endswith((".", "!", "?")) or "." not in gone else kept + "."


def _tail(claims: Sequence[Claim], steps: Sequence[Step]) -> str:
    """Words of the first claim after the description (measures, provenance), as they still stand; "" if none."""
    kept = {step.claim for step in steps if step.did == "kept"}
    described = max((c.span.end for c in claims if c.side not in _NO_DESCRIPTION), default=0)
    for claim in claims:
        if claim.side in _NO_DESCRIPTION and claim.span.start >= described and claim.id in kept:
            return claim.words
    return ""


def _with_sentences(text: str, said: Sequence[str], tail: str) -> str:
    sentences = " ".join(f"{words[:1].upper()}{words[1:].rstrip('.')}." for words in said)
    at = text.rfind(tail) if tail else -1
    starts = [m.end() for m in _SENTENCE_ENDS.finditer(text, 0, at + 1)] if at > 0 else []
    if starts and not text[starts[-1] : at].strip():
        return f"{text[: starts[-1]]}{sentences} {text[starts[-1] :]}"
    body = text.rstrip()
    stop = "" if not body or body.endswith((".", "!", "?")) else "."
    return f"{body}{stop} {sentences}".strip()
