"""Small fairs for the tests of this folder: taken in, seen, counted, confirmed, ready to be sealed. All invented."""

from pathlib import Path

from planish.doors.papers.lists import read_list
from planish.errands.intake import listing
from planish.errands.intake.finding import find
from planish.errands.intake.relisting import compare_lists
from planish.errands.opening import wiring
from planish.errands.opening.wiring import Fair
from planish.errands.panel import examining
from planish.errands.panel.ballots import with_claims
from planish.errands.people import gathering
from planish.errands.seals import keys
from planish.errands.words import labelling
from planish.ledger.journal import Draft
from planish.records import Answer, Ballot, Years
from planish.records.opinions import DateOpinion

PASSPHRASE = "four plain tin mugs"
PEOPLE = {
    "stand": [{"id": "7", "exhibitor": "Quill & Daughter"}],
    "person": [
        {"id": name, "name": f"NAME-{name}", "disciplines": ["metalware", "pewter"], "roles": [role]}
        for name, role in (
            ("ada", "leader"), ("ben", "member"), ("cleo", "member"), ("dov", "member"), ("sam", "steward"), ("cy", "chair"),
        )
    ],
    "panel": [
        {
            "id": "metals",
            "leader": "ada",
            "members": ["ada", "ben", "cleo", "dov"],
            "disciplines": ["metalware", "pewter"],
        }
    ],
}  # fmt: skip
LIST = (
    "No.;Description;Price\n"
    "14;Brass kettle on stand, English, c. 1760, the lid replaced. Height 31 cm.;450\n"
    "15;Pewter plate, English, c. 1750. Diameter 24 cm.;9017\n"
)
KETTLE = "Brass kettle on stand, English, 1790–1830, the lid replaced. Height 31 cm."
MARKER = "BALLOT-MARKER-7f3a"


def settled_fair(folder: Path) -> Fair:
    """7/14 is relabelled with words that both sides signed, 7/15 accepted; both confirmed."""
    fair = wiring.begin(folder, "saltmere", opens="2026-10-15")
    gathering.gather(fair, PEOPLE)
    taken = read_list(LIST.encode(), name="stand-7.csv")
    listing.take(fair, "7", taken, compare_lists(listing.on_file(fair, "7"), taken))
    _vote(fair, "7/14", outcome="relabel")
    _vote(fair, "7/15", outcome="accept")
    kettle = find(fair.state, "7/14")
    body = {"version": 2, "text": KETTLE, "reason": "the form is later"}
    fair.record([Draft(kind="label.asked", sub=kettle.listed.id, who="ada", body=body)])
    labelling.sign(fair, kettle.listed.id, for_panel="ada", for_exhibitor="stand 7")
    return fair


def _vote(fair: Fair, item: str, *, outcome: str) -> None:
    story = find(fair.state, item)
    claims = examining.count(fair, story).evident.reading.claims
    for person in ("ada", "ben", "cleo", "dov"):
        falls = (Answer(claim="", verdict="does_not_hold", reason=f"the form is later ({MARKER})"),)
        ballot = Ballot(
            object_id=story.listed.id,
            person=person,
            round=1,
            answers=falls if outcome == "relabel" else (),
            date=DateOpinion(years=Years(1790, 1830)) if outcome == "relabel" else None,
            outcome=outcome,  # type: ignore[arg-type]
        )
        examining.lock(
            fair, [with_claims(ballot, [{"side": "date"}] if falls and outcome == "relabel" else [], claims)]
        )
    examining.propose(fair, [examining.count(fair, find(fair.state, item))])
    examining.confirm(fair, [story.listed.id], who="ada", second="ben")


def with_keys(folder: Path) -> tuple[str, str]:
    """Make the fair's keys and try both sheets; gives the words of the two."""
    made = keys.make(folder, PASSPHRASE, secret=bytes(range(32)), second=bytes(range(1, 33)))
    first, second = " ".join(made.words), " ".join(made.second)
    keys.finish(folder, first)
    keys.finish(folder, second)
    return first, second
