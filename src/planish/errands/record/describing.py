"""One object for readers who have no planish: in plain fields (Object ID's headings) and as Linked Art JSON-LD."""

from typing import Any

from planish.errands.panel.checking import Checked
from planish.ledger.replay import FairState
from planish.ledger.story import Story
from planish.records import DateValue, MeasureValue, TermValue, Years

CONTEXT = "https://linked.art/ns/v1/linked-art.json"
STATEMENT = {"id": "http://vocab.getty.edu/aat/300435416", "type": "Type", "_label": "Description"}
BRIEF = {"id": "http://vocab.getty.edu/aat/300418049", "type": "Type", "_label": "Brief Text"}


def plain(story: Story, checked: Checked) -> dict[str, Any]:
    """Object ID's headings (Thornes 1999) as far as the label speaks, with the words hung and agreed, and the outcome."""
    reading = checked.reading
    dates = [c.value for c in reading.claims if isinstance(c.value, DateValue) and c.side == "date"]
    label = story.label
    return {
        "id": story.listed.id,
        "stand": story.listed.stand,
        "number": story.listed.number,
        "type_of_object": list(_terms(checked, "object")),
        "materials_and_techniques": [*_terms(checked, "material"), *_terms(checked, "technique")],
        "measurements": [c.words for c in reading.claims if isinstance(c.value, MeasureValue)],
        "inscriptions_and_markings": [c.words for c in reading.claims if c.side in ("mark", "inscription")],
        "date_or_period": [c.words for c in reading.claims if c.side in ("date", "period")],
        "edtf": [date.edtf for date in dates if date.edtf],
        "maker": [c.words for c in reading.claims if c.side == "maker"],
        "words_as_hung": _hung(story),
        "words_now": label.text if label else story.listed.text,
        "label": story.state.label,
        "outcome": story.state.outcome,
        "examination": story.state.examination,
        "reasons": _reasons(story),
    }


def _terms(checked: Checked, side: str) -> list[str]:
    claims = (c for c in checked.reading.claims if c.side == side and c.strength != "denied")
    return list(dict.fromkeys(c.value.term for c in claims if isinstance(c.value, TermValue)))


def _hung(story: Story) -> str:
    return story.labels[0].text if story.labels else story.listed.text


def _reasons(story: Story) -> list[str]:
    return [str(r) for event in story.outcomes[-1:] for r in event.body.get("reasons", ())]


def linked_art(state: FairState, story: Story, checked: Checked) -> dict[str, Any]:
    """A HumanMadeObject with its label as a statement, its number, and the years that the label claims."""
    uri = f"urn:planish:{state.id}:{story.listed.id}"
    label = story.label
    made: dict[str, Any] = {
        "@context": CONTEXT,
        "id": uri,
        "type": "HumanMadeObject",
        "_label": (label.text if label else story.listed.text)[:120],
        "identified_by": [
            {
                "type": "Identifier",
                "content": f"stand {story.listed.stand}, no. {story.listed.number}",
                "_label": "Stand and stock number",
            }
        ],
        "referred_to_by": [
            {
                "type": "LinguisticObject",
                "classified_as": [{**STATEMENT, "classified_as": [BRIEF]}],
                "content": label.text if label else story.listed.text,
                "_label": f"Label, {story.state.label.replace('_', ' ')}",
            }
        ],
    }
    span = _timespan(checked.reading.years)
    if span:
        made["produced_by"] = {"type": "Production", "timespan": span}
    materials = _terms(checked, "material")
    if materials:
        made["made_of"] = [{"type": "Material", "_label": term} for term in materials]
    return made


def _timespan(years: Years) -> dict[str, Any]:
    span: dict[str, Any] = {"type": "TimeSpan"}
    if years.earliest is not None and years.earliest > 0:
        span["begin_of_the_begin"] = f"{years.earliest:04d}-01-01T00:00:00Z"
    if years.latest is not None and years.latest > 0:
        span["end_of_the_end"] = f"{years.latest:04d}-12-31T23:59:59Z"
    return span if len(span) > 1 else {}
