"""Seals against the published vectors of what they are made of, and against anyone who tries to bend one."""

import cbor2
import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat
from cwt import COSE, COSEKey
from hypothesis import given
from hypothesis import strategies as st

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
    write_code,
)
from planish.ledger.sealing.codes import NotACode, tidy_check_code

KEY = Ed25519PrivateKey.from_private_bytes(bytes(range(32)))
PUBLIC = KEY.public_key()
WORDS = SealedWords(
    fair="Saltmere 2026",
    stand="7",
    number="14",
    version=2,
    day="2026-10-14",
    words="Pewter flagon, second half of the 18th century, the lid later.",
    compare=("height 24 cm", "1,420 g", "crowned rose under the base"),
    picture=bytes(16),
)
SEALED = seal(WORDS, KEY)

# RFC 8032, section 7.1, tests 1 and 2: secret, public, message, signature
RFC_8032 = [
    (
        "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
        "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a",
        "",
        "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b",
    ),
    (
        "4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
        "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c",
        "72",
        "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00",
    ),
]


@pytest.mark.parametrize(("secret", "public", "message", "signature"), RFC_8032)
def test_the_signature_scheme_gives_the_published_signatures(
    secret: str, public: str, message: str, signature: str
) -> None:
    key = Ed25519PrivateKey.from_private_bytes(bytes.fromhex(secret))
    raw = key.public_key().public_bytes(Encoding.Raw, PublicFormat.Raw)
    assert (raw.hex(), key.sign(bytes.fromhex(message)).hex()) == (public, signature)


# RFC 9285, section 4.3 and 4.4
@pytest.mark.parametrize(
    ("plain", "text"),
    [(b"AB", "BB8"), (b"Hello!!", "%69 VD92EX0"), (b"base-45", "UJCLQE7W581"), (b"ietf!", "QED8WEX0")],
)
def test_base45_gives_the_published_texts(plain: bytes, text: str) -> None:
    assert (base45.encode(plain), base45.decode(text)) == (text, plain)


@pytest.mark.parametrize("text", ["GGW", "A", "bb8", "BB8\n", "BB8 B"[:4], ":::"])
def test_base45_refuses_what_no_bytes_give(text: str) -> None:
    with pytest.raises(base45.NotBase45):
        base45.decode(text)


# RFC 8949, appendix A
RFC_8949 = [
    (0, "00"), (23, "17"), (24, "1818"), (100, "1864"), (1000, "1903e8"), (1000000, "1a000f4240"),
    (18446744073709551615, "1bffffffffffffffff"), (-1, "20"), (-10, "29"), (-100, "3863"), (-1000, "3903e7"),
    (b"", "40"), (bytes.fromhex("01020304"), "4401020304"), ("", "60"), ("a", "6161"), ("IETF", "6449455446"),
    ("ü", "62c3bc"), ([1, 2, 3], "83010203"), ([1, [2, 3], [4, 5]], "8301820203820405"),
    ({1: 2, 3: 4}, "a201020304"), ({"a": 1, "b": [2, 3]}, "a26161016162820203"),
]  # fmt: skip


@pytest.mark.parametrize(("value", "text"), RFC_8949)
def test_cbor_gives_the_published_bytes(value: object, text: str) -> None:
    assert (cbor.encode(value).hex(), cbor.decode(bytes.fromhex(text))) == (text, value)


values = st.recursive(
    st.integers(-(2**64), 2**64 - 1) | st.binary(max_size=40) | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.integers(0, 99), inner, max_size=4),
    max_leaves=8,
)


@given(values)
def test_cbor_agrees_with_a_general_library_and_reads_itself(value: object) -> None:
    ours = cbor.encode(value)
    assert ours == cbor2.dumps(value, canonical=True)
    if len(ours) <= cbor.LIMIT:
        try:
            assert cbor.decode(ours) == value
        except cbor.NotCanonical as reason:
            assert "deeper" in str(reason)  # noqa: PT017


@given(st.binary(max_size=80))
def test_whatever_cbor_reads_it_would_have_written(data: bytes) -> None:
    try:
        value = cbor.decode(data)
    except cbor.NotCanonical:
        return
    assert cbor.encode(value) == data


@pytest.mark.parametrize(
    "hostile",
    [
        "9b00000000ffffffff",
        "5b4000000000000000",
        "81" * 900,
        "bfff",
        "d81d00",
        "c249ffffffffffffffffff",
        "fb3ff0000000000000",
        "1800",
        "a201000100",
    ],
)
def test_hostile_cbor_is_refused(hostile: str) -> None:
    with pytest.raises(cbor.NotCanonical):
        cbor.decode(bytes.fromhex(hostile))


def test_another_library_accepts_our_signature() -> None:
    cwt_key = COSEKey.new(
        {1: 1, -1: 6, 2: cose.key_id(PUBLIC), 3: -8, -2: PUBLIC.public_bytes(Encoding.Raw, PublicFormat.Raw)}
    )
    payload = COSE.new().decode(SEALED, cwt_key)
    assert isinstance(payload, bytes)
    assert cbor.decode(payload) == cbor2.loads(payload)


def test_a_seal_gives_back_its_words() -> None:
    opened = open_seal(SEALED, [PUBLIC])
    assert opened.key == cose.key_id(PUBLIC)
    assert (opened.words, opened.compare, opened.version) == (WORDS.words, WORDS.compare, WORDS.version)


def test_no_flipped_bit_is_accepted() -> None:
    accepted = 0
    for bit in range(len(SEALED) * 8):
        bent = bytearray(SEALED)
        bent[bit // 8] ^= 1 << bit % 8
        try:
            open_seal(bytes(bent), [PUBLIC])
        except SealRefused:
            continue
        accepted += 1
    assert accepted == 0


@pytest.mark.parametrize("address", ["", "https://check.example/words"])
def test_only_the_exact_text_of_a_code_is_accepted(address: str) -> None:
    text = write_code(SEALED, address=address)
    assert open_code(text) == SEALED
    for bent in (
        text + "\n",
        " " + text,
        text + text,
        text.lower(),
        text + "=",
        text[:-1],
        text.replace("#", "##"),
    ):
        if bent == text:
            continue
        with pytest.raises((NotACode, SealRefused)):
            open_seal(open_code(bent), [PUBLIC])


def test_no_single_character_swap_is_accepted() -> None:
    text, accepted = write_code(SEALED), 0
    for at in range(len(text)):
        for other in base45.ALPHABET:
            if other == text[at]:
                continue
            try:
                open_seal(open_code(text[:at] + other + text[at + 1 :]), [PUBLIC])
            except (NotACode, SealRefused):
                continue
            accepted += 1
    assert accepted == 0


def test_every_key_with_the_same_id_is_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    other = Ed25519PrivateKey.from_private_bytes(bytes(32)).public_key()
    same = cose.key_id(PUBLIC)
    monkeypatch.setattr(cose, "key_id", lambda _key: same)
    assert open_seal(SEALED, [other, PUBLIC]).words == WORDS.words


def test_a_key_that_is_not_known_opens_nothing() -> None:
    other = Ed25519PrivateKey.from_private_bytes(bytes(32)).public_key()
    with pytest.raises(SealRefused, match="not a seal that can be checked here"):
        open_seal(SEALED, [other])


def test_a_check_code_survives_reading_aloud_and_notices_a_slip() -> None:
    code = check_code(SEALED)
    assert tidy_check_code(code.lower().replace("-", " ")) == code
    wrong = ("1" if code[0] != "1" else "2") + code[1:]
    with pytest.raises(NotACode):
        tidy_check_code(wrong)
