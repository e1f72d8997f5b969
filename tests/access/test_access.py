"""Who may see what, held to the table row by row, and to the rules beside it."""

import itertools

import pytest

from planish.errands.people.access import MATRIX, Looked, Viewer, may_write, totals_only, visible

EVERYTHING = Looked(
    stand="7", locked=True, deciding=True, task=True, own=True, sealed=True, off_floor=True, ballots=5
)
ROLES = (
    "office",
    "chair",
    "leader",
    "member",
    "steward",
    "exhibitor",
    "laboratory",
    "appeals",
    "buyer",
    "auditor",
    "scribe",
)


def viewer(*roles: str, stand: str = "7") -> Viewer:
    return Viewer(person="p1", roles=frozenset(roles), stand=stand)


@pytest.mark.parametrize("role", ROLES)
def test_nobody_sees_anothers_named_ballot_in_any_state(role: str) -> None:
    states = itertools.product((False, True), repeat=6)
    for locked, deciding, task, own, sealed, off in states:
        looked = Looked(
            stand="7",
            locked=locked,
            deciding=deciding,
            task=task,
            own=own,
            sealed=sealed,
            off_floor=off,
            ballots=9,
        )
        assert not visible(viewer(role), "named_ballot", looked)


@pytest.mark.parametrize("role", ["leader", "member"])
@pytest.mark.parametrize("data", ["split", "papers", "laboratory", "memory"])
def test_what_could_sway_an_opinion_shows_only_after_the_own_ballot_is_locked(role: str, data: str) -> None:
    before = Looked(stand="7", ballots=5)
    after = Looked(stand="7", ballots=5, locked=True)
    assert (visible(viewer(role), data, before), visible(viewer(role), data, after)) == (False, True)  # type: ignore[arg-type]


@pytest.mark.parametrize("role", ROLES)
def test_a_split_is_withheld_below_the_rule_books_floor(role: str) -> None:
    few = Looked(stand="7", locked=True, deciding=True, task=True, ballots=2, floor=3)
    assert not visible(viewer(role), "split", few)


@pytest.mark.parametrize("data", sorted(MATRIX))
def test_an_exhibitor_never_sees_another_stand(data: str) -> None:
    assert not visible(viewer("exhibitor", stand="8"), data, EVERYTHING)  # type: ignore[arg-type]


@pytest.mark.parametrize("data", ["split", "own_ballot", "named_ballot", "recusal", "statistics"])
def test_an_exhibitor_never_sees_a_count_a_name_or_an_opinion(data: str) -> None:
    assert not visible(viewer("exhibitor"), data, EVERYTHING)  # type: ignore[arg-type]


def test_a_conflict_takes_away_what_the_panel_roles_give() -> None:
    conflicted = Looked(stand="7", locked=True, own=True, ballots=5, conflicted=True)
    seen = [data for data in MATRIX if visible(viewer("member"), data, conflicted)]  # type: ignore[arg-type]
    assert seen == []


def test_the_chair_sees_a_split_only_when_deciding_and_a_recusals_reason_always() -> None:
    chair = viewer("chair")
    assert not visible(chair, "split", Looked(ballots=5))
    assert visible(chair, "split", Looked(ballots=5, deciding=True))
    assert visible(chair, "recusal_reason")


def test_prices_are_hidden_from_the_panel() -> None:
    panel = [
        role for role in ("chair", "leader", "member", "scribe") if visible(viewer(role), "price", EVERYTHING)
    ]
    assert panel == []


def test_only_an_auditor_reads_the_log() -> None:
    assert [role for role in ROLES if visible(viewer(role), "log", EVERYTHING)] == ["auditor"]


def test_totals_are_for_those_who_see_nothing_finer() -> None:
    assert totals_only(viewer("exhibitor"), "statistics")
    assert not totals_only(viewer("chair"), "statistics")


def test_only_the_own_stand_is_written_by_an_exhibitor() -> None:
    assert may_write(viewer("exhibitor"), "labels", Looked(stand="7"))
    assert not may_write(viewer("exhibitor"), "labels", Looked(stand="9"))
