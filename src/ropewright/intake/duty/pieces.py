"""From raw columns to pieces of a log in our units, one number of falls to a piece."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, TypeAlias

import numpy as np
import numpy.typing as npt

from ropewright.errors import DutyLogError
from ropewright.intake.duty.mapping import Column, LogMapping, Reading
from ropewright.wear import DutyChunk

Piece: TypeAlias = DutyChunk
Array: TypeAlias = np.ndarray[Any, np.dtype[Any]]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class RawColumns:
    """Columns as the log has them: moments since 1970 in UTC, ``columns`` [-] by heading."""

    time_ms: npt.NDArray[np.int64]
    columns: Mapping[str, Array]
    first_row: int


def pieces(raw: RawColumns, mapping: LogMapping) -> Iterator[DutyChunk]:
    """Pieces of a log, cut where the number of falls changes.

    Parameters
    ----------
    raw
        The columns.
    mapping
        Which is what, and in which unit.
    """
    readings: dict[Reading, Array] = {
        reading: _values(column, raw) for reading, column in mapping.columns.items()
    }
    if mapping.add_t and "load_t" in readings:
        readings["load_t"] = readings["load_t"] + readings["load_t"].dtype.type(mapping.add_t)
    falls = readings.pop("falls", None)
    if falls is None:
        yield _piece(raw, readings, slice(None), None)
        return
    filled = np.where(np.isfinite(falls), falls, -1)
    edges = [0, *(np.flatnonzero(np.diff(filled)) + 1).tolist(), filled.size]
    for first, last in pairwise(edges):
        number = float(filled[first])
        if number >= 0 and (number < 1 or number != round(number)):
            raise DutyLogError(
                field=f"row {raw.first_row + first}, falls",
                expected="a whole number, 1 or more",
                given=number,
            )
        yield _piece(raw, readings, slice(first, last), None if number < 0 else int(number))


def _values(column: Column, raw: RawColumns) -> Array:
    if column.heading is None:
        return np.broadcast_to(np.float64(column.value or 0.0), raw.time_ms.shape)
    values = raw.columns[column.heading]
    return values if column.factor == 1.0 else values * values.dtype.type(column.factor)


def _piece(
    raw: RawColumns, readings: Mapping[Reading, Array], part: slice, falls: int | None
) -> DutyChunk:
    columns: dict[str, Any] = {reading: values[part] for reading, values in readings.items()}
    return DutyChunk(
        time_ms=raw.time_ms[part],
        falls=falls,
        first_row=raw.first_row + (part.start or 0),
        **columns,
    )
