"""What each place where a person can be sees, for every travel of the crane."""

import itertools
import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Final

import numpy.typing as npt

from ropewright.geometry import (
    AXES,
    DRUM,
    DRUM_A,
    END_A,
    Axis,
    Carrier,
    CranePosition,
    CranePositions,
    Hoist,
    InspectionPoint,
    SeenAtPoint,
    covered_length,
    rope_past,
)
from ropewright.geometry.hoist import gradient
from ropewright.geometry.locate import path_m_of, position_err_m
from ropewright.geometry.points import point_rows, point_values
from ropewright.geometry.position import Floats
from ropewright.inspection import RiggedHoist, WorkPlace
from ropewright.plan.assumed import ROPE_M_PER_S
from ropewright.plan.model import View
from ropewright.plan.safe import direction_at
from ropewright.plan.travel import (
    ends_of,
    highest_hook_m,
    in_rope,
    position_words,
    run_words,
    travel_bounds,
)
from ropewright.plan.walkways import LEAST_M, walks_of
from ropewright.rope import PathMap

#: Where nobody stated a place, this one is looked at: near the drum, outside its guard, by eye.
AT_THE_DRUM: Final = WorkPlace(
    name="at the drum",
    point=InspectionPoint(name="at the drum", at=DRUM, side="before", offset_m=0.0),
    remark="outside the guard; own suggestion, no place is stated",
)
_WAY_OF: Final = "nobody stands on what moves, nor on jib or trolley during motion, except by the "


def places_of(rigged: RiggedHoist) -> tuple[WorkPlace, ...]:
    """The places stated, or the one at the drum."""
    known = {DRUM, DRUM_A, END_A, *(one.name for one in rigged.hoist.reeving.contacts)}
    spans = {one.name for one in rigged.hoist.reeving.spans}
    stated = tuple(
        one
        for one in rigged.rigging.points
        if (one.point is not None and one.point.at in known) or one.along in spans
    )
    return stated or (AT_THE_DRUM,)


def views_of(rigged: RiggedHoist, path: PathMap) -> tuple[View, ...]:
    """All views, of every place in every travel; the same rope twice is shown once.

    Raises
    ------
    InputError
        If a limit of the crane's travel is missing.
    """
    views: list[View] = []
    for place in places_of(rigged):
        found = _runs(rigged, place, path) if place.point else walks_of(rigged, place, path)
        views.extend(_without_repeats(found))
    return tuple(views)


def _without_repeats(views: Iterator[View]) -> list[View]:
    """Leave out a view that shows no rope beyond what another of the same place shows."""
    kept: list[View] = []
    for view in sorted(views, key=lambda one: -covered_length(one.sections)):
        inside = (
            all(any(have.contains(part) for have in other.sections) for part in view.sections)
            for other in kept
            if other.usable or not view.usable
        )
        if not any(inside):
            kept.append(view)
    return kept


def _runs(rigged: RiggedHoist, place: WorkPlace, path: PathMap) -> Iterator[View]:
    hoist, point = rigged.hoist, place.point
    if point is None:
        return
    for axis in hoist.reeving.axes:
        bounds = travel_bounds(hoist, axis)
        if bounds[0] == bounds[1]:
            continue
        others = [other for other in hoist.reeving.axes if other != axis]
        for corner in itertools.product(*(ends_of(hoist, other) for other in others)):
            held = CranePosition(**dict(zip(others, corner, strict=True)))
            bounds = travel_bounds(hoist, axis)
            if axis == "hook_m":
                bounds = (bounds[0], min(bounds[1], highest_hook_m(hoist, held)))
                if bounds[1] <= bounds[0]:
                    continue
            start, end = replace(held, **{axis: bounds[0]}), replace(held, **{axis: bounds[1]})
            past = rope_past(hoist, point, start, end)
            sections = in_rope(path, past.sections)
            if covered_length(sections) < LEAST_M:
                continue
            speed = _rope_speed(rigged, axis, past.rope_per_axis)
            why_not = _why_not_there(hoist, point)
            beside = "" if _is_loose(hoist, point, axis) else position_words(held)
            yield View(
                place=place.name,
                how="run",
                start=start,
                end=end,
                path=past.sections,
                sections=sections,
                travel=run_words(axis, start, end, beside),
                axis=axis,
                beside=beside,
                at_start_m=_in_front_m(hoist, point, start),
                at_end_m=_in_front_m(hoist, point, end),
                err_m=_err_m(hoist, point, start),
                rope_per_axis=past.rope_per_axis,
                rope_m_per_s=speed,
                minutes=covered_length(past.sections) / speed / 60,
                by_hand=place.by_hand,
                usable=not why_not,
                why_not=why_not,
                direction=direction_at(hoist, point, start, end, by_hand=place.by_hand),
            )


