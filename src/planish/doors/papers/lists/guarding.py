"""A stranger's file is read in a child process that may use only so much time and memory, and may write nothing."""

import subprocess
import sys
from collections.abc import Mapping
from dataclasses import replace
from hashlib import sha256
from pathlib import Path
from typing import Any

import msgspec

from planish.doors.papers.lists.gate import check_size
from planish.doors.papers.lists.grids import HOUSE_LIMITS, Limits, Unreadable, problem
from planish.records import ListedObject, Problem, RawRow, TakenList, freeze


class Request(msgspec.Struct):
    """What the child is asked: sent as JSON on one line, the file's bytes after it."""

    name: str
    mapping: dict[str, Any] | str | None
    limits: dict[str, int]


def read_list_safely(
    path_or_bytes: Path | str | bytes,
    name: str = "",
    mapping: Mapping[str, Any] | Path | str | None = None,
    limits: Limits = HOUSE_LIMITS,
) -> TakenList:
    """As `read_list`, in a child process held to `limits.seconds` and `limits.memory_bytes`.

    The answer comes back as JSON, never as pickle, so that nothing in a file can run here. The memory limit holds on
    Linux; elsewhere the time limit and the sizes checked before opening remain.
    """
    file = name or (Path(path_or_bytes).name if not isinstance(path_or_bytes, bytes) else "list")
    try:
        data = path_or_bytes if isinstance(path_or_bytes, bytes) else _read(Path(path_or_bytes), file, limits)
        check_size(file, len(data), limits)
    except Unreadable as error:
        return TakenList(file=file, digest="", problems=(error.problem,))
    table: dict[str, Any] | str | None = mapping if isinstance(mapping, str) else None
    if isinstance(mapping, Path):
        table = mapping.read_text(encoding="utf-8", errors="replace")
    elif isinstance(mapping, Mapping):
        table = dict(mapping)
    figures = {key: getattr(limits, key) for key in Limits.__dataclass_fields__}
    request = msgspec.json.encode(Request(file, table, figures)) + b"\n" + data
    answer, why = _run(request, limits)
    if answer is None:
        return TakenList(file=file, digest=sha256(data).hexdigest(), problems=(_stopped(file, why),))
    return thaw(answer)


def _read(path: Path, file: str, limits: Limits) -> bytes:
    try:
        check_size(file, path.stat().st_size, limits)
        return path.read_bytes()
    except OSError as error:
        raise Unreadable(
            problem(
                file,
                "list.no_file",
                f"The file cannot be opened ({error.strerror}).",
                "Look at the name and the folder.",
                severity=2,
            )
        ) from error


def _run(request: bytes, limits: Limits) -> tuple[bytes | None, str]:
    command = [sys.executable, "-I", "-m", "planish.doors.papers.lists.child"]
    with subprocess.Popen(
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
    ) as child:
        try:
            answer, _ = child.communicate(request, timeout=limits.seconds + 5)
        except subprocess.TimeoutExpired:
            child.kill()
            child.communicate()
            return None, f"it took longer than {limits.seconds} seconds"
    if child.returncode == 0 and 0 < len(answer) <= limits.reply_bytes:
        return answer, ""
    return None, f"it needed more than {limits.memory_bytes / 1e9:.1f} GB or {limits.seconds} seconds"


def _stopped(file: str, why: str) -> Problem:
    return problem(
        file,
        "list.stopped",
        f"Reading the file was stopped: {why}.",
        "Save the list alone, as a new workbook or as CSV, and send that.",
        severity=2,
    )


def thaw(answer: bytes) -> TakenList:
    """The child's JSON as records again, mappings frozen."""
    taken = msgspec.json.decode(answer, type=TakenList)
    rows = tuple(_frozen_row(row) for row in taken.rows)
    by_place = {(row.sheet, row.row): row for row in rows}
    return replace(taken, rows=rows, objects=tuple(_frozen(listed, by_place) for listed in taken.objects))


def _frozen_row(row: RawRow) -> RawRow:
    return replace(row, cells=freeze(row.cells))


def _frozen(listed: ListedObject, rows: Mapping[tuple[str, int], RawRow]) -> ListedObject:
    raw = rows.get((listed.raw.sheet, listed.raw.row)) if listed.raw else None
    return replace(listed, fields=freeze(listed.fields), raw=raw)
