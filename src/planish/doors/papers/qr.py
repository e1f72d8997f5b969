"""A seal's code as a picture: QR at level M, as large as it must be for a phone in hall light.

Blur, not damage, is what makes a printed code unreadable, so modules must be wide: a higher correction level makes
more and narrower modules and reads worse (measured: `bench/seals.py`).
"""

import io
from dataclasses import dataclass

import segno

MODULE_MM = 0.38
"""Narrowest module that read reliably after blur in our measurements."""
SIZES_MM = (25.0, 30.0, 35.0, 40.0)
"""The wider the code, the longer the label it holds; the widest leaves the words a third of the card."""
QUIET = 4


@dataclass(frozen=True, slots=True)
class Code:
    """A QR code ready to print: SVG, its side in mm (quiet zone included), version 1..40, width of a module in mm."""

    svg: str
    side_mm: float
    version: int
    module_mm: float


def draw(text: str, *, sizes: tuple[float, ...] = SIZES_MM) -> Code:
    """The code of `text` in the smallest of `sizes` whose modules are at least MODULE_MM wide; else in the largest."""
    made = segno.make(text, error="m", micro=False, boost_error=False)
    modules = made.symbol_size(border=QUIET)[0]
    side = next((size for size in sizes if size / modules >= MODULE_MM), sizes[-1])
    out = io.BytesIO()
    made.save(
        out,
        kind="svg",
        border=QUIET,
        xmldecl=False,
        dark="#000",
        light="#fff",
        unit="mm",
        scale=side / modules,
    )
    return Code(out.getvalue().decode("utf-8"), side, int(made.version), side / modules)


def fits(text: str, *, sizes: tuple[float, ...] = SIZES_MM) -> bool:
    """True when the code of `text` has modules of at least MODULE_MM in one of `sizes`."""
    modules = segno.make(text, error="m", micro=False, boost_error=False).symbol_size(border=QUIET)[0]
    return any(size / modules >= MODULE_MM for size in sizes)
