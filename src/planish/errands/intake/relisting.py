"""A list against what was on file: the same, updated field by field, added, removed, and what only the exhibitor knows.

Pure: values in, values out. Nothing is applied; stock that seems to carry a new number becomes a question.
"""

import re
from collections.abc import Iterable, Mapping

from planish.records import FieldChange, ListChange, ListedObject, ObjectChange, Problem, Question, TakenList

ALIKE = 0.88
"""Likeness of words (0..1) from which a new number is asked about rather than taken for a new object; a house figure."""

UNLIKE = 0.45
"""Likeness under which one number with other words is asked about rather than taken for an update; a house figure."""

_NO_LETTER = re.compile(r"[\W_]+")
_QUIET = {"shade", "section"}


def compare_lists(old_objects: Iterable[ListedObject], taken: TakenList) -> ListChange:
    """Compare what is on file with a list as taken in.

    Pairs by stock number and, where one number stands on several objects, by their words and then their order. Left-overs
    are paired by digest of their words, then by likeness; each such pair is a Question, never an update.
    """
    same, updates, questions = 0, [], []
    old_left, new_left = [], []
    groups_old, groups_new = _by_number(old_objects), _by_number(taken.objects)
    for number in dict.fromkeys([*groups_old, *groups_new]):
        pairs, more_old, more_new = _pair_up(
            groups_old.get(number, []), groups_new.get(number, []), number == ""
        )
        old_left += more_old
        new_left += more_new
        for old, new in pairs:
            changes = _changes(old, new)
            same += not changes
            if changes:
                updates.append(ObjectChange(old=old, new=new, changes=changes))
    renumbered, removed, added = _by_content(old_left, new_left)
    questions += renumbered
    updates, swapped = _swapped(updates)
    questions += swapped
    return ListChange(
        same=same,
        updated=tuple(updates),
        added=tuple(added),
        removed=tuple(removed),
        questions=tuple(questions),
    )


def _by_number(objects: Iterable[ListedObject]) -> dict[str, list[ListedObject]]:
    groups: dict[str, list[ListedObject]] = {}
    for listed in objects:
        groups.setdefault("".join(listed.number.casefold().split()), []).append(listed)
    return groups


Pairs = tuple[list[tuple[ListedObject, ListedObject]], list[ListedObject], list[ListedObject]]


def _pair_up(old: list[ListedObject], new: list[ListedObject], unnumbered: bool) -> Pairs:
    """Pairs of one number: first those with the same words, then in order (never for objects without a number)."""
    waiting = list(new)
    pairs, left = [], []
    for item in old:
        twin = next((other for other in waiting if other.content == item.content), None)
        if twin is None:
            left.append(item)
        else:
            waiting.remove(twin)
            pairs.append((item, twin))
    if not unnumbered:
        matched = min(len(left), len(waiting))
        pairs += list(zip(left[:matched], waiting[:matched], strict=True))
        left, waiting = left[matched:], waiting[matched:]
    return pairs, left, waiting


def _changes(old: ListedObject, new: ListedObject) -> tuple[FieldChange, ...]:
    changes = []
    if old.text != new.text:
        changes.append(FieldChange(field="text", before=old.text, after=new.text))
    if old.price != new.price:
        changes.append(FieldChange(field="price", before=old.price, after=new.price))
    for name in dict.fromkeys([*old.fields, *new.fields]):
        before, after = old.fields.get(name, ""), new.fields.get(name, "")
        if before != after and name not in _QUIET and name != "text":
            changes.append(FieldChange(field=name, before=before, after=after))
    return tuple(changes)


def likeness(one: str, other: str) -> float:
    """Likeness of two labels' words, 0..1 (share of letters that need no change, words taken in any order)."""
    from rapidfuzz import fuzz, utils

    return float(fuzz.token_sort_ratio(one, other, processor=utils.default_process)) / 100


def content_digest(text: str) -> str:
    """Digest of the words alone, for stock that got a new number: case, spaces and points do not count."""
    from hashlib import sha256

    words = _NO_LETTER.sub("", text.casefold())
    return sha256(words.encode()).hexdigest()[:32]


Left = tuple[list[Question], list[ListedObject], list[ListedObject]]


