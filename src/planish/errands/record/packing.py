"""One backup, from the live log to a verified, encrypted file on a second medium. Runs as a process of its own.

    python -m planish.errands.record.packing < job.json > answers.jsonl

So that copying, verifying and encrypting half a gigabyte never stands in the way of the desk, which goes on writing.
Each line of the answer is the number of the step it begins; the last line is what was made. Nothing here needs a
secret: files are encrypted to the public keys of the two recovery sheets.
"""

import json
import os
import re
import shutil
import sys
import tarfile
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import asdict, dataclass
from hashlib import sha256
from pathlib import Path
from typing import Any

import apsw

from planish.errands.opening.wiring import LEDGER
from planish.errands.record.envelopes import close_up
from planish.ledger import backup
from planish.ledger.store import LedgerError
from planish.ledger.verifying import Remembered

INDEX, ACCOUNTS = "index.json", "accounts.db"
FILES, ENDING = "files", ".age"
PRINTED = "printed.txt"
"""Beside the backups: digests of the papers copied there, so that they can go when a text is deleted. No name, no text."""
APART = re.compile(
    r"backups\.json|\..*|parts|.*\.(db|db-wal|db-shm|db-journal|part|lock|fault)|.*\.broken-[0-9]+.*"
)
"""Left out, or copied in a way of their own: databases go through the engine."""
_DIGEST = re.compile(r"[0-9a-f]{64}")
STEPS = (
    "Copying the log while everybody works",
    "Reading the copy back, from the first entry to the last",
    "Encrypting pictures, lists and papers that are new",
    "Encrypting the log to both sheets, writing it, and reading it back from the medium",
)
"""What a backup does, in this order."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """What to back up: a fair's folder, the head it must hold, where to, for whom, and when (ms)."""

    folder: str
    place: str
    recipients: tuple[str, ...]
    n: int
    hash: str
    at_ms: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Packed:
    """What was made, or why nothing was: `fault` is a sentence then, and nothing of the job counts."""

    n: int = 0
    hash: str = ""
    file: str = ""
    sha256: str = ""
    bytes: int = 0
    new_files: int = 0
    fault: str = ""


def pack(job: Job, said: Callable[[int], None] = lambda _: None) -> Packed:
    """`said` is told each step of `STEPS` as it begins. Copy through the engine, open and verify the copy, compare its head, encrypt, read back; then files by digest."""
    folder, place = Path(job.folder), Path(job.place)
    try:
        (place / FILES).mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(prefix=".backup-", dir=folder) as scratch:
            return _pack(job, folder, place, Path(scratch), said)
    except (LedgerError, OSError) as error:
        return Packed(fault=str(error))


def _pack(job: Job, folder: Path, place: Path, scratch: Path, said: Callable[[int], None]) -> Packed:
    copied = scratch / LEDGER
    said(0)
    backup.copy(folder / LEDGER, copied)
    said(1)
    head = backup.checked(copied, [Remembered(n=job.n, hash=bytes.fromhex(job.hash), where="the desk")])
    said(2)
    index = dict(files_of(folder))
    new = _files(job, folder, place, index)
    said(3)
    held = {"n": head.n, "hash": head.hash.hex(), "epoch": head.epoch, "at_ms": job.at_ms, "files": index}
    (scratch / INDEX).write_text(json.dumps(held), encoding="utf-8")
    for path in sorted(folder.glob("*.db")):
        if path.name != LEDGER:
            _copy_database(path, scratch / path.name)
    bundle = scratch / "bundle"
    _bundle(bundle, scratch, folder)
    target = place / f"{job.at_ms}-{head.n}{ENDING}"
    digest, size = close_up(bundle, target, job.recipients)
    sync_folder(place)
    return Packed(
        n=head.n, hash=head.hash.hex(), file=target.name, sha256=digest, bytes=size, new_files=new
    )  # fmt: skip


