"""Rows of text out of a CSV or XLSX file, with their row numbers; nothing is interpreted here."""

import csv
import io
import warnings
import zipfile
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from pathlib import Path
from typing import Final, TypeAlias

from ropewright.errors import FindingsFileError
from ropewright.intake.wording import given_in_words

MAX_BYTES: Final = 20_000_000
MAX_UNPACKED: Final = 50_000_000
MAX_ROWS: Final = 100_000
DELIMITERS: Final = (",", ";", "\t")

Cell: TypeAlias = str | int | float | bool | date | None
Row: TypeAlias = tuple[int, tuple[Cell, ...]]


class Formula(str):
    """The text of a spreadsheet formula, which is refused: its value may be out of date."""

    __slots__ = ()


def rows_of(path: Path, *, file: str, known: Sequence[str]) -> list[Row]:
    """Return the rows of a file that are not blank, each with its number from 1.

    Parameters
    ----------
    path
        The file; its ending says whether it is ``.csv`` or ``.xlsx``.
    file
        Its name in errors.
    known
        Column names to tell the delimiter by.

    Returns
    -------
    list of Row
        Numbers as the file has them, in the unit of its headings [-].

    Raises
    ------
    FindingsFileError
        If the file is missing, too large, or not what its ending says.
    """
    data = _bytes_of(path, file)
    ending = path.suffix.lower()
    rows: Iterable[Row]
    if ending == ".xlsx":
        rows = _xlsx_rows(data, file)
    elif ending in (".csv", ".tsv", ".txt"):
        rows = _csv_rows(data, file, known)
    else:
        raise FindingsFileError(
            file=file, expected="a file ending in .csv or .xlsx", given=path.name
        )
    kept = [(number, cells) for number, cells in rows if any(not _blank(c) for c in cells)]
    if not kept:
        error = FindingsFileError(file=file, expected="a line with the names of the columns")
        raise given_in_words(error, "an empty file")
    return kept


def _blank(cell: Cell) -> bool:
    return cell is None or (isinstance(cell, str) and not cell.strip())


def _no_list(file: str, given: str) -> FindingsFileError:
    error = FindingsFileError(file=file, expected="a CSV or XLSX file")
    return given_in_words(error, given)


def _bytes_of(path: Path, file: str) -> bytes:
    try:
        if path.is_dir():
            raise _no_list(file, "a folder")
        size = path.stat().st_size
        if size > MAX_BYTES:
            raise FindingsFileError(
                file=file,
                expected=f"a file of at most {MAX_BYTES // 1_000_000} MB",
                given=f"{size} bytes",
            )
        return path.read_bytes()
    except FileNotFoundError:
        raise _no_list(file, "no such file") from None
    except (OSError, ValueError) as error:
        raise FindingsFileError(f"cannot be read: {error}", file=file) from None


# --- CSV --------------------------------------------------------------------------------------


def _csv_rows(data: bytes, file: str, known: Sequence[str]) -> Iterator[Row]:
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        row = data.count(b"\n", 0, error.start) + 1
        raise given_in_words(
            FindingsFileError(file=file, field=f"row {row}", expected="text saved as UTF-8"),
            f"byte 0x{data[error.start]:02x}",
        ) from None
    delimiter = _delimiter(text, known)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    start = 1
    try:
        for cells in reader:
            if start > MAX_ROWS:
                raise _too_many(file)
            yield start, tuple(cells)
            start = reader.line_num + 1
    except csv.Error as error:
        raise FindingsFileError(
            f"not CSV: {error}", file=file, field=f"row {max(start, reader.line_num)}"
        ) from None


def _delimiter(text: str, known: Sequence[str]) -> str:
    """The delimiter under which most names of the first line are known columns."""
    first = next((line for line in text.splitlines() if line.strip()), "")
    names = set(known)

    def score(delimiter: str) -> int:
        try:
            cells = next(csv.reader([first], delimiter=delimiter), [])
        except csv.Error:
            return -1
        return sum(column_name(cell)[0] in names for cell in cells)

    return max(DELIMITERS, key=score)


def column_name(heading: str) -> tuple[str, str | None]:
    """Split a heading such as ``at [m]`` into the column's name and its unit.

    Examples
    --------
    >>> column_name("Reading 1 [mm]"), column_name("kind")
    (('reading_1', 'mm'), ('kind', None))
    """
    text = heading.strip()
    unit = None
    for left, right in ("[]", "()"):
        if text.endswith(right) and left in text:
            text, _, inside = text[:-1].partition(left)
            unit = inside.strip() or None
            break
    return "_".join(text.strip().casefold().replace("-", " ").split()), unit


def _too_many(file: str) -> FindingsFileError:
    return FindingsFileError(file=file, expected=f"at most {MAX_ROWS} rows", given="more")


# --- XLSX -------------------------------------------------------------------------------------


def _xlsx_rows(data: bytes, file: str) -> list[Row]:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            unpacked = sum(entry.file_size for entry in archive.infolist())
    except Exception:
        raise _not_a_workbook(file) from None
    if unpacked > MAX_UNPACKED:
        raise FindingsFileError(
            file=file,
            expected=f"a workbook of at most {MAX_UNPACKED // 1_000_000} MB unpacked",
            given=f"{unpacked} bytes",
        )
    try:
        return _sheet_rows(data, file)
    except FindingsFileError:
        raise
    except Exception:  # whatever a damaged workbook does to its reader
        raise _not_a_workbook(file) from None


def _not_a_workbook(file: str) -> FindingsFileError:
    error = FindingsFileError(file=file, expected="an XLSX workbook")
    return given_in_words(error, "something else")


def _sheet_rows(data: bytes, file: str) -> list[Row]:
    import openpyxl

    rows: list[Row] = []
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # about styles and menus that findings do not need
        book = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=False)
        try:
            if not book.worksheets:
                raise _not_a_workbook(file)
            for number, cells in enumerate(book.worksheets[0].iter_rows(), 1):
                if number > MAX_ROWS:
                    raise _too_many(file)
                rows.append((number, tuple(_cell(cell) for cell in cells)))
        finally:
            book.close()
    return rows


def _cell(cell: object) -> Cell:
    value = getattr(cell, "value", None)
    if getattr(cell, "data_type", None) == "f":
        return Formula(value)
    if value is None or isinstance(value, (str, int, float, bool, date)):
        return value
    return str(value)
