"""The archive in published forms: BagIt (RFC 8493), Linked Art JSON-LD, EDTF (ISO 8601-2), PDF/A (ISO 19005-2) as far as tools go."""

import json
import re
from pathlib import Path
from xml.etree import ElementTree

import bagit
import pytest
from edtf import parse_edtf
from pyld import jsonld
from pypdf import PdfReader
from pypdf.generic import DictionaryObject, StreamObject

from planish.facts.words import english
from planish.reasoning.reading import read
from planish.records import Conventions, DateValue

CONTEXT = json.loads((Path(__file__).parent / "linked_art_terms.json").read_text(encoding="utf-8"))
CRM = "http://www.cidoc-crm.org/cidoc-crm/"
XMP = {"rdf": "http://www.w3.org/1999/02/22-rdf-syntax-ns#", "pdfaid": "http://www.aiim.org/pdfa/ns/id/"}


def test_the_folder_is_a_bag_by_another_hand(kept: Path) -> None:
    bag = bagit.Bag(str(kept))
    assert bag.validate()
    assert bag.version == "1.0"
    assert set(bag.algorithms) == {"sha256"}


def test_the_other_hand_sees_a_changed_byte(kept: Path, tmp_path: Path) -> None:
    import shutil

    copy = tmp_path / "copy"
    shutil.copytree(kept, copy)
    with (copy / "data" / "objects.jsonl").open("ab") as file:
        file.write(b" ")
    assert not bagit.Bag(str(copy)).is_valid()


def documents(kept: Path) -> list[dict[str, object]]:
    found = [
        json.loads(p.read_text(encoding="utf-8")) for p in sorted((kept / "data" / "linked-art").iterdir())
    ]
    assert len(found) == 2
    return found


def expanded(document: dict[str, object]) -> dict[str, object]:
    """`document` expanded without a network: its context is the one bundled beside this test, any other is refused."""

    def bundled(url: str, _options: object) -> dict[str, object]:
        assert url == "https://linked.art/ns/v1/linked-art.json", url
        return {
            "contextUrl": None,
            "documentUrl": url,
            "document": CONTEXT,
            "contentType": "application/ld+json",
        }

    dropped: list[str] = []
    (one,) = jsonld.expand(document, {"documentLoader": bundled}, dropped.append)
    assert dropped == []
    made: dict[str, object] = one
    return made


def test_objects_expand_against_the_linked_art_context(kept: Path) -> None:
    for document in documents(kept):
        found = expanded(document)
        assert found["@type"] == [f"{CRM}E22_Human-Made_Object"]
        said = [
            v["@value"]
            for s in found[f"{CRM}P67i_is_referred_to_by"]
            for v in s[f"{CRM}P190_has_symbolic_content"]
        ]  # type: ignore[attr-defined, index]
        assert said == [one["content"] for one in document["referred_to_by"]]  # type: ignore[attr-defined]
        (made,) = found[f"{CRM}P108i_was_produced_by"]  # type: ignore[misc]
        (span,) = made[f"{CRM}P4_has_time-span"]
        (first,), (last,) = span[f"{CRM}P82a_begin_of_the_begin"], span[f"{CRM}P82b_end_of_the_end"]
        assert first["@type"] == "http://www.w3.org/2001/XMLSchema#dateTime"
        assert first["@value"] < last["@value"]


def test_every_key_of_an_object_is_a_term_of_the_context(kept: Path) -> None:
    terms = set(CONTEXT["@context"]) | {"@context"}

    def keys(value: object) -> set[str]:
        if isinstance(value, dict):
            return set(value).union(*map(keys, value.values())) if value else set()
        return set().union(*map(keys, value)) if isinstance(value, list) and value else set()

    assert set().union(*map(keys, documents(kept))) <= terms


def test_dates_are_edtf_that_another_library_reads_with_the_same_years(kept: Path) -> None:
    lines = (kept / "data" / "objects.jsonl").read_text(encoding="utf-8").splitlines()
    dates = [date for line in lines for date in json.loads(line)["edtf"]]
    assert dates
    for date in dates:
        assert parse_edtf(date) is not None


@pytest.mark.parametrize(
    "words", ["1743", "c. 1760", "1740–60", "18th century", "1750s", "third quarter of the 18th century", "before 1800", "1780 or later", "George III"],
)  # fmt: skip
def test_the_edtf_of_words_holds_the_years_that_were_read(words: str) -> None:
    claims = read(f"Pewter dish, {words}.", words=english(), conventions=Conventions()).claims
    value = next(c.value for c in claims if isinstance(c.value, DateValue))
    parsed = parse_edtf(value.edtf)
    assert parsed is not None
    first, last = parsed.lower_strict(), parsed.upper_strict()
    years = value.written or value.years
    if value.years.earliest is not None and isinstance(first, tuple):
        assert value.years.earliest <= first[0] <= (years.earliest or first[0]) + 10
    if value.years.latest is not None and isinstance(last, tuple):
        assert (years.latest or last[0]) - 10 <= last[0] <= value.years.latest


def papers(kept: Path) -> list[Path]:
    found = sorted((kept / "data" / "papers").glob("*.pdf"))
    assert len(found) >= 4
    return found


def test_papers_say_that_they_are_pdf_a_2a(kept: Path) -> None:
    for path in papers(kept):
        root = PdfReader(path).trailer["/Root"]
        xml = ElementTree.fromstring(root["/Metadata"].get_object().get_data())
        said = {
            name: next((e.text for e in xml.iter(f"{{{XMP['pdfaid']}}}{name}")), None)
            or next((e.get(f"{{{XMP['pdfaid']}}}{name}") for e in xml.iter() if e.get(f"{{{XMP['pdfaid']}}}{name}")), None)
            for name in ("part", "conformance")
        }  # fmt: skip
        assert said == {"part": "2", "conformance": "A"}, path.name


def test_papers_need_nothing_from_outside_and_run_nothing(kept: Path) -> None:
    """ISO 19005-2: fonts embedded, an output intent, tagged, no encryption, no script (clauses from memory)."""
    for path in papers(kept):
        reader = PdfReader(path)
        root = reader.trailer["/Root"]
        assert not reader.is_encrypted
        assert root["/MarkInfo"]["/Marked"]
        assert root["/Lang"]
        assert root["/OutputIntents"][0]["/DestOutputProfile"].get_object().get_data()
        fonts = [
            o
            for o in objects(reader)
            if isinstance(o, DictionaryObject) and o.get("/Type") == "/FontDescriptor"
        ]
        assert fonts
        assert all(any(name in font for name in ("/FontFile", "/FontFile2", "/FontFile3")) for font in fonts)
        forbidden = re.compile(rb"/JavaScript|/Launch|/EmbeddedFile|/RichMedia|/Movie|/Sound")
        dictionaries = [o for o in objects(reader) if isinstance(o, DictionaryObject)]
        assert not [
            o
            for o in dictionaries
            if forbidden.search(repr({k: v for k, v in o.items() if k != "/Length"}).encode())
        ]


def objects(reader: PdfReader) -> list[object]:
    """Every numbered object of a file, streams by their dictionaries."""
    found = []
    for number in range(1, int(reader.trailer["/Size"])):
        one = reader.get_object(number)
        found.append(DictionaryObject(one) if isinstance(one, StreamObject) else one)
    return found
