"""The year ribbon: sound SVG, nothing fetched, readable without colour, and words that say the same."""

import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from planish.doors.cli import ribbon as ribbon_command
from planish.doors.cli import weigh as weigh_command
from planish.doors.papers.case_file import CaseFile, read_case
from planish.doors.papers.ribbon import (
    Bar,
    Bracket,
    Gap,
    Opinion,
    RibbonPart,
    RibbonSpec,
    ribbon,
    ribbon_words,
)
from planish.doors.papers.ribbon_from import spec_from
from planish.reasoning.weighing import weigh
from planish.records import Years

EXAMPLE = Path(__file__).parents[2] / "docs" / "examples" / "quart-pot.toml"
SVG = "{http://www.w3.org/2000/svg}"


def example() -> CaseFile:
    return read_case(EXAMPLE.read_text(encoding="utf-8"), EXAMPLE.name)


def spec_of(found: CaseFile, **more: object) -> RibbonSpec:
    return spec_from(weigh(found.case, found.settings), found.case, opinions=found.opinions, **more)  # type: ignore[arg-type]


def drawn_text(svg: str) -> str:
    return " ".join(t.text or "" for t in ET.fromstring(svg).iter(f"{SVG}text"))


def test_the_ribbon_of_the_example_names_everything_in_picture_and_words_alike() -> None:
    spec = spec_of(example())
    drawn, words = drawn_text(ribbon(spec)), ribbon_words(spec)
    for said in ("Clash: the label ends 1740, 5 begins 1838", "“c. 1730”", "8 chances in ten"):
        assert said in drawn
        assert said in words
    for bar in spec.parts[0].bars:
        assert bar.label in words
        assert bar.label.split()[0] in drawn
    assert "An opinion: 1720–1745, best 1730." in words


def test_the_ribbon_is_sound_xml_with_title_and_description_and_fetches_nothing() -> None:
    svg = ribbon(spec_of(example()))
    root = ET.fromstring(svg)
    assert root.attrib["viewBox"].startswith("0 0 760")
    assert root.find(f"{SVG}desc").text == ribbon_words(spec_of(example()))  # type: ignore[union-attr]
    assert re.findall(r"href|url\((?!#)|@import|<script|<style", svg) == []
    assert svg.count("http") == 1  # the name of the SVG language itself


def test_every_tint_has_a_sign_of_its_own_in_black_and_white() -> None:
    svg = ribbon(spec_of(example()))
    assert re.search(r'fill="url\(#r[0-9a-f]{8}h\)"', svg)  # clash: hatching
    doubted = [p for p in re.findall(r"<path[^>]*>", svg) if "stroke-dasharray" in p]
    assert doubted  # doubted: a broken outline
    solid = re.findall(r'fill="#3e7d71" stroke', svg)
    hollow = re.findall(r'fill="#fbf7ee" stroke', svg)
    assert solid
    assert hollow
    legend = drawn_text(svg)
    for word in ("cannot be imitated backwards", "can be imitated", "doubted", "clash"):
        assert word in legend


def test_equal_specs_draw_equal_ribbons_and_two_ribbons_on_one_page_share_no_names() -> None:
    spec = spec_of(example())
    assert ribbon(spec) == ribbon(spec)
    other = ribbon(replace(spec, title="Another pot"))
    ids = [set(re.findall(r' id="([^"]+)"', svg)) for svg in (ribbon(spec), other)]
    assert ids[0].isdisjoint(ids[1])


def test_parts_stand_on_the_same_years() -> None:
    part = RibbonPart(name="cover", bars=(Bar(id="b", number=1, label="a", spans=(Years(1750, 1760),)),))
    svg = ribbon(RibbonSpec(title="t", first=1700, last=1800, parts=(part, replace(part, name="body"))))
    bars = re.findall(r'<path d="(M[\d.]+) [\d.]+(H[\d.]+)v7', svg)
    assert len(bars) == 2
    assert bars[0] == bars[1]


def test_the_small_ribbon_is_narrow_and_says_the_same() -> None:
    small = spec_of(example(), size="small")
    assert 'viewBox="0 0 380' in ribbon(small)
    assert ribbon_words(small) == ribbon_words(spec_of(example()))


def test_an_open_edge_becomes_an_arrow_and_a_known_edge_a_bar() -> None:
    def path_of(years: Years) -> str:
        bar = Bar(id="b", number=1, label="a", spans=(years,))
        svg = ribbon(RibbonSpec(title="", first=1700, last=1800, parts=(RibbonPart(name="", bars=(bar,)),)))
        return re.findall(r'<path d="(M[^"]*)" fill="#fbf7ee"', svg)[0]

    assert path_of(Years(1750, None)).count("L") == 2
    assert path_of(Years(None, 1750)).count("L") == 1
    assert path_of(Years(1740, 1750)).count("L") == 0


ANY_YEARS = st.tuples(st.none() | st.integers(-50, 2500), st.none() | st.integers(-50, 2500)).map(
    lambda t: Years(*sorted(t)) if None not in t else Years(*t)  # type: ignore[type-var]
)


