"""Run the sample fair from empty folder to printed report, by the same commands a real fair would use.

    python samples/run_saltmere.py [FOLDER]        FOLDER is made anew; out/saltmere when left out

Prints each command before it runs it. At the end the outcomes are held against the sample's own answer sheet.
"""

import json
import os
import shlex
import shutil
import subprocess
import sys
import time
import tomllib
from pathlib import Path

HERE = Path(__file__).parent
SAMPLE = HERE / "saltmere"


def planish(fair: Path, *words: str, quiet: bool = False, expect: tuple[int, ...] = (0,)) -> str:
    """Run one command on the fair and show it; stops the demonstration when its exit code is not expected."""
    shown = shlex.join(["planish", *words])
    print(f"$ {shown}", flush=True)
    environment = {**os.environ, "PLANISH_FAIR": str(fair), "COLUMNS": "110"}
    done = subprocess.run(
        [sys.executable, "-m", "planish", *words],
        capture_output=True,
        text=True,
        env=environment,
        encoding="utf-8",
    )
    if done.returncode not in expect:
        sys.exit(f"{done.stdout}{done.stderr}\nexit code {done.returncode}; the demonstration stops here")
    if not quiet:
        print(
            "".join(f"    {line}\n" for line in (done.stdout + done.stderr).splitlines()[:12]),
            end="",
            flush=True,
        )
    return done.stdout


def lists() -> list[tuple[str, Path]]:
    """Each stand and its list, in the order of stands.toml."""
    stands = tomllib.loads((SAMPLE / "stands.toml").read_text(encoding="utf-8"))["stand"]
    return [(str(stand["id"]), SAMPLE / stand["list"]) for stand in stands]


def run(fair: Path) -> None:
    """The whole fair."""
    tables = SAMPLE / "tables"
    planish(fair, "begin", str(fair), "--rules", "saltmere", "--opens", "2026-10-15")
    planish(fair, "people", str(SAMPLE / "people.toml"), str(SAMPLE / "stands.toml"))
    print("\n— Lists come in, as they were sent")
    for stand, path in lists():
        planish(fair, "take", "--stand", stand, str(path))
    first_stand, first_list = lists()[0]
    planish(fair, "take", "--stand", first_stand, str(first_list), quiet=True)
    print("\n— Before the day: what the labels alone show")
    planish(
        fair,
        "check",
        "--fair",
        str(fair),
        "--pdf",
        str(fair / "checked.pdf"),
        "--xlsx",
        str(fair / "checked.xlsx"),
        quiet=True,
        expect=(0, 1),
    )
    planish(fair, "print", "sheets")
    print("\n— At the tables: looks, then ballots, each locked before anyone talks")
    planish(fair, "note", "--from", str(tables / "observations.jsonl"))
    planish(fair, "ballot", "--from", str(tables / "passes.jsonl"))
    planish(fair, "ballot", "--from", str(tables / "ballots-1.jsonl"))
    planish(fair, "settle", "--all")
    planish(fair, "ballot", "--from", str(tables / "ballots-2.jsonl"))
    planish(fair, "ballot", "--from", str(asked_again(fair, tables / "ballots-again.jsonl")))
    planish(fair, "settle", "--all", "--confirm", "--by", "chair", "--second", "p1")
    print("\n— Words: the strongest that everyone carries, asked and signed")
    planish(fair, "reword", "--all", "--ask", "--by", "p1", quiet=True)
    planish(fair, "reword", "--all", "--sign", "--by", "p1", quiet=True)
    for item, stand in removed(fair):
        planish(
            fair,
            "move",
            item,
            "--to",
            "safe_keeping",
            "--place",
            "locked room",
            "--given-by",
            f"stand {stand}",
            "--taken-by",
            "chair",
            "--condition",
            "as on the stand",
            quiet=True,
        )
    print("\n— Papers")
    planish(fair, "print", "all")
    planish(fair, "report")
    planish(fair, "verify-log")


def asked_again(fair: Path, views: Path) -> Path:
    """The second views of those objects alone that the count wants talked over, in a file of their own."""
    counted = json.loads(planish(fair, "settle", "--all", "--json", quiet=True))
    talk = {one["object"] for one in counted if one["then"] == "talk"}
    shown = json.loads(planish(fair, "show", "--json", quiet=True))
    wanted = {f"{one['stand']}/{one['number']}" for one in shown if one["object_id"] in talk}
    lines = [
        line for line in views.read_text("utf-8").splitlines(True) if json.loads(line)["object"] in wanted
    ]
    chosen = fair / views.name
    chosen.write_text("".join(lines), encoding="utf-8")
    return chosen


def removed(fair: Path) -> list[tuple[str, str]]:
    """Every object that is to be removed, and its stand."""
    found = json.loads(planish(fair, "show", "--json", quiet=True))
    return [(state["object_id"], state["stand"]) for state in found if state["outcome"] == "remove"]


def main() -> None:
    fair = Path(sys.argv[1]) if len(sys.argv) > 1 else Path("out") / "saltmere"
    shutil.rmtree(fair, ignore_errors=True)
    started = time.monotonic()
    run(fair)
    subprocess.run([sys.executable, str(HERE / "compare_saltmere.py"), str(fair)], check=True)
    print(f"\nWhat was made, in {time.monotonic() - started:.0f} s:")
    for path in sorted(p for p in fair.rglob("*") if p.suffix in (".pdf", ".xlsx", ".db", ".toml")):
        print(f"    {path}  {path.stat().st_size // 1024} kB")
    print(
        f"\nLook around: planish show --fair {fair} 7/714    planish settle --fair {fair} ITEM    planish facts hinge"
    )


if __name__ == "__main__":
    main()
