"""Tables written as one XLSX workbook: text stays text, numbers stay numbers, no formulas."""

import io
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import UTC, date, datetime
from itertools import chain, islice
from typing import Any, BinaryIO, Final, TypeAlias

from ropewright.errors import InputError

Sheet: TypeAlias = tuple[Sequence[str], Sequence[Mapping[str, object]]]
#: A sheet that is written row by row; the library's stubs know little of it.
_Writing: TypeAlias = Any
#: A row with the name of its sheet.
Row: TypeAlias = tuple[str, Mapping[str, object]]

_WIDEST: Final = 60
_NARROWEST: Final = 8
#: So many rows are looked at for the width of columns [-].
_LOOKED_AT: Final = 500
#: What a sheet holds at most [-].
_MOST_ROWS: Final = 1_048_576
_MADE: Final = datetime(2000, 1, 1, tzinfo=UTC).replace(tzinfo=None)


def sheets_xlsx(sheets: Mapping[str, Sheet], *, note: str = "") -> bytes:
    """A workbook with one sheet for each table.

    Parameters
    ----------
    sheets
        Column names and rows by the name of the sheet; a row gives values by column.
    note
        A line for the workbook's description, such as 'invented data'.
    """
    out = io.BytesIO()
    columns = {name: heads for name, (heads, _) in sheets.items()}
    rows = ((name, row) for name, (_, rows) in sheets.items() for row in rows)
    write_workbook(out, columns, rows, note=note)
    return out.getvalue()


def write_workbook(
    file: BinaryIO,
    columns: Mapping[str, Sequence[str]],
    rows: Iterable[Row],
    *,
    note: str = "",
) -> None:
    """Write a workbook row by row, so that it need not fit into memory.

    Parameters
    ----------
    file
        An open file.
    columns
        Column names by the name of the sheet.
    rows
        Rows, each with the name of its sheet; those of several sheets may be mixed.
    note
        A line for the workbook's description, such as 'invented data'.

    Raises
    ------
    InputError
        If a sheet would get more rows than it can hold.
    """
    import openpyxl

    book = openpyxl.Workbook(write_only=True)
    book.properties.creator = "ropewright"
    book.properties.description = note
    book.properties.created = book.properties.modified = _MADE
    left = iter(rows)
    first = list(islice(left, _LOOKED_AT))
    sheets: dict[str, _Writing] = {}
    for name, heads in columns.items():
        sheets[name] = sheet = book.create_sheet(name[:31])
        _lay_out(sheet, heads, [row for other, row in first if other == name])
    counted = dict.fromkeys(columns, 1)
    for name, row in chain(first, left):
        counted[name] += 1
        if counted[name] > _MOST_ROWS:
            raise InputError(
                field=name, expected=f"at most {_MOST_ROWS - 1} rows for a workbook",
                given="more", hint="take the table out as .csv",
            )  # fmt: skip
        sheets[name].append(list(_cells(sheets[name], columns[name], row)))
    book.save(file)


def _lay_out(sheet: _Writing, heads: Sequence[str], rows: Sequence[Mapping[str, object]]) -> None:
    """Widths, the head in bold, and the head kept in view."""
    from openpyxl.cell import WriteOnlyCell
    from openpyxl.styles import Alignment, Font
    from openpyxl.utils import get_column_letter

    for number, head in enumerate(heads, 1):
        longest = max([_NARROWEST, len(head), *(len(str(row.get(head) or "")) for row in rows)])
        sheet.column_dimensions[get_column_letter(number)].width = min(longest + 2, _WIDEST)
    sheet.freeze_panes = "A2"
    made = []
    for head in heads:
        cell = WriteOnlyCell(sheet, head)
        cell.font, cell.alignment = Font(bold=True), Alignment(vertical="top")
        made.append(cell)
    sheet.append(made)


def _cells(sheet: _Writing, heads: Sequence[str], row: Mapping[str, object]) -> Iterator[object]:
    from openpyxl.cell import WriteOnlyCell
    from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE

    for head in heads:
        value = _plain(row.get(head))
        if isinstance(value, str):
            cell = WriteOnlyCell(sheet, ILLEGAL_CHARACTERS_RE.sub("\ufffd", value))
            cell.data_type = "s"  # a text is never a formula, whatever it begins with
            yield cell
        else:
            yield value


def _plain(value: object) -> str | int | float | bool | date | None:
    if value is None or value == "":
        return None
    if isinstance(value, bool | int | float | str | date):
        return value
    return str(value)
