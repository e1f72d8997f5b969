"""What this process holds in memory stays there: no core dump with ballots, passphrases or keys in it.

A dump is written by the system when a program crashes, or for whoever may look into another program of the same user.
"""

import sys


def never_dump() -> None:
    """No core dump of this process from now on (setrlimit(2)), and none for a helper of the system (prctl(2), Linux).

    Whoever controls the computer can still read the memory of a running program; nothing here changes that.
    """
    if sys.platform == "win32":  # pragma: no cover
        return
    import resource

    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    if sys.platform == "linux":
        import ctypes

        undumpable = 4  # PR_SET_DUMPABLE, linux/prctl.h
        ctypes.CDLL(None).prctl(undumpable, 0, 0, 0, 0)
