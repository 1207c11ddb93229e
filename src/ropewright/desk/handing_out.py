"""The port to what leaves a book: tables, a rope's life, calendars, the whole of it with photos."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from datetime import date
from typing import BinaryIO, Protocol

from ropewright.desk.rope_life import RopeLife


class HandsOut(Protocol):
    """What goes out of a book that stays open; nothing large is held in memory."""

    def book_lines(self, file: BinaryIO) -> None:
        """Write the whole book as lines of JSON, with its chain, without its photos.

        Parameters
        ----------
        file
            An open file.
        """

    def archive(self, file: BinaryIO) -> None:
        """Write the whole book with photos and signed reports as one zip, and read it back.

        Parameters
        ----------
        file
            An open file, to write and to read.
        """

    def checker(self) -> bytes:
        """The single file that checks an export without this package."""

    def table_csv(self, what: str, file: BinaryIO, ropes: Collection[str] = ()) -> None:
        """Write a table as CSV, rope after rope.

        Parameters
        ----------
        what
            Name of the table.
        file
            An open file.
        ropes
            Only these ropes; all if none is named.

        Raises
        ------
        UnknownNameError
            If there is no such table, or no such rope.
        """

    def columns(self) -> Mapping[str, Sequence[str]]:
        """Names of the columns of every table, by its name."""

    def rows(self, ropes: Collection[str] = ()) -> Iterator[tuple[str, Mapping[str, object]]]:
        """Rows of all tables, each with the name of its table, rope after rope.

        Parameters
        ----------
        ropes
            Only these ropes; all if none is named.
        """

    def life(self, rope_id: str, made_on: date) -> RopeLife:
        """The life of a rope, for its card."""

    def calendar(
        self, ropes: Collection[str] = (), extra: Sequence[tuple[str, date, str]] = ()
    ) -> tuple[bytes, int]:
        """What is due as a calendar, and how many dates it has [-].

        Parameters
        ----------
        ropes
            Only these ropes; all if none is named.
        extra
            Further dates: id, day, words.
        """
