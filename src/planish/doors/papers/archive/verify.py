"""Check an archive of a fair: python3 verify.py [FOLDER] [--every]

Needs nothing but Python 3. It checks that every file is as it was written (SHA-256), that the log's chain of hashes
holds from the first entry to the last, that every text beside the log is the text that was committed to, that what each
device handed in is one chain under that device's own signature, and that the fair's key signed the list of files and
the head. Each entry of a device holds the digest of its entry before, so its last signature vouches for all of them;
--every checks each signature by itself, some hundreds a second. It prints what it found and ends with 0 if all is as
it was written.
"""

import base64
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


def check_log(root, every=False):
    """Both files are read once, side by side, so that a log of any length needs little memory."""
    head = json.loads((root / "data/head.json").read_text(encoding="utf-8"))
    before, count = sha(b"\x03" + head["fair"].encode()), 0
    devices, texts = Devices(every), lines(root / "data/openings.jsonl")
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
        yield from devices.take(entry, event)
        committed = commitments(event)
        while opening is not None and opening["n"] <= count:
            if opening["n"] < count or not is_text_of(opening, committed):
                yield f"openings line {line}: not the text of entry {opening['n']}"
            line, opening = next(texts, (0, None))
    if opening is not None:
        yield f"openings line {line}: there is no entry {opening['n']}"
    if (count, before.hex()) != (head["n"], head["hash"]):
        yield f"the log ends at entry {count}, the head says {head['n']}"
    yield from devices.end()


class Devices:
    """What each device handed in: numbered without a gap, each entry holding the digest of the one before, signed."""

    def __init__(self, every):
        self.every, self.keys, self.last, self.waiting = every, {}, {}, {}

    def take(self, entry, event):
        name, number = event["dev"], entry["n"]
        seq, digest = self.last.get(name, (0, ""))
        raw = entry["raw"].encode("utf-8")
        if (event["seq"], event["dprev"]) != (seq + 1, digest):
            yield f"entry {number} does not follow number {seq} of its device {name}"
        self.last[name] = (event["seq"], sha(raw).hex())
        key = self.keys.get(name)
        if key:
            if self.every:
                yield from self.check(name)
            self.waiting[name] = (number, key, raw, entry.get("sig", ""))
        if event["kind"].startswith("device.paired/") and entry["status"] == "ok":
            paired, body = event["sub"], event["body"]
            if body.get("key") or paired in self.keys:
                yield from self.check(paired)
                self.keys[paired] = body.get("key", "")

    def check(self, name):
        number, key, raw, signature = self.waiting.pop(name, (0, "", b"", ""))
        if number and not device_signed(key, raw, bytes.fromhex(signature)):
            yield f"entry {number} bears no signature of its device {name}"

    def end(self):
        for name in sorted(self.waiting):
            yield from self.check(name)


# ECDSA on P-256 with SHA-256 (FIPS 186-5), r and s of 32 bytes each, as a tablet's browser signs.
FIELD = 2**256 - 2**224 + 2**192 + 2**96 - 1
CURVE_B = 0x5AC635D8AA3A93E7B3EBBD55769886BC651D06B0CC53B0F63BCE3C3E27D2604B
CURVE_ORDER = 0xFFFFFFFF00000000FFFFFFFFFFFFFFFFBCE6FAADA7179E84F3B9CAC2FC632551
CURVE_BASE = (
    0x6B17D1F2E12C4247F8BCE6E563A440F277037D812DEB33A0F4A13945D898C296,
    0x4FE342E2FE1A7F9B8EE7EB4A7C0F9E162BCE33576B315ECECBB6406837BF51F5,
    1,
)
KEY_BEGINS = bytes.fromhex("3059301306072a8648ce3d020106082a8648ce3d030107034200" + "04")


def curve_double(a):
    x, y, z = a
    if not y or not z:
        return (0, 1, 0)
    square = y * y % FIELD
    s, m = 4 * x * square % FIELD, 3 * (x - z * z) * (x + z * z) % FIELD
    x2 = (m * m - 2 * s) % FIELD
    return (x2, (m * (s - x2) - 8 * square * square) % FIELD, 2 * y * z % FIELD)


def curve_add(a, b):
    if not a[2]:
        return b
    if not b[2]:
        return a
    za, zb = a[2] * a[2] % FIELD, b[2] * b[2] % FIELD
    ua, ub = a[0] * zb % FIELD, b[0] * za % FIELD
    sa, sb = a[1] * zb * b[2] % FIELD, b[1] * za * a[2] % FIELD
    if ua == ub:
        return curve_double(a) if sa == sb else (0, 1, 0)
    h, r = (ub - ua) % FIELD, (sb - sa) % FIELD
    hh = h * h % FIELD
    hhh, v = h * hh % FIELD, ua * hh % FIELD
    x = (r * r - hhh - 2 * v) % FIELD
    return (x, (r * (v - x) - sa * hhh) % FIELD, h * a[2] * b[2] % FIELD)


def curve_point(key):
    """The point of a public key in base64 (SubjectPublicKeyInfo, P-256, uncompressed); None for any other text."""
    data = base64.b64decode(key, validate=True)
    if len(data) != 91 or not data.startswith(KEY_BEGINS):
        return None
    x, y = int.from_bytes(data[27:59], "big"), int.from_bytes(data[59:], "big")
    on_it = x < FIELD and y < FIELD and (y * y - (x * x * x - 3 * x + CURVE_B)) % FIELD == 0
    return (x, y, 1) if on_it else None


def device_signed(key, message, signature):
    public = curve_point(key)
    if public is None or len(signature) != 64:
        return False
    r, s = int.from_bytes(signature[:32], "big"), int.from_bytes(signature[32:], "big")
    if not (0 < r < CURVE_ORDER and 0 < s < CURVE_ORDER):
        return False
    inverse = pow(s, -1, CURVE_ORDER)
    u = int.from_bytes(sha(message), "big") * inverse % CURVE_ORDER
    v, both = r * inverse % CURVE_ORDER, curve_add(CURVE_BASE, public)
    total = (0, 1, 0)
    for bit in range(max(u.bit_length(), v.bit_length()) - 1, -1, -1):
        total = curve_double(total)
        one, other = u >> bit & 1, v >> bit & 1
        if one or other:
            total = curve_add(total, both if one and other else CURVE_BASE if one else public)
    return total[2] != 0 and total[0] * pow(total[2], -2, FIELD) % FIELD % CURVE_ORDER == r


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


def faults(root, every=False):
    try:
        yield from check_files(root)
        yield from check_log(root, every)
        yield from check_signature(root)
    except (OSError, ValueError, KeyError, TypeError, AttributeError, OverflowError) as error:
        yield f"something cannot be read: {type(error).__name__}: {error}"


def main():
    given = [one for one in sys.argv[1:] if one != "--every"]
    root = Path(given[0]) if given else Path(__file__).resolve().parent
    found = list(faults(root, "--every" in sys.argv))
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
