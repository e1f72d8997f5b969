"""Wiring: opens a fair's folder and hands packs, rules, time and chance to the rooms that need them.

A fair is one folder: `ledger.db` (the log), `rulebook.toml` (the rule book as adopted; its digest stands in the log),
`lists/` (lists as they came, by digest), `papers/` (what was printed).
"""

import os
import secrets
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from functools import cached_property
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING

from planish.errands.opening import clock
from planish.errands.opening.refusing import Refused, refuse
from planish.errands.seals import keys
from planish.facts.book import FactBook
from planish.facts.loading import disciplines, load
from planish.facts.rulebooks import load_rulebook
from planish.facts.words import WordBook, english
from planish.ledger import sqlite
from planish.ledger.journal import Draft, Journal
from planish.ledger.replay import FairState, Folding
from planish.ledger.store import LedgerError, LedgerMissingError, Result
from planish.ledger.veiling import Veil
from planish.records import Discipline, Problem, RuleBook

if TYPE_CHECKING:
    from planish.errands.panel.stakes import Dearest

LEDGER, RULES, LISTS, PAPERS = "ledger.db", "rulebook.toml", "lists", "papers"
OFFICE = "office"


@dataclass(slots=True, weakref_slot=True)
class Kit:
    """What the reasoning rooms are given: words, facts, rules, disciplines."""

    rules: RuleBook
    words: WordBook = field(default_factory=english)
    book: FactBook = field(default_factory=lambda: load("metalware")[0])
    disciplines: tuple[Discipline, ...] = field(default_factory=lambda: disciplines()[0])


class Fair:
    """An open fair: its folder, log, rules. `state` is the fold of the log, made once per change."""

    def __init__(self, folder: Path, journal: Journal, rules: RuleBook) -> None:
        self.folder, self.journal, self.rules = folder, journal, rules
        self._state: FairState | None = None
        self._folding = Folding()
        self._dearest: tuple[FairState, Dearest] | None = None

    @cached_property
    def kit(self) -> Kit:
        """Packs and rules, loaded when first needed."""
        return Kit(self.rules)

    @property
    def state(self) -> FairState:
        """Where everything stands now."""
        if self._state is None:
            for event in self.journal.happened(self._folding.n):
                self._folding.take(event)
            self._state = self._folding.done()
        return self._state

    @property
    def dearest(self) -> "Dearest":
        """Which objects are among the costliest share by price, reckoned once for a state and only when asked."""
        from planish.errands.panel.stakes import Dearest

        state = self.state
        if self._dearest is None or self._dearest[0] is not state:
            self._dearest = state, Dearest(state, self.rules.voting.talk_costliest)
        return self._dearest[1]

    def forget(self) -> None:
        """Fold everything again, after readable text was deleted."""
        self._state, self._folding = None, Folding()

    def close(self) -> None:
        """Let go of the log."""
        self.journal.store.close()

    def record(self, drafts: list[Draft]) -> list[Result]:
        """Write events together. What the log would not apply is refused in words; it stays recorded all the same."""
        try:
            results = self.journal.add_all(drafts)
        except LedgerError as error:
            raise ledger_refusal(error) from error
        finally:
            self._state = None
        return counted(drafts, results)


def counted(drafts: Sequence[Draft], results: list[Result]) -> list[Result]:
    """The results, when every event counts; else a refusal in words, though what was written stays recorded."""
    failed = [
        _not_applied(draft, result)
        for draft, result in zip(drafts, results, strict=True)
        if not result.applied
    ]
    if failed:
        raise Refused(failed[0], *failed[1:], kind="rule")
    return results


def _not_applied(draft: Draft, result: Result) -> Problem:
    kept = f"It is recorded as entry {result.n} and does not count." if result.n else "It is not recorded."
    return Problem(
        where=f"{draft.kind}, {draft.sub}",
        what=f"{result.why or 'The log did not take it.'} {kept}",
        remedy="Look at the object as it stands now (planish show), then decide again.",
        code=f"ledger.{result.status}",
        severity=2,
    )


