"""A point of law that honest words cannot cure takes relabel off the table, and says so in the count."""

from pathlib import Path

from planish.doors.papers.lists import read_list
from planish.errands.intake import listing
from planish.errands.intake.finding import find
from planish.errands.intake.relisting import compare_lists
from planish.errands.opening import wiring
from planish.errands.opening.wiring import Fair
from planish.errands.panel import examining
from planish.errands.people import gathering
from tests.panel_errands.fairs import FIRST, PEOPLE, lock

ALTERED = "Silver jug, converted from a tankard, hallmarked London 1765, English, 1765. Height 20 cm."
PLAIN = "Silver jug, hallmarked London 1765, English, 1765. Height 20 cm."


def fair_with(folder: Path, label: str) -> Fair:
    fair = wiring.begin(folder, "saltmere", opens="2026-10-15")
    gathering.gather(
        fair,
        {**PEOPLE, "person": [{**one, "disciplines": ["silver", "metalware"]} for one in PEOPLE["person"]]},
    )
    taken = read_list(f"No.;Description;Price\n14;{label};450\n".encode(), name="stand-7.csv")
    listing.take(fair, "7", taken, compare_lists(listing.on_file(fair, "7"), taken))
    return fair


def counted(folder: Path, label: str) -> tuple[str, str]:
    fair = fair_with(folder, label)
    lock(fair, "7/14", dict.fromkeys(FIRST, "relabel"))
    settlement = examining.count(fair, find(fair.state, "7/14")).settlement
    return str(settlement.outcome), " ".join(step.rule for step in settlement.steps)


def test_altered_hallmarked_silver_is_not_relabelled_by_five_of_one_mind(tmp_path: Path) -> None:
    """UK Hallmarking Act 1973 (from memory): an altered piece cannot be cured by describing it honestly."""
    outcome, rules = counted(tmp_path / "fair", ALTERED)
    assert outcome != "relabel"
    assert "law" in rules.split()


def test_the_same_jug_unaltered_may_be_relabelled(tmp_path: Path) -> None:
    outcome, rules = counted(tmp_path / "fair", PLAIN)
    assert outcome == "relabel"
    assert "law" not in rules.split()
