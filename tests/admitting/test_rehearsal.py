"""The list checked at home: what is wrong, the way out and suggested words, once each, in every form it is printed."""

import io

import pytest
from click.testing import CliRunner
from openpyxl import load_workbook

from planish.doors.cli.check import command
from planish.doors.papers import rehearsal
from planish.errands.opening import rulebooks, wiring
from planish.errands.panel.checking import check, suggested
from planish.records import ListedObject

KIT = wiring.Kit(rulebooks.read("saltmere")[0])
EXACT = "Brass candlestick, English, 1743, height 20 cm"
PLATED = "Silver teapot, EPNS, English, c.1890, height 15 cm"


def _checked(text: str):
    return check(ListedObject(id="1-001", stand="1", number="1", text=text), KIT)


def _sheet(*labels: str):
    return rehearsal.sheet([_checked(text) for text in labels], KIT, limit=3, title="List")


def test_exact_words_of_a_remedy_are_put_into_the_label() -> None:
    assert suggested(_checked(EXACT), KIT) == "Brass candlestick, English, c.1743, height 20 cm"


def test_nothing_is_suggested_for_a_sound_label_nor_where_the_new_words_would_be_wrong_too() -> None:
    assert suggested(_checked("Brass candlestick, English, c.1760, height 20 cm"), KIT) == ""
    assert suggested(_checked("Brass tobacco box, Dutch, Georgian, length 15 cm"), KIT) == ""


def test_a_clash_says_its_ways_out_and_its_grounds_once() -> None:
    (fault,) = _sheet(PLATED).lines[0].faults
    assert fault.sentence == "These two cannot both be true: “EPNS” and “Silver”."
    assert fault.remedy.startswith("Either it is plated: the label may not call it silver, or ")
    assert "Electroplating was patented in 1840" in fault.sources[0]
    assert "[" not in fault.sentence + fault.remedy


@pytest.mark.parametrize("words", ["1 to mend", "Suggested words", "c.1743"])
def test_the_page_counts_and_suggests(words: str) -> None:
    assert words in rehearsal.as_html(_sheet(EXACT)).decode("utf-8")


def test_the_workbook_bears_a_comment_suggests_words_and_prints_across() -> None:
    page = load_workbook(io.BytesIO(rehearsal.as_xlsx(_sheet(EXACT)))).active
    assert page is not None
    assert "is one year" in str(page["B2"].comment.text)
    assert page["D2"].value == "Brass candlestick, English, c.1743, height 20 cm"
    assert (page.page_setup.orientation, page.page_setup.fitToWidth) == ("landscape", 1)
    assert page.row_dimensions[2].height >= 30


def test_the_terminal_shows_a_label_whole_and_once(tmp_path) -> None:
    text = (
        "Silver salver, English, c.1760, hallmarked, with a shaped and moulded border, diameter 20 cm, 22 oz"
    )
    listed = tmp_path / "list.csv"
    listed.write_text(f"No.;Label\n1;{text}\n", encoding="utf-8")
    said = CliRunner(env={"COLUMNS": "220"}).invoke(command, [str(listed)])
    assert said.exit_code == 1
    assert said.output.count("Silver salver, English") <= 2  # the label, and the words suggested for it
    assert "22 oz" in said.output
    assert "1 label checked, 1 to mend" in said.output
