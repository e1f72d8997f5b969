"""The desk with a large fair: how long a page waits beside an empty reply, how fast events become durable, how much memory.

    python -m bench.web [objects]          40,000 unless said otherwise

The server runs in a process of its own; the meter is a bare socket client, read beside an empty reply of the same
server in the same run. Bare commits are taken on the same disk in turns with what the server takes in.
"""

import http.client
import json
import os
import secrets
import socket
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable
from pathlib import Path

import apsw

from planish.errands.opening import wiring
from planish.errands.people.accounts import Accounts
from planish.ledger.journal import Draft

STANDS, MEMBERS, TURNS, BATCH = 220, 32, 60, 5_000
WORDS = ("Pewter plate", "Brass candlestick", "Copper kettle", "Bronze mortar", "Iron trivet")
API = "/api/v1"


def make(folder: Path, objects: int) -> dict[str, str]:
    """A fair of this many objects; gives a session's token by person."""
    fair = wiring.begin(folder, "saltmere", opens="2026-12-01")
    members = [f"m{n}" for n in range(MEMBERS)]
    drafts = []
    for person, role in (("chair", "chair"), *((one, "member") for one in members)):
        drafts.append(Draft(kind="person.added", sub=person, who="office", body={"name": person}))
        drafts.append(Draft(kind="role.given", sub=person, who="office", body={"role": role}))
    drafts += [
        Draft(
            kind="stand.added", sub=str(n), who="office", body={"number": str(n), "exhibitor": f"Stand {n}"}
        )
        for n in range(1, STANDS + 1)
    ]
    drafts.append(Draft(kind="panel.formed", sub="metal", who="office", body={"members": members}))
    fair.record(drafts)
    for first in range(0, objects, BATCH):
        fair.record([draft for n in range(first, min(first + BATCH, objects)) for draft in listed(n)])
    fair.close()
    accounts = Accounts(folder)
    tokens = {person: accounts.begin(person) for person in ("chair", *members)}
    accounts.close()
    return tokens


