"""Kill −9 of the program and of the database: what was acknowledged is there, the chain holds.

Thirty kills in every run, a thousand in the heavy proof.  Killing a process is not a power cut:
what the operating system had taken is still written.  That the book asks the disk to keep it
(synchronous FULL, synchronous_commit on) is checked apart.
"""

import os
import random
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from sqlalchemy import text

from ropewright.logbook import Book, create_book, open_book, rebuild, verify
from ropewright.logbook.engine import writing
from tests.integration.servers import Server

ROOT = Path(__file__).resolve().parents[2]


def start_writer(address: str, name: str, count: int = 100_000) -> "subprocess.Popen[str]":
    """A writer in a process of its own, once it has opened the book."""
    environment = {
        **os.environ, "PYTHONPATH": os.pathsep.join([str(ROOT), *filter(None, sys.path)])
    }  # fmt: skip
    one = subprocess.Popen(
        [sys.executable, "-m", "tests.integration.writer", address, name, str(count)],
        cwd=ROOT, env=environment, stdout=subprocess.PIPE, text=True,
    )  # fmt: skip
    assert one.stdout is not None
    assert one.stdout.readline() == "open\n"
    return one


def acknowledged(one: "subprocess.Popen[str]") -> list[tuple[str, int, str]]:
    """What a writer that is gone had said; a line that was cut off does not count."""
    assert one.stdout is not None
    with one.stdout as out:  # not communicate(): it passes over what readline() left waiting
        lines = out.read().split("\n")[:-1]
    one.wait(timeout=60)
    return [(name, int(number), link) for name, number, link in map(str.split, lines)]


def assert_all_there(book: Book, said: list[tuple[str, int, str]]) -> None:
    """Everything that was acknowledged stands where the receipt says, and all of it holds."""
    with book.reader() as conn:
        rows = conn.execute(text("SELECT entry_id, sequence, book_hash FROM entries")).all()
    assert set(said) <= {(row[0], row[1], row[2]) for row in rows}
    checked = verify(book)
    assert checked.problems == ()
    assert checked.entries % 3 == 0, "a group is there whole or not at all"
    assert rebuild(book).changed == ()


def kill_often(
    address: str, kill: Callable[["subprocess.Popen[str]"], None], times: int, seed: int
) -> None:
    """Start a writer, kill at a moment nobody chose, look; again and again on one book."""
    chance = random.Random(seed)
    create_book(address).close()
    said: list[tuple[str, int, str]] = []
    for number in range(times):
        one = start_writer(address, str(number))
        time.sleep(chance.uniform(0, 0.12))
        kill(one)
        said += acknowledged(one)
        book = open_book(address)
        assert_all_there(book, said)
        book.close()
    assert said, "at least some entries were acknowledged"


def kill_program(one: "subprocess.Popen[str]") -> None:
    """Kill −9 of the program that writes."""
    one.send_signal(signal.SIGKILL)


def kill_server(server: Server) -> Callable[["subprocess.Popen[str]"], None]:
    """Kill −9 of the database server and all its processes; it is started again."""

    def kill(_one: "subprocess.Popen[str]") -> None:
        server.kill()
        server.start()

    return kill


def test_fifteen_kills_of_the_program_on_sqlite(tmp_path: Path) -> None:
    kill_often(str(tmp_path / "b"), kill_program, 15, seed=1)


def test_eight_kills_of_the_program_on_postgresql(server: Server) -> None:
    kill_often(server.new_database(), kill_program, 8, seed=2)


def test_seven_kills_of_the_postgresql_server(server_to_kill: Server) -> None:
    kill_often(server_to_kill.new_database(), kill_server(server_to_kill), 7, seed=3)


@pytest.mark.proof
@pytest.mark.parametrize("seed", range(10))
def test_five_hundred_kills_of_the_program_on_sqlite(tmp_path: Path, seed: int) -> None:
    kill_often(str(tmp_path / "b"), kill_program, 50, seed=100 + seed)


@pytest.mark.proof
@pytest.mark.parametrize("seed", range(6))
def test_three_hundred_kills_of_the_program_on_postgresql(server: Server, seed: int) -> None:
    kill_often(server.new_database(), kill_program, 50, seed=200 + seed)


@pytest.mark.proof
@pytest.mark.parametrize("seed", range(4))
def test_two_hundred_kills_of_the_postgresql_server(server_to_kill: Server, seed: int) -> None:
    kill_often(server_to_kill.new_database(), kill_server(server_to_kill), 50, seed=300 + seed)


def test_two_programs_write_while_one_is_killed(address: str) -> None:
    create_book(address).close()
    steady = start_writer(address, "steady", 240)
    killed = start_writer(address, "killed")
    time.sleep(0.1)
    kill_program(killed)
    said = acknowledged(killed) + acknowledged(steady)
    assert steady.returncode == 0
    assert len([one for one in said if one]) >= 240
    book = open_book(address)
    assert_all_there(book, said)
    book.close()


def test_the_book_asks_the_disk_to_keep_what_it_acknowledges(book: Book) -> None:
    """SQLite: journal in WAL, synchronous FULL (2).  PostgreSQL: synchronous_commit on."""
    with writing(book.engine) as conn:
        if conn.dialect.name == "sqlite":
            asked = [conn.execute(text(f"PRAGMA {name}")).scalar() for name in
                     ("journal_mode", "synchronous", "foreign_keys", "secure_delete")]  # fmt: skip
            assert asked == ["wal", 2, 1, 1]
        else:
            assert conn.execute(text("SHOW synchronous_commit")).scalar() == "on"
            assert conn.execute(text("SHOW fsync")).scalar() == "on"
