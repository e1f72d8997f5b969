"""Second looks: which few objects to look at again, at what pace faults may slip through, what may have been missed.

    plan = second_looks(fair, capacity=20, sees=…)     what `planish looks` prints
    draw(fair, size=60, seed=7, who="chair")           a blind sample by lot; its seed and its size are written down
    done(fair, story, found="nothing", who="p6")       what a second look found

Whoever looks again must not know why: the list mixes objects picked for their expected cost with objects drawn by
lot, in stand order. What ranks an object rests on votes, so the reckoning (`Reckoned`) is given only for objects whose
unnamed split the reader may see; for everybody else an object is on the list or not. All costs and rates are house
figures until a fair sets its own, and they are printed with the result. Nothing here decides an outcome.
"""

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import Literal

from planish.errands.intake.listing import stand_order
from planish.errands.opening.refusing import refuse
from planish.errands.opening.wiring import Fair
from planish.errands.panel.ballots import covered
from planish.errands.panel.examining import ballots_of
from planish.errands.panel.stakes import ACTED, HOUSE, PASSED, Assumed, votes_of, weighed
from planish.errands.telling.reporting import Only, anything, stories
from planish.ledger.journal import Draft
from planish.ledger.story import Story
from planish.ledger.upcasting import Happened
from planish.reasoning.trending import missed as missing
from planish.reasoning.trending import odds
from planish.reasoning.trending.rates import none_seen_upper, wilson

Found = Literal["fault", "nothing"]
Among = Literal["passed", "seen"]
TOGETHER = 60
"""More ballots of one hand than this in one moment were entered together, so they tell no pace (house default)."""
OPEN = ("listed", "withdrawn", "under_appeal", "reopened")


def nobody(_: Story) -> bool:
    """For a reader who may see no split at all."""
    return False


@dataclass(frozen=True, slots=True, kw_only=True)
class Reckoned:
    """For eyes that may see the split: the chance of a wrong label as a band, saving in second looks, fragile or not."""

    chance: str
    band: str
    saving: float
    fragile: bool
    rank: int


@dataclass(frozen=True, slots=True, kw_only=True)
class LookAgain:
    """One object to look at again. Whether by lot or by cost is not said; `reckoned` None for most readers."""

    object_id: str
    number: str
    words: str
    done: bool
    reckoned: Reckoned | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PaceWarning:
    """One panel's hour in which faults may have slipped through. Of hours and pace, never of people."""

    panel: str
    hour: str
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MaybeMissed:
    """What second looks say of faults that nobody found, with their interval, in sentences that can be printed.

    `sample` passed objects were looked at again out of `passed`; `found` of them had a fault. `both` is the comparison
    of two blind searches when the sample was drawn among everything seen.
    """

    sample: int
    passed: int
    found: int
    low: float
    high: float
    sentence: str
    both: missing.Missed | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SecondLooks:
    """The whole plan: what to look at again in stand order, what the rule book sends anyway, pace, what was missed.

    `covered` objects could not be ranked, because their ballots lie covered until the keys are unlocked.
    """

    capacity: int
    looks: tuple[LookAgain, ...]
    would_pay: int
    referred: int
    covered: int
    pace: tuple[PaceWarning, ...]
    missed: MaybeMissed
    assumptions: tuple[str, ...]


def second_looks(
    fair: Fair,
    *,
    capacity: int,
    sees: Callable[[Story], bool] = nobody,
    only: Only = anything,
    assumed: Assumed = HOUSE,
) -> SecondLooks:
    """Plan second looks for what is left of the day: the `capacity` that save most, mixed with those drawn by lot.

    `sees` says for which objects the reader may see the unnamed split. An object that was looked at again is not
    picked once more. Referred objects get their second look by the rule book and take no place here.
    """
    found = stories(fair, only=only)
    ranked = _ranked(fair, [s for s in found if not _looked_again(s) and not _by_lot(s)], assumed)
    chosen = {look.object_id: (rank, look) for rank, look in enumerate(ranked[: max(0, capacity)], 1)}
    lines = [s for s in found if s.listed.id in chosen or (_by_lot(s) and s.state.examination not in OPEN)]
    ordered = sorted(lines, key=lambda s: (stand_order(s.listed.stand), s.listed.number, s.listed.id))
    return SecondLooks(
        capacity=capacity,
        looks=tuple(_line(s, chosen.get(s.listed.id), sees) for s in ordered),
        would_pay=len(ranked),
        referred=sum(s.state.outcome == "refer" or s.state.examination == "referred" for s in found),
        covered=sum(map(covered, found)),
        pace=pace(found, assumed),
        missed=may_have_been_missed(found),
        assumptions=_assumptions(assumed),
    )


