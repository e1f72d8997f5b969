"""What two people do together: who may ask, who may agree, whether it can be done now, and the doing.

The second person signs with the own passphrase at the same desk, or agrees from where they are signed in.
"""

from collections.abc import Callable
from dataclasses import dataclass

from planish.doors.web import models
from planish.doors.web.failing import Denied
from planish.doors.web.looking import CHAIR, LEAD, OFFICE, Looking
from planish.errands.opening.refusing import Refused, refuse
from planish.errands.panel import examining
from planish.errands.record import redacting
from planish.errands.seals import sealing
from planish.ledger.journal import Draft
from planish.ledger.story import Story


@dataclass(frozen=True, slots=True)
class Act:
    """One act: roles of the first and of the second person, words for it, what must hold, and the doing."""

    asks: frozenset[str]
    agrees: frozenset[str]
    says: str
    ready: Callable[[Looking, Story, models.TwoAsked], None]
    do: Callable[[Looking, Story, models.TwoAsked, str], int]


def led(looking: Looking, object_id: str) -> Story:
    """The object, for somebody who has no conflict with it."""
    story = looking.story(object_id)
    if looking.at(story).conflicted:
        raise Denied
    return story


def rule(object_id: str, what: str, remedy: str, code: str) -> Refused:
    """A clause or a state forbids it."""
    return refuse(f"object {object_id}", what, remedy, code=code, kind="rule")


def may_second(looking: Looking, person: str, story: Story, roles: frozenset[str]) -> bool:
    """True when `person` may sign beside this reader: another person, one of `roles`, no conflict with the object."""
    known = looking.state.people.get(person)
    if known is None or person == looking.who or not known.roles & roles:
        return False
    away = any(cast.who == person for cast in story.recused)
    return (
        not away
        and story.listed.stand not in known.conflicts
        and story.listed.id not in known.object_conflicts
    )


def signed(looking: Looking, given: models.SecondPerson | None, story: Story, roles: frozenset[str]) -> str:
    """The second person, who signed with the own passphrase at this desk; refuses anybody who may not."""
    if given is None:
        raise refuse(
            "second",
            "A second person must agree to this.",
            "Have one sign at this desk, or ask one who is signed in elsewhere.",
            code="second.needed",
            kind="rule",
        )
    if given.person == looking.who:
        raise refuse(
            "second",
            "The second person is another person.",
            "Have somebody else sign.",
            code="second.same",
            kind="rule",
        )
    if not looking.desk.accounts.opens(given.person, given.passphrase, client=looking.client):
        raise refuse(
            "second", "The two do not belong together.", "Look at the spelling.", code="second.wrong"
        )
    if not may_second(looking, given.person, story, roles):
        raise refuse(
            "second",
            "This person may not sign here.",
            "Have another sign.",
            code="second.not_yours",
            kind="rule",
        )
    return given.person


# -- the acts -----------------------------------------------------------------------------------------------------------


def _confirm_ready(_: Looking, story: Story, __: models.TwoAsked) -> None:
    if story.state.examination != "proposed" or story.state.outcome == "refer":
        raise rule(
            story.listed.id, "Nothing is proposed that could be confirmed.", "Count first.", "confirm.nothing"
        )


def _confirm(looking: Looking, story: Story, _: models.TwoAsked, second: str) -> int:
    done = examining.confirm(looking.desk.fair, [story.listed.id], who=looking.who, second=second)
    if not done:
        raise rule(
            story.listed.id,
            "The ballots no longer give what was proposed, so nothing is confirmed.",
            "Count again.",
            "confirm.changed",
        )
    return done


def _final_ready(_: Looking, story: Story, __: models.TwoAsked) -> None:
    if story.state.examination != "confirmed" or story.state.outcome == "refer":
        raise rule(
            story.listed.id,
            "Nothing is confirmed that could be made final.",
            "Confirm first.",
            "final.nothing",
        )


def _final(looking: Looking, story: Story, _: models.TwoAsked, second: str) -> int:
    body = {"outcome": story.state.outcome, **({"second": second} if second else {})}
    draft = Draft(kind="outcome.final", sub=story.listed.id, who=looking.who, body=body)
    return len(looking.desk.fair.record([draft]))


def _reopen_ready(_: Looking, story: Story, asked: models.TwoAsked) -> None:
    if story.state.examination not in ("confirmed", "final", "referred"):
        raise rule(story.listed.id, "It is not decided.", "Go on with it.", "reopen.open")
    _with_reason(story, asked)


def _with_reason(story: Story, asked: models.TwoAsked) -> None:
    if not asked.reason.strip():
        raise refuse(
            f"object {story.listed.id}",
            "No reason is given.",
            "Say why, about the object.",
            code="reason.missing",
        )


def _reopen(looking: Looking, story: Story, asked: models.TwoAsked, second: str) -> int:
    body = {"reason": asked.reason, "second": second}
    draft = Draft(kind="examination.reopened", sub=story.listed.id, who=looking.who, body=body)
    return len(looking.desk.fair.record([draft]))


def _redact_ready(_: Looking, story: Story, asked: models.TwoAsked) -> None:
    event = next((one for one in story.events if one.n == asked.entry), None)
    if event is None or asked.ground is None:
        raise refuse(
            f"entry {asked.entry or ''}".strip(),
            "It is not about this object, or no ground is given.",
            "Look at the history.",
            code="entry.unknown",
        )
    if event.kind.startswith("ballot."):
        raise rule(
            story.listed.id,
            "A ballot is not deleted while its fair lasts.",
            "See the rules of retention.",
            "redact.ballot",
        )


def _redact(looking: Looking, _: Story, asked: models.TwoAsked, second: str) -> int:
    fair = looking.desk.fair
    wanted = redacting.Wanted(entries=(asked.entry or 0,), field=asked.field or "")
    texts = redacting.chosen(fair, wanted, ground=asked.ground or "request")
    done = redacting.redact(fair, texts, ground=asked.ground or "request", who=looking.who, second=second)
    looking.desk.forget()
    return done.texts


def _revoke_ready(_: Looking, story: Story, asked: models.TwoAsked) -> None:
    if story.state.label != "sealed":
        raise rule(story.listed.id, "Its label is not sealed.", "There is nothing to withdraw.", "seal.none")
    _with_reason(story, asked)


def _revoke(looking: Looking, story: Story, asked: models.TwoAsked, second: str) -> int:
    fair = looking.desk.fair
    sealing.revoke(fair, story, who=looking.who, second=second, reason=asked.reason)
    sealing.keep_list(fair, looking.desk.keyring.private() if looking.desk.keyring.unlocked else None)
    return 1


ACTS: dict[str, Act] = {
    "confirm": Act(LEAD, LEAD, "confirm the removal", _confirm_ready, _confirm),
    "final": Act(OFFICE, OFFICE, "make the removal final", _final_ready, _final),
    "reopen": Act(CHAIR, LEAD | OFFICE, "look at it again", _reopen_ready, _reopen),
    "redact": Act(CHAIR, OFFICE, "delete readable text", _redact_ready, _redact),
    "revoke_seal": Act(OFFICE, OFFICE | {"steward"}, "withdraw the seal", _revoke_ready, _revoke),
}
