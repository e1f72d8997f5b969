"""Seals checked per second by Python, by the check page's own code in Node and in Chromium; bytes and QR version beside them.

The same code text is opened again and again: text → bytes → header → Ed25519 → words; the best of three runs counts. Node and Chromium are left out
where they are not on the machine. Invented labels.

    python -m bench.seal_rates
"""

import json
import shutil
import subprocess
import threading
import time
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat

import planish.doors.check as check_page
from bench.seals import LONG, SHORT, payload
from planish.doors.papers.qr import draw
from planish.ledger.sealing import open_code, open_seal, seal, write_code
from planish.ledger.sealing.cose import key_id

PLACE = Path(check_page.__file__).parent
ADDRESS = "https://check.example/w"
KEY = Ed25519PrivateKey.from_private_bytes(bytes(range(32)))
SECONDS, RUNS = 0.7, 3
LOOP = """async ({ openCode, openSeal }, text, keys, ms) => {
  let best = 0;
  for (let run = 0; run < RUNS; run += 1) {
    const start = performance.now();
    let count = 0;
    for (; performance.now() < start + ms; count += 1) await openSeal(openCode(text), keys);
    best = Math.max(best, count / (performance.now() - start) * 1000);
  }
  return best;
}""".replace("RUNS", str(RUNS))


def keys() -> list[dict[str, str]]:
    raw = KEY.public_key().public_bytes(Encoding.Raw, PublicFormat.Raw)
    return [{"id": key_id(KEY.public_key()).hex(), "ed25519": raw.hex()}]


def in_python(text: str) -> float:
    return max(_python_run(text) for _ in range(RUNS))


def _python_run(text: str) -> float:
    known, count, start = [KEY.public_key()], 0, time.perf_counter()
    while (took := time.perf_counter() - start) < SECONDS:
        open_seal(open_code(text), known)
        count += 1
    return count / took


def in_node(text: str) -> float | None:
    node = shutil.which("node")
    if node is None:
        return None
    given = ", ".join(json.dumps(one) for one in (text, keys(), SECONDS * 1000))
    script = f"import * as s from {json.dumps((PLACE / 'seal.js').as_uri())}; console.log(await ({LOOP})(s, {given}));"
    command = [node, "--no-warnings", "--input-type=module", "-e", script]
    return float(subprocess.run(command, capture_output=True, text=True, check=True).stdout)


def in_chromium(text: str) -> float | None:
    chromium = shutil.which("chromium")
    if chromium is None:
        return None
    from playwright.sync_api import sync_playwright

    class Quiet(SimpleHTTPRequestHandler):
        def log_message(self, *_: object) -> None: ...

    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=str(PLACE)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    origin = f"http://127.0.0.1:{server.server_port}"
    try:
        with sync_playwright() as play:
            browser = play.chromium.launch(executable_path=chromium, args=["--no-sandbox", "--disable-gpu"])
            page = browser.new_page()
            page.route(
                f"{origin}/empty",
                lambda route: route.fulfill(body="<!doctype html>", content_type="text/html"),
            )
            page.goto(f"{origin}/empty")
            asked = f"async ([text, keys, ms]) => ({LOOP})(await import('/seal.js'), text, keys, ms)"
            rate = float(page.evaluate(asked, [text, keys(), SECONDS * 1000]))
            browser.close()
            return rate
    finally:
        server.shutdown()


def main() -> None:
    for name, words in (("typical", SHORT), ("long", LONG)):
        sealed = seal(payload(words), KEY)
        text = write_code(sealed, address=ADDRESS)
        code = draw(text)
        print(
            f"{name}: {len(words)} characters of words, seal {len(sealed)} bytes, code text {len(text)} characters, "
            f"QR version {code.version} at {code.side_mm:g} mm, modules {code.module_mm:.2f} mm"
        )
        base = in_python(text)
        for where, rate in (("Python", base), ("Node", in_node(text)), ("Chromium", in_chromium(text))):
            told = (
                "not on this machine"
                if rate is None
                else f"{rate:8,.0f} a second, {rate / base:.2f} of Python"
            )
            print(f"  {where:9} {told}")


if __name__ == "__main__":
    main()
