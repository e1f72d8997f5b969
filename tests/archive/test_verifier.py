"""The archive's own verifier, run by a bare Python, names what was changed, whoever remade which list."""

import ast
import hashlib
import json
import re
import shutil
import sys
import tracemalloc
from collections.abc import Callable
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path
from types import ModuleType

import pytest
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat
from pypdf import PdfReader

from planish.errands.opening import wiring
from planish.errands.record.archiving import archive
from tests.archive.made import KEY, STRANGER, archived, checked

Change = Callable[[Path], None]


@pytest.fixture
def copy(kept: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(kept, tmp_path / "copy"))


def remade(folder: Path) -> None:
    """Manifests as somebody would remake them who wants a change to go unseen."""
    data = sorted(p for p in (folder / "data").rglob("*") if p.is_file())
    tags = sorted(p for p in folder.iterdir() if p.is_file() and not p.name.startswith("tagmanifest"))
    for name, paths in (("manifest-sha256.txt", data), ("tagmanifest-sha256.txt", tags)):
        rows = (
            f"{hashlib.sha256(p.read_bytes()).hexdigest()}  {p.relative_to(folder).as_posix()}\n"
            for p in paths
        )
        (folder / name).write_text("".join(rows), encoding="utf-8")


def log(folder: Path) -> list[dict[str, object]]:
    return [json.loads(line) for line in (folder / "data" / "log.jsonl").read_text("utf-8").splitlines()]


def write_log(folder: Path, entries: list[dict[str, object]]) -> None:
    text = "".join(json.dumps(e, ensure_ascii=False, separators=(",", ":")) + "\n" for e in entries)
    (folder / "data" / "log.jsonl").write_text(text, encoding="utf-8")


def test_an_untouched_archive_is_as_written(kept: Path) -> None:
    code, said = checked(kept)
    assert code == 0, said
    assert said.startswith("As written: ")
    assert "the list of files is signed" in said
    assert KEY.public_key().public_bytes(Encoding.Raw, PublicFormat.Raw).hex() in said


def test_the_verifier_imports_nothing_but_the_standard_library(kept: Path) -> None:
    tree = ast.parse((kept / "verify.py").read_text(encoding="utf-8"))
    named = [n for node in ast.walk(tree) if isinstance(node, ast.Import) for n in node.names]
    imported = {alias.name.partition(".")[0] for alias in named}
    imported |= {str(n.module).partition(".")[0] for n in ast.walk(tree) if isinstance(n, ast.ImportFrom)}
    assert imported <= sys.stdlib_module_names


def test_one_flipped_bit_in_any_file_is_named(kept: Path, tmp_path: Path) -> None:
    names = sorted(p.relative_to(kept).as_posix() for p in kept.rglob("*") if p.is_file())
    names = [n for n in names if n != "verify.py"]
    assert len(names) > 15
    copy = Path(shutil.copytree(kept, tmp_path / "copy"))
    for name in names:
        path = copy / name
        whole = path.read_bytes()
        middle = len(whole) // 2
        path.write_bytes(whole[:middle] + bytes([whole[middle] ^ 1]) + whole[middle + 1 :])
        code, said = checked(copy)
        path.write_bytes(whole)
        assert code == 1, name
        wanted = name if not name.startswith(("tagmanifest", "manifest")) else ""
        assert wanted in said, (name, said)
    assert checked(copy)[0] == 0


@pytest.mark.parametrize(
    "name", ["data/objects.jsonl", "data/papers/labels.pdf", "bag-info.txt", "signature.json"]
)
def test_a_missing_file_is_named(copy: Path, name: str) -> None:
    (copy / name).unlink()
    code, said = checked(copy)
    assert code == 1
    assert name.rpartition("/")[2] in said


@pytest.mark.parametrize("name", ["data/papers/extra.pdf", "data/note.txt", "extra.txt"])
def test_an_added_file_is_named(copy: Path, name: str) -> None:
    (copy / name).write_text("added", encoding="utf-8")
    code, said = checked(copy)
    assert (code, f"{name} is on no list" in said) == (1, True)


def changed(folder: Path) -> None:
    entries = log(folder)
    entries[4]["recv_ms"] = int(str(entries[4]["recv_ms"])) + 1
    write_log(folder, entries)