def _ranked(fair: Fair, found: Iterable[Story], assumed: Assumed) -> list[odds.SecondLook]:
    votes = (_votes(fair, s, assumed) for s in found if s.state.outcome in (*PASSED, *ACTED))
    paying = [look for v in votes if v is not None and (look := weighed(v, assumed)).gain > 0]
    return sorted(paying, key=lambda s: (-s.gain, s.object_id))


def _votes(fair: Fair, story: Story, assumed: Assumed) -> odds.Votes | None:
    """Votes of the last closed round that name an outcome; none below the rule book's floor, so that no ballot shows."""
    if not story.revealed or story.state.examination in OPEN or covered(story):
        return None
    away = {cast.who for cast in story.recused}
    counted = [
        b
        for b in ballots_of(fair, story)
        if b.round == max(story.revealed) and b.person not in away and not b.recused
    ]
    return votes_of(story.listed.id, counted, fair.rules.voting.split_floor, assumed)


def _line(
    story: Story, chosen: tuple[int, odds.SecondLook] | None, sees: Callable[[Story], bool]
) -> LookAgain:
    reckoned = None
    if chosen is not None and sees(story):
        rank, look = chosen
        low, high = odds.band_in_words(look.low), odds.band_in_words(look.high)
        reckoned = Reckoned(
            chance=odds.band_in_words(look.p),
            band=low if low == high else f"{low} to {high}",
            saving=round(look.gain, 1),
            fragile=look.fragile,
            rank=rank,
        )
    return LookAgain(
        object_id=story.listed.id,
        number=f"{story.listed.stand}/{story.listed.number or story.listed.id}",
        words=story.label.text if story.label else story.listed.text,
        done=_looked_again(story),
        reckoned=reckoned,
    )


def _assumptions(assumed: Assumed) -> tuple[str, ...]:
    costs = assumed.costs
    return (
        f"House figures: {assumed.base:.0%} of labels wrong before anybody looked, each specialist right "
        f"{assumed.accuracy:.0%} of the time, errors shared with correlation {assumed.shared:g}.",
        f"Costs in second looks: passing a wrong label {costs.pass_wrong:g}, acting against a right one "
        f"{costs.hit_right:g}; a second look settles {costs.settles:.0%} of what it is asked.",
        "With these, three of five against mean about one wrong label in seven, not three in five.",
    )


# -- by lot ---------------------------------------------------------------------------------------------------------


def draw(fair: Fair, *, size: int, seed: int, who: str, among: Among = "passed") -> tuple[str, ...]:
    """Draw objects for a blind second look and write down that they were drawn, with seed and numbers. Gives their ids.

    Among `passed` (accepted as hung) the result says what a clean audit allows; among everything `seen` it compares
    two blind searches. The same seed draws the same. Objects asked before are left out.
    """
    found = [s for s in stories(fair) if _may_be_drawn(s, among)]
    ids = missing.blind_sample([s.listed.id for s in found], size, seed)
    if not ids:
        raise refuse(
            "second looks",
            "There is nothing to draw from.",
            "Count some objects first: planish settle.",
            code="looks.nothing_to_draw",
            kind="rule",
        )
    why = f"drawn by lot, {len(ids)} of {len(found)} {among}, seed {seed}"
    fair.record(
        [Draft(kind="second_look.asked", sub=one, who=who, body={"by": "draw", "why": why}) for one in ids]
    )
    return ids


def _may_be_drawn(story: Story, among: Among) -> bool:
    outcomes = PASSED if among == "passed" else (*PASSED, *ACTED)
    settled = (
        story.state.examination in ("proposed", "confirmed", "final") and story.state.outcome in outcomes
    )
    return settled and not _by_lot(story) and not _looked_again(story)


def done(fair: Fair, story: Story, *, found: Found, who: str, words: str = "") -> None:
    """Record what a second look found. Refuses whoever had a ballot on the object: a second look is a fresh eye's."""
    where = f"second look at {story.listed.stand}/{story.listed.number}"
    if any(cast.who == who for cast in (*story.ballots, *story.recused)):
        raise refuse(
            where,
            f"{who} looked at it the first time.",
            "Have somebody look who has not seen it.",
            code="looks.same_eyes",
            kind="rule",
        )
    if found == "fault" and not words.strip():
        raise refuse(
            where, "A fault was found, and nothing says which.", "Say what was seen.", code="looks.words"
        )
    body = {"found": found, **({"words": words.strip()} if words.strip() else {})}
    fair.record([Draft(kind="second_look.done", sub=story.listed.id, who=who, body=body)])


