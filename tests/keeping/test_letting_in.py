"""A fair's only chair who forgot the passphrase: let in at the laptop with the keys, and the log says so."""

from pathlib import Path

import pytest

from planish.errands.opening import wiring
from planish.errands.opening.refusing import Refused
from planish.errands.people import letting_in
from planish.errands.people.accounts import Accounts
from tests.keeping.fairs import PASSPHRASE, PEOPLE, with_keys


@pytest.fixture
def fair(tmp_path: Path) -> wiring.Fair:
    from planish.errands.people import gathering

    made = wiring.begin(tmp_path / "fair", "saltmere")
    gathering.gather(made, PEOPLE)
    accounts = Accounts(made.folder)
    accounts.set_passphrase("cy", "forgotten by now")
    accounts.close()
    return made


def opens(fair: wiring.Fair, secret: str) -> bool:
    accounts = Accounts(fair.folder)
    try:
        return accounts.opens("cy", secret, client="laptop")
    finally:
        accounts.close()


def told(fair: wiring.Fair) -> str:
    return str(fair.state.notes[-1].body["words"])


def test_with_the_passphrase_of_the_keys_or_a_sheet_a_chair_gets_a_new_one(fair: wiring.Fair) -> None:
    _, second = with_keys(fair.folder)
    for proof, sheet, how in (
        (PASSPHRASE, False, "passphrase of the keys"),
        (second, True, "recovery sheet 2"),
    ):
        made = letting_in.let_in(fair, "cy", proof=proof, sheet=sheet)
        assert opens(fair, made)
        assert how in told(fair)
        assert made not in told(fair)
    assert not opens(fair, "forgotten by now")
    fair.close()


def test_a_wrong_proof_changes_nothing(fair: wiring.Fair) -> None:
    with_keys(fair.folder)
    before = fair.state.n
    for proof, sheet in (("no such passphrase", False), ("ant bee", True), ("", False)):
        with pytest.raises(Refused):
            letting_in.let_in(fair, "cy", proof=proof, sheet=sheet)
    with pytest.raises(Refused, match="short name"):
        letting_in.let_in(fair, "nobody", proof=PASSPHRASE, sheet=False)
    assert fair.state.n == before
    assert opens(fair, "forgotten by now")
    fair.close()


def test_a_fair_without_keys_asks_for_nothing_and_says_so(fair: wiring.Fair) -> None:
    assert not letting_in.wants_proof(fair.folder)
    assert opens(fair, letting_in.let_in(fair, "cy", proof="", sheet=False))
    assert "without proof" in told(fair)
    fair.close()
