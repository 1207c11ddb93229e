"""Erasing what must not be kept: the data of a person, a photo.  The entries stay."""

from typing import Any, Literal

from ropewright.errors import BookError
from ropewright.logbook.appending import Receipt, append
from ropewright.logbook.book import Book
from ropewright.logbook.bookkeeping import Erased
from ropewright.logbook.canon import instant_text
from ropewright.logbook.entry import Hand, check_entry, new_entry
from ropewright.logbook.people import Unnamed
from ropewright.logbook.photos import erase_photo_in, sweep_photos
from ropewright.logbook.tables import PERSONS


def erase(
    book: Book,
    what: Literal["person", "photo"],
    ref: str,
    *,
    reason: str,
    by: tuple[Hand, ...] = (),
) -> Receipt:
    """Erase the data of a person or a photo; an entry says that it was done and why.

    Only the id or hash stays.  Backups and exports made before still hold the data.

    Parameters
    ----------
    book
        The book.
    what
        Which of the two.
    ref
        Id of the person, or hash of the photo.
    reason
        Why.
    by
        Who did it.

    Raises
    ------
    BookError
        If the book has no such person or photo.
    """
    now = book.now()
    said = Erased(what=what, ref=ref, reason=reason)
    entry = check_entry(new_entry(said, Unnamed(), by=by))
    with book.writer() as conn:
        if what == "photo":
            erase_photo_in(conn, ref, now)
        else:
            gone = PERSONS.update().where(PERSONS.c.person_id == ref)
            values = {"data": None, "salt": None, "erased_at": instant_text(now)}
            if conn.execute(gone.values(values)).rowcount != 1:
                raise BookError(field="person", expected="a person of this book", given=ref)
        (receipt,) = append(conn, [entry], now)
    if what == "photo":
        sweep_photos(book)
    _scrub(book)
    return receipt


def _scrub(book: Book) -> None:
    """Let go of old copies that the database still holds in its own files."""
    pooled = book.engine.raw_connection()
    try:
        driver: Any = pooled.driver_connection
        if book.engine.dialect.name == "sqlite":
            driver.execute("PRAGMA wal_checkpoint(TRUNCATE)").close()
        else:
            driver.autocommit = True
            driver.execute("VACUUM persons").close()
            driver.autocommit = False
    finally:
        pooled.close()
