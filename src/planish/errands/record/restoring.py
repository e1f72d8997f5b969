"""Back from a backup: with the medium and one sheet, on this machine or another. Nothing that lies there is overwritten.

    restore(medium, into, secret)   a fair's folder again, with a new epoch; what was deleted since is deleted again first
    drill(folder, medium, secret)   opens the newest backup, verifies all of it, and throws it away

The desk then asks every tablet what it holds beyond the backup; tablets keep their own work until it is safe.
"""

import json
import secrets
import shutil
import tarfile
import tempfile
from collections.abc import Iterable
from dataclasses import dataclass
from functools import partial
from hashlib import sha256
from pathlib import Path
from typing import Any

from planish.errands.opening import clock
from planish.errands.opening.refusing import refuse
from planish.errands.opening.wiring import LEDGER, OFFICE, ledger_refusal
from planish.errands.record import backing
from planish.errands.record.backing import Found
from planish.errands.record.envelopes import open_up
from planish.errands.record.packing import ENDING, FILES, INDEX
from planish.errands.record.redacting import repeat
from planish.ledger import backup
from planish.ledger.journal import Journal
from planish.ledger.sqlite import SqliteLedger
from planish.ledger.store import LedgerError
from planish.ledger.verifying import Remembered


@dataclass(frozen=True, slots=True, kw_only=True)
class Restored:
    """What came back: the newest entry of the backup and when it was made (ms), files, deletions repeated, what was put aside.

    `missing` are files the backup names and the medium does not have; `newer` is True when a newer backup lies there.
    """

    n: int
    made_ms: int
    epoch: str
    files: int
    repeated: int
    aside: tuple[str, ...]
    missing: tuple[str, ...]
    newer: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Drilled:
    """A backup opened and read from end to end: its newest entry, when it was made (ms), files that opened, files missing."""

    n: int
    made_ms: int
    files: int
    missing: tuple[str, ...]


def homes(medium: Path) -> list[Path]:
    """Folders of fairs on a medium; the folder itself when it is one."""
    if backing.found(medium):
        return [medium]
    return (
        sorted(path for path in medium.iterdir() if path.is_dir() and backing.found(path))
        if medium.is_dir()
        else []
    )


def _home(medium: Path) -> Path:
    there = homes(medium)
    if not there:
        raise refuse(
            str(medium), "There is no backup of a fair.", "Put the right medium in.", code="backup.none"
        )
    if len(there) > 1:
        names = ", ".join(path.name for path in there)
        raise refuse(
            str(medium), f"It holds backups of several fairs: {names}.", "Name one of these folders."
        )
    return there[0]


def _choose(home: Path, made_ms: int) -> Found:
    there = backing.found(home)
    if not made_ms:
        return there[0]
    for one in there:
        if one.at_ms == made_ms:
            return one
    raise refuse(str(home), "There is no backup of that time.", "List them: planish restore MEDIUM --list.")


def restore(
    medium: Path, into: Path, secret: bytes, *, made_ms: int = 0, remembered: Iterable[Remembered] = ()
) -> Restored:
    """Make the fair in the folder `into` again from the newest backup on `medium`, or the one made at `made_ms`.

    `secret` are the 32 bytes of one sheet. `remembered` are heads kept elsewhere (day sheet, tablets): a backup that
    contradicts one is refused. Files of `into` that differ are renamed, never overwritten.
    """
    home = _home(medium)
    chosen = _choose(home, made_ms)
    into.mkdir(parents=True, exist_ok=True)
    lines = {**backing.deletion_lines(home), **backing.deletion_lines(into)}
    with tempfile.TemporaryDirectory(prefix=".restore-", dir=into) as scratch:
        index = _unpack(chosen.file, Path(scratch), secret)
        doomed = {digest for line in lines.values() for digest in line["files"]}
        files, missing = _files(home, Path(scratch), index, secret, doomed)
        _sound(Path(scratch) / LEDGER, remembered := [*remembered])
        aside = _into_place(Path(scratch), into)
        epoch, repeated = _ledger(Path(scratch), into, index, remembered, lines)
    if lines:
        backing.write_deletions(into, lines)
    return Restored(
        n=index["n"],
        made_ms=chosen.at_ms,
        epoch=epoch,
        files=files,
        repeated=repeated,
        aside=tuple(aside),
        missing=tuple(missing),
        newer=chosen != backing.found(home)[0],
    )


def _sound(ledger: Path, remembered: list[Remembered]) -> None:
    try:
        backup.checked(ledger, remembered, will_delete=True)
    except LedgerError as error:
        raise ledger_refusal(error) from error


def _ledger(
    scratch: Path,
    into: Path,
    index: dict[str, Any],
    remembered: Iterable[Remembered],
    lines: dict[str, dict[str, Any]],
) -> tuple[str, int]:
    epoch = secrets.token_hex(8)
    repeated: list[int] = []
    finishing = partial(_finish, index=index, epoch=epoch, lines=lines, repeated=repeated)
    try:
        backup.restore(
            scratch / LEDGER, into / LEDGER, epoch=epoch, remembered=[*remembered], finishing=finishing
        ).close()
    except LedgerError as error:
        raise ledger_refusal(error) from error
    return epoch, sum(repeated)


