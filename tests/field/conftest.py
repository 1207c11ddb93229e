"""One server and one browser for all tests of the field app; a fresh phone for each."""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser

from tests.field.phone import SIZE, Phone
from tests.field.serving import Served, served


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Served]:
    """A server with a book of its own."""
    with served(tmp_path) as running:
        yield running


@pytest.fixture
def new_phone(browser: Browser, server: Served) -> Iterator[Callable[..., Phone]]:
    """Makes phones; whatever broke on one of them breaks the test."""
    made: list[Phone] = []

    def make(**more: Any) -> Phone:
        context = browser.new_context(viewport=SIZE, color_scheme="dark", **more)
        context.set_default_timeout(8000)
        made.append(Phone(context, server.address))
        return made[-1]

    yield make
    for phone in made:
        phone.context.close()
    assert not [problem for phone in made for problem in phone.problems]


@pytest.fixture
def phone(new_phone: Callable[..., Phone]) -> Phone:
    """One phone."""
    return new_phone()
