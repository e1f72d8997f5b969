"""Pictures: nothing of the camera's notes leaves the tablet, the name is the digest, and a broken upload goes on."""

import hashlib
import io
import random
from collections.abc import Callable

import pytest
from PIL import Image

from tests.floor.hall import Hall
from tests.floor.tablet import Tablet

pytestmark = pytest.mark.browser
New = Callable[..., Tablet]
PLACE = "MARKPLACE of the hall"


def photograph(side: int = 900) -> bytes:
    """A JPEG as a phone makes it: on its side, with place, time and owner in it (Exif 2.32 tags)."""
    chance = random.Random(5)
    image = Image.frombytes("RGB", (side, side // 2), chance.randbytes(side * (side // 2) * 3))
    exif = Image.Exif()
    exif[0x0112] = 6  # Orientation: turned a quarter
    exif[0x013B] = PLACE  # Artist
    exif.get_ifd(0x8825)[2] = (51.0, 30.0, 0.0)  # GPSLatitude
    out = io.BytesIO()
    image.save(out, "JPEG", quality=92, exif=exif)
    assert PLACE.encode() in out.getvalue()
    return out.getvalue()


_BYTES = """async sha => {
  const db = await new Promise(done => {
    const asked = indexedDB.open('planish-floor', 1);
    asked.onsuccess = () => done(asked.result);
  });
  const asked = db.transaction(['pictures'], 'readonly').objectStore('pictures').get(sha);
  const found = await new Promise(done => { asked.onsuccess = () => done(asked.result); });
  db.close();
  return [...new Uint8Array(await found.bytes.arrayBuffer())];
}"""


def take(tablet: Tablet, object_id: str, content: bytes) -> str:
    """Take a picture; gives its name."""
    tablet.go(f"#/look/{object_id}")
    tablet.page.set_input_files(
        "input[type=file]", {"name": "IMG_0001.jpg", "mimeType": "image/jpeg", "buffer": content}
    )
    tablet.sees("Picture on this tablet, without place, time or camera in it.", seconds=30)
    return str(tablet.rows("pictures")[-1]["sha"])


def test_a_picture_leaves_the_cameras_notes_behind_stands_upright_and_is_named_by_its_bytes(
    hall: Hall, tablet: New
) -> None:
    ben = tablet()
    ben.pair("ben")
    hall.line.cut()
    sha = take(ben, "7-001", photograph())
    kept = bytes(ben.page.evaluate(_BYTES, sha))
    assert hashlib.sha256(kept).hexdigest() == sha
    assert PLACE.encode() not in kept
    shown = Image.open(io.BytesIO(kept))
    assert dict(shown.getexif()) == {}
    assert shown.size == (450, 900)
    hall.line.mend()
    (own,) = ben.sent(1, seconds=60)
    assert own["status"] == "ok"
    ben.until(lambda: ben.rows("pictures")[0]["whole"], "the picture never arrives")
    served = hall.desk.get(f"/pictures/{sha}")
    assert served.status_code == 200
    assert PLACE.encode() not in served.content
    ben.clean()


def test_a_picture_cut_off_in_the_middle_goes_on_where_the_desk_has_got_to(hall: Hall, tablet: New) -> None:
    ben = tablet()
    ben.pair("ben")
    hurt: list[bytes] = []

    def hurting(head: bytes) -> bytes | None:
        """The second piece is lost on its way, once."""
        if hurt or b"offset=524288" not in head.split(b"\r\n")[0]:
            return None
        hurt.append(head)
        return b"HTTP/1.1 503 Service Unavailable\r\nContent-Length: 0\r\nConnection: close\r\n\r\n"

    hall.line.cut()
    take(ben, "8-001", photograph(2400))
    assert ben.rows("pictures")[-1]["size"] > 1_200_000
    hall.line.instead = hurting
    hall.line.mend()
    ben.until(lambda: ben.rows("pictures")[-1]["whole"], "the picture never arrives", seconds=120)
    hall.line.instead = None
    assert len(hurt) == 1
    assert hall.desk.get(f"/pictures/{ben.rows('pictures')[-1]['sha']}").status_code == 200
    ben.clean()
