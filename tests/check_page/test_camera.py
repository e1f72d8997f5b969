"""Codes read by the page itself, in a browser that has no reader of its own: from a camera and from a photograph."""

import threading
from collections.abc import Iterator
from functools import partial
from http.server import ThreadingHTTPServer
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from planish.doors.check import served
from planish.ledger.sealing import write_code
from tests.check_page.test_check_page import SEALED, Desk, fair
from tests.conftest import CHROMIUM, FLAGS, missing
from tests.sealing import vectors

pytestmark = pytest.mark.browser


def photograph(seed: int, across: int = 500, size: tuple[int, int] = (960, 720)) -> np.ndarray:
    """A printed code as a phone sees it: turned, in perspective, in uneven light, blurred, with noise. Grey, 8 bits."""
    cv2 = pytest.importorskip("cv2")
    segno = pytest.importorskip("segno")
    chance = np.random.default_rng(seed)
    made = segno.make(write_code(SEALED), error="m", micro=False, boost_error=False)
    grid = np.array([[0 if dark else 255 for dark in row] for row in made.matrix], np.uint8)
    grid = np.pad(grid, 4, constant_values=255)
    code = cv2.resize(grid, (600, 600), interpolation=cv2.INTER_NEAREST)
    middle, half, turn = np.array(size) / 2, across / 2, np.deg2rad(chance.uniform(-20, 20))
    spin = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
    corners = np.array([[-half, -half], [half, -half], [half, half], [-half, half]]) @ spin.T + middle
    corners = corners + chance.uniform(-0.05, 0.05, (4, 2)) * across
    start = np.array([[0, 0], [600, 0], [600, 600], [0, 600]], np.float32)
    warp = cv2.getPerspectiveTransform(start, corners.astype(np.float32))
    inside = cv2.warpPerspective(np.full_like(code, 255), warp, size)
    page = np.where(inside > 0, cv2.warpPerspective(code, warp, size).astype(float) * 0.8 + 25, 215.0)
    page = page * np.linspace(0.75, 1.0, size[0])[None, :]
    page = cv2.GaussianBlur(page, (0, 0), 0.8) + chance.normal(0, 5, page.shape)
    return np.clip(page, 0, 255).astype(np.uint8)


def video(path: Path) -> None:
    """Frames of one code as uncompressed YUV4MPEG2, which Chromium plays as its camera."""
    with path.open("wb") as file:
        file.write(b"YUV4MPEG2 W960 H720 F5:1 Ip A1:1 C420jpeg\n")
        for seed in range(4):
            grey = photograph(seed)
            file.write(b"FRAME\n" + grey.tobytes() + bytes([128]) * (grey.size // 2))


@pytest.fixture
def address() -> Iterator[str]:
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Desk, served([fair()])))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/check/"
    server.shutdown()
    server.server_close()


@pytest.fixture
def camera(tmp_path: Path) -> Iterator[Any]:
    """Chromium with a made-up camera that sees a label, and without a reader of codes of its own."""
    if CHROMIUM is None:
        missing("Chromium is needed to open the pages: apt-get install chromium")
    from playwright.sync_api import sync_playwright

    video(tmp_path / "label.y4m")
    flags = [
        *FLAGS,
        "--use-fake-ui-for-media-stream",
        "--use-fake-device-for-media-stream",
        f"--use-file-for-fake-video-capture={tmp_path / 'label.y4m'}",
    ]
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=CHROMIUM, args=flags)
        context = started.new_context(viewport={"width": 390, "height": 780}, permissions=["camera"])
        page = context.new_page()
        page.set_default_timeout(30_000)
        page.faults = []
        page.on("pageerror", lambda error: page.faults.append(str(error)))
        page.on("console", lambda line: page.faults.append(line.text) if line.type == "error" else None)
        page.add_init_script("delete window.BarcodeDetector")
        yield page
        assert page.faults == []
        started.close()


def test_the_page_reads_a_label_from_the_camera_and_from_a_photograph_with_its_own_reader(
    camera: Any, address: str, tmp_path: Path
) -> None:
    import cv2

    camera.goto(address)
    camera.wait_for_selector("body[data-ready=yes]")
    camera.click("#scan")
    camera.wait_for_selector("#result:visible")
    assert camera.inner_text("#words") == vectors.WORDS.words
    assert not camera.is_visible("#camera"), "the camera is switched off as soon as a code is read"
    cv2.imwrite(str(tmp_path / "photo.png"), photograph(11, across=420))
    cv2.imwrite(str(tmp_path / "nothing.png"), np.full((400, 400), 200, np.uint8))
    camera.set_input_files("#photo", str(tmp_path / "nothing.png"))
    camera.wait_for_function(
        "() => document.getElementById('problem').textContent.startsWith('No code can be read')"
    )
    camera.reload()
    camera.wait_for_selector("body[data-ready=yes]")
    camera.set_input_files("#photo", str(tmp_path / "photo.png"))
    camera.wait_for_selector("#result:visible")
    assert camera.inner_text("#words") == vectors.WORDS.words
