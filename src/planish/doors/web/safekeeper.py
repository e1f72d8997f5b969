"""Backups, trials, archives and restoring at the desk: one at a time, in a thread of its own; pages ask how far it is."""

import threading
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Literal

from planish.errands.opening.refusing import Refused, refuse
from planish.errands.opening.serving import Desk
from planish.errands.record import archiving, backing, media, packing, restoring
from planish.ledger.store import LedgerError
from planish.records import Problem

What = Literal["backup", "trial", "archive", "check", "restore"]
State = Literal["running", "done", "failed"]
Told = Callable[[str, float], None]
TRIAL = "Opening the newest copy with the sheet and reading all of it"
CHECK = "Reading every file, every entry and every text of the archive"
RESTORE = "Opening the copy, verifying all of it, and writing it into a new folder"


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """What is being done, or was done last: the step in words, how much is done (0 to 1), what came of it and where."""

    what: What
    state: State = "running"
    step: str = ""
    share: float = 0.0
    says: str = ""
    where: str = ""
    problems: tuple[Problem, ...] = ()


class Safekeeper:
    """What one desk does for the safety of its record."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self.work: Work | None = None
        self._lock = threading.Lock()

    def back_up(self, place: Path) -> None:
        """Make a backup on `place`; the desk repeats it there from now on."""

        def run(told: Told) -> tuple[str, str]:
            steps = packing.STEPS
            done = backing.back_up(self.desk.fair, place, said=lambda at: told(steps[at], at / len(steps)))
            return _backed_up(done), str(done.file)

        self._begin("backup", run)

    def try_out(self, place: Path, secret: bytes) -> None:
        """Open the newest copy with a sheet, read all of it, throw it away."""

        def run(told: Told) -> tuple[str, str]:
            told(TRIAL, 0.1)
            done = restoring.drill(self.desk.folder, place, secret)
            lacks = f" {len(done.missing)} files are not on the medium." if done.missing else ""
            words = (
                f"The sheet opens it: {done.n} entries, every byte as it was written, and {done.files} files."
            )
            return words + lacks, str(place)

        self._begin("trial", run)

    def archive(self, place: Path | None) -> None:
        """Write an archive on `place`, or beside the fair's folder, and check it. Signed while the keys are unlocked."""

        def run(told: Told) -> tuple[str, str]:
            target = media.new_archive(self.desk.fair, place)
            key = self.desk.keyring.private() if self.desk.keyring.unlocked else None
            steps = archiving.STEPS
            done = archiving.archive(
                self.desk.fair,
                target,
                key=key,
                said=lambda at, share: told(steps[at], 0.9 * (at + share) / len(steps)),
            )
            told(CHECK, 0.9)
            whole, words = archiving.look_over(target)
            size = f"{done.entries} entries and {done.objects} objects, {_size(done.bytes)}."
            return _looked_over(whole, words, size), str(target)

        self._begin("archive", run)

    def check_archive(self, folder: Path) -> None:
        """Read an archive back and say whether it is as it was written."""

        def run(told: Told) -> tuple[str, str]:
            told(CHECK, 0.1)
            whole, words = archiving.look_over(folder)
            return _looked_over(whole, words, ""), str(folder)

        self._begin("check", run)

    def restore(self, place: Path, made_ms: int, secret: bytes) -> None:
        """Open a copy into a new folder beside the fair's own; the open fair is not touched."""

        def run(told: Told) -> tuple[str, str]:
            told(RESTORE, 0.1)
            into = media.beside(self.desk.folder, made_ms)
            home = backing.home(self.desk.folder, self.desk.fair.journal.store.fair, place)
            done = restoring.restore(home, into, secret, made_ms=made_ms)
            return restored(done), str(into)

        self._begin("restore", run)

    def _begin(self, what: What, run: Callable[[Told], tuple[str, str]]) -> None:
        with self._lock:
            if self.work is not None and self.work.state == "running":
                raise refuse(
                    "this page",
                    "Something is being done already.",
                    "Wait until it is done; this page shows how far it is.",
                    code="record.busy",
                    kind="rule",
                )
            self.work = Work(what=what)
        threading.Thread(target=self._do, args=(run,), name="safe keeping", daemon=True).start()

    def _do(self, run: Callable[[Told], tuple[str, str]]) -> None:
        assert self.work is not None
        try:
            says, where = run(self._told)
            self.work = replace(self.work, state="done", step="", share=1.0, says=says, where=where)
        except Refused as refused:
            self._failed(*refused.problems)
        except (LedgerError, OSError) as error:
            self._failed(
                Problem(
                    where="the medium",
                    what=f"It could not be done: {error}.",
                    remedy="What was there before stands. Look at the medium, and repeat.",
                    code="record.failed",
                    severity=2,
                )
            )
        except BaseException:
            self._failed(
                Problem(
                    where="planish",
                    what="Something in planish went wrong; what was there before stands.",
                    remedy="Repeat it once; if it happens again, tell whoever keeps this desk.",
                    code="fault",
                    severity=1,
                )
            )
            raise

    def _told(self, step: str, share: float) -> None:
        assert self.work is not None
        self.work = replace(self.work, step=step, share=min(share, 1.0))

    def _failed(self, *problems: Problem) -> None:
        assert self.work is not None
        self.work = replace(self.work, state="failed", step="", problems=problems)


def _size(count: int) -> str:
    return f"{count / 1e6:.1f} MB" if count >= 100_000 else f"{max(1, count // 1000)} kB"


def _backed_up(done: backing.BackedUp) -> str:
    words = (
        f"Entries up to {done.n} are in it, {_size(done.bytes)}, and {done.new_files} new files. The copy was opened and "
        "verified before it was encrypted; what the medium holds was read back."
    )
    if not done.counts:
        words += " It lies on the same disk as the fair: when that disk fails both are gone, so it makes nothing safer."
    return words


def _looked_over(whole: bool, words: str, size: str) -> str:
    lines = [
        size,
        "It was read back and is as it was written." if whole else "It is NOT as it was written:",
        words,
    ]
    return "\n".join(line for line in lines if line)


def restored(done: restoring.Restored) -> str:
    """What came back, in sentences."""
    words = [
        f"The log up to entry {done.n} is there again, and {done.files} files. A new epoch of the log has begun."
    ]
    if done.repeated:
        words.append(f"{done.repeated} deletions made since were carried out again.")
    if done.aside:
        words.append(f"Put aside, not overwritten: {', '.join(done.aside)}.")
    if done.missing:
        words.append(f"{len(done.missing)} files are not on the medium.")
    if done.newer:
        words.append("A newer copy lies there; tablets may have let go of what only the newer one holds.")
    return " ".join(words)
