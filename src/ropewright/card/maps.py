"""Place maps: from the crane's position to the rope in front of a person, point by point.

A map is a grid over the axes on which the place depends.  Between its points one reads in
straight lines; it is as dense as that asks for.
"""

import itertools
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final, Literal, TypeAlias

from ropewright.card.assumed import MAP_ERR_M, MOST_POINTS
from ropewright.card.free_runs import free_runs
from ropewright.card.map_errors import MapAxis, place_errors
from ropewright.geometry import (
    Axis,
    CranePositions,
    Hoist,
    InspectionPoint,
)
from ropewright.geometry.frames import DROP
from ropewright.geometry.points import point_rows, point_values
from ropewright.inspection import RiggedHoist, WorkPlace
from ropewright.plan import Direction, InspectionPlan, View, places_of
from ropewright.rope import PathMap

MapKind: TypeAlias = Literal["run", "walk"]
_AGREES_M: Final = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceMap:
    """What lies in front of one place, for every crane position.

    The grid is flat, the last axis running fastest.  ``rope_m`` [m] is the rope in front; for
    ``walk`` the rope where the free run begins on end A's side, from where a person tapes.
    ``before_m`` and ``after_m`` [m] are how far the place is from the contact on end A's side and
    on the drum's, below zero where it lies on one; for ``walk`` the length of the free run stands
    in ``after_m``; ``None`` where that is not known.  ``room_m`` [m] is how far the block is below
    the sheaves above it, below zero where it cannot get; ``None`` where the axes of the map do not
    say.  ``abs_err_m`` and ``rel_err_m`` [m] are the two errors.  ``rope_per_axis`` [-] is the rope
    that runs past per metre of hook.
    """

    place: str
    kind: MapKind
    rigging: date
    by_hand: bool
    remark: str
    axes: tuple[MapAxis, ...]
    rope_m: tuple[float | None, ...]
    before_m: tuple[float | None, ...]
    after_m: tuple[float | None, ...]
    room_m: tuple[float | None, ...]
    abs_err_m: tuple[float, ...]
    rel_err_m: tuple[float, ...]
    toward_b: int
    direction: Direction | None
    rope_per_axis: float
    rope_m_per_s: float


@dataclass(frozen=True, slots=True, kw_only=True)
class NoMap:
    """A place without a map, and why."""

    place: str
    why: str


#: Path position, and free rope before and after it [m].
_Value: TypeAlias = tuple[float, float | None, float | None]
#: Values at many crane positions, axis by axis; ``None`` where the place is not on free rope.
_Values: TypeAlias = Callable[[Mapping[Axis, Sequence[float]]], list[_Value | None]]


def place_maps(
    rigged: RiggedHoist, path: PathMap, plan: InspectionPlan | None
) -> tuple[tuple[PlaceMap, ...], tuple[NoMap, ...]]:
    """A map for every place where a person can be, and the places without one.

    Parameters
    ----------
    rigged
        The hoist of the day.
    path
        How rope and path belong together.
    plan
        The plan of the inspection, for directions and speeds.
    """
    maps: list[PlaceMap] = []
    failed: list[NoMap] = []
    for place in places_of(rigged):
        made = _map(rigged, path, place, plan)
        if isinstance(made, PlaceMap):
            maps.append(made)
        else:
            failed.append(NoMap(place=place.name, why=made))
    return tuple(maps), tuple(failed)


def _map(
    rigged: RiggedHoist, path: PathMap, place: WorkPlace, plan: InspectionPlan | None
) -> PlaceMap | str:
    hoist = rigged.hoist
    values = _run_values(hoist, place.point) if place.point else _walk_values(hoist, place.along)
    ranges: dict[Axis, tuple[float, float]] = {}
    for axis in hoist.reeving.axes:
        bounds = hoist.travel.range_of(axis)
        if bounds is None:
            return f"both limits of {axis.removesuffix('_m').removesuffix('_deg')} are not known"
        ranges[axis] = bounds
    axes = _axes(values, ranges)
    middle = {axis: sum(bounds) / 2 for axis, bounds in ranges.items()}
    grid = _grid(axes, middle)
    found = values(grid)
    if all(one is None for one in found):
        return "it is never on free rope here"
    errors = place_errors(hoist, place, axes, middle)
    view = _view_of(plan, place.name)
    return PlaceMap(
        place=place.name,
        kind="run" if place.point else "walk",
        rigging=rigged.rigging.valid_from,
        by_hand=place.by_hand,
        remark=place.remark,
        axes=axes,
        rope_m=tuple(None if one is None else _rope_m(path, one[0]) for one in found),
        before_m=tuple(None if one is None else one[1] for one in found),
        after_m=tuple(None if one is None else one[2] for one in found),
        room_m=_room_m(hoist, axes, grid),
        abs_err_m=tuple(one[0] for one in errors),
        rel_err_m=tuple(one[1] for one in errors),
        toward_b=-1 if path.turned else 1,
        direction=None if view is None else view.direction,
        rope_per_axis=0.0 if view is None else view.rope_per_axis,
        rope_m_per_s=0.0 if view is None else view.rope_m_per_s,
    )


