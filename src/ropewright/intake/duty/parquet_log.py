"""Duty logs in Parquet, batch by batch; the library for it is an extra and imported late."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final

import numpy as np
import numpy.typing as npt

from ropewright.errors import DutyLogError
from ropewright.intake.duty.mapping import LogMapping, check_headings, mapping_from_headings
from ropewright.intake.duty.moments import WallClock, moments_of_numbers, no_zone, zone_of
from ropewright.intake.duty.pieces import Piece, RawColumns, pieces

ROWS: Final = 524_288
"""Rows that are read at a time."""


def parquet_pieces(path: Path, mapping: LogMapping | None, *, file: str) -> Iterator[Piece]:
    """Pieces of a log in Parquet.

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
        If the library is not there or the log cannot be read.
    """
    polars = _library(file)
    try:
        frame = polars.scan_parquet(path)
        schema = dict(frame.collect_schema())
    except (OSError, polars.exceptions.PolarsError) as error:
        raise DutyLogError(f"cannot be read: {_first_line(error)}", file=file) from None
    headings = list(schema)
    if mapping is None:
        mapping = mapping_from_headings(headings, file=file)
    check_headings(mapping, headings, file=file)
    for heading in mapping.headings[1:]:
        if not schema[heading].is_numeric():
            raise DutyLogError(
                file=file,
                field=f"column {heading}",
                expected="a column of numbers",
                given=str(schema[heading]),
            )
    moments = _Moments(polars, schema[mapping.time], mapping, file)
    columns = [moments.column, *(polars.col(one) for one in mapping.headings[1:])]
    row = 1
    try:
        for batch in _batches(frame.select(columns)):
            raw = RawColumns(
                time_ms=moments.read(batch.get_column(mapping.time), row),
                columns={one: _floats(batch.get_column(one)) for one in mapping.headings[1:]},
                first_row=row,
            )
            row += batch.height
            yield from pieces(raw, mapping)
    except (OSError, polars.exceptions.PolarsError) as error:
        raise DutyLogError(f"cannot be read: {_first_line(error)}", file=file) from None


def _library(file: str) -> Any:  # noqa: ANN401 - a module that may be missing
    try:
        import polars
    except ImportError:
        raise DutyLogError(
            "reading Parquet needs the extra 'fleet'",
            file=file,
            expected="the library polars, installed with: pip install 'ropewright[fleet]'",
            given=None,
            hint="a log in CSV needs nothing more",
        ) from None
    return polars


def _first_line(error: BaseException) -> str:
    return (str(error).splitlines() or [type(error).__name__])[0][:200]


def _batches(frame: Any) -> Iterator[Any]:  # noqa: ANN401
    """Give the rows in order, so many at a time."""
    if hasattr(frame, "collect_batches"):
        yield from frame.collect_batches(chunk_size=ROWS, maintain_order=True)
        return
    first = 0
    while (batch := frame.slice(first, ROWS).collect()).height:
        yield batch
        first += ROWS


def _floats(series: Any) -> np.ndarray[Any, np.dtype[Any]]:  # noqa: ANN401
    """Return a column as floats, blanks as not-a-number."""
    import polars

    if series.dtype not in (polars.Float32, polars.Float64):
        series = series.cast(polars.Float64)
    if series.null_count():
        series = series.fill_null(float("nan"))
    values: np.ndarray[Any, np.dtype[Any]] = series.to_numpy()
    return values


class _Moments:
    """Makes moments out of a column of dates with times, or of whole numbers."""

    def __init__(self, polars: Any, kind: Any, mapping: LogMapping, file: str) -> None:  # noqa: ANN401
        self._file = file
        self._clock: WallClock | None = None
        self._unit = mapping.time_unit_ms
        named = polars.col(mapping.time)
        if isinstance(kind, polars.Datetime):
            self._unit = 1.0
            if kind.time_zone is not None:
                named = named.dt.convert_time_zone("UTC")
            elif mapping.zone is None:
                raise no_zone("dates with times, no zone", field=f"column {mapping.time}")
            else:
                self._clock = WallClock(zone_of(mapping.zone))
            named = named.dt.epoch("ms")
        elif kind.is_numeric() and self._unit is None:
            raise DutyLogError(
                file=file,
                field=f"column {mapping.time}",
                expected='a unit for moments that are numbers, unit = "s" or "ms"',
                given=None,
            )
        elif not kind.is_numeric():
            raise DutyLogError(
                file=file,
                field=f"column {mapping.time}",
                expected="dates with times, or numbers",
                given=str(kind),
            )
        self.column = named.alias(mapping.time)

    def read(self, series: Any, row: int) -> npt.NDArray[np.int64]:  # noqa: ANN401
        """Return moments in milliseconds; ``row`` is the number of the first."""
        if series.null_count():
            missing = row + int(np.argmax(series.is_null().to_numpy()))
            raise DutyLogError(
                file=self._file, field=f"row {missing}, time", expected="a moment", given=None
            )
        values = series.to_numpy()
        try:
            moments = moments_of_numbers(
                values, self._unit or 1.0, rows=range(row, row + values.size)
            )
        except DutyLogError as error:
            raise error.with_file(self._file) from None
        return moments if self._clock is None else self._clock.moments(moments)
