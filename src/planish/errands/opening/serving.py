"""The desk in one process: the open log, where everything stands (kept up entry by entry), accounts, what is derived.

Nothing here is per person; who sees what is asked of `access` by the door.
"""

import gc
import itertools
import secrets
import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable, Iterable
from contextlib import ExitStack
from pathlib import Path
from typing import Any, Generic, Literal, TypeVar

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from planish.errands.intake.searching import Index
from planish.errands.opening import clock, wiring
from planish.errands.opening.refusing import refuse
from planish.errands.opening.wiring import LEDGER, Fair
from planish.errands.panel.boarding import Board
from planish.errands.panel.checking import Checked, check
from planish.errands.panel.evidence import Evident, as_hung, evident
from planish.errands.panel.liking import CaseBook, Unlike
from planish.errands.people.accounts import Accounts
from planish.errands.people.gathering import not_reserved
from planish.errands.people.seconding import Waiting
from planish.errands.record import backing
from planish.errands.record.restoring import Restored, restore
from planish.errands.seals import keys
from planish.errands.seals.unlocking import Keyring
from planish.ledger.journal import Draft
from planish.ledger.replay import FairState, Folding
from planish.ledger.sqlite import SqliteLedger
from planish.ledger.store import LedgerError, Result
from planish.ledger.story import Story
from planish.ledger.veiling import Veil
from planish.ledger.verifying import Remembered

T = TypeVar("T")
CHECKS_KEPT, EVIDENT_KEPT = 20_000, 500
CASES_MS = 30_000
FEW = 64
"""New entries that are folded between two requests; more are folded in a thread."""


