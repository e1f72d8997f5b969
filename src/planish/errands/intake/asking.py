"""Questions that only an exhibitor can answer: asked when a list is taken in, answered at the desk."""

from dataclasses import dataclass

from planish.errands.opening.refusing import refuse
from planish.errands.opening.wiring import OFFICE, Fair
from planish.ledger.journal import Draft


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenQuestion:
    """One open question: its entry number in the log, the object, the words."""

    number: int
    object_id: str
    words: str


def open_questions(fair: Fair) -> tuple[OpenQuestion, ...]:
    """Open questions, oldest first."""
    return tuple(
        OpenQuestion(number=q.n, object_id=q.sub, words=str(q.body.get("words", "")))
        for q in fair.state.questions
    )


def answer(fair: Fair, number: int, said: str, *, who: str = OFFICE) -> str:
    """Record an answer ("same" or "new") to question `number`; a renumbered object takes its new number."""
    event = next((q for q in fair.state.questions if q.n == number), None)
    if event is None:
        raise refuse(f"question {number}", "No open question has this number.", "List them: planish answer.")
    drafts = [
        Draft(kind="question.answered", sub=event.sub, who=who, body={"question": event.id, "words": said}),
        Draft(kind="import.answered", sub=event.sub, who=OFFICE, body={"answer": said}),
    ]
    story = fair.state.objects[event.sub]
    number_now = _new_number(str(event.body.get("words", "")))
    if said == "same" and number_now:
        body = {"number": number_now, "was": story.listed.number}
        drafts.append(Draft(kind="object.renumbered", sub=event.sub, who=OFFICE, body=body))
    fair.record(drafts)
    return f"{event.sub}: {'renumbered' if said == 'same' else 'kept apart'}."


def _new_number(words: str) -> str:
    """The new stock number, which the question names last as «No. X»."""
    _, mark, rest = words.rpartition("No. ")
    return rest.split()[0].strip(".,;:?") if mark and rest else ""
