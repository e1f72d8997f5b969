"""A small fair with two panels and a chair, for what errands do around the count. Everybody and everything is invented."""

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
from planish.records import Answer, Ballot, Observation

FIRST = ("ada", "ben", "cleo", "dov", "eli")
SECOND = ("fay", "gus", "hal")
PEOPLE = {
    "stand": [{"id": "7", "exhibitor": "Quill & Daughter"}, {"id": "9", "exhibitor": "Old Tin Lantern"}],
    "person": [
        *(
            {"id": name, "name": f"NAME-{name}", "disciplines": ["metalware", "pewter"], "roles": [role]}
            for name, role in [
                ("ada", "leader"), *((name, "member") for name in (*FIRST[1:], "gus", "hal")), ("fay", "leader"), ("cy", "chair"),
            ]
        ),
        {"id": "ivo", "name": "NAME-ivo", "disciplines": ["glass"], "roles": ["member"]},
        {"id": "jo", "name": "NAME-jo", "disciplines": ["metalware"], "roles": ["member"], "conflicts": ["7"]},
    ],
    "panel": [
        {"id": "metals", "leader": "ada", "members": [*FIRST], "disciplines": ["metalware", "pewter"]},
        {"id": "others", "leader": "fay", "members": [*SECOND, "ivo", "jo"], "disciplines": ["glass"]},
    ],
}  # fmt: skip
LISTS = {
    "7": "No.;Description;Price\n"
    "14;Brass candlestick, English, Georgian, c.1890, height 21 cm.;450\n"
    "15;Pewter plate, English, c.1750. Diameter 24 cm.;90\n"
    "16;Brass kettle, English, c.1760. Height 31 cm.;300\n",
    "9": "No.;Description;Price\n"
    "20;Brass chamberstick, English, Georgian, c.1890, height 9 cm.;120\n"
    "21;Pewter dish, English, c.1740. Diameter 33 cm.;210\n",
}


def begun(folder: Path) -> Fair:
    """Two stands, two panels, five objects; nobody has looked yet."""
    fair = wiring.begin(folder, "saltmere", opens="2026-10-15")
    gathering.gather(fair, PEOPLE)
    for stand, text in LISTS.items():
        taken = read_list(text.encode(), name=f"stand-{stand}.csv")
        listing.take(fair, stand, taken, compare_lists(listing.on_file(fair, stand), taken))
    return fair


def lock(
    fair: Fair, item: str, votes: dict[str, str], *, round: int = 1, falls: str = "", mark: str = ""
) -> None:
    """Lock one ballot a person: `votes` maps a person to an outcome. `mark` goes into every free text of each ballot."""
    story = find(fair.state, item)
    claims = examining.count(fair, story).evident.reading.claims
    for person, outcome in votes.items():
        said = f"{mark}-{person}" if mark else "the form is later"
        answers = (
            (Answer(claim="", verdict="does_not_hold", reason=said),) if falls and outcome != "accept" else ()
        )
        ballot = Ballot(
            object_id=story.listed.id,
            person=person,
            round=round,  # type: ignore[arg-type]
            answers=answers,
            outcome=outcome,  # type: ignore[arg-type]
            reasons=(said,) if outcome != "accept" or mark else (),
        )
        examining.lock(fair, [with_claims(ballot, [{"side": falls}] if answers else [], claims)])


def settle(fair: Fair, item: str, *, confirm: bool = True) -> str:
    """Count, propose and (unless told not to) confirm; gives the outcome."""
    story = find(fair.state, item)
    examining.propose(fair, [examining.count(fair, story)])
    if confirm:
        examining.confirm(fair, [story.listed.id], who="ada", second="ben")
    return find(fair.state, item).state.outcome


def voted(fair: Fair, item: str, outcome: str, *, falls: str = "", confirm: bool = True) -> str:
    """The whole first panel of one mind."""
    lock(fair, item, dict.fromkeys(FIRST, outcome), falls=falls)
    return settle(fair, item, confirm=confirm)


def observe(fair: Fair, item: str, words: str) -> None:
    """One look in words."""
    story = find(fair.state, item)
    examining.observe(
        fair, [Observation(id="", object_id=story.listed.id, kind="construction", by="ada", words=words)]
    )
