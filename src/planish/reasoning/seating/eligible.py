"""Who may sit: skills, conflicts with stands, recusals, and whether a quorum is still within reach.

Why somebody may not sit is said as a fact without a reason: a conflict or a recusal is never explained here.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from planish.records import VotingRules


@dataclass(frozen=True, slots=True, kw_only=True)
class Specialist:
    """Somebody who may be asked to sit. `skills` are disciplines; `conflicts` stands on which they never sit."""

    person: str
    skills: tuple[str, ...] = ()
    conflicts: tuple[str, ...] = ()
    present: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Seat:
    """One specialist for one object. `competent` in its discipline; `why_not` is empty when they may sit."""

    person: str
    may_sit: bool
    competent: bool
    why_not: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Seating:
    """All seats in the order asked, who may sit, and what stands in the way of a quorum in words ("" when nothing)."""

    seats: tuple[Seat, ...]
    quorum_in_reach: bool
    why: str = ""

    @property
    def sitting(self) -> tuple[str, ...]:
        """Who may sit."""
        return tuple(s.person for s in self.seats if s.may_sit)


def eligible(
    specialists: Sequence[Specialist],
    *,
    stand: str,
    discipline: str,
    rules: VotingRules,
    recused: Collection[str] = (),
    sat_before: Collection[str] = (),
    needed: int | None = None,
) -> Seating:
    """Who may sit for an object of `discipline` on `stand`, and whether `needed` (else the quorum) can be reached.

    `sat_before` are members of an earlier panel who must not sit again (appeals).
    """
    seats = tuple(_seat(s, stand, discipline, recused, sat_before) for s in specialists)
    sitting = [s for s in seats if s.may_sit]
    wanted = rules.quorum if needed is None else max(needed, rules.quorum)
    competent = sum(s.competent for s in sitting)
    why = ""
    if len(sitting) < wanted:
        why = f"{len(sitting)} may sit, {wanted} are needed."
    elif competent < rules.competent_needed:
        why = f"{competent} competent in {discipline}, {rules.competent_needed} needed."
    return Seating(seats=seats, quorum_in_reach=not why, why=why)


def _seat(
    s: Specialist, stand: str, discipline: str, recused: Collection[str], sat_before: Collection[str]
) -> Seat:
    why = ""
    if s.person in recused:
        why = "stood aside"
    elif stand in s.conflicts:
        why = "does not sit for this stand"
    elif s.person in sat_before:
        why = "sat on the first panel"
    elif not s.present:
        why = "not here"
    return Seat(person=s.person, may_sit=not why, competent=discipline in s.skills, why_not=why)


def appeals_panel(
    specialists: Sequence[Specialist],
    *,
    stand: str,
    discipline: str,
    rules: VotingRules,
    first_panel: Collection[str],
    recused: Collection[str] = (),
) -> Seating:
    """Who may hear an appeal: nobody of the first panel, nobody who stood aside then, and as many as the rules say."""
    return eligible(
        specialists,
        stand=stand,
        discipline=discipline,
        rules=rules,
        recused=recused,
        sat_before=first_panel,
        needed=rules.appeal_members,
    )
