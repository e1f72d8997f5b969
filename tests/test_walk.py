"""The whole story once, from one row of a stand's list to a label that both sides signed. Read it from top to bottom."""

from pathlib import Path

from planish.doors.papers.lists import read_list
from planish.errands.intake import listing
from planish.errands.intake.finding import find
from planish.errands.intake.relisting import compare_lists
from planish.errands.opening import wiring
from planish.errands.panel import examining
from planish.errands.panel.ballots import with_claims
from planish.errands.people import gathering
from planish.errands.record import keeping
from planish.errands.telling import reporting
from planish.errands.words import labelling
from planish.ledger.journal import Draft
from planish.records import Answer, Ballot, Observation, Quantity, Years, freeze
from planish.records.opinions import DateOpinion

PEOPLE = {
    "stand": [{"id": "7", "exhibitor": "Quill & Daughter"}],
    "person": [
        {
            "id": name,
            "disciplines": ["metalware", "pewter"],
            "roles": ["leader" if name == "ada" else "member"],
        }
        for name in ("ada", "ben", "cleo", "dov")
    ],
    "panel": [
        {
            "id": "metals",
            "leader": "ada",
            "members": ["ada", "ben", "cleo", "dov"],
            "disciplines": ["metalware", "pewter"],
        }
    ],
}
LIST = "No.;Description;Price\n14;Brass kettle on stand, English, c. 1760. Height 31 cm.;450\n"
SEEN = "the pin holes of the handle are threaded"


def test_from_a_row_of_a_list_to_a_label_that_both_sides_signed(tmp_path: Path) -> None:
    # 1. A fair begins under its rule book, with people, a panel and a stand.
    fair = wiring.begin(tmp_path / "fair", "saltmere", opens="2026-10-15")
    gathering.gather(fair, PEOPLE)

    # 2. A list comes in as it was sent; the row is kept raw, and becomes an object with a label and a route.
    taken = read_list(LIST.encode(), name="stand-7.csv")
    listing.take(fair, "7", taken, compare_lists(listing.on_file(fair, "7"), taken))
    kettle = find(fair.state, "7/14")
    assert (kettle.state.examination, kettle.state.label) == ("listed", "as_hung")
    assert "kitchen" in kettle.state.disciplines or "metalware" in kettle.state.disciplines

    # 3. At the table somebody sees and measures: no conclusion yet.
    thread = Observation(
        id="",
        object_id=kettle.listed.id,
        kind="thread",
        by="ben",
        part="handle",
        values=freeze({"tpi": Quantity(24, "tpi"), "diameter": Quantity(4.76, "mm", 0.03)}),
        words=SEEN,
    )
    examining.observe(fair, [thread])

    # 4. Each locks a view of their own before anyone talks. The label's date falls; nobody has said why it should.
    spoken = examining.count(fair, find(fair.state, "7/14")).evident.reading.claims
    for person, years in (
        ("ada", (1790, 1830)),
        ("ben", (1800, 1840)),
        ("cleo", (1790, 1830)),
        ("dov", (1800, 1830)),
    ):
        ballot = Ballot(
            object_id=kettle.listed.id,
            person=person,
            round=1,
            answers=(
                Answer(claim="", verdict="does_not_hold", reason="the form is of the early 19th century"),
            ),
            date=DateOpinion(years=Years(*years)),
            outcome="relabel",
        )
        examining.lock(fair, [with_claims(ballot, [{"side": "date"}], spoken)])

    # 5. The ballots are counted by the rule book; anyone can recount them by hand, and no name is in the count.
    settled = examining.count(fair, find(fair.state, "7/14"))
    assert settled.settlement.outcome == "relabel"
    assert not any(name in line for line in settled.recounted for name in ("ada", "ben", "cleo", "dov"))
    examining.propose(fair, [settled])
    examining.confirm(fair, [kettle.listed.id], who="ada", second="ben")

    # 6. The strongest words that everyone carries are asked; only the date changes. Both sides sign.
    agreed = labelling.reword(fair, examining.count(fair, find(fair.state, "7/14")))
    changed = [(step.did, step.before) for step in agreed.steps if step.did not in ("kept", "added")]
    assert changed == [("reworded", "c. 1760")]
    labelling.ask(fair, settled, agreed, who="ada")
    labelling.sign(fair, kettle.listed.id, for_panel="ada", for_exhibitor="stand 7")

    # 7. The new label is printed; a slip says why, about the object, with no name and no count.
    (card,) = reporting.label_cards(fair)
    assert card.heading == "Brass kettle on stand"
    (slip,) = reporting.slips(fair)
    assert slip.reasons == ("the form is of the early 19th century",)

    # 8. The log says what happened, in order, and proves that nothing was changed since.
    fair.close()
    verified = keeping.verify_log(tmp_path / "fair")
    assert verified.problems == ()
    assert verified.entries > 12


def test_a_recused_member_cannot_vote_and_nothing_is_lost(tmp_path: Path) -> None:
    fair = wiring.begin(tmp_path / "fair", "saltmere")
    gathering.gather(fair, PEOPLE)
    taken = read_list(LIST.encode(), name="stand-7.csv")
    listing.take(fair, "7", taken, compare_lists((), taken))
    kettle = find(fair.state, "7/14").listed.id
    examining.lock(fair, [Ballot(object_id=kettle, person="dov", round=1, recused=True)])
    results = fair.journal.add_all(
        [
            Draft(
                kind="ballot.locked",
                sub=kettle,
                who="dov",
                body={"round": 1, "ballot": {"outcome": "accept"}},
            )
        ]
    )
    assert results[0].status == "denied"
    assert results[0].n > 0, "what was written stays in the log, not applied"
