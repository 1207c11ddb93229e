"""Which column of a log is what: a small TOML file, or the headings of the log itself."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Final, Literal, TypeAlias

from pydantic import Field, ValidationError

from ropewright.errors import DutyLogError, InputError, raise_if_any
from ropewright.intake.decode import text_of, toml_of
from ropewright.intake.duty.headings import heading_parts
from ropewright.intake.duty.units import Measure, factor_of, value_of
from ropewright.intake.models import Name, Strict, key, needed
from ropewright.intake.problems import problems_of
from ropewright.intake.quantities import Length, Mass
from ropewright.intake.wording import near, quoted

Reading: TypeAlias = Literal[
    "hook_m", "radius_m", "jib_deg", "boom_m", "boom_deg", "load_t", "drum_turns", "falls"
]

SCHEMA: Final = 1
MEASURES: Final[dict[Reading, Measure]] = {
    "hook_m": "length",
    "radius_m": "length",
    "jib_deg": "angle",
    "boom_m": "length",
    "boom_deg": "angle",
    "load_t": "load",
    "drum_turns": "turns",
    "falls": "count",
}
#: Keys of the file, and headings of a log that needs no file.
KEYS: Final[dict[str, Reading]] = {
    "hook": "hook_m",
    "radius": "radius_m",
    "jib": "jib_deg",
    "boom": "boom_m",
    "boom_angle": "boom_deg",
    "load": "load_t",
    "drum_turns": "drum_turns",
    "falls": "falls",
}
TIME_UNITS: Final = {"s": 1000.0, "ms": 1.0}
"""Units of moments written as numbers since 1970, UTC, in milliseconds."""


class ColumnModel(Strict):
    """One reading: a column, or one value for the whole log."""

    column: Name | None = key("the column's heading")
    unit: Name | None = key("the unit of the column", example="m")
    value: Name | None = key("one value for the whole log, with its unit", example="35 m")


class TimeModel(Strict):
    """The column of moments."""

    column: Name = needed("the column's heading")
    unit: Literal["s", "ms"] | None = key("for moments as numbers: seconds or milliseconds")


class LoadModel(ColumnModel):
    """The column of loads."""

    with_block: bool | None = key("whether the reading has the hook block's mass in it")


class ColumnsModel(Strict):
    """The columns of a log."""

    time: TimeModel = needed("the column of moments, as [columns] time = {{ column = … }}")
    hook: ColumnModel | None = key("hook heights")
    radius: ColumnModel | None = key("radii")
    jib: ColumnModel | None = key("jib angles")
    boom: ColumnModel | None = key("boom lengths")
    boom_angle: ColumnModel | None = key("boom angles")
    load: LoadModel | None = key("loads")
    drum_turns: ColumnModel | None = key("turns of the drum from the clamp")
    falls: ColumnModel | None = key("numbers of falls")


class CountingModel(Strict):
    """How bends are counted; what is left out takes its usual value."""

    bin: Length | None = key("width of the bins", example="0.1 m")
    jitter: Length | None = key("to-and-fro of the reading that is no movement", example="2 cm")
    greatest_load: Mass | None = key("the greatest load, hook block included", example="8 t")
    block: Mass | None = key("mass of the hook block", example="400 kg")
    lifted_from: Mass | None = key("load from which something hangs on the hook", example="600 kg")
    gap_s: Annotated[float, Field(gt=0, le=86_400)] | None = key("longest step in seconds")
    hook_speed_m_per_s: Annotated[float, Field(gt=0, le=50)] | None = key("fastest hook speed")


class MappingModel(Strict):
    """The whole file."""

    schema_: Literal[1] = needed("schema = 1", alias="schema")
    zone: Name | None = key("zone of moments without one", example=["UTC", "+02:00"])
    decimal: Literal[".", ","] | None = key("the decimal sign of the log")
    columns: ColumnsModel = needed("the table [columns]")
    counting: CountingModel | None = key("the table [counting]")


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column to read: its heading, and the factor to our unit; or one value for all.

    ``factor`` [-] and ``value`` [-] go by what the column holds: metres, degrees, tonnes.
    """

    heading: str | None
    factor: float = 1.0
    value: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LogMapping:
    """Which column of a log is what.

    ``time_unit_ms`` is the unit of moments that are numbers, none for dates.  ``add_t`` [t]
    is the hook block's mass where loads do not have it in them.
    """

    time: str
    columns: Mapping[Reading, Column]
    time_unit_ms: float | None = None
    zone: str | None = None
    decimal: Literal[".", ","] = "."
    add_t: float = 0.0
    counting: CountingModel | None = None
    file: str | None = None

    @property
    def headings(self) -> tuple[str, ...]:
        """Headings of all columns that are read, the moments first."""
        named = [one.heading for one in self.columns.values() if one.heading is not None]
        return tuple(dict.fromkeys([self.time, *named]))


