"""How well a printed seal reads from a photograph, how large it is, and how quickly it is checked.

Codes are drawn at 300 dpi, then photographed by program: turned, in perspective, under uneven light, with a glare spot
and noise, from one distance (so many pixels a millimetre of paper) and at a given blur. Invented labels; real paper and phones will differ.
"""

import time

import cv2
import numpy as np
import segno
import zxingcpp
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from planish.doors.papers.qr import QUIET, SIZES_MM, draw
from planish.ledger.sealing import SealedWords, open_code, open_seal, seal, write_code

TRIES = 20
SHORT = "Pewter flagon, c. 1760, the lid later. Maker’s mark of J. Orrin."
LONG = (
    "Pair of brass candlesticks, English, second quarter of the 18th century, the stems seamed and the petal bases "
    "turned beneath, one nozzle replaced, old solder repair to the foot of the other, polished. Height 19.5 cm."
)
Picture = np.ndarray


def payload(words: str) -> SealedWords:
    return SealedWords(
        fair="Saltmere 2026",
        stand="7",
        number="7-014",
        version=2,
        day="2026-10-14",
        words=words,
        compare=("height 24 cm", "crowned rose"),
        picture=bytes(range(16)),
    )


def printed(text: str, level: str, side_mm: float) -> Picture:
    made = segno.make(text, error=level, micro=False, boost_error=False)
    grid = np.array([[0 if dark else 255 for dark in row] for row in made.matrix], np.uint8)
    grid = np.pad(grid, QUIET, constant_values=255)
    dots = round(side_mm / 25.4 * 300)
    return cv2.resize(grid, (dots, dots), interpolation=cv2.INTER_NEAREST)


def photographed(code: Picture, across: int, blur: float, chance: np.random.Generator) -> Picture:
    side = code.shape[0]
    page = np.full((int(across * 1.6), int(across * 1.6)), 225.0)
    middle, half = page.shape[0] / 2, across / 2
    turn = np.deg2rad(chance.uniform(-25, 25))
    spin = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
    corners = np.array([[-half, -half], [half, -half], [half, half], [-half, half]]) @ spin.T
    corners = corners + middle + chance.uniform(-0.06, 0.06, (4, 2)) * across
    start = np.array([[0, 0], [side, 0], [side, side], [0, side]], np.float32)
    warp = cv2.getPerspectiveTransform(start, corners.astype(np.float32))
    inside = cv2.warpPerspective(np.full_like(code, 255), warp, page.shape[::-1])
    seen = cv2.warpPerspective(code, warp, page.shape[::-1], flags=cv2.INTER_AREA).astype(float)
    page = np.where(inside > 0, seen * 0.82 + 25, page)
    ys, xs = np.mgrid[0 : page.shape[0], 0 : page.shape[1]] / page.shape[0]
    page = page * (0.65 + 0.35 * (xs * chance.uniform(0, 1) + ys * chance.uniform(0, 1)))
    spot = chance.uniform(0.3, 0.7, 2)
    page = page + 70 * np.exp(-((xs - spot[0]) ** 2 + (ys - spot[1]) ** 2) / 0.006)
    page = cv2.GaussianBlur(page, (0, 0), blur)
    return np.clip(page + chance.normal(0, 6, page.shape), 0, 255).astype(np.uint8)


def reads(text: str, level: str, side_mm: float, across: int, blur: float) -> int:
    chance = np.random.default_rng(20261014)
    code = printed(text, level, side_mm)
    good = 0
    for _ in range(TRIES):
        found = zxingcpp.read_barcodes(photographed(code, across, blur, chance))
        good += any(item.text == text for item in found)
    return good


def main() -> None:
    key = Ed25519PrivateKey.from_private_bytes(bytes(range(32)))
    print(
        f"{'label':6} {'form':8} {'bytes':>5} {'chars':>5} {'ECC':3} {'side':>5} {'ver':>3} {'module':>7}   read of {TRIES}: pixels a mm / blur"
    )
    conditions = ((16.0, 0.8), (11.0, 0.8), (16.0, 2.0), (8.0, 0.6))
    print(" " * 58 + "".join(f"{dots:g}/{blur}".rjust(10) for dots, blur in conditions))
    for name, words in (("short", SHORT), ("long", LONG)):
        sealed = seal(payload(words), key)
        for form, text in (
            ("base45", write_code(sealed)),
            ("address", write_code(sealed, address="https://check.example/w")),
        ):
            for level in ("m", "q"):
                for side in SIZES_MM:
                    made = segno.make(text, error=level, micro=False, boost_error=False)
                    module = side / made.symbol_size(border=QUIET)[0]
                    row = [reads(text, level, side, round(dots * side), blur) for dots, blur in conditions]
                    print(
                        f"{name:6} {form:8} {len(sealed):5} {len(text):5} {level:3} {side:5} {made.version:3} {module:6.2f}   "
                        + "".join(f"{n:10}" for n in row)
                    )
        print(
            f"       chosen: {draw(write_code(sealed)).side_mm} mm, version {draw(write_code(sealed)).version}"
        )
    text = write_code(seal(payload(SHORT), key))
    start, count = time.perf_counter(), 2000
    for _ in range(count):
        open_seal(open_code(text), [key.public_key()])
    print(f"checked from text: {count / (time.perf_counter() - start):,.0f} a second")


if __name__ == "__main__":
    main()
