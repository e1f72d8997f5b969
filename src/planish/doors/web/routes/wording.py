"""Words: found, asked, agreed by two sides, printed, hung and checked."""

from dataclasses import replace
from typing import Annotated

from fastapi import Path, Query

from planish.doors.web import models, views
from planish.doors.web.areas import area
from planish.doors.web.looking import LEAD, OFFICE, Looking, Staff
from planish.doors.web.pieces import changes_shown
from planish.doors.web.showing import object_shown
from planish.errands.opening.refusing import refuse
from planish.errands.panel import examining
from planish.errands.panel.evidence import as_hung
from planish.errands.telling import reporting
from planish.errands.words import labelling
from planish.ledger.journal import Draft
from planish.ledger.story import Story
from planish.reasoning.wording import changes
from planish.records import AgreedWords, Step

router = area("wording")
Which = Annotated[str, Path(max_length=80)]


@router.get("/objects/{object_id}/words", operation_id="words_found")
def words_found(object_id: Which, looking: Staff) -> views.AgreedWordsShown:
    """The strongest sentence that every finding and all hard evidence carry. Only once the round is closed."""
    story = looking.story(object_id)
    agreed = _agreed(looking, story)
    return views.AgreedWordsShown(
        text=agreed.text,
        house=agreed.house,
        hung=as_hung(story).text,
        changed=agreed.changed,
        changes=changes_shown(agreed.changes),
        steps=[
            views.StepShown(did=one.did, before=one.before, after=one.after, why=list(one.why))
            for one in agreed.steps
        ],
        climbs=[
            views.ClimbShown(words=one.words, look=one.look, minutes=one.minutes, found_by=one.found_by)
            for one in agreed.climbs
        ],
        warnings=list(agreed.warnings),
    )


def _agreed(looking: Looking, story: Story) -> AgreedWords:
    """Words rest on opinions, so they are found only when the round is closed: before, they would give opinions away."""
    looking.must_be(LEAD)
    if not story.revealed:
        raise refuse(
            f"object {story.listed.id}",
            "The round is not closed.",
            "Count it first.",
            code="words.early",
            kind="rule",
        )
    return labelling.reword(looking.desk.fair, examining.count(looking.desk.fair, story))


@router.post("/objects/{object_id}/words/ask", operation_id="ask_words", status_code=201)
def ask_words(object_id: Which, given: models.WordsAsked, looking: Staff) -> views.ObjectShown:
    """Ask for words: those found, or the leader's own."""
    fair = looking.desk.fair
    looking.must_be(LEAD)
    with fair.lock:
        story = looking.story(object_id)
        settled = examining.count(fair, story)
        agreed = _agreed(looking, story)
        if given.house and not given.text and agreed.house:
            agreed = labelling.housed(agreed, settled)
        if given.text:
            hung = as_hung(story).text
            why = (given.reason,) if given.reason else ()
            step = Step(claim="", did="reworded", before=hung, after=given.text, why=why)
            agreed = replace(agreed, text=given.text, changes=changes(hung, given.text), steps=(step,))
        if given.base and given.base != fair.journal.latest("label.asked", sub=object_id):
            version = story.state.label_version + 1
            body = {"version": version, "text": agreed.text, "reason": given.reason}
            fair.record(
                [Draft(kind="label.asked", sub=object_id, who=looking.who, body=body, base=given.base)]
            )
        labelling.ask(fair, settled, agreed, who=looking.who)
    return object_shown(looking, looking.story(object_id))


@router.post("/objects/{object_id}/words/agree", operation_id="agree_words", status_code=201)
def agree_words(object_id: Which, given: models.WordsAgreed, looking: Staff) -> views.ObjectShown:
    """The exhibitor signed on paper at the desk: record both signatures."""
    looking.must_be(LEAD | {"scribe", "office"})
    fair = looking.desk.fair
    with fair.lock:
        story = looking.story(object_id)
        agree(
            looking, story, given.version, for_panel=looking.who, for_exhibitor=f"stand:{story.listed.stand}"
        )
    return object_shown(looking, looking.story(object_id))


def agree(looking: Looking, story: Story, version: int, *, for_panel: str, for_exhibitor: str) -> None:
    """Record that both sides sign the version both saw."""
    if story.label is None or story.label.version != version:
        raise refuse(
            f"object {story.listed.id}",
            "These are no longer the words asked.",
            "Read them again.",
            code="words.changed",
            kind="rule",
        )
    labelling.sign(looking.desk.fair, story.listed.id, for_panel=for_panel, for_exhibitor=for_exhibitor)


@router.post("/objects/{object_id}/words/checked", operation_id="check_hung", status_code=201)
def check_hung(object_id: Which, given: models.LabelChecked, looking: Staff) -> views.ObjectShown:
    """A steward read the hung label: the words as they hang must be those agreed."""
    looking.must_be(LEAD | {"steward", "office"})
    fair = looking.desk.fair
    with fair.lock:
        story = looking.story(object_id)
        label = story.label
        if label is None or label.stage not in ("as_hung", "agreed", "printed"):
            raise refuse(
                f"object {object_id}",
                "No words are ready to hang.",
                "Agree them first.",
                code="words.none",
                kind="rule",
            )
        if " ".join(given.hangs.split()) != " ".join(label.text.split()):
            raise refuse(
                f"object {object_id}",
                "What hangs is not what was agreed.",
                f"The words are: {label.text}",
                code="words.other",
                kind="rule",
            )
        fair.record(
            [Draft(kind="label.checked", sub=object_id, who=looking.who, body={"version": label.version})]
        )
    return object_shown(looking, looking.story(object_id))


@router.get("/wording", operation_id="wording")
def wording(looking: Staff, stand: Annotated[str, Query(max_length=80)] = "") -> list[views.WordingShown]:
    """Every label for which other words are asked, agreed or printed."""
    looking.must_be(LEAD | OFFICE | {"member", "scribe", "steward"})
    may = looking.shown()
    return [
        shown
        for story in reporting.stories(looking.desk.fair, stand)
        if may(story) and (shown := wording_of(story)) is not None
    ]


def wording_of(story: Story) -> views.WordingShown | None:
    """Words asked next to words hung; None when none are asked."""
    label, asked = story.label, reporting.asked_words(story)
    if label is None or not asked:
        return None
    hung = reporting.hung_words(story)
    reasons = [str(e.body.get("reason", "")) for e in story.events if e.kind == "label.asked"]
    return views.WordingShown(
        object=story.listed.id,
        stand=story.listed.stand,
        number=story.listed.number,
        version=label.version,
        stage=label.stage,
        hung=hung,
        asked=asked,
        changes=changes_shown(changes(hung, asked)),
        why=[reason for reason in reasons[-1:] if reason],
    )
