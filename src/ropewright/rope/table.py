"""Tables of published values, read strictly: line by line, cell by cell, refused by name."""

import csv
import re
from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction
from typing import Literal, TypeAlias, cast, get_args

from ropewright.errors import QuantityError, TableError
from ropewright.units import parse_length, parse_number

Provenance: TypeAlias = Literal["text", "second-hand", "derived", "reconstructed", "memory", "own"]


class TableLine:
    """One line of a table, read field by field; what does not fit is refused by name."""

    def __init__(self, file: str, number: int, cells: Mapping[str, str]) -> None:
        """Take the ``cells`` of line ``number`` [-] of a ``file``, by column."""
        self._file, self._number, self._cells = file, number, cells

    def refuse(self, column: str, expected: str) -> TableError:
        """The error for a cell that is not as expected."""
        return TableError(
            file=self._file,
            field=f"line {self._number}, {column}",
            expected=expected,
            given=self._cells[column],
        )

    def text(self, column: str, *, empty: bool = False) -> str:
        """A cell as it stands; an empty one only where that is allowed."""
        if not self._cells[column] and not empty:
            raise self.refuse(column, "an entry")
        return self._cells[column]

    def word(self, column: str, allowed: Iterable[str]) -> str:
        """A cell that holds one of the words allowed."""
        words = list(allowed)
        if self._cells[column] not in words:
            raise self.refuse(column, "one of " + ", ".join(words))
        return self._cells[column]

    def flag(self, column: str) -> bool:
        """A cell that says yes or no."""
        return self.word(column, ("yes", "no")) == "yes"

    def count(self, column: str) -> int:
        """A whole number above zero [-]."""
        if not re.fullmatch(r"[1-9][0-9]{0,3}", self._cells[column]):
            raise self.refuse(column, "a whole number above zero")
        return int(self._cells[column])

    def number(self, column: str) -> Fraction:
        """A number, exactly [-]."""
        try:
            return parse_number(self._cells[column], field=column, signed=True)
        except QuantityError as error:
            raise self.refuse(column, "a number") from error

    def maybe_number(self, column: str) -> Fraction | None:
        """A number, none for an empty cell [-]."""
        return self.number(column) if self._cells[column] else None

    def factor(self, column: str) -> Fraction:
        """A factor above 0 and below 1 [-]."""
        value = self.number(column)
        if not 0 < value < 1:
            raise self.refuse(column, "a factor above 0 and below 1")
        return value

    def maybe_factor(self, column: str) -> Fraction | None:
        """A factor, none for an empty cell [-]."""
        return self.factor(column) if self._cells[column] else None

    def maybe_length_mm(self, column: str) -> Fraction | None:
        """A length with its unit, none for an empty cell [mm]."""
        if not self._cells[column]:
            return None
        try:
            return parse_length(self._cells[column], field=column)
        except QuantityError as error:
            raise self.refuse(column, "a length with its unit") from error

    def provenance(self, column: str) -> Provenance:
        """Where a value comes from, one of the known kinds."""
        return cast(Provenance, self.word(column, get_args(Provenance)))


def table_lines(text: str, *, file: str, columns: str) -> Iterator[TableLine]:
    """Read a table whose head is known; a surplus, missing or empty line is refused."""
    head = columns.split()
    try:
        rows = list(csv.reader(text.splitlines(), strict=True))
    except csv.Error as error:
        raise TableError(f"not a table of comma-separated cells: {error}", file=file) from error
    for number, cells in enumerate(rows, start=1):
        if len(cells) != len(head) or (number == 1 and cells != head):
            raise TableError(
                file=file, field=f"line {number}", expected=", ".join(head), given=cells
            )
        if number > 1:
            yield TableLine(file, number, dict(zip(head, cells, strict=True)))
