"""Books on a real SQLite file and on a real PostgreSQL server."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from ropewright.logbook import Book, create_book
from tests.integration.servers import Server, programs
from tests.unit.logbook.samples import ticking


@pytest.fixture(scope="session")
def server() -> Iterator[Server]:
    """A PostgreSQL server for the whole run of tests."""
    folder = programs()
    if folder is None:
        pytest.skip("no PostgreSQL here; on Debian: apt-get install postgresql")
    one = Server(folder)
    yield one
    one.stop()


@pytest.fixture
def server_to_kill() -> Iterator[Server]:
    """A PostgreSQL server of this test's own."""
    folder = programs()
    if folder is None:
        pytest.skip("no PostgreSQL here; on Debian: apt-get install postgresql")
    one = Server(folder, fsync=False)
    yield one
    one.stop()


@pytest.fixture(params=["sqlite", "postgresql"])
def address(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """Where a new book may go."""
    if request.param == "sqlite":
        return str(tmp_path / "site.book")
    made: str = request.getfixturevalue("server").new_database()
    return made


@pytest.fixture
def book(address: str, tmp_path: Path) -> Iterator[Book]:
    """A new, empty book."""
    one = create_book(address, photo_folder=tmp_path / "photos", now=ticking())
    yield one
    one.close()
