"""A hall for measuring: a sample fair in a folder, its desk as a process of its own, and tablets that are paired with it."""

import os
import signal
import socket
import subprocess
import sys
import time
from pathlib import Path

from tests.sync.tablets import Tablet, spki

from planish.errands.hall.floor import Floor
from planish.errands.opening import wiring
from planish.errands.opening.serving import Desk
from planish.ledger.journal import Draft

PERSON = "member"


def lay_out(folder: Path, objects: int = 200) -> str:
    """A fair with one member, one leader and some objects; gives the fair's id."""
    fair = wiring.begin(folder, "saltmere")
    drafts = [Draft(kind="stand.added", sub="7", who="office", body={"number": "7", "exhibitor": "Stand 7"})]
    for person, roles in ((PERSON, ("member",)), ("leader", ("leader", "member")), ("chair", ("chair",))):
        drafts.append(Draft(kind="person.added", sub=person, who="office", body={"name": f"The {person}"}))
        drafts += [Draft(kind="role.given", sub=person, who="office", body={"role": role}) for role in roles]
    panel = {"members": [PERSON, "leader"], "leader": "leader"}
    drafts.append(Draft(kind="panel.formed", sub="metal", who="office", body=panel))
    for number in range(1, objects + 1):
        body = {"stand": "7", "number": str(number), "text": f"Pewter plate no. {number}, c. 1720"}
        drafts.append(Draft(kind="object.listed", sub=f"7-{number:03}", who="office", body=body))
    fair.record(drafts)
    name = fair.journal.store.fair
    fair.close()
    return name


def pair_many(folder: Path, count: int, *, sign: bool, person: str = PERSON, pin: str = "") -> list[Tablet]:
    """Paired tablets, with the cookie each would have; the desk must not be running."""
    from cryptography.hazmat.primitives.asymmetric.ec import SECP256R1, generate_private_key

    desk = Desk(folder)
    floor, made = Floor(desk), []
    epoch, fair = desk.fair.journal.store.head().epoch, desk.fair.journal.store.fair
    for _ in range(count):
        key = generate_private_key(SECP256R1()) if sign else None
        code = floor.pairing.new_code("chair")
        asked = floor.pairing.ask(
            code.long, key=spki(key) if key else "", nonce="0" * 64, name="", again="", checks={}
        )
        assert asked is not None
        dev = floor.say_yes(asked.id, by="chair", person=person)
        known = floor.pairing.of(asked.id, asked.secret)
        assert known is not None
        if pin:
            floor.tablets.set_pin(dev, person, pin)
        made.append(Tablet(known.token, fair=fair, dev=dev, who=person, key=key, epoch=epoch))
    floor.close()
    desk.close()
    return made


def free_port() -> int:
    """A port nobody uses now."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


class DeskProcess:
    """`planish serve` as a process, to be killed and started again."""

    def __init__(self, folder: Path, port: int) -> None:
        self.folder, self.port = folder, port
        self._process: subprocess.Popen[bytes] | None = None

    def start(self, wait_s: float = 60.0) -> None:
        """Start and wait until it answers."""
        command = [
            sys.executable,
            "-m",
            "planish",
            "serve",
            "--fair",
            str(self.folder),
            "--port",
            str(self.port),
        ]
        quiet = {key: value for key, value in os.environ.items() if key != "PLANISH_FAIR"}
        self._process = subprocess.Popen(
            command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, env=quiet
        )
        until = time.monotonic() + wait_s
        while time.monotonic() < until:
            try:
                with socket.create_connection(("127.0.0.1", self.port), timeout=1):
                    return
            except OSError:
                time.sleep(0.1)
        raise RuntimeError("the desk never answered")

    def cpu_s(self) -> float:
        """Seconds of processor time the desk has used so far (Linux)."""
        assert self._process is not None
        fields = Path(f"/proc/{self._process.pid}/stat").read_text().rpartition(")")[2].split()
        return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")

    def kill(self) -> None:
        """kill -9: no goodbye."""
        if self._process is not None:
            self._process.send_signal(signal.SIGKILL)
            self._process.wait()
            self._process = None

    def stop(self) -> None:
        """End it in order."""
        if self._process is not None:
            self._process.terminate()
            self._process.wait(timeout=30)
            self._process = None