def _finish(
    ledger: SqliteLedger,
    *,
    index: dict[str, Any],
    epoch: str,
    lines: dict[str, dict[str, Any]],
    repeated: list[int],
) -> None:
    """Before the log has its name: say that it was restored, and delete again what was deleted since."""
    journal = Journal(ledger, dev="desk", now=clock.now_ms, chance=secrets.token_bytes)
    body = {"was": index["epoch"], "now": epoch, "n": index["n"]}
    journal.add("desk.restored", sub=ledger.fair, who=OFFICE, body=body)
    repeated.append(repeat(journal, lines))


def drill(folder: Path, medium: Path, secret: bytes) -> Drilled:
    """Open the newest backup of this fair with a sheet, verify everything in it, throw it away, and note that it was done."""
    from planish.errands.opening.wiring import open_fair

    with open_fair(folder) as fair:
        home = backing.home(folder, fair.journal.store.fair, medium)
        if not backing.found(home):
            home = _home(medium)
        chosen = _choose(home, 0)
        entry = next(iter(fair.journal.store.entries(chosen.n - 1)), None)
    with tempfile.TemporaryDirectory(prefix=".restore-", dir=folder) as scratch:
        index = _unpack(chosen.file, Path(scratch), secret)
        known = [Remembered(n=entry.n, hash=entry.hash, where="this fair")] if entry is not None else []
        _sound(Path(scratch) / LEDGER, known)
        doomed = {digest for line in backing.deletion_lines(home).values() for digest in line["files"]}
        files, missing = _files(home, Path(scratch), index, secret, doomed)
    backing.drilled(folder)
    return Drilled(n=index["n"], made_ms=chosen.at_ms, files=files, missing=tuple(missing))


def _unpack(file: Path, scratch: Path, secret: bytes) -> dict[str, Any]:
    """Decrypt and unpack one bundle: plain files at the top and in `keys`, and nothing that would lead elsewhere."""
    bundle = scratch / "bundle"
    open_up(file, bundle, secret)
    try:
        (scratch / "keys").mkdir()
        with tarfile.open(bundle) as tar:
            for member in tar:
                _take_out(tar, member, scratch)
        bundle.unlink()
        index: dict[str, Any] = json.loads((scratch / INDEX).read_text(encoding="utf-8"))
        (scratch / INDEX).unlink()
    except (tarfile.TarError, OSError, ValueError, EOFError) as error:
        remedy = "Take an earlier backup: planish restore MEDIUM --list."
        raise refuse(str(file), f"It opens, and what is inside cannot be read ({error}).", remedy) from error
    return index


def _take_out(tar: tarfile.TarFile, member: tarfile.TarInfo, scratch: Path) -> None:
    parts = Path(member.name).parts
    if member.isdir() and parts == ("keys",):
        return
    content = tar.extractfile(member) if member.isreg() else None
    if content is None or parts[:-1] not in ((), ("keys",)) or parts[-1] in ("..", "bundle"):
        raise ValueError(f"{member.name!r} does not belong there")
    target = scratch.joinpath(*parts)
    with target.open("wb") as file:
        shutil.copyfileobj(content, file)
    target.chmod(0o600)


def _files(
    home: Path, scratch: Path, index: dict[str, Any], secret: bytes, doomed: set[str]
) -> tuple[int, list[str]]:
    """Pictures, lists and papers, each opened and compared with its digest."""
    count, missing = 0, []
    for name, digest in index["files"].items():
        if digest in doomed:
            continue
        there, target = home / FILES / f"{digest}{ENDING}", scratch / name
        if not there.is_file() or not target.resolve().is_relative_to(scratch.resolve()):
            missing.append(name)
            continue
        target.parent.mkdir(parents=True, exist_ok=True)
        open_up(there, target, secret)
        if sha256(target.read_bytes()).hexdigest() != digest:
            target.unlink()
            missing.append(name)
            continue
        count += 1
    return count, missing


def _into_place(scratch: Path, into: Path) -> list[str]:
    """Move what was unpacked to its place, but the log; a file there with other bytes is renamed first."""
    aside = []
    for path in sorted(scratch.rglob("*")):
        name = path.relative_to(scratch)
        if not path.is_file() or str(name) == LEDGER:
            continue
        target = into / name
        target.parent.mkdir(parents=True, exist_ok=True)
        if target.exists() and target.read_bytes() != path.read_bytes():
            aside.append(str(_put_aside(target).relative_to(into)))
        path.replace(target)
    return aside


def _put_aside(path: Path) -> Path:
    """Rename a file, with what an engine keeps beside it; never over an earlier one."""
    number = 1
    while path.with_name(f"{path.name}.broken-{number}").exists():
        number += 1
    for side in reversed(backup.SIDE_FILES):
        there = path.with_name(path.name + side)
        if there.exists():
            there.rename(path.with_name(f"{path.name}.broken-{number}{side}"))
    return path.with_name(f"{path.name}.broken-{number}")
