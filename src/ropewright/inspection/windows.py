"""Exact worst windows: the most broken wires that any window of a given length can hold.

Counts have a length: 'n broken wires over this length'.  Where a group is longer than the
window, or lies somewhere within its placing error, nobody knows how many of its breaks fall
into one window; so the answer is a lower and an upper count.  Windows are closed intervals
and are found exactly, on whole nanometres, without bins.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from operator import attrgetter
from typing import Final, TypeAlias

import numpy as np
import numpy.typing as npt

from ropewright.errors import InputError

NANOMETRES_PER_METRE: Final = 1_000_000_000
_SMALL: Final = 48  # up to this many, plain Python beats array set-up

Ints = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True)
class CountedGroup:
    """``count`` broken wires somewhere on the closed length ``from_nm`` .. ``to_nm``.

    Places are whole nanometres [nm].  ``err_nm`` [nm] is how far the whole group may really
    lie to either side, independently of other groups.
    """

    from_nm: int
    to_nm: int
    count: int
    err_nm: int = 0

    def __post_init__(self) -> None:
        if self.to_nm < self.from_nm:
            raise InputError(
                field="counted length",
                expected="an end beyond its start",
                given=f"{self.from_nm} nm .. {self.to_nm} nm",
            )
        if self.count < 0:
            raise InputError(
                field="count", expected="a whole number of broken wires", given=self.count
            )
        if self.err_nm < 0:
            raise InputError(field="err", expected="an error of at least 0", given=self.err_nm)


@dataclass(frozen=True, slots=True, kw_only=True)
class WorstWindow:
    """The worst window: sure (``lower``) and possible (``upper``) count, and where.

    ``from_nm`` .. ``to_nm`` [nm] is a window with the upper count; ``lower`` breaks are
    certain to lie within one window of that length, though not always in that one.
    """

    lower: int
    upper: int
    from_nm: int
    to_nm: int


def nanometres(metres: float) -> int:
    """A place in whole nanometres.

    Parameters
    ----------
    metres : float
        The place [m].
    """
    return round(metres * NANOMETRES_PER_METRE)


def worst_window(groups: Sequence[CountedGroup], window_nm: int) -> WorstWindow | None:
    """Find the window of length ``window_nm`` [nm] that can hold the most broken wires.

    Returns ``None`` when there are no breaks.  Cost is that of sorting: O(n log n).

    The upper count takes every group that can touch the window.  The lower count is the larger
    of two certainties: groups that lie in one window wherever their errors put them, and, for
    one long group, the share that some window must hold when its breaks are spread as
    favourably as they can be (``ceil(count / ceil(length / window))``).

    Raises
    ------
    InputError
        If the window is not longer than zero.
    """
    held = _held(groups, window_nm)
    if not held:
        return None
    if len(held) == 1:
        return _single(held[0], window_nm)
    if len(held) <= _SMALL:
        return _small(held, window_nm)
    return _arrays(held, window_nm)


def sure_count(groups: Sequence[CountedGroup], window_nm: int) -> int:
    """The lower count of the worst window of length ``window_nm`` [nm] alone; 0 without breaks.

    Raises
    ------
    InputError
        If the window is not longer than zero.
    """
    held = _held(groups, window_nm)
    if not held:
        return 0
    if len(held) <= _SMALL:
        return _within(*_reach_of(held, window_nm), window_nm)
    return _arrays(held, window_nm).lower


def _held(groups: Sequence[CountedGroup], window_nm: int) -> list[CountedGroup]:
    if window_nm <= 0:
        raise InputError(field="window", expected="a length above 0", given=f"{window_nm} nm")
    return [group for group in groups if group.count > 0]


def worst_window_of_points(
    places_nm: Ints, counts: Ints, window_nm: int
) -> tuple[int, int, int] | None:
    """Worst window over exactly placed breaks, for very many of them.

    Parameters
    ----------
    places_nm : ndarray of int64, shape (n,)
        Places of the breaks, in any order [nm].
    counts : ndarray of int64, shape (n,)
        Broken wires at each place [-].
    window_nm : int
        Length of the closed window [nm].

    Returns
    -------
    tuple of int or None
        Count [-], start and end of the window [nm]; ``None`` without breaks.
    """
    if window_nm <= 0:
        raise InputError(field="window", expected="a length above 0", given=f"{window_nm} nm")
    if places_nm.size == 0 or int(counts.sum()) == 0:
        return None
    order = np.argsort(places_nm, kind="stable")
    places = places_nm[order]
    running = _running(counts[order])
    last = np.searchsorted(places, places + window_nm, side="right")
    held = running[last] - running[:-1]
    best = int(np.argmax(held))
    start = int(places[best])
    return int(held[best]), start, start + window_nm


def _pigeonhole(count: int, length_nm: int, window_nm: int) -> int:
    windows = max(1, -(-length_nm // window_nm))
    return -(-count // windows)


def _single(group: CountedGroup, window_nm: int) -> WorstWindow:
    length = group.to_nm - group.from_nm
    middle = group.from_nm + (length - window_nm) // 2
    return WorstWindow(
        lower=_pigeonhole(group.count, length, window_nm),
        upper=group.count,
        from_nm=middle,
        to_nm=middle + window_nm,
    )


#: Near end, far end and count of each group, errors included, in order of the near ends.
_Reach: TypeAlias = list[tuple[int, int, int]]


def _reach_of(groups: Sequence[CountedGroup], window_nm: int) -> tuple[_Reach, int]:
    """Where the groups may lie, and the most that one of them surely puts into a window."""
    reach, lower = [], 0
    for group in groups:
        begin, end, count, err = group.from_nm, group.to_nm, group.count, group.err_nm
        reach.append((begin - err, end + err, count))
        if end - begin > window_nm:
            count = _pigeonhole(count, end - begin, window_nm)
        lower = max(lower, count)
    reach.sort()
    return reach, lower


def _small(groups: Sequence[CountedGroup], window_nm: int) -> WorstWindow:
    reach, lower = _reach_of(groups, window_nm)
    upper, start = 0, 0
    for begin, _, _ in reach:
        # the window that just reaches this group's near end: all that touches it
        left, held = begin - window_nm, 0
        for low, high, count in reach:
            if low > begin:
                break
            if high >= left:
                held += count
        if held > upper:
            upper, start = held, left
    end = start + window_nm
    touched = [(low, high) for low, high, _ in reach if low <= end and high >= start]
    earliest, latest = touched[-1][0], min([high for _, high in touched])
    lower = _within(reach, lower, window_nm)
    return _centred(lower, upper, earliest - window_nm, latest, window_nm)


def _within(reach: _Reach, lower: int, window_nm: int) -> int:
    """The most that surely lies inside one window, at least ``lower``."""
    for number, (begin, _, _) in enumerate(reach):
        # the window that begins at this group's near end
        right, held = begin + window_nm, 0
        for low, high, count in reach[number:]:
            if low > right:
                break
            if high <= right:
                held += count
        if held > lower:
            lower = held
    return lower


def _arrays(groups: Sequence[CountedGroup], window_nm: int) -> WorstWindow:
    begin, end, count, err = (
        np.fromiter(map(attrgetter(name), groups), dtype=np.int64, count=len(groups))
        for name in ("from_nm", "to_nm", "count", "err_nm")
    )
    low, high = begin - err, end + err
    by_low, by_high = np.argsort(low, kind="stable"), np.argsort(high, kind="stable")
    low_sorted, high_sorted = low[by_low], high[by_high]
    low_sum, high_sum = _running(count[by_low]), _running(count[by_high])

    begun = low_sum[np.searchsorted(low_sorted, low_sorted, side="right")]
    ended = high_sum[np.searchsorted(high_sorted, low_sorted - window_nm, side="left")]
    touching = begun - ended
    best = int(np.argmax(touching))
    upper, start = int(touching[best]), int(low_sorted[best]) - window_nm

    windows = np.maximum(1, -(-(end - begin) // window_nm))
    lower = int((-(-count // windows)).max())
    inside = np.flatnonzero(high - low <= window_nm)
    if inside.size:
        lows, highs, counts = low[inside], high[inside], count[inside]
        by_low, by_high = np.argsort(lows, kind="stable"), np.argsort(highs, kind="stable")
        lows_sorted, highs_sorted = lows[by_low], highs[by_high]
        done = _running(counts[by_high])[
            np.searchsorted(highs_sorted, lows_sorted + window_nm, side="right")
        ]
        before = _running(counts[by_low])[np.searchsorted(lows_sorted, lows_sorted, side="left")]
        lower = max(lower, int((done - before).max()))
    touched = (low <= start + window_nm) & (high >= start)
    return _centred(
        lower, upper, int(low[touched].max()) - window_nm, int(high[touched].min()), window_nm
    )


def _running(counts: Ints) -> Ints:
    return np.concatenate((np.zeros(1, dtype=np.int64), np.cumsum(counts)))


def _centred(lower: int, upper: int, earliest: int, latest: int, window_nm: int) -> WorstWindow:
    """Put the window in the middle of all places where it touches the same groups."""
    begin = (earliest + latest) // 2
    return WorstWindow(lower=lower, upper=upper, from_nm=begin, to_nm=begin + window_nm)
