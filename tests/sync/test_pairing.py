"""Pairing, PINs and revoking, over the routes."""

from tests.sync.tablets import pair
from tests.web.fairs import Served


def test_a_tablet_is_paired_with_a_code_four_words_and_a_yes_and_writes_what_the_desk_has(
    fair: Served,
) -> None:
    tablet = pair(fair, "member")
    assert tablet.dev == "tablet-1"
    tablet.make("observation.made", "7-001", {"kind": "wear", "words": "rubbed at the rim"})
    said = tablet.push()
    assert [one["status"] for one in said.json()["results"]] == ["ok"]
    assert tablet.pull().status_code == 200
    assert [one["words"] for one in tablet.objects["7-001"]["observations"]] == ["rubbed at the rim"]
