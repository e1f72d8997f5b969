"""The archive: one folder per fair in BagIt layout (RFC 8493), readable and checkable without planish.

No ballot leaves the fair; nor do names of people, prices, or reasons of conflicts and recusals. Their commitments
stay in the log, so the chain still verifies and shows *that* they were written.
"""

import json
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from hashlib import file_digest, sha256
from importlib.resources import files
from pathlib import Path
from typing import Any

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat

from planish.errands.opening.refusing import refuse
from planish.errands.opening.wiring import PAPERS, RULES, Fair
from planish.errands.panel.checking import check
from planish.errands.record.describing import linked_art, plain
from planish.errands.telling.reporting import stories
from planish.ledger.daywords import words_of
from planish.ledger.kinds import KINDS
from planish.ledger.store import Entry, Head
from planish.ledger.story import Story

LEFT_OUT: Mapping[str, frozenset[str]] = {
    "ballot.locked": frozenset({"ballot"}),
    "ballot.appeal": frozenset({"ballot"}),
    "ballot.recused": frozenset({"reason"}),
    "conflict.declared": frozenset({"reason"}),
    "person.added": frozenset({"name", "more"}),
    "stand.added": frozenset({"more"}),
    "object.listed": frozenset({"price", "raw"}),
    "object.changed": frozenset({"price", "raw"}),
    "label.hung": frozenset({"price"}),
}
"""Openings that no archive holds: `raw` rows carry prices, so they stay at the fair too."""

