"""How large the floor's bundle is, how long a cold start takes on a slow tablet without network, what a pass costs in taps and seconds.

    python -m bench.floor

A desk in a process of its own, Debian's Chromium at 360 × 640, 300 objects on the round. The processor is slowed to a quarter
(CPU × 4) by the browser's own throttle; the network is cut. Times are what the page's own clock says.
"""

import gzip
import json
import re
import statistics
import sys
import tempfile
from pathlib import Path
from typing import Any

from tests.browser.fairs import FRONT
from tests.conftest import CHROMIUM, FLAGS
from tests.floor.hall import Hall
from tests.floor.tablet import PIN, Tablet

STANDS, OBJECTS, STARTS, PASSES = tuple(str(n) for n in range(1, 7)), 50, 5, 20
_PAINTED = """words => new Promise(done => {
  const look = () => document.body.innerText.includes(words)
    ? requestAnimationFrame(() => requestAnimationFrame(() => done(performance.now())))
    : requestAnimationFrame(look);
  look();
})"""
_PASS = """() => new Promise(done => {
  const was = location.hash, begun = performance.now();
  const look = () => document.querySelector('.undo') && location.hash !== was
    ? requestAnimationFrame(() => done(performance.now() - begun)) : requestAnimationFrame(look);
  [...document.querySelectorAll('.bar button')].find(one => one.textContent === 'Pass').click();
  look();
})"""
_WRITE = """() => new Promise(done => {
  const asked = indexedDB.open('planish-floor', 1);
  asked.onsuccess = async () => {
    const times = [];
    for (let n = 0; n < 50; n += 1) {
      const begun = performance.now();
      const going = asked.result.transaction(['typed'], 'readwrite', { durability: 'strict' });
      going.objectStore('typed').put({ key: 'bench', at: n, value: { raw: 'x'.repeat(900) } });
      await new Promise(ended => { going.oncomplete = ended; });
      times.push(performance.now() - begun);
    }
    asked.result.close();
    done(times);
  };
})"""


def bundle() -> dict[str, int]:
    """Bytes over the line for everything the worker stores: text by gzip, fonts and pictures as they are."""
    worker = (FRONT / "floor-worker.js").read_text(encoding="utf-8")
    names = re.findall(r'"(/[\w./-]+\.(?:js|css|woff2|svg|png|webmanifest))"', worker)
    sizes = {"/floor.html": 0, "/floor-worker.js": 0, **dict.fromkeys(names, 0)}
    for name in sizes:
        content = (FRONT / name[1:]).read_bytes()
        packed = name.endswith((".woff2", ".png"))
        sizes[name] = len(content) if packed else len(gzip.compress(content, 9))
    return sizes


def slow(tablet: Tablet, factor: int) -> None:
    """Slow the page's processor."""
    tablet.context.new_cdp_session(tablet.page).send("Emulation.setCPUThrottlingRate", {"rate": factor})


def cold(context: Any, hall: Hall) -> tuple[float, float]:
    """ms from opening the address to the PIN page painted, and from Unlock to the round painted."""
    tablet = Tablet(context, hall)
    slow(tablet, 4)
    tablet.page.goto(f"{hall.home}/floor/", wait_until="commit")
    opened = float(tablet.page.evaluate(_PAINTED, "Your PIN"))
    tablet.page.get_by_label("PIN, eight figures").fill(PIN)
    begun = float(tablet.page.evaluate("performance.now()"))
    tablet.press("Unlock")
    ended = float(tablet.page.evaluate(_PAINTED, "My round"))
    tablet.page.close()
    return opened, ended - begun


def passes(context: Any, hall: Hall) -> list[float]:
    """ms from the one tap to the next object standing on the screen, the pass flushed."""
    tablet = Tablet(context, hall)
    slow(tablet, 4)
    tablet.open()
    tablet.unlock()
    tablet.go("#/object/1-001")
    times = [float(tablet.page.evaluate(_PASS)) for _ in range(PASSES)]
    strict = tablet.page.evaluate(_WRITE)
    print(f"one strict write, CPU × 4            median {statistics.median(strict):6.1f} ms")
    tablet.page.close()
    return times


def main() -> None:
    """Print the figures."""
    sizes = bundle()
    fonts = sum(size for name, size in sizes.items() if name.endswith(".woff2"))
    print(
        f"floor bundle, compressed             {sum(sizes.values()) / 1000:6.1f} kB (fonts {fonts / 1000:.1f} kB), {len(sizes)} files"
    )
    if "--sizes" in sys.argv:
        print(json.dumps(sizes, indent=1))
    from playwright.sync_api import sync_playwright

    folder = Path(tempfile.mkdtemp()) / "fair"
    hall = Hall(folder, objects=OBJECTS, stands=STANDS)
    try:
        with sync_playwright() as playwright:
            browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
            context = browser.new_context(viewport={"width": 360, "height": 640}, reduced_motion="reduce")
            tablet = Tablet(context, hall)
            tablet.pair("ben")
            tablet.page.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
            tablet.page.wait_for_timeout(5000)
            count = len(tablet.rows("objects"))
            tablet.page.close()
            hall.line.cut()
            found = [cold(context, hall) for _ in range(STARTS)]
            opened, unlocked = (statistics.median(one) for one in zip(*found, strict=True))
            print(
                f"cold start, no network, CPU × 4      median {opened:6.0f} ms to the PIN, {count} objects on the tablet"
            )
            print(
                f"PIN to the round, CPU × 4            median {unlocked:6.0f} ms (600,000 rounds of PBKDF2 among them)"
            )
            times = passes(context, hall)
            print(
                f"a pass: 1 tap, next object standing  median {statistics.median(times):6.0f} ms, longest {max(times):.0f} ms, CPU × 4"
            )
            browser.close()
    finally:
        hall.close()


if __name__ == "__main__":
    main()
