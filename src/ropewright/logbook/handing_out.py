"""What leaves a book that stays open: the port of the desk, filled; rope after rope."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from datetime import date
from typing import BinaryIO, Final

from ropewright.desk.rope_life import RopeLife, rope_life
from ropewright.errors import InputError, UnknownNameError
from ropewright.inspection import Dossier
from ropewright.logbook.backup import pack
from ropewright.logbook.book import Book, people_of
from ropewright.logbook.desk import checker
from ropewright.logbook.dues import Due, due_calendar, dues_of
from ropewright.logbook.exchange import export_lines
from ropewright.logbook.sheets import TABLES, as_numbers, table_pieces
from ropewright.logbook.working_lines import working_lines

_AT_ONCE: Final = 1000


class BookHandsOut:
    """What goes out of an open book; see `ropewright.desk.handing_out.HandsOut`.

    Parameters
    ----------
    book
        The open book.
    software
        Name and version, written into exports.
    """

    def __init__(self, book: Book, *, software: str = "") -> None:
        self._book = book
        self._software = software

    def book_lines(self, file: BinaryIO) -> None:
        """Write the whole book as lines of JSON, with its chain, without its photos."""
        held: list[str] = []
        for line in export_lines(self._book, software=self._software):
            held.append(line)
            if len(held) == _AT_ONCE:
                file.write("\n".join((*held, "")).encode())
                held.clear()
        file.write("\n".join((*held, "")).encode())

    def archive(self, file: BinaryIO) -> None:
        """Write the whole book with photos and signed reports as one zip, and read it back."""
        pack(self._book, file, software=self._software)

    def checker(self) -> bytes:
        """The single file that checks an export without this package."""
        return checker()

    def table_csv(self, what: str, file: BinaryIO, ropes: Collection[str] = ()) -> None:
        """Write a table as CSV, rope after rope.

        Raises
        ------
        UnknownNameError
            If there is no such table, or no such rope.
        """
        make = TABLES.get(what)
        if make is None:
            raise UnknownNameError(what="a table", given=what, known=TABLES, field="table")
        columns, _ = make(())
        tables = (make([dossier])[1] for dossier in self._dossiers(ropes))
        for piece in table_pieces(columns, tables):
            file.write(piece)

    def columns(self) -> Mapping[str, Sequence[str]]:
        """Names of the columns of every table, by its name."""
        return {name: make(())[0] for name, make in TABLES.items()}

    def rows(self, ropes: Collection[str] = ()) -> Iterator[tuple[str, Mapping[str, object]]]:
        """Rows of all tables, numbers as numbers, each with its table's name, rope after rope."""
        for dossier in self._dossiers(ropes):
            for name, make in TABLES.items():
                for row in as_numbers(make([dossier]))[1]:
                    yield name, row

    def _dossiers(self, ropes: Collection[str]) -> Iterator[Dossier]:
        for rope in ropes or self._book.rope_ids():
            try:
                yield self._book.dossier(rope)
            except InputError as error:
                raise error.within(f"rope {rope}") from None

    def life(self, rope_id: str, made_on: date) -> RopeLife:
        """The life of a rope, for its card."""
        dossier = self._book.dossier(rope_id)
        entries = [one.entry for one in self._book.entries(rope_id)]
        with self._book.reader() as conn:
            work = working_lines(entries, people_of(conn))
        return rope_life(dossier, made_on, work=work, seal=str(self._book.seal()))

    def calendar(
        self, ropes: Collection[str] = (), extra: Sequence[tuple[str, date, str]] = ()
    ) -> tuple[bytes, int]:
        """What is due as a calendar, and how many dates it has [-]."""
        wanted = frozenset(ropes)
        own = dues_of(one for one in self._book.standing() if not wanted or one["rope"] in wanted)
        known = {one.due_id for one in own}
        more = [
            Due(due_id=name, on=on, words=words) for name, on, words in extra if name not in known
        ]
        dues = sorted((*own, *more), key=lambda due: (due.on, due.due_id))
        data = due_calendar(dues, book_id=self._book.book_id, made_at=self._book.now())
        return data, len(dues)
