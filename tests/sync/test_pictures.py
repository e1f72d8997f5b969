"""Pictures from tablets: cut anywhere, out of place, spoiled, twice; served only as a re-encoded copy."""

import io
from hashlib import sha256
from typing import Any

import pytest
from PIL import Image

from planish.errands.hall import blobs
from planish.errands.hall.blobs import CHUNK
from tests.sync.tablets import API, Tablet, pair
from tests.web.fairs import BYTES, Served


def photograph(width: int = 1200, height: int = 800) -> bytes:
    """A JPEG of more than two pieces, with a place noted in it."""
    noise = bytes((x * 7 + y * 13 + (x * y) % 251) % 256 for y in range(height) for x in range(width * 3))
    picture = Image.frombytes("RGB", (width, height), noise)
    exif = Image.Exif()
    exif[0x010E] = "MARKPLACE"
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=98, exif=exif)
    return out.getvalue()


DATA = photograph()
NAME = sha256(DATA).hexdigest()


def put(tablet: Tablet, offset: int, piece: bytes, name: str = NAME, size: int = len(DATA)) -> Any:
    params = {"offset": offset, "size": size}
    return tablet.client.put(f"{API}/blobs/{name}", params=params, content=piece, headers=BYTES)


def so_far(tablet: Tablet, name: str = NAME) -> tuple[str, str]:
    said = tablet.client.head(f"{API}/blobs/{name}")
    return said.headers["X-Have"], said.headers["X-Whole"]


def test_an_upload_cut_at_every_piece_resumes_where_the_desk_says(fair: Served) -> None:
    tablet, sent = pair(fair, "member"), 0
    assert len(DATA) > 2 * CHUNK
    while sent < len(DATA):
        assert so_far(tablet) == (str(sent), "0")
        said = put(tablet, sent, DATA[sent : sent + CHUNK]).json()
        sent = said["have"]
        assert said["whole"] is (sent == len(DATA))
    assert so_far(tablet) == (str(len(DATA)), "1")


def test_a_piece_at_the_wrong_place_changes_nothing_and_the_right_place_is_said(fair: Served) -> None:
    tablet = pair(fair, "member")
    put(tablet, 0, DATA[:1000])
    for wrong in (0, 999, 1001, CHUNK):
        said = put(tablet, wrong, DATA[wrong : wrong + 100])
        assert (said.status_code, said.json()["have"]) == (409, 1000)
    assert put(tablet, 1000, DATA[1000:1100]).json()["have"] == 1100


def test_one_flipped_byte_is_refused_at_the_end_and_the_upload_begins_again(fair: Served) -> None:
    tablet = pair(fair, "member")
    bad = bytearray(DATA)
    bad[len(bad) // 2] ^= 1
    for start in range(0, len(bad), CHUNK):
        said = put(tablet, start, bytes(bad[start : start + CHUNK]))
    assert (said.status_code, said.json()["problem"]["code"], said.json()["have"]) == (422, "blob.digest", 0)
    assert so_far(tablet) == ("0", "0")
    for start in range(0, len(DATA), CHUNK):
        said = put(tablet, start, DATA[start : start + CHUNK])
    assert said.json()["whole"]


def test_the_same_picture_from_two_tablets_is_one_file_and_neither_spoils_the_other(fair: Served) -> None:
    one, two = pair(fair, "member"), pair(fair, "leader")
    put(one, 0, DATA[:CHUNK])
    put(two, 0, b"x" * CHUNK)  # another hand sends rubbish under the same name
    assert so_far(one) == (str(CHUNK), "0")
    for start in range(CHUNK, len(DATA), CHUNK):
        put(one, start, DATA[start : start + CHUNK])
    assert so_far(two) == (str(len(DATA)), "1")
    assert put(two, CHUNK, DATA[CHUNK : CHUNK + 10]).json()["whole"]
    files = [file for file in (fair.folder / "blobs").rglob(NAME)]
    assert len(files) == 1


def test_a_picture_is_served_re_encoded_without_what_was_noted_in_it_and_only_to_those_who_may(
    fair: Served,
) -> None:
    tablet = pair(fair, "member")
    tablet.make("picture.taken", "7-001", {"view": "mark"}, att=(NAME,))
    tablet.push_all()
    assert fair["leader"].get(f"{API}/pictures/{NAME}").status_code == 404  # still on the tablet
    for start in range(0, len(DATA), CHUNK):
        put(tablet, start, DATA[start : start + CHUNK])
    said = fair["leader"].get(f"{API}/pictures/{NAME}")
    assert said.status_code == 200
    assert said.content.startswith(b"\xff\xd8\xff")
    assert said.content != DATA
    assert b"MARKPLACE" in DATA
    assert b"MARKPLACE" not in said.content
    assert fair["leader"].get(f"{API}/pictures/{NAME}").content == said.content
    assert fair["office"].get(f"{API}/pictures/{NAME}").status_code == 404
    assert fair.stranger().get(f"{API}/pictures/{NAME}").status_code == 401


def test_what_is_too_large_or_too_much_is_refused_and_a_name_that_is_no_digest_too(
    fair: Served, monkeypatch: pytest.MonkeyPatch
) -> None:
    tablet = pair(fair, "member")
    assert put(tablet, 0, b"x", size=blobs.MOST_BYTES + 1).status_code == 413
    assert put(tablet, 0, b"x" * (CHUNK + 1)).status_code == 413
    assert put(tablet, 0, b"x" * 20, size=10).status_code == 413
    for name in ("../" * 3 + "x", "A" * 64, "0" * 63):
        assert put(tablet, 0, b"x", name=name).status_code in (404, 405, 422)
    monkeypatch.setattr("planish.errands.hall.floor.MOST_BYTES_IN_WINDOW", 1_000)
    assert put(tablet, 0, DATA[:900]).status_code == 200
    said = put(tablet, 900, DATA[900:1_100])
    assert (said.status_code, said.json()["problem"]["code"]) == (429, "quota")


def test_a_full_disk_keeps_what_was_whole_and_says_so(fair: Served, monkeypatch: pytest.MonkeyPatch) -> None:
    tablet = pair(fair, "member")
    put(tablet, 0, DATA[:1000])

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr("planish.errands.hall.blobs.os.fsync", full)
        assert put(tablet, 1000, DATA[1000:2000]).status_code == 507
    assert so_far(tablet) == ("1000", "0")
    assert put(tablet, 1000, DATA[1000:2000]).json()["have"] == 2000
