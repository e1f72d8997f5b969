"""Appeals: lodged within the rule book's window, heard by people who did not sit the first time, decided with reasons.

    terms(fair.rules)                      window, clause, how many must hear it
    standing(fair, story)                  until when, what stands in the way, who may hear it
    lodge(fair, story, words=…, evidence=…, who="stand:7")
    bundle(fair, story)                    what the appeals panel reads: never a ballot, never a count
    decide(fair, story, outcome="relabel", reasons=(…,), members=("p6", …), who="chair")     as they told it

`hearing` counts what they seal at planish instead of at their own table.

The window runs from the slip, or from the outcome where no slip was printed, by the desk's clock. A late appeal is heard
only when somebody of the chair or the office says why. The outcome in force stays until another replaces it, and both
stay on record with their reasons.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from planish.errands.opening import clock
from planish.errands.opening.refusing import Refused, refuse
from planish.errands.opening.wiring import Fair
from planish.errands.panel.evidence import evident
from planish.errands.panel.liking import CaseBook, Like, outcome_reasons
from planish.ledger.journal import Draft
from planish.ledger.story import Story
from planish.ledger.upcasting import Happened
from planish.reasoning.seating import Seating, Specialist, appeals_panel
from planish.reasoning.settling.appeals import Appeal, check_appeal
from planish.reasoning.wording import changes
from planish.records import Observation, Problem, RuleBook, VotingRules
from planish.records.papers import AppealBundle

HOUR_MS = 3_600_000
MAY_APPEAL = ("confirmed", "final")
DECIDES = ("accept", "relabel", "remove")
SITTING = ("member", "leader", "chair", "deputy", "appeals")


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """The rule book's terms: hours from the slip, the clause, whether new evidence is needed, how many hear it."""

    hours: float
    clause: str
    needs_new: bool
    members: int
    open: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class AppealStanding:
    """Where an appeal of one object stands. `until_ms` is the end of the window (ms since 1970), None before an outcome.

    `lodged` is its grounds, "" before; `why_not` what stands in the way of lodging one now; `seating` who may hear it.
    """

    object_id: str
    number: str
    outcome: str
    until_ms: int | None
    lodged: str
    evidence: tuple[tuple[str, str], ...]
    decided: str
    why_not: tuple[Problem, ...]
    seating: Seating
    clause: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Replaced:
    """An outcome that took another's place, with its reasons. The first stays on record."""

    object_id: str
    before: str
    after: str
    reasons: tuple[str, ...]
    clause: str


def terms(rules: RuleBook) -> Terms:
    """What the rule book says of appeals: `appeal_minutes` and `appeal_clause` among its switches; 0 minutes means none."""
    minutes = rules.switches.get("appeal_minutes")
    hours = float(minutes) / 60 if isinstance(minutes, int | float) else rules.voting.appeal_hours
    clause = rules.switches.get("appeal_clause") or rules.voting.clauses.get("appeal_hours", "")
    return Terms(
        hours=hours,
        clause=str(clause),
        needs_new=bool(rules.switches.get("appeal_needs_new_evidence", True)),
        members=rules.voting.appeal_members,
        open=hours > 0,
    )


def standing(fair: Fair, story: Story) -> AppealStanding:
    """Where an appeal of this object stands now. Writes nothing."""
    told, lodged, held = _told_ms(story), lodged_appeal(story), terms(fair.rules)
    return AppealStanding(
        object_id=story.listed.id,
        number=_number(story),
        outcome=story.state.outcome,
        until_ms=None if told is None else told + round(held.hours * HOUR_MS),
        lodged=str(lodged.body.get("words", "")) if lodged else "",
        evidence=_evidence(lodged),
        decided=_decided(story),
        why_not=_nothing_to_appeal(fair, story) or _too_late(fair, story, clock.now_ms()),
        seating=seating(fair, story),
        clause=held.clause,
    )