def removed(folder: Path) -> None:
    write_log(folder, [e for e in log(folder) if e["n"] != 5])


def reordered(folder: Path) -> None:
    entries = log(folder)
    entries[3], entries[4] = entries[4], entries[3]
    write_log(folder, entries)


def cut_short(folder: Path) -> None:
    write_log(folder, log(folder)[:-1])


def renumbered(folder: Path) -> None:
    entries = log(folder)
    del entries[4]
    for at, entry in enumerate(entries, 1):
        entry["n"] = at
    write_log(folder, entries)


def other_status(folder: Path) -> None:
    entries = log(folder)
    entries[4]["status"] = "denied"
    write_log(folder, entries)


def other_head(folder: Path) -> None:
    path = folder / "data" / "head.json"
    head = json.loads(path.read_text("utf-8"))
    path.write_text(json.dumps({**head, "hash": "00" * 32}), encoding="utf-8")


def other_text(folder: Path) -> None:
    path = folder / "data" / "openings.jsonl"
    lines = path.read_text("utf-8").splitlines(keepends=True)
    first = json.loads(lines[0])
    lines[0] = json.dumps({**first, "value": first["value"] + " "}) + "\n"
    path.write_text("".join(lines), encoding="utf-8")


def text_elsewhere(folder: Path) -> None:
    path = folder / "data" / "openings.jsonl"
    lines = path.read_text("utf-8").splitlines(keepends=True)
    last = json.loads(lines[-1])
    lines.append(json.dumps({**last, "n": 10**6}) + "\n")
    path.write_text("".join(lines), encoding="utf-8")


NAMED: dict[str, tuple[Change, str]] = {
    "an entry changed": (changed, "entry 5 is not as it was written"),
    "an entry removed": (removed, "entry 5 is missing"),
    "two entries swapped": (reordered, "entry 4 is missing"),
    "the last entry cut off": (cut_short, "the head says"),
    "an entry removed and the rest numbered anew": (renumbered, "entry 5"),
    "a refused entry passed off": (other_status, "entry 5 is not as it was written"),
    "another head": (other_head, "the head says"),
    "another text": (other_text, "openings line 1: not the text of entry"),
    "a text of no entry": (text_elsewhere, "there is no entry 1000000"),
}


@pytest.mark.parametrize("case", NAMED, ids=str)
def test_a_changed_log_is_named_even_when_the_lists_were_remade(copy: Path, case: str) -> None:
    change, words = NAMED[case]
    change(copy)
    remade(copy)
    code, said = checked(copy)
    assert code == 1
    assert words in said, said
    assert "the list of files is not signed by the fair's key" in said


def test_a_text_taken_away_with_all_lists_remade_is_told_by_the_signature(copy: Path) -> None:
    path = copy / "data" / "openings.jsonl"
    path.write_text("".join(path.read_text("utf-8").splitlines(keepends=True)[1:]), encoding="utf-8")
    remade(copy)
    code, said = checked(copy)
    assert (code, "not signed by the fair's key" in said) == (1, True)


def test_a_stranger_who_signs_anew_cannot_use_the_key_of_the_fair(copy: Path) -> None:
    (copy / "data" / "objects.jsonl").write_text("{}\n", encoding="utf-8")
    remade(copy)
    public = STRANGER.public_key().public_bytes(Encoding.Raw, PublicFormat.Raw).hex()
    signature = STRANGER.sign((copy / "manifest-sha256.txt").read_bytes()).hex()
    said = {"signs": "manifest-sha256.txt", "ed25519": public, "signature": signature}
    (copy / "signature.json").write_text(json.dumps(said), encoding="utf-8")
    remade(copy)
    code, told = checked(copy)
    assert code == 0, "nothing inside an archive can tell whose key it is"
    assert public in told, "so the key is printed, to be compared with the one made known"


@pytest.mark.parametrize("content", [b"", b"{", b"[]", b"\xff\xfe", b'{"n":1}\n'], ids=repr)
@pytest.mark.parametrize(
    "name", ["data/log.jsonl", "data/head.json", "data/openings.jsonl", "signature.json"]
)
def test_rubbish_is_refused_in_words(copy: Path, name: str, content: bytes) -> None:
    (copy / name).write_bytes(content)
    remade(copy)
    code, said = checked(copy)
    assert (code, "NOT AS WRITTEN" in said) == (1, True)


