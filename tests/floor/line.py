"""The line between tablet and desk: a proxy of the tests' own, which can be cut, answered in the desk's place, or made a hole.

The browser keeps one address for the whole test while the desk behind it dies, moves or is restored.
"""

import contextlib
import socket
import threading
from collections.abc import Callable

Answers = Callable[[bytes], bytes | None]


class Line:
    """A TCP line on a free port. `cut()` refuses and breaks everything; `mend()` lets it through again."""

    def __init__(self, target: int) -> None:
        self.target = target
        self.up = True
        self.hole = False
        """When true everything is taken and nothing ever comes back, as behind a wall that drops packets."""
        self.held = self.fallen = 0
        """How many requests lie in the hole, and how many lines were given up there."""
        self.instead: Answers | None = None
        """Asked with each request's head; bytes are answered in the desk's place."""
        self._open: set[socket.socket] = set()
        self._cuts = 0
        self._lock = threading.Lock()
        self._ear = socket.socket()
        self._ear.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        self._ear.bind(("127.0.0.1", 0))
        self._ear.listen(64)
        self.port = int(self._ear.getsockname()[1])
        threading.Thread(target=self._listen, daemon=True).start()

    def cut(self) -> None:
        """The network is gone: nothing new, and what is open breaks."""
        self.up = False
        with self._lock:
            self._cuts += 1
            for one in self._open:
                _close(one)
            self._open.clear()

    def mend(self) -> None:
        """The network is back."""
        self.up = True

    def close(self) -> None:
        """No more line at all."""
        self.cut()
        _close(self._ear)

    def _listen(self) -> None:
        while True:
            try:
                near, _ = self._ear.accept()
            except OSError:
                return
            cuts = self._cuts
            if not self.up:
                _close(near)
                continue
            threading.Thread(target=self._join, args=(near, cuts), daemon=True).start()

    def _join(self, near: socket.socket, cuts: int) -> None:
        first = b""
        if self.hole:
            return self._swallow(near)
        if self.instead is not None:
            try:
                first = near.recv(65_536)
                said = self.instead(first)
            except OSError:
                return _close(near)
            if said is not None:
                near.sendall(said)
                return _close(near)
        try:
            far = socket.create_connection(("127.0.0.1", self.target), timeout=10)
        except OSError:
            return _close(near)
        far.settimeout(None)
        with self._lock:
            if cuts != self._cuts:  # cut while it was being joined: it must not outlive the cut
                _close(near)
                return _close(far)
            self._open |= {near, far}
        if first:
            far.sendall(_alone(first))
        threading.Thread(target=self._pour, args=(near, far), daemon=True).start()
        self._pour(far, near)
        return None

    def _swallow(self, near: socket.socket) -> None:
        with self._lock:
            self._open.add(near)
        with contextlib.suppress(OSError):
            while near.recv(65_536):
                self.held += 1
        with self._lock:
            self._open.discard(near)
            self.fallen += 1
        _close(near)

    def _pour(self, source: socket.socket, sink: socket.socket) -> None:
        try:
            while data := source.recv(65_536):
                sink.sendall(data)
        except OSError:
            pass
        with self._lock:
            self._open -= {source, sink}
        _close(source)
        _close(sink)


def _alone(head: bytes) -> bytes:
    """The same request, asking for the connection to end after it: so each request comes with a line of its own."""
    return head.replace(b"Connection: keep-alive", b"Connection: close", 1)


def _close(one: socket.socket) -> None:
    with contextlib.suppress(OSError):
        one.shutdown(socket.SHUT_RDWR)
    one.close()
