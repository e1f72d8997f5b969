"""The panel's process for one object: sealed first round, talk on a trigger, sealed second round, settled.

A pure state machine: every step returns a new process. Times that tablets tell are written down and never used to
decide anything: order of arrival decides. It always ends, because a phase never goes back to an earlier round.
Nobody can open a ballot: the process answers with counts, reasons and words, and gives a ballot only to its author.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

from planish.reasoning.settling.pooling import agree_on_dates
from planish.reasoning.settling.seeing import Standing, Viewer, answer_without_counts, split_for
from planish.reasoning.settling.settle import settle
from planish.records import Ballot, Circumstances, Outcome, PanelAnswer, Settlement, Split, VotingRules

Phase = Literal["first", "talk", "second", "done"]
Taken = Literal[
    "counted",
    "already_sealed",
    "first_stands",
    "late",
    "not_a_member",
    "recused",
    "wrong_round",
    "wrong_object",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One line of the process's history: what happened and, when the outcome changed, from what to what and why.

    It never says what anybody voted. `told_at` is the time that the sender's clock told, kept as it came.
    """

    number: int
    what: str
    reason: str = ""
    before: Outcome | None = None
    after: Outcome | None = None
    told_at: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelProcess:
    """One object before one panel. Start with `open_panel`; every method returns a new process."""

    object_id: str
    members: tuple[str, ...]
    rules: VotingRules = field(default_factory=VotingRules)
    case: Circumstances = field(default_factory=Circumstances)
    phase: Phase = "first"
    settlement: Settlement | None = None
    history: tuple[Entry, ...] = ()
    recused: frozenset[str] = frozenset()
    disturbed: bool = False
    _sealed: tuple[Ballot, ...] = field(default=(), repr=False)
    _late: tuple[Ballot, ...] = field(default=(), repr=False)

    @property
    def active(self) -> tuple[str, ...]:
        """Members who may vote: everyone not recused."""
        return tuple(m for m in self.members if m not in self.recused)

    @property
    def round(self) -> Literal[1, 2]:
        """The round under way, or the last one held."""
        if self.phase == "second":
            return 2
        return 2 if self.settlement is not None and self.settlement.round == 2 else 1

    @property
    def sealed_by(self) -> frozenset[str]:
        """Who has sealed a ballot in the round (that they did, not what it says)."""
        return frozenset(b.person for b in self._sealed if b.round == self.round and not b.recused)

    @property
    def waiting_for(self) -> tuple[str, ...]:
        """Members whose ballot is still missing while a round is open."""
        if self.phase not in ("first", "second"):
            return ()
        return tuple(m for m in self.active if m not in self.sealed_by)

    @property
    def chair_decides(self) -> bool:
        """True when the chair's casting vote is called for: split after the last round, and nobody has cast it."""
        if self.phase != "done" or self.settlement is None or self.case.casting is not None:
            return False
        why = next((s.values[0] for s in self.settlement.steps if s.rule == "refer"), "")
        return self.rules.casting_vote != "none" and why in ("split", "claims", "binding")

    def own(self, person: str) -> tuple[Ballot, ...]:
        """A member's own ballots, first round first, late ones last: for that member's eyes only."""
        return tuple(b for b in (*self._sealed, *self._late) if b.person == person)

    def seal(self, ballot: Ballot, *, told_at: str = "") -> tuple["PanelProcess", Taken]:
        """Take one sealed ballot and say what became of it. A resend is a no-op; a second, other one does not count."""
        if ballot.recused and ballot.object_id == self.object_id and ballot.person in self.members:
            return self.recuse(ballot.person, told_at=told_at), "recused"
        taken = self._standing_of(ballot)
        if taken == "already_sealed":
            return self, taken
        if taken == "late":
            kept = replace(self, _late=(*self._late, ballot))
            return kept._note("a ballot came late: kept, not counted", told_at=told_at), taken
        if taken != "counted":
            return self._note(f"a ballot was not counted: {taken.replace('_', ' ')}", told_at=told_at), taken
        took = replace(self, _sealed=(*self._sealed, ballot))._note("a ballot was sealed", told_at=told_at)
        return took._close_if_complete(), taken

    def recuse(self, person: str, *, told_at: str = "") -> "PanelProcess":
        """Take a member out of every round, without a reason; quorum and outcome are counted again at once."""
        if person not in self.active:
            return self
        seen = self.phase in ("talk", "done") and person in self.sealed_by
        out = replace(self, recused=self.recused | {person}, disturbed=self.disturbed or seen)
        out = out._note("a member stood aside", told_at=told_at)
        if out.phase == "done" or out.phase == "talk":
            return out._count("a member stood aside after the count, so it was counted again")
        return out._close_if_complete()

    def clock_ends(self, *, told_at: str = "") -> "PanelProcess":
        """The time for the open round is over: count whoever sealed. Without an open round nothing happens."""
        if self.phase not in ("first", "second"):
            return self
        return self._note("time ended", told_at=told_at)._count("time for the round ended")

    def talk_held(self, *, told_at: str = "") -> "PanelProcess":
        """The talk is over: the second round opens. Only after a talk was called for."""
        if self.phase != "talk":
            return self
        opened = replace(self, phase="second", disturbed=False)
        return opened._note(
            "the panel talked; the second round is open", told_at=told_at
        )._close_if_complete()

    def learn(self, case: Circumstances, why: str) -> "PanelProcess":
        """New circumstances (a reading, a conflict) before the object is done; counted again if a count was made."""
        if self.phase == "done":
            return self._note("circumstances came after the panel was done and were not counted", why)
        learnt = replace(self, case=replace(case, casting=None))._note("circumstances changed", why)
        return learnt._count(why) if self.phase == "talk" else learnt

    def cast(self, outcome: Outcome) -> "PanelProcess":
        """The chair's casting vote, only when called for, only relabel or refer."""
        if not self.chair_decides or outcome not in ("relabel", "refer"):
            return self._note("a casting vote was not open and was not counted")
        voted = replace(self, case=replace(self.case, casting=outcome))
        return voted._count("the chair cast the vote that the rule book gives")

    def open_doors(self) -> "PanelProcess":
        """The fair opens: where doubt removes, what is still referred is removed, and the history says why."""
        opened = replace(self, case=replace(self.case, at_opening=True))
        opened = opened._note("the doors open")
        if opened.phase in ("first", "second"):
            opened = opened._count("the doors opened before the round was complete")
        if opened.phase == "talk":
            opened = replace(opened, phase="second")
        return opened._count("the doors opened") if opened.phase in ("second", "done") else opened

    def talk_sheet(self) -> tuple[str, ...]:
        """Reasons to read out, without names, the rarest outcome's first. Empty unless a talk is called for.

        Below the rule book's floor, or after a late recusal, the order says nothing.
        """
        if self.phase != "talk" or self.settlement is None:
            return ()
        counted = [b for b in self._sealed if b.round == 1 and b.person in self.active]
        if len(counted) < self.rules.split_floor or self.disturbed:
            return tuple(sorted({r for b in counted for r in b.reasons}))
        often = Counter(b.outcome for b in counted)
        pairs = {(often[b.outcome], b.outcome or "", r) for b in counted for r in b.reasons}
        return tuple(dict.fromkeys(reason for _, _, reason in sorted(pairs)))

    def split_for(self, viewer: Viewer) -> Split | None:
        """The unnamed split of the round last counted, if this viewer may see it now, else None."""
        if self.settlement is None or self.phase == "second":
            return None
        voted = frozenset(b.person for b in self._sealed if b.round == self.settlement.round)
        standing = Standing(
            closed=True,
            locked=voted,
            recused=self.recused,
            deciding=self.chair_decides,
            disturbed=self.disturbed,
        )
        return split_for(viewer, self.settlement, standing, self.rules)

    def answer(self) -> PanelAnswer | None:
        """What the panel answered, without any count: for everyone who may read the outcome. None until counted."""
        return None if self.settlement is None else answer_without_counts(self.settlement)

    def _standing_of(self, ballot: Ballot) -> Taken:
        if ballot.object_id != self.object_id:
            return "wrong_object"
        if ballot.person not in self.members:
            return "not_a_member"
        if ballot.person in self.recused:
            return "recused"
        earlier = [b for b in self.own(ballot.person) if b.round == ballot.round]
        if ballot in earlier:
            return "already_sealed"
        if any(b in self._sealed for b in earlier):
            return "first_stands"
        open_round = {"first": 1, "second": 2}.get(self.phase, 0)
        if ballot.round == open_round:
            return "counted"
        return "late" if ballot.round <= self.round and self.phase != "first" else "wrong_round"

    def _close_if_complete(self) -> "PanelProcess":
        if self.phase in ("first", "second") and not self.waiting_for:
            return self._count("everyone has sealed")
        return self

    def _count(self, why: str) -> "PanelProcess":
        """Count the last closed round and move on: never back to an earlier round."""
        held = self.round
        sealed = [b for b in self._sealed if b.person in self.active]
        case = self._case([b for b in sealed if b.round == held])
        result = settle(sealed, rules=self.rules, case=case, round=held)
        result = replace(result, object_id=self.object_id, recused=tuple(sorted(self.recused)))
        if result.then == "waiting":
            result = replace(result, then="refer", outcome="refer")
        before = None if self.settlement is None else self.settlement.outcome
        phase: Phase = "talk" if result.then == "talk" else "done"
        counted = replace(self, settlement=result, phase=phase)
        return counted._note("counted", why, before, result.outcome)

    def _case(self, ballots: Sequence[Ballot]) -> Circumstances:
        dates = agree_on_dates([b.date for b in ballots if b.date is not None], self.rules)
        return replace(self.case, eligible=len(self.active), dates=dates or self.case.dates)

    def _note(
        self,
        what: str,
        reason: str = "",
        before: Outcome | None = None,
        after: Outcome | None = None,
        *,
        told_at: str = "",
    ) -> "PanelProcess":
        entry = Entry(
            number=len(self.history) + 1,
            what=what,
            reason=reason,
            before=before,
            after=after,
            told_at=told_at,
        )
        return replace(self, history=(*self.history, entry))


def open_panel(
    object_id: str,
    members: Sequence[str],
    *,
    rules: VotingRules,
    case: Circumstances | None = None,
) -> PanelProcess:
    """Open the first round for one object. `members` may vote; repeats are dropped."""
    return PanelProcess(
        object_id=object_id,
        members=tuple(dict.fromkeys(members)),
        rules=rules,
        case=case or Circumstances(),
    )
