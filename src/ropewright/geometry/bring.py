"""From a place on the rope back to crane positions: how to bring it in front of a person."""

import itertools
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from ropewright.errors import InputError
from ropewright.geometry.hoist import Hoist
from ropewright.geometry.place import PathPlace
from ropewright.geometry.points import InspectionPoint, axes_of, point_rows
from ropewright.geometry.position import LIMITS, Axis, CranePosition
from ropewright.geometry.search import PlaceSearch, Rest
from ropewright.geometry.solving import crossings, runs_of
from ropewright.geometry.unreachable import Unreachable, why_not

NODES: Final = 181
COARSE_NODES: Final = 13
_SAME: Final = 1e-9

_NEAR_M: Final = 1e-3


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """A line of crane positions that all bring the place to the point; often just one.

    ``between`` are positions on the way from ``start`` to ``end``, evenly spaced in the axis
    that was scanned.
    """

    start: CranePosition
    end: CranePosition
    between: tuple[CranePosition, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Brought:
    """All crane positions within the limits that bring a place to a point, or why there is none.

    ``any_axes`` may stand anywhere as long as the point stays on free rope.
    """

    ways: tuple[Way, ...]
    any_axes: tuple[Axis, ...]
    unreachable: Unreachable | None


@lru_cache(maxsize=512)
def bring_to(
    place: PathPlace,
    point: InspectionPoint,
    hoist: Hoist,
    *,
    held: CranePosition | None = None,
) -> Brought:
    """All crane positions within the limits that bring a place in front of a person.

    The hook height is worked out exactly; other axes that the place depends on are scanned
    between their limits unless held.

    Parameters
    ----------
    place
        On today's path.
    point
        Where the person stands.
    hoist
        The hoist as rigged now.
    held
        Axes that shall stay where they are.

    Returns
    -------
    Brought
        Ways in [m] and [deg], or the reason why there is none.

    Raises
    ------
    InputError
        If a limit of an axis that must be scanned is not given.
    """
    rows = point_rows(hoist, point)
    search = PlaceSearch(hoist=hoist, rows=rows, place_m=place.at_m, held=_held(held))
    axes = axes_of(hoist, rows.here)
    free = [axis for axis in axes if axis not in search.held]
    gap_axes = {*axes_of(hoist, rows.before), *axes_of(hoist, rows.after)} - set(axes)
    loose = tuple(axis for axis in hoist.reeving.axes if axis in gap_axes - search.held.keys())
    any_axes = tuple(
        axis for axis in hoist.reeving.axes if axis not in axes and axis not in search.held
    )
    near_m = max(_NEAR_M, place.abs_err_m + place.rel_err_m)
    ways = _ways(search, free, loose, near_m)
    reason = None if ways else why_not(search, free, point.name)
    return Brought(ways=ways, any_axes=any_axes, unreachable=reason)


def _held(held: CranePosition | None) -> Rest:
    if held is None:
        return {}
    if held.drum_turns is not None:
        raise InputError(
            field="held.drum_turns", expected="the hook height instead", given=held.drum_turns
        )
    return {axis: value for axis in LIMITS if (value := held.value(axis)) is not None}


def _ways(
    search: PlaceSearch, free: list[Axis], loose: tuple[Axis, ...], near_m: float
) -> tuple[Way, ...]:
    if not free:  # nothing can be moved: the place is there already, or it is not
        if abs(search.offset({})) > near_m or not search.is_free({}, loose):
            return ()
        position = CranePosition(**search.held)
        return (Way(start=position, end=position),)
    if "hook_m" in free:
        return _hook_ways(search, [axis for axis in free if axis != "hook_m"], loose)
    return _other_ways(search, free, loose)


def _hook_ways(
    search: PlaceSearch, scanned: list[Axis], loose: tuple[Axis, ...]
) -> tuple[Way, ...]:
    """Solve for the hook; scan the other axes the place depends on."""

    def holds(at: Rest) -> bool:
        hook = search.hook(at)
        inside = search.within("hook_m", hook)
        return inside and search.is_free({**at, "hook_m": hook}, loose)

    def position(at: Rest) -> CranePosition:
        return CranePosition(**{**search.held, **at, "hook_m": search.hook_within(at)})

    if not scanned:
        if not holds({}):
            return ()
        only = position({})
        return (Way(start=only, end=only),)
    *outer, inner = scanned
    ways: list[Way] = []
    grids = [search.nodes(axis, COARSE_NODES) for axis in outer]
    for values in itertools.product(*grids):
        fixed: Rest = dict(zip(outer, values, strict=True))

        def holds_at(value: float, fixed: Rest = fixed) -> bool:
            return holds({**fixed, inner: value})

        line = np.array(search.nodes(inner, NODES))
        at = {axis: np.full(line.size, value) for axis, value in fixed.items()} | {inner: line}
        flags = search.hooks_hold(at, loose)
        for low, high in runs_of(holds_at, line, flags=flags):
            middle: list[float] = np.linspace(low, high, 9)[1:-1].tolist()
            if high - low <= _SAME:
                middle = []
            ways.append(
                Way(
                    start=position({**fixed, inner: low}),
                    end=position({**fixed, inner: high}),
                    between=tuple(position({**fixed, inner: float(value)}) for value in middle),
                )
            )
    return tuple(ways)


def _other_ways(search: PlaceSearch, free: list[Axis], loose: tuple[Axis, ...]) -> tuple[Way, ...]:
    """Find roots along the last free axis; scan the others; the hook does not matter."""
    *outer, inner = free
    ways: list[Way] = []
    grids = [search.nodes(axis, COARSE_NODES) for axis in outer]
    for values in itertools.product(*grids):
        fixed: Rest = dict(zip(outer, values, strict=True))

        def offset(value: float, fixed: Rest = fixed) -> float:
            return search.offset({**fixed, inner: value})

        for root in crossings(offset, np.array(search.nodes(inner, NODES))):
            at: Rest = {**fixed, inner: root}
            if search.is_free(at, loose):
                position = CranePosition(**{**search.held, **at})
                ways.append(Way(start=position, end=position))
    return tuple(ways)
