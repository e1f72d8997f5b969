"""Backups of a fair: verified, encrypted, on a second medium; how far the log is safe there; when to make the next.

    back_up(fair, place)     one backup now; raises `safe_n` when the medium is a second one
    standing(fair)           how far the log is safe, how old that is, whether it is late: for ticks and the red strip
    notice(fair)             take note of a backup that another process made while this one writes
    Regularly(fair)          every five minutes, in a thread of its own, while a desk is open

On the medium lies one folder per fair, named after the fair and its key: `TIME-N.age` (log, rule book, keys, accounts),
`files/DIGEST.age` (pictures, lists, papers, each once), `deleted.jsonl` (which texts were deleted since, no text of
theirs), `README.txt`. What the fair knows of its backups lies in `backups.json` in its folder; it is never in the log.
"""

import json
import re
import shutil
import subprocess
import sys
import tempfile
import threading
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from planish.errands.opening import clock
from planish.errands.opening.refusing import Refused, refuse
from planish.errands.opening.wiring import Fair
from planish.errands.record.envelopes import recipient
from planish.errands.record.packing import (
    ENDING,
    FILES,
    PRINTED,
    Job,
    Packed,
    printed_there,
    room_for,
    sync_folder,
)
from planish.errands.seals import keys
from planish.ledger.backup import FIVE_MINUTES_MS, which_to_keep
from planish.ledger.store import LedgerError

SAID, DELETED = "backups.json", "deleted.jsonl"
LATE_MS = 15 * 60_000
"""Without a good backup for so long the desk says so in red (house default)."""
README = """This is a backup of a fair, encrypted. It opens with either of the fair's two recovery sheets.

On any computer with planish:   planish restore THIS-FOLDER --into NEW-FOLDER
and type the 34 words of one sheet. Nothing is overwritten.

The files are in the open format age v1 (age-encryption.org/v1). `planish key identity` turns a sheet into the line that
any age tool takes; inside is a compressed tar with the log (SQLite) and the rule book.
"""
_NAME = re.compile(rf"([0-9]+)-([0-9]+){re.escape(ENDING)}")
_ONE_AT_A_TIME = threading.Lock()
"""In one desk: the turn of every five minutes and a button pressed meanwhile wait for each other."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BackedUp:
    """One good backup: the newest entry in it, its hash (hex), when (ms), the file, its bytes, files copied besides.

    `counts` is False when the place is on the same disk as the fair: then nothing is safer than before.
    """

    n: int
    hash: str
    at_ms: int
    file: Path
    bytes: int
    new_files: int
    counts: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """How safe the log is. Entries up to `safe_n` lie in a verified backup on a second medium: a tablet may let go of them.

    `last_ms` is when that was last made (0 for never); `late` asks for the red strip; `fault` says what went wrong last,
    "" when nothing did; `drilled_ms` is when a backup was last opened with a sheet (0 for never).
    """

    safe_n: int
    head_n: int
    last_ms: int
    place: str
    late: bool
    fault: str
    drilled_ms: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """A backup as it lies on a medium: when it was made (ms), its newest entry, its file."""

    at_ms: int
    n: int
    file: Path


def back_up(
    fair: Fair, place: Path, *, counts: bool | None = None, said: Callable[[int], None] = lambda _: None
) -> BackedUp:
    """Make one backup under `place`. `counts` None: it counts when the place is on another disk than the fair.

    `said` is told each step of `packing.STEPS` as it begins. Refuses when the fair has no keys yet, when there is no room, and when the copy or what was written does not verify.
    """
    with _ONE_AT_A_TIME:
        return _back_up(fair, place, counts, said)


def _back_up(fair: Fair, place: Path, counts: bool | None, said: Callable[[int], None]) -> BackedUp:
    head = fair.journal.store.head()
    target = home(fair.folder, fair.journal.store.fair, place)
    at = clock.now_ms()
    recipients = tuple(recipient(key) for key in keys.recipients(fair.folder))
    _ready(fair.folder, place, target)
    job = Job(
        folder=str(fair.folder),
        place=str(target),
        recipients=recipients,
        n=head.n,
        hash=head.hash.hex() if head.n else "",
        at_ms=at,
    )
    packed = _in_a_process(job, said)
    if packed.fault:
        _say(fair.folder, fault={"at_ms": at, "words": packed.fault})
        raise _failed(target, packed.fault)
    _thin(target)
    carry_deletions(fair.folder, target)
    safe = other_disk(fair.folder, target) if counts is None else counts
    done = BackedUp(
        n=packed.n,
        hash=packed.hash,
        at_ms=at,
        file=target / packed.file,
        bytes=packed.bytes,
        new_files=packed.new_files,
        counts=safe,
    )
    last = {"at_ms": at, "n": done.n, "hash": done.hash, "file": str(done.file), "counts": safe}
    _say(fair.folder, place=str(place), counts=counts, last=last, fault=None)
    notice(fair)
    return done


def _failed(target: Path, fault: str) -> Exception:
    remedy = "The earlier backups stand. Look at the medium; take another one if this repeats."
    return refuse(str(target), f"No backup was made: {fault}.", remedy, code="backup.failed", kind="ledger")


def _ready(folder: Path, place: Path, target: Path) -> None:
    if not place.is_dir():
        raise refuse(
            str(place),
            "There is no such folder.",
            "Put the medium in, or name its folder.",
            code="backup.place",
        )
    if place.resolve() == folder.resolve() or folder.resolve() in place.resolve().parents:
        raise refuse(
            str(place),
            "It lies inside the fair's own folder.",
            "Name a folder on a second medium.",
            code="backup.place",
        )
    for left in folder.glob(".backup-*"):  # a backup that was cut off
        shutil.rmtree(left, ignore_errors=True)
    target.mkdir(exist_ok=True)
    if words := room_for(folder, target):
        _say(folder, fault={"at_ms": clock.now_ms(), "words": words})
        raise _failed(target, words)
    (target / "README.txt").write_text(README, encoding="utf-8")


def home(folder: Path, fair_id: str, place: Path) -> Path:
    """The fair's own folder on a medium: two fairs under one rule book never mix, since their keys differ."""
    name = re.sub(r"[^A-Za-z0-9-]+", "-", fair_id).strip("-") or "fair"
    return place / f"{name}-{keys.id_of(folder)[:16]}"