README = """{name}: the record of what the panels did
=====================================================

This folder can be read and checked without planish, with a text editor and Python 3.

  python3 verify.py        checks every file, the chain of the log, every text, and the signature

  data/objects.jsonl       every object in plain words: label as hung, words agreed, dates (also EDTF), outcome, reasons
  data/linked-art/         the same as Linked Art JSON-LD, one file an object
  data/papers/             slips, labels, report as PDF/A
  data/rulebook.toml       the rules that held; data/facts.json the dated facts that were leaned on, with their sources
  data/log.jsonl           every entry of the log: number n, arrival time in ms, device, status, raw event, leaf, hash,
                           and sig, the signature of the device's own key where it has one
  data/openings.jsonl      the texts that belong to the log: entry n, field, salt, value
  data/kinds.json          what every kind of event means, field by field
  data/head.json           the last entry, its hash, and the same in twelve words as on the day sheet

How the log is chained (|| joins bytes, numbers are 8 bytes, most significant first):
  leaf_n = SHA-256(00 || 01 || n || recv_ms || len(dev) in 2 bytes || dev || seq || status byte || SHA-256(raw))
  hash_n = SHA-256(01 || hash_(n-1) || leaf_n)        hash_0 = SHA-256(03 || fair)
  a text: c = SHA-256(02 || salt || field || 00 || value), and the event holds c
  a device: its key stands in the event that paired it (device.paired); each of its events holds, as dprev, the SHA-256 of its event
  before, and sig is ECDSA on P-256 with SHA-256 over raw (r and s, 32 bytes each). What the desk itself wrote bears no sig.

What is not here: ballots (only that each was cast), names of specialists, prices, reasons for stepping back.
An outcome was made for this fair under its rule book. The description of an object is its seller's promise.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Archived:
    """One archive written: where, how many entries and objects, bytes in all, and the head."""

    folder: Path
    entries: int
    objects: int
    bytes: int
    head: str


STEPS = (
    "Every object in plain words",
    "The log, entry by entry",
    "Papers, rules and facts",
    "The list of files with their digests",
)
"""What writing an archive does, in this order; the first is most of the work."""


def archive(
    fair: Fair,
    target: Path,
    *,
    key: Ed25519PrivateKey | None = None,
    said: Callable[[int, float], None] = lambda _step, _share: None,
) -> Archived:
    """Write the archive of a fair into `target`, which must be new. Signed when the seal key is given.

    `said` is told the step of `STEPS` and how much of it is done (0 to 1). What is written while this runs stays out.
    """
    if target.exists():
        raise refuse(
            str(target), "It is there already; an archive is never overwritten.", "Name a new folder."
        )
    data = target / "data"
    data.mkdir(parents=True)
    found, head = _as_it_stands(fair)
    leaned_on = _write_objects(fair, found, data, lambda share: said(0, share))
    said(1, 0)
    entries = _write_log(fair, data, head.n)
    said(2, 0)
    shutil.copyfile(fair.folder / RULES, data / "rulebook.toml")
    if (fair.folder / PAPERS).is_dir():
        shutil.copytree(fair.folder / PAPERS, data / "papers")
    _json(data / "facts.json", _facts(fair, leaned_on))
    _json(data / "kinds.json", _kinds())
    last = {
        "fair": fair.journal.store.fair,
        "n": head.n,
        "hash": head.hash.hex(),
        "words": words_of(head.hash),
    }
    _json(data / "head.json", last)
    said(3, 0)
    _bag(target, fair, key, head.n)
    size = sum(path.stat().st_size for path in target.rglob("*") if path.is_file())
    return Archived(
        folder=target, entries=entries, objects=len(found), bytes=size, head=f"{head.n}:{head.hash.hex()}"
    )


def _as_it_stands(fair: Fair) -> tuple[Sequence[Story], Head]:
    """Every object, and the head they stand at: a desk that goes on writing meanwhile is waited for, or asked again."""
    for _ in range(20):
        before = fair.journal.store.head()
        found = stories(fair)
        if fair.journal.store.head() == before:
            return found, before
    return found, before


def _write_log(fair: Fair, data: Path, up_to: int) -> int:
    count = 0
    with (
        (data / "log.jsonl").open("w", encoding="utf-8") as log,
        (data / "openings.jsonl").open("w", encoding="utf-8") as texts,
    ):
        for entry in fair.journal.entries():
            if entry.n > up_to:
                break
            count += 1
            log.write(_line(_entry(entry)))
            for opening in _openings(entry):
                texts.write(_line(opening))
    return count


def _entry(entry: Entry) -> dict[str, Any]:
    event = entry.event
    return {
        "n": entry.n,
        "recv_ms": entry.recv_ms,
        "dev": event.dev,
        "seq": event.seq,
        "status": entry.status,
        "raw": entry.raw.decode("utf-8"),
        "leaf": entry.leaf.hex(),
        "hash": entry.hash.hex(),
        **({"sig": entry.sig.hex()} if entry.sig else {}),
    }


def _openings(entry: Entry) -> Iterator[dict[str, Any]]:
    left_out = LEFT_OUT.get(entry.event.name, frozenset())
    for path, opening in entry.openings.items():
        if path not in left_out:
            value = opening.value.decode("utf-8")
            yield {"n": entry.n, "path": path, "salt": opening.salt.hex(), "value": value}


def _write_objects(
    fair: Fair, found: Sequence[Story], data: Path, said: Callable[[float], None]
) -> dict[str, None]:
    """Every object in plain words and as Linked Art, each label checked once; gives the ids of the facts leaned on."""
    leaned_on: dict[str, None] = {}
    art = data / "linked-art"
    art.mkdir()
    with (data / "objects.jsonl").open("w", encoding="utf-8") as lines:
        for number, story in enumerate(found):
            said(number / len(found))
            checked = check(story.listed, fair.kit)
            lines.write(_line(plain(story, checked)))
            name = sha256(story.listed.id.encode()).hexdigest()[:16]
            _json(art / f"{name}.json", linked_art(fair.state, story, checked))
            leaned_on.update(dict.fromkeys(fact for fault in checked.faults for fact in fault.facts))
    return leaned_on


def _facts(fair: Fair, ids: Iterable[str]) -> list[dict[str, Any]]:
    facts = (fair.kit.book.look(fact_id).fact for fact_id in ids)
    return [
        {
            "id": fact.id,
            "statement": fact.statement,
            "earliest": fact.years.earliest,
            "latest": fact.years.latest,
            "source": str(fact.source),
            "vouched_for": fact.verified,
        }
        for fact in facts
        if fact is not None
    ]


def _kinds() -> dict[str, Any]:
    return {
        kind.word: {"about": kind.about, "sub": kind.sub, "fields": {f.name: f.about for f in kind.fields}}
        for kind in KINDS.values()
    }


def _bag(target: Path, fair: Fair, key: Ed25519PrivateKey | None, head_n: int) -> None:
    """Tag files, manifests and signature around `data/`."""
    name = fair.state.name
    (target / "bagit.txt").write_text(
        "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n", encoding="utf-8"
    )
    (target / "README.txt").write_text(README.format(name=name), encoding="utf-8")
    (target / "verify.py").write_bytes(_verifier())
    payload = sorted(path for path in (target / "data").rglob("*") if path.is_file())
    oxum = f"{sum(path.stat().st_size for path in payload)}.{len(payload)}"
    day = _last_day(fair, head_n)
    info = f"External-Description: {name}: record of the vetting\nBagging-Date: {day}\nPayload-Oxum: {oxum}\n"
    (target / "bag-info.txt").write_text(info, encoding="utf-8")
    _manifest(target, "manifest-sha256.txt", payload)
    if key is not None:
        _sign(target, key)
    tags = sorted(p for p in target.iterdir() if p.is_file() and p.name != "tagmanifest-sha256.txt")
    _manifest(target, "tagmanifest-sha256.txt", tags)


def _verifier() -> bytes:
    return (files("planish.doors") / "papers" / "archive" / "verify.py").read_bytes()


def look_over(target: Path) -> tuple[bool, str]:
    """Check an archive with planish's own copy of the verifier, not the one that lies in it. Gives what it says."""
    with tempfile.TemporaryDirectory() as apart:
        program = Path(apart) / "verify.py"
        program.write_bytes(_verifier())
        done = subprocess.run(
            [sys.executable, "-I", str(program), str(target)], capture_output=True, text=True, check=False
        )
    words = done.stdout.strip() or "It could not be read at all."
    return done.returncode == 0, words


def _last_day(fair: Fair, head_n: int) -> str:
    """The day of the last entry, so that one state of a fair gives one archive whenever it is written."""
    last = next(iter(fair.journal.entries(head_n - 1)), None)
    return datetime.fromtimestamp((last.recv_ms if last else 0) / 1000, UTC).date().isoformat()


def _manifest(target: Path, name: str, paths: Iterable[Path]) -> None:
    with (target / name).open("w", encoding="utf-8", newline="\n") as file:
        for path in paths:
            with path.open("rb") as content:
                digest = file_digest(content, "sha256").hexdigest()
            file.write(f"{digest}  {path.relative_to(target).as_posix()}\n")


def _sign(target: Path, key: Ed25519PrivateKey) -> None:
    public = key.public_key().public_bytes(Encoding.Raw, PublicFormat.Raw)
    signature = key.sign((target / "manifest-sha256.txt").read_bytes())
    said = {"signs": "manifest-sha256.txt", "ed25519": public.hex(), "signature": signature.hex()}
    _json(target / "signature.json", said)


def _json(path: Path, content: object) -> None:
    path.write_text(json.dumps(content, ensure_ascii=False, indent=1) + "\n", encoding="utf-8")


def _line(row: object) -> str:
    return json.dumps(row, ensure_ascii=False, separators=(",", ":")) + "\n"
