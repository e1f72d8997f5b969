"""What goes with a claim that is left out: its hedges, the words that hang on it, the sentence that said only this."""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from planish.records import Claim, MeasureValue, Span, Step

HEDGES = (
    "possibly", "probably", "perhaps", "maybe", "apparently", "seemingly", "reputedly", "reportedly", "traditionally",
    "almost certainly", "very likely", "likely", "presumably", "supposedly", "thought to be", "believed to be",
    "said to be", "a truly", "truly", "very", "really", "quite", "most",
)  # fmt: skip
_HEDGE_BEFORE = re.compile(rf"(?<!\w)(?:{'|'.join(HEDGES)})\s+$", re.IGNORECASE)
_HANGS_ON = re.compile(r"\b(?:of|by|for|from|to|with|in|at|on|property|after)$", re.IGNORECASE)
_PHRASE_END = re.compile(r"[,;:()|\n]|\s[–—-]\s|\.(?=\s|$)")
_SENTENCE_END = re.compile(r"\.(?=\s|$)|\n|[!?]")
_ABBREVIATED = re.compile(
    r"\b(?:c|ca|cf|no|Nos?|Rd|St|Mr|Mrs|Dr|ht|h|w|d|l|diam|approx|attr|attrib|[A-Z])\.$"
)
_MOST_EMPTY = 8
"""A sentence left with no claim is dropped when it keeps at most so many words, no figure and no name."""
_IN_BRACKETS = re.compile(r"\s*\([^)]*\)")
_WITH = re.compile(r"\s+with\s", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Whole:
    """The label as hung, and the claims whose words stay on it in some form."""

    text: str
    staying: tuple[Span, ...]

    def untouched(self, start: int, end: int) -> bool:
        """True when no claim that stays has a character between `start` and `end`."""
        return all(span.end <= start or end <= span.start for span in self.staying)


def with_what_hangs(text: str, steps: Sequence[Step], claims: Sequence[Claim]) -> list[Step]:
    """The steps with the spans of left-out claims widened to all that cannot stand without them.

    A participle before "with" becomes "decorated", so that what it bears stays sayable; words after "property of" go
    with it; hedges before a left-out claim go; a sentence that said nothing else goes whole.
    """
    out = {step.claim for step in steps if step.did == "left_out"}
    known = {claim.id: claim for claim in claims}
    label = Whole(text, tuple(claim.span for claim in claims if claim.id not in out))
    widened = [
        _widened(step, known.get(step.claim), label) if step.did == "left_out" and step.span else step
        for step in steps
    ]
    return list(_sentences_dropped(widened, label))


def _widened(step: Step, claim: Claim | None, label: Whole) -> Step:
    span = step.span
    assert span is not None
    if claim is not None and claim.side in ("decoration", "technique") and _bears(label.text, span):
        return replace(step, after="decorated")
    start, end = _with_hedges(label, span.start), span.end
    if _HANGS_ON.search(label.text[:end]):
        end = _end_of_phrase(label, end)
    twin = _IN_BRACKETS.match(label.text, end) if _given_twice(claim) else None
    return replace(step, span=Span(start, twin.end() if twin else end))


def _given_twice(claim: Claim | None) -> bool:
    """True for a size that the label gives in two units: "21 cm (8¼ in)" goes as one."""
    return claim is not None and isinstance(claim.value, MeasureValue) and bool(claim.value.same_as_written)


def _bears(text: str, span: Span) -> bool:
    """ "engraved with a ship": a participle and what it bears."""
    return text[span.start : span.end].casefold().endswith("ed") and bool(_WITH.match(text, span.end))


def _with_hedges(label: Whole, start: int) -> int:
    while (found := _HEDGE_BEFORE.search(label.text[:start])) and label.untouched(found.start(), start):
        start = found.start()
    return start


def _end_of_phrase(label: Whole, end: int) -> int:
    """Where the phrase after `end` stops: at punctuation, or before the next claim that stays."""
    stop = _PHRASE_END.search(label.text, end)
    last = stop.start() if stop else len(label.text)
    for span in sorted(label.staying):
        if end <= span.start < last:
            return end if span.start - end <= 1 else span.start
    return last


def _sentences_dropped(steps: Sequence[Step], label: Whole) -> Iterator[Step]:
    """Sentences in which only left-out claims stood, and nothing of substance beside them, go as one."""
    ranges = list(sentences(label.text))
    done: set[Span] = set()
    for step in steps:
        around = _around(step.span, ranges) if step.did == "left_out" and not step.after else None
        if around is None or not _says_nothing_else(around, steps, label):
            yield step
            continue
        yield replace(step, span=around if around not in done else Span(around.start, around.start))
        done.add(around)


def _around(span: Span | None, ranges: Iterable[Span]) -> Span | None:
    if span is None:
        return None
    return next((r for r in ranges if r.start <= span.start and span.end <= r.end), None)


def _says_nothing_else(around: Span, steps: Sequence[Step], label: Whole) -> bool:
    if around.start == 0 or not label.untouched(around.start, around.end):
        return False
    rest = label.text[around.start : around.end]
    for step in sorted((s for s in steps if s.span and s.did == "left_out"), key=_starts, reverse=True):
        span = step.span
        if span is not None and around.start <= span.start and span.end <= around.end:
            rest = rest[: span.start - around.start] + rest[span.end - around.start :]
    words = re.findall(r"[\w'’-]+", rest)
    named = any(word[0].isupper() or any(c.isdigit() for c in word) for word in words[1:])
    return len(words) <= _MOST_EMPTY and not named


def _starts(step: Step) -> int:
    return step.span.start if step.span else 0


def sentences(text: str) -> Iterator[Span]:
    """Sentences with their closing stop; an abbreviation's stop closes none."""
    start = 0
    for found in _SENTENCE_END.finditer(text):
        if _ABBREVIATED.search(text[: found.end()]):
            continue
        first = start + len(text[start : found.end()]) - len(text[start : found.end()].lstrip())
        yield Span(first, found.end())
        start = found.end()
    if text[start:].strip():
        yield Span(start + len(text[start:]) - len(text[start:].lstrip()), len(text))
