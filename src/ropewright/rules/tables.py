"""Printed tables, kept as tables: strict CSV in, cells and rows out."""

import csv
import io
import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import Final

from ropewright.errors import TableError

_NUMBER: Final = re.compile(r"-?\d{1,9}(?:\.\d{1,9})?", re.ASCII)
_FACTOR: Final = re.compile(r"(\d{1,3}(?:\.\d{1,6})?) n", re.ASCII)


@lru_cache(maxsize=4096)
def _exact(text: str) -> Fraction | None:
    return Fraction(text) if text and _NUMBER.fullmatch(text) else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One printed row; cells stay as printed."""

    line: int
    cells: Mapping[str, str]

    def number(self, column: str) -> Fraction | None:
        """A cell as an exact number; ``None`` when the cell is empty [-]."""
        return _exact(self.cells[column])

    def limit(self, column: str, n: int | None) -> Fraction | None:
        """A cell as a limit: a number, or a printed factor times ``n`` [-].

        Returns ``None`` when the cell is empty or needs an ``n`` that is not known.
        """
        text = self.cells[column]
        factor = _FACTOR.fullmatch(text)
        if factor:
            return None if n is None else Fraction(factor[1]) * n
        return self.number(column)


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A printed table: heads and rows, in printed order."""

    name: str
    heads: tuple[str, ...]
    rows: tuple[Row, ...]


def read_table(text: str, *, file: str) -> Table:
    """Read a table from CSV text, refusing anything that does not look as printed.

    Raises
    ------
    TableError
        Naming the line, what is expected and what was given.
    """
    reader = csv.reader(io.StringIO(text), strict=True)
    try:
        lines = [(number, line) for number, line in enumerate(reader, start=1) if line]
    except csv.Error as problem:
        raise TableError(
            f"not readable as CSV: {problem}",
            field="table",
            expected="comma separated lines",
            given=text[:40],
            file=file,
        ) from problem
    if len(lines) < 2:
        raise TableError(
            field="table", expected="a line of heads and at least one row", given=text, file=file
        )
    heads = tuple(cell.strip() for cell in lines[0][1])
    if len(set(heads)) != len(heads) or any(not head for head in heads):
        raise TableError(
            field="heads",
            expected="a different head for every column",
            given=list(heads),
            file=file,
        )
    rows = []
    for number, line in lines[1:]:
        if len(line) != len(heads):
            raise TableError(
                field=f"line {number}",
                expected=f"{len(heads)} cells ({', '.join(heads)})",
                given=f"{len(line)} cells",
                file=file,
            )
        rows.append(
            Row(line=number, cells=dict(zip(heads, (c.strip() for c in line), strict=True)))
        )
    return Table(name=file, heads=heads, rows=tuple(rows))


def check_cells(table: Table, columns: tuple[str, ...], *, factors: bool) -> None:
    """Make sure that columns exist and hold numbers (or factors like ``0.04 n``).

    Raises
    ------
    TableError
        Naming line, column, what is expected and what was given.
    """
    for column in columns:
        if column not in table.heads:
            raise TableError(
                field="column",
                expected=f"one of {', '.join(table.heads)}",
                given=column,
                file=table.name,
            )
        for row in table.rows:
            text = row.cells[column]
            good = not text or _NUMBER.fullmatch(text) or (factors and _FACTOR.fullmatch(text))
            if not good:
                kinds = (
                    "a number, a factor such as '0.04 n', or nothing"
                    if factors
                    else "a number or nothing"
                )
                raise TableError(
                    field=f"line {row.line}, column {column}",
                    expected=kinds,
                    given=text,
                    file=table.name,
                )


def rows_for(
    table: Table, *, n: int | None, outer_strands: int | None, rcn: str | None
) -> tuple[Row, ...]:
    """Rows of a broken-wire table that hold for a rope.

    By its given category number if there is one, else by ``n`` [-] and, where the table has
    strand columns, by the number of outer strands [-].  More than one row means that the
    printed bands meet there.
    """
    if rcn is not None:
        return tuple(row for row in table.rows if row.cells.get("rcn") == rcn)
    if n is None:
        return ()
    found = []
    for row in table.rows:
        if not _within(row, "n_from", "n_to", n):
            continue
        if "strands_from" in table.heads and (
            outer_strands is None or not _within(row, "strands_from", "strands_to", outer_strands)
        ):
            continue
        found.append(row)
    return tuple(found)


def _within(row: Row, low: str, high: str, value: int) -> bool:
    least, most = row.number(low), row.number(high)
    return (least is None or value >= least) and (most is None or value <= most)


def rows_up(table: Table, row: Row, up: int) -> Row:
    """The row ``up`` rows above, clamped at the first row of the table."""
    place = table.rows.index(row)
    return table.rows[max(0, place - up)]
