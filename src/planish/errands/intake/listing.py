"""Taking in stand lists: record what is new, what changed, what is asked; the same list again changes nothing."""

from dataclasses import dataclass, replace
from typing import Any

from planish.errands.intake.relisting import content_digest
from planish.errands.opening.refusing import refuse
from planish.errands.opening.wiring import OFFICE, Fair
from planish.errands.panel.checking import check
from planish.ledger.bodies import listed_body
from planish.ledger.journal import Draft
from planish.ledger.replay import FairState
from planish.ledger.story import Story
from planish.records import ListedObject, Problem
from planish.records.lists import ListChange, ObjectChange, Question, TakenList


@dataclass(frozen=True, slots=True, kw_only=True)
class Taking:
    """What taking in one list did: counts, questions to answer, and every odd cell."""

    stand: str
    file: str
    added: int = 0
    updated: tuple[str, ...] = ()
    withdrawn: int = 0
    same: int = 0
    questions: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()


def on_file(fair: Fair, stand: str) -> tuple[ListedObject, ...]:
    """Objects of `stand` as the log has them, withdrawn ones left out. Refuses a stand that does not exist."""
    state = fair.state
    if stand not in state.stands:
        known = ", ".join(sorted(state.stands, key=stand_order)) or "none yet"
        raise refuse(
            f"stand {stand}",
            "There is no such stand at this fair.",
            f"Stands: {known}.",
            code="stand.unknown",
        )
    stories = state.objects.values()
    mine = (s.listed for s in stories if s.listed.stand == stand and s.state.examination != "withdrawn")
    return tuple(mine)


def stand_order(stand: str) -> tuple[int, str]:
    """Stands by number, then those that are words."""
    return (int(stand), "") if stand.isdigit() else (10**9, stand)


def take(fair: Fair, stand: str, taken: TakenList, change: ListChange, *, who: str = OFFICE) -> Taking:
    """Record a list of `stand` as read (`taken`) and compared with what was on file (`change`), in one transaction.

    `who` takes it in: a person of the office, or an exhibitor (`stand:7`).
    """
    if (
        any(event.body.get("digest") == taken.digest and event.sub == stand for event in fair.state.lists)
        and change.nothing
    ):
        return Taking(stand=stand, file=taken.file, same=change.same, problems=taken.problems)
    numbers = _Numbers(fair.state, stand)
    fresh = [replace(item, id=numbers.next(), stand=stand) for item in change.added]
    drafts = [_list_draft(stand, taken, len(fresh) + len(change.updated))]
    for item in fresh:
        drafts += _new_object(item, fair)
    for update in change.updated:
        drafts += _changed_object(update, fair)
    drafts += [Draft(kind="object.withdrawn", sub=gone.id, who=OFFICE) for gone in change.removed]
    drafts += [_question(question) for question in change.questions]
    fair.record([replace(draft, who=who) for draft in drafts])
    return Taking(
        stand=stand,
        file=taken.file,
        added=len(fresh),
        updated=tuple(_in_words(update) for update in change.updated),
        withdrawn=len(change.removed),
        same=change.same,
        questions=tuple(question.sentence for question in change.questions),
        problems=taken.problems,
    )


def correct(fair: Fair, story: Story, *, text: str, price: str | None, who: str) -> None:
    """Record an exhibitor's own words for one object: the row, the label as hung, and who must see it now."""
    old = story.listed
    new = replace(old, text=text, price=old.price if price is None else price, content=content_digest(text))
    label = story.label
    version = label.version + 1 if label else 1
    body = {"text": new.text, "price": new.price, "content": new.content}
    drafts = [Draft(kind="object.changed", sub=new.id, who=who, body=body), _hung(new, version)]
    fair.record([replace(draft, who=who) for draft in drafts] + [_routed(new, fair)])


class _Numbers:
    """Gives object ids: the stand and a running number that is never used twice."""

    def __init__(self, state: FairState, stand: str) -> None:
        self.stand = stand
        mine = (key for key in state.objects if key.rpartition("-")[0] == stand)
        self.last = max((int(key.rpartition("-")[2]) for key in mine), default=0)

    def next(self) -> str:
        """The next free id of the stand, such as "7-014"."""
        self.last += 1
        return f"{self.stand}-{self.last:03d}"


def _list_draft(stand: str, taken: TakenList, objects: int) -> Draft:
    mapping = {column.heading or column.letter: column.field for column in taken.columns}
    body = {
        "digest": taken.digest,
        "rows": len(taken.rows),
        "objects": objects,
        "mapping": mapping,
        "file": taken.file,
        "problems": [str(problem) for problem in taken.problems],
    }
    return Draft(kind="list.taken", sub=stand, who=OFFICE, body=body)


def _new_object(item: ListedObject, fair: Fair) -> list[Draft]:
    return [
        Draft(kind="object.listed", sub=item.id, who=OFFICE, body=listed_body(item)),
        _hung(item, 1),
        _routed(item, fair),
    ]


def _hung(item: ListedObject, version: int) -> Draft:
    body = {"version": version, "text": item.text, "price": item.price}
    return Draft(kind="label.hung", sub=item.id, who=OFFICE, body=body)


def _routed(item: ListedObject, fair: Fair) -> Draft:
    where = check(item, fair.kit).route
    body = {"lead": where.lead, "others": list(where.seconds), "ask": where.ask, "why": list(where.why)}
    return Draft(kind="object.routed", sub=item.id, who=OFFICE, body=body)


def _changed_object(update: ObjectChange, fair: Fair) -> list[Draft]:
    new = replace(update.new, id=update.old.id, stand=update.old.stand)
    whole = listed_body(new)
    changed = {change.field for change in update.changes}
    wanted = ("text", "price", "content", "fields", "raw")
    body: dict[str, Any] = {name: whole[name] for name in wanted if name in whole}
    drafts = [Draft(kind="object.changed", sub=new.id, who=OFFICE, body=body)]
    if "text" in changed:
        label = fair.state.objects[new.id].label
        drafts += [_hung(new, label.version + 1 if label else 1), _routed(new, fair)]
    return drafts


def _question(question: Question) -> Draft:
    body = {"to": "exhibitor", "words": question.sentence}
    return Draft(kind="question.asked", sub=question.old.id, who=OFFICE, body=body)


def _in_words(update: ObjectChange) -> str:
    parts = "; ".join(f"{c.field}: “{c.before}” → “{c.after}”" for c in update.changes)
    return f"No. {update.old.number}: {parts}"
