"""The index against looking through every object one by one: same objects, same order, same count."""

import random
from dataclasses import dataclass, replace

import pytest

from planish.errands.intake.listing import stand_order
from planish.errands.intake.searching import Index, Wanted, folded
from planish.ledger.growing import Growing
from planish.ledger.replay import FairState
from planish.ledger.story import BallotCast, Story
from planish.records.objects import Label, ListedObject, State

NOUNS = ("Pewter plate", "Brass candlestick", "Étain, pot à eau", "Bronze mortar", "copper KETTLE")
STEPS = ("listed", "examining", "withdrawn", "confirmed")


@dataclass
class May:
    """Some stands may not be seen at all; some objects are decided one by one."""

    shut: frozenset[str]
    single: frozenset[str] | None

    def __call__(self, story: Story) -> bool:
        listed = story.listed
        if self.single is None or listed.id in self.single:
            return len(listed.text) % 2 == 0
        return listed.stand not in self.shut


class Many:
    """Objects that change at random, the index following them, and everything asked of both."""

    def __init__(self, seed: int, objects: int) -> None:
        self.chance, self.index = random.Random(seed), Index()
        self.stories: Growing[Story] = Growing()
        self.change([f"{n % 7}-{n:03}" for n in range(objects)])

    def change(self, ids: list[str]) -> None:
        for one in ids:
            self.stories[one] = self.story(one)
        self.state = FairState(objects=self.stories.snapshot())
        self.index.follow(self.state, ids)

    def story(self, one: str) -> Story:
        chance = self.chance
        stand = chance.choice(("1", "2", "10", "A4", "yard"))
        text = f"{chance.choice(NOUNS)} {chance.randrange(30)}, c. 17{chance.randrange(10, 99)}"
        state = State(
            object_id=one,
            place=stand,
            trade="for_sale",
            examination=chance.choice(STEPS),  # type: ignore[arg-type]
            outcome=chance.choice(("", "accept")),
            disciplines=chance.choice(((), ("metalware",), ("metalware", "clocks"))),
        )
        made = Story(state=state, listed=ListedObject(id=one, stand=stand, number=one[2:], text=text))
        if chance.random() < 0.5:
            made = replace(made, labels=(Label(object_id=one, version=1, text=f"{text} x", stage="as_hung"),))
        if chance.random() < 0.3:
            made = replace(made, ballots=(BallotCast(who="ann", round=1, n=1, id="e"),))
        return made

    def plainly(self, wanted: Wanted, may: May) -> list[str]:
        """Every object looked at."""

        def fits(story: Story) -> bool:
            state, listed = story.state, story.listed
            words = story.label.text if story.label else listed.text
            said = folded(f"{listed.id} {listed.stand}/{listed.number} {words}")
            return (
                (state.examination != "withdrawn" or wanted.examination == "withdrawn")
                and wanted.stand in ("", listed.stand)
                and (not wanted.discipline or wanted.discipline in state.disciplines)
                and wanted.examination in ("", state.examination)
                and wanted.outcome in ("", state.outcome)
                and listed.id not in wanted.without
                and all(word in said for word in folded(wanted.text).split())
                and may(story)
            )

        found = [story for story in self.state.objects.values() if fits(story)]
        found.sort(key=lambda one: (stand_order(one.listed.stand), one.listed.stand, one.listed.id))
        return [story.listed.id for story in found]


@pytest.mark.parametrize("seed", range(12))
def test_the_index_finds_what_looking_at_every_object_finds(seed: int) -> None:
    many = Many(seed, 300)
    chance = many.chance
    for _ in range(25):
        many.change([*chance.sample([*many.state.objects], 9), f"9-{chance.randrange(400, 500)}"])
        single = frozenset(chance.sample([*many.state.objects], chance.choice((0, 3))))
        may = May(frozenset(chance.sample(("1", "10", "yard"), 1)), chance.choice((single, single, None)))
        wanted = Wanted(
            text=chance.choice(("", "", "kettle", "etain POT", "c. 1745", "9-4", "10/", "no such word", "plate x")),
            stand=chance.choice(("", "", "10", "A4", "nowhere")),
            discipline=chance.choice(("", "metalware", "clocks")),
            examination=chance.choice(("", "", "withdrawn", "confirmed")),
            outcome=chance.choice(("", "accept")),
            without=many.index.told.get("ann", set()) if chance.random() < 0.4 else (),
        )  # fmt: skip
        right = many.plainly(wanted, may)
        offset, size = chance.choice((0, 5, 60)), chance.choice((3, 50))
        found = many.index.page(many.state, wanted, may=may, offset=offset, size=size)
        assert (found.total, [*found.ids]) == (len(right), right[offset : offset + size]), wanted
        if wanted.text:
            typed = Wanted(text=wanted.text, examination="")
            told = many.index.find(many.state, wanted.text, may=may)
            there = [one.listed.id for one in told if one.state.examination != "withdrawn"]
            assert there == many.plainly(typed, may)
