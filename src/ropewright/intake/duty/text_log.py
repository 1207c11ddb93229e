"""Duty logs in CSV: pieces of lines made into arrays; what is odd is named with its row."""

import csv
import gzip
import zlib
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from itertools import chain, islice
from pathlib import Path
from typing import Any, Final

import numpy as np
import numpy.typing as npt

from ropewright.errors import DutyLogError
from ropewright.intake.duty.mapping import LogMapping, check_headings, mapping_from_headings
from ropewright.intake.duty.moments import (
    WallClock,
    moments_of_bytes,
    moments_of_numbers,
    moments_of_text,
    zone_of,
)
from ropewright.intake.duty.pieces import Piece, RawColumns, pieces

LINES: Final = 100_000
"""Lines that are read at a time."""
LONGEST_LINE: Final = 10_000

_DELIMITERS: Final = (",", ";", "\t", "|")
_BLANK: Final = frozenset({"", "-", "--", "nan", "na", "n/a", "null", "none"})
_BLANK_LINE: Final = 40  # a line as short as this may be nothing but blanks
_MOMENT: Final = "S40"


def text_pieces(path: Path, mapping: LogMapping | None, *, file: str) -> Iterator[Piece]:
    """Pieces of a log in CSV, plain or packed with gzip.

    Parameters
    ----------
    path
        The file.
    mapping
        Which column is what; without one the headings must say it.
    file
        Its name in errors.

    Raises
    ------
    DutyLogError
        If the log cannot be read; names row and column.
    """
    with _opened(path, file) as stream:
        blocks = _blocks(stream, file)
        header, row, rest = _header(blocks, file)
        delimiter = max(_DELIMITERS, key=header.count)
        headings = [one.strip() for one in next(csv.reader([header], delimiter=delimiter))]
        if mapping is None:
            mapping = mapping_from_headings(headings, file=file)
        check_headings(mapping, headings, file=file)
        reader = _Reader(mapping, headings, delimiter, file)
        for block in chain([rest], blocks):
            if block:
                yield from pieces(reader.read(block, row), mapping)
                row += len(block)


@contextmanager
def _opened(path: Path, file: str) -> Iterator[Iterable[str]]:
    open_it = gzip.open if path.suffix.lower() == ".gz" else Path.open
    try:
        stream = open_it(path, "rt", encoding="utf-8-sig", newline="")
    except (OSError, ValueError) as error:
        raise DutyLogError(f"cannot be read: {error}", file=file) from None
    with stream:
        yield stream


def _blocks(stream: Iterable[str], file: str) -> Iterator[list[str]]:
    """Give the lines in blocks, and say plainly what is wrong with the file's bytes."""
    row = 1
    lines = iter(stream)
    try:
        while block := list(islice(lines, LINES)):
            if max(map(len, block)) > LONGEST_LINE:
                raise DutyLogError(
                    file=file,
                    field=f"from row {row} on",
                    expected=f"lines of at most {LONGEST_LINE} letters",
                    given="a longer one",
                )
            row += len(block)
            yield block
    except UnicodeDecodeError:
        raise DutyLogError(
            file=file, field=f"from row {row} on", expected="text saved as UTF-8", given="bytes"
        ) from None
    except (OSError, EOFError, zlib.error) as error:
        raise DutyLogError(f"cannot be read: {error}", file=file) from None


def _header(blocks: Iterator[list[str]], file: str) -> tuple[str, int, list[str]]:
    """Return the headings' line, the row after it, and the other lines of the first block."""
    for block in islice(blocks, 1):
        for number, line in enumerate(block):
            if line.strip():
                return line.rstrip("\r\n"), number + 2, block[number + 1 :]
    raise DutyLogError(file=file, expected="a line with the names of the columns", given=None)