def read_mapping(path: str | Path) -> LogMapping:
    """Read the file that says which column is what.

    Parameters
    ----------
    path
        The file, TOML.

    Raises
    ------
    InputError
        If there is no such file, or anything in it is wrong.
    """
    place = Path(path)
    try:
        data = place.read_bytes()
    except (OSError, ValueError) as error:
        raise DutyLogError(f"cannot be read: {error}", file=str(path)) from None
    tables = toml_of(text_of(data, file=str(path)), file=str(path))
    try:
        model = MappingModel.model_validate(tables)
    except ValidationError as error:
        problems = [one.with_file(path) for one in problems_of(error, MappingModel, tables)]
        raise_if_any(problems)
        raise
    try:
        return mapping_of_model(model, str(path))
    except InputError as error:
        raise error.with_file(path) from None


def mapping_of_model(model: MappingModel, file: str) -> LogMapping:
    """The mapping that a file, or a form with the same fields, states.

    Parameters
    ----------
    model
        What it says.
    file
        Its name, for errors.

    Raises
    ------
    InputError
        If a unit cannot be read, or a column has neither heading nor value; names the field.
    """
    columns: dict[Reading, Column] = {}
    for name, reading in KEYS.items():
        one: ColumnModel | None = getattr(model.columns, name)
        if one is not None:
            columns[reading] = _column(one, MEASURES[reading], f"columns.{name}")
    unit = model.columns.time.unit
    return LogMapping(
        time=model.columns.time.column,
        columns=columns,
        time_unit_ms=None if unit is None else TIME_UNITS[unit],
        zone=model.zone,
        decimal=model.decimal or ".",
        add_t=_block_to_add(model),
        counting=model.counting,
        file=file,
    )


def _block_to_add(model: MappingModel) -> float:
    load = model.columns.load
    if load is None or load.with_block is not False:
        return 0.0
    if model.counting is None or model.counting.block is None:
        raise DutyLogError(
            field="counting.block",
            expected="the hook block's mass, because the loads do not have it in them",
            given=None,
        )
    return float(model.counting.block) / 1000


def _column(model: ColumnModel, measure: Measure, field: str) -> Column:
    if (model.column is None) == (model.value is None):
        raise DutyLogError(
            field=field,
            expected="a column, or one value for the whole log",
            given="both" if model.column is not None else None,
        )
    if model.value is not None:
        if model.unit is not None:
            raise DutyLogError(
                field=f"{field}.unit", expected="the unit inside the value", given=model.unit
            )
        return Column(heading=None, value=value_of(measure, model.value, field=f"{field}.value"))
    return Column(
        heading=model.column, factor=factor_of(measure, model.unit, field=f"{field}.unit")
    )


def mapping_from_headings(headings: Sequence[str], *, file: str) -> LogMapping:
    """The mapping of a log whose own headings say what is what, such as time, hook [m], load [t].

    Parameters
    ----------
    headings
        The log's headings.
    file
        The log's name, for errors.

    Raises
    ------
    DutyLogError
        If there is no column of moments or no column that says where the crane is.
    """
    time: str | None = None
    columns: dict[Reading, Column] = {}
    for heading in headings:
        word, unit = heading_parts(heading)
        if word == "time":
            time = heading
        elif word in KEYS and KEYS[word] not in columns:
            reading = KEYS[word]
            factor = factor_of(MEASURES[reading], unit, field=f"column '{heading}'")
            columns[reading] = Column(heading=heading, factor=factor)
    if time is None or not set(columns) - {"load_t", "falls"}:
        missing = "time" if time is None else "hook [m]"
        raise DutyLogError(
            file=file,
            field="headings",
            expected=f'a column "{missing}", or a file that says which column is what',
            given=", ".join(headings),
        )
    return LogMapping(time=time, columns=columns)


def check_headings(mapping: LogMapping, headings: Sequence[str], *, file: str) -> None:
    """Refuse a log that lacks a column of the mapping, or has it twice.

    Parameters
    ----------
    mapping
        What is wanted.
    headings
        What the log has.
    file
        The log's name, for errors.
    """
    for wanted in mapping.headings:
        if headings.count(wanted) == 1:
            continue
        close = near(headings, wanted)
        raise DutyLogError(
            file=file,
            field="headings",
            expected=f"a column {quoted([wanted])}, once"
            + (f"; near ones are {quoted(close)}" if close else ""),
            given="twice" if wanted in headings else ", ".join(headings[:30]),
        )
