"""Where a copy of a fair may go: media that the system has mounted, and what of a fair lies on each.

mounted()              sticks and disks that are plugged in and can be written to
on_offer(fair, places) each with its room, whether it is another disk than the fair's, and this fair's copies on it
archives(fair, places) archives of this fair beside its folder and on these places
"""

import json
import os
import re
import shutil
import string
import sys
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from planish.errands.opening.wiring import Fair
from planish.errands.record import backing
from planish.errands.record.backing import Found
from planish.errands.seals import keys

MOUNTS = Path("/proc/self/mounts")
UNDER = ("/media/", "/run/media/", "/mnt/")
"""Where Linux systems mount what is plugged in (the Filesystem Hierarchy Standard, and udisks)."""
_OCTAL = re.compile(r"\\([0-7]{3})")


@dataclass(frozen=True, slots=True, kw_only=True)
class Medium:
    """A place for copies: free bytes, whether it is another disk than the fair's, this fair's copies (newest first)."""

    place: Path
    free: int
    other_disk: bool
    copies: tuple[Found, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """An archive that was written: its folder, up to which entry, signed or not."""

    folder: Path
    n: int
    signed: bool


def mounted() -> list[Path]:
    """Media that are plugged in and can be written to. Empty where the system does not tell."""
    if sys.platform == "darwin":  # pragma: no cover
        found: Iterable[Path] = (path for path in Path("/Volumes").glob("*") if not path.is_symlink())
    elif sys.platform == "win32":  # pragma: no cover
        found = (Path(f"{letter}:\\") for letter in string.ascii_uppercase[3:])
    else:
        found = mount_points(MOUNTS.read_text(encoding="utf-8") if MOUNTS.is_file() else "")
    return sorted(path for path in found if path.is_dir() and os.access(path, os.W_OK))


def mount_points(table: str) -> Iterator[Path]:
    """Mount points for media out of a Linux table of mounts, in which a blank is written as \\040 (fstab(5))."""
    for line in table.splitlines():
        words = line.split()
        if len(words) > 1:
            point = _OCTAL.sub(lambda code: chr(int(code[1], 8)), words[1])
            if point.startswith(UNDER):
                yield Path(point)


def on_offer(fair: Fair, places: Iterable[Path]) -> list[Medium]:
    """What each place holds of this fair; a place that is gone is left out."""
    return [_medium(fair, place) for place in dict.fromkeys(places) if place.is_dir()]


def _medium(fair: Fair, place: Path) -> Medium:
    copies: list[Found] = []
    if keys.has_key(fair.folder):
        copies = backing.found(backing.home(fair.folder, fair.journal.store.fair, place))
    return Medium(
        place=place,
        free=shutil.disk_usage(place).free,
        other_disk=backing.other_disk(fair.folder, place),
        copies=tuple(copies),
    )


def new_archive(fair: Fair, place: Path | None) -> Path:
    """A folder name that is still free, for an archive on `place` or beside the fair's own folder."""
    stem = _stem(fair)
    root = fair.folder.parent if place is None else place
    number = 1
    while (root / f"{stem}{number}").exists():
        number += 1
    return root / f"{stem}{number}"


def archives(fair: Fair, places: Iterable[Path]) -> list[Written]:
    """Archives of this fair beside its folder and on `places`; what cannot be read is left out."""
    roots = dict.fromkeys((fair.folder.resolve().parent, *(place.resolve() for place in places)))
    found = (
        _written(fair, folder)
        for root in roots
        if root.is_dir()
        for folder in sorted(root.glob(f"{_stem(fair)}*"))
    )
    return [one for one in found if one is not None]


def _stem(fair: Fair) -> str:
    return f"{re.sub(r'[^A-Za-z0-9-]+', '-', fair.folder.resolve().name).strip('-') or 'fair'}-archive-"


def _written(fair: Fair, folder: Path) -> Written | None:
    try:
        head = json.loads((folder / "data" / "head.json").read_text(encoding="utf-8"))
        mine = head["fair"] == fair.journal.store.fair and (folder / "manifest-sha256.txt").is_file()
        return (
            Written(folder=folder, n=int(head["n"]), signed=(folder / "signature.json").is_file())
            if mine
            else None
        )
    except (OSError, ValueError, KeyError, TypeError):
        return None


def beside(folder: Path, made_ms: int) -> Path:
    """A folder beside a fair's own in which a copy of `made_ms` can be opened; never one that is there."""
    root, number = folder.resolve(), 1
    while (found := root.with_name(f"{root.name}-restored-{made_ms // 1000}-{number}")).exists():
        number += 1
    return found
