"""The tablet's bytes are the ledger's bytes: digests, ids, commitments, chains, words, and the table of kinds."""

import hashlib
import json
import random
import re

import pytest

from planish.ledger import chain
from planish.ledger.commitments import Opening, fault
from planish.ledger.daywords import WORDS
from planish.ledger.events import parse
from planish.ledger.judging import body_fault
from planish.ledger.kinds import KINDS
from tests.floor.pieces import FLOOR, ask

# FIPS 180-4 and the examples published with it (NIST, Cryptographic Standards and Guidelines, "SHA256.pdf"): one block, two.
NIST = {
    b"abc": "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
    b"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq": (
        "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1"
    ),
}


def test_the_scripts_sha256_gives_the_published_digests() -> None:
    assert ask("sha256", hex=[one.hex() for one in NIST]) == list(NIST.values())


def test_the_scripts_sha256_agrees_with_the_library_at_every_length_around_a_block() -> None:
    chance = random.Random(7)
    texts = [chance.randbytes(n) for n in (*range(140), 1000, 4096, 70_001)]
    assert ask("sha256", hex=[one.hex() for one in texts]) == [
        hashlib.sha256(one).hexdigest() for one in texts
    ]


def test_ids_are_uuid_version_7_and_carry_the_time() -> None:
    """RFC 9562, section 5.7 and appendix A.6: 0x017F22E279B0 is 22 February 2022, 19:22:22 GMT."""
    found = ask("ids", ms=[0x017F22E279B0, 0, 2**48 - 1])
    assert found[0].startswith("017f22e2-79b0-7")
    assert all(
        re.fullmatch(r"[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}", one)
        for one in found
    )
    assert found[1].startswith("00000000-0000-7")
    assert found[2].startswith("ffffffff-ffff-7")


DRAFTS = [
    {
        "kind": "ballot.locked/1",
        "sub": "7-001",
        "who": "ben",
        "body": {"round": 1, "ballot": {"round": 1, "outcome": "accept"}},
    },
    {"kind": "object.not_found/1", "sub": "7-002", "who": "ben", "body": {"reason": "locked"}},
    {
        "kind": "observation.made/1",
        "sub": "7-003",
        "who": "ben",
        "body": {
            "kind": "weight",
            "words": "weighed ½ — naïve “Łódź” 🜚",
            "values": {"weight": [412.5, "g", 1]},
            "part": "",
        },
    },
    {"kind": "picture.taken/1", "sub": "7-003", "who": "ben", "body": {"view": "base"}, "att": ["ab" * 32]},
    {
        "kind": "label.asked/1",
        "sub": "7-003",
        "who": "ben",
        "base": "",
        "body": {"version": 2, "text": "Brass", "reason": "seams"},
    },
    {
        "kind": "incident.noted/1",
        "sub": "7",
        "who": "ben",
        "body": {"sort": "damage", "words": "half a pair \ud83d"},
    },
    {
        "kind": "object.unlisted/1",
        "sub": "u-1",
        "who": "ben",
        "body": {"stand": "7", "number": "", "text": "Ladle"},
    },
    {"kind": "ballot.recused/1", "sub": "7-004", "who": "ben", "body": {}},
    {"kind": "object.presented/1", "sub": "7-004", "who": "ben", "body": {}},
]


def test_every_event_a_tablet_writes_is_one_that_the_ledger_takes() -> None:
    made = ask("compose", fair="little", dev="t-1", epoch="e1", n=40, t=1_764_000_000_000, drafts=DRAFTS)
    before = ""
    for seq, (one, draft) in enumerate(zip(made, DRAFTS, strict=True), start=1):
        raw = one["raw"].encode()
        event = parse(raw)
        assert (event.seq, event.dprev, event.kind, event.seen) == (seq, before, draft["kind"], ("e1", 40))
        openings = [
            Opening(path=o["path"], salt=bytes.fromhex(o["salt"]), value=o["value"].encode())
            for o in one["open"]
        ]
        assert fault(event, openings) == ""
        assert body_fault(KINDS[event.name], event.body) == ""
        assert one["digest"] == hashlib.sha256(raw).hexdigest()
        before = one["digest"]


def test_no_private_word_stands_readable_in_what_is_sent_as_raw() -> None:
    made = ask("compose", fair="little", dev="t-1", epoch="e1", n=40, t=1, drafts=DRAFTS)
    assert not any(
        word in one["raw"] for one in made for word in ("accept", "Brass", "Łódź", "Ladle", "seams")
    )


def test_the_tablets_table_of_private_fields_is_the_ledgers() -> None:
    told = ask("private")
    assert told
    assert {kind: set(names) for kind, names in told.items()} == {
        kind: set(KINDS[kind].private) for kind in told
    }
    assert not any(KINDS[kind].desk_only for kind in told)


