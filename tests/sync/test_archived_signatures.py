"""What tablets signed is checked by the archive's own verifier: each device's chain, and its signature at the end of it."""

import base64
import json
import shutil
import subprocess
import sys
from pathlib import Path
from types import ModuleType

import pytest
from cryptography.hazmat.primitives.asymmetric.ec import SECP256R1, generate_private_key

from planish.doors.papers.archive import verify as program
from planish.errands.record.archiving import archive
from tests.archive.made import KEY, checked
from tests.archive.test_verifier import log, remade, write_log
from tests.sealing.test_seals import RFC_8032
from tests.sync.tablets import pair, signature, spki
from tests.web.fairs import Served

# RFC 6979, appendix A.2.5 (P-256, SHA-256): public key x and y, and the signatures of "sample" and "test".
PUBLIC = (
    "60FED4BA255A9D31C961EB74C6356D68C049B8923B61FA6CE669622E60F29FB6"
    "7903FE1008B8BC99A41AE9E95628BC64F2F1B20C2D7E9F5177A3C294D4462299"
)
PUBLISHED = {
    b"sample": "EFD48B2AACB6A8FD1140DD9CD45E81D69D2C877B56AAF991C34D0EA84EAF3716"
    "F7CB1C942D657C41D436C7A1B6E29F65F3E900DBB9AFF4064DC4AB2F843ACDA8",
    b"test": "F1ABB023518351CD71D881567B1EA663ED3EFCF6C5132B354F28D3B0B7D38367"
    "019F4113742A2B14BD25926B49C649155F267E60D3814B4C0CC84250E46F0083",
}


@pytest.fixture
def kept(fair: Served, tmp_path: Path) -> Path:
    """Two tablets that sign and one that has no key; everything in an archive."""
    for person, sign in (("member", True), ("leader", True), ("scribe", False)):
        tablet = pair(fair, person, sign=sign)
        for n in range(3):
            tablet.make("observation.made", "7-001", {"kind": "wear", "words": f"rubbed {n}"})
        tablet.push_all()
    archive(fair.desk.fair, tmp_path / "archive", key=KEY)
    return tmp_path / "archive"


@pytest.fixture
def verify() -> ModuleType:
    """The verifier as it is put into every archive."""
    return program


def signed_entries(entries: list[dict[str, object]]) -> list[int]:
    return [at for at, entry in enumerate(entries) if "sig" in entry]


def told(folder: Path, *options: str) -> str:
    """What the verifier says after every list was remade and the fair's signature left out: only tablets can tell."""
    (folder / "signature.json").unlink(missing_ok=True)
    remade(folder)
    return "\n".join(program.faults(folder, "--every" in options))


def test_signatures_of_tablets_stand_in_the_archive_and_hold(kept: Path) -> None:
    entries = log(kept)
    assert len(signed_entries(entries)) == 6
    code, said = checked(kept)
    assert code == 0, said
    assert told(kept, "--every") == ""


def rechained(entries: list[dict[str, object]], verify: ModuleType, fair: str) -> None:
    """Leaves and hashes as somebody would make them anew who holds the desk, but no tablet's key."""
    before = verify.sha(b"\x03" + fair.encode())
    for entry in entries:
        leaf = verify.leaf_of(entry)
        before = verify.sha(b"\x01" + before + leaf)
        entry["leaf"], entry["hash"] = leaf.hex(), before.hex()


def forge(kept: Path, verify: ModuleType, at: int, change: tuple[str, str]) -> list[dict[str, object]]:
    """An insider's work: one entry of a tablet says something else, and that tablet's chain and the log are made anew."""
    entries, head = log(kept), json.loads((kept / "data/head.json").read_text("utf-8"))
    device, own = entries[at]["dev"], ""
    entries[at]["raw"] = str(entries[at]["raw"]).replace(*change)
    for entry in entries:
        if entry["dev"] == device:
            event = json.loads(str(entry["raw"]))
            entry["raw"] = str(entry["raw"]).replace(f'"dprev":"{event["dprev"]}"', f'"dprev":"{own}"')
            own = verify.sha(str(entry["raw"]).encode()).hex()
    rechained(entries, verify, head["fair"])
    write_log(kept, entries)
    (kept / "data/head.json").write_text(json.dumps(head | {"hash": entries[-1]["hash"]}), "utf-8")
    return entries


