"""The columns of a list of findings, and how its rows become findings as a case file has them."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any, Final, Literal, TypeAlias

from ropewright.errors import FindingsFileError, InputError, raise_if_any, show_given
from ropewright.intake.sheets import Cell, Formula, Row, column_name
from ropewright.intake.wording import given_in_words, near, quoted

ColumnKind: TypeAlias = Literal["text", "quantity", "whole number", "yes or no"]

#: Every column a list of findings may have: what it holds, and words for the manual.
COLUMNS: Final[Mapping[str, tuple[ColumnKind, str]]] = {
    "kind": ("text", "kind of finding; empty: the row belongs to the cluster above"),
    "id": ("text", "the finding's own id"),
    "at": ("quantity", "rope position"),
    "at_path": ("quantity", "path position of that day, instead of `at`"),
    "at_err": ("quantity", "error shared by the whole pass"),
    "between_err": ("quantity", "error against others of the same pass"),
    "from": ("quantity", "start of a section, instead of `at`"),
    "to": ("quantity", "end of that section"),
    "length": ("quantity", "how long the damage is"),
    "method": ("text", "how it was found"),
    "count": ("whole number", "how many broken wires"),
    "over": ("quantity", "over which length: `120 mm`, `6 d`, `1 lay`"),
    "offset": ("quantity", "taped from the cluster's first break"),
    "offset_to": ("quantity", "end of a counted length that starts at `offset`"),
    "strand": ("whole number", "number of the strand"),
    "site": ("text", "`crown`, `valley`, `end`, `unknown`"),
    "protruding": ("yes or no", "the ends stand out"),
    "offset_err": ("quantity", "error of a taped offset"),
    "crossover_damage": ("yes or no", "the breaks come from crossovers or rubbing wraps"),
    "ends_broken_off": ("yes or no", "ends that stood out were broken off"),
    "reading_1": ("quantity", "diameter"),
    "reading_2": ("quantity", "diameter at right angles to it"),
    "instrument": ("text", "name of the instrument"),
    "tension": ("text", "under what tension"),
    "crushed_by_crossover": ("yes or no", "the place is crushed by crossovers"),
    "gap": ("quantity", "gap under the straight edge"),
    "form": ("text", "form of the damage"),
    "grade": ("text", "grade of the damage"),
    "rating": ("quantity", "your own rating toward discard: `40 %`"),
    "depth": ("quantity", "worn depth as a share of the wire: `1/3`"),
    "loss": ("quantity", "metal lost by a magnetic rope test: `4.2 %`"),
    "of": ("text", "what is lost: `metallic area` or `breaking force`"),
    "same_as": ("text", "id of the earlier finding that this is again"),
    "remark": ("text", "anything else"),
    "photos": ("text", "names of photo files, with | between"),
}

_BREAK_COLUMNS: Final = ("offset", "offset_to", "strand", "site", "protruding", "count")
_PLAIN_NUMBER: Final = re.compile(r"[+-]?[0-9]+(?:\.[0-9]+)?")
_WHOLE: Final = re.compile(r"[0-9]{1,9}(?:\.0+)?")
_YES_NO: Final = {"yes": True, "no": False, "true": True, "false": False}


@dataclass(frozen=True, slots=True)
class Heading:
    """One column of the file: its name, and the unit its plain numbers are in."""

    name: str
    unit: str | None


@dataclass(slots=True)
class Draft:
    """A finding as a case file would have it, with the rows that it came from."""

    row: int
    data: dict[str, Any]
    break_rows: list[int] = field(default_factory=list)

    def place_of(self, path: str) -> tuple[int, str]:
        """The row and the column of a field such as ``breaks[2].at``."""
        match = re.fullmatch(r"breaks\[(\d+)\](?:\.(.+))?", path)
        if match is None:
            reading = re.fullmatch(r"readings(?:\[(\d+)\])?", path)
            if reading is not None:
                return self.row, f"reading_{reading[1] or 1}"
            return self.row, path.partition("[")[0]
        row = self.break_rows[int(match[1]) - 1]
        names = {"at": "offset", "from": "offset", "to": "offset_to", None: "offset"}
        return row, names.get(match[2], match[2])


def headings_of(row: Row, *, file: str) -> list[Heading | None]:
    """The columns named in the first ``row`` [-]; one without a name may be there if it is empty.

    Raises
    ------
    FindingsFileError
        If a name is unknown or doubled, or ``kind`` is missing.
    """
    number, cells = row
    found: list[Heading | None] = []
    errors: list[InputError] = []
    for place, cell in enumerate(cells, 1):
        if cell is None or not str(cell).strip():
            found.append(None)
            continue
        name, unit = column_name(str(cell))
        where = f"row {number}, column {place}"
        if name not in COLUMNS:
            close = near(list(COLUMNS), name)
            expected = (
                f"a known column, near ones are {quoted(close)}"
                if close
                else f"one of the columns {', '.join(COLUMNS)}"
            )
            errors.append(
                FindingsFileError(
                    "unknown column", file=file, field=where, expected=expected, given=str(cell)
                )
            )
        elif any(one is not None and one.name == name for one in found):
            errors.append(
                FindingsFileError(
                    file=file, field=where, expected=f'the column "{name}" once', given=str(cell)
                )
            )
        found.append(Heading(name, unit))
    if not errors and not any(one is not None and one.name == "kind" for one in found):
        errors.append(
            FindingsFileError(
                file=file,
                field=f"row {number}",
                expected='a first line with the names of the columns, one of them "kind"',
                given=", ".join(str(cell) for cell in cells if cell is not None),
            )
        )
    raise_if_any(errors)
    return found


def drafts_of(
    headings: Sequence[Heading | None], rows: Sequence[Row], *, file: str
) -> tuple[list[Draft], list[InputError]]:
    """Findings as a case file would have them, made of ``rows`` [-], and what cannot be read.

    A row without a kind belongs to the cluster of broken wires above it.
    """
    drafts: list[Draft] = []
    errors: list[InputError] = []
    lost = False  # the cluster above could not be read: its further rows have no home
    for number, cells in rows:
        try:
            values = _values(headings, cells, number, file)
            if lost and "kind" not in values:
                continue
            _add_row(drafts, values, number, file)
            lost = False
        except InputError as error:
            errors.append(error)
            lost = True
    return drafts, errors


def _values(
    headings: Sequence[Heading | None], cells: Sequence[Cell], number: int, file: str
) -> dict[str, Any]:
    values: dict[str, Any] = {}
    errors: list[InputError] = []
    for place, cell in enumerate(cells):
        if cell is None or (isinstance(cell, str) and not cell.strip()):
            continue
        heading = headings[place] if place < len(headings) else None
        where = f"row {number}, column {heading.name if heading else place + 1}"
        if heading is None:
            errors.append(
                FindingsFileError(
                    file=file, field=where, expected="a name above this column", given=cell
                )
            )
            continue
        try:
            values[heading.name] = _value(heading, cell)
        except _CellError as refused:
            error = FindingsFileError(file=file, field=where, expected=str(refused), given=cell)
            if isinstance(cell, Formula):
                given_in_words(error, f"the formula {show_given(str(cell))}")
            errors.append(error)
    raise_if_any(errors)
    return values


class _CellError(Exception):
    """What was expected of a cell."""


def _value(heading: Heading, cell: Cell) -> str | int | bool:
    if isinstance(cell, Formula):
        raise _CellError("a value, not a formula")
    if isinstance(cell, date):
        raise _CellError("text or a number, not a date")
    kind = COLUMNS[heading.name][0]
    text = str(cell).strip()
    if kind == "whole number":
        if isinstance(cell, bool) or not _WHOLE.fullmatch(text):
            raise _CellError("a whole number")
        return int(text.partition(".")[0])
    if kind == "yes or no":
        if text.casefold() not in _YES_NO:
            raise _CellError("yes or no")
        return _YES_NO[text.casefold()]
    if kind == "quantity" and heading.unit is not None and _PLAIN_NUMBER.fullmatch(text):
        return f"{text} {heading.unit}"
    if isinstance(cell, bool):
        raise _CellError("text")
    return text


def _add_row(drafts: list[Draft], values: dict[str, Any], number: int, file: str) -> None:
    """Start a finding with this row, or add its breaks to the cluster above."""
    if "kind" not in values:
        above = drafts[-1] if drafts else None
        if above is None or above.data["kind"] != "broken wires" or not above.break_rows:
            raise FindingsFileError(
                file=file,
                field=f"row {number}, column kind",
                expected="a kind of finding, or a row of broken wires with offsets above",
                given=None,
            )
        for name, value in values.items():
            if name not in _BREAK_COLUMNS:
                raise FindingsFileError(
                    file=file,
                    field=f"row {number}, column {name}",
                    expected="nothing here, as the row belongs to the cluster above",
                    given=value,
                )
        _add_break(above, values, number)
        return
    if "photos" in values:
        values["photos"] = [name.strip() for name in values["photos"].split("|")]
    readings = [values.pop(name) for name in ("reading_1", "reading_2") if name in values]
    if readings:
        values["readings"] = readings
    draft = Draft(row=number, data=values)
    if values["kind"] == "broken wires" and "offset" in values:
        own = {name: values.pop(name) for name in list(values) if name in _BREAK_COLUMNS}
        _add_break(draft, own, number)
    drafts.append(draft)


def _add_break(draft: Draft, values: dict[str, Any], number: int) -> None:
    one = dict(values)
    start, end = one.pop("offset", None), one.pop("offset_to", None)
    if end is None:
        one |= {} if start is None else {"at": start}
    else:
        one |= {"to": end} if start is None else {"from": start, "to": end}
    draft.data.setdefault("breaks", []).append(one)
    draft.break_rows.append(number)
