"""The field app in a second browser engine, WebKit, the nearest to a tablet's that runs here."""

import os
import shutil
import subprocess
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from selenium import webdriver
from selenium.webdriver.common.by import By
from selenium.webdriver.webkitgtk.options import Options
from selenium.webdriver.webkitgtk.service import Service

from tests.field.serving import served

BROWSERS = "*/webkit2gtk-4.*/MiniBrowser"
READY = """
const done = arguments[arguments.length - 1];
navigator.serviceWorker.ready
  .then(() => caches.keys())
  .then((names) => Promise.all(names.map((name) => caches.open(name))))
  .then((kept) => Promise.all(kept.map((one) => one.match('/field/complete'))))
  .then((found) => done(found.some(Boolean)), (error) => done(String(error)));
"""


@pytest.fixture
def webkit(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Iterator[webdriver.WebKitGTK]:
    """The browser on a screen of its own."""
    if shutil.which("WebKitWebDriver") is None or shutil.which("Xvfb") is None:
        pytest.skip("no WebKitGTK here (Debian packages webkit2gtk-driver and xvfb)")
    number = 100 + os.getpid() % 800
    screen = subprocess.Popen(
        ["Xvfb", f":{number}", "-screen", "0", "800x1000x24", "-nolisten", "tcp"],
        stderr=subprocess.DEVNULL,
    )
    monkeypatch.setenv("DISPLAY", f":{number}")
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS", "1")
    monkeypatch.setenv("WEBKIT_DISABLE_COMPOSITING_MODE", "1")
    driver: webdriver.WebKitGTK | None = None
    try:
        _until(lambda: Path(f"/tmp/.X11-unix/X{number}").exists(), "a screen")
        options = Options()
        options.binary_location = str(next(iter(Path("/usr/lib").glob(BROWSERS))))
        options.add_argument("--automation")
        service = Service(shutil.which("WebKitWebDriver"))
        driver = webdriver.WebKitGTK(options=options, service=service)
        driver.set_page_load_timeout(20)
        driver.set_script_timeout(20)
        yield driver
    finally:
        if driver is not None:
            driver.quit()
        screen.terminate()
        screen.wait(timeout=10)


def _until(holds: Callable[[], object], what: str, seconds: float = 20) -> None:
    last = time.monotonic() + seconds
    while not holds():
        assert time.monotonic() < last, f"no {what} within {seconds} s"
        time.sleep(0.1)


# The driver's own library warns of its own call.
@pytest.mark.filterwarnings("ignore:setting remote_server_addr:DeprecationWarning")
def test_the_app_starts_and_keeps_entries_with_the_server_gone(
    webkit: webdriver.WebKitGTK, tmp_path: Path
) -> None:
    """Other program (WebKitGTK): card fetched, server stopped, app loads, entry kept."""

    def text() -> str:
        return webkit.find_element(By.TAG_NAME, "body").text

    def tap(words: str) -> None:
        _until(lambda: words in text(), words)
        for button in webkit.find_elements(By.CSS_SELECTOR, "button, a.rope"):
            if words in button.text:
                webkit.execute_script("arguments[0].click()", button)
                return
        raise AssertionError(f"no button says {words!r}")

    with served(tmp_path) as server:
        webkit.get(f"{server.address}/field/")
        tap("KQ-1 hoist")
        tap("Fetch the card")
        _until(lambda: "Open marks" in text(), "card")
        _until(lambda: webkit.execute_async_script(READY) is True, "kept app")
    webkit.refresh()
    _until(lambda: "Open marks" in text(), "card from the phone's own store")
    assert "REMOVE FROM SERVICE" in text().upper()
    tap("I have read this")
    _until(lambda: "1 waiting" in text(), "entry that waits")