def _in_front_m(hoist: Hoist, point: InspectionPoint, position: CranePosition) -> float:
    return path_m_of(SeenAtPoint(point=point, position=position), hoist, hoist.corrections)


def in_front_m(
    hoist: Hoist, point: InspectionPoint, held: CranePosition, axis: Axis, values: Floats
) -> Floats:
    """Path positions [m] in front of a person for many values of one axis, the others held.

    Parameters
    ----------
    hoist
        The hoist as rigged now.
    point
        Where the person stands.
    held
        The other axes.
    axis
        The axis that moves.
    values
        Its values [m], or [deg] of an angle.

    Returns
    -------
    array
        One place for each value [m].
    """
    axes: dict[str, npt.ArrayLike] = {
        name: value for name in AXES if (value := held.value(name)) is not None
    }
    axes[axis] = values
    measures, known = hoist.reeving.frame.measures(CranePositions.of(**axes))
    return point_values(point_rows(hoist, point), measures, known).path_m


def _err_m(hoist: Hoist, point: InspectionPoint, position: CranePosition) -> float:
    """± of a place at a point [m]: what the set-up leaves open, and one reading."""
    seen = SeenAtPoint(point=point, position=position)
    slopes = gradient(lambda found: path_m_of(seen, hoist, found), hoist.corrections)
    return hoist.uncertainty().err_of(slopes) + math.hypot(
        position_err_m(seen, hoist), hoist.readings.point_m
    )


def _rope_speed(rigged: RiggedHoist, axis: Axis, rope_per_axis: float) -> float:
    """Rope speed at the point [m/s]: from the stated creep speed, else the usual one."""
    travel = rigged.rigging.travel
    creep = None if travel is None else travel.creep_m_per_s
    if axis == "hook_m" and creep:
        return creep * rope_per_axis
    return ROPE_M_PER_S


def _why_not_there(hoist: Hoist, point: InspectionPoint) -> str:
    carrier: Carrier
    if point.at in (DRUM, DRUM_A):
        return ""
    if point.at == END_A:
        carrier = hoist.reeving.end_a_on
        carrier = "jib" if carrier == "crane" else carrier
    else:
        carrier = hoist.reeving.contact(point.at).on
    return "" if carrier == "crane" else f"{_WAY_OF}maker's means (it lies at the {carrier})"


def _is_loose(hoist: Hoist, point: InspectionPoint, axis: Axis) -> bool:
    """Tell whether the held axes make no difference to what passes the point."""
    low, high = travel_bounds(hoist, axis)
    seen = None
    others = [other for other in hoist.reeving.axes if other != axis]
    for corner in itertools.product(*(ends_of(hoist, other) for other in others)):
        rest = CranePosition(**dict(zip(others, corner, strict=True)))
        past = rope_past(
            hoist, point, replace(rest, **{axis: low}), replace(rest, **{axis: high})
        ).sections
        rounded = [(round(one.from_m, 6), round(one.to_m, 6)) for one in past]
        if seen is not None and rounded != seen:
            return False
        seen = rounded
    return True
