"""Lists on their way in: read in a limited child process, shown, taken, and taken back if it was a mistake.

A list waits in memory until it is taken; its bytes then lie in `lists/` under their digest. Its name is words only.
"""

import secrets
import threading
from collections import OrderedDict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Literal

from planish.doors.papers.lists import read_list_safely
from planish.errands.intake import listing
from planish.errands.intake.relisting import compare_lists
from planish.errands.opening.refusing import Refused, refuse
from planish.errands.opening.serving import Desk
from planish.errands.opening.wiring import LISTS
from planish.records import FieldChange, ListChange, ListedObject, ObjectChange, Problem, TakenList

MOST = 20
State = Literal["reading", "ready", "taking", "taken", "failed", "undone"]


@dataclass
class Intake:
    """One list on its way in. `after` is the log's newest entry before it was taken, `last` the newest after."""

    id: str
    stand: str
    file: str
    data: bytes = field(repr=False)
    who: str
    state: State = "reading"
    taken: TakenList | None = None
    change: ListChange | None = None
    mapping: dict[str, str] | None = None
    done: int = 0
    problems: tuple[Problem, ...] = ()
    made: tuple[str, ...] = ()
    updated: tuple[str, ...] = ()


class Intakes:
    """All lists on their way in, newest last; of finished ones only the newest are kept."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self._all: OrderedDict[str, Intake] = OrderedDict()
        self._lock = threading.Lock()

    def get(self, intake_id: str) -> Intake | None:
        """One intake."""
        return self._all.get(intake_id)

    def last_taken(self, stand: str) -> Intake | None:
        """The newest list taken on a stand."""
        found = [one for one in self._all.values() if one.stand == stand and one.state == "taken"]
        return found[-1] if found else None

    def begin(self, stand: str, file: str, data: bytes, *, who: str) -> Intake:
        """Start reading a list; comes back at once."""
        listing.on_file(self.desk.fair, stand)
        one = Intake(id=secrets.token_hex(8), stand=stand, file=clean_name(file), data=data, who=who)
        with self._lock:
            busy = [other for other in self._all.values() if other.state in ("reading", "taking")]
            if len(busy) >= 4:
                raise refuse(
                    "lists",
                    "Four lists are being read already.",
                    "Wait until one is done.",
                    code="intake.busy",
                )
            self._all[one.id] = one
            while len(self._all) > MOST:
                self._all.popitem(last=False)
        self._spawn(one)
        return one

    def choose(self, one: Intake, columns: dict[str, str]) -> None:
        """Read the list again with columns named by a person."""
        if one.state != "ready":
            raise _not_now(one)
        one.mapping, one.state = columns, "reading"
        self._spawn(one)

    def _spawn(self, one: Intake) -> None:
        threading.Thread(target=self._read, args=(one,), name="reading a list", daemon=True).start()

    def _read(self, one: Intake) -> None:
        mapping = {"columns": one.mapping} if one.mapping else None
        try:
            taken = read_list_safely(one.data, one.file, mapping)
            one.taken, one.problems = taken, taken.problems
            if taken.objects:
                one.change = compare_lists(listing.on_file(self.desk.fair, one.stand), taken)
                one.state = "ready"
            else:
                one.state = "failed"
        except Refused as error:
            one.problems, one.state = error.problems, "failed"
        except Exception as error:
            problem = Problem(
                where=one.file,
                what=f"The list could not be read ({type(error).__name__}).",
                remedy="Save it as XLSX or CSV and send it again.",
                code="list.fault",
                severity=2,
            )
            one.problems, one.state = (problem,), "failed"
            raise

    def take(self, one: Intake, *, who: str) -> None:
        """Record the list in the name of `who`. What stands on file is compared again first, so nothing written meanwhile is lost."""
        fair = self.desk.fair
        with fair.lock:
            if one.state != "ready" or one.taken is None:
                raise _not_now(one)
            one.state = "taking"
            before = set(fair.state.objects)
            try:
                change = compare_lists(listing.on_file(fair, one.stand), one.taken)
                self._keep_file(one)
                listing.take(fair, one.stand, one.taken, change, who=who)
            except BaseException:
                one.state = "ready"
                raise
            one.change, one.data = change, b""
            one.made = tuple(key for key in fair.state.objects if key not in before)
            one.updated = tuple(update.old.id for update in change.updated)
            one.done, one.state = len(one.taken.rows), "taken"

    def _keep_file(self, one: Intake) -> None:
        assert one.taken is not None
        folder = self.desk.folder / LISTS
        folder.mkdir(exist_ok=True)
        path = folder / one.taken.digest
        if not path.exists():
            path.write_bytes(one.data)

    def may_undo(self, one: Intake) -> bool:
        """True while nothing was done with what the list brought, and it is the newest list of its stand."""
        if one.state != "taken" or self.last_taken(one.stand) is not one:
            return False
        objects = self.desk.fair.state.objects
        return all(objects[key].state.examination == "listed" for key in (*one.made, *one.updated))

    def undo(self, one: Intake, *, who: str) -> int:
        """Take a list back: new objects leave, changed ones get their words back, gone ones are listed again."""
        fair = self.desk.fair
        with fair.lock:
            if not self.may_undo(one) or one.change is None:
                raise refuse(
                    one.file,
                    "It can no longer be taken back: another list came after it, or its objects are being looked at.",
                    "Take in a corrected list instead.",
                    code="intake.no_undo",
                    kind="rule",
                )
            back = TakenList(file=f"before {one.file}", digest="0" * 64)
            change = _back({item.id: item for item in listing.on_file(fair, one.stand)}, one.change, one.made)
            listing.take(fair, one.stand, back, change, who=who)
            one.state = "undone"
            return len(one.made) + len(one.updated) + len(one.change.removed)


def _back(now: Mapping[str, ListedObject], done: ListChange, made: Iterable[str]) -> ListChange:
    """What undoes a list: never guessed by comparing, taken from what it did."""
    updated = tuple(
        ObjectChange(
            old=now[update.old.id],
            new=update.old,
            changes=tuple(FieldChange(field=c.field, before=c.after, after=c.before) for c in update.changes),
        )
        for update in done.updated
    )
    removed = tuple(now[key] for key in made if key in now)
    return ListChange(updated=updated, removed=removed, added=done.removed)


def clean_name(name: str) -> str:
    """A file's name as words: no folders, no signs that steer, at most 120 characters. It never becomes a path."""
    last = name.replace("\\", "/").rpartition("/")[2]
    shown = "".join(sign for sign in last if sign.isprintable() and sign not in "<>:|?*\"'`")
    return shown.strip(". ")[-120:] or "list"


def _not_now(one: Intake) -> Refused:
    return refuse(
        one.file, f"This list is {one.state}.", "Look at it again.", code="intake.state", kind="rule"
    )