def listed(n: int) -> list[Draft]:
    """One object with its label."""
    stand, text = (
        str(n % STANDS + 1),
        f"{WORDS[n % 5]} {n}, English, c.17{n % 90 + 10}. Height {n % 40 + 5} cm",
    )
    sub = f"{stand}-{n // STANDS + 1:03d}"
    body = {"stand": stand, "number": str(n // STANDS + 1), "text": text}
    return [
        Draft(kind="object.listed", sub=sub, who="office", body=body),
        Draft(kind="label.hung", sub=sub, who="office", body={"version": 1, "text": text}),
        Draft(kind="object.routed", sub=sub, who="office", body={"lead": "metalware"}),
    ]


def serve(folder: Path, port: int) -> None:
    """The server, with one more address that answers nothing."""
    import uvicorn
    from fastapi import Response
    from starlette.routing import Route

    from planish.doors.web.app import create_app
    from planish.errands.opening.serving import open_to_serve

    app = create_app(open_to_serve(folder))
    app.router.routes.insert(0, Route("/empty", lambda _: Response()))
    uvicorn.run(app, host="127.0.0.1", port=port, log_level="error")


class Client:
    """One open line to the server."""

    def __init__(self, port: int, token: str) -> None:
        self.line = http.client.HTTPConnection("127.0.0.1", port, timeout=120)
        self.line.connect()
        self.line.sock.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        self.headers = {"Cookie": f"planish={token}", "Origin": f"http://127.0.0.1:{port}"}

    def ask(self, path: str) -> bytes:
        """The answer to a question."""
        self.line.request("GET", path, headers=self.headers)
        answer = self.line.getresponse()
        content = answer.read()
        assert answer.status == 200, (path, answer.status, content[:300])
        return content

    def send(self, path: str, body: object) -> None:
        """Send something that must be taken."""
        headers = {**self.headers, "Content-Type": "application/json"}
        self.line.request("POST", path, json.dumps(body), headers)
        answer = self.line.getresponse()
        content = answer.read()
        assert answer.status == 201, (path, answer.status, content[:300])


def p95(work: Callable[[], object], times: int = TURNS) -> float:
    """The time within which 95 of 100 come back, in ms."""
    took = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        took.append(1000 * (time.perf_counter() - start))
    return sorted(took)[int(0.95 * (times - 1))]


def votes(port: int, tokens: dict[str, str], objects: int, each: int, shelf: int, skip: int) -> float:
    """Ballots a second when all members lock views at once, `shelf` in a request."""

    def member(n: int) -> None:
        client = Client(port, tokens[f"m{n}"])
        for turn in range(each):
            ids = [(skip + turn * shelf + k) % objects for k in range(shelf)]
            given = [{"object": f"{i % STANDS + 1}-{i // STANDS + 1:03d}", "outcome": "accept"} for i in ids]
            client.send(f"{API}/ballots", {"ballots": given})

    threads = [threading.Thread(target=member, args=(n,)) for n in range(MEMBERS)]
    start = time.perf_counter()
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return MEMBERS * each * shelf / (time.perf_counter() - start)


def bare(folder: Path, count: int = 400) -> float:
    """Commits a second of the same database with the same settings, one row each."""
    db = apsw.Connection(str(folder / "bare.db"))
    for setting in ("journal_mode=WAL", "synchronous=FULL"):
        db.execute(f"PRAGMA {setting}").fetchall()
    db.execute("CREATE TABLE IF NOT EXISTS entry (n INTEGER PRIMARY KEY, raw BLOB)")
    start = time.perf_counter()
    for _ in range(count):
        db.execute("INSERT INTO entry (raw) VALUES (?)", (b"x" * 600,))
    took = time.perf_counter() - start
    db.close()
    return count / took


def memory(pid: int) -> int:
    """Resident megabytes of a process."""
    for line in Path(f"/proc/{pid}/status").read_text().splitlines():
        if line.startswith("VmRSS"):
            return int(line.split()[1]) // 1024
    return 0


def cpu_s(pid: int) -> float:
    """Seconds of processor time a process has used so far (Linux)."""
    fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def started(folder: Path, port: int) -> tuple["subprocess.Popen[bytes]", float]:
    """The server, and how many seconds it took to answer."""
    start = time.perf_counter()
    command = [sys.executable, "-m", "bench.web", "--serve", str(folder), str(port)]
    process = subprocess.Popen(command, env={**os.environ, "OMP_NUM_THREADS": "1"})
    while time.perf_counter() - start < 300:
        with socket.socket() as trying:
            if trying.connect_ex(("127.0.0.1", port)) == 0:
                return process, time.perf_counter() - start
        time.sleep(0.1)
    raise SystemExit("the server never answered")


def main(objects: int) -> None:
    """Print the figures."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "fair"
        tokens = make(folder, objects)
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            port = free.getsockname()[1]
        process, took = started(folder, port)
        try:
            figures(port, tokens, objects, Path(place), process.pid, took)
        finally:
            process.terminate()
            process.wait(timeout=60)


def figures(port: int, tokens: dict[str, str], objects: int, place: Path, pid: int, took: float) -> None:
    """Ask and print."""
    chair = Client(port, tokens["chair"])
    print(f"{objects} objects on {STANDS} stands; ready {took:.1f} s after the start, {memory(pid)} MB")
    print(f"  processor time of the start: {cpu_s(pid):.1f} s; load of the machine {os.getloadavg()[0]:.1f}")
    empty = p95(lambda: chair.ask("/empty"), 300)
    print(f"an empty reply                        p95 {empty:8.1f} ms")
    pages = {
        "first page after sign-in": (f"{API}/session", f"{API}/board"),
        "board": (f"{API}/board",),
        "objects, first 50": (f"{API}/objects",),
        "objects of one stand": (f"{API}/objects?stand=7",),
        "objects, from the 30,000th": (f"{API}/objects?offset=30000",),
        "objects I have not locked": (f"{API}/objects?mine=true",),
        "one object": (f"{API}/objects/7-003",),
        "search, one word": (f"{API}/search?q=kettle",),
        "search, what is not there": (f"{API}/search?q=nautilus%20{secrets.token_hex(4)}",),
        "list filtered by words": (f"{API}/objects?text=brass%20c.1745",),
    }
    for name, paths in pages.items():
        for path in paths:
            chair.ask(path)
        used = cpu_s(pid)
        got = p95(lambda asked=paths: [chair.ask(path) for path in asked])
        used = 1000 * (cpu_s(pid) - used) / TURNS
        print(f"{name:<37} p95 {got:8.1f} ms   {got / empty:5.0f} × empty   {used:6.1f} ms of processor time")
    raw, one, many, cost, skip = [], [], [], [], 0
    for _ in range(3):
        raw.append(bare(place))
        used = cpu_s(pid)
        one.append(votes(port, tokens, objects, 12, 1, skip))
        cost.append((cpu_s(pid) - used) / (12 * MEMBERS))
        many.append(votes(port, tokens, objects, 3, 40, skip + 12))
        skip += 12 + 120
    best = max(raw)
    print(f"bare commits of this SQLite, FULL     {best:9.0f} a second")
    print(
        f"{MEMBERS} members, one ballot a request     {max(one):9.0f} a second   {max(one) / best:5.0%} of bare"
    )
    print(
        f"{MEMBERS} members, a shelf of 40 a request  {max(many):9.0f} a second   {max(many) / best:5.0%} of bare"
    )
    print(f"  processor time of the desk: {1000 * min(cost):.2f} ms a ballot that comes alone")
    chair = Client(port, tokens["chair"])
    busy = threading.Thread(target=lambda: votes(port, tokens, objects, 40, 1, skip))
    busy.start()
    got = p95(lambda: chair.ask(f"{API}/board"), 40)
    busy.join()
    print(f"board while all of them lock views    p95 {got:8.1f} ms")
    print(f"memory at the end                     {memory(pid)} MB")


if __name__ == "__main__":
    if sys.argv[1:2] == ["--serve"]:
        serve(Path(sys.argv[2]), int(sys.argv[3]))
    else:
        main(int(sys.argv[1]) if len(sys.argv) > 1 else 40_000)
