"""A point of law or a paper is asked for where the exhibitor reads it, and is never called a fault of the label."""

from planish.doors.papers import rehearsal
from planish.errands.opening import rulebooks, wiring
from planish.errands.panel.checking import check
from planish.records import ListedObject

KIT = wiring.Kit(rulebooks.read("saltmere")[0])


def _checked(text: str):
    return check(ListedObject(id="1-001", stand="1", number="1", text=text), KIT)


def test_ivory_without_a_number_is_asked_for_on_the_paper_an_exhibitor_reads() -> None:
    """UK Ivory Act 2018, ss. 1-9: dealing needs a registration or certificate."""
    seen = _checked("Silver teapot with ivory handle, English, 1790, height 16 cm")
    asked = {fault.code for fault in seen.faults if fault.asks}
    assert {"law.uk_ivory_2022", "material.paper_due"} <= asked

    page = rehearsal.as_html(rehearsal.sheet([seen], KIT, limit=3, title="List")).decode("utf-8")
    assert "A question, before opening." in page
    assert "Off the floor" not in page


def test_a_number_on_the_label_answers_the_paper_and_the_law_still_asks() -> None:
    seen = _checked(
        "Silver teapot with ivory handle, English, 1790, height 16 cm. Ivory Act registration ABC123"
    )
    asked = {fault.code for fault in seen.faults if fault.asks}
    assert "material.paper_due" not in asked
    assert "law.uk_ivory_2022" in asked


def test_a_plain_pewter_plate_is_asked_nothing() -> None:
    seen = _checked("Pewter plate, English, c.1760, diameter 23 cm")
    assert not any(fault.asks for fault in seen.faults)
