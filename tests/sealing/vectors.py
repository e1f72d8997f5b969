"""The vectors that Python and JavaScript both read. `python -m tests.sealing.vectors` writes vectors.json anew.

Keys are RFC 8032's test key 1 and a counting key; they sign nothing but these invented labels.
"""

import json
from pathlib import Path
from typing import Any

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat

from planish.ledger.sealing import (
    SealedWords,
    SealRefused,
    base45,
    cbor,
    check_code,
    cose,
    open_code,
    open_seal,
    seal,
)
from planish.ledger.sealing.codes import PREFIX, NotACode, write_code
from planish.ledger.sealing.lists import SealList, write_list

PLACE = Path(__file__).with_name("vectors.json")
KEY = Ed25519PrivateKey.from_private_bytes(bytes(range(32)))
STRANGER = Ed25519PrivateKey.from_private_bytes(
    bytes.fromhex("9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60")
)
WORDS = SealedWords(
    fair="Saltmere 2026",
    stand="7",
    number="14",
    version=2,
    day="2026-10-14",
    words="Pewter flagon, “second half” of the 18th century, the lid later; 24½ cm.",
    compare=("height 24.5 cm", "crowned rose"),
    picture=bytes(range(16)),
)
GOOD = {0: 1, 1: "Saltmere", 2: "7", 3: "14", 4: 1, 5: "2026-10-14", 6: "Pewter plate"}


def public(key: Ed25519PrivateKey) -> dict[str, str]:
    """A key as the page holds it."""
    raw = key.public_key().public_bytes(Encoding.Raw, PublicFormat.Raw)
    return {"id": cose.key_id(key.public_key()).hex(), "ed25519": raw.hex()}


def signed(
    payload: bytes, key: Ed25519PrivateKey = KEY, *, protected: bytes = b"", outer: Any = None
) -> bytes:
    """A message signed truly over whatever it holds, right or wrong."""
    guarded = protected or cbor.encode({1: -8, 4: cose.key_id(key.public_key())})
    signature = key.sign(cbor.encode(["Signature1", guarded, b"", payload]))
    parts = [guarded, {} if outer is None else outer, payload, signature]
    return cbor.encode(cbor.Tagged(18, parts))


def payloads() -> dict[str, bytes]:
    """Payloads that the fair's key has signed and that are no seal all the same; and some odd ones that are."""
    good = cbor.encode(GOOD)
    nested: Any = "x"
    for _ in range(5):
        nested = [nested]
    wrong: dict[str, Any] = {
        "another form": {**GOOD, 0: 2},
        "a field nobody knows": {**GOOD, 10: "x"},
        "a text key": {**GOOD, "x": 1},
        "no stand": {k: v for k, v in GOOD.items() if k != 2},
        "version nought": {**GOOD, 4: 0},
        "version in words": {**GOOD, 4: "2"},
        "a day that is none": {**GOOD, 5: "14 October"},
        "a day with a line end": {**GOOD, 5: "2026-10-14\n"},
        "a day in other figures": {**GOOD, 5: "２０２６-10-14"},
        "empty words": {**GOOD, 6: ""},
        "words and digest": {**GOOD, 7: bytes(32)},
        "a short digest": {**{k: v for k, v in GOOD.items() if k != 6}, 7: bytes(31)},
        "compare that is no list": {**GOOD, 8: "height 24 cm"},
        "compare of numbers": {**GOOD, 8: [24]},
        "picture in words": {**GOOD, 9: "picture"},
        "too deep": {**GOOD, 8: nested},
        "a long stand": {**GOOD, 2: "7" * 65},
        "a list, not a map": ["x"],
    }
    return {
        **{name: cbor.encode(value) for name, value in wrong.items()},
        "something after the end": good + b"\x00",
        "a longer number": good.replace(b"\x00\x01\x01", b"\x00\x18\x01\x01", 1),
        "keys out of order": b"\xa7" + good[3:12] + good[1:3] + good[12:],
        "a doubled key": b"\xa8\x00\x01" + good[1:],
        "not UTF-8": good.replace(b"Pewter", b"Pe\xfft\xc0\xaf"),
        "half a surrogate": good.replace(b"Pewter", b"Pe\xed\xa0\x80r"),
        "an endless map": b"\xbf" + good[1:] + b"\xff",
        "good: astral letters": cbor.encode({**GOOD, 2: "𝟕" * 64, 6: "\ufeffPewter 🏺"}),
        "good: a digest": cbor.encode({**{k: v for k, v in GOOD.items() if k != 6}, 7: bytes(32)}),
        "good: a great version": cbor.encode({**GOOD, 4: 2**60}),
    }


