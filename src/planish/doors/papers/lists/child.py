"""The child process of `guarding`: limits itself, reads one file from standard input, writes the answer as JSON."""

import sys
from types import MappingProxyType
from typing import Any


def limit(seconds: int, memory_bytes: int) -> None:
    """Bind this process: address space, processor time, no file written, no core. Where the system can."""
    try:
        import resource
    except ImportError:  # not on Windows; the parent's clock remains
        return
    for what, most in (
        (resource.RLIMIT_AS, memory_bytes),
        (resource.RLIMIT_CPU, seconds),
        (resource.RLIMIT_FSIZE, 0),
        (resource.RLIMIT_CORE, 0),
    ):
        try:
            resource.setrlimit(what, (most, most))
        except (ValueError, OSError):
            continue


def _plain(value: Any) -> Any:
    if isinstance(value, MappingProxyType):
        return dict(value)
    raise TypeError(type(value).__name__)


def main() -> None:
    """Read the request line and the file, answer, and leave."""
    import msgspec

    from planish.doors.papers.lists.grids import Limits
    from planish.doors.papers.lists.guarding import Request
    from planish.doors.papers.lists.reading import read_list

    line = sys.stdin.buffer.readline()
    request = msgspec.json.decode(line, type=Request)
    limits = Limits(**request.limits)
    limit(limits.seconds, limits.memory_bytes)
    taken = read_list(sys.stdin.buffer.read(), request.name, request.mapping, limits)
    sys.stdout.buffer.write(msgspec.json.encode(taken, enc_hook=_plain))


if __name__ == "__main__":
    main()
