"""A hall: a desk in a process of its own that can be killed, restored and started again, a line to it, and a small fair."""

import os
import shutil
import signal
import socket
import subprocess
import sys
import time
from pathlib import Path
from typing import Any, Literal

import httpx

from planish.ledger import sqlite
from tests.browser.conftest import code_of, listens
from tests.browser.fairs import PASS
from tests.floor.line import Line

API = "/api/v1"
MEMBERS = {"ben": "Ben Arkle", "cleo": "Cleo Marsh", "dora": "Dora Finn", "gil": "Gil Oram"}
LABELS = (
    "Pewter plate with a reeded rim, English, c.1740. Diameter 24 cm",
    "Bronze mortar, English, dated 1650. Height 12 cm",
    "Brass candlestick, English, George I, 1911. Height 20 cm",
    "Electroplate teapot, English, silver, c.1880. Height 15 cm",
    "Copper kettle, English, c.1700-1850. Height 28 cm",
    "Pair of brass candlesticks with seamless tube stems, English, c.1780. Height 22 cm",
    "Cast iron trivet, English, c.1820. Width 18 cm",
    "Steel snuffers, English, c.1760. Length 17 cm",
)


def listing(count: int, first: int = 1) -> str:
    """A stand list with `count` objects."""
    rows = [f'{first + n},"{LABELS[n % len(LABELS)]}",{100 + n}' for n in range(count)]
    return "No,Description,Price\n" + "\n".join(rows) + "\n"


class Hall:
    """One fair, its desk, the line to it, the chair's hands on the desk."""

    def __init__(
        self,
        folder: Path,
        *,
        objects: int = 6,
        stands: tuple[str, ...] = ("7", "8", "9", "10", "11", "12"),
        like: Path | None = None,
        names: tuple[str, ...] = (),
        tls: tuple[Path, Path] | Literal["fair"] | None = None,
    ) -> None:
        self.folder, self.names, self.tls = folder, names, tls
        if like is not None:
            shutil.copytree(like, folder)
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = int(free.getsockname()[1])
        self.process: subprocess.Popen[str] | None = None
        self.start()
        self.line = Line(self.port)
        self.home = f"http://127.0.0.1:{self.line.port}"
        self.desk = httpx.Client(
            base_url=f"{'https' if tls else 'http'}://127.0.0.1:{self.port}{API}",
            verify=False,  # the chair sits at the desk itself; the tablets verify
            headers={"Sec-Fetch-Site": "same-origin"},
            timeout=30,
        )
        if like is None:
            self._prepare(objects, stands)
        else:
            self.sign_in()

    def start(self) -> None:
        """Start the desk, as the chair would."""
        command = [
            sys.executable,
            "-m",
            "planish",
            "serve",
            "--fair",
            str(self.folder),
            "--port",
            str(self.port),
            *(part for name in self.names for part in ("--allow-host", name)),
            *self._tls(),
        ]
        environment = {**os.environ, "PYTHONUNBUFFERED": "1", "OMP_NUM_THREADS": "1"}
        environment.pop("PLANISH_FAIR", None)
        self.process = subprocess.Popen(
            command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True, env=environment
        )
        if not (self.folder / "ledger.db").exists():
            self.code = code_of(self.process)
        assert any(listens(self.port) for _ in range(6)), "the desk does not start"

    def _tls(self) -> tuple[str, ...]:
        if self.tls is None:
            return ()
        if self.tls == "fair":
            return ("--tls", "fair", "--help-port", "0")
        return ("--cert", str(self.tls[0]), "--key", str(self.tls[1]))

    def keeper(self, *command: str, **environment: str) -> str:
        """What a keeper types in a terminal beside the desk; gives what it answers."""
        plain = {name: value for name, value in os.environ.items() if not name.startswith("PLANISH")}
        done = subprocess.run(
            [sys.executable, "-m", "planish", *command],
            env={**plain, **environment},
            capture_output=True,
            text=True,
        )
        assert done.returncode == 0, f"{command}: {done.stdout}{done.stderr}"
        return done.stdout

    def kill(self) -> None:
        """kill -9."""
        assert self.process is not None
        self.process.send_signal(signal.SIGKILL)
        self.process.wait(timeout=20)

    def copy_to(self, place: Path) -> None:
        """Keep the folder as it lies, the desk at rest."""
        shutil.copytree(self.folder, place)

    def close(self) -> None:
        """End everything."""
        self.line.close()
        self.desk.close()
        if self.process is not None:
            self.process.terminate()
            self.process.wait(timeout=20)

    # -- the chair at the desk ------------------------------------------------------------------------------------

    def post(self, path: str, body: dict[str, Any] | None = None) -> Any:
        """Ask the desk to do something; it must."""
        said = self.desk.post(path, json=body or {})
        assert said.is_success, f"{path}: {said.status_code} {said.text}"
        return said.json() if said.content else None

    def get(self, path: str) -> Any:
        """Ask the desk."""
        said = self.desk.get(path)
        assert said.is_success, f"{path}: {said.status_code} {said.text}"
        return said.json()

    def sign_in(self) -> None:
        """The chair signs in (again, after the desk was restarted)."""
        self.post("/session", {"person": "ada", "passphrase": PASS})

    def _prepare(self, objects: int, stands: tuple[str, ...]) -> None:
        fair = {"code": self.code, "rules": "saltmere", "name": "Little Marsh Fair", "passphrase": PASS}
        self.post("/setup", {**fair, "chair": "ada", "chair_name": "Ada Pell"})
        for short, name in MEMBERS.items():
            roles = ["leader", "member"] if short == "ben" else ["member"]
            self.post(
                "/people", {"id": short, "name": name, "roles": roles, "disciplines": ["metalware", "pewter"]}
            )
        said = self.desk.put("/panels/metal", json={"members": list(MEMBERS), "leader": "ben"})
        assert said.is_success, said.text
        for stand in stands:
            self.post(
                "/stands", {"id": stand, "number": stand, "exhibitor": f"Rushlight and Daughter, {stand}"}
            )
            self.take(stand, listing(objects))

    def take(self, stand: str, content: str) -> None:
        """Take a stand list in."""
        bytes_ = {"Content-Type": "application/octet-stream"}
        sent = self.desk.post(
            f"/stands/{stand}/lists", params={"name": "list.csv"}, content=content.encode(), headers=bytes_
        )
        assert sent.is_success, sent.text
        at = f"/intakes/{sent.json()['id']}"
        for wanted in ("ready", "taken"):
            for _ in range(400):
                now = self.get(at)["state"]
                if now == wanted:
                    break
                time.sleep(0.05)
            if wanted == "ready":
                self.post(f"{at}/take")

    # -- the log as it lies ---------------------------------------------------------------------------------------

    def entries(self, dev: str = "") -> list[dict[str, Any]]:
        """The log's entries (of one device) read from the file itself, by number."""
        store = sqlite.read_ledger(self.folder / "ledger.db")
        try:
            all_ = list(store.entries(after=0))
        finally:
            store.close()
        names = ("seq", "id", "kind", "sub", "who", "dev")
        return [
            {"n": one.n, "status": one.status, **{name: getattr(one.event, name) for name in names}}
            for one in all_
            if not dev or one.event.dev == dev
        ]
