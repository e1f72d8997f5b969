"""Finding seals' codes in pictures and PDF files. Needs the camera extra: pip install 'planish[camera]'.

PDF pages are drawn by `pdftoppm` (Poppler) where the machine has it; nothing among planish's own parts draws PDF.
"""

import io
import shutil
import subprocess
import tempfile
from pathlib import Path

from planish.errands.opening.refusing import refuse
from planish.ledger.sealing.codes import NotACode, open_code

PIXELS = 40_000_000
"""Most pixels of a picture that is opened."""
DPI = 200


def codes_in(path: Path) -> tuple[bytes, ...]:
    """Every different seal found in a picture or PDF, in reading order. Refuses a file in which none is found."""
    pages = _pages(path) if path.suffix.lower() == ".pdf" else [path.read_bytes()]
    found: dict[bytes, None] = {}
    for page in pages:
        for text in _read(page, path):
            try:
                found[open_code(text)] = None
            except NotACode:
                continue  # some other code in the picture
    if not found:
        raise refuse(
            str(path),
            "No seal's code can be read in it.",
            "Photograph the code straight from above, filling half the picture; or type its check code.",
            code="seal.unread",
        )
    return tuple(found)


def _read(picture: bytes, path: Path) -> list[str]:
    try:
        import zxingcpp
        from PIL import Image
    except ImportError:
        raise refuse(
            str(path),
            "Reading codes from pictures needs a part that is not installed.",
            "Install it: pip install 'planish[camera]'; or give the code as text, or its check code.",
            code="camera.absent",
        ) from None
    try:
        with Image.open(io.BytesIO(picture)) as image:
            if image.width * image.height > PIXELS:
                raise refuse(str(path), "The picture is too large.", "Send a smaller one.")
            grey = image.convert("L")
    except (OSError, ValueError, Image.DecompressionBombError):
        raise refuse(str(path), "It is not a picture that can be opened.", "Take PNG or JPEG.") from None
    found = [(item.position, item.text) for item in zxingcpp.read_barcodes(grey)]
    boxes = [(p.top_left.x, p.top_left.y, abs(p.bottom_left.y - p.top_left.y), text) for p, text in found]
    return _as_read(boxes)


def _as_read(boxes: list[tuple[int, int, int, str]]) -> list[str]:
    """Texts row by row, each from the left: cards whose tops differ by less than half a code stand in one row."""
    rows: list[list[tuple[int, int, int, str]]] = []
    for box in sorted(boxes, key=lambda box: box[1]):
        first = rows[-1][0] if rows else None
        if first is not None and box[1] - first[1] < max(first[2], box[2]) / 2:
            rows[-1].append(box)
        else:
            rows.append([box])
    return [text for row in rows for _, _, _, text in sorted(row)]


def _pages(path: Path) -> list[bytes]:
    tool = shutil.which("pdftoppm")
    if tool is None:
        raise refuse(
            str(path),
            "Reading a PDF needs pdftoppm (Poppler), which this machine does not have.",
            "Install Poppler, or give a picture of the page.",
            code="pdf.absent",
        )
    with tempfile.TemporaryDirectory() as folder:
        command = [tool, "-r", str(DPI), "-gray", "-png", "-l", "200", str(path.resolve()), f"{folder}/page"]
        done = subprocess.run(command, capture_output=True, timeout=120, check=False)
        pages = [page.read_bytes() for page in sorted(Path(folder).glob("page*.png"))]
    if done.returncode or not pages:
        raise refuse(str(path), "It is not a PDF that can be opened.", "Give a picture of the page.")
    return pages
