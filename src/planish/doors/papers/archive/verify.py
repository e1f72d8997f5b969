"""Check an archive of a fair: python3 verify.py [FOLDER]

Needs nothing but Python 3. It checks that every file is as it was written (SHA-256), that the log's chain of hashes
holds from the first entry to the last, that every text beside the log is the text that was committed to, and that the
fair's key signed the list of files and the head. It prints what it found and ends with 0 if all is as it was written.
"""

import hashlib
import json
import sys
from pathlib import Path

STATUS = {"ok": 1, "stale": 2, "held": 3, "denied": 4}


def sha(data):
    return hashlib.sha256(data).digest()


def leaf_of(entry):
    device = entry["dev"].encode()
    head = b"\x00\x01" + entry["n"].to_bytes(8, "big") + entry["recv_ms"].to_bytes(8, "big")
    tail = (
        len(device).to_bytes(2, "big")
        + device
        + entry["seq"].to_bytes(8, "big")
        + bytes([STATUS[entry["status"]]])
    )
    return sha(head + tail + sha(entry["raw"].encode("utf-8")))


def lines(path):
    with path.open(encoding="utf-8") as file:
        for number, line in enumerate(file, 1):
            yield number, json.loads(line)


def digest_of(path):
    made = hashlib.sha256()
    with path.open("rb") as file:
        while piece := file.read(1 << 20):
            made.update(piece)
    return made.hexdigest()


def rows(root, name):
    with (root / name).open(encoding="utf-8") as file:
        for line in file:
            digest, _, path = line.rstrip("\n").partition("  ")
            yield digest, path


def check_files(root):
    listed = set()
    for name in ("manifest-sha256.txt", "tagmanifest-sha256.txt"):
        for digest, path in rows(root, name):
            target = root / path
            if path.startswith("/") or ".." in path.split("/"):
                yield f"{name} names {path}, which lies outside the archive"
            elif path in listed:
                yield f"{path} stands twice on the lists"
            elif not target.is_file():
                yield f"{path} is missing"
            elif digest_of(target) != digest:
                yield f"{path} is not as it was written"
            listed.add(path)
    for path in sorted(root.rglob("*")):
        name = path.relative_to(root).as_posix()
        if path.is_file() and name not in listed and name != "tagmanifest-sha256.txt":
            yield f"{name} is on no list"


def commitments(event):
    return {
        path: value["c"]
        for path, value in event["body"].items()
        if isinstance(value, dict) and list(value) == ["c"]
    }


def is_text_of(opening, committed):
    salt, value = bytes.fromhex(opening["salt"]), opening["value"].encode("utf-8")
    made = sha(b"\x02" + salt + opening["path"].encode() + b"\x00" + value).hex()
    return committed.get(opening["path"]) == made


def check_log(root):
    """Both files are read once, side by side, so that a log of any length needs little memory."""
    head = json.loads((root / "data/head.json").read_text(encoding="utf-8"))
    before, count = sha(b"\x03" + head["fair"].encode()), 0
    texts = lines(root / "data/openings.jsonl")
    line, opening = next(texts, (0, None))
    for number, entry in lines(root / "data/log.jsonl"):
        count += 1
        event = json.loads(entry["raw"])
        if entry["n"] != count:
            yield f"log line {number}: entry {count} is missing"
            return
        if (event["dev"], event["seq"]) != (entry["dev"], entry["seq"]):
            yield f"entry {count}: its device or number is not what the event says"
        leaf = leaf_of(entry)
        before = sha(b"\x01" + before + leaf)
        if leaf.hex() != entry["leaf"] or before.hex() != entry["hash"]:
            yield f"entry {count} is not as it was written"
            return
        committed = commitments(event)
        while opening is not None and opening["n"] <= count:
            if opening["n"] < count or not is_text_of(opening, committed):
                yield f"openings line {line}: not the text of entry {opening['n']}"
            line, opening = next(texts, (0, None))
    if opening is not None:
        yield f"openings line {line}: there is no entry {opening['n']}"
    if (count, before.hex()) != (head["n"], head["hash"]):
        yield f"the log ends at entry {count}, the head says {head['n']}"


# Ed25519 (RFC 8032), for one signature: short and slow.
P = 2**255 - 19
ORDER = 2**252 + 27742317777372353535851937790883648493
D = -121665 * pow(121666, P - 2, P) % P
ROOT = pow(2, (P - 1) // 4, P)


def recover_x(y, sign):
    square = (y * y - 1) * pow(D * y * y + 1, P - 2, P)
    x = pow(square, (P + 3) // 8, P)
    if (x * x - square) % P:
        x = x * ROOT % P
    if (x * x - square) % P or (x == 0 and sign):
        return None
    return P - x if x & 1 != sign else x


def point(data):
    number = int.from_bytes(data, "little")
    y, sign = number & (2**255 - 1), number >> 255
    x = recover_x(y, sign) if y < P else None
    return None if x is None else (x, y, 1, x * y % P)


def add(a, b):
    e, f = (a[1] - a[0]) * (b[1] - b[0]) % P, (a[1] + a[0]) * (b[1] + b[0]) % P
    g, h = 2 * a[3] * b[3] * D % P, 2 * a[2] * b[2] % P
    i, j, k, m = f - e, h - g, h + g, f + e
    return (i * j % P, k * m % P, j * k % P, i * m % P)


def times(scalar, base):
    total = (0, 1, 1, 0)
    while scalar:
        if scalar & 1:
            total = add(total, base)
        base, scalar = add(base, base), scalar >> 1
    return total


BASE_Y = 4 * pow(5, P - 2, P) % P
BASE = (recover_x(BASE_Y, 0), BASE_Y, 1, recover_x(BASE_Y, 0) * BASE_Y % P)


def signed_by(public, message, signature):
    if len(public) != 32 or len(signature) != 64:
        return False
    key, r, s = point(public), point(signature[:32]), int.from_bytes(signature[32:], "little")
    if key is None or r is None or s >= ORDER:
        return False
    h = int.from_bytes(hashlib.sha512(signature[:32] + public + message).digest(), "little") % ORDER
    left, right = times(s, BASE), add(r, times(h, key))
    return (left[0] * right[2] - right[0] * left[2]) % P == 0 and (
        left[1] * right[2] - right[1] * left[2]
    ) % P == 0


def check_signature(root):
    path = root / "signature.json"
    if not path.is_file():
        return
    said = json.loads(path.read_text(encoding="utf-8"))
    message = (root / "manifest-sha256.txt").read_bytes()
    if not signed_by(bytes.fromhex(said["ed25519"]), message, bytes.fromhex(said["signature"])):
        yield "the list of files is not signed by the fair's key"


def faults(root):
    try:
        yield from check_files(root)
        yield from check_log(root)
        yield from check_signature(root)
    except (OSError, ValueError, KeyError, TypeError, AttributeError, OverflowError) as error:
        yield f"something cannot be read: {type(error).__name__}: {error}"


def main():
    root = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).resolve().parent
    found = list(faults(root))
    for fault in found:
        print("NOT AS WRITTEN:", fault)
    if not found:
        head = json.loads((root / "data/head.json").read_text(encoding="utf-8"))
        signed = "signed" if (root / "signature.json").is_file() else "not signed"
        print(f"As written: {head['n']} entries, every file, every text; the list of files is {signed}.")
        print(f"Head {head['n']}:{head['hash']}")
        print(f"In words: {head['words']}  (compare with the day sheet)")
        if signed == "signed":
            said = json.loads((root / "signature.json").read_text(encoding="utf-8"))
            print(f"Key {said['ed25519']}  (compare with the key that the fair made known)")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