def texts() -> dict[str, str]:
    """Texts of codes, by what is odd about each."""
    sealed = seal(WORDS, KEY)
    plain, link = write_code(sealed), write_code(sealed, address="https://check.example/words")
    kid = cose.key_id(KEY.public_key())
    good = cbor.encode(GOOD)
    messages = {
        "an open header": signed(good, outer={1: 1}),
        "another algorithm": signed(good, protected=cbor.encode({1: -7, 4: kid})),
        "a third header": signed(good, protected=cbor.encode({1: -8, 4: kid, 5: b"x"})),
        "a key id of seven bytes": signed(good, protected=cbor.encode({1: -8, 4: kid[:7]})),
        "no tag": cbor.encode(cbor.decode(sealed).value),  # type: ignore[attr-defined]
        "signed by a stranger": signed(good, STRANGER),
        "a stranger with the fair's key id": signed(good, STRANGER, protected=cbor.encode({1: -8, 4: kid})),
        "five bytes that ask for four thousand million": bytes.fromhex("9affffffff"),
        "five levels and on": b"\x81" * 900,
        **{name: signed(payload) for name, payload in payloads().items()},
    }
    return {
        "good: plain": plain,
        "good: link": link,
        "a line end": plain + "\n",
        "a space before": " " + plain,
        "lower case": plain.lower(),
        "two glued": plain + plain,
        "two glued without the second prefix": plain + plain.removeprefix(PREFIX),
        "two links glued": link + link,
        "cut by one": plain[:-1],
        "cut by three": plain[:-3],
        "padding on a link": link + "=",
        "http": link.replace("https", "http"),
        "very long": PREFIX + "0" * 1700,
        "nothing": "",
        "only the prefix": PREFIX,
        **{name: PREFIX + base45.encode(message) for name, message in messages.items()},
        **{
            f"bit {bit} flipped": PREFIX + base45.encode(flipped(sealed, bit))
            for bit in range(0, len(sealed) * 8, 29)
        },
        **{f"character {at} changed": swapped(plain, at) for at in range(0, len(plain), 11)},
    }


def flipped(data: bytes, bit: int) -> bytes:
    """`data` with one bit turned."""
    bent = bytearray(data)
    bent[bit // 8] ^= 1 << bit % 8
    return bytes(bent)


def swapped(text: str, at: int) -> str:
    """`text` with the next letter of the alphabet at one place."""
    letters = base45.ALPHABET
    other = letters[(letters.find(text[at]) + 1) % len(letters)]
    return text[:at] + other + text[at + 1 :]


def opened(text: str) -> dict[str, Any] | None:
    """What Python makes of a text: the fields of the seal, None when it is refused."""
    try:
        sealed = open_code(text)
        words = open_seal(sealed, [KEY.public_key()])
    except (NotACode, SealRefused):
        return None
    return {
        "fair": words.fair,
        "stand": words.stand,
        "number": words.number,
        "version": str(words.version),
        "day": words.day,
        "words": words.words,
        "digest": words.digest.hex(),
        "compare": list(words.compare),
        "picture": words.picture.hex(),
        "check": check_code(sealed),
    }


def made() -> dict[str, Any]:
    """All vectors."""
    seals = SealList(
        fair="Saltmere 2026",
        day="2026-10-14",
        superseded=frozenset({bytes(range(16)), bytes(16)}),
        revoked=frozenset({b"\xff" * 16}),
    )
    listed = write_list(seals, KEY)
    return {
        "keys": [public(KEY)],
        "texts": [{"name": name, "text": text, "opens": opened(text)} for name, text in texts().items()],
        "list": {
            "good": listed.hex(),
            "superseded": sorted(row.hex() for row in seals.superseded),
            "revoked": sorted(row.hex() for row in seals.revoked),
            "bad": [
                (listed + b"\n").hex(),
                listed[:-1].hex(),
                flipped(listed, 300).hex(),
                write_list(seals, STRANGER).hex(),
            ],
        },
    }


if __name__ == "__main__":
    PLACE.write_text(json.dumps(made(), indent=1, ensure_ascii=True) + "\n", encoding="utf-8")