def _by_content(old: list[ListedObject], new: list[ListedObject]) -> Left:
    """Questions for left-overs that are alike, best first and each used once; then what is removed and what is added."""
    questions: list[Question] = []
    taken_old: set[int] = set()
    taken_new: set[int] = set()
    for like, at, to in sorted(_likely(old, new), key=lambda pair: (-pair[0], pair[1], pair[2])):
        if at in taken_old or to in taken_new:
            continue
        taken_old.add(at)
        taken_new.add(to)
        questions.append(_ask(old[at], new[to], like))
    removed = [item for at, item in enumerate(old) if at not in taken_old]
    added = [item for at, item in enumerate(new) if at not in taken_new]
    return questions, removed, added


def _likely(old: list[ListedObject], new: list[ListedObject]) -> list[tuple[float, int, int]]:
    if not old or not new:
        return []
    from rapidfuzz import fuzz, process, utils

    contents: dict[str, list[int]] = {}
    for to, item in enumerate(new):
        contents.setdefault(item.content, []).append(to)
    pairs = [(1.0, at, to) for at, item in enumerate(old) for to in contents.get(item.content, ())]
    matrix = process.cdist(
        [item.text for item in old],
        [item.text for item in new],
        scorer=fuzz.token_sort_ratio,
        processor=utils.default_process,
        score_cutoff=100 * ALIKE,
    )
    for at, row in enumerate(matrix):
        pairs += [(float(score) / 100, at, to) for to, score in enumerate(row) if score]
    return pairs


def _ask(old: ListedObject, new: ListedObject, like: float) -> Question:
    how = "the same words" if old.content == new.content else f"nearly the same words ({like:.0%} alike)"
    before, after = old.number or "without a number", new.number or "without a number"
    sentence = f"{before} is gone and {after} has {how}: “{_short(new.text)}”. Is it the same object with a new number?"
    return Question(kind="renumbered", sentence=sentence, old=old, new=new, likeness=like)


def _swapped(updates: list[ObjectChange]) -> tuple[list[ObjectChange], list[Question]]:
    """Take out updates whose words have nothing in common with the old: another object may stand under the number."""
    olds: Mapping[str, ListedObject] = {update.old.content: update.old for update in updates}
    kept, questions = [], []
    for update in updates:
        like = likeness(update.old.text, update.new.text)
        home = olds.get(update.new.content)
        if home is not None and home is not update.old:
            questions.append(_ask(home, update.new, 1.0))
        elif update.old.text != update.new.text and like < UNLIKE:
            questions.append(_ask_other(update, like))
        else:
            kept.append(update)
    return kept, questions


def _ask_other(update: ObjectChange, like: float) -> Question:
    sentence = (
        f"{update.old.number} was “{_short(update.old.text)}” and is now “{_short(update.new.text)}”. "
        "Is it the same object with a new label, or another object under an old number?"
    )
    return Question(
        kind="same_number_other_words", sentence=sentence, old=update.old, new=update.new, likeness=like
    )


def _short(text: str) -> str:
    return text if len(text) <= 90 else text[:87] + "…"


def stand_problems(taken: TakenList, stand: str) -> tuple[Problem, ...]:
    """What the list itself says of its stand against the stand it was handed in for; a whole sheet is one Problem."""
    other: dict[tuple[str, str], list[ListedObject]] = {}
    for listed in taken.objects:
        said = listed.fields.get("stand", "").strip()
        digits = "".join(sign for sign in said if sign.isdigit()).lstrip("0")
        if said and said.casefold() != stand.casefold() and digits != stand.lstrip("0"):
            other.setdefault((listed.raw.sheet if listed.raw else "", said), []).append(listed)
    return tuple(
        _wrong_stand(taken.file, sheet, said, found, stand) for (sheet, said), found in other.items()
    )


def _wrong_stand(file: str, sheet: str, said: str, found: list[ListedObject], stand: str) -> Problem:
    first = found[0].raw
    where = f"{file}, sheet {sheet}" if sheet else file
    rows = f"{len(found)} rows, from row {first.row}," if first else f"{len(found)} rows"
    return Problem(
        where=where,
        what=f"{rows} name stand {said}, and the list was handed in for stand {stand}.",
        remedy=f"Ask the exhibitor; until then all of them are listed on stand {stand}.",
        code="list.other_stand",
        severity=2,
        found=said,
    )
