"""Reaching the database: a SQLite file by default, a PostgreSQL server by its address."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final

from sqlalchemy import Connection, Engine, create_engine, event, text
from sqlalchemy.engine import URL, make_url
from sqlalchemy.exc import ArgumentError, DatabaseError, NoSuchModuleError, OperationalError

from ropewright.errors import BookError, RopewrightError, StoreError

_WAIT_MS: Final = 30_000
_POSTGRES: Final = ("postgresql", "postgres")
_WRITES: Final = "ropewright_writes"


def is_server(address: str | Path) -> bool:
    """Whether an address names a server rather than a file."""
    return "://" in str(address)


def connect(address: str | Path) -> Engine:
    """An engine for an address; nothing is opened yet.

    Parameters
    ----------
    address
        Path of a SQLite file, or ``postgresql://user@host/database``.

    Raises
    ------
    BookError
        If the address cannot be understood, or the driver for it is not there.
    """
    url = _url(address)
    try:
        if url.get_backend_name() == "sqlite":
            engine = create_engine(url, connect_args={"timeout": _WAIT_MS / 1000})
            _prepare_sqlite(engine)
        else:
            engine = create_engine(url, pool_pre_ping=True)
            _prepare_postgres(engine)
    except ImportError as error:
        raise BookError(
            "the driver for PostgreSQL is not there",
            hint="install ropewright with the extra 'postgres'",
        ) from error
    return engine


def _url(address: str | Path) -> URL:
    if not is_server(address):
        return URL.create("sqlite+pysqlite", database=str(address))
    try:
        url = make_url(str(address))
    except (ArgumentError, NoSuchModuleError, ValueError) as error:
        raise BookError(
            expected="a file or postgresql://user@host/database", given="an address of another form"
        ) from error
    if url.drivername.partition("+")[0] not in _POSTGRES:
        raise BookError(expected="a file or postgresql://user@host/database", given=url.drivername)
    return url.set(drivername="postgresql+psycopg")


def shown(address: str | Path) -> str:
    """An address as it may be printed: without a password."""
    if not is_server(address):
        return str(address)
    return make_url(str(address)).render_as_string(hide_password=True)


def _prepare_sqlite(engine: Engine) -> None:
    @event.listens_for(engine, "connect")
    def on_connect(dbapi: sqlite3.Connection, _record: object) -> None:
        # The driver must not begin transactions by itself: a read that turns into a write
        # fails at once when another process writes, whatever the waiting time.
        dbapi.isolation_level = None
        for pragma in (
            f"busy_timeout = {_WAIT_MS}",
            "journal_mode = WAL",
            "synchronous = FULL",
            "foreign_keys = ON",
            "recursive_triggers = ON",
            "secure_delete = ON",
        ):
            dbapi.execute(f"PRAGMA {pragma}").close()

    @event.listens_for(engine, "begin")
    def on_begin(conn: Connection) -> None:
        writes = conn.get_execution_options().get(_WRITES)
        conn.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")


def _prepare_postgres(engine: Engine) -> None:
    @event.listens_for(engine, "begin")
    def on_begin(conn: Connection) -> None:
        if conn.get_execution_options().get(_WRITES):
            conn.exec_driver_sql("SET LOCAL synchronous_commit = on")
        else:  # one reading sees one state
            conn.exec_driver_sql("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ READ ONLY")


@contextmanager
def writing(engine: Engine) -> Iterator[Connection]:
    """A transaction that writes: committed at the end, rolled back on any error.

    Only one at a time gets through; the others wait their turn.

    Raises
    ------
    StoreError
        If the database does not answer or cannot write.
    """
    with (
        _plain_errors(),
        engine.connect().execution_options(**{_WRITES: True}) as conn,
        conn.begin(),
    ):
        yield conn


@contextmanager
def reading(engine: Engine) -> Iterator[Connection]:
    """A transaction that only reads, and sees one state from beginning to end."""
    with _plain_errors(), engine.connect() as conn, conn.begin():
        yield conn


@contextmanager
def _plain_errors() -> Iterator[None]:
    try:
        yield
    except RopewrightError:
        raise
    except DatabaseError as error:
        reason = str(error.orig).strip().splitlines()[0] if error.orig else str(error)
        if "not a database" in reason:
            raise BookError("is not a logbook", expected="a SQLite file") from error
        if isinstance(error, OperationalError):
            raise StoreError(f"the database says: {reason}") from error
        raise BookError(f"the database refused it: {reason}") from error


def lock_for_append(conn: Connection) -> None:
    """Let one writer after the other add entries (SQLite did that when the transaction began)."""
    if conn.dialect.name == "postgresql":
        conn.execute(text("SELECT book_id FROM book FOR UPDATE"))
