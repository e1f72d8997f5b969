"""What may lie on the disk after the power went: images rebuilt from a trace of the writer's system calls.

Everything up to a file's last sync survives; each later write survives, is lost, or is torn at 512 bytes, at random.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

CALL = re.compile(r"^\d+\s+(\w+)\((.*)\)\s+= (-?\d+)")
RESUMED = re.compile(r"^(\d+)\s+<\.\.\. (\w+) resumed>(.*)$")
UNFINISHED = re.compile(r"^(\d+)\s+(.*) <unfinished \.\.\.>$")
SECTOR = 512


@dataclass
class File:
    """A file's synced bytes, and the writes since: (offset, bytes), or (length, None) for a cut."""

    synced: bytearray = field(default_factory=bytearray)
    later: list[tuple[int, bytes | None]] = field(default_factory=list)

    def sync(self) -> None:
        for offset, data in self.later:
            put(self.synced, offset, data)
        self.later.clear()

    def survivor(self, dice: Random) -> bytes:
        """One way the file may look."""
        result = bytearray(self.synced)
        for offset, data in self.later:
            fate = dice.random()
            if data is None or fate < 1 / 3:
                if fate < 2 / 3:
                    put(result, offset, data)
            elif fate < 2 / 3:
                for start in range(0, len(data), SECTOR):
                    if dice.random() < 0.5:
                        put(result, offset + start, data[start : start + SECTOR])
        return bytes(result)


def put(target: bytearray, offset: int, data: bytes | None) -> None:
    """Write into a file's bytes, or cut or stretch them when `data` is None."""
    if data is None:
        del target[offset:]
        target.extend(bytes(offset - len(target)))
        return
    if len(target) < offset:
        target.extend(bytes(offset - len(target)))
    target[offset : offset + len(data)] = data


def images(
    trace: Path, ledger: Path, into: Path, dice: Random, count: int
) -> Iterator[tuple[Path, set[str]]]:
    """`count` folders as they may lie after a cut at a random call, each with the ids acknowledged before the cut."""
    calls = [*_calls(trace)]
    for number in range(count):
        files, told = _replay(calls[: dice.randrange(len(calls) // 3, len(calls))], ledger.name)
        folder = into / str(number)
        folder.mkdir(parents=True)
        for name, file in files.items():
            (folder / name).write_bytes(file.survivor(dice))
        yield folder, told


def _calls(trace: Path) -> Iterator[tuple[str, str, int]]:
    waiting: dict[str, str] = {}
    for line in trace.read_text().splitlines():
        if cut := UNFINISHED.match(line):
            waiting[cut[1]] = cut[2]
            continue
        if again := RESUMED.match(line):
            line = f"{again[1]} {waiting.pop(again[1])}{again[3]}"
        if (call := CALL.match(line)) and int(call[3]) >= 0:
            yield call[1], call[2], int(call[3])


def _text(argument: str) -> bytes:
    found = re.search(r'"((?:\\x[0-9a-f]{2})*)"', argument)
    return bytes.fromhex(found[1].replace("\\x", "")) if found else b""


def _replay(calls: list[tuple[str, str, int]], name: str) -> tuple[dict[str, File], set[str]]:
    files: dict[str, File] = {}
    handles: dict[int, str] = {}
    told: set[str] = set()
    for call, arguments, result in calls:
        if call == "openat":
            opened = _text(arguments).decode().rpartition("/")[2]
            if opened in (name, f"{name}-wal", f"{name}-journal"):
                handles[result] = opened
                files.setdefault(opened, File())
            else:
                handles.pop(result, None)
            continue
        if call == "unlink":
            files.pop(_text(arguments).decode().rpartition("/")[2], None)
            continue
        handle = int(arguments.partition(",")[0].strip() or -1)
        if call == "write" and handle == 1:
            said = _text(arguments).decode()
            told |= {line[3:] for line in said.splitlines() if line.startswith("ok ")}
        elif call == "close":
            handles.pop(handle, None)
        elif handle in handles:
            _change(files[handles[handle]], call, arguments)
    return files, told


def _change(file: File, call: str, arguments: str) -> None:
    if call == "pwrite64":
        file.later.append((int(arguments.rpartition(",")[2]), _text(arguments)))
    elif call == "ftruncate":
        file.later.append((int(arguments.rpartition(",")[2]), None))
    elif call in ("fdatasync", "fsync"):
        file.sync()