@given(
    words=st.text(max_size=80),
    spans=st.lists(ANY_YEARS, min_size=1, max_size=4),
    curve=st.lists(st.floats(0, 1), max_size=30),
    size=st.sampled_from(["full", "small"]),
)
@settings(max_examples=60, deadline=None)
def test_any_words_and_any_years_give_sound_xml(
    words: str, spans: list[Years], curve: list[float], size: str
) -> None:
    part = RibbonPart(
        name=words[:20],
        claims=(Bracket(words=words, years=spans[0]),),
        bars=(Bar(id=words, number=1, label=words, spans=tuple(spans), binding=True, doubted=True),),
        opinions=(Opinion(years=spans[-1]),),
        curve_first=1700,
        curve=tuple(curve),
        clashes=(Gap(name=words, years=spans[0], rows=(0, 1)),),
        more_clashes=2,
    )
    spec = RibbonSpec(title=words, first=1690, last=1810, parts=(part,), size=size)  # type: ignore[arg-type]
    root = ET.fromstring(ribbon(spec))
    numbers = re.findall(r"[ML ](-?[\d.]+|nan|inf)", " ".join(p.attrib["d"] for p in root.iter(f"{SVG}path")))
    assert all(float(n) == float(n) for n in numbers)


# --- the commands -----------------------------------------------------------------------------------------------------


def test_weigh_says_band_clash_ways_out_and_next_look_in_sentences() -> None:
    done = CliRunner().invoke(weigh_command.command, [str(EXAMPLE)])
    assert done.exit_code == 0
    for said in (
        "“c. 1730” is unlikely (5–20 %).",
        "These two cannot both be true: the label says “c. 1730”",
        "later copy",
        "later part",
        "misreading",
        "Next look",
    ):
        assert said in done.output
    for word in ("authentic", "certified", "guaranteed", "approved", "fake", "score", "grade"):
        assert word not in done.output.lower()


def test_what_if_without_the_hinge_the_claim_is_rather_likely() -> None:
    done = CliRunner().invoke(weigh_command.command, [str(EXAMPLE), "--without", "hinge"])
    assert "is rather likely (60–80 %)" in done.output
    assert "What clashes" not in done.output


def test_what_if_the_hinge_is_doubted_the_claim_rises() -> None:
    import json

    def chance(*more: str) -> float:
        done = CliRunner().invoke(weigh_command.command, [str(EXAMPLE), "--json", *more])
        return float(json.loads(done.output)["weighing"]["claims"][0]["probability"])

    assert chance() < chance("--doubt", "hinge=0.2") < chance("--doubt", "hinge=0.6")


@pytest.mark.parametrize(
    ("name", "begins"), [("pot.svg", b"<svg"), ("pot.png", b"\x89PNG"), ("pot.pdf", b"%PDF")]
)
def test_the_ribbon_is_written_as_svg_png_and_pdf(tmp_path: Path, name: str, begins: bytes) -> None:
    done = CliRunner().invoke(ribbon_command.command, [str(EXAMPLE), str(tmp_path / name)])
    assert done.exit_code == 0, done.output
    assert (tmp_path / name).read_bytes().startswith(begins)


def test_the_text_of_the_pdf_can_be_selected(tmp_path: Path) -> None:
    from pypdf import PdfReader

    CliRunner().invoke(ribbon_command.command, [str(EXAMPLE), str(tmp_path / "pot.pdf")])
    text = "".join(page.extract_text() for page in PdfReader(tmp_path / "pot.pdf").pages)
    assert "Clash: the label ends 1740" in text


BAD = {
    "not TOML": ("title = ", "not sound TOML"),
    "no claim": ("title = 'x'", "No claim"),
    "an item without years": ("[[claim]]\nwords='a'\nyears=[1700,1710]\n[[item]]\nsays='x'", "years"),
    "years the wrong way round": ("[[claim]]\nwords='a'\nyears=[1720,1690]", "ends before it begins"),
    "an unknown event": ("[[claim]]\nwords='a'\nyears=[1700,1710]\nevent='polished'", "no event is called"),
    "an unknown setting": ("[[claim]]\nwords='a'\nyears=[1700,1710]\n[settings]\nlucky=1", "no such setting"),
    "a part that does not exist": (
        "[[claim]]\nwords='a'\nyears=[1700,1710]\n[[item]]\nsays='x'\nyears=[1700,1720]\npart='spout'",
        "does not have",
    ),
    "a year outside the grid": ("[[claim]]\nwords='a'\nyears=[1200,1210]", "No year of"),
}


@pytest.mark.parametrize("case", BAD)
def test_a_case_that_cannot_be_used_is_explained_without_a_traceback(case: str, tmp_path: Path) -> None:
    text, said = BAD[case]
    (tmp_path / "case.toml").write_text(text, encoding="utf-8")
    done = CliRunner().invoke(weigh_command.command, [str(tmp_path / "case.toml")])
    assert done.exit_code == 2
    assert said in done.output
    assert "Traceback" not in done.output
    assert isinstance(done.exception, SystemExit)


def test_an_unknown_item_is_named_with_those_there_are() -> None:
    done = CliRunner().invoke(weigh_command.command, [str(EXAMPLE), "--without", "lid"])
    assert done.exit_code == 2
    assert "hinge" in done.output


def test_a_label_in_the_case_file_is_read_like_any_label() -> None:
    found = read_case('label = "Pewter flagon, c. 1720"\n', "x")
    assert [c.years for c in found.case.claims] == [Years(1710, 1730)]
    assert found.problems == ()
