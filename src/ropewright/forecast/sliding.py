"""Worst sliding windows: the chance that some window of a zone holds too many breaks.

Fixed cells would understate it by a factor of two to six.  The window is slid over the zone:
where it holds the most known breaks it must not fill up, and between those places it must not
cross the limit while it moves (up-crossing rate of a sliding window over Poisson points, mixed
over the gamma frailty; after S. E. Alm, 'On the distribution of the scan statistic of a Poisson
process', 1983, abstract read).
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from ropewright.forecast._numeric import Floats
from ropewright.forecast.zone import UNIT_D, Limit, Zone

_TOUCH = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Sweep:
    """One limit slid over one zone.

    ``width`` [-] is the window in units of 6 d; ``peaks`` are the breaks still missing at each
    place where the window holds most; ``runs`` [-] are pairs of breaks missing and
    length slid with them, in window widths.  ``reached``: the known breaks alone reach the limit.
    """

    width: float
    peaks: tuple[int, ...]
    runs: tuple[tuple[int, float], ...]
    reached: bool


def sweep(zone: Zone, limit: Limit) -> Sweep:
    """Slide the window of a limit over a zone, exactly, with closed windows."""
    width = min(limit.window_d / UNIT_D, zone.windows)
    room = zone.windows - width
    if zone.places_d is None:
        held, lengths = [zone.known], [room]
    else:
        places = sorted(place / UNIT_D for place in zone.places_d)
        held, lengths = _held(places, width, room)
    peaks = tuple(
        limit.count - here
        for before, here, after in zip([-1, *held[:-1]], held, [*held[1:], -1], strict=True)
        if here > before and here > after
    )
    runs: dict[int, float] = {}
    for here, length in zip(held, lengths, strict=True):
        if length > _TOUCH:
            missing = limit.count - here
            runs[missing] = runs.get(missing, 0.0) + length / width
    return Sweep(
        width=width,
        peaks=peaks,
        runs=tuple(sorted(runs.items())),
        reached=min(peaks, default=limit.count) <= 0,
    )


def sweeps_of(zone: Zone, limits: Sequence[Limit]) -> tuple[Sweep, ...]:
    """Every limit slid over a zone; one that cannot be reached before another is left empty.

    Where a zone is shorter than two windows both are cut to it, and the lower limit decides.
    """
    every = [sweep(zone, limit) for limit in limits]
    ahead: list[Sweep] = []
    for number, (one, limit) in enumerate(zip(every, limits, strict=True)):
        beaten = any(
            other.width >= one.width and (rival.count, place) < (limit.count, number)
            for place, (other, rival) in enumerate(zip(every, limits, strict=True))
        )
        ahead.append(replace(one, peaks=(), runs=(), reached=False) if beaten else one)
    return tuple(ahead)


def _held(places: Sequence[float], width: float, room: float) -> tuple[list[int], list[float]]:
    """Known breaks in the window as it slides, with the length over which that stays so."""
    edges = sorted(
        {0.0, room}
        | {round(edge, 9) for place in places for edge in (place - width, place) if 0 < edge < room}
    )
    starts: list[tuple[float, float]] = []
    for here, there in zip(edges, [*edges[1:], None], strict=True):
        starts.append((here, 0.0))
        if there is not None and there - here > _TOUCH:
            starts.append(((here + there) / 2, there - here))
    held: list[int] = []
    lengths: list[float] = []
    for start, length in starts:
        inside = sum(start - _TOUCH <= place <= start + width + _TOUCH for place in places)
        if held and held[-1] == inside:
            lengths[-1] += length
        else:
            held.append(inside)
            lengths.append(length)
    return held, lengths


_BLOCK = 16_384  # so many numbers at a time stay in the processor's cache


def survival(sweeps: Sequence[Sweep], more: Floats, shape: Floats, base: Floats) -> Floats:
    """Chance that no window of the zone reaches its limit.

    Parameters
    ----------
    sweeps
        Each limit slid over the zone.
    more
        Mean unseen and future breaks per 6 d for a place of average frailty, (time, node) [-].
    shape
        Gamma shape after what was found, shape (node,) [-].
    base
        Gamma rate after what was looked at, shape (node,) [-].

    Returns
    -------
    Floats
        The chance, shape (time, node) [-].
    """
    if any(one.reached for one in sweeps):
        return np.zeros_like(more)
    alive = np.ones_like(more)
    rows = max(1, _BLOCK // max(1, more.shape[1]))
    for start in range(0, more.shape[0], rows):
        part = slice(start, start + rows)
        crossing = np.zeros_like(more[part])
        for one in sweeps:
            if not one.peaks:
                continue
            _slide(one, more[part] * (one.width / base), shape, alive[part], crossing)
        alive[part] *= np.exp(-crossing)
    return alive


def _slide(one: Sweep, odds: Floats, shape: Floats, alive: Floats, crossing: Floats) -> None:
    """One limit: ``alive`` is cut down at the peaks, ``crossing`` adds up along the runs."""
    exactly = np.exp(-shape * np.log1p(odds))
    share = odds / (1.0 + odds)
    below = np.zeros_like(odds)
    following = np.empty_like(odds)
    runs = dict(one.runs)
    most = max((*one.peaks, *runs))
    for count in range(most + 1):
        for _ in range(one.peaks.count(count)):
            alive *= below
        if count == most and count not in runs:
            break
        np.multiply(exactly, share, out=following)
        following *= (shape + count) / (count + 1)
        if count in runs:
            rising = count * exactly - (count + 1) * following
            crossing += runs[count] * np.maximum(rising, 0.0)
        below += exactly
        exactly, following = following, exactly
