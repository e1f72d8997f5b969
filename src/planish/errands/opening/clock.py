"""The one clock. Pure rooms get time as an argument; only errands ask here."""

import os
import time
from datetime import UTC, datetime


def now_ms() -> int:
    """Milliseconds since 1970, UTC. PLANISH_NOW (an ISO 8601 time) holds it still, for papers that must not differ."""
    held = os.environ.get("PLANISH_NOW")
    if held:
        return int(_parsed(held).timestamp() * 1000)
    return time.time_ns() // 1_000_000


_BEGAN = (time.time_ns() // 1_000_000, time.monotonic_ns() // 1_000_000)


def steady_ms() -> int:
    """As `now_ms`, but a jump of the clock while planish runs does not move it: for the ages of sessions and waits."""
    if os.environ.get("PLANISH_NOW"):
        return now_ms()
    return _BEGAN[0] + time.monotonic_ns() // 1_000_000 - _BEGAN[1]


def now() -> datetime:
    """The time as a date-time in UTC."""
    return datetime.fromtimestamp(now_ms() / 1000, UTC)


def _parsed(text: str) -> datetime:
    moment = datetime.fromisoformat(text)
    return moment if moment.tzinfo else moment.replace(tzinfo=UTC)
