"""Two old ideas that make counting exact: the moving interval, and turning points worth the name.

A moving interval sweeps a point along: the point stays where it is until an edge pushes it.  If
the edges are the tangent points on either side of a free length of rope, the swept point has
passed an element exactly when that element has gone from one contact over to the other.  If the
edges lie half a dead band on either side of a reading, it tells true turns from jitter.
"""

from typing import TypeAlias

import numpy as np
import numpy.typing as npt

Whole: TypeAlias = npt.NDArray[np.int32]
_FEW = 300  # below this many steps going through them in order is quicker
_FEWER_COLUMNS = 60  # a step of all rows together costs as much as so many single ones


def swept(low: Whole, high: Whole, start: int) -> Whole:
    """Where a moving interval has swept a point, at each moment.

    Parameters
    ----------
    low, high
        (n,) edges of the interval, the lower one never above the higher [-].
    start
        Where the point was before [-].

    Returns
    -------
    array
        (n,) places of the point, in the edges' unit [-].
    """
    count = low.size
    if count <= _FEW:
        return _one_by_one(low, high, start)
    # Every step clips the point to an interval; steps joined together are again one clip.  So
    # rows of steps are joined side by side, and then the rows' ends in the same way.
    columns = round((count / _FEWER_COLUMNS) ** 0.5)
    rows = -(-count // columns)
    padded = rows * columns - count
    lows = np.concatenate([low, np.full(padded, low[-1])]).reshape(rows, columns).T.copy()
    highs = np.concatenate([high, np.full(padded, high[-1])]).reshape(rows, columns).T.copy()
    for step in range(1, columns):
        here_low, here_high = lows[step].copy(), highs[step].copy()
        for edges in (lows, highs):
            np.maximum(edges[step - 1], here_low, out=edges[step])
            np.minimum(edges[step], here_high, out=edges[step])
    ends = swept(lows[-1], highs[-1], start)
    begins = np.concatenate([[np.int32(start)], ends[:-1]])
    np.maximum(begins, lows, out=lows)
    np.minimum(lows, highs, out=lows)
    return np.ascontiguousarray(lows.T).reshape(-1)[:count]


def _one_by_one(low: Whole, high: Whole, start: int) -> Whole:
    places = []
    here = start
    for least, most in zip(low.tolist(), high.tolist(), strict=True):
        here = least if here < least else min(here, most)
        places.append(here)
    return np.array(places, dtype=np.int32)


class TrueTurns:
    """Follows a reading and leaves out to-and-fro that is smaller than a dead band.

    The followed value is the farthest the reading has been since it last turned; it turns when
    the reading has come back by more than the dead band.  Turning points that count keep their
    exact place.  State is kept from piece to piece, so that cutting a series changes nothing.
    """

    def __init__(self, band: int) -> None:
        """Start without a reading; ``band`` [-] is the dead band in the readings' unit."""
        self._half = band // 2
        self._point: int | None = None
        self._followed = 0

    def fresh(self) -> None:
        """Forget what was followed: the next reading begins anew."""
        self._point = None

    def follow(self, readings: Whole) -> Whole:
        """Readings without jitter.

        Parameters
        ----------
        readings
            (n,) the next readings [-].

        Returns
        -------
        array
            (n,) the followed values [-].
        """
        if not self._half or not readings.size:
            return readings
        if self._point is None:
            self._point = self._followed = int(readings[0])
        half = np.int32(self._half)
        turns = _turns(readings)
        at_turns = readings[turns]
        points = swept(at_turns - half, at_turns + half, self._point)
        before = np.concatenate([[self._point], points[:-1]])
        # Where the point is pushed, the reading itself is the farthest place of this stroke.
        values = _held(at_turns, points != before, self._followed)
        starts = np.concatenate([[self._followed], values[:-1]]).astype(np.int32)
        self._point, self._followed = int(points[-1]), int(values[-1])
        # From one turn to the next the reading runs one way: it is followed from where it has
        # gone farther from the last turn's point than half the band.
        lengths = np.diff(turns, prepend=-1)
        away = readings - np.repeat(before.astype(np.int32), lengths)
        np.abs(away, out=away)
        return np.where(away > half, readings, np.repeat(starts, lengths))


def _turns(readings: Whole) -> npt.NDArray[np.intp]:
    """Return where the series turns, its first and last reading included."""
    turns = np.ones(readings.size, dtype=np.bool_)
    if readings.size > 2:
        up = readings[1:] > readings[:-1]
        down = readings[1:] < readings[:-1]
        np.not_equal(up[1:], up[:-1], out=turns[1:-1])
        turns[1:-1] |= down[1:] != down[:-1]
    return np.flatnonzero(turns)


def _held(values: Whole, taken: npt.NDArray[np.bool_], before: int) -> Whole:
    """Return the values where they are taken, and the last one taken in between."""
    last = np.maximum.accumulate(np.where(taken, np.arange(values.size), -1))
    held: Whole = np.where(last >= 0, values[np.maximum(last, 0)], np.int32(before))
    return held
