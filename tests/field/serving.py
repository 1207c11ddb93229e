"""A real server on a book of its own, in a thread, for the phone's tests."""

import socket
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import uvicorn

from ropewright.demo import demo_case
from ropewright.inspection import Dossier
from ropewright.intake import PackageShelf, read_case
from ropewright.logbook import Book, create_book, take_in_dossier
from ropewright.web import Settings, create_app
from ropewright.web.running import prepare_local
from ropewright.wiring import web_tools

ROPE = "KQ-1 hoist"


@dataclass(frozen=True)
class Served:
    """Where the server is, and the book behind it."""

    address: str
    book: Book

    def dossier(self) -> Dossier:
        """The rope as the book has it now."""
        return self.book.dossier(ROPE)


def _free_port() -> int:
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return int(one.getsockname()[1])


@contextmanager
def served(folder: Path) -> Iterator[Served]:
    """Serve a new book that holds one invented rope."""
    book = create_book(str(folder / "field.book"))
    case = read_case(demo_case("KQ-1"), file="KQ-1", known_rules=PackageShelf().names())
    take_in_dossier(book, case.dossier)
    tools = web_tools(book)
    prepare_local(tools)
    port = _free_port()
    app = create_app(tools, Settings(single_user=True, port=port))
    config = uvicorn.Config(app, host="127.0.0.1", port=port, log_level="error")
    server = uvicorn.Server(config)
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    for _ in range(400):
        if server.started:
            break
        time.sleep(0.02)
    assert server.started
    try:
        yield Served(address=f"http://127.0.0.1:{port}", book=book)
    finally:
        server.should_exit = True
        thread.join(timeout=10)
        book.close()
