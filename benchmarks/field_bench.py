"""How fast the field app is on a slow phone: from its own store to usable, from entry to judgement.

    python -m benchmarks.field_bench [--times N]

A Chromium without a window, its processor slowed down four times, without a network.  The rope is
invented.  Times are wall time inside the page: from the start of the navigation until the screen
with its verdict is drawn, and from the tap on a key until the rulings are drawn.  Other work on
the machine counts in wall time, so the median is compared with the target; the worst is shown.
"""

import argparse
import shutil
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from statistics import median

from playwright.sync_api import sync_playwright

from benchmarks.measuring import Figure
from tests.conftest import CHROMIUM_FLAGS
from tests.field.phone import SIZE, Phone
from tests.field.serving import served

SLOWED = 4
USABLE_MS = 1000.0
JUDGED_MS = 100.0

#: Notes when the verdict, and after a tap the rulings, were first drawn.
NOTE_TIMES = """
let tapped = null;
addEventListener('pointerdown', ({ timeStamp }) => {
  tapped = timeStamp;
  window.judged = null;
}, true);
const drawn = (act) => requestAnimationFrame(() => setTimeout(act));
const look = () => {
  if (!window.usable && document.querySelector('.verdict')) {
    window.usable = -1;
    drawn(() => { window.usable = performance.now(); });
  }
  if (tapped !== null && document.querySelector('.ruling')) {
    const begun = tapped;
    tapped = null;
    drawn(() => { window.judged = performance.now() - begun; });
  }
};
new MutationObserver(look).observe(document, { childList: true, subtree: true });
"""


def figures(times: int = 15) -> Iterator[Figure]:
    """Measure so many times, after one run that does not count."""
    where = shutil.which("chromium") or shutil.which("chromium-browser")
    if where is None:
        yield Figure(what="field app: no Chromium here", found="not measured")
        return
    with (
        tempfile.TemporaryDirectory() as folder,
        served(Path(folder)) as server,
        sync_playwright() as playwright,
        playwright.chromium.launch(executable_path=where, args=list(CHROMIUM_FLAGS)) as browser,
    ):
        context = browser.new_context(viewport=SIZE)
        phone = Phone(context, server.address)
        phone.start()
        context.add_init_script(NOTE_TIMES)
        context.set_offline(True)
        slow = context.new_cdp_session(phone.page)
        slow.send("Emulation.setCPUThrottlingRate", {"rate": SLOWED})
        yield _figure("usable without a network", _starting(phone, times), USABLE_MS)
        phone.begin()
        phone.to_stop()
        phone.snag("97.2")
        phone.tap("Broken wires")
        yield _figure("entry to judgement", _judging(phone, times), JUDGED_MS)
        version = browser.version
        context.close()
    yield Figure(what="  measured in", found=f"Chromium {version}")


def _starting(phone: Phone, times: int) -> list[float]:
    took = []
    for _ in range(times + 1):
        phone.page.reload()
        took.append(_noted(phone, "usable"))
    return took[1:]


def _judging(phone: Phone, times: int) -> list[float]:
    """Broken wires one after the other at one place: each is judged with all before it."""
    took = []
    for number in range(times + 1):
        offset = None if number == 0 else str(number * 7)
        phone.one_break(offset, str(number % 8 + 1))
        took.append(_noted(phone, "judged"))
    return took[1:]


def _noted(phone: Phone, name: str) -> float:
    for _ in range(400):  # the page allows no polling of its own
        found = phone.page.evaluate(f"window.{name} ?? -1")
        if found > 0:
            return float(found)
        phone.page.wait_for_timeout(25)
    raise TimeoutError(name)


def _figure(what: str, took: list[float], most: float) -> Figure:
    middle = median(took)
    return Figure(
        what=f"{what}, CPU / {SLOWED}: median, worst of {len(took)}",
        found=f"{middle:.0f}, {max(took):.0f} ms", target=f"<= {most:g} ms", good=middle <= most,
    )  # fmt: skip


def main(arguments: list[str]) -> int:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--times", type=int, default=15)
    missed = 0
    for one in figures(parser.parse_args(arguments).times):
        word = {True: "pass", False: "FAIL", None: ""}[one.good]
        print(f"{one.what:<58} {one.found:>22}   {one.target:<11} {word}".rstrip(), flush=True)
        missed += one.good is False
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
