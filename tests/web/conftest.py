"""A real browser before a real server: the same book as the other tests of pages use."""

import shutil
import socket
import threading
import time
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
import uvicorn
from playwright.sync_api import Browser, Page

from ropewright.logbook import open_book
from ropewright.web import Settings, create_app
from ropewright.wiring import web_tools
from tests.unit.web.conftest import CHEAP, PASSWORD, book_file

__all__ = ["book_file"]

DAY = date(2026, 11, 10)


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
    tools = replace(web_tools(book), today=lambda: DAY)
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
