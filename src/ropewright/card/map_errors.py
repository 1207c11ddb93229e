"""The two errors of a place map: worked out at few points, read in straight lines between them."""

import bisect
import itertools
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from ropewright.card.free_runs import free_runs
from ropewright.geometry import Axis, CranePosition, CranePositions, Hoist, SeenAtPoint
from ropewright.geometry.hoist import gradient
from ropewright.geometry.locate import path_m_of, position_err_m
from ropewright.inspection import WorkPlace

_STEP: Final = 1e-4
_FEW: Final = 2
_ANGLES: Final = 4  # an angle's errors bend more


@dataclass(frozen=True, slots=True, kw_only=True)
class MapAxis:
    """One axis of the crane; ``at`` [m] or [deg] are the values at which the map has points."""

    axis: Axis
    at: tuple[float, ...]


def place_errors(
    hoist: Hoist, place: WorkPlace, axes: Sequence[MapAxis], middle: Mapping[Axis, float]
) -> list[tuple[float, float]]:
    """Both errors [m] at every point of a map, the last axis running fastest.

    Parameters
    ----------
    hoist
        The hoist.
    place
        Where the person is.
    axes
        The axes of the map with all their points.
    middle
        Every axis of the crane in the middle of its travel [m] or [deg].
    """
    few = [_few(one) for one in axes]
    known: dict[tuple[float, ...], tuple[float, float]] = {}
    for node in itertools.product(*few):
        values = dict(middle) | dict(zip((one.axis for one in axes), node, strict=True))
        known[node] = _errors(hoist, place, CranePosition(**values))
    return [_read(known, few, node) for node in itertools.product(*(one.at for one in axes))]


def _few(one: MapAxis) -> tuple[float, ...]:
    many = _ANGLES if one.axis.endswith("_deg") else _FEW
    if len(one.at) <= many + 1:
        return one.at
    low, high = one.at[0], one.at[-1]
    return tuple(low + (high - low) * number / many for number in range(many + 1))


def _read(
    known: Mapping[tuple[float, ...], tuple[float, float]],
    few: Sequence[Sequence[float]],
    node: Sequence[float],
) -> tuple[float, float]:
    corners: list[tuple[tuple[float, ...], float]] = [((), 1.0)]
    for at, value in zip(few, node, strict=True):
        cell = min(max(bisect.bisect_right(at, value) - 1, 0), len(at) - 2)
        share = (value - at[cell]) / (at[cell + 1] - at[cell])
        corners = [
            ((*corner, at[cell + step]), weight * part)
            for corner, weight in corners
            for step, part in ((0, 1 - share), (1, share))
        ]
    first = sum(known[corner][0] * weight for corner, weight in corners)
    second = sum(known[corner][1] * weight for corner, weight in corners)
    return first, second


def _errors(hoist: Hoist, place: WorkPlace, position: CranePosition) -> tuple[float, float]:
    """Both errors [m] of a place at a point; on a free run those of its beginning."""
    if place.point is None:
        return _run_errors(hoist, place.along, position)
    seen = SeenAtPoint(point=place.point, position=position)
    slopes = gradient(lambda found: path_m_of(seen, hoist, found), hoist.corrections)
    reading = math.hypot(position_err_m(seen, hoist), hoist.readings.point_m)
    return hoist.uncertainty().err_of(slopes), reading


def _run_errors(hoist: Hoist, span: str, position: CranePosition) -> tuple[float, float]:
    here = _start(hoist, span, position)
    if here is None:
        return 0.0, hoist.readings.point_m

    def start(found: Hoist, at: CranePosition) -> float:
        begins = _start(found, span, at)
        return here if begins is None else begins

    slopes = gradient(
        lambda found: start(replace(hoist, corrections=found), position), hoist.corrections
    )
    parts = [hoist.readings.point_m]
    for axis in hoist.reeving.axes:
        value = position.value(axis)
        if value is not None:
            moved = replace(position, **{axis: value + _STEP})
            slope = (start(hoist, moved) - here) / _STEP
            parts.append(slope * float(getattr(hoist.readings, axis)))
    return hoist.uncertainty().err_of(slopes), math.hypot(*parts)


def _start(hoist: Hoist, span: str, position: CranePosition) -> float | None:
    found = free_runs(hoist, span, CranePositions.one(position))[0]
    return None if found is None else found.from_m
