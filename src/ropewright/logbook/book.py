"""A logbook: opened, added to, read, at any past day."""

import uuid
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any, TypeAlias

from sqlalchemy import Connection, Engine, select

from ropewright.errors import BookError, RopewrightError, UnknownNameError
from ropewright.inspection import Dossier
from ropewright.logbook.appending import Receipt, append, note_persons, rope_entries
from ropewright.logbook.canon import instant_text, read_instant
from ropewright.logbook.engine import (
    connect,
    is_server,
    lock_for_append,
    reading,
    shown,
    writing,
)
from ropewright.logbook.entry import Entry, check_entry, trusted_entry
from ropewright.logbook.migrations import migrate, pending, start
from ropewright.logbook.people import MemoryPeople, People
from ropewright.logbook.seal import Seal
from ropewright.logbook.standing import Standing, read_standing, standing_on
from ropewright.logbook.tables import BOOK, ENTRIES, PERSONS, STANDING
from ropewright.logbook.to_dossier import dossier_from_entries
from ropewright.logbook.verify_book import Row, first_link

Clock: TypeAlias = Callable[[], datetime]
#: A row of the table of entries.
TableRow: TypeAlias = Any


def utc_now() -> datetime:
    """The clock of this machine."""
    return datetime.now(UTC)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stored:
    """An entry with what the book added when it arrived."""

    entry: Entry
    row: Row

    @property
    def arrived_at(self) -> datetime:
        """When it arrived, by the book's clock."""
        return read_instant(self.row.arrived_at)


class Book:
    """A logbook that is open; made by `create_book` and `open_book`.

    Parameters
    ----------
    engine
        Its database.
    address
        Where it is, as it may be printed.
    photo_folder
        Where photos are kept; ``None`` if nobody said.
    now
        The book's clock.
    """

    def __init__(
        self, engine: Engine, *, address: str, photo_folder: Path | None, now: Clock
    ) -> None:
        self.engine = engine
        self.address = address
        self.photo_folder = photo_folder
        self.now = now
        with reading(engine) as conn:
            row = conn.execute(select(BOOK.c.book_id, BOOK.c.made_at)).first()
        if row is None:
            raise BookError("was never finished; make a new one", file=address)
        self.book_id: str = row.book_id
        self.made_at: str = row.made_at

    def close(self) -> None:
        """Let go of the database."""
        self.engine.dispose()

    # --- Adding ---------------------------------------------------------------------------------

    def append(self, entries: Sequence[Entry]) -> tuple[Receipt, ...]:
        """Add entries, all or none; when this returns they are on the disk.

        The same entry again is harmless: its receipt says that it stood there already.

        Raises
        ------
        EntryConflictError
            If an id stands in the book already with other content.
        InputError
            If an entry is not formed as its kind asks for.
        StoreError
            If the database does not answer.
        """
        checked = [check_entry(entry) for entry in entries]
        with self.writer() as conn:
            return append(conn, checked, self.now())

    def append_made(
        self, make: Callable[[People], Sequence[Entry]]
    ) -> tuple[tuple[Entry, ...], tuple[Receipt, ...]]:
        """Add entries that are made with the persons the book knows; new persons are kept.

        Parameters
        ----------
        make
            Gives the entries; called once, while the book is locked.
        """
        with self.writer() as conn:
            people = people_of(conn)
            made = tuple(check_entry(entry) for entry in make(people))
            noted = note_persons(conn, people.new)
            receipts = append(conn, [*noted, *made], self.now())
            return made, receipts[len(noted) :]

    @contextmanager
    def writer(self) -> Iterator[Connection]:
        """A transaction that may add entries; others wait until it is done."""
        try:
            with writing(self.engine) as conn:
                lock_for_append(conn)
                yield conn
        except RopewrightError as error:
            raise error.with_file(self.address) from error.__cause__

    @contextmanager
    def reader(self) -> Iterator[Connection]:
        """A transaction that sees one state of the book."""
        try:
            with reading(self.engine) as conn:
                yield conn
        except RopewrightError as error:
            raise error.with_file(self.address) from error.__cause__

    # --- Reading --------------------------------------------------------------------------------

    def seal(self, sequence: int | None = None) -> Seal:
        """The seal of the book as it is, or as it was after an entry."""
        query = select(ENTRIES.c.sequence, ENTRIES.c.book_hash)
        if sequence is not None:
            query = query.where(ENTRIES.c.sequence == sequence)
        with self.reader() as conn:
            row = conn.execute(query.order_by(ENTRIES.c.sequence.desc()).limit(1)).first()
        if row is None:
            return Seal(self.book_id, 0, first_link(self.book_id))
        return Seal(self.book_id, row.sequence, row.book_hash)

    def rope_ids(self) -> tuple[str, ...]:
        """Ids of all ropes, sorted."""
        with self.reader() as conn:
            return tuple(sorted(conn.execute(select(STANDING.c.rope_id)).scalars()))

    def standing(self) -> tuple[Standing, ...]:
        """Where every rope stands now, sorted by rope."""
        with self.reader() as conn:
            rows = conn.execute(select(STANDING.c.rope_id, STANDING.c.data)).all()
        return tuple(read_standing(data) for _, data in sorted((row[0], row[1]) for row in rows))

    def entries(self, rope_id: str, *, known_by: datetime | None = None) -> tuple[Stored, ...]:
        """Entries of a rope in the order of the book.

        Parameters
        ----------
        rope_id
            The rope; an empty text stands for the book itself.
        known_by
            Leave out what arrived later.
        """
        with self.reader() as conn:
            query = select(ENTRIES).where(ENTRIES.c.rope_id == rope_id)
            rows = conn.execute(query.order_by(ENTRIES.c.rope_sequence)).all()
        stored = [stored_of(row) for row in rows]
        return tuple(one for one in stored if known_by is None or one.arrived_at <= known_by)

    def standing_on(self, rope_id: str, as_of: date) -> Standing:
        """Where a rope stood at the end of a day, by what is known now."""
        self.need_rope(rope_id)
        with self.reader() as conn:
            return standing_on(rope_id, rope_entries(conn, rope_id), as_of)

    def dossier(
        self, rope_id: str, *, as_of: date | None = None, known_by: datetime | None = None
    ) -> Dossier:
        """The dossier of a rope: now, as on a day, or as it was known at a moment.

        Parameters
        ----------
        rope_id
            The rope.
        as_of
            Leave out what happened after this day.
        known_by
            Leave out what arrived after this moment.

        Raises
        ------
        UnknownNameError
            If the book has no such rope; names near ones.
        BookError
            If the book does not say enough of it.
        """
        self.need_rope(rope_id)
        entries = [one.entry for one in self.entries(rope_id, known_by=known_by)]
        with self.reader() as conn:
            return dossier_from_entries(entries, people_of(conn), as_of=as_of)

    def need_rope(self, rope_id: str) -> None:
        """Refuse a rope that the book does not have.

        Raises
        ------
        UnknownNameError
            If it has no such rope; names near ones.
        """
        known = self.rope_ids()
        if rope_id not in known:
            raise UnknownNameError(
                what="a rope of this book", given=rope_id, known=known, file=self.address
            )


