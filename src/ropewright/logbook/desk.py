"""What the commands ask of a logbook, one call each: open, do it, close."""

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from importlib import resources
from pathlib import Path

from ropewright.inspection import Dossier
from ropewright.logbook.backup import backup, restore
from ropewright.logbook.book import Book, Clock, create_book, open_book, utc_now
from ropewright.logbook.checking import Checked, Rebuilt, rebuild, verify
from ropewright.logbook.exchange import TakenIn, export_book, import_book
from ropewright.logbook.files import write_whole
from ropewright.logbook.seal import Seal
from ropewright.logbook.sheets import due_calendar, dues_of, findings_csv
from ropewright.logbook.standing import Standing
from ropewright.logbook.take_in import Account, take_in_dossier


@dataclass(frozen=True, slots=True, kw_only=True)
class BookCase:
    """A rope as a book has it, in the shape a case file has once it was read.

    ``sha256`` is the last hash of the rope's chain, ``seal`` the seal of the whole book.
    """

    dossier: Dossier
    sha256: str
    seal: str
    warnings: tuple[str, ...] = ()


def checker() -> bytes:
    """The single file that checks an export without this package."""
    return resources.files("ropewright.logbook").joinpath("verify_book.py").read_bytes()


class LogbookDesk:
    """Everything the commands do with a logbook.

    Parameters
    ----------
    software
        Name and version, written into exports.
    now
        The clock.
    photo_folder
        Where photos of a book on a server are kept.
    """

    def __init__(
        self, software: str = "", *, now: Clock = utc_now, photo_folder: Path | None = None
    ) -> None:
        self._software = software
        self._now = now
        self._photo_folder = photo_folder

    @contextmanager
    def _open(self, address: str) -> Iterator[Book]:
        book = open_book(address, now=self._now, photo_folder=self._photo_folder)
        try:
            yield book
        finally:
            book.close()

    def init(self, address: str) -> Seal:
        """Make a new, empty book; gives its first seal."""
        book = create_book(address, now=self._now, photo_folder=self._photo_folder)
        try:
            return book.seal()
        finally:
            book.close()

    def take_in(self, address: str, dossier: Dossier, *, correct: str | None = None) -> Account:
        """Take a rope into a book."""
        with self._open(address) as book:
            return take_in_dossier(book, dossier, correct=correct)

    def import_book(self, address: str, path: Path, *, quarantine: Path | None = None) -> TakenIn:
        """Add the entries of an exported book."""
        with self._open(address) as book:
            return import_book(book, path, quarantine=quarantine)

    def export_book(self, address: str, path: Path) -> Seal:
        """Write the whole book as JSON Lines."""
        with self._open(address) as book:
            return export_book(book, path, software=self._software)

    def export_findings(self, address: str, path: Path, ropes: Sequence[str] = ()) -> int:
        """Write the findings of ropes as CSV; gives the number of ropes [-]."""
        with self._open(address) as book:
            dossiers = [book.dossier(rope) for rope in ropes or book.rope_ids()]
        write_whole(path, findings_csv(dossiers))
        return len(dossiers)

    def export_calendar(self, address: str, path: Path) -> int:
        """Write what is due as a calendar; gives the number of items [-]."""
        with self._open(address) as book:
            dues = dues_of(book.standing())
            data = due_calendar(dues, book_id=book.book_id, made_at=self._now())
        write_whole(path, data)
        return len(dues)

    def export_checker(self, path: Path) -> None:
        """Write the single file that checks an export without this package."""
        write_whole(path, checker())

    def standing(self, address: str) -> tuple[Standing, ...]:
        """Where every rope stands."""
        with self._open(address) as book:
            return book.standing()

    def seal(self, address: str) -> Seal:
        """The seal of the book as it is."""
        with self._open(address) as book:
            return book.seal()

    def verify(self, address: str, seals: Iterable[str] = ()) -> Checked:
        """Check the whole book, also against earlier seals."""
        wanted = [Seal.parse(text) for text in seals]
        with self._open(address) as book:
            return verify(book, wanted)

    def rebuild(self, address: str) -> Rebuilt:
        """Derive where every rope stands anew."""
        with self._open(address) as book:
            return rebuild(book)

    def backup(self, address: str, path: Path) -> Seal:
        """Save the book and its photos to one file."""
        with self._open(address) as book:
            return backup(book, path, software=self._software)

    def restore(self, path: Path, address: str) -> Seal:
        """Make a book from a backup."""
        return restore(path, address, now=self._now, photo_folder=self._photo_folder)

    def load(self, address: str, rope_id: str, *, as_of: date | None = None) -> BookCase:
        """A rope of a book, in the shape a case file has once it was read."""
        with self._open(address) as book:
            dossier = book.dossier(rope_id, as_of=as_of)
            last = book.entries(rope_id)[-1].row.rope_hash
            return BookCase(dossier=dossier, sha256=last, seal=str(book.seal()))
