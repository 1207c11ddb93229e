"""Tables written as one XLSX workbook: text stays text, numbers stay numbers, no formulas."""

import io
from collections.abc import Mapping, Sequence
from datetime import UTC, date, datetime
from typing import Final, TypeAlias

Sheet: TypeAlias = tuple[Sequence[str], Sequence[Mapping[str, object]]]

_WIDEST: Final = 60
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
    import openpyxl
    from openpyxl.styles import Alignment, Font
    from openpyxl.utils import get_column_letter

    book = openpyxl.Workbook()
    book.remove(book.worksheets[0])
    book.properties.creator = "ropewright"
    book.properties.description = note
    book.properties.created = book.properties.modified = _MADE
    for name, (columns, rows) in sheets.items():
        sheet = book.create_sheet(name[:31])
        sheet.append(list(columns))
        for row in rows:
            sheet.append([_plain(row.get(column)) for column in columns])
        for cells in sheet.iter_rows(min_row=2):
            for cell in cells:
                if isinstance(cell.value, str):
                    cell.data_type = "s"  # a text is never a formula, whatever it begins with
        for number, column in enumerate(columns, 1):
            longest = max([len(column), *(len(str(row.get(column) or "")) for row in rows)])
            sheet.column_dimensions[get_column_letter(number)].width = min(longest + 2, _WIDEST)
        for cell in sheet[1]:
            cell.font = Font(bold=True)
            cell.alignment = Alignment(vertical="top")
        sheet.freeze_panes = "A2"
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _plain(value: object) -> str | int | float | bool | date | None:
    if value is None or value == "":
        return None
    if isinstance(value, bool | int | float | str | date):
        return value
    return str(value)
