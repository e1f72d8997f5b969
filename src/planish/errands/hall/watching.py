"""The desk's clock watched: wall time against the steady counter. A jump is written down and changes no order."""

import threading
import time
from collections.abc import Callable

from planish.errands.opening.clock import now_ms

EVERY_S = 5.0
JUMP_MS = 5_000
"""A difference of more than this between two looks is a jump."""


class ClockWatch:
    """Looks every five seconds; calls `tell(ms)` for a jump (forward is positive)."""

    def __init__(
        self,
        tell: Callable[[int], None],
        *,
        wall: Callable[[], int] = now_ms,
        steady: Callable[[], float] = time.monotonic,
    ) -> None:
        self._tell, self._wall, self._steady = tell, wall, steady
        self._last = (wall(), steady())
        self._stop = threading.Event()
        self._thread: threading.Thread | None = None

    def look(self) -> int:
        """Compare now; gives the jump in ms, 0 for none."""
        wall, steady = self._wall(), self._steady()
        jump = round((wall - self._last[0]) - (steady - self._last[1]) * 1000)
        self._last = (wall, steady)
        if abs(jump) <= JUMP_MS:
            return 0
        self._tell(jump)
        return jump

    def start(self) -> None:
        """Look again and again, until `stop`."""
        self._thread = threading.Thread(target=self._go, name="clock", daemon=True)
        self._thread.start()

    def _go(self) -> None:
        while not self._stop.wait(EVERY_S):
            self.look()

    def stop(self) -> None:
        """Look no more."""
        self._stop.set()
        if self._thread is not None:
            self._thread.join()
