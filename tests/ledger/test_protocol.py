"""The push protocol as a state machine: tablets, a bad line, a desk that crashes and is restored, and planted mistakes.

The machine must stay green with the real desk and go red with each mistake of `MISTAKES`; a machine that lets a
planted mistake pass tests nothing.
"""

import copy
import itertools
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule, run_state_machine_as_test

from planish.ledger import accepting
from planish.ledger.events import parse
from planish.ledger.judging import Judgement
from planish.ledger.memory import MemoryStore
from planish.ledger.store import DeviceHead, Offer, Result
from planish.ledger.verifying import verify
from tests.ledger.desks import NOW, Device, begin

TABLETS = ("t1", "t2", "t3")
RUNS = settings(
    max_examples=400,
    stateful_step_count=25,
    deadline=None,
    database=None,
    derandomize=True,
    phases=(Phase.generate,),
    suppress_health_check=list(HealthCheck),
)
HUNT = settings(RUNS, max_examples=1500, derandomize=True)
"""The same search every time, long enough to meet every planted mistake: a hunt must not depend on luck."""


class Desk:
    """The real desk; each mistake overrides one thing."""

    def __init__(self) -> None:
        self.epochs = itertools.count(2)
        self.store = MemoryStore(fair="harbour", epoch="e1")
        self.officer = begin(self.store, *TABLETS)
        self.disk = copy.deepcopy(self.store)
        self.copy = copy.deepcopy(self.store)

    def push(self, epoch: str, offers: list[Offer]) -> list[Result]:
        results = self.store.append(offers, recv_ms=NOW, epoch=epoch)
        self.sync()
        return results

    def sync(self) -> None:
        self.disk = copy.deepcopy(self.store)

    def crash(self) -> None:
        """Only what was synced comes back."""
        self.store = copy.deepcopy(self.disk)

    def back_up(self) -> None:
        self.copy = copy.deepcopy(self.store)
        self.store.keep_safe(self.store.head().n)

    def restore(self) -> None:
        self.store = copy.deepcopy(self.copy)
        self.store.renew(f"e{next(self.epochs)}")
        self.sync()

    def pull(self, after: int, reader: str) -> list[tuple[int, str | None]]:
        """Number and words of each entry; a ballot's entry is a stub to everybody but its author."""
        return [(entry.n, self.words(entry, reader)) for entry in self.store.entries(after)]

    def words(self, entry: Any, reader: str) -> str | None:
        event = entry.event
        hidden = event.name == "ballot.locked" and event.who != reader
        return None if hidden else str([opening.value for opening in entry.openings.values()])


class Tablet(Device):
    """Keeps its own events until they are safe; sends from the first that was not acknowledged."""

    def __init__(self, dev: str) -> None:
        super().__init__(dev)
        self.acked = 0
        self.epoch = "e1"
        self.cursor = 0
        self.seen: list[int] = []
        self.told: dict[str, str] = {}

    def queue(self) -> list[Offer]:
        return self.made[self.acked :]

    def hear(self, sent: list[Offer], results: list[Result]) -> None:
        for offer, result in zip(sent, results, strict=True):
            if result.status == "epoch":
                self.epoch, self.acked, self.cursor, self.seen = (
                    result.epoch,
                    min(self.acked, result.last),
                    0,
                    [],
                )
                self.told.clear()
                return
            if result.status == "gap":
                self.acked = min(self.acked, result.last)
                return
            assert result.stored, result
            seq = parse(offer.raw).seq
            self.acked = max(self.acked, seq)
            self.told[result.id] = "ok" if result.applied else result.status


class NoDedupe(Desk):
    """Forgets that it has an event when it comes again."""

    def push(self, epoch: str, offers: list[Offer]) -> list[Result]:
        results = []
        for offer in offers:
            event = parse(offer.raw)
            if self.store.raw_of(event.id) is not None:
                head = self.store.head()
                last = [*self.store.entries()][-1]
                self.store.write(replace(last, n=head.n + 1, raw=offer.raw))
                results.append(Result(status="ok", n=head.n + 1, id=event.id))
            else:
                results += self.store.append([offer], recv_ms=NOW, epoch=epoch)
        self.sync()
        return results