def _in_a_process(job: Job, said: Callable[[int], None]) -> Packed:
    with tempfile.TemporaryFile() as complaints:
        work = subprocess.Popen(
            [sys.executable, "-m", "planish.errands.record.packing"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=complaints,
            text=True,
            encoding="utf-8",
        )
        with work:
            assert work.stdin is not None
            assert work.stdout is not None
            work.stdin.write(json.dumps(asdict(job)))
            work.stdin.close()
            last = ""
            for last in work.stdout:
                if last.strip().isdigit():
                    said(int(last))
        if work.returncode != 0:
            complaints.seek(0)
            words = complaints.read().decode("utf-8", "replace").strip().rpartition("\n")[2]
            return Packed(fault=f"the copying process ended ({words or work.returncode})")
    return Packed(**json.loads(last))


def other_disk(folder: Path, target: Path) -> bool:
    """True when two folders lie on different disks, as far as the system says."""
    return folder.stat().st_dev != target.stat().st_dev


def _thin(target: Path) -> None:
    """Delete what the schedule no longer keeps."""
    backups = found(target)
    keep = which_to_keep(one.at_ms for one in backups)
    for one in backups:
        if one.at_ms not in keep:
            one.file.unlink()
    sync_folder(target)


def found(target: Path) -> list[Found]:
    """The backups in a fair's folder on a medium, newest first."""
    named = ((_NAME.fullmatch(path.name), path) for path in target.glob(f"*{ENDING}"))
    rows = [Found(at_ms=int(m[1]), n=int(m[2]), file=path) for m, path in named if m is not None]
    return sorted(rows, key=lambda one: one.at_ms, reverse=True)


def carry_deletions(folder: Path, target: Path) -> int:
    """The list of deletions goes beside every backup, so that an older one is never opened without it.

    Pictures and lists that were deleted go from the medium at once. So do all copies of papers printed before a deletion
    that the medium hears of for the first time, earlier versions too: any of them may quote what was deleted, and a paper can
    be printed again. Gives how many copies of papers went.
    """
    before, own = deletion_lines(target), deletion_lines(folder)
    lines = {**before, **own}
    if not lines or not target.is_dir():
        return 0
    fresh = sorted(own.keys() - before.keys())
    printed = printed_there(target) if fresh else set()
    for id_, line in lines.items():
        old = before.get(id_, {}).get("files", ())
        gone = {*line["files"], *old, *(printed if id_ in fresh[-1:] else ())}
        lines[id_] = {**line, "files": sorted(gone)}
    write_deletions(target, lines)
    copies = 0
    for digest in {digest for line in lines.values() for digest in line["files"]}:
        copy = target / FILES / f"{digest}{ENDING}"
        copies += copy.is_file() and digest in printed
        copy.unlink(missing_ok=True)
    if fresh:
        (target / PRINTED).unlink(missing_ok=True)
    return copies


def deletion_lines(folder: Path) -> dict[str, dict[str, Any]]:
    """What `deleted.jsonl` in a folder says, by the id of the event that first recorded each deletion."""
    try:
        lines = (folder / DELETED).read_text(encoding="utf-8").splitlines()
        return {said["id"]: said for said in map(json.loads, lines)}
    except FileNotFoundError:
        return {}
    except (OSError, ValueError, KeyError, TypeError) as error:
        remedy = "Take the list from another backup of this fair; without it deleted words could come back."
        raise refuse(
            str(folder / DELETED), f"The list of deletions cannot be read ({error}).", remedy
        ) from error


def write_deletions(folder: Path, lines: Mapping[str, Mapping[str, Any]]) -> None:
    """Write `deleted.jsonl`, oldest first."""
    part = folder / f"{DELETED}.part"
    rows = sorted(lines.values(), key=lambda said: (said["at_ms"], said["id"]))
    part.write_text("".join(json.dumps(row, sort_keys=True) + "\n" for row in rows), encoding="utf-8")
    part.replace(folder / DELETED)


def standing(fair: Fair, *, now_ms: int | None = None) -> Standing:
    """How safe the log of this fair is now."""
    said = said_of(fair.folder)
    last, fault = said.get("last") or {}, said.get("fault") or {}
    head = fair.journal.store.head()
    at = int(last.get("at_ms", 0)) if last.get("counts") else 0
    now = clock.now_ms() if now_ms is None else now_ms
    safe = fair.journal.store.safe_n
    return Standing(
        safe_n=safe,
        head_n=head.n,
        last_ms=at,
        place=said.get("place", ""),
        late=safe < head.n and now - at > LATE_MS,
        fault=fault.get("words", ""),
        drilled_ms=int(said.get("drilled_ms", 0)),
    )


def safe_n(fair: Fair) -> int:
    """The newest entry that lies in a verified backup on a second medium: the tablets' third tick, and when they may let go.

    Takes note of a backup that another process made meanwhile, when this one is the writer.
    """
    notice(fair)
    return fair.journal.store.safe_n


def notice(fair: Fair) -> None:
    """Raise `safe_n` to the last backup that counts, when this log holds that very entry and this process writes it."""
    last = said_of(fair.folder).get("last") or {}
    store = fair.journal.store
    n = int(last.get("n", 0))
    if not last.get("counts") or n <= store.safe_n or not hasattr(store, "keep_safe"):
        return
    entry = next(iter(store.entries(n - 1)), None)
    if entry is not None and entry.n == n and entry.hash.hex() == last.get("hash"):
        store.keep_safe(n)


def drilled(folder: Path) -> None:
    """Note that a backup was opened with a sheet just now."""
    _say(folder, drilled_ms=clock.now_ms())


def said_of(folder: Path) -> dict[str, Any]:
    """What the fair knows of its backups; empty when nothing was ever made."""
    try:
        content: dict[str, Any] = json.loads((folder / SAID).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return content


def _say(folder: Path, **more: object) -> None:
    said: Mapping[str, Any] = {**said_of(folder), **more}
    part = folder / f"{SAID}.part"
    part.write_text(json.dumps(said, indent=1) + "\n", encoding="utf-8")
    part.replace(folder / SAID)


class Regularly:
    """Backs up to the fair's place every five minutes while open; only when something was written since.

    A failure is kept for `standing` and tried again at the next turn. `on_done` is told after every turn.
    """

    def __init__(
        self,
        fair: Fair,
        *,
        every_ms: int = FIVE_MINUTES_MS,
        on_done: Callable[[Standing], None] = lambda _: None,
    ) -> None:
        self._fair, self._every, self._on_done = fair, every_ms / 1000, on_done
        self._stop = threading.Event()
        self._thread = threading.Thread(target=self._run, name="backups", daemon=True)

    def __enter__(self) -> "Regularly":
        self._thread.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._stop.set()
        self._thread.join()

    def _run(self) -> None:
        while not self._stop.wait(self._every):
            try:
                self._on_done(turn(self._fair))
            except (
                LedgerError
            ):  # the log itself cannot be read: the desk says so, and the next turn looks again
                continue


def turn(fair: Fair) -> Standing:
    """One turn of `Regularly`: back up when something was written since and a place is known. What fails is noted."""
    said = said_of(fair.folder)
    try:
        notice(fair)
        if said.get("place") and fair.journal.store.head().hash.hex() != (said.get("last") or {}).get("hash"):
            back_up(fair, Path(said["place"]), counts=said.get("counts"))
    except (Refused, LedgerError, OSError) as error:
        _say(fair.folder, fault={"at_ms": clock.now_ms(), "words": str(error)})
    return standing(fair)
