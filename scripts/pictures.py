"""Takes the pictures of the pages for docs/pictures anew, on the invented site Kestrel Quay.

Run ``python scripts/pictures.py``; a name or part of one takes those pictures alone.  Each page is
photographed as a desk shows it (1440 x 900) and as a phone does (390 x 844, ``-phone``).
"""

import argparse
import io
import shutil
import socket
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

import argon2
import uvicorn
from PIL import Image
from playwright.sync_api import Browser, Page, sync_playwright

from ropewright.demo import (
    DEMO_DAY,
    USUAL_SEED,
    demo_case,
    demo_lifts,
    demo_names,
    demo_notes,
    demo_photos,
)
from ropewright.desk.filling import WholeRope, fill_book
from ropewright.intake import PackageShelf, read_case
from ropewright.logbook import Book, create_book
from ropewright.web import Settings, create_app
from ropewright.web.admin import PeopleDesk
from ropewright.web.caller import ROLES
from ropewright.web.hashing import Argon2Passwords
from ropewright.wiring import web_tools

FOLDER: Final = Path(__file__).resolve().parent.parent / "docs" / "pictures"
SIZES: Final = (("", 1440, 900), ("-phone", 390, 844))
NOW: Final = datetime.combine(DEMO_DAY, datetime.min.time(), UTC).replace(hour=9)
PASSWORD: Final = "only for the pictures"
FLAGS: Final = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


def _nothing(page: Page) -> None:
    """The page as it comes."""


@dataclass(frozen=True, kw_only=True)
class Shot:
    """One picture: ``who`` looks at ``path``, does something, and has ``at`` at the top."""

    name: str
    path: str
    who: str = "inspector"
    at: str = ""
    do: Callable[[Page], None] = _nothing
    sizes: tuple[str, ...] = ("", "-phone")


def _ask_where(page: Page) -> None:
    page.get_by_label("Where you stand").fill("tower head")
    page.get_by_label("Hook height read").fill("23.4 m")
    page.get_by_role("button", name="Where is that?").click()


def _hook_down(page: Page) -> None:
    drawing = page.locator("[data-drawing]")
    before = drawing.get_attribute("src") or ""
    page.get_by_role("slider", name="Hook height").fill("12")
    page.wait_for_function(
        "before => document.querySelector('[data-drawing]').getAttribute('src') !== before",
        arg=before,
    )


def _count_log(page: Page) -> None:
    ((name, text),) = demo_lifts("KQ-4", USUAL_SEED).items()
    page.get_by_label("Mass of the hook block").fill("200 kg")
    page.get_by_label("Log or list of lifts").set_input_files(
        {"name": name, "mimeType": "text/csv", "buffer": text.encode()}
    )
    page.get_by_role("button", name="Count the log").click()
    page.get_by_role("heading", name="Look here first").wait_for()


def _check_book(page: Page) -> None:
    page.get_by_role("button", name="Check the whole book").click()


def _begin_fitting(page: Page) -> None:
    page.get_by_role("button", name="Begin to fit").click()


SHOTS: Final = (
    Shot(name="board", path="/", who="planner"),
    Shot(name="rope", path="/ropes/KQ-1%20hoist"),
    Shot(name="rope-rules", path="/ropes/KQ-1%20hoist", at="#rules"),
    Shot(name="rope-chart", path="/ropes/KQ-1%20hoist", at="#chart"),
    Shot(name="rope-forecast", path="/ropes/KQ-4%20hoist", at="#forecast"),
    Shot(name="rope-incomplete", path="/ropes/KQ-1%20trolley"),
    Shot(name="why", path="/ropes/KQ-1%20hoist/why/us-29cfr-1926-1413/rr-breaks-30d/1"),
    Shot(name="places", path="/ropes/KQ-1%20hoist/places", do=_ask_where),
    Shot(name="plan", path="/ropes/KQ-1%20hoist/places", at="h2:has-text('Passes of the next')"),
    Shot(name="crane", path="/cranes/KQ-1%20hoist", who="planner", do=_hook_down),
    Shot(name="crane-checks", path="/cranes/KQ-4%20hoist", at="h2:has-text('Checks of the')"),
    Shot(name="inspection", path="/ropes/KQ-4%20hoist/inspections/2026-11-09"),
    Shot(
        name="matching", path="/ropes/KQ-4%20hoist/inspections/2026-11-09",
        at="h2:has-text('Held against')",
    ),
    Shot(name="rules", path="/rules"),
    Shot(name="edition", path="/rules/iso-4309-2017?against=iso-4309-2010"),
    Shot(
        name="rule-choice", path="/ropes/KQ-4%20hoist/rules?try=iso-4309-2010",
        at="h2:has-text('What would another')",
    ),
    Shot(name="order", path="/ropes/KQ-1%20hoist/order", who="planner"),
    Shot(name="wear", path="/ropes/KQ-4%20hoist/wear", who="planner", do=_count_log),
    Shot(name="handover", path="/handover", who="operator"),
    Shot(name="people", path="/people", who="keeper"),
    Shot(name="audit", path="/audit", who="keeper", do=_check_book),
    Shot(name="exchange", path="/exchange", who="keeper"),
    Shot(name="history", path="/ropes/KQ-3%20hoist/history"),
    Shot(name="set-up", path="/set-up", who="planner"),
    Shot(name="me", path="/me"),
    Shot(
        name="fitting", path="/ropes/KQ-5%20hoist/fitting", who="rope fitter", do=_begin_fitting,
        at="body",
    ),
)  # fmt: skip