def _of(story: Story, kind: str) -> list[Happened]:
    return [event for event in story.events if event.kind == kind]


def _by_lot(story: Story) -> bool:
    return any(event.body.get("by") == "draw" for event in _of(story, "second_look.asked"))


def _looked_again(story: Story) -> bool:
    return bool(_of(story, "second_look.done"))


# -- what may have been missed --------------------------------------------------------------------------------------


def may_have_been_missed(found: Sequence[Story]) -> MaybeMissed:
    """What the looks at objects drawn by lot say of everything passed. A look picked for its cost says nothing of the rest."""
    looked = [s for s in found if _by_lot(s) and _looked_again(s)]
    passed = sum(_first_outcome(s) in PASSED for s in found)
    sample = [s for s in looked if _first_outcome(s) in PASSED]
    faults = sum(_has_fault(s) for s in sample)
    low, high = wilson(faults, len(sample)) if faults else (0.0, none_seen_upper(len(sample)))
    acted = [s for s in looked if _first_outcome(s) in ACTED]
    both = None
    if acted:
        again = sum(_has_fault(s) for s in acted)
        both = missing.missed(len(acted), faults + again, again, looked=len(looked))
    return MaybeMissed(
        sample=len(sample),
        passed=passed,
        found=faults,
        low=low * passed,
        high=high * passed,
        sentence=missing.clean_audit(len(sample), passed, found=faults),
        both=both,
    )


def _first_outcome(story: Story) -> str:
    return str(story.outcomes[0].body.get("outcome", "")) if story.outcomes else ""


def _has_fault(story: Story) -> bool:
    return any(event.body.get("found") == "fault" for event in _of(story, "second_look.done"))


# -- pace -----------------------------------------------------------------------------------------------------------


def pace(found: Sequence[Story], assumed: Assumed = HOUSE) -> tuple[PaceWarning, ...]:
    """Hours of a panel that were fast, or that found far less than the fair's own rate, by the desk's clock.

    Ballots that one hand entered together, more than `TOGETHER` in one moment, tell no pace; one line says how many.
    """
    looked, entered = _hours(found)
    told = [s for s in found if s.outcomes]
    faults = {s.listed.id for s in told if _first_outcome(s) not in PASSED}
    rate = len(faults) / len(told) if told else 0.0
    said: list[PaceWarning] = []
    for (panel, hour), ids in sorted(looked.items()):
        one = missing.Hour(hour=0, looked=len(ids), found=len(ids & faults))
        for sentence in missing.rare_fault_guard(
            [one], most_per_hour=assumed.most_per_hour, expected_rate=rate
        ):
            said.append(PaceWarning(panel=panel, hour=hour, sentence=sentence.partition(": ")[2]))
    if entered:
        many = (
            f"{entered} objects were entered many at a time; at what pace they were looked at is not known."
        )
        said.append(PaceWarning(panel="", hour="", sentence=many))
    return tuple(said)


def _hours(found: Sequence[Story]) -> tuple[dict[tuple[str, str], set[str]], int]:
    """Objects by panel and hour of their first ballot, and how many were entered together."""
    first = [
        min((e for e in _of(s, "ballot.locked") if e.body.get("round") == 1), key=lambda e: e.n, default=None)
        for s in found
    ]
    events = [event for event in first if event is not None]
    moments = Counter((event.who, event.recv_ms) for event in events)
    looked: dict[tuple[str, str], set[str]] = {}
    entered = 0
    for event in events:
        if moments[event.who, event.recv_ms] > TOGETHER:
            entered += 1
            continue
        hour = datetime.fromtimestamp(event.recv_ms / 1000, UTC).strftime("%Y-%m-%d %H:00 UTC")
        looked.setdefault((str(event.body.get("panel", "")), hour), set()).add(event.sub)
    return looked, entered


def with_costs(assumed: Assumed, **costs: float) -> Assumed:
    """The same assumptions with other costs: `pass_wrong`, `hit_right`, `look`, `settles`."""
    return replace(assumed, costs=replace(assumed.costs, **costs))