def lodge(
    fair: Fair,
    story: Story,
    *,
    words: str,
    who: str,
    evidence: Sequence[tuple[str, str]] = (),
    late: str = "",
) -> None:
    """Lodge an appeal. `evidence` are (event id or "", one line) pairs; a paper or picture filed before the outcome is
    not new. Refuses what the rule book refuses; `late` is why it is heard although the window is over.
    """
    problems = [*_nothing_to_appeal(fair, story)]
    if not problems:
        problems = [
            p for p in _form(fair, story, words, evidence) if not (p.code == "appeal.late" and late.strip())
        ]
    if problems:
        raise Refused(problems[0], *problems[1:], kind="rule")
    body: dict[str, object] = {"words": words.strip(), "evidence": [list(pair) for pair in evidence]}
    if late.strip():
        body["late"] = late.strip()
    fair.record([Draft(kind="appeal.lodged", sub=story.listed.id, who=who, body=body)])


def seating(fair: Fair, story: Story) -> Seating:
    """Who may hear an appeal of this object: nobody of the panels that had it, nobody who stood aside, no conflict."""
    state = fair.state
    wanted = set(story.state.disciplines)
    here = " or ".join(story.state.disciplines)
    asked = [
        Specialist(
            person=person.id,
            skills=(here,) if wanted.intersection(person.disciplines) or not person.disciplines else (),
            conflicts=(story.listed.stand,)
            if story.listed.stand in person.conflicts or story.listed.id in person.object_conflicts
            else (),
        )
        for person in state.people.values()
        if person.roles.intersection(SITTING)
    ]
    return appeals_panel(
        asked,
        stand=story.listed.stand,
        discipline=here,
        rules=_rules(fair),
        first_panel=first_panel(fair, story),
        recused={cast.who for cast in story.recused},
    )


def first_panel(fair: Fair, story: Story) -> frozenset[str]:
    """Everybody who had a ballot on the object, and everybody who sits on a panel with one of them.

    Somebody who steps back from the hearing itself was not of the first panel, nor are those who sit beside them.
    """
    lodged = lodged_appeal(story)
    cast_first = (c for c in (*story.ballots, *story.recused) if lodged is None or c.n < lodged.n)
    had = {cast.who for cast in cast_first}
    beside = {
        m for panel in fair.state.panels.values() if had.intersection(panel.members) for m in panel.members
    }
    return frozenset(had | beside)


def bundle(fair: Fair, story: Story, *, book: CaseBook | None = None) -> AppealBundle:
    """Everything the appeals panel reads about one object. `book` saves making the like cases anew for many bundles."""
    lodged = lodged_appeal(story)
    if lodged is None:
        raise refuse(
            f"appeal on {_number(story)}",
            "No appeal is lodged.",
            "Lodge it first: planish appeal ITEM --lodge WORDS --new EVIDENCE.",
            code="appeal.none",
            kind="rule",
        )
    like = (book or CaseBook.of(fair)).like(story)
    held, hung, asked = (
        terms(fair.rules),
        story.labels[0].text if story.labels else story.listed.text,
        _asked(story),
    )
    seen = evident(replace(story, labels=story.labels[:1]), fair.kit)
    told = _before(story)
    return AppealBundle(
        fair=fair.state.name,
        number=_number(story),
        words=hung,
        asked=asked,
        changes=changes(hung, asked) if asked else (),
        outcome=str(told.body.get("outcome", "")) if told else "",
        reasons=_reasons_before(story),
        clauses=tuple(map(str, told.body.get("clauses", ()))) if told else (),
        grounds=str(lodged.body.get("words", "")),
        late=str(lodged.body.get("late", "")),
        new_evidence=tuple(line for one, line in _evidence(lodged) if one not in known(story)),
        not_new=tuple(line for one, line in _evidence(lodged) if one in known(story)),
        readings=tuple(s for one in seen.measured.values() for s in one.sentences),
        seen=tuple(_looked(observation) for observation in story.observations),
        clashes=tuple(clash.sentence for clash in seen.clashes),
        pictures=tuple(str(event.body.get("view", "") or "picture") for event in story.pictures),
        like_cases=tuple(_like_line(one) for one in like.cases),
        alarms=tuple(alarm.sentence for alarm in like.alarms),
        members=held.members,
        clause=held.clause,
    )