class Kept(Generic[T]):
    """The newest `most` answers by key."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._kept: OrderedDict[Hashable, T] = OrderedDict()
        self._lock = threading.Lock()

    def get(self, key: Hashable, make: Callable[[], T]) -> T:
        """What is kept under `key`, made now if need be."""
        with self._lock:
            if key in self._kept:
                self._kept.move_to_end(key)
                return self._kept[key]
        made = make()
        with self._lock:
            self._kept[key] = made
            while len(self._kept) > self._most:
                self._kept.popitem(last=False)
        return made


class ServedFair(Fair):
    """A fair that stays open: only new entries are folded, one writer at a time."""

    def __init__(self, fair: Fair) -> None:
        super().__init__(fair.folder, fair.journal, fair.rules)
        self._folding = Folding()
        self.lock = threading.RLock()
        self.board, self.index = Board(), Index()
        self._count = itertools.count(1)
        self._changes = self._folded = 0

    @property
    def state(self) -> FairState:
        """Where everything stands now."""
        now = self._state
        if now is not None and self._folded == self._changes:
            return now
        with self.lock:
            if self._state is None or self._folded != self._changes:
                seen = self._changes  # before reading: what comes meanwhile is folded next time
                self._state = self._go_on()
                self._folded = seen
            return self._state

    def at_hand(self) -> bool:
        """True when `state` can be had at once: nobody is waited for, and few entries are new."""
        if self._state is not None and self._folded == self._changes:
            return True
        if not self.lock.acquire(blocking=False):
            return False
        try:
            few = self.journal.store.head().n - self._folding.n <= FEW
            return few and self.state is not None
        finally:
            self.lock.release()

    def _go_on(self) -> FairState:
        """Fold what is new; board and index follow, in spans of one moment so that the speed stays true."""
        changed: dict[str, int] = {}
        for event in self.journal.happened(after=self._folding.n):
            held = self._folding.held.get(event.sub) if event.kind == "held.released" else None
            self._folding.take(event)
            changed[event.sub if held is None else held.sub] = event.recv_ms
        state = self._folding.done()
        by_time: dict[int, list[str]] = {}
        for sub, at in changed.items():
            by_time.setdefault(at, []).append(sub)
        for at, subs in by_time.items():
            self.board.follow(state, subs, at=at)
            self.index.follow(state, subs)
        return state

    def forget(self) -> None:
        """Fold everything again, after readable text was deleted."""
        with self.lock:
            self._state, self._folding = None, Folding()
            self.board, self.index = Board(), Index()

    def changed(self) -> None:
        """Something was written past `record`: fold it when the state is next asked for."""
        self._changes = next(self._count)  # every writer another number: none hides behind another's

    def hand_in(self, drafts: list[Draft]) -> Callable[[], list[Result]]:
        """Write now, and wait for the disk outside the lock: many may wait for one sync together.

        The state that others read meanwhile is without these events; the log itself judges what meets there.
        """
        with self.lock:
            wait = self.journal.hand_in(drafts)

        def settled() -> list[Result]:
            try:
                results = wait()
            except LedgerError as error:
                raise wiring.ledger_refusal(error) from error
            finally:
                self.changed()
            return wiring.counted(drafts, results)

        return settled

    def record(self, drafts: list[Draft]) -> list[Result]:
        """As `Fair.record`, one writer at a time."""
        with self.lock:
            return super().record(drafts)


def open_to_serve(folder: Path) -> "Desk":
    """The desk for a process that does nothing else.

    What the log folds to stays while the desk is open: the search for garbage is told to pass it by.
    """
    gc.disable()
    try:
        desk = Desk(folder)
        gc.freeze()
    finally:
        gc.enable()
    return desk


class Desk:
    """Everything one server process holds. `setup_code` is set while the folder holds no fair yet."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._stack = ExitStack()
        self._fair: ServedFair | None = None
        self._accounts: Accounts | None = None
        self._checks = Kept[Checked](CHECKS_KEPT)
        self._seen = Kept[Evident](EVIDENT_KEPT)
        self._once: dict[str, tuple[Any, Any]] = {}
        self.setup_code = ""
        self.keyring, self.waiting = Keyring(folder), Waiting()
        self._setting_up = threading.Lock()
        self.wrong_codes = 0
        if (folder / LEDGER).is_file():
            self._open()
        else:
            self.setup_code = secrets.token_hex(16)

    @property
    def begun(self) -> bool:
        """True when there is a fair."""
        return self._fair is not None

    @property
    def fair(self) -> ServedFair:
        """The open fair; refuses while there is none."""
        if self._fair is None:
            raise refuse(
                "desk",
                "There is no fair in this folder yet.",
                "Make it first, with the code that stands on the terminal.",
                code="setup.needed",
                kind="rule",
            )
        return self._fair

    @property
    def accounts(self) -> Accounts:
        """The accounts of the fair."""
        found = self._accounts
        if found is None:
            raise refuse(
                "desk",
                "There is no fair in this folder yet.",
                "Make it first, with the code that stands on the terminal.",
                code="setup.needed",
                kind="rule",
            )
        return found

    def _open(self) -> None:
        fair = self._stack.enter_context(wiring.open_fair(self.folder, write=True))
        self._fair = ServedFair(fair)
        self._accounts = Accounts(self.folder)
        self._stack.enter_context(backing.Regularly(self._fair))
        state = self._fair.state
        if not any(
            "chair" in person.roles and self._accounts.has(person.id) for person in state.people.values()
        ):
            self.setup_code = secrets.token_hex(16)

    def begin(
        self, *, rules: str, name: str, opens: str, chair: str, chair_name: str, passphrase: str
    ) -> None:
        """Make the fair, or only its first chair account when the fair was begun on the command line."""
        not_reserved(chair)
        with self._setting_up:
            if not self.setup_code:
                raise refuse(
                    "set-up", "It was done already.", "Sign in instead.", code="setup.done", kind="rule"
                )
            if self._fair is None:
                wiring.begin(self.folder, rules, opens=opens, name=name).close()
                self._open()
            fair = self.fair
            drafts = []
            if chair not in fair.state.people:
                drafts.append(
                    Draft(kind="person.added", sub=chair, who=wiring.OFFICE, body={"name": chair_name})
                )
            known = fair.state.people.get(chair)
            if known is None or "chair" not in known.roles:
                drafts.append(Draft(kind="role.given", sub=chair, who=wiring.OFFICE, body={"role": "chair"}))
            if drafts:
                fair.record(drafts)
            self.accounts.set_passphrase(chair, passphrase)
            self.setup_code = ""

    def bring_back(
        self, medium: Path, secret: bytes, *, made_ms: int = 0, remembered: Iterable[Remembered] = ()
    ) -> Restored:
        """Open a backup into this desk's folder, in which there is no fair yet, and serve it from now on."""
        with self._setting_up:
            if self._fair is not None or not self.setup_code:
                raise refuse(
                    "set-up",
                    "There is a fair in this folder; nothing of it is overwritten.",
                    "Start planish with a new folder: planish serve --fair NEW-FOLDER.",
                    code="setup.done",
                    kind="rule",
                )
            done = restore(medium, self.folder, secret, made_ms=made_ms, remembered=remembered)
            self.setup_code = ""
            self._open()
            return done

    def checked(self, story: Story) -> Checked:
        """The newest label of an object, checked; kept while its words stay."""
        listed = as_hung(story)
        return self._checks.get(
            (listed.id, listed.text, listed.stand, listed.number, listed.price),
            lambda: check(listed, self.fair.kit),
        )

    def case_book(self) -> CaseBook:
        """The fair's faults as structured cases; at most half a minute old, for making it looks at every object."""
        now = self.fair.state.n
        kept = self._once.get("cases")
        if kept is not None and kept[0][0] != now and self.now() - kept[0][1] < CASES_MS:
            book: CaseBook = kept[1]
            return book
        key = kept[0] if kept is not None and kept[0][0] == now else (now, self.now())
        return self.kept_once("cases", key, lambda: CaseBook.of(self.fair))

    def unlike(self) -> tuple[Unlike, ...]:
        """Every pair of like cases with unlike outcomes, as of the case book."""
        book = self.case_book()
        return self.kept_once("unlike", id(book), book.alarms)

    def kept_once(self, name: str, key: Hashable, make: Callable[[], T]) -> T:
        """What was made last under `name`; made anew when `key` is another."""
        kept = self._once.get(name)
        if kept is None or kept[0] != key:
            kept = self._once[name] = (key, make())
        found: T = kept[1]
        return found

    def evident(self, story: Story) -> Evident:
        """Everything that bears on an object; kept while nothing new is noted or worded."""
        key = (story.listed.id, as_hung(story).text, tuple(seen.id for seen in story.observations))
        return self._seen.get(key, lambda: evident(story, self.fair.kit))

    def unlock(self, passphrase: str) -> None:
        """Unlock the fair's keys. Refuses a wrong passphrase."""
        self._uncover(self.keyring.unlock(passphrase))

    def _uncover(self, private: Ed25519PrivateKey) -> None:
        """Let ballots be read, and cover what lies readable since before there were keys."""
        with self.fair.lock:
            veil = self.cover_ballots()
            if veil.public is not None and not veil.open and veil.unlock(keys.ballot_private(private)):
                self.fair.forget()

    def cover_ballots(self) -> Veil:
        """Once both sheets were tried, ballots go to the disk covered, and those that lie there readable are covered."""
        store = self.fair.journal.store
        assert isinstance(store, SqliteLedger)
        public = keys.ballot_public(self.folder)
        if public is not None and store.veil.public is None:
            store.veil = Veil(public, chance=secrets.token_bytes)
        if store.veil.public is not None:
            store.cover_all()
        return store.veil

    @property
    def ballots_lie(self) -> Literal["readable", "covered", "open"]:
        """How ballots lie on the disk: readable before there are keys, covered, or covered and open to this desk."""
        store = self.fair.journal.store
        veil = store.veil if isinstance(store, SqliteLedger) else Veil()
        return "readable" if veil.public is None else "open" if veil.open else "covered"

    def lock_keys(self) -> None:
        """Forget the fair's keys."""
        self.keyring.lock()
        with self.fair.lock:
            self.cover_ballots().lock()
            self.fair.forget()

    def forget(self) -> None:
        """Drop what was derived, after readable text was deleted."""
        self._checks = Kept[Checked](CHECKS_KEPT)
        self._seen = Kept[Evident](EVIDENT_KEPT)
        self._once = {}

    def now(self) -> int:
        """The time in ms."""
        return clock.now_ms()

    def close(self) -> None:
        """Let go of everything."""
        if self._accounts is not None:
            self._accounts.close()
        self._stack.close()