class _Reader:
    """Makes columns out of blocks of lines."""

    def __init__(
        self, mapping: LogMapping, headings: Sequence[str], delimiter: str, file: str
    ) -> None:
        self._mapping = mapping
        self._delimiter = delimiter
        self._file = file
        self._width = len(headings)
        self._headings = mapping.headings
        self._where = [headings.index(one) for one in self._headings]
        self._clock = None if mapping.zone is None else WallClock(zone_of(mapping.zone))
        if mapping.decimal == delimiter:
            raise DutyLogError(
                file=file,
                field="decimal",
                expected="another decimal sign than the sign between columns",
                given=delimiter,
            )

    def read(self, block: list[str], row: int) -> RawColumns:
        """Read lines; ``row`` is the number of the first."""
        if self._mapping.decimal == ",":
            block = [line.replace(",", ".") for line in block]
        try:
            columns, texts = self._at_once(block)
        except (ValueError, UnicodeEncodeError):
            columns, written, rows = self._one_by_one(block, row)
            moments = self._moments_of(written, rows)
        else:
            moments = self._moments(texts, row)
        numbers = {name: columns[name] for name in self._headings if name in columns}
        return RawColumns(time_ms=moments, columns=numbers, first_row=row)

    def _at_once(self, block: list[str]) -> tuple[dict[str, Any], Any]:
        """Read a block whose cells are all numbers, but for the moments."""
        if min(map(len, block)) <= _BLANK_LINE and not all(line.strip() for line in block):
            raise ValueError("blank lines are skipped one by one")
        is_number = self._mapping.time_unit_ms is not None
        kinds = [("0", "f8" if is_number else _MOMENT)]
        kinds += [(str(number), "f8") for number in range(1, len(self._headings))]
        table = np.loadtxt(
            block,
            dtype=np.dtype(kinds),
            delimiter=self._delimiter,
            usecols=self._where,
            comments=None,
            encoding="utf-8",
            ndmin=1,
        )
        columns = {name: table[str(at)] for at, name in enumerate(self._headings) if at}
        return columns, table["0"]

    def _moments(self, texts: Any, row: int) -> npt.NDArray[np.int64]:  # noqa: ANN401
        unit = self._mapping.time_unit_ms
        try:
            if unit is not None:
                return moments_of_numbers(texts, unit, rows=range(row, row + texts.size))
            return moments_of_bytes(texts, self._clock, row=row)
        except DutyLogError as error:
            raise error.with_file(self._file) from None

    def _moments_of(self, written: list[str], rows: list[int]) -> npt.NDArray[np.int64]:
        unit = self._mapping.time_unit_ms
        try:
            if unit is None:
                return moments_of_text(written, self._clock, rows=rows)
            numbers = [
                self._number(one, row, "time") for one, row in zip(written, rows, strict=True)
            ]
            return moments_of_numbers(np.array(numbers, dtype=np.float64), unit, rows=rows)
        except DutyLogError as error:
            raise error.with_file(self._file) from None

    def _one_by_one(
        self, block: list[str], row: int
    ) -> tuple[dict[str, Any], list[str], list[int]]:
        """Read a block cell by cell: blank cells are allowed, anything else is an error."""
        cells: list[list[str]] = []
        rows: list[int] = []
        try:
            for number, line in enumerate(csv.reader(block, delimiter=self._delimiter), row):
                if not any(cell.strip() for cell in line):
                    continue
                if len(line) <= max(self._where):
                    raise DutyLogError(
                        file=self._file,
                        field=f"row {number}",
                        expected=f"{self._width} columns",
                        given=f"{len(line)}",
                    )
                cells.append([line[at] for at in self._where])
                rows.append(number)
        except csv.Error as error:
            raise DutyLogError(f"not CSV: {error}", file=self._file, field=f"row {row}") from None
        columns = {
            name: np.array(
                [
                    self._number(line[at], number, name)
                    for line, number in zip(cells, rows, strict=True)
                ],
                dtype=np.float64,
            )
            for at, name in enumerate(self._headings)
            if at
        }
        return columns, [line[0] for line in cells], rows

    def _number(self, text: str, row: int, name: str) -> float:
        plain = text.strip()
        try:
            return float(plain)
        except ValueError:
            if plain.casefold() in _BLANK:
                return np.nan
        hint = None
        if "," in plain:
            hint = 'for a log with decimal commas, say so: decimal = ","'
        raise DutyLogError(
            file=self._file,
            field=f"row {row}, column {name}",
            expected="a number or nothing",
            given=text,
            hint=hint,
        )
