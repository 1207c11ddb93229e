"""Parting a log at moments, and what a count says of the rope on the drum."""

from collections.abc import Sequence

import numpy as np

from ropewright.wear.model import BendCount, DutyChunk


def parted(
    chunk: DutyChunk, starts_ms: Sequence[int], end_ms: int, *, least: int = -1
) -> list[tuple[int, DutyChunk]]:
    """Part a piece of log at moments.

    A sample whose time runs backwards stays with the ones before it.

    Parameters
    ----------
    chunk
        The piece.
    starts_ms
        When each span begins [ms].
    end_ms
        When the last one ends [ms].
    least
        The span reached before; samples never go back behind it.

    Returns
    -------
    list
        Number of the span and its part; -1 before the first span, their number after the last.
    """
    place = np.searchsorted(np.asarray(starts_ms), chunk.time_ms, side="right") - 1
    place[chunk.time_ms >= end_ms] = len(starts_ms)
    place = np.maximum(np.maximum.accumulate(place), least)
    cuts = (np.flatnonzero(np.diff(place)) + 1).tolist()
    bounds = zip([0, *cuts], [*cuts, place.size], strict=True)
    return [(int(place[first]), chunk.part(slice(first, last))) for first, last in bounds]


def paid_out_least_m(count: BendCount) -> float | None:
    """Where along the path the drum began when it held the most rope; none if it never wound [m].

    Parameters
    ----------
    count
        The count.
    """
    if not count.wound_on.size or not count.wound_on[-1].any():
        return None
    return float(np.argmax(count.wound_on[-1] > 0) * count.bin_m)
