"""A fair of one object, and a panel of five that votes on one of its claims. All names are invented."""

from collections.abc import Mapping, Sequence
from pathlib import Path

from planish.doors.papers.lists import read_list
from planish.errands.intake import listing
from planish.errands.intake.finding import find
from planish.errands.intake.relisting import compare_lists
from planish.errands.opening import wiring
from planish.errands.panel import examining
from planish.errands.panel.ballots import with_claims
from planish.errands.people import gathering
from planish.errands.words import labelling
from planish.records import Answer, Ballot, Years
from planish.records.opinions import DateOpinion

PEOPLE = ("ada", "ben", "cleo", "dov", "eve")


def fair_with(folder: Path, label: str, rules: str = "saltmere") -> wiring.Fair:
    """A fair with `label` as object 7/1."""
    fair = wiring.begin(folder / "fair", rules, opens="2026-10-15")
    fields = ["metalware", "pewter", "kitchen", "silver"]
    gathering.gather(
        fair,
        {
            "stand": [{"id": "7", "exhibitor": "Quill & Daughter"}],
            "person": [
                {"id": who, "disciplines": fields, "roles": ["leader" if who == "ada" else "member"]}
                for who in PEOPLE
            ],
            "panel": [{"id": "metals", "leader": "ada", "members": list(PEOPLE), "disciplines": fields}],
        },
    )
    taken = read_list(f"No.;Description;Price\n1;{label};450\n".encode(), name="stand-7.csv")
    listing.take(fair, "7", taken, compare_lists((), taken))
    return fair


def vote(
    fair: wiring.Fair,
    claim: Mapping[str, str],
    *,
    instead: str = "",
    years: Sequence[tuple[int, int]] = (),
    reason: str = "the form does not bear it",
) -> None:
    """All of the panel find that `claim` does not hold; the counted outcome is proposed and confirmed."""
    story = find(fair.state, "7/1")
    claims = examining.count(fair, story).evident.reading.claims
    for at, who in enumerate(PEOPLE):
        carried = (("words", instead),) if instead else ()
        ballot = Ballot(
            object_id=story.listed.id,
            person=who,
            round=1,
            answers=(Answer(claim="", verdict="does_not_hold", reason=reason, instead=carried),),
            date=DateOpinion(years=Years(*years[at % len(years)])) if years else None,
            outcome="relabel",
        )
        named = labelling.readable(with_claims(ballot, [claim], claims), claims, fair.kit)
        examining.lock(fair, [named])
    settled = examining.count(fair, find(fair.state, "7/1"))
    examining.propose(fair, [settled])
    examining.confirm(fair, [story.listed.id], who="ada", second="ben")