def ledger_refusal(error: LedgerError) -> Refused:
    """A ledger's trouble as a refusal with its way out."""
    return refuse(
        "the fair's log", str(error), "Nothing recorded before is lost.", code="ledger", kind="ledger"
    )


def begin(folder: Path, rules: str, *, opens: str = "", name: str = "") -> Fair:
    """Start a fair in `folder` (made if need be) under the rule book called `rules` or at that path."""
    book, problems = load_rulebook(rules)
    if not book.clauses and problems:
        raise Refused(problems[0], *problems[1:])
    folder.mkdir(parents=True, exist_ok=True)
    if any(one.name != "tls" for one in folder.iterdir()):  # a certificate may be there first
        raise refuse(
            str(folder), "The folder is not empty.", "Give a new folder; a fair never overwrites anything."
        )
    text = _rulebook_text(rules)
    (folder / RULES).write_bytes(text)
    try:
        store = sqlite.create(folder / LEDGER, fair=book.id, epoch=secrets.token_hex(8))
    except LedgerError as error:
        raise ledger_refusal(error) from error
    fair = Fair(folder, _journal(store), book)
    fair.record(
        [
            Draft(
                kind="fair.begun", sub=book.id, who=OFFICE, body={"opens": opens, "name": name or book.fair}
            ),
            Draft(
                kind="rulebook.adopted",
                sub=book.id,
                who=OFFICE,
                body={"digest": sha256(text).hexdigest(), "version": book.version},
            ),
        ]
    )
    return fair


def _rulebook_text(rules: str) -> bytes:
    path = Path(rules)
    if path.is_file():
        return path.read_bytes()
    from importlib.resources import files

    return (files("planish") / "packs" / "rulebook" / f"{rules}.toml").read_bytes()


def _journal(store: sqlite.SqliteLedger | sqlite.SqliteReader) -> Journal:
    return Journal(store, dev="desk", now=clock.now_ms, chance=secrets.token_bytes)  # type: ignore[arg-type]


@contextmanager
def open_fair(folder: Path, *, write: bool = False) -> Iterator[Fair]:
    """Open the fair in `folder`; writing waits a moment for another planish to finish, reading never does."""
    path = folder / LEDGER
    try:
        store = sqlite.open_ledger(path) if write else sqlite.read_ledger(path)
    except LedgerMissingError as error:
        remedy = "Start one with: planish begin FOLDER --rules saltmere; or name its folder with --fair."
        raise refuse(str(folder), "There is no fair in this folder.", remedy, kind="ledger") from error
    except LedgerError as error:
        raise ledger_refusal(error) from error
    try:
        _veil(store, folder, write=write)
        yield Fair(folder, _journal(store), _adopted_rules(folder))
    except LedgerError as error:
        raise ledger_refusal(error) from error
    finally:
        store.close()


def _veil(store: sqlite.SqliteLedger | sqlite.SqliteReader, folder: Path, *, write: bool) -> None:
    """Ballots are covered once the fair's keys were tried; PLANISH_PASSPHRASE uncovers them for this process."""
    public = keys.ballot_public(folder)
    if public is None:
        return
    store.veil = Veil(public, chance=secrets.token_bytes)
    given = os.environ.get("PLANISH_PASSPHRASE", "")
    if given:
        with suppress(Refused):  # the passphrase of something else: ballots stay covered
            store.veil.unlock(keys.ballot_private(keys.private(folder, given)))
    if write and isinstance(store, sqlite.SqliteLedger):
        store.cover_all()


def _adopted_rules(folder: Path) -> RuleBook:
    rules, problems = load_rulebook(folder / RULES)
    if not rules.clauses and problems:
        raise Refused(problems[0], *problems[1:])
    return rules