def test_the_tablet_follows_the_desks_chain_and_sees_a_missing_or_changed_leaf() -> None:
    now = chain.genesis("little")
    start, entries = now, []
    for n in range(1, 6):
        leaf = chain.leaf(n=n, recv_ms=n, dev="desk", seq=n, status="ok", raw=b"%d" % n)
        now = chain.link(now, leaf)
        entries.append({"n": n, "leaf": leaf.hex()})
    follow = {"hash": start.hex(), "after": 0}
    assert ask("follow", **follow, entries=entries) == now.hex()
    assert ask("follow", **follow, entries=entries[:2] + entries[3:]) == ""
    changed = [*entries[:2], {**entries[2], "leaf": "00" * 32}, *entries[3:]]
    assert ask("follow", **follow, entries=changed) not in ("", now.hex())


def test_the_words_for_pairing_are_the_ledgers_words() -> None:
    assert tuple(ask("daywords")) == WORDS


def test_four_words_come_from_the_code_both_keys_and_the_nonce() -> None:
    given = {"code": "ab-cd o1il", "desk_key": "REVTSw==", "key": "S0VZ", "nonce": "00" * 32}
    text = b"\x05ABCD0111\0" + b"REVTSw==\0" + b"S0VZ\0" + b"00" * 32
    h = hashlib.sha256(text).digest()
    assert ask("fourwords", **given) == [WORDS[one] for one in h[:4]]
    assert ask("fourwords", **{**given, "key": "S0Va"}) != ask("fourwords", **given)


def test_the_forms_in_the_bundle_are_the_packs() -> None:
    from importlib.util import module_from_spec, spec_from_file_location

    spec = spec_from_file_location("make_pack", FLOOR / "scripts" / "make-pack.py")
    assert spec is not None
    assert spec.loader is not None
    module = module_from_spec(spec)
    spec.loader.exec_module(module)
    assert (FLOOR / "src/hall/object/pack.ts").read_text(encoding="utf-8") == module.made(), (
        "run scripts/make-pack.py"
    )


def _own(seq: int, size: int = 100, status: str = "waiting") -> dict[str, object]:
    return {
        "seq": seq,
        "id": f"i{seq}",
        "raw": "x" * size,
        "open": [],
        "sig": "",
        "status": status,
        "n": 0,
        "why": "",
    }


def test_a_batch_keeps_to_two_hundred_events_and_to_one_mebibyte() -> None:
    assert ask("batch", rows=[_own(n) for n in range(1, 500)]) == 200
    assert ask("batch", rows=[_own(n, 200_000) for n in range(1, 20)]) == 4
    assert ask("batch", rows=[_own(1, 3_000_000), _own(2)]) == 1


@pytest.mark.parametrize("status", ["ok", "have", "stale", "held", "denied"])
def test_each_event_goes_by_its_own_answer(status: str) -> None:
    rows = [_own(1), _own(2), _own(3)]
    results = [{"id": "i1", "status": status, "n": 9}, {"id": "i2", "status": "gap", "last": 1}]
    found = ask("answered", rows=rows, results=results)
    assert [(one["seq"], one["status"], one["n"]) for one in found["rows"]] == [(1, status, 9)]
    assert (found["from"], found["stop"], found["epoch"]) == (1, "", "")


def test_a_clash_stops_the_queue_and_a_restored_desk_is_noticed() -> None:
    clash = ask("answered", rows=[_own(1)], results=[{"id": "i1", "status": "clash", "why": "Other bytes."}])
    assert clash["stop"] == "Other bytes."
    restored = ask(
        "answered", rows=[_own(5)], results=[{"id": "i5", "status": "epoch", "epoch": "e2", "last": 3}]
    )
    assert (restored["epoch"], restored["from"], restored["rows"]) == ("e2", 3, [])


def test_figures_are_read_with_their_doubt_and_nothing_is_guessed() -> None:
    assert ask("values", kind="weight", figures={"weight": "412,5 ± 1"}) == {"weight": [412.5, "g", 1]}
    assert ask("values", kind="composition", lines="Zn 32.4 ± 0.6\nCu 67") == {
        "Zn": [32.4, "wt%", 0.6],
        "Cu": [67, "wt%"],
    }
    with pytest.raises(AssertionError, match="is not a figure"):
        ask("values", kind="weight", figures={"weight": "heavy"})


def test_the_event_is_small_enough_for_a_day_in_a_tablet() -> None:
    made = ask("compose", fair="little", dev="t-1", epoch="e1", n=40, t=1, drafts=DRAFTS[:1])
    assert len(json.dumps(made[0])) < 1500
