"""A served book for the tests: demo ropes, people of every role, a clock that can be moved."""

import shutil
import warnings
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import argon2
import pytest

from ropewright.demo import demo_case
from ropewright.intake import PackageShelf, read_case
from ropewright.logbook import create_book, open_book, take_in_dossier
from ropewright.web import Settings, WebTools, create_app
from ropewright.web.admin import PeopleDesk
from ropewright.web.caller import ROLES
from ropewright.web.hashing import Argon2Passwords
from ropewright.wiring import web_tools

with warnings.catch_warnings():  # it asks for another HTTP library than the one that is locked
    warnings.simplefilter("ignore")
    from fastapi.testclient import TestClient

TODAY = date(2026, 11, 10)
ROPES = ("KQ-1", "KQ-1-trolley", "KQ-4")
PASSWORD = "the rope runs away"
#: Costs nothing: what Argon2 costs is the library's business.
CHEAP = Argon2Passwords(argon2.PasswordHasher(time_cost=1, memory_cost=8, parallelism=1))


@dataclass
class Clock:
    """The clock of a test."""

    at: datetime = datetime(2026, 11, 10, 9, 0, tzinfo=UTC)

    def now(self) -> datetime:
        return self.at

    def today(self) -> date:
        return self.at.date()

    def wait(self, seconds: float) -> None:
        self.at += timedelta(seconds=seconds)


@pytest.fixture(scope="session")
def book_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book with three ropes of the demo, to be copied."""
    path = tmp_path_factory.mktemp("web") / "site.book"
    shelf = PackageShelf()
    book = create_book(path)
    for name in ROPES:
        case = read_case(demo_case(name), file=f"{name}.toml", known_rules=shelf.names())
        take_in_dossier(book, case.dossier)
    made = web_tools(book)
    desk = PeopleDesk(made.book, made.access, lambda: datetime(2026, 11, 1, tzinfo=UTC), CHEAP)
    for role in ROLES:
        desk.add(role.replace(" ", "-"), f"the {role}", [role], PASSWORD)
    book.engine.dispose()
    with book.engine.connect() as conn:  # the copy must hold everything
        conn.exec_driver_sql("PRAGMA wal_checkpoint(TRUNCATE)")
    book.close()
    return path


@dataclass
class Served:
    """One served book: its tools, its clock, and a browser for whoever is asked for."""

    tools: WebTools
    clock: Clock
    app: Any
    file: Path

    def browser(self, login: str | None = None, *, base: str = "http://testserver") -> TestClient:
        """A browser, logged in if a login is given."""
        client = TestClient(
            self.app, base_url=base, headers={"origin": base}, follow_redirects=False
        )
        if login is not None:
            answer = client.post("/login", data={"login": login, "password": PASSWORD})
            assert answer.status_code == 303, answer.text
        return client

    def csrf(self, client: TestClient) -> str:
        """What a form of this session has to bring along."""
        text: str = client.get("/me").text
        return text.split('name="csrf" value="')[1].split('"', maxsplit=1)[0]


def serve(file: Path, settings: Settings | None = None) -> tuple[Served, Any]:
    clock = Clock()
    book = open_book(file, now=clock.now)
    tools = replace(web_tools(book), today=clock.today, now=clock.now)
    app = create_app(tools, settings or Settings(), passwords=CHEAP)
    return Served(tools=tools, clock=clock, app=app, file=file), book


@pytest.fixture
def served(book_file: Path, tmp_path: Path) -> Iterator[Served]:
    """A fresh copy of the book, served with a login."""
    copy = tmp_path / "site.book"
    shutil.copy(book_file, copy)
    made, book = serve(copy)
    yield made
    book.close()


@pytest.fixture(scope="module")
def shared(book_file: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A copy of the book for tests that only look."""
    copy = tmp_path_factory.mktemp("shared") / "site.book"
    shutil.copy(book_file, copy)
    made, book = serve(copy)
    yield made
    book.close()
