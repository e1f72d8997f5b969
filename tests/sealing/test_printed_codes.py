"""How wide a seal's code is printed: modules no narrower than what reads, on a card that still has room for the words."""

import io
from datetime import UTC, datetime

import pypdf
import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from planish.doors.papers import printing
from planish.doors.papers.qr import MODULE_MM, SIZES_MM, draw, fits
from planish.ledger.sealing import SealedWords, seal, write_code
from planish.records.papers import LabelCard

KEY = Ed25519PrivateKey.from_private_bytes(bytes(range(32)))
TYPICAL = "Pewter flagon, c. 1760, the lid later. Maker’s mark of J. Orrin."
LONG = (
    "Pair of brass candlesticks, English, second quarter of the 18th century, the stems seamed and the petal bases "
    "turned beneath, one nozzle replaced, old solder repair to the foot of the other, polished. Height 19.5 cm."
)


def code(words: str, address: str = "") -> str:
    said = SealedWords(
        fair="Saltmere 2026", stand="7", number="7-014", version=2, day="2026-10-14", words=words,
        compare=("height 24 cm", "crowned rose"), picture=bytes(16),
    )  # fmt: skip
    return write_code(seal(said, KEY), address=address)


@pytest.mark.parametrize("address", ["", "https://check.example/w"], ids=["base45", "address"])
@pytest.mark.parametrize("words", [TYPICAL, LONG], ids=["typical", "long"])
def test_modules_are_as_wide_as_reads_well_for_typical_and_long_labels(words: str, address: str) -> None:
    drawn = draw(code(words, address))
    assert MODULE_MM >= 0.38
    assert drawn.module_mm >= MODULE_MM
    narrower = [size for size in SIZES_MM if size < drawn.side_mm]
    assert not fits(code(words, address), sizes=tuple(narrower)), "no narrower one would do"


def test_a_label_longer_than_any_code_holds_gets_the_widest_one() -> None:
    longest = code(LONG + LONG, "https://check.example/w")
    assert draw(longest).side_mm == SIZES_MM[-1]
    assert not fits(longest)


@pytest.mark.parametrize(
    "words", [TYPICAL, LONG, LONG[:-1] + ", engraved later with a coat of arms, marked “IT” beneath."]
)
def test_the_words_stand_whole_beside_the_widest_code(words: str) -> None:
    heading, _, body = words.partition(", ")
    card = LabelCard(
        heading=heading, body=body, foot="Stand 7 · No. 14 · version 2", price="£450", check="ABCD-EFGH-1",
        code=code(words, "https://check.example/w"),
    )  # fmt: skip
    pdf = pypdf.PdfReader(io.BytesIO(printing.labels([card], made=datetime(2026, 1, 1, tzinfo=UTC))))
    assert len(pdf.pages) == 1
    told = " ".join(pdf.pages[0].extract_text().replace("-\n", "").split())
    assert all(word.strip(",.") in told for word in words.split())
    bottom = {item: _bottom(pdf, item) for item in ("Stand", words.rstrip(".").split()[-1])}
    assert bottom[words.rstrip(".").split()[-1]] > bottom["Stand"], "the words end above the foot"


def _bottom(pdf: pypdf.PdfReader, word: str) -> float:
    """The lowest place on the page, in points from its foot, at which a piece of text with this word begins."""
    found: list[float] = []

    def see(text: str, cm: list[float], tm: list[float], *_: object) -> None:
        if word in text:
            found.append(tm[4] * cm[1] + tm[5] * cm[3] + cm[5])

    pdf.pages[0].extract_text(visitor_text=see)
    return min(found)
