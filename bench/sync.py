"""How fast the desk takes in what tablets hand in, over HTTP, measured by a client of bare sockets.

    python -m bench.sync [--tablets 150] [--seconds 20]

The client is measured first against a handler that does nothing: what it shows there is its own time. Every event is
signed, committed with `synchronous=FULL` before it is answered, judged and counted; client and desk share the machine.
"""

import argparse
import asyncio
import json
import os
import random
import statistics
import tempfile
import time
from collections.abc import Awaitable, Callable
from pathlib import Path

from tests.sync.tablets import API, Tablet

from bench.hall import DeskProcess, free_port, lay_out, pair_many

EMPTY = b"HTTP/1.1 200 OK\r\ncontent-length: 2\r\ncontent-type: application/json\r\n\r\n{}"
BODY = {"kind": "wear", "words": "rubbed at the rim, bright at the knop", "spot": "rim"}


class Line:
    """One kept-open connection."""

    def __init__(self, port: int, cookie: str) -> None:
        self.port, self.cookie = port, cookie
        self._reader: asyncio.StreamReader | None = None
        self._writer: asyncio.StreamWriter | None = None

    async def post(self, content: bytes, path: str = f"{API}/push") -> bytes:
        """One request, one answer's body."""
        if self._writer is None:
            self._reader, self._writer = await asyncio.open_connection("127.0.0.1", self.port)
        head = (
            f"POST {path} HTTP/1.1\r\nhost: 127.0.0.1:{self.port}\r\norigin: http://127.0.0.1:{self.port}\r\n"
            f"cookie: planish_device={self.cookie}\r\ncontent-type: application/json\r\n"
            f"content-length: {len(content)}\r\n\r\n"
        )
        self._writer.write(head.encode() + content)
        assert self._reader is not None
        said = await self._reader.readuntil(b"\r\n\r\n")
        size = int(said.lower().partition(b"content-length:")[2].split(b"\r\n")[0])
        body = await self._reader.readexactly(size)
        if b" 200 " not in said.split(b"\r\n")[0]:
            raise RuntimeError(f"{said[:60]!r} {body[:200]!r}")
        return body

    def close(self) -> None:
        """Hang up."""
        if self._writer is not None:
            self._writer.close()


def batches(tablet: Tablet, count: int, size: int) -> list[bytes]:
    """Pushes made ready beforehand: making and signing is the tablet's time, not the desk's."""
    made = []
    for _ in range(count):
        events = [
            tablet.make("observation.made", f"7-{random.randrange(1, 200):03}", BODY) for _ in range(size)
        ]
        made.append(json.dumps(tablet.body(events), ensure_ascii=False).encode())
    return made


async def steady(lines: list[Line], made: list[list[bytes]], every_s: float) -> list[float]:
    """Each line one push per `every_s`, begun at different moments; gives the time of each in seconds."""
    took: list[float] = []

    async def one(line: Line, pushes: list[bytes]) -> None:
        await asyncio.sleep(random.random() * every_s)
        for push in pushes:
            begun = time.perf_counter()
            await line.post(push)
            took.append(time.perf_counter() - begun)
            await asyncio.sleep(max(0.0, every_s - (time.perf_counter() - begun)))

    await asyncio.gather(*(one(line, pushes) for line, pushes in zip(lines, made, strict=True)))
    return took


async def flood(lines: list[Line], made: list[list[bytes]]) -> tuple[float, list[float]]:
    """Every line as fast as it is answered; gives the whole time and the time of each."""
    took: list[float] = []

    async def one(line: Line, pushes: list[bytes]) -> None:
        for push in pushes:
            begun = time.perf_counter()
            await line.post(push)
            took.append(time.perf_counter() - begun)

    begun = time.perf_counter()
    await asyncio.gather(*(one(line, pushes) for line, pushes in zip(lines, made, strict=True)))
    return time.perf_counter() - begun, took


def told(took: list[float]) -> str:
    """p50, p95, p99 in ms."""
    cuts = statistics.quantiles(took, n=100)
    return f"p50 {cuts[49] * 1000:.0f} ms, p95 {cuts[94] * 1000:.0f} ms, p99 {cuts[98] * 1000:.0f} ms"


async def against_nothing(do: Callable[[int], Awaitable[None]]) -> None:
    """Run against a handler that only answers."""

    async def handle(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        try:
            while True:
                head = await reader.readuntil(b"\r\n\r\n")
                await reader.readexactly(int(head.lower().partition(b"content-length:")[2].split(b"\r\n")[0]))
                writer.write(EMPTY)
        except (asyncio.IncompleteReadError, ConnectionError):
            writer.close()

    server = await asyncio.start_server(handle, "127.0.0.1", 0)
    await do(server.sockets[0].getsockname()[1])
    server.close()


async def measure(folder: Path, tablets: list[Tablet], back: Tablet, seconds: float) -> None:
    """Everything, in turn."""
    rounds = max(3, round(seconds / 2))

    async def calibrate(port: int) -> None:
        lines = [Line(port, "x") for _ in tablets]
        whole, took = await flood(lines, [[b"{}"] * 40 for _ in lines])
        print(
            f"the client alone, against a handler that does nothing: {len(took) / whole:,.0f}/s, {told(took)}"
        )
        for line in lines:
            line.close()

    await against_nothing(calibrate)
    made = [batches(tablet, rounds, 1) for tablet in tablets]
    quick = [batches(tablet, 20, 1) for tablet in tablets]
    outage = [batches(tablet, 4, 20) for tablet in tablets]
    returning = batches(back, 60, 200)
    desk = DeskProcess(folder, free_port())
    desk.start()
    try:
        lines = [Line(desk.port, tablet.client) for tablet in tablets]
        took = await steady(lines, made, 2.0)
        print(f"{len(lines)} tablets, one signed event per 2 s: {told(took)}  (promise: p95 250 ms)")
        used = desk.cpu_s()
        whole, took = await flood(lines, quick)
        used = (desk.cpu_s() - used) / len(took)
        print(
            f"{len(lines)} tablets, single events as fast as answered: {len(took) / whole:,.0f} events/s, {told(took)}  (promise: 500/s)"
        )
        print(
            f"  processor time of the desk: {used * 1000:.2f} ms an event, so one free core takes {1 / used:,.0f}/s"
        )
        whole, took = await flood(lines, outage)
        print(
            f"{len(lines)} tablets back with 80 each, by 20: {len(took) * 20:,} events in {whole:.1f} s  (promise: 30 s)"
        )
        line, begun = Line(desk.port, back.client), time.perf_counter()
        for push in returning:
            said = json.loads(await line.post(push))
            assert {one["status"] for one in said["results"]} == {"ok"}
        print(
            f"one tablet back with 12,000 events, by 200: {time.perf_counter() - begun:.1f} s  (promise: 30 s)"
        )
        for one in (*lines, line):
            one.close()
    finally:
        desk.stop()


def main() -> None:
    """Print the figures."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--tablets", type=int, default=150)
    asked.add_argument("--seconds", type=float, default=20)
    given = asked.parse_args()
    random.seed(7)
    print(f"machine: {os.cpu_count()} cores, load before {os.getloadavg()[0]:.1f}")
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "fair"
        lay_out(folder)
        tablets = pair_many(folder, given.tablets + 1, sign=True)
        asyncio.run(measure(folder, tablets[1:], tablets[0], given.seconds))


if __name__ == "__main__":
    main()