def _fill(folder: Path) -> Book:
    """The whole site in a new book, as on the demo's day, with a person of every role."""
    shelf = PackageShelf()
    book = create_book(folder / "site.book", now=lambda: NOW)
    lives = (
        WholeRope(
            dossier=read_case(
                demo_case(name), file=f"{name}.toml", known_rules=shelf.names()
            ).dossier,
            notes=demo_notes(name),
            pictures=demo_photos(name),
        )
        for name in demo_names()
    )
    for _ in fill_book(web_tools(book).book, lives):
        pass
    return book


@contextmanager
def _served() -> Iterator[str]:
    """The site, served on this machine for as long as the pictures take."""
    cheap = Argon2Passwords(argon2.PasswordHasher(time_cost=1, memory_cost=8, parallelism=1))
    with tempfile.TemporaryDirectory() as folder, socket.create_server(("127.0.0.1", 0)) as door:
        book = _fill(Path(folder))
        tools = replace(web_tools(book), today=lambda: DEMO_DAY, now=lambda: NOW)
        desk = PeopleDesk(tools.book, tools.access, lambda: NOW, cheap)
        for role in ROLES:
            desk.add(role.replace(" ", "-"), f"the {role}", [role], PASSWORD)
        port = int(door.getsockname()[1])
        app = create_app(tools, Settings(port=port), passwords=cheap)
        server = uvicorn.Server(uvicorn.Config(app, port=port, log_level="warning"))
        thread = threading.Thread(target=server.run, args=([door],), daemon=True)
        thread.start()
        while not server.started and thread.is_alive():
            time.sleep(0.02)
        yield f"http://127.0.0.1:{port}"
        server.should_exit = True
        thread.join(timeout=10)
        book.close()


def _log_in(browser: Browser, address: str, who: str, width: int, height: int) -> Page:
    page = browser.new_context(viewport={"width": width, "height": height}).new_page()
    page.goto(f"{address}/login")
    page.get_by_label("Name").fill(who.replace(" ", "-"))
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Log in").click()
    page.wait_for_url(f"{address}/")
    return page


def _take(page: Page, address: str, shot: Shot, ending: str) -> Path:
    answer = page.goto(f"{address}{shot.path}", wait_until="networkidle")
    if answer is None or not answer.ok:
        raise SystemExit(f"{shot.name}: {shot.path} answered {answer and answer.status}")
    shot.do(page)
    page.wait_for_load_state("networkidle")
    if shot.at:
        page.locator(shot.at).first.evaluate(
            "one => one.scrollIntoView({block: 'start', behavior: 'instant'})"
        )
    page.mouse.move(0, 0)
    path = FOLDER / f"office-{shot.name}{ending}.png"
    with Image.open(io.BytesIO(page.screenshot())) as taken:
        small = taken.convert("RGB").quantize(128, dither=Image.Dither.NONE)
        small.save(path, optimize=True)
    return path


def main() -> None:
    """Take the pictures that were asked for, all of them if none was."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("only", nargs="*", help="names of pictures, or parts of them")
    only = parser.parse_args().only
    where = shutil.which("chromium") or shutil.which("chromium-browser")
    if where is None:
        sys.exit("no Chromium here (Debian package chromium)")
    chosen = [one for one in SHOTS if not only or any(part in one.name for part in only)]
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=where, args=list(FLAGS))
        for ending, width, height in SIZES:
            with _served() as address:  # anew: what was done for one size is not in the other
                pages: dict[str, Page] = {}
                for shot in (one for one in chosen if ending in one.sizes):
                    if shot.who not in pages:
                        pages[shot.who] = _log_in(browser, address, shot.who, width, height)
                    path = _take(pages[shot.who], address, shot, ending)
                    print(f"{path.name}  {path.stat().st_size / 1000:.0f} kB")
                for page in pages.values():
                    page.context.close()
        browser.close()


if __name__ == "__main__":
    main()
