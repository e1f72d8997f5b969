"""A whole fair into an archive, and the archive checked by its own verifier: seconds, size, and a plain write beside it.

Labels are invented. "Plain write" puts the same bytes into the same number of files on the same disk, in the same run.

    python -m bench.archive [OBJECTS]       40,000 when left out; the fair is made anew in a temporary folder
"""

import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from planish.errands.opening import wiring
from planish.errands.people import gathering
from planish.errands.record.archiving import archive
from planish.ledger.journal import Draft

THINGS = ("flagon", "candlestick", "charger", "kettle", "mortar", "porringer", "tobacco box", "salver")
METALS = ("Pewter", "Brass", "Copper", "Bronze", "Silver")
PLACES = ("English", "Dutch", "German", "Scottish")
A_STAND = 145


def label(n: int) -> str:
    year, size = 1650 + n * 7 % 230, 9 + n * 13 % 40
    return (
        f"{METALS[n % 5]} {THINGS[n % 8]}, {PLACES[n % 4]}, c. {year}, with a turned foot. Height {size} cm."
    )


def fair_of(folder: Path, objects: int) -> None:
    """Objects listed with their labels hung, by the events that lists write."""
    fair = wiring.begin(folder, "saltmere", opens="2026-10-15")
    stands = [{"id": str(s), "exhibitor": f"Stand {s}"} for s in range(1, objects // A_STAND + 2)]
    gathering.gather(fair, {"stand": stands})
    for start in range(0, objects, 2_000):
        drafts = []
        for n in range(start, min(start + 2_000, objects)):
            stand, number = str(n // A_STAND + 1), f"{n % A_STAND + 1:03d}"
            sub, text = f"{stand}-{number}", label(n)
            listed = {"stand": stand, "number": number, "text": text, "fields": {}, "price": "450"}
            drafts.append(Draft(kind="object.listed", sub=sub, who="office", body=listed))
            drafts.append(
                Draft(
                    kind="label.hung", sub=sub, who="office", body={"version": 1, "text": text, "price": ""}
                )
            )
        fair.record(drafts)
    fair.close()


def plain_write(source: Path, target: Path) -> float:
    """Seconds to write the same bytes into the same files, with nothing computed."""
    content = [(p.relative_to(source), p.read_bytes()) for p in source.rglob("*") if p.is_file()]
    for name in {path.parent for path, _ in content}:
        (target / name).mkdir(parents=True, exist_ok=True)
    start = time.perf_counter()
    for path, data in content:
        (target / path).write_bytes(data)
    return time.perf_counter() - start


def main() -> None:
    objects = int(sys.argv[1]) if len(sys.argv) > 1 else 40_000
    folder = Path(tempfile.mkdtemp(prefix="planish-bench-"))
    try:
        start = time.perf_counter()
        fair_of(folder / "fair", objects)
        print(f"{objects:,} objects listed and hung in {time.perf_counter() - start:.0f} s")
        key = Ed25519PrivateKey.from_private_bytes(bytes(range(32)))
        with wiring.open_fair(folder / "fair") as fair:
            count = len(fair.state.objects)
            start = time.perf_counter()
            done = archive(fair, folder / "archive", key=key)
            wrote = time.perf_counter() - start
        assert count == done.objects == objects, (count, done.objects)
        files = sum(1 for p in done.folder.rglob("*") if p.is_file())
        print(
            f"archive: {done.entries:,} entries, {files:,} files, {done.bytes / 1e6:.1f} MB, written in {wrote:.1f} s"
        )
        plain = plain_write(done.folder, folder / "plain")
        print(
            f"plain write of the same bytes: {plain:.1f} s, so the archive takes {wrote / plain:.1f} times as long"
        )
        start = time.perf_counter()
        run = subprocess.run(
            [sys.executable, "-I", str(done.folder / "verify.py")], capture_output=True, encoding="utf-8"
        )
        took = time.perf_counter() - start
        print(
            f"verified in {took:.1f} s ({done.entries / took:,.0f} entries a second): {run.stdout.splitlines()[0]}"
        )
        assert run.returncode == 0
    finally:
        shutil.rmtree(folder)


if __name__ == "__main__":
    main()