class AcceptsGaps(Desk):
    """Takes a later number without the earlier one."""

    def push(self, epoch: str, offers: list[Offer]) -> list[Result]:
        for offer in offers:
            event = parse(offer.raw)
            if event.seq > self.store.last_of(event.dev).seq + 1:
                self.store._last[event.dev] = DeviceHead(seq=event.seq - 1, digest=event.dprev)
        return super().push(epoch, offers)


class LastWriterWins(Desk):
    """Applies a change whatever its writer had seen."""

    def push(self, epoch: str, offers: list[Offer]) -> list[Result]:
        honest = accepting.judge

        def always(event: Any, look: Any) -> Judgement:
            judged = honest(event, look)
            return Judgement(status="ok") if judged.status == "stale" else judged

        accepting.judge = always
        try:
            return super().push(epoch, offers)
        finally:
            accepting.judge = honest


class AcknowledgesBeforeCommit(Desk):
    """Answers first and syncs later."""

    def sync(self) -> None:
        pass


class NoEpoch(Desk):
    """Comes back from a backup as if nothing had been."""

    def restore(self) -> None:
        self.store = copy.deepcopy(self.copy)
        self.sync()


class Leaks(Desk):
    """Shows a ballot to everybody."""

    def words(self, entry: Any, _: str) -> str | None:
        return super().words(entry, entry.event.who)


class SkipsHidden(Desk):
    """Leaves hidden entries out instead of sending stubs."""

    def pull(self, after: int, reader: str) -> list[tuple[int, str | None]]:
        return [pair for pair in super().pull(after, reader) if pair[1] is not None]


class DropsLosers(Desk):
    """Says stale and keeps nothing."""

    def push(self, epoch: str, offers: list[Offer]) -> list[Result]:
        results = []
        for offer in offers:
            before = copy.deepcopy(self.store)
            result = self.store.append([offer], recv_ms=NOW, epoch=epoch)[0]
            if result.status == "stale":
                event = parse(offer.raw)
                before._last[event.dev] = self.store.last_of(event.dev)
                self.store = before
            results.append(result)
        self.sync()
        return results


class ClearsWholeBatch(Tablet):
    """Forgets a whole batch when the desk answered at all."""

    def hear(self, sent: list[Offer], results: list[Result]) -> None:
        super().hear(sent, results)
        if results[-1].status == "gap":
            self.acked = parse(sent[-1].raw).seq


