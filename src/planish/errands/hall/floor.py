"""The floor as the desk serves it: pairing, PINs, revoking, taking in what tablets push, and the desk's own past.

    floor = Floor(desk)
    floor.say_yes(pairing, by=..., person=...)     a tablet is paired; the log says so
    floor.push(tablet, events, epoch)              one result per event, durable before it returns
    floor.rewound(tablet, n)                       a tablet knows more than this desk: a new epoch, `desk.restored`

Rights are judged by the log when it takes an event, never when a form was fetched.
"""

import asyncio
import secrets
import threading
import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from planish.errands.hall.blobs import Blobs
from planish.errands.hall.desk_key import DeskKey
from planish.errands.hall.pairing import Asking, Pairing
from planish.errands.hall.tablets import Tablet, Tablets
from planish.errands.hall.watching import ClockWatch
from planish.errands.opening.refusing import Refused, refuse
from planish.errands.opening.serving import Desk
from planish.errands.opening.wiring import OFFICE
from planish.errands.record import backing, redacting
from planish.ledger import chain
from planish.ledger.journal import Draft
from planish.ledger.signatures import public_key
from planish.ledger.sqlite import SqliteLedger
from planish.ledger.store import Head, Offer, Result

PROTO = 2
SPEAKS = (2, 1)
"""Protocols spoken: the newest and the one before it. The second adds to a pull which texts were deleted."""
SAFE_EVERY_S = 2.0
"""So often, at most, the desk looks whether another process made a backup."""
WINDOW_MS, MOST_IN_WINDOW = 60_000, 20_000
"""Quota of a device: so many events in so long (house default; a day's work of one tablet is some hundreds)."""
MOST_BYTES_IN_WINDOW = 256 * 1_048_576
"""Quota of a device for pictures in the same time (house default): over sixty large photographs a minute."""
MOST_IN_FILE_AT_ONCE = 200
"""Events of a file that are recorded in one transaction."""
MOST_AT_ONCE = 20
"""Events that are read and checked on the spot; longer pushes go to a thread, so that nobody waits for them."""
REWIND_EVERY_MS = 10 * 60 * 1000
"""One tablet makes the desk begin a new epoch at most this often; a tablet out of its mind cannot keep the hall busy."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pushed:
    """What came of a push: one result per event, and the head after it."""

    results: tuple[Result, ...]
    head: Head
    safe_n: int


class TooMuch(Exception):
    """A device hands in more than its quota; `seconds` until the next is taken."""

    def __init__(self, seconds: int) -> None:
        super().__init__(f"{seconds} seconds to wait")
        self.seconds = seconds


class Floor:
    """Everything one desk process holds for its tablets."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self.key = DeskKey(desk.folder)
        self.tablets = Tablets(desk.folder, now=desk.now)
        self.blobs = Blobs(desk.folder)
        self.pairing = Pairing(desk_key=self.key.public, now=desk.now)
        self._lock = threading.RLock()
        self._rewound: dict[str, int] = {}
        self._counts: dict[str, tuple[int, int]] = {}
        self._looked_s = -SAFE_EVERY_S
        self.reconcile()
        self.watch = ClockWatch(self.clock_jumped)

    def close(self) -> None:
        """Let go of the file."""
        self.watch.stop()
        self.tablets.close()

    def clock_jumped(self, ms: int) -> None:
        """The desk's clock moved against its steady counter: an entry says so; no order hangs on the clock."""
        self.desk.fair.record([Draft(kind="clock.jump", sub="desk", who=OFFICE, body={"ms": ms})])

    @property
    def fair(self) -> str:
        """The fair's id in the log."""
        return self.desk.fair.journal.store.fair

    # -- pairing ----------------------------------------------------------------------------------------------------

    def ask(
        self,
        code: str,
        *,
        key: str,
        nonce: str,
        name: str,
        again: str,
        checks: Mapping[str, object],
        client: str,
    ) -> Asking:
        """A tablet gives a code back. Wrong codes are counted against the client, which then waits."""
        if key and public_key(key) is None:
            raise refuse("key", "It is no P-256 key.", "Load the page again and repeat.", code="pair.key")
        accounts = self.desk.accounts
        accounts.must_wait(client)
        asked = self.pairing.ask(code, key=key, nonce=nonce, name=name, again=again, checks=checks)
        accounts.guess(client, asked is not None)
        if asked is None:
            raise refuse(
                "code",
                "This code opens nothing: it is not the one on the desk's screen, was used, or is older than ten minutes.",
                "Ask the desk for a new code.",
                code="pair.code",
            )
        return asked

    def say_yes(self, pairing: str, *, by: str, person: str, name: str = "") -> str:
        """The words agree: pair the tablet for `person`; gives the device's id. Refuses when nobody waits there."""
        with self._lock:
            asking = next((one for one in self.pairing.waiting() if one.id == pairing), None)
            if asking is None:
                raise _nobody_waits()
            self._person(person)
            dev = self._device_for(asking)
            label = name or asking.name or dev
            body = {"person": person, "label": label, **({"key": asking.key} if asking.key else {})}
            self.desk.fair.record([Draft(kind="device.paired", sub=dev, who=by, body=body)])
            token = self.tablets.add(dev, name=label, key=asking.key, checks=asking.checks)
            self.tablets.name_person(dev, person)
            self.pairing.answer(pairing, state="yes", dev=dev, person=person, token=token)
        return dev

    def say_no(self, pairing: str) -> None:
        """The words differ, or nobody knows this tablet."""
        if self.pairing.answer(pairing, state="no") is None:
            raise _nobody_waits()

    def _person(self, person: str) -> None:
        known = self.desk.fair.state.people.get(person)
        if known is None or not known.roles:
            raise refuse(
                "person",
                "Nobody of this fair has that id.",
                "Choose from the list of people.",
                code="person.unknown",
            )

    def _device_for(self, asking: Asking) -> str:
        known = self.desk.fair.state.devices
        if asking.again and known.get(asking.again, "desk") != "desk":
            return asking.again
        number = 1 + sum(1 for dev in known if dev.startswith("tablet-"))
        while f"tablet-{number}" in known:
            number += 1
        return f"tablet-{number}"

    def share(self, dev: str, person: str, *, by: str) -> None:
        """Let another person set a PIN on a tablet, or the same one a new PIN."""
        self._in_use(dev)
        self._person(person)
        if person not in self.desk.fair.state.shared.get(dev, ()):
            self.desk.fair.record([Draft(kind="device.shared", sub=dev, who=by, body={"person": person})])
        self.tablets.name_person(dev, person)

    def revoke(self, dev: str, how: str, *, by: str) -> None:
        """Lost and retired tablets hand in, then wipe; a stolen one is taken from and told nothing."""
        self._in_use(dev)
        self.desk.fair.record([Draft(kind="device.revoked", sub=dev, who=by, body={"how": how})])
        self.desk.accounts.end_digests(self.tablets.revoke(dev, how))

    def _in_use(self, dev: str) -> None:
        if self.desk.fair.state.devices.get(dev) != "paired":
            raise refuse(
                f"device {dev}",
                "No tablet in use has this name.",
                "Look at the list of tablets.",
                code="device.unknown",
            )

    # -- unlocking --------------------------------------------------------------------------------------------------

    def unlock(self, tablet: Tablet, person: str, pin: str) -> str:
        """A session of `person` on this tablet; gives its token. After five wrong PINs the tablet waits."""
        accounts, client = self.desk.accounts, f"device:{tablet.dev}"
        accounts.must_wait(client)
        fits = self.tablets.pin_fits(tablet.dev, person, pin)
        accounts.guess(client, fits)
        if not fits:
            raise refuse(
                "PIN",
                "Person and PIN do not belong together on this tablet.",
                "Try again, or ask the steward to let you set a new one.",
                code="pin.wrong",
            )
        token = accounts.begin(person)
        self.tablets.bind(token, tablet.dev, person)
        return token

    # -- pushing ----------------------------------------------------------------------------------------------------

    def push(self, tablet: Tablet, offers: Sequence[Offer], *, epoch: str) -> Pushed:
        """Record what a tablet hands in; the offers name it as `by`."""
        store = self.desk.fair.journal.store
        self._within_quota(tablet.dev, len(offers), MOST_IN_WINDOW)
        results = store.append(offers, recv_ms=self.desk.now(), epoch=epoch) if offers else []
        return self._taken_in(tablet, results)

    async def push_soon(self, tablet: Tablet, offers: Sequence[Offer], *, epoch: str) -> Pushed:
        """As `push`, without a thread that waits: the hall's pushes meet in one transaction."""
        store = self.desk.fair.journal.store
        if len(offers) > MOST_AT_ONCE or not isinstance(store, SqliteLedger):
            return await asyncio.to_thread(self.push, tablet, offers, epoch=epoch)
        self._within_quota(tablet.dev, len(offers), MOST_IN_WINDOW)
        results: list[Result] = []
        if offers:
            later = store.append_later(offers, recv_ms=self.desk.now(), epoch=epoch)
            results = await asyncio.wrap_future(later)
        return self._taken_in(tablet, results)

    def _taken_in(self, tablet: Tablet, results: Sequence[Result]) -> Pushed:
        if results:
            self.desk.fair.changed()
        clashes = [result for result in results if result.status == "clash"]
        if clashes:
            self.tablets.alarm(tablet.dev, "clash", f"{tablet.name}: {clashes[0].why}")
        store = self.desk.fair.journal.store
        return Pushed(results=tuple(results), head=store.head(), safe_n=store.safe_n)

    def take_file(self, dev: str, offers: Sequence[Offer], *, by: str, chair: bool) -> list[Result]:
        """Record what a tablet saved as a file, brought to the desk by hand; gives one result per event read.

        A tablet's signature shows that the file is its own. Without one anybody could have written the file: then the
        chair or deputy must take it in, and answers for it. Events that are here already change nothing.
        """
        fair = self.desk.fair
        if fair.state.devices.get(dev, "desk") == "desk":
            raise refuse(
                "file",
                f"No tablet {dev!r} was ever paired with this fair.",
                "Take the right file.",
                code="file.dev",
            )
        if not fair.journal.store.look(f"key:{dev}") and not chair:
            raise refuse(
                "file",
                "This tablet does not sign, so the file does not show who wrote it.",
                "Let the chair or the deputy take it in.",
                code="file.unsigned",
                kind="rule",
            )
        results: list[Result] = []
        for at in range(0, len(offers), MOST_IN_FILE_AT_ONCE):
            batch = offers[at : at + MOST_IN_FILE_AT_ONCE]
            results += fair.journal.store.append(batch, recv_ms=self.desk.now())
        fair.changed()
        fresh = sum(one.stored and one.status != "have" for one in results)
        self.tablets.alarm(dev, "file", f"{by} took in a file of {dev}: {fresh} entries that were not here.")
        return results

    def bytes_within_quota(self, dev: str, size: int) -> None:
        """Count bytes of pictures against a device's quota."""
        self._within_quota(f"bytes:{dev}", size, MOST_BYTES_IN_WINDOW)

    def _within_quota(self, what: str, more: int, most: int) -> None:
        with self._lock:
            now = self.desk.now()
            since, count = self._counts.get(what, (now, 0))
            if not 0 <= now - since < WINDOW_MS:
                since, count = now, 0
            if count + more > most:
                raise TooMuch(max(1, (since + WINDOW_MS - now) // 1000))
            self._counts[what] = (since, count + more)

    def safe_n(self) -> int:
        """The newest entry in a verified backup on a second medium, whoever made it: the third tick of tablets."""
        with self._lock:
            due = time.monotonic() - self._looked_s >= SAFE_EVERY_S
            if due:
                self._looked_s = time.monotonic()
        return backing.safe_n(self.desk.fair) if due else self.desk.fair.journal.store.safe_n

    def deleted_of(self, dev: str) -> list[tuple[str, str]]:
        """Texts of this device's own events that were deleted, ever: event id and field ("" for all)."""
        store = self.desk.fair.journal.store
        try:
            lines = backing.deletion_lines(self.desk.folder)
        except Refused:  # the desk's own page on safe-keeping says so; a tablet's pull goes on
            return []
        named = [(id_, line["path"]) for line in lines.values() for id_ in line["ids"]]
        entries = ((id_, path, store.entry_of(id_)) for id_, path in named)
        return [(id_, path) for id_, path, entry in entries if entry is not None and entry.event.dev == dev]

    # -- the desk's own past ----------------------------------------------------------------------------------------

    def agrees(self, n: int, digest: str) -> bool:
        """True when the chain's hash at entry `n` is `digest` (hex)."""
        store = self.desk.fair.journal.store
        head = store.head()
        if n == head.n:
            return head.hash.hex() == digest
        if n == 0:
            return digest in ("", chain.genesis(store.fair).hex())
        if n > head.n:
            return False
        return next(store.entries(n - 1)).hash.hex() == digest

    def rewound(self, tablet: Tablet, n: int) -> None:
        """A tablet's cursor contradicts this log: it went back in time, or was rewritten. Begin a new epoch, say so.

        Every tablet then drops its copies and hands in again all that this desk has not.
        """
        fair, now = self.desk.fair, self.desk.now()
        with self._lock, fair.lock:
            if now - self._rewound.get(tablet.dev, -REWIND_EVERY_MS) < REWIND_EVERY_MS:
                return
            self._rewound[tablet.dev] = now
            store = fair.journal.store
            was, head = store.head().epoch, store.head().n
            fresh = secrets.token_hex(8)
            store.renew(fresh)
            if n > head:
                words = f"{tablet.name} knows entry {n}; this desk ends at {head}. It was set back to an older state."
            else:
                words = f"{tablet.name} remembers entry {n} otherwise: this log was rewritten, or is another copy."
            body = {"was": was, "now": fresh, "n": head, "note": words}
            fair.record([Draft(kind="desk.restored", sub=fair.state.id, who=OFFICE, body=body)])
            if redacting.repeat(fair.journal, backing.deletion_lines(self.desk.folder)):
                fair.forget()
            self.tablets.alarm(tablet.dev, "restored", words)
        self.reconcile()

    def reconcile(self) -> None:
        """After a restore the log may not know a tablet, or not that it was revoked: write both again."""
        fair = self.desk.fair
        with self._lock, fair.lock:
            known, drafts = fair.state.devices, []
            for tablet in self.tablets.all():
                if tablet.dev not in known:
                    people = [*self.tablets.people(tablet.dev)] or [""]
                    body = {"label": tablet.name, **({"key": tablet.key} if tablet.key else {})}
                    body |= {"person": people[0]} if people[0] else {}
                    drafts.append(Draft(kind="device.paired", sub=tablet.dev, who=OFFICE, body=body))
                shared = fair.state.shared.get(tablet.dev, ())
                for person in self.tablets.people(tablet.dev):
                    if person not in shared:
                        body = {"person": person}
                        drafts.append(Draft(kind="device.shared", sub=tablet.dev, who=OFFICE, body=body))
                if tablet.how and known.get(tablet.dev, "paired") == "paired":
                    body = {"how": tablet.how}
                    drafts.append(Draft(kind="device.revoked", sub=tablet.dev, who=OFFICE, body=body))
            if drafts:
                fair.record(drafts)


def _nobody_waits() -> Exception:
    return refuse(
        "pairing",
        "No tablet waits here any more.",
        "Make a new code and start again.",
        code="pair.gone",
        kind="rule",
    )