def decide(
    fair: Fair, story: Story, *, outcome: str, reasons: Sequence[str], members: Sequence[str], who: str
) -> Replaced:
    """Put the appeals panel's outcome in the place of the first. Refuses members who may not hear it, and no reasons."""
    where, lodged = f"appeal on {_number(story)}", lodged_appeal(story)
    said = tuple(dict.fromkeys(r.strip() for r in reasons if r.strip()))
    if lodged is None or story.state.examination != "under_appeal":
        raise refuse(where, "No appeal is open.", "Lodge one first.", code="appeal.none", kind="rule")
    if outcome not in DECIDES:
        raise refuse(
            where,
            f"{outcome or 'Nothing'} is no end.",
            f"Say one of: {', '.join(DECIDES)}.",
            code="appeal.outcome",
        )
    if not said:
        raise refuse(
            where, "No reason is given.", "Give each reason, about the object.", code="appeal.no_reasons"
        )
    if any(e.kind == "ballot.appeal" and e.body.get("appeal") == lodged.id for e in story.events):
        raise refuse(where, "Views on it are sealed, so they are counted and nobody decides over them.",
                     "Count them: planish appeal ITEM --count.", code="appeal.sealed", kind="rule")  # fmt: skip
    _may_hear(fair, story, members, where)
    return replace_outcome(fair, story, outcome=outcome, reasons=said, members=members, who=who)


def replace_outcome(
    fair: Fair, story: Story, *, outcome: str, reasons: Sequence[str], members: Sequence[str], who: str
) -> Replaced:
    """Write the outcome that takes the first one's place. Whoever calls has seen to it that it may."""
    lodged, said, before = lodged_appeal(story), tuple(reasons), story.state.outcome
    body = {
        "outcome": outcome,
        "appeal": lodged.id if lodged else "",
        "members": list(dict.fromkeys(members)),
        "reasons": list(said),
    }
    fair.record([Draft(kind="appeal.decided", sub=story.listed.id, who=who, body=body)])
    return Replaced(
        object_id=story.listed.id, before=before, after=outcome, reasons=said, clause=terms(fair.rules).clause
    )


def known(story: Story) -> frozenset[str]:
    """Event ids of looks, papers and pictures that were on file before the outcome: the first panel had them."""
    told = _before(story)
    kinds = ("observation.made", "observation.corrected", "paper.filed", "picture.taken")
    return frozenset(e.id for e in story.events if e.kind in kinds and (told is None or e.n < told.n))


def _may_hear(fair: Fair, story: Story, members: Sequence[str], where: str) -> None:
    seats = {seat.person: seat for seat in seating(fair, story).seats}
    hearing = list(dict.fromkeys(members))
    for person in hearing:
        seat = seats.get(person)
        if seat is None or not seat.may_sit:
            why = seat.why_not if seat else "takes no part as a specialist"
            raise refuse(where, f"{person} may not hear it: {why}.", "Have somebody else hear it.",
                         code="appeal.same_panel", kind="rule")  # fmt: skip
    needed, rules = terms(fair.rules).members, fair.rules.voting
    if len(hearing) < needed:
        raise refuse(where, f"{len(hearing)} heard it, {needed} are needed.", "Name everybody who heard it.",
                     code="appeal.quorum", kind="rule")  # fmt: skip
    if sum(seats[person].competent for person in hearing) < rules.competent_needed:
        raise refuse(where, "Nobody who heard it is of the object's discipline.", "Add somebody who is.",
                     code="appeal.competence", kind="rule")  # fmt: skip


def _form(fair: Fair, story: Story, words: str, evidence: Sequence[tuple[str, str]]) -> tuple[Problem, ...]:
    held, told = terms(fair.rules), _told_ms(story) or 0
    listed = tuple(
        (one or f"new {n}", line) for n, (one, line) in enumerate(evidence, 1) if line.strip() or one
    )
    appeal = Appeal(
        object_id=_number(story),
        grounds=words,
        lodged_at=clock.now_ms() / HOUR_MS,
        new_evidence=listed,
    )
    found = check_appeal(appeal, told / HOUR_MS, _rules(fair), known=known(story))
    return tuple(p for p in found if held.needs_new or p.code != "appeal.nothing_new")