def stored_of(row: TableRow) -> Stored:
    """An entry from its row."""
    return Stored(entry=trusted_entry(row.content), row=row_of_table(row))


def row_of_table(row: TableRow) -> Row:
    """A row as the chain is checked on, with the columns beside its content."""
    on = None if row.happened_on is None else row.happened_on.isoformat()
    return Row(
        sequence=row.sequence,
        rope_sequence=row.rope_sequence,
        arrived_at=row.arrived_at,
        content=row.content,
        book_hash=row.book_hash,
        rope_hash=row.rope_hash,
        columns={
            "entry": row.entry_id, "rope": row.rope_id, "kind": row.kind, "happened_on": on,
        },
    )  # fmt: skip


def people_of(conn: Connection) -> MemoryPeople:
    """The persons that a book knows."""
    rows = conn.execute(select(PERSONS.c.person_id, PERSONS.c.data).order_by(PERSONS.c.person_id))
    return MemoryPeople({row.person_id: row.data for row in rows})


def create_book(
    address: str | Path,
    *,
    photo_folder: Path | None = None,
    now: Clock = utc_now,
    book_id: str | None = None,
    made_at: str | None = None,
) -> Book:
    """Make a new, empty logbook.

    Parameters
    ----------
    address
        Path of a file that is not there yet, or ``postgresql://user@host/database``.
    photo_folder
        Where photos go; beside the file if it is one.
    now
        The book's clock.
    book_id, made_at
        Of the book that is restored here; a new book gets its own.

    Raises
    ------
    BookError
        If something is there already.
    """
    if not is_server(address) and Path(address).exists():
        raise BookError("is there already", file=str(address), expected="a new file")
    if not is_server(address) and not Path(address).parent.is_dir():
        raise BookError(
            file=str(address), expected="a folder that is there", given="no such folder"
        )
    engine = connect(address)
    try:
        start(engine)
        migrate(engine, now())
        with writing(engine) as conn:
            conn.execute(
                BOOK.insert().values(
                    one=1,
                    book_id=book_id or str(uuid.uuid4()),
                    made_at=made_at or instant_text(now()),
                )
            )
        return _book(engine, address, photo_folder, now)
    except RopewrightError as error:
        engine.dispose()
        raise error.with_file(shown(address)) from error.__cause__


def open_book(
    address: str | Path, *, photo_folder: Path | None = None, now: Clock = utc_now
) -> Book:
    """Open a logbook; an older one is brought up to date, a newer one is left alone.

    Raises
    ------
    BookError
        If there is none.
    NewerBookError
        If it was written by a newer version of this tool.
    """
    if not is_server(address) and not Path(address).is_file():
        raise BookError(
            file=str(address), expected="a logbook", given="no such file",
            hint="make one with: ropewright logbook init BOOK",
        )  # fmt: skip
    engine = connect(address)
    try:
        if pending(engine):
            migrate(engine, now())
        return _book(engine, address, photo_folder, now)
    except RopewrightError as error:
        engine.dispose()
        raise error.with_file(shown(address)) from error.__cause__


def _book(engine: Engine, address: str | Path, photo_folder: Path | None, now: Clock) -> Book:
    folder = photo_folder
    if folder is None and not is_server(address):
        folder = Path(f"{address}.photos")
    return Book(engine, address=shown(address), photo_folder=folder, now=now)
