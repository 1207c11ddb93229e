"""From written moments to milliseconds since 1970, UTC; without a zone there is no moment."""

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta, timezone, tzinfo
from itertools import pairwise
from typing import Any, Final
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

import numpy as np
import numpy.typing as npt

from ropewright.errors import DutyLogError

Ints = npt.NDArray[np.int64]

_HOUR_MS: Final = 3_600_000
_BACK_MS: Final = 1_800_000  # clocks are put back by an hour, or half an hour
_FARTHEST_MS: Final = 1e14  # before the year 5000
_EPOCH: Final = datetime(1970, 1, 1, tzinfo=UTC)


def zone_of(text: str) -> tzinfo:
    """The zone behind a name such as UTC, +02:00 or a region's.

    Parameters
    ----------
    text
        As written.

    Raises
    ------
    DutyLogError
        If there is no such zone.
    """
    if text in ("UTC", "Z"):
        return UTC
    if text[:1] in "+-" and len(text) == 6 and text[3] == ":":
        hours, minutes = text[1:3], text[4:6]
        if hours.isdecimal() and minutes.isdecimal() and int(hours) < 15 and int(minutes) < 60:
            shift = timedelta(hours=int(hours), minutes=int(minutes))
            return timezone(-shift if text[0] == "-" else shift)
    try:
        return ZoneInfo(text)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        raise DutyLogError(
            field="zone", expected='a zone such as "UTC", "+02:00" or "Europe/Lisbon"', given=text
        ) from None


def no_zone(given: str, *, field: str) -> DutyLogError:
    """The error for moments that do not say in which zone they are."""
    return DutyLogError(
        field=field,
        expected="moments with their zone, such as 2026-03-01T06:30:00+01:00 or …Z",
        given=given,
        hint='if the whole log is in one zone, say so: zone = "UTC", "+02:00" or a region\'s name',
    )


class WallClock:
    """Turns wall-clock times of one zone into moments; where clocks go back, order decides.

    An hour that comes twice is read as its first time until the clock has gone back, and as its
    second time after that.
    """

    def __init__(self, zone: tzinfo) -> None:
        """Start before the first sample."""
        self._zone = zone
        self._fixed_ms = None if isinstance(zone, ZoneInfo) else self._offset_ms(0, 0)
        self._last: int | None = None
        self._second = False

    def moments(self, wall_ms: Ints) -> Ints:
        """Moments of wall-clock times.

        Parameters
        ----------
        wall_ms
            (n,) wall-clock times as if they were UTC [ms].

        Returns
        -------
        array
            (n,) since 1970, UTC [ms].
        """
        if self._fixed_ms is not None or not wall_ms.size:
            return wall_ms - (self._fixed_ms or 0)
        hours = wall_ms // (_HOUR_MS // 2)
        moments = np.empty_like(wall_ms)
        edges = [0, *(np.flatnonzero(hours[1:] != hours[:-1]) + 1).tolist(), wall_ms.size]
        for first, last in pairwise(edges):
            part = wall_ms[first:last]
            moments[first:last] = part - self._half_hour(part)
        return moments

    def _half_hour(self, wall_ms: Ints) -> Ints | int:
        """Return the zone's offset over times of one half hour of the wall clock."""
        first, second = (self._offset_ms(int(wall_ms[0]), fold) for fold in (0, 1))
        last = int(wall_ms[0]) if self._last is None else self._last
        self._last = int(wall_ms[-1])
        if second >= first:  # the usual hour, or one that the clocks skip
            self._second = False
            return first
        back = np.diff(wall_ms, prepend=last) <= -_BACK_MS
        if not back.any():
            return second if self._second else first
        turned = np.cumsum(back) + int(self._second) > 0
        self._second = bool(turned[-1])
        return np.where(turned, second, first)

    def _offset_ms(self, wall_ms: int, fold: int) -> int:
        wall = (_EPOCH + timedelta(milliseconds=wall_ms)).replace(tzinfo=self._zone, fold=fold)
        offset = wall.utcoffset() or timedelta(0)
        return round(offset.total_seconds() * 1000)


