"""One suite, every store: the promise is written once, the subclass only opens the database."""

import itertools
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

from planish.ledger import memory, sqlite
from planish.ledger.events import parse
from planish.ledger.journal import Journal
from planish.ledger.store import Offer, Store
from planish.ledger.verifying import Remembered, verify
from tests.ledger.desks import NOW, Chance, Device, begin, send

SCHEMAS = itertools.count(1)


class Promise:
    """What every store promises."""

    @pytest.fixture
    def store(self) -> Iterator[Store]:
        raise NotImplementedError

    def test_what_was_acknowledged_is_read_back_in_order_with_its_words(self, store: Store) -> None:
        desk = begin(store)
        assert [entry.raw for entry in store.entries()] == [offer.raw for offer in desk.made]
        assert store.head().n == len(desk.made)
        assert [entry.n for entry in store.entries(after=5)] == [*range(6, len(desk.made) + 1)]
        assert verify(store) == ()

    def test_a_batch_sent_twice_even_within_one_request_is_stored_once(self, store: Store) -> None:
        begin(store, "t1")
        seen = Device("t1").make("observation.made", "o1", "mo", {"kind": "mark", "words": "A rubbed rose"})
        first, second = send(store, seen, seen)
        third = send(store, seen)[0]
        assert [first.status, second.status, third.status] == ["ok", "have", "have"]
        assert first.n == second.n == third.n == store.head().n

    def test_a_later_number_waits_for_the_one_before_it(self, store: Store) -> None:
        begin(store, "t1")
        tablet = Device("t1")
        one = tablet.make("observation.made", "o1", "mo", {"kind": "wear"})
        two = tablet.make("observation.made", "o1", "mo", {"kind": "mark"})
        early = send(store, two)[0]
        assert (early.status, early.last) == ("gap", 0)
        assert [result.status for result in send(store, one, two)] == ["ok", "ok"]

    def test_the_same_id_or_number_with_other_bytes_clashes_and_overwrites_nothing(
        self, store: Store
    ) -> None:
        begin(store, "t1")
        offer = Device("t1").make("observation.made", "o1", "mo", {"kind": "wear"})
        send(store, offer)
        same_id = Offer(raw=offer.raw.replace(b'"wear"', b'"mark"'))
        same_number = Device("t1")
        same_number._chance = Chance("another")
        other = same_number.make("observation.made", "o1", "mo", {"kind": "text"})
        assert [result.status for result in send(store, same_id, other)] == ["clash", "clash"]
        entry = store.entry_of(parse(offer.raw).id)
        assert entry is not None
        assert entry.raw == offer.raw

    def test_an_unknown_device_and_bytes_that_are_no_event_leave_no_record(self, store: Store) -> None:
        begin(store)
        stranger = Device("t9").make("observation.made", "o1", "mo", {"kind": "wear"})
        n = store.head().n
        results = send(store, stranger, Offer(raw=b"{}"), Offer(raw=b"\xff"), Offer(raw=b"[" * 100_000))
        assert [result.status for result in results] == ["refused"] * 4
        assert store.head().n == n

    def test_words_that_do_not_match_their_commitment_are_refused_before_anything_is_acknowledged(
        self, store: Store
    ) -> None:
        begin(store, "t1")
        offer = Device("t1").make("observation.made", "o1", "mo", {"kind": "mark", "words": "A rose"})
        forged = Offer(
            raw=offer.raw, openings=(type(offer.openings[0])(path="words", salt=b"0" * 32, value=b'"B"'),)
        )
        assert [result.status for result in send(store, forged, Offer(raw=offer.raw))] == [
            "refused",
            "refused",
        ]
        assert send(store, offer)[0].status == "ok"

    def test_of_a_hundred_and_fifty_who_confirm_at_once_one_counts_and_all_are_kept(
        self, store: Store
    ) -> None:
        begin(store, *(f"t{n}" for n in range(150)))
        asked = [
            Device(f"t{n}").make("label.asked", "o1", "lee", {"version": 2, "text": f"words {n}"}, base="")
            for n in range(150)
        ]
        statuses = [result.status for result in send(store, *asked)]
        assert (statuses.count("ok"), statuses.count("stale")) == (1, 149)
        kept = {
            entry.openings["text"].read() for entry in store.entries() if entry.event.name == "label.asked"
        }
        assert kept == {f"words {n}" for n in range(150)}

    def test_a_revoked_tablet_hands_in_what_is_held_until_the_chair_releases_it(self, store: Store) -> None:
        desk = begin(store, "t1")
        tablet = Device("t1")
        offers = [tablet.make("observation.made", "o1", "mo", {"kind": "wear"}) for _ in range(7)]
        send(store, desk.make("device.revoked", "t1", "office", {"how": "lost"}))
        assert [result.status for result in send(store, *offers)] == ["held"] * 7
        send(store, desk.make("held.released", parse(offers[2].raw).id, "cy", {}))
        story = (
            Journal(store, dev="desk", now=lambda: NOW, chance=lambda size: b"0" * size)
            .fair_now()
            .objects["o1"]
        )
        assert [seen.id for seen in story.observations] == [parse(offers[2].raw).id]
        assert len(story.losers) == 6

    def test_a_recusal_that_arrives_after_the_proposal_takes_the_quorum_away_in_the_same_transaction(
        self, store: Store
    ) -> None:
        desk = begin(store)
        for person in ("mo", "nan"):
            desk.make("ballot.locked", "o1", person, {"round": 1, "ballot": {"outcome": "accept"}})
        proposed = desk.make("outcome.proposed", "o1", "lee", {"outcome": "accept", "needs": 2}, base="")
        desk.make("ballot.recused", "o1", "nan", {})
        base = parse(proposed.raw).id
        confirmed = desk.make("outcome.confirmed", "o1", "cy", {"outcome": "accept"}, base=base)
        results = send(store, *desk.made)
        assert results[-1].status == "denied"
        assert results[-1].why == "Only 1 ballots stand and 2 are needed."
        assert store.entry_of(parse(confirmed.raw).id) is not None

    def test_a_role_withdrawn_while_the_tablet_was_away_denies_what_comes_after(self, store: Store) -> None:
        desk = begin(store, "t1")
        ballot = Device("t1").make("ballot.locked", "o1", "mo", {"round": 1, "ballot": {}})
        send(store, desk.make("role.withdrawn", "mo", "office", {"role": "member"}))
        assert send(store, ballot)[0].status == "denied"

    def test_a_ballot_that_comes_after_the_split_was_shown_waits_for_the_chair(self, store: Store) -> None:
        desk = begin(store, "t1")
        late = Device("t1").make("ballot.locked", "o1", "mo", {"round": 1, "ballot": {}})
        send(store, desk.make("round.revealed", "o1", "lee", {"round": 1}))
        assert send(store, late)[0].status == "held"

    def test_a_kind_from_a_newer_version_is_kept_and_held(self, store: Store) -> None:
        begin(store, "t1")
        offer = Device("t1").make("observation.made", "o1", "mo", {"kind": "wear"})
        newer = Offer(raw=offer.raw.replace(b"observation.made/1", b"observation.made/9"))
        assert send(store, newer)[0].status == "held"
        assert [*store.entries()][-1].raw == newer.raw

    def test_a_body_of_the_wrong_sort_is_kept_and_held_and_the_fold_goes_on(self, store: Store) -> None:
        begin(store, "t1")
        tablet = Device("t1")
        for body in (
            {"kind": "wear", "values": "x"},
            {"kind": "wear", "terms": [{}]},
            {"kind": 7},
            {},
            {"kind": "a", "z": 1},
        ):
            tablet.make("observation.made", "o1", "mo", body)
        tablet.make("outcome.proposed", "o1", "lee", {"outcome": "accept", "needs": "many"}, base="")
        tablet.make("observation.made", "o1", "mo", {"kind": "wear", "more": [1], "words": {"a": 1}})
        assert [result.status for result in send(store, *tablet.made)] == ["held"] * 6 + ["ok"]
        story = (
            Journal(store, dev="desk", now=lambda: NOW, chance=lambda size: b"0" * size)
            .fair_now()
            .objects["o1"]
        )
        assert (len(story.observations), len(story.losers)) == (1, 6)

    def test_what_cannot_be_undone_is_written_at_the_desk_and_a_removal_by_two(self, store: Store) -> None:
        desk = begin(store, "t1")
        away = Device("t1").make("outcome.confirmed", "o1", "cy", {"outcome": "accept"}, base="")
        alone = desk.make("outcome.confirmed", "o1", "cy", {"outcome": "remove"}, base="")
        both = desk.make("outcome.confirmed", "o1", "cy", {"outcome": "remove", "second": "lee"}, base="")
        assert [result.status for result in send(store, away, alone, both)] == ["denied", "denied", "ok"]

    def test_after_a_restore_a_sender_of_the_old_epoch_is_told_where_its_numbers_stand(
        self, store: Store
    ) -> None:
        desk = begin(store)
        more = desk.make("stand.added", "s1", "office", {"number": "A4", "exhibitor": "N"})
        store.renew("e2")
        told = send(store, more, epoch="e1")[0]
        assert (told.status, told.epoch, told.last) == ("epoch", "e2", len(desk.made) - 1)
        assert send(store, more, epoch="e2")[0].status == "ok"

    def test_the_desks_clock_going_back_does_not_reorder_the_log(self, store: Store) -> None:
        desk = begin(store)
        early = desk.make("clock.jump", "desk", "office", {"ms": -400 * 86_400_000})
        send(store, early, recv_ms=NOW - 400 * 86_400_000)
        assert [*store.entries()][-1].recv_ms == NOW
        assert verify(store) == ()

    def test_deleted_words_are_gone_and_the_chain_still_verifies(self, store: Store) -> None:
        desk = begin(store, "t1")
        offer = Device("t1").make("observation.made", "o1", "mo", {"kind": "mark", "words": "MARKER-PHRASE"})
        event_id = parse(offer.raw).id
        send(store, offer)
        assert store.redact([event_id], "words") == 1
        assert [problem.code for problem in verify(store)] == ["ledger.lost_opening"]
        body = {"ids": [event_id], "path": "words", "ground": "request", "second": "cy"}
        send(store, desk.make("opening.redacted", store.fair, "office", body))
        assert verify(store) == ()
        assert b"MARKER-PHRASE" not in b"".join(entry.raw for entry in store.entries())

    def test_a_head_remembered_elsewhere_contradicts_a_rewritten_chain_and_a_cut_one(
        self, store: Store
    ) -> None:
        begin(store)
        good = [Remembered(n=entry.n, hash=entry.hash[:12], where="day sheet") for entry in store.entries()]
        assert verify(store, good) == ()
        other = [
            Remembered(n=4, hash=b"\1" * 12, where="tablet 7"),
            Remembered(n=999, hash=b"\1" * 12, where="tablet 8"),
        ]
        assert [problem.code for problem in verify(store, other)] == ["ledger.rewritten", "ledger.short"]

    def test_text_of_every_sort_comes_back_unchanged(self, store: Store) -> None:
        begin(store, "t1")
        words = "\u202eright to left\x00 half a pair \ud83d, ﬁ 𐌰 9¾in \r\n" + "x" * 10_000
        send(store, Device("t1").make("observation.made", "o1", "mo", {"kind": "text", "words": words}))
        assert [*store.entries()][-1].openings["words"].read() == words