def test_two_archives_of_one_state_are_the_same_byte_for_byte(kept: Path, tmp_path: Path) -> None:
    with wiring.open_fair(kept.parent / "fair") as fair:
        archive(fair, tmp_path / "again", key=KEY)
    names = [
        sorted(p.relative_to(r).as_posix() for p in r.rglob("*") if p.is_file())
        for r in (kept, tmp_path / "again")
    ]
    assert names[0] == names[1]
    assert all((kept / n).read_bytes() == (tmp_path / "again" / n).read_bytes() for n in names[0])


def test_no_ballot_no_name_and_no_price_is_anywhere_in_it(kept: Path) -> None:
    """Papers are compressed, so their text is drawn out as well. A reason given with an outcome is public, a ballot is not:
    tests/panel_errands/test_secrecy.py looks for a marker in every field of every ballot."""
    for path in (p for p in kept.rglob("*") if p.is_file()):
        told = path.read_bytes().decode("utf-8", "replace")
        if path.suffix == ".pdf":
            told += "".join(page.extract_text() for page in PdfReader(path).pages)
        assert not [word for word in ("NAME-ada", "NAME-dov") if word in told], path.name
        price = re.search(
            r"(?<![0-9A-Za-z])9017(?![0-9A-Za-z])", told
        )  # digests may hold these four figures by chance
        assert price is None or path.parent.name == "papers", path.name
    cast = [e for e in log(kept) if '"ballot.locked' in str(e["raw"])]
    openings = [
        json.loads(line) for line in (kept / "data" / "openings.jsonl").read_text("utf-8").splitlines()
    ]
    assert len(cast) == 8
    assert not {one["n"] for one in openings}.intersection(e["n"] for e in cast), (
        "that they were cast, and no more"
    )


def verifier(folder: Path) -> ModuleType:
    spec = spec_from_file_location("archive_verify", folder / "verify.py")
    assert spec is not None
    assert spec.loader is not None
    module = module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def long_log(folder: Path, entries: int, verify: ModuleType) -> Path:
    """A log of `entries`, each with one text, chained as a fair chains it."""
    data = folder / f"long-{entries}" / "data"
    data.mkdir(parents=True)
    before, own = verify.sha(b"\x03" + b"long"), ""
    with (data / "log.jsonl").open("w") as rows, (data / "openings.jsonl").open("w") as texts:
        for n in range(1, entries + 1):
            salt, value = n.to_bytes(16, "big"), f"words {n}"
            c = verify.sha(b"\x02" + salt + b"text" + b"\x00" + value.encode()).hex()
            event = {"dev": "desk", "seq": n, "dprev": own, "kind": "note/1", "body": {"text": {"c": c}}}
            raw = json.dumps(event)
            own = verify.sha(raw.encode()).hex()
            entry = {"n": n, "recv_ms": n, "dev": "desk", "seq": n, "status": "ok", "raw": raw}
            leaf = verify.leaf_of(entry)
            before = verify.sha(b"\x01" + before + leaf)
            rows.write(json.dumps({**entry, "leaf": leaf.hex(), "hash": before.hex()}) + "\n")
            texts.write(json.dumps({"n": n, "path": "text", "salt": salt.hex(), "value": value}) + "\n")
    (data / "head.json").write_text(json.dumps({"fair": "long", "n": entries, "hash": before.hex()}))
    return data.parent


def test_a_log_of_any_length_needs_the_same_memory(kept: Path, tmp_path: Path) -> None:
    verify = verifier(kept)
    peaks = []
    for entries in (500, 5_000):
        folder = long_log(tmp_path, entries, verify)
        tracemalloc.start()
        assert list(verify.check_log(folder)) == []
        peaks.append(tracemalloc.get_traced_memory()[1])
        tracemalloc.stop()
    assert peaks[1] < peaks[0] * 1.5, peaks


def test_an_archive_without_a_key_says_that_it_is_not_signed(tmp_path: Path) -> None:
    folder = archived(tmp_path)
    with wiring.open_fair(tmp_path / "fair") as fair:
        archive(fair, tmp_path / "unsigned")
    assert "not signed" in checked(tmp_path / "unsigned")[1]
    assert "not signed" not in checked(folder)[1]
