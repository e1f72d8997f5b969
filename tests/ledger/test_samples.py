"""Every kind of event keeps a frozen sample of every version, and each still reads; formulas meet published values."""

import hashlib
import json
from pathlib import Path

import pytest

from planish.ledger import chain, daywords
from planish.ledger.commitments import commitment, fault
from planish.ledger.events import parse, to_bytes
from planish.ledger.identity import uuid7
from planish.ledger.judging import body_fault
from planish.ledger.kinds import KINDS
from planish.ledger.replay import fold
from planish.ledger.store import Entry, Opening
from planish.ledger.upcasting import happened

SAMPLES = Path(__file__).parent / "samples"
WORDS = sorted(kind.word for kind in KINDS.values())


def sample(word: str) -> Entry:
    kept = json.loads((SAMPLES / f"{word.replace('/', '-')}.json").read_text(encoding="utf-8"))
    openings = {
        path: Opening(path=path, salt=bytes.fromhex(salt), value=value.encode())
        for path, salt, value in kept["openings"]
    }
    raw = kept["raw"].encode()
    assert hashlib.sha256(raw).hexdigest() == kept["sha256"]
    return Entry(n=1, recv_ms=1, status="ok", raw=raw, leaf=b"", hash=b"", openings=openings)


@pytest.mark.parametrize("word", WORDS)
def test_the_frozen_sample_of_each_kind_still_reads_with_every_field(word: str) -> None:
    entry = sample(word)
    event = parse(entry.raw)
    read = happened(entry)
    assert event.kind == word
    assert fault(event, entry.openings.values()) == ""
    assert body_fault(KINDS[read.kind], read.body) == ""
    assert set(read.body) == {field.name for field in KINDS[read.kind].fields}


def test_all_samples_one_after_another_fold_into_one_fair() -> None:
    first = ["fair.begun/1", "object.listed/1"]
    state = fold(happened(sample(word)) for word in [*first, *(word for word in WORDS if word not in first)])
    assert state.id == "harbour"
    assert state.objects["o1"].observations
    assert state.objects["o1"].labels


def test_every_field_of_every_kind_says_what_it_holds() -> None:
    for kind in KINDS.values():
        assert kind.about.endswith(".")
        assert all(field.about for field in kind.fields)


def test_the_hash_is_sha_256() -> None:
    # FIPS 180-4, and NIST's published example messages "abc" and the 448-bit one.
    assert chain.digest(b"abc").hex() == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    long = b"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq"
    assert chain.digest(long).hex() == "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1"


def test_ids_are_version_seven_of_rfc_9562() -> None:
    # RFC 9562, appendix A.6: time 0x017F22E279B0, rand_a 0xCC3, rand_b 0x18C4DC0C0C07398F.
    chance = ((0xCC3 << 62) | 0x18C4DC0C0C07398F).to_bytes(10, "big")
    assert uuid7(0x017F22E279B0, chance) == "017f22e2-79b0-7cc3-98c4-dc0c0c07398f"


def test_leaf_link_and_commitment_are_the_formulas_that_the_guide_prints() -> None:
    raw = b"{}"
    by_hand = (
        b"\x00\x01"
        + (7).to_bytes(8, "big")
        + (9).to_bytes(8, "big")
        + b"\x00\x04desk"
        + (3).to_bytes(8, "big")
    )
    by_hand += b"\x02" + hashlib.sha256(raw).digest()
    leaf = chain.leaf(n=7, recv_ms=9, dev="desk", seq=3, status="stale", raw=raw)
    assert leaf == hashlib.sha256(by_hand).digest()
    assert chain.link(b"a" * 32, leaf) == hashlib.sha256(b"\x01" + b"a" * 32 + leaf).digest()
    assert (
        commitment(b"s" * 32, "text", b'"x"')
        == hashlib.sha256(b"\x02" + b"s" * 32 + b"text" + b"\0" + b'"x"').hexdigest()
    )


def test_a_head_read_aloud_as_twelve_words_comes_back() -> None:
    head = hashlib.sha256(b"harbour").digest()
    assert len(daywords.words_of(head).split()) == 12
    assert daywords.start_of(daywords.words_of(head).upper()) == head[:12]
    assert len(set(daywords.WORDS)) == 256
    with pytest.raises(ValueError, match="is not one of the words"):
        daywords.start_of("acorn " * 11 + "zebra")


def test_half_a_surrogate_pair_and_every_other_text_survive_the_bytes() -> None:
    assert json.loads(to_bytes("\ud83d")) == "\ud83d"
    assert to_bytes("9¾in") == '"9¾in"'.encode()


@pytest.mark.parametrize(
    ("raw", "word"),
    [
        (b'{"v":1,"v":1}', "twice"),
        (b'{"v":NaN}', "no number"),
        (b"[]", "named fields"),
        (b'{"v":1}', "missing"),
        (b"\xff\xfe", "not readable"),
        (b"[" * 200_000, "not readable"),
        (b" " * 300_000, "bytes long"),
    ],
)
def test_bytes_that_are_no_event_are_refused_in_a_sentence(raw: bytes, word: str) -> None:
    with pytest.raises(ValueError, match=word):
        parse(raw)
