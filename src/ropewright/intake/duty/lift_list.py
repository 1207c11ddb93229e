"""Lists of lifts in CSV, and descriptions of a duty in TOML, where nothing was logged."""

import csv
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Annotated, Final, Literal, TypeAlias

from pydantic import Field, ValidationError

from ropewright.errors import DutyLogError, InputError, raise_if_any
from ropewright.geometry import Axis, CranePosition
from ropewright.intake.decode import text_of, toml_of
from ropewright.intake.duty.headings import heading_parts
from ropewright.intake.duty.units import Measure, factor_of, value_of
from ropewright.intake.models import Name, Strict, key, needed, tables
from ropewright.intake.problems import problems_of
from ropewright.intake.wording import quoted
from ropewright.wear import Duty, Lift, Origin

FileKind: TypeAlias = Literal["log", "lift list", "duty description"]

MOST_LIFTS: Final = 100_000
_MOST_BYTES: Final = 50_000_000
_AXES: Final[dict[str, tuple[Axis, Measure]]] = {
    "": ("hook_m", "length"),
    "_radius": ("radius_m", "length"),
    "_jib": ("jib_deg", "angle"),
    "_boom": ("boom_m", "length"),
    "_boom_angle": ("boom_deg", "angle"),
}
#: Columns of a list of lifts, with what each holds; times and date need no unit.
COLUMNS: Final[dict[str, Measure]] = {
    **{f"pick{end}": measure for end, (_, measure) in _AXES.items()},
    **{f"place{end}": measure for end, (_, measure) in _AXES.items()},
    "over": "length",
    "load": "load",
    "times": "count",
    "date": "count",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class LiftRecord:
    """Lifts of a file, what kind of record it is, and the days it stands for if it says so.

    ``days`` [days] is the time that the lifts took; ``name`` is that of the file.
    """

    lifts: tuple[Lift, ...]
    origin: Origin
    name: str = ""
    days: float | None = None
    first: date | None = None
    last: date | None = None


def kind_of_file(path: str | Path) -> FileKind:
    """Tell a log from a list of lifts and from a description of a duty.

    A file ending in .toml describes a duty; a CSV with columns pick and place lists lifts.

    Parameters
    ----------
    path
        The file.
    """
    place = Path(path)
    ending = place.suffix.lower()
    if ending == ".toml":
        return "duty description"
    if ending not in (".csv", ".tsv", ".txt"):
        return "log"
    try:
        with place.open(encoding="utf-8-sig", errors="replace") as stream:
            header = stream.readline(10_000)
    except (OSError, ValueError):
        return "log"
    words = {heading_parts(one)[0] for one in _cells(header)}
    return "lift list" if {"pick", "place"} <= words else "log"


def _cells(header: str) -> list[str]:
    delimiter = max((",", ";", "\t"), key=header.count)
    return next(csv.reader([header], delimiter=delimiter), [])


def read_lifts(path: str | Path) -> LiftRecord:
    """Read a list of lifts or a description of a duty.

    Parameters
    ----------
    path
        The file, CSV or TOML.

    Raises
    ------
    InputError
        If it cannot be read; names row and column, or the key.
    """
    place = Path(path)
    try:
        if place.stat().st_size > _MOST_BYTES:
            raise DutyLogError(
                file=path, expected=f"at most {_MOST_BYTES // 10**6} MB", given="more"
            )
        data = place.read_bytes()
    except (OSError, ValueError) as error:
        raise DutyLogError(f"cannot be read: {error}", file=path) from None
    text = text_of(data, file=str(path))
    try:
        if place.suffix.lower() == ".toml":
            return replace(_of_duty(text, str(path)), name=place.name)
        return replace(_of_list(text), name=place.name)
    except csv.Error as error:
        raise DutyLogError(f"not CSV: {error}", file=path) from None
    except InputError as error:
        raise error.with_file(path) from None


# --- Lists ------------------------------------------------------------------------------------


def _of_list(text: str) -> LiftRecord:
    lines = text.splitlines()
    delimiter = max((",", ";", "\t"), key=lines[0].count)
    rows = csv.reader(lines, delimiter=delimiter)
    factors = _headings(next(rows))
    lifts: list[Lift] = []
    days: list[date] = []
    for number, cells in enumerate(rows, 2):
        if not any(cell.strip() for cell in cells):
            continue
        if len(lifts) == MOST_LIFTS:
            raise DutyLogError(field="rows", expected=f"at most {MOST_LIFTS} lifts", given="more")
        try:
            values, day = _row(cells, factors)
            lifts.append(_lift(values))
        except InputError as error:
            raise error.within(f"row {number}") from None
        if day is not None:
            days.append(day)
    if not lifts:
        raise DutyLogError(field="rows", expected="at least one lift", given=None)
    if not days:
        return LiftRecord(lifts=tuple(lifts), origin="lift list")
    first, last = min(days), max(days)
    return LiftRecord(
        lifts=tuple(lifts),
        origin="lift list",
        days=float((last - first).days + 1),
        first=first,
        last=last,
    )


def _headings(cells: Sequence[str]) -> list[tuple[str, float]]:
    found: list[tuple[str, float]] = []
    for cell in cells:
        word, unit = heading_parts(cell)
        if word not in COLUMNS:
            raise DutyLogError(
                field="headings", expected=f"columns among {', '.join(COLUMNS)}", given=cell
            )
        if word in [name for name, _ in found]:
            raise DutyLogError(field="headings", expected=f"{quoted([word])} once", given="twice")
        measure = COLUMNS[word]
        factor = 1.0 if measure == "count" else factor_of(measure, unit, field=f"column '{cell}'")
        found.append((word, factor))
    for wanted in ("pick", "place", "load"):
        if wanted not in [name for name, _ in found]:
            raise DutyLogError(
                field="headings", expected=f"a column {quoted([wanted])}", given=", ".join(cells)
            )
    return found


def _row(
    cells: Sequence[str], columns: Sequence[tuple[str, float]]
) -> tuple[dict[str, float], date | None]:
    if len(cells) != len(columns):
        raise DutyLogError(field="cells", expected=f"{len(columns)} of them", given=len(cells))
    values: dict[str, float] = {}
    day: date | None = None
    for cell, (name, factor) in zip(cells, columns, strict=True):
        text = cell.strip()
        if not text:
            continue
        try:
            if name == "date":
                day = date.fromisoformat(text)
            else:
                values[name] = float(text) * factor
        except ValueError:
            expected = "a date such as 2026-03-01" if name == "date" else "a number"
            raise DutyLogError(field=name, expected=expected, given=cell) from None
    return values, day


def _lift(values: Mapping[str, float]) -> Lift:
    if "load" not in values:
        raise DutyLogError(field="load", expected="a load", given=None)
    times = values.get("times", 1.0)
    if not math.isfinite(times) or times != round(times):
        raise DutyLogError(field="times", expected="a whole number", given=times)
    return Lift(
        pick=_end(values, "pick"),
        place=_end(values, "place"),
        load_t=values["load"],
        times=int(times),
        over_m=values.get("over"),
    )


def _end(values: Mapping[str, float], end: str) -> CranePosition:
    given = {
        axis: values[f"{end}{ending}"]
        for ending, (axis, _) in _AXES.items()
        if f"{end}{ending}" in values
    }
    if not given:
        raise DutyLogError(field=end, expected="a hook height", given=None)
    try:
        return CranePosition(**given)
    except InputError as error:
        raise error.within(end) from None


# --- Descriptions -----------------------------------------------------------------------------


class KindModel(Strict):
    """One kind of lift."""

    share: Annotated[int, Field(ge=1, le=1000)] | None = key("its share of all lifts", example=3)
    pick: Name = needed("hook height where the load is picked up", example="0 m")
    place: Name = needed("hook height where it is set down", example="35 m")
    load: Name = needed("the load without the hook block", example="2 t")
    over: Name | None = key("hook height at which it is carried across")
    pick_radius: Name | None = key("radius there", example="20 m")
    place_radius: Name | None = key("radius there", example="45 m")
    pick_jib: Name | None = key("jib angle there", example="45 deg")
    place_jib: Name | None = key("jib angle there")
    pick_boom: Name | None = key("boom length there")
    place_boom: Name | None = key("boom length there")
    pick_boom_angle: Name | None = key("boom angle there")
    place_boom_angle: Name | None = key("boom angle there")


class DutyModel(Strict):
    """The whole description."""

    schema_: Literal[1] = needed("schema = 1", alias="schema")
    lifts_per_day: Annotated[float, Field(gt=0, le=10_000)] = needed("how many lifts a day")
    first: date = needed("the first day that this describes")
    last: date = needed("the last day")
    days: Annotated[int, Field(ge=1, le=40_000)] | None = key("working days among them")
    kind: list[KindModel] = tables("kinds of lift, at least one [[kind]]")


def _of_duty(text: str, file: str) -> LiftRecord:
    data = toml_of(text, file=file)
    try:
        model = DutyModel.model_validate(data)
    except ValidationError as error:
        raise_if_any(problems_of(error, DutyModel, data))
        raise
    whole = (model.last - model.first).days + 1
    if whole < 1:
        raise DutyLogError(
            field="last", expected=f"not before first, {model.first}", given=str(model.last)
        )
    if model.days is not None and model.days > whole:
        raise DutyLogError(field="days", expected=f"at most {whole}", given=model.days)
    kinds = []
    for number, kind in enumerate(model.kind, 1):
        try:
            kinds.append(_lift(_values(kind)))
        except InputError as error:
            raise error.within(f"kind[{number}]") from None
    duty = Duty(lifts_per_day=model.lifts_per_day, days=model.days or whole, kinds=tuple(kinds))
    return LiftRecord(
        lifts=duty.as_lifts(),
        origin="duty description",
        days=float(whole),
        first=model.first,
        last=model.last,
    )


def _values(kind: KindModel) -> dict[str, float]:
    values = {"times": float(kind.share or 1)}
    for name, measure in COLUMNS.items():
        text = getattr(kind, name, None)
        if text is not None:
            values[name] = value_of(measure, text, field=name)
    return values
