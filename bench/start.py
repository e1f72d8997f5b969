"""How long `planish --help` takes beside an empty Python, whole processes in turn (aim: at most 150 ms more)."""

import statistics
import subprocess
import sys
import time

RUNS = 15


def seconds(*words: str) -> float:
    """One whole process."""
    start = time.perf_counter()
    subprocess.run([sys.executable, *words], check=True, capture_output=True)
    return time.perf_counter() - start


def main() -> None:
    pairs = [(seconds("-c", "pass"), seconds("-m", "planish", "--help")) for _ in range(RUNS)]
    empty, help_ = (statistics.median(pair[i] for pair in pairs) * 1000 for i in (0, 1))
    print(
        f"python -c pass {empty:.0f} ms, planish --help {help_:.0f} ms: {help_ - empty:.0f} ms more (medians of {RUNS})"
    )


if __name__ == "__main__":
    main()