class Floor(RuleBasedStateMachine):
    """A floor of three tablets and one desk; `machine` says which."""

    desk_kind: type[Desk] = Desk
    tablet_kind: type[Tablet] = Tablet

    def __init__(self) -> None:
        super().__init__()
        self.desk = self.desk_kind()
        self.tablets = {name: self.tablet_kind(name) for name in TABLETS}

    @rule(dev=st.sampled_from(TABLETS), kind=st.sampled_from(["see", "vote", "word"]))
    def write(self, dev: str, kind: str) -> None:
        tablet = self.tablets[dev]
        who = {"t1": "mo", "t2": "nan", "t3": "lee"}[dev]
        marker = f"MARK-{who}"
        if kind == "see":
            tablet.make("observation.made", "o1", who, {"kind": "mark", "words": "seen"})
        elif kind == "vote":
            tablet.make("ballot.locked", "o1", who, {"round": 1, "ballot": marker})
        else:
            tablet.make("label.asked", "o1", who, {"version": 2, "text": f"words of {who}"}, base="")

    @rule(dev=st.sampled_from(TABLETS), heard=st.booleans(), doubled=st.booleans(), size=st.integers(1, 3))
    def hand_in(self, dev: str, heard: bool, doubled: bool, size: int) -> None:
        tablet = self.tablets[dev]
        sent = tablet.queue()[:size]
        if not sent:
            return
        results = self.desk.push(tablet.epoch, sent)
        if doubled:
            results = self.desk.push(tablet.epoch, sent)
        if heard:
            tablet.hear(sent, results)

    @rule(dev=st.sampled_from(TABLETS), skip=st.integers(1, 2))
    def hand_in_out_of_order(self, dev: str, skip: int) -> None:
        tablet = self.tablets[dev]
        sent = tablet.queue()[skip:]
        if sent:
            tablet.hear(sent, self.desk.push(tablet.epoch, sent))

    @rule(dev=st.sampled_from(TABLETS))
    def an_old_packet_comes_late(self, dev: str) -> None:
        tablet = self.tablets[dev]
        if tablet.acked and tablet.epoch == self.desk.store.head().epoch:
            self.desk.push(tablet.epoch, tablet.made[:1])

    @rule()
    def crash(self) -> None:
        self.desk.crash()

    @rule()
    def back_up(self) -> None:
        self.desk.back_up()

    @rule()
    def restore(self) -> None:
        self.desk.restore()

    @rule(dev=st.sampled_from(TABLETS))
    def pull(self, dev: str) -> None:
        tablet = self.tablets[dev]
        if tablet.epoch != self.desk.store.head().epoch:
            tablet.epoch, tablet.cursor, tablet.seen = self.desk.store.head().epoch, 0, []
            tablet.acked = min(tablet.acked, self.desk.store.last_of(dev).seq)
        who = {"t1": "mo", "t2": "nan", "t3": "lee"}[dev]
        for n, words in self.desk.pull(tablet.cursor, who):
            others = {f"MARK-{name}" for name in ("mo", "nan", "lee") if name != who}
            assert not any(marker in (words or "") for marker in others), (
                "a ballot was shown to somebody else"
            )
            tablet.seen.append(n)
            tablet.cursor = n
        assert tablet.seen == [*range(1, tablet.cursor + 1)], "an entry was passed over"
        assert tablet.cursor == self.desk.store.head().n, "the newest entries were passed over"

    @invariant()
    def every_id_stands_once_and_in_its_devices_order(self) -> None:
        events = [entry.event for entry in self.desk.store.entries()]
        assert len({event.id for event in events}) == len(events)
        for dev in TABLETS:
            numbers = [event.seq for event in events if event.dev == dev]
            assert numbers == [*range(1, len(numbers) + 1)]

    @invariant()
    def what_was_acknowledged_in_this_epoch_is_there(self) -> None:
        there = {entry.event.id for entry in self.desk.store.entries()}
        for tablet in self.tablets.values():
            if tablet.epoch == self.desk.store.head().epoch:
                assert {parse(offer.raw).id for offer in tablet.made[: tablet.acked]} <= there

    @invariant()
    def of_those_who_saw_the_same_words_one_changes_them(self) -> None:
        asked = [e for e in self.desk.store.entries() if e.event.name == "label.asked" and e.status == "ok"]
        assert len(asked) <= 1

    def teardown(self) -> None:
        """The line comes back: everybody hands in all they have, and the log holds all that was made."""
        for tablet in self.tablets.values():
            for _ in range(4 * len(tablet.made) + 4):
                if tablet.queue():
                    sent = tablet.queue()[:3]
                    tablet.hear(sent, self.desk.push(tablet.epoch, sent))
        there = {entry.event.id for entry in self.desk.store.entries()}
        current = self.desk.store.head().epoch
        for tablet in self.tablets.values():
            if tablet.epoch == current:
                assert {parse(offer.raw).id for offer in tablet.made} <= there, "something made is not there"
        assert [problem.code for problem in verify(self.desk.store)] == []


def machine(desk: type[Desk], tablet: type[Tablet] = Tablet) -> type[Floor]:
    """The state machine for one desk and one sort of tablet."""
    return type("Floor", (Floor,), {"desk_kind": desk, "tablet_kind": tablet})


MISTAKES = {
    "no dedupe": (NoDedupe, Tablet),
    "accept gaps": (AcceptsGaps, Tablet),
    "last writer wins": (LastWriterWins, Tablet),
    "acknowledge before commit": (AcknowledgesBeforeCommit, Tablet),
    "clear the whole batch": (Desk, ClearsWholeBatch),
    "no epoch": (NoEpoch, Tablet),
    "leak": (Leaks, Tablet),
    "skip hidden": (SkipsHidden, Tablet),
    "drop losers": (DropsLosers, Tablet),
}


def test_the_protocol_holds_under_loss_doubles_reordering_crash_and_restore() -> None:
    run_state_machine_as_test(machine(Desk), settings=settings(RUNS, max_examples=100))


@pytest.mark.parametrize("mistake", MISTAKES)
def test_each_planted_mistake_goes_red(mistake: str) -> None:
    desk, tablet = MISTAKES[mistake]
    with pytest.raises(AssertionError):
        run_state_machine_as_test(machine(desk, tablet), settings=HUNT)