@pytest.mark.parametrize("which", [0, 1, 2])
def test_an_insider_who_makes_everything_anew_cannot_sign_for_a_tablet(
    kept: Path, verify: ModuleType, which: int
) -> None:
    """Whichever entry of the tablet was changed, its last signature does not hold any more."""
    entries = log(kept)
    at = signed_entries(entries)[which]
    forge(kept, verify, at, ("observation.made", "observation.mode"))
    said = told(kept)
    assert f"bears no signature of its device {entries[at]['dev']}" in said
    assert "is not as it was written" not in said, "the chain and the lists were made anew and cannot tell"


def test_a_broken_chain_of_a_device_is_named(kept: Path, verify: ModuleType) -> None:
    entries, head = log(kept), json.loads((kept / "data/head.json").read_text("utf-8"))
    at = signed_entries(entries)[1]
    event = json.loads(str(entries[at]["raw"]))
    entries[at]["raw"] = str(entries[at]["raw"]).replace(event["dprev"], "0" * 64)
    rechained(entries, verify, head["fair"])
    write_log(kept, entries)
    (kept / "data/head.json").write_text(json.dumps(head | {"hash": entries[-1]["hash"]}), "utf-8")
    assert f"entry {at + 1} does not follow number 1 of its device {event['dev']}" in told(kept)


def test_a_signature_in_the_middle_is_checked_only_with_every(kept: Path) -> None:
    entries = log(kept)
    first, second = signed_entries(entries)[:2]
    entries[first]["sig"] = entries[second]["sig"]
    write_log(kept, entries)
    assert told(kept) == "", "the last one vouches for the chain before it"
    assert f"entry {first + 1} bears no signature" in told(kept, "--every")


def test_a_signature_left_out_is_named(kept: Path) -> None:
    entries = log(kept)
    last = signed_entries(entries)[-1]
    del entries[last]["sig"]
    write_log(kept, entries)
    assert f"entry {last + 1} bears no signature" in told(kept)


@pytest.mark.parametrize("message", PUBLISHED, ids=bytes.decode)
def test_the_published_signatures_on_p_256_hold_and_no_flipped_bit_does(
    verify: ModuleType, message: bytes
) -> None:
    key = base64.b64encode(verify.KEY_BEGINS + bytes.fromhex(PUBLIC)).decode()
    made = bytes.fromhex(PUBLISHED[message])
    assert verify.device_signed(key, message, made)
    for at in range(0, 512, 7):
        flipped = bytes(b ^ (1 << at % 8) if i == at // 8 else b for i, b in enumerate(made))
        assert not verify.device_signed(key, message, flipped)
    assert not verify.device_signed(key, message + b" ", made)


def test_signatures_of_another_library_hold(verify: ModuleType) -> None:
    for n in range(20):
        key = generate_private_key(SECP256R1())
        data = f"event {n}".encode()
        made = base64.b64decode(signature(key, data))
        assert verify.device_signed(spki(key), data, made)
        assert not verify.device_signed(spki(generate_private_key(SECP256R1())), data, made)
    for bad in (made[:63], made + b"\0", bytes(64), verify.CURVE_ORDER.to_bytes(32, "big") + made[32:]):
        assert not verify.device_signed(spki(key), data, bad)


@pytest.mark.parametrize(("_secret", "public", "message", "made"), RFC_8032)
def test_the_published_signatures_of_ed25519_hold(
    verify: ModuleType, _secret: str, public: str, message: str, made: str
) -> None:
    asked = bytes.fromhex(public), bytes.fromhex(message), bytes.fromhex(made)
    assert verify.signed_by(*asked)
    assert not verify.signed_by(asked[0], asked[1] + b"\0", asked[2])


def test_the_verifier_of_a_folder_elsewhere_takes_the_option(kept: Path, tmp_path: Path) -> None:
    moved = shutil.copytree(kept, tmp_path / "elsewhere")
    run = subprocess.run(
        [sys.executable, "-I", str(kept / "verify.py"), str(moved), "--every"], capture_output=True, text=True
    )
    assert run.returncode == 0, run.stdout + run.stderr