def _grid(axes: Sequence[MapAxis], middle: Mapping[Axis, float]) -> dict[Axis, list[float]]:
    """All points of a map axis by axis, the last axis running fastest; the rest in the middle."""
    nodes = list(itertools.product(*(axis.at for axis in axes)))
    made = {axis: [value] * len(nodes) for axis, value in middle.items()}
    for number, one in enumerate(axes):
        made[one.axis] = [node[number] for node in nodes]
    return made


def _rope_m(path: PathMap, path_m: float) -> float:
    """Rope position of a path position, also a little beyond the rope's ends [m]."""
    return path.last_rope_m - path_m if path.turned else path.first_rope_m + path_m


def _room_m(
    hoist: Hoist, axes: Sequence[MapAxis], grid: Mapping[Axis, Sequence[float]]
) -> tuple[float | None, ...]:
    """How far the block is below the sheaves above it [m], if the axes of the map say so."""
    names = [one.axis for one in axes]
    count = len(next(iter(grid.values())))
    if "hook_m" not in names or not any(span.per_drop for span in hoist.reeving.spans):
        return (None,) * count
    at = CranePositions.of(**{axis: list(grid[axis]) for axis in names})
    measures, known = hoist.reeving.frame.measures(at)
    return tuple(measures[DROP].tolist()) if known[DROP] else (None,) * count


def _view_of(plan: InspectionPlan | None, place: str) -> View | None:
    """The view of a place that a hand may use, else the longest usable one."""
    views = [one for one in (plan.views if plan else ()) if one.place == place and one.usable]
    with_hand = [one for one in views if one.direction is not None and one.direction.hand]
    return next(iter((*with_hand, *views)), None)


def _run_values(hoist: Hoist, point: InspectionPoint) -> _Values:
    rows = point_rows(hoist, point)

    def values(grid: Mapping[Axis, Sequence[float]]) -> list[_Value | None]:
        at = CranePositions.of(**{axis: list(one) for axis, one in grid.items()})
        measures, known = hoist.reeving.frame.measures(at)
        found = point_values(rows, measures, known)
        made: list[_Value | None] = []
        for here, before, after in zip(
            found.path_m.tolist(), found.to_before_m.tolist(), found.to_after_m.tolist(),
            strict=True,
        ):  # fmt: skip
            made.append(None if math.isnan(here) else (here, _known(before), _known(after)))
        return made

    return values


def _known(value: float) -> float | None:
    return None if math.isnan(value) else value


def _walk_values(hoist: Hoist, span: str) -> _Values:
    def values(grid: Mapping[Axis, Sequence[float]]) -> list[_Value | None]:
        at = CranePositions.of(**{axis: list(one) for axis, one in grid.items()})
        return [
            None if one is None else (one.from_m, None, one.length_m)
            for one in free_runs(hoist, span, at)
        ]

    return values


# --- How dense ----------------------------------------------------------------------------------


def _axes(values: _Values, ranges: Mapping[Axis, tuple[float, float]]) -> tuple[MapAxis, ...]:
    axes = []
    for axis, (low, high) in ranges.items():
        others = {other: bounds for other, bounds in ranges.items() if other != axis}
        sides = [
            dict(zip(others, corner, strict=True))
            for corner in itertools.product(*((a, (a + b) / 2, b) for a, b in others.values()))
        ]
        if low == high or not _matters(values, axis, (low, high), sides):
            continue
        axes.append(MapAxis(axis=axis, at=_points(values, axis, low, high, sides)))
    return tuple(axes)


def _along(
    values: _Values, axis: Axis, at: Sequence[float], side: Mapping[Axis, float]
) -> list[_Value | None]:
    """Values at several places of one axis, the others held."""
    return values({axis: at, **{other: [value] * len(at) for other, value in side.items()}})


def _matters(
    values: _Values, axis: Axis, bounds: tuple[float, float], sides: Sequence[Mapping[Axis, float]]
) -> bool:
    low, high = bounds
    for side in sides:
        found = _along(values, axis, (low, (low + high) / 2, high), side)
        known = {None if one is None else round(one[0] / _AGREES_M) for one in found}
        free = {None if one is None or one[2] is None else round(one[2], 6) for one in found}
        if len(known) > 1 or (None not in known and len(free) > 1):
            return True
    return False


def _points(
    values: _Values,
    axis: Axis,
    low: float,
    high: float,
    sides: Sequence[Mapping[Axis, float]],
) -> tuple[float, ...]:
    """Values of an axis, evenly spaced, between which a straight line is close enough."""
    many = 1
    while 2 * many < MOST_POINTS and not all(
        _straight(values, axis, (low, high), many, side) for side in sides
    ):
        many *= 2
    return tuple(low + (high - low) * number / many for number in range(many + 1))


def _straight(
    values: _Values,
    axis: Axis,
    bounds: tuple[float, float],
    many: int,
    side: Mapping[Axis, float],
) -> bool:
    low, high = bounds
    at = [low + (high - low) * number / (4 * many) for number in range(4 * many + 1)]
    found = [None if one is None else one[0] for one in _along(values, axis, at, side)]
    for first in range(0, 4 * many, 4):
        ends = found[first], found[first + 4]
        for step in (1, 2, 3):
            here = found[first + step]
            if ends[0] is None or ends[1] is None or here is None:
                continue
            if abs(ends[0] + (ends[1] - ends[0]) * step / 4 - here) > MAP_ERR_M:
                return False
    return True