def files_of(folder: Path) -> Iterator[tuple[str, str]]:
    """Every file that is copied once by its digest: those in sub-folders, but the keys. Path, and SHA-256 (hex)."""
    for directory in sorted(folder.iterdir()):
        if not directory.is_dir() or directory.name == "keys" or APART.fullmatch(directory.name):
            continue
        for path in sorted(directory.rglob("*")):
            within = path.relative_to(directory).parts
            if path.is_file() and not any(APART.fullmatch(part) for part in within):
                yield path.relative_to(folder).as_posix(), _digest_of(path)


def _digest_of(path: Path) -> str:
    """A picture's name is its digest, checked when it was kept; other files are read."""
    stem = path.name.partition(".")[0]
    if _DIGEST.fullmatch(stem):
        return stem
    with path.open("rb") as file:
        return digest_of_open(file)


def digest_of_open(file: Any) -> str:
    """SHA-256 (hex) of an open file."""
    digest = sha256()
    while piece := file.read(1 << 20):
        digest.update(piece)
    return digest.hexdigest()


def _files(job: Job, folder: Path, place: Path, index: dict[str, str]) -> int:
    there = {path.name for path in (place / FILES).iterdir()}
    new = 0
    printed = [digest for name, digest in index.items() if name.startswith("papers/")]
    known = printed_there(place)
    with (place / PRINTED).open("a", encoding="ascii") as file:
        file.writelines(f"{digest}\n" for digest in printed if digest not in known)
    for name, digest in index.items():
        if f"{digest}{ENDING}" not in there:
            close_up(folder / name, place / FILES / f"{digest}{ENDING}", job.recipients)
            there.add(f"{digest}{ENDING}")
            new += 1
    sync_folder(place / FILES)
    return new


def printed_there(place: Path) -> set[str]:
    """Digests of all papers that were ever copied to this place and have not gone since."""
    path = place / PRINTED
    return set(path.read_text(encoding="ascii").split()) if path.is_file() else set()


def _copy_database(source: Path, target: Path) -> None:
    """By the engine too; of the accounts without anybody's session."""
    try:
        reading = apsw.Connection(str(source), flags=apsw.SQLITE_OPEN_READONLY)
        writing = apsw.Connection(str(target))
        with writing.backup("main", reading, "main") as copying:
            copying.step(-1)
        writing.execute("PRAGMA journal_mode=DELETE; PRAGMA secure_delete=ON").fetchall()
        if source.name == ACCOUNTS:
            writing.execute("DELETE FROM session; VACUUM").fetchall()
        writing.close()
        reading.close()
    except apsw.Error as error:
        raise OSError(f"{source.name} cannot be copied ({error})") from error


def _bundle(bundle: Path, scratch: Path, folder: Path) -> None:
    """One compressed tar: databases, index, keys, rule book and whatever else lies at the top of the folder."""
    with tarfile.open(bundle, "w:gz", compresslevel=1) as tar:
        for path in sorted(scratch.iterdir()):
            if path != bundle:
                tar.add(path, path.name)
        for path in sorted(folder.iterdir()):
            if path.is_file() and not APART.fullmatch(path.name):
                tar.add(path, path.name)
        if (folder / "keys").is_dir():
            tar.add(folder / "keys", "keys", filter=_no_parts)


def _no_parts(member: tarfile.TarInfo) -> tarfile.TarInfo | None:
    return None if member.name.endswith(".part") else member


def sync_folder(folder: Path) -> None:
    """Names onto the disk, where the system can."""
    if sys.platform == "win32":  # pragma: no cover
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    except OSError:  # some file systems of sticks cannot
        pass
    finally:
        os.close(handle)


def room_for(folder: Path, place: Path) -> str:
    """A sentence when the place has less free room than the log is long; "" when it has."""
    size, free = (folder / LEDGER).stat().st_size, shutil.disk_usage(place).free
    return (
        ""
        if free > size
        else f"{place} has {free // 1_000_000} MB free and the log is {size // 1_000_000} MB"
    )


def main() -> None:
    """Read a job, do it, say what became of it; more slowly than the desk when both want the machine."""
    if hasattr(os, "nice"):
        os.nice(19)
    given = json.load(sys.stdin)
    job = Job(**{**given, "recipients": tuple(given["recipients"])})
    print(json.dumps(asdict(pack(job, lambda step: print(step, flush=True)))))


if __name__ == "__main__":
    main()
