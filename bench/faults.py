"""The long run of what `make test` does shortly: kills, power cuts, flipped bits, and the protocol on every store.

    python -m bench.faults [--kills 400] [--images 400] [--bits 600] [--examples 200]

Says for each what was done and whether it held. Power cuts are asked under FULL, where none may lose an acknowledged event,
and under NORMAL, where some must: a run that cannot go red shows nothing.
"""

import argparse
import os
import subprocess
import sys
import time

RUNS = (
    ("kills between commit and answer: made = stored, none doubled", "tests/ledger/test_faults.py", "killed"),
    ("power cuts, FULL and NORMAL", "tests/ledger/test_faults.py", "lost_power"),
    ("flipped bits", "tests/ledger/test_faults.py", "flipped"),
    ("the protocol on SQLite and PostgreSQL", "tests/ledger/test_protocol_on_disk.py", ""),
    ("planted mistakes", "tests/ledger/test_protocol.py", ""),
)


def main() -> int:
    """Run them in turn; 1 when one did not hold."""
    asked = argparse.ArgumentParser(description=__doc__)
    for name, count in (("kills", 400), ("images", 400), ("bits", 600), ("examples", 200)):
        asked.add_argument(f"--{name}", type=int, default=count)
    given = vars(asked.parse_args())
    counts = {f"PLANISH_{name.upper()}": str(count) for name, count in given.items()}
    print(", ".join(f"{name} {count}" for name, count in given.items()), flush=True)
    failed = 0
    for what, file, only in RUNS:
        begun = time.monotonic()
        command = [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", file, "-k", only]
        done = subprocess.run(command, env={**os.environ, **counts}, capture_output=True, text=True)
        held = done.returncode == 0
        failed += not held
        print(f"{'held' if held else 'DID NOT HOLD'}: {what} ({time.monotonic() - begun:.0f} s)", flush=True)
        if not held:
            print(done.stdout[-3000:])
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
