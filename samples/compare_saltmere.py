"""Hold a run of the sample fair against the sample's own answer sheet: found, missed, false alarms.

    python samples/compare_saltmere.py FOLDER

A fault that the paper shows counts as found when `planish check` names it on the label alone, before anybody looked.
A fault that only the object shows counts as found when planish, given what was noted at the table, says itself that
the label leaves it out or cannot stand; a specialist's ballot does not count here. A point of law counts as found when
the check asks its question: planish asks, the authority decides. A false alarm is a label meant to be
sound for which the check asks for anything before opening or today (severity 1 to 3).
"""

import sys
import tomllib
from collections import Counter
from pathlib import Path

from planish.errands.opening import wiring
from planish.errands.panel.evidence import Evident, evident
from planish.errands.telling.reporting import stories
from planish.ledger.story import Story

SAMPLE = Path(__file__).parent / "saltmere"


def as_taken(story: Story) -> Story:
    """The story with the words that hung before anything was reworded."""
    from dataclasses import replace

    return replace(story, labels=story.labels[:1])


def names_it(seen: Evident, answer: dict[str, str]) -> bool:
    codes = {fault.code for fault in seen.checked.faults}
    return answer["fault"] in codes


def shown_by_looks(seen: Evident) -> bool:
    return bool(seen.undisclosed or seen.clashes or seen.too_late)


def main() -> None:
    answers = tomllib.loads((SAMPLE / "answers.toml").read_text(encoding="utf-8"))["object"]
    sheet = {(a["stand"], str(a["number"])): a for a in answers}
    found: Counter[str] = Counter()
    missed, alarms, outcomes = [], [], Counter[str]()
    sound = 0
    with wiring.open_fair(Path(sys.argv[1])) as fair:
        for story in stories(fair):
            answer = sheet.get((story.listed.stand, story.listed.number))
            seen = evident(as_taken(story), fair.kit)
            if answer is None:
                sound += 1
                if any(fault.severity <= 3 for fault in seen.checked.faults):
                    alarms.append((story, seen))
                continue
            where = answer["found"]
            hit = names_it(seen, answer) if where == "paper" else shown_by_looks(seen)
            other = bool(seen.checked.faults)
            found[f"{where} found" if hit else f"{where} missed"] += 1
            if not hit:
                missed.append((story, answer, [f.code for f in seen.checked.faults] if other else []))
            outcomes["as expected" if story.state.outcome == answer["outcome"] else "otherwise"] += 1
    report(found, missed, alarms, outcomes, sound)


def report(found: Counter[str], missed: list, alarms: list, outcomes: Counter[str], sound: int) -> None:
    total = sum(found.values())
    hits = found["paper found"] + found["table found"]
    print("\n— Held against the answer sheet")
    print(f"    Seeded faults found: {hits} of {total} ({hits / total:.0%})")
    print(
        f"      from the label alone: {found['paper found']} of {found['paper found'] + found['paper missed']}, each under its own name"
    )
    print(
        f"      from what was noted at the table: {found['table found']} of {found['table found'] + found['table missed']}"
    )
    print(f"    False alarms: {len(alarms)} of {sound} sound labels (one in {sound // max(1, len(alarms))})")
    print(
        f"    Outcomes as on the sheet: {outcomes['as expected']} of {sum(outcomes.values())} faulty objects"
    )
    for story, answer, codes in missed:
        print(
            f"    missed {story.listed.stand}/{story.listed.number} {answer['fault']} ({answer['found']}); said: {', '.join(codes) or 'nothing'}"
        )
    for story, seen in alarms:
        said = ", ".join(f.code for f in seen.checked.faults if f.severity <= 3)
        print(
            f"    false alarm {story.listed.stand}/{story.listed.number}: {said} — {story.listed.text[:90]}"
        )


if __name__ == "__main__":
    main()
