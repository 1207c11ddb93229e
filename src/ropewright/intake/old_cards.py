"""Old paper cards typed into a plain list: a date, a place, a count over a length, who.

A card says less than an inspection of today.  What it does not say stays unknown: without a
method nothing counts as seen, without a kind it is no thorough inspection, without a length a
count belongs to the whole length its place may lie in.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction
from pathlib import Path
from typing import Any, Final, TypeAlias, TypeVar

from ropewright.errors import FindingsFileError, InputError, QuantityError, raise_if_any
from ropewright.geometry import RopePlace, Section
from ropewright.inspection import (
    INSPECTION_KINDS,
    METHODS,
    BreakGroup,
    BrokenWires,
    DiameterReading,
    Dossier,
    Inspection,
    Pass,
    Person,
    RopeFinding,
)
from ropewright.inspection.inspection import InspectionKind
from ropewright.intake.bench import Bench
from ropewright.intake.places import Findings, Ground
from ropewright.intake.quantities import RopeSpan, read_plus_minus, read_span
from ropewright.intake.sheets import Cell, Formula, rows_of
from ropewright.intake.sheets import column_name as named
from ropewright.intake.wording import near, quoted
from ropewright.units import metres, parse_length, show_length_mm, show_place_m

NOT_KNOWN: Final = "not known"

#: Every column such a list may have, with words for the manual.
CARD_COLUMNS: Final[Mapping[str, str]] = {
    "date": "day of the inspection, 2019-05-03 (in a spreadsheet: a date cell)",
    "card": "number of the card, if there are several of one day",
    "kind": "kind of inspection; empty: taken as a shift check, the weakest",
    "at": "rope position, from end A as first installed",
    "at_path": "path position of that day, instead of `at`",
    "place_err": "how far off the place may be, `1 m`; empty: as said for all cards",
    "count": "broken wires; 0 if the card says there were none",
    "over": "over which length: `120 mm`, `6 d`, `1 lay`, or `not known`",
    "reading_1": "diameter",
    "reading_2": "diameter at right angles to it",
    "method": "how it was found; empty: not known, so nothing counts as seen",
    "looked_from": "start of the rope that was looked over, rope position",
    "looked_to": "end of it",
    "who": "who looked, as the card has it",
    "remark": "anything else on the card",
}
_NEEDED: Final = ("date", "count")
_T = TypeVar("_T")


@dataclass(frozen=True, slots=True, kw_only=True)
class CardLine:
    """What became of one line of the list: taken, or why not."""

    row: int
    words: str
    taken: bool

    def __str__(self) -> str:
        """One line of the account."""
        return f"row {self.row}: {'taken' if self.taken else 'not taken'}: {self.words}"


@dataclass(frozen=True, slots=True, kw_only=True)
class OldCards:
    """Inspections that old cards make, and an account of every line."""

    inspections: tuple[Inspection, ...]
    lines: tuple[CardLine, ...]
    errors: tuple[InputError, ...] = ()


@dataclass(frozen=True)
class _Row:
    """One line of the list with what its cells hold, by column."""

    number: int
    cells: Mapping[str, Cell]
    file: str

    def wrong(self, column: str, expected: str, given: object, hint: str = "") -> FindingsFileError:
        return FindingsFileError(
            file=self.file, field=f"row {self.number}, column {column}", expected=expected,
            given=given, hint=hint or None,
        )  # fmt: skip

    def text(self, column: str) -> str:
        cell = self.cells.get(column)
        return "" if cell is None else str(cell).strip()

    def read(self, column: str, reader: Callable[[str], _T]) -> _T | None:
        text = self.text(column)
        try:
            return reader(text) if text else None
        except QuantityError as error:
            raise self.wrong(column, error.expected or "a quantity", text) from None


#: A line that was read: what was found on it, and what it says was looked over.
_Taken: TypeAlias = tuple[_Row, RopeFinding | None, tuple[Pass, ...]]


def read_old_cards(
    path: str | Path,
    dossier: Dossier,
    *,
    place_err: str | None = None,
    leave_out: bool = False,
    file: str | None = None,
) -> OldCards:
    """Read a list of old cards of one rope.

    Parameters
    ----------
    path
        A ``.csv`` or ``.xlsx`` file whose first row names its columns.
    dossier
        The rope they are of.
    place_err
        How far off a place may be where a line does not say; without it each line must.
    leave_out
        Take the lines that can be read and account for the others, instead of refusing all.
    file
        What errors call the file; its path if not given.

    Raises
    ------
    FindingsFileError
        With row and column; `InputErrors` if there are several.
    """
    file = str(path) if file is None else file
    rows = rows_of(Path(path), file=file, known=list(CARD_COLUMNS))
    headings = _headings(rows[0][1], file)
    err_mm = None if place_err is None else _place_err(place_err)
    made: dict[str, list[_Taken]] = {}
    lines: list[CardLine] = []
    errors: list[InputError] = []
    for number, cells in rows[1:]:
        row = _Row(number, _named_cells(headings, cells), file)
        try:
            card = _card_of(row)
            finding = _finding(row, card, dossier, err_mm)
            passes = _passes(row, dossier)
            made.setdefault(card, []).append((row, finding, passes))
            lines.append(CardLine(row=number, words=_words(row, finding), taken=True))
        except InputError as error:
            errors.append(error)
            lines.append(CardLine(row=number, words=str(error), taken=False))
    if not leave_out:
        raise_if_any(errors)
    inspections = [_inspection(card, found) for card, found in made.items()]
    return OldCards(
        inspections=tuple(sorted(inspections, key=lambda one: (one.on, one.inspection_id))),
        lines=tuple(lines),
        errors=tuple(errors),
    )


def _place_err(text: str) -> Fraction:
    try:
        return read_plus_minus(text)
    except InputError as error:
        raise error.within("how far off a place may be") from None


def _headings(cells: Sequence[Cell], file: str) -> list[tuple[str, str | None]]:
    found: list[tuple[str, str | None]] = []
    errors: list[InputError] = []
    for place, cell in enumerate(cells, 1):
        name, unit = named(str(cell or ""))
        if name and name not in CARD_COLUMNS:
            close = near(list(CARD_COLUMNS), name)
            known = f"near ones are {quoted(close)}" if close else ", ".join(CARD_COLUMNS)
            errors.append(
                FindingsFileError(
                    "unknown column", file=file, field=f"row 1, column {place}",
                    expected=f"a column of old cards, {known}", given=str(cell),
                )
            )  # fmt: skip
        found.append((name, unit))
    missing = [name for name in _NEEDED if name not in [one for one, _ in found]]
    if not errors and missing:
        errors.append(
            FindingsFileError(
                file=file, field="row 1", expected=f'the columns "date" and "count", not without '
                f'"{missing[0]}"', given=", ".join(name for name, _ in found),
            )
        )  # fmt: skip
    raise_if_any(errors)
    return found


def _named_cells(
    headings: Sequence[tuple[str, str | None]], cells: Sequence[Cell]
) -> dict[str, Cell]:
    """Cells by column; a plain number gets the unit of its heading."""
    values: dict[str, Cell] = {}
    for (name, unit), cell in zip(headings, cells, strict=False):
        if cell is None or (isinstance(cell, str) and not cell.strip()):
            continue
        text = str(cell).strip()
        plain = text.replace(".", "", 1).isdigit() and not isinstance(cell, date | Formula)
        values[name] = f"{text} {unit}" if unit and plain else cell
    return values


# --- One line ---------------------------------------------------------------------------------


def _day(row: _Row) -> date:
    cell = row.cells.get("date")
    if isinstance(cell, datetime):
        return cell.date()
    if isinstance(cell, date):
        return cell
    try:
        return date.fromisoformat(row.text("date"))
    except ValueError:
        raise row.wrong("date", "a day like 2019-05-03", cell) from None


def _card_of(row: _Row) -> str:
    for column, cell in row.cells.items():
        if isinstance(cell, Formula):
            raise row.wrong(column, "a value, not a formula", str(cell))
    card = row.text("card")
    return f"old card {_day(row).isoformat()}" + (f" {card}" if card else "")


def _count(row: _Row) -> int | None:
    text = row.text("count")
    if not text:
        if row.text("reading_1"):
            return None
        raise row.wrong("count", "how many broken wires, 0 if the card says none", None)
    if not text.isdigit() or int(text) > 100_000:
        raise row.wrong("count", "a whole number, 0 if the card says none", text)
    return int(text)


def _finding(row: _Row, card: str, dossier: Dossier, err_mm: Fraction | None) -> RopeFinding | None:
    count = _count(row)
    on = _day(row)
    fitted = dossier.installation.fitted_on
    if fitted is not None and on < fitted:
        raise row.wrong("date", f"a day on or after {fitted}, when the rope was fitted", on)
    _method(row)
    _kind(row)
    bench = _bench(dossier, on)
    readings = tuple(
        value
        for column in ("reading_1", "reading_2")
        if (value := row.read(column, parse_length)) is not None
    )
    if readings and count is not None:
        raise row.wrong("reading_1", "a line of its own for a diameter", row.text("reading_1"))
    if count == 0:
        return None
    place = _place(row, bench, err_mm)
    more: dict[str, Any] = {
        "finding_id": f"{card}/row {row.number}", "place": place, "method": _method(row),
    }  # fmt: skip
    if count is None:
        return DiameterReading(readings_mm=readings, remark=row.text("remark"), **more)
    group, words = _group(row, count, place, bench)
    return BrokenWires(groups=(group,), remark=_joined(row.text("remark"), words), **more)


def _bench(dossier: Dossier, on: date) -> Bench:
    ground = Ground.of(dossier.history, on, before_changes=True)
    return Bench(rope=dossier.rope, ground=ground, found=Findings(), instruments=frozenset())


def _place(row: _Row, bench: Bench, err_mm: Fraction | None) -> RopePlace:
    at, path = row.read("at", parse_length), row.read("at_path", parse_length)
    if (at is None) == (path is None):
        raise row.wrong(
            "at", "the place of the count, as at or as at_path",
            None if at is None else "both of them",
        )  # fmt: skip
    err = row.read("place_err", read_plus_minus)
    err = err_mm if err is None else err
    if err is None:
        raise row.wrong(
            "place_err", 'how far off the place may be, such as "± 1 m"', None,
            "or say it once for all cards: --place-err '1 m'",
        )  # fmt: skip
    try:
        at_m = (
            bench.ground.rope_m(at, key="at")
            if at is not None
            else bench.ground.path_to_rope_m(path or Fraction(0), key="at_path")
        )
    except InputError as error:
        column = "at" if at is not None else "at_path"
        raise row.wrong(column, error.expected or "", row.text(column)) from None
    # Two lines of one card were placed by nobody knows what: each may err by itself.
    return RopePlace(at_m=at_m, abs_err_m=metres(err), rel_err_m=metres(err))


def _group(row: _Row, count: int, place: RopePlace, bench: Bench) -> tuple[BreakGroup, str]:
    """The count over the length the card gives, or over all of what its place may mean."""
    over = row.text("over")
    if not over and count > 1:
        raise row.wrong(
            "over", 'over which length: "120 mm", "6 d", "1 lay"; or "not known"', None
        )  # fmt: skip
    if over == NOT_KNOWN:
        reach = Fraction(repr(place.abs_err_m)) * 1000
        group = BreakGroup(from_mm=-reach, to_mm=reach, count=count, site="unknown")
        return group, f"the card says no length: counted over {show_length_mm(2 * reach)}"
    span: Fraction | RopeSpan = row.read("over", read_span) or Fraction(0)
    try:
        length = bench.length_mm(span, key="over")
    except InputError as error:
        raise row.wrong("over", error.expected or "", over, error.hint or "") from None
    if length <= 0 and count > 1:
        raise row.wrong("over", "a length above 0", over)
    return BreakGroup(from_mm=Fraction(0), to_mm=length, count=count, site="unknown"), ""


def _method(row: _Row) -> Any:  # noqa: ANN401 - one of the literals of Method
    text = row.text("method")
    if text and text not in METHODS:
        raise row.wrong("method", f"one of {quoted(METHODS)}, or nothing if not known", text)
    return text or None


def _kind(row: _Row) -> InspectionKind:
    text = row.text("kind") or "shift"
    if text not in INSPECTION_KINDS:
        raise row.wrong("kind", f"one of {quoted(INSPECTION_KINDS)}, or nothing", text)
    return text


def _joined(*parts: str) -> str:
    return "; ".join(part for part in parts if part)


def _words(row: _Row, finding: RopeFinding | None) -> str:
    head = _day(row).isoformat()
    if finding is None:
        return f"{head}, no broken wires on the card"
    place = f"{show_place_m(finding.place.at_m)} ± {show_place_m(finding.place.abs_err_m)}"
    if isinstance(finding, BrokenWires):
        length_mm = finding.groups[0].to_mm - finding.groups[0].from_mm
        what = f"{finding.count} broken wires over {show_length_mm(length_mm)}"
    else:
        what = "diameter"
    return f"{head}, {what} at {place}"


# --- One card ---------------------------------------------------------------------------------


def _inspection(card: str, found: Sequence[_Taken]) -> Inspection:
    first = found[0][0]
    on = _day(first)
    who = list(dict.fromkeys(name for row, _, _ in found if (name := row.text("who"))))
    kind_said = any(row.text("kind") for row, _, _ in found)
    none = "the card says: no broken wires" if all(one is None for _, one, _ in found) else ""
    unsaid = "" if kind_said else "the card does not say what kind of inspection it was"
    remarks = [row.text("remark") for row, one, _ in found if one is None]
    return Inspection(
        inspection_id=card,
        kind=next((_kind(row) for row, _, _ in found if row.text("kind")), "shift"),
        on=on,
        by=tuple(Person(role="as on an old card", name=name) for name in who),
        passes=tuple(one for _, _, passes in found for one in passes),
        findings=tuple(one for _, one, _ in found if one is not None),
        remark=_joined("from an old card", none, unsaid, *remarks),
    )


def _passes(row: _Row, dossier: Dossier) -> tuple[Pass, ...]:
    start, end = row.read("looked_from", parse_length), row.read("looked_to", parse_length)
    method = _method(row)
    if start is None or end is None or method is None:
        return ()
    ground = Ground.of(dossier.history, _day(row), before_changes=True)
    try:
        section = Section(
            ground.rope_m(start, key="looked_from"), ground.rope_m(end, key="looked_to")
        )
    except InputError as error:
        column = error.field if error.field == "looked_from" else "looked_to"
        raise row.wrong(column, error.expected or "", row.text(column)) from None
    return (Pass(method=method, section=section),)