class TestMemory(Promise):
    @pytest.fixture
    def store(self) -> Store:
        return memory.MemoryStore(fair="harbour", epoch="e1")


class TestSqlite(Promise):
    @pytest.fixture
    def store(self, tmp_path: Path) -> Iterator[Store]:
        with sqlite.create(tmp_path / "harbour.planish", fair="harbour", epoch="e1") as store:
            yield store

    def test_a_rebuild_of_what_is_derived_equals_the_live_keys(self, store: sqlite.SqliteLedger) -> None:
        desk = begin(store, "t1")
        send(store, desk.make("device.revoked", "t1", "office", {"how": "lost"}))
        offer = Device("t1").make("ballot.locked", "o1", "mo", {"round": 1, "ballot": {}})
        send(store, offer, desk.make("held.released", parse(offer.raw).id, "cy", {}))
        live = store.standing()
        store.rebuild()
        assert store.standing() == live
        assert live["ballots:o1:1"] == "1"

    def test_requests_from_many_threads_are_numbered_without_a_hole(self, store: sqlite.SqliteLedger) -> None:
        begin(store, *(f"t{n}" for n in range(8)))
        before = store.head().n

        def hand_in(dev: str) -> None:
            tablet = Device(dev)
            for _ in range(40):
                send(store, tablet.make("observation.made", "o1", "mo", {"kind": "wear"}))

        threads = [threading.Thread(target=hand_in, args=(f"t{n}",)) for n in range(8)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        assert store.head().n == before + 320
        assert verify(store) == ()


@pytest.mark.database
class TestPostgres(Promise):
    @pytest.fixture
    def store(self, conninfo: str) -> Iterator[Store]:
        from planish.ledger import postgres

        schema = f"fair_{next(SCHEMAS)}"
        with postgres.create(conninfo, schema=schema, fair="harbour", epoch="e1") as store:
            yield store

    def test_a_reader_who_follows_the_numbers_of_four_writers_misses_nothing(self, conninfo: str) -> None:
        from planish.ledger import postgres

        schema = f"fair_{next(SCHEMAS)}"
        with postgres.create(conninfo, schema=schema, fair="harbour", epoch="e1") as store:
            begin(store, *(f"t{n}" for n in range(4)))
            seen, stop = list[int](), threading.Event()

            def follow() -> None:
                with postgres.open_ledger(conninfo, schema=schema) as reader:
                    while not stop.is_set() or reader.head().n > len(seen):
                        seen.extend(entry.n for entry in reader.entries(after=len(seen)))

            def hand_in(dev: str) -> None:
                tablet = Device(dev)
                with postgres.open_ledger(conninfo, schema=schema) as writer:
                    for _ in range(30):
                        send(writer, tablet.make("observation.made", "o1", "mo", {"kind": "wear"}))

            follower = threading.Thread(target=follow)
            writers = [threading.Thread(target=hand_in, args=(f"t{n}",)) for n in range(4)]
            for thread in (follower, *writers):
                thread.start()
            for thread in writers:
                thread.join()
            stop.set()
            follower.join()
            assert seen == [*range(1, store.head().n + 1)]
            assert verify(store) == ()


def test_sqlite_and_memory_write_the_same_log(tmp_path: Path) -> None:
    kept = memory.MemoryStore(fair="harbour", epoch="e1")
    begin(kept)
    with sqlite.create(tmp_path / "a.planish", fair="harbour", epoch="e1") as store:
        begin(store)
        assert [*store.entries()] == [*kept.entries()]
        assert store.standing() == kept.standing()