def moments_of_text(texts: Sequence[str], clock: WallClock | None, *, rows: Sequence[int]) -> Ints:
    """Moments from text, one by one.

    Parameters
    ----------
    texts
        Dates with times as ISO 8601 writes them.
    clock
        The zone for those that have none; without one they are refused.
    rows
        Their rows, for errors [-].

    Returns
    -------
    array
        (n,) since 1970, UTC [ms].
    """
    moments = np.empty(len(texts), dtype=np.int64)
    for number, (text, row) in enumerate(zip(texts, rows, strict=True)):
        try:
            read = datetime.fromisoformat(text.strip())
        except ValueError:
            raise DutyLogError(
                field=f"row {row}, time",
                expected="a moment such as 2026-03-01T06:30:00+01:00",
                given=text,
            ) from None
        if read.tzinfo is not None:
            moments[number] = round((read - _EPOCH) / timedelta(milliseconds=1))
        elif clock is None:
            raise no_zone(text, field=f"row {row}, time")
        else:
            wall = read.replace(tzinfo=UTC)
            whole = np.array([round((wall - _EPOCH) / timedelta(milliseconds=1))], dtype=np.int64)
            moments[number] = clock.moments(whole)[0]
    return moments


def moments_of_numbers(
    numbers: np.ndarray[Any, np.dtype[Any]], unit_ms: float, *, rows: Sequence[int]
) -> Ints:
    """Moments that are written as numbers, as whole milliseconds.

    Parameters
    ----------
    numbers
        (n,) times since 1970, UTC [-].
    unit_ms
        The unit of the numbers [ms].
    rows
        Their rows, for errors [-].

    Returns
    -------
    array
        (n,) since 1970, UTC [ms].
    """
    good = (numbers > -_FARTHEST_MS / unit_ms) & (numbers < _FARTHEST_MS / unit_ms)
    if not good.all():  # not-a-number is not good either
        first = int(np.argmin(good))
        raise DutyLogError(
            field=f"row {rows[first]}, time",
            expected="seconds or milliseconds since 1970",
            given=float(numbers[first]),
        )
    if numbers.dtype.kind in "iu" and unit_ms == 1.0:
        return numbers.astype(np.int64)
    moments: Ints = np.rint(numbers.astype(np.float64) * unit_ms).astype(np.int64)
    return moments


def moments_of_bytes(
    column: np.ndarray[Any, np.dtype[np.bytes_]], clock: WallClock | None, *, row: int
) -> Ints:
    """Moments from a column of bytes; fast where all are written alike.

    Parameters
    ----------
    column
        (n,) dates with times [-].
    clock
        As for `moments_of_text`.
    row
        Row of the first, for errors.

    Returns
    -------
    array
        (n,) since 1970, UTC [ms].
    """
    width = column.dtype.itemsize
    letters = np.ascontiguousarray(column).view(np.uint8).reshape(column.size, width)
    written = np.flatnonzero(letters.sum(axis=0))
    used = int(written.max(initial=-1)) + 1
    tail = _common_tail(letters, used)
    if tail is not None:
        text, zone = tail
        try:
            wall = letters[:, : used - text].copy().view(f"S{used - text}").reshape(-1)
            wall_ms = wall.astype("datetime64[ms]").astype(np.int64)
        except ValueError:
            pass
        else:
            if zone is None and clock is None:
                raise no_zone(column[0].decode(), field=f"row {row}, time")
            if zone is None and clock is not None:
                return clock.moments(wall_ms)
            return WallClock(zone_of(zone or "UTC")).moments(wall_ms)
    texts = [one.decode() for one in column.tolist()]
    return moments_of_text(texts, clock, rows=range(row, row + len(texts)))


def _common_tail(letters: npt.NDArray[np.uint8], used: int) -> tuple[int, str | None] | None:
    """Return length and zone of the end that all texts share; none if they are not alike."""
    if used < 19 or not letters[:, used - 1].all():
        return None
    for length in (6, 1):
        end = letters[:, used - length : used]
        if (end == end[0]).all():
            text = end[0].tobytes().decode("latin-1")
            if length == 1 and text == "Z":
                return 1, "UTC"
            if length == 6 and text[0] in "+-" and text[3] == ":":
                return 6, text
    if (letters == ord("+")).any() or (letters == ord("Z")).any():
        return None
    dates = (letters[:, :used] == ord("-")).sum(axis=1)
    return (0, None) if (dates == 2).all() else None
