"""Pictures from strangers: looked at by their first bytes, decoded and re-encoded in a limited child, kept by digest.

Only the re-encoded JPEG is kept and served: upright, without EXIF, profiles or comments. The original is not kept.
"""

import subprocess
import sys
from hashlib import sha256
from pathlib import Path

from planish.errands.hall.blobs import Blobs
from planish.errands.opening.refusing import refuse

FOLDER = "pictures"
MOST_BYTES = 20 * 1_048_576
SECONDS = 20
_MAGIC = ((b"\xff\xd8\xff", "JPEG"), (b"\x89PNG\r\n\x1a\n", "PNG"))


def kind_of(data: bytes) -> str:
    """JPEG, PNG, WEBP by the first bytes; "" for anything else."""
    for start, kind in _MAGIC:
        if data.startswith(start):
            return kind
    return "WEBP" if data[:4] == b"RIFF" and data[8:12] == b"WEBP" else ""


def keep(folder: Path, data: bytes) -> str:
    """Re-encode a picture and keep it; gives the digest of what is kept. Refuses what is no whole picture."""
    kind = kind_of(data)
    if not kind or len(data) > MOST_BYTES:
        what = "It is larger than 20 MB." if kind else "It is no JPEG, PNG or WebP picture."
        raise refuse("picture", what, "Take the picture again, or save it as JPEG.", code="picture.kind")
    made = _re_encoded(data, kind)
    digest = sha256(made).hexdigest()
    place = folder / FOLDER
    place.mkdir(exist_ok=True)
    path = place / f"{digest}.jpg"
    if not path.exists():
        part = place / f"{digest}.part"
        part.write_bytes(made)
        part.replace(path)
    return digest


def read(folder: Path, digest: str) -> bytes | None:
    """A kept picture by its digest; None when there is none, or its bytes are not those.

    A picture that a tablet uploaded is re-encoded when it is first asked for; its original is never served.
    """
    path = folder / FOLDER / f"{digest}.jpg"
    if not path.is_file():
        return _uploaded(folder, digest)
    data = path.read_bytes()
    return data if sha256(data).hexdigest() == digest else None


def _uploaded(folder: Path, digest: str) -> bytes | None:
    """The re-encoded copy of a tablet's picture, made once and kept under both digests."""
    place = folder / FOLDER / "served"
    for kept in place.glob(f"{digest}.*.jpg"):
        data = kept.read_bytes()
        if sha256(data).hexdigest() == kept.name.split(".")[1]:
            return data
    original = Blobs(folder).path(digest)
    if not original.is_file():
        return None
    given = original.read_bytes()
    kind = kind_of(given)
    if sha256(given).hexdigest() != digest or not kind:
        return None
    made = _re_encoded(given, kind)
    place.mkdir(parents=True, exist_ok=True)
    part = place / f"{digest}.part"
    part.write_bytes(made)
    part.replace(place / f"{digest}.{sha256(made).hexdigest()}.jpg")
    return made


def _re_encoded(data: bytes, kind: str) -> bytes:
    try:
        done = subprocess.run(
            [sys.executable, "-I", "-m", "planish.doors.web.picture_child", kind],
            input=data,
            capture_output=True,
            timeout=SECONDS,
            check=False,
        )
    except subprocess.TimeoutExpired:
        done = None
    if done is None or done.returncode != 0 or not done.stdout.startswith(b"\xff\xd8\xff"):
        raise refuse(
            "picture",
            "It cannot be read as a picture, or it has too many pixels (40 million are the most).",
            "Take the picture again, or save it smaller.",
            code="picture.unreadable",
        )
    return done.stdout
