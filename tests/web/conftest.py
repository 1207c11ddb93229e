"""A real browser before a real server: the same book as the other tests of pages use, or the site.

The whole invented site stands as on its own day, at nine in the morning; nobody's clock moves.
"""

import shutil
import socket
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
import uvicorn
from playwright.sync_api import Browser, Page

from ropewright.demo import demo_case, demo_names, demo_notes, demo_photos
from ropewright.desk.filling import WholeRope, fill_book
from ropewright.intake import PackageShelf, read_case
from ropewright.logbook import Book, create_book, open_book
from ropewright.web import Settings, WebTools, create_app
from ropewright.web.admin import PeopleDesk
from ropewright.web.caller import ROLES
from ropewright.wiring import web_tools
from tests.unit.web.conftest import CHEAP, PASSWORD, book_file

__all__ = ["book_file"]

DAY = date(2026, 11, 10)
NOW = datetime(2026, 11, 10, 9, 0, tzinfo=UTC)


def _free_port() -> int:
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return int(one.getsockname()[1])


@pytest.fixture(scope="module")
def address(book_file: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Where the book is served."""
    copy = tmp_path_factory.mktemp("browser") / "site.book"
    shutil.copy(book_file, copy)
    book = open_book(copy)
    with _served(replace(web_tools(book), today=lambda: DAY)) as where:
        yield where
    book.close()


@contextmanager
def _served(tools: WebTools) -> Iterator[str]:
    port = _free_port()
    app = create_app(tools, Settings(port=port), passwords=CHEAP)
    server = uvicorn.Server(uvicorn.Config(app, port=port, log_level="warning", lifespan="on"))
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    until = time.monotonic() + 20
    while not server.started and time.monotonic() < until:
        time.sleep(0.02)
    assert server.started
    yield f"http://127.0.0.1:{port}"
    server.should_exit = True
    thread.join(timeout=10)


def _site_tools(book: Book) -> WebTools:
    return replace(web_tools(book), today=lambda: DAY, now=lambda: NOW)


def _closed(book: Book) -> None:
    """Close a book so that a copy of its file holds everything."""
    book.engine.dispose()
    with book.engine.connect() as conn:
        conn.exec_driver_sql("PRAGMA wal_checkpoint(TRUNCATE)")
    book.close()


@pytest.fixture(scope="session")
def site_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Book and photos of the whole invented site, with a person of every role, to be copied."""
    folder = tmp_path_factory.mktemp("kestrel-quay")
    shelf = PackageShelf()
    book = create_book(folder / "site.book", now=lambda: NOW)
    tools = _site_tools(book)
    ropes = (
        WholeRope(
            dossier=read_case(
                demo_case(name), file=f"{name}.toml", known_rules=shelf.names()
            ).dossier,
            notes=demo_notes(name),
            pictures=demo_photos(name),
        )
        for name in demo_names()
    )
    assert len(list(fill_book(tools.book, ropes))) == 7
    desk = PeopleDesk(tools.book, tools.access, lambda: NOW, CHEAP)
    for role in ROLES:
        desk.add(role.replace(" ", "-"), f"the {role}", [role], PASSWORD)
    _closed(book)
    return folder


@pytest.fixture(scope="module")
def site(site_folder: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Where a copy of the whole site is served, for the tests of one file."""
    copy = tmp_path_factory.mktemp("site") / "copy"
    shutil.copytree(site_folder, copy)
    book = open_book(copy / "site.book", now=lambda: NOW)
    with _served(_site_tools(book)) as where:
        yield where
    book.close()


@pytest.fixture(scope="module")
def empty_site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Where a book with people and no rope is served."""
    book = create_book(tmp_path_factory.mktemp("empty") / "empty.book", now=lambda: NOW)
    tools = _site_tools(book)
    PeopleDesk(tools.book, tools.access, lambda: NOW, CHEAP).add(
        "keeper", "the keeper", ["keeper"], PASSWORD
    )
    with _served(tools) as where:
        yield where
    book.close()


class Watched:
    """A page that notes whatever goes wrong in it, and every address it asks for."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.problems: list[str] = []
        self.asked: set[str] = set()
        page.on("pageerror", lambda error: self.problems.append(str(error)))
        page.on("console", self._said)
        page.on("request", lambda one: self.asked.add(one.url))

    def _said(self, message: object) -> None:
        kind, text = getattr(message, "type", ""), getattr(message, "text", "")
        if kind == "error":
            self.problems.append(text)


#: Somebody at a desk of some width: the same page again for the same two within one file.
AtDesk = Callable[[str, int], "Watched"]


@pytest.fixture(scope="module")
def at_desk(browser: Browser, site: str) -> Iterator[AtDesk]:
    """People before the whole site; each logs in once for a width."""
    there: dict[tuple[str, int], Watched] = {}

    def come(login: str, width: int) -> Watched:
        if (login, width) not in there:
            there[login, width] = log_in(browser, site, login, width=width)
        there[login, width].problems.clear()
        there[login, width].page.set_default_timeout(6000)  # [ms]: a page takes a tenth of a second
        return there[login, width]

    yield come
    for one in there.values():
        one.page.context.close()


def log_in(browser: Browser, address: str, login: str, *, width: int = 1440) -> Watched:
    """A fresh browser with somebody logged in through the page, as people do it."""
    height = 844 if width < 600 else 900
    context = browser.new_context(viewport={"width": width, "height": height})
    watched = Watched(context.new_page())
    page = watched.page
    page.goto(f"{address}/")
    page.get_by_label("Name").fill(login)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Log in").click()
    page.wait_for_url(f"{address}/")
    return watched
