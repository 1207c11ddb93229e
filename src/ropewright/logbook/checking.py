"""Verifying a book against its chain and earlier seals, and deriving its standing anew."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from sqlalchemy import Connection, select

from ropewright.errors import BrokenChainError, InputError
from ropewright.logbook.appending import write_standing
from ropewright.logbook.book import Book, row_of_table
from ropewright.logbook.entry import trusted_entry
from ropewright.logbook.photos import photo_problems, sweep_photos
from ropewright.logbook.seal import Seal
from ropewright.logbook.standing import Standing, standing_of, standing_text
from ropewright.logbook.tables import ENTRIES, PERSONS, PHOTOS, STANDING
from ropewright.logbook.verify_book import ChainCheck, Problem

_AT_ONCE = 5000


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """What verifying found: how much was looked at, and everything that does not hold."""

    seal: Seal
    entries: int
    ropes: int
    seals: int
    problems: tuple[Problem, ...]

    def must_hold(self, file: str | None = None) -> None:
        """Raise if anything does not hold.

        Raises
        ------
        BrokenChainError
            With the first problem and their number.
        """
        if self.problems:
            more = len(self.problems) - 1
            raise BrokenChainError(
                f"does not hold: {self.problems[0]}" + (f" (and {more} more)" if more else ""),
                file=file,
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Rebuilt:
    """What deriving the standing anew found: ropes in all, and those that had differed."""

    ropes: int
    changed: tuple[str, ...]


def all_rows(conn: Connection) -> Iterator[Any]:
    """Every row of the book in order, without holding all of them."""
    query = select(ENTRIES).order_by(ENTRIES.c.sequence)
    yield from conn.execute(query.execution_options(yield_per=_AT_ONCE))


def verify(book: Book, seals: Iterable[Seal] = ()) -> Checked:
    """Check the whole book: chains, copies in columns, earlier seals, persons, photos.

    An edited, inserted, deleted or moved entry breaks a chain.  A shortened or wholly rewritten
    book holds in itself: only an earlier seal tells.

    Parameters
    ----------
    book
        The book.
    seals
        Seals that were written down earlier.

    Raises
    ------
    InputError
        If a seal is of another book.
    """
    wanted: dict[int, list[str]] = {}
    for seal in seals:
        if seal.book_id != book.book_id:
            raise InputError(
                field="seal", expected=f"a seal of this book, {book.book_id}", given=str(seal)
            )
        wanted.setdefault(seal.sequence, []).append(seal.book_hash)
    check = ChainCheck(book.book_id, wanted)
    with book.reader() as conn:
        for row in all_rows(conn):
            check.take(row_of_table(row))
        persons = conn.execute(select(PERSONS).order_by(PERSONS.c.person_id)).all()
        for one in persons:
            check.person(one.person_id, one.salt, one.data)
        photos = conn.execute(select(PHOTOS).order_by(PHOTOS.c.sha256)).all()
        for photo in photos:
            check.photo(photo.sha256, erased=photo.erased_at is not None)
        check.missing((one.person_id for one in persons), (photo.sha256 for photo in photos))
        for says in photo_problems(conn, book.photo_folder):
            check.say(0, says)
    check.end()
    return Checked(
        seal=Seal(book.book_id, check.sequence, check.book_hash),
        entries=check.sequence,
        ropes=len(set(check.ropes) - {""}),
        seals=sum(map(len, wanted.values())),
        problems=tuple(check.problems),
    )


def rebuild(book: Book) -> Rebuilt:
    """Derive where every rope stands anew, from its entries and nothing else, and write it.

    A sound book does not change by a single bit; whatever had differed is named.
    """
    with book.writer() as conn:
        before = {row.rope_id: (row.sequence, row.data) for row in conn.execute(select(STANDING))}
        changed: list[str] = []
        count = 0

        def records() -> Iterator[tuple[str, int, Standing]]:
            nonlocal count
            for rope_id, sequence, record in _derived(conn):
                count += 1
                was = before.pop(rope_id, None)
                if was != (sequence, standing_text(record)):
                    changed.append(rope_id)
                    yield rope_id, sequence, record

        # Gathered first: reading and writing at once through one connection is not for both.
        write_standing(conn, list(records()))
        for rope_id in before:
            conn.execute(STANDING.delete().where(STANDING.c.rope_id == rope_id))
            changed.append(rope_id)
    sweep_photos(book)
    return Rebuilt(ropes=count, changed=tuple(sorted(changed)))


def _derived(conn: Connection) -> Iterator[tuple[str, int, Standing]]:
    table = ENTRIES.c
    query = (
        select(table.rope_id, table.sequence, table.content)
        .where(table.rope_id != "")
        .order_by(table.rope_id, table.rope_sequence)
    )
    rows = conn.execute(query.execution_options(yield_per=_AT_ONCE))
    for rope_id, group in groupby(rows, key=lambda row: str(row.rope_id)):
        newest = 0
        entries = []
        for row in group:
            newest = row.sequence
            entries.append(trusted_entry(row.content))
        yield rope_id, newest, standing_of(rope_id, entries)