def _too_late(fair: Fair, story: Story, now_ms: int) -> tuple[Problem, ...]:
    appeal = Appeal(
        object_id=_number(story), grounds="-", lodged_at=now_ms / HOUR_MS, new_evidence=(("-", "-"),)
    )
    return check_appeal(appeal, (_told_ms(story) or 0) / HOUR_MS, _rules(fair))


def _rules(fair: Fair) -> VotingRules:
    held = terms(fair.rules)
    clauses = {**fair.rules.voting.clauses, "appeal_hours": held.clause}
    return replace(fair.rules.voting, appeal_hours=held.hours, clauses=clauses)


def _nothing_to_appeal(fair: Fair, story: Story) -> tuple[Problem, ...]:
    where, state, held = f"appeal on object {_number(story)}", story.state, terms(fair.rules)
    what = ""
    if not held.open:
        what, remedy = "the rule book knows no appeals.", "Ask the fair office."
    elif state.examination == "under_appeal":
        what, remedy = "is open already.", "Add to it in writing at the office."
    elif _decided(story):
        what, remedy = "was decided; the appeals panel's outcome stands.", "Ask the fair office."
    elif state.examination not in MAY_APPEAL or state.outcome not in ("relabel", "remove"):
        what, remedy = "has no outcome to appeal against.", "Wait for the slip."
    return (
        (Problem(where=where, what=what, remedy=remedy, code="appeal.nothing", severity=2),) if what else ()
    )


def _told_ms(story: Story) -> int | None:
    """When the exhibitor was told: the last slip after the outcome, else its confirming, else the outcome itself."""
    told = _before(story)
    if told is None:
        return None
    later = [e for e in story.events if e.n >= told.n]
    slips = [e.recv_ms for e in later if e.kind == "slip.printed"]
    confirmed = [e.recv_ms for e in later if e.kind == "outcome.confirmed"]
    return max(slips or confirmed, default=told.recv_ms)


def _before(story: Story) -> Happened | None:
    """The event that put the outcome appealed against in force first: its proposal, with clauses and reasons."""
    first = [e for e in story.outcomes if e.kind != "appeal.decided"]
    if not first:
        return None
    same = [e for e in first if e.body.get("outcome") == first[-1].body.get("outcome")]
    return next((e for e in reversed(same) if e.kind == "outcome.proposed"), same[-1])


def _reasons_before(story: Story) -> tuple[str, ...]:
    return outcome_reasons(
        replace(story, outcomes=tuple(e for e in story.outcomes if e.kind != "appeal.decided"))
    )


def lodged_appeal(story: Story) -> Happened | None:
    """The last appeal lodged on the object, open or decided."""
    return next((e for e in reversed(story.events) if e.kind == "appeal.lodged"), None)


def _decided(story: Story) -> str:
    """The appeals panel's outcome while it is the one in force."""
    last = story.outcomes[-1] if story.outcomes else None
    return str(last.body.get("outcome", "")) if last is not None and last.kind == "appeal.decided" else ""


def _evidence(lodged: Happened | None) -> tuple[tuple[str, str], ...]:
    pairs = lodged.body.get("evidence", ()) if lodged else ()
    return tuple((str(one), str(line)) for one, line in pairs)


def _asked(story: Story) -> str:
    label = story.label
    return label.text if label is not None and label.version > 1 and label.stage != "as_hung" else ""


def _looked(seen: Observation) -> str:
    figures = ", ".join(f"{name} {q.amount:g} {q.unit}".strip() for name, q in seen.values.items())
    said = seen.words or figures or ", ".join(seen.terms)
    return f"{seen.kind}{' on the ' + seen.part if seen.part else ''}: {said}"


def _like_line(one: Like) -> str:
    why = f"; {one.reasons[0]}" if one.reasons else ""
    return f"{one.number}, {one.words}: {one.outcome}{why}"


def _number(story: Story) -> str:
    return f"{story.listed.stand}/{story.listed.number or story.listed.id}"
