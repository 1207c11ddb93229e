"""What each place where a person can be sees, for every travel of the crane."""

import itertools
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Final

import numpy as np
import numpy.typing as npt

from ropewright.errors import InputError
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
    Section,
    SeenAtPoint,
    Span,
    covered_length,
    rope_past,
    trace,
    union,
)
from ropewright.geometry.frames import DROP
from ropewright.geometry.hoist import gradient
from ropewright.geometry.locate import path_m_of, position_err_m
from ropewright.geometry.points import point_rows, point_values
from ropewright.geometry.position import Floats
from ropewright.inspection import RiggedHoist, WorkPlace
from ropewright.plan.assumed import ROPE_M_PER_S, WALK_M_PER_S
from ropewright.plan.model import View
from ropewright.plan.safe import direction_at
from ropewright.rope import PathMap

#: Where nobody stated a place, this one is looked at: near the drum, outside its guard, by eye.
AT_THE_DRUM: Final = WorkPlace(
    name="at the drum",
    point=InspectionPoint(name="at the drum", at=DRUM, side="before", offset_m=0.0),
    remark="outside the guard; own suggestion, no place is stated",
)
_LEAST_M: Final = 0.01
INSIDE_M: Final = 2.0
_UNITS: Final[Mapping[Axis, tuple[str, str]]] = {
    "hook_m": ("hook", "m"),
    "radius_m": ("trolley", "m"),
    "jib_deg": ("jib", "deg"),
    "boom_m": ("boom", "m"),
    "boom_deg": ("boom", "deg"),
}
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


def position_words(position: CranePosition, digits: int = 1) -> str:
    """A crane position in words, to so many digits: 'hook 23.4 m, trolley 58.0 m'."""
    said = []
    for axis, (name, unit) in _UNITS.items():
        value = position.value(axis)
        if value is not None:
            said.append(f"{name} {value:.{digits}f} {unit}")
    return ", ".join(said)


def in_rope(path: PathMap, sections: Sequence[Section]) -> tuple[Section, ...]:
    """Sections of today's path as rope positions; what is beyond the rope is left out."""
    found = []
    for section in sections:
        low, high = max(section.from_m, 0.0), min(section.to_m, path.length_m)
        if high > low:
            ends = sorted((path.to_rope_m(low), path.to_rope_m(high)))
            found.append(Section(*ends))
    return union(found)


def views_of(rigged: RiggedHoist, path: PathMap) -> tuple[View, ...]:
    """All views, of every place in every travel; the same rope twice is shown once.

    Raises
    ------
    InputError
        If a limit of the crane's travel is missing.
    """
    views: list[View] = []
    for place in places_of(rigged):
        found = _runs(rigged, place, path) if place.point else _walks(rigged, place, path)
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
        for corner in itertools.product(*(_ends(hoist, other) for other in others)):
            held = CranePosition(**dict(zip(others, corner, strict=True)))
            bounds = travel_bounds(hoist, axis)
            if axis == "hook_m":
                bounds = (bounds[0], min(bounds[1], highest_hook_m(hoist, held)))
                if bounds[1] <= bounds[0]:
                    continue
            start, end = replace(held, **{axis: bounds[0]}), replace(held, **{axis: bounds[1]})
            past = rope_past(hoist, point, start, end)
            sections = in_rope(path, past.sections)
            if covered_length(sections) < _LEAST_M:
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
        Its values [m or deg].

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


def axis_words(axis: Axis, low: float, high: float) -> str:
    """A range ``low`` [m or deg] to ``high`` [m or deg] of one axis: 'hook 48.7 to 51.0 m'."""
    name, unit = _UNITS[axis]
    return f"{name} {low:.1f} to {high:.1f} {unit}"


def _err_m(hoist: Hoist, point: InspectionPoint, position: CranePosition) -> float:
    """± of a place at a point [m]: what the set-up leaves open, and one reading."""
    seen = SeenAtPoint(point=point, position=position)
    slopes = gradient(lambda found: path_m_of(seen, hoist, found), hoist.corrections)
    return hoist.uncertainty().err_of(slopes) + math.hypot(
        position_err_m(seen, hoist), hoist.readings.point_m
    )


def travel_bounds(hoist: Hoist, axis: Axis) -> tuple[float, float]:
    """Both limits of an axis [m or deg]; an error where they are not stated.

    Returns
    -------
    tuple of float
        In metres or degrees as the axis' name says [-].
    """
    bounds = hoist.travel.range_of(axis)
    if bounds is None:
        name, unit = _UNITS[axis]
        raise InputError(
            field="rigging", expected=f"both limits of the {name} ({unit})", given=None
        )
    return bounds


def _ends(hoist: Hoist, axis: Axis) -> tuple[float, ...]:
    low, high = travel_bounds(hoist, axis)
    return (low,) if low == high else (low, high)


def highest_hook_m(hoist: Hoist, held: CranePosition) -> float:
    """How high the hook gets at given other axes before the block is right up.

    Returns
    -------
    float
        Above the zero of the hook readings [m]; infinite where nothing bounds it.
    """
    at = CranePositions.one(replace(held, hook_m=0.0))
    measures, known = hoist.reeving.frame.measures(at)
    if not known[DROP] or not any(span.per_drop for span in hoist.reeving.spans):
        return math.inf
    return float(measures[DROP, 0]) - hoist.travel.drop_min_m


def gets_there(hoist: Hoist, position: CranePosition) -> bool:
    """Whether the block leaves room for a position: the hook may be barred by the sheaves above."""
    hook = position.hook_m
    return hook is None or hook <= highest_hook_m(hoist, position) + 1e-9


def rests_of(hoist: Hoist, axis: Axis) -> tuple[float, ...]:
    """Values of an axis at which rope at rest is looked at: both ends of the travel.

    The hook also stops a little inside them, so that rope that lies on a sheave at the very end
    comes free.

    Returns
    -------
    tuple of float
        In metres or degrees as the axis' name says [-].
    """
    low, high = travel_bounds(hoist, axis)
    if axis != "hook_m" or high - low < 3 * INSIDE_M:
        return _ends(hoist, axis)
    return (low, low + INSIDE_M, high - INSIDE_M, high)


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


def run_words(axis: Axis, start: CranePosition, end: CranePosition, beside: str) -> str:
    """A run in words: 'hook 0.0 to 61.0 m, with trolley 2.5 m'."""
    name, unit = _UNITS[axis]
    words = f"{name} {start.value(axis) or 0.0:.1f} to {end.value(axis) or 0.0:.1f} {unit}"
    return f"{words}, with {beside}" if beside else words


def _is_loose(hoist: Hoist, point: InspectionPoint, axis: Axis) -> bool:
    """Tell whether the held axes make no difference to what passes the point."""
    low, high = travel_bounds(hoist, axis)
    seen = None
    others = [other for other in hoist.reeving.axes if other != axis]
    for corner in itertools.product(*(_ends(hoist, other) for other in others)):
        rest = CranePosition(**dict(zip(others, corner, strict=True)))
        past = rope_past(
            hoist, point, replace(rest, **{axis: low}), replace(rest, **{axis: high})
        ).sections
        rounded = [(round(one.from_m, 6), round(one.to_m, 6)) for one in past]
        if seen is not None and rounded != seen:
            return False
        seen = rounded
    return True


# --- Rope at rest that a person walks along ---------------------------------------------------


def _walks(rigged: RiggedHoist, place: WorkPlace, path: PathMap) -> Iterator[View]:
    hoist = rigged.hoist
    axes = hoist.reeving.axes
    for corner in itertools.product(*(rests_of(hoist, axis) for axis in axes)):
        position = CranePosition(**dict(zip(axes, corner, strict=True)))
        if not gets_there(hoist, position):
            continue
        section = free_run(hoist, place.along, position)
        sections = in_rope(path, [section] if section else [])
        if section is None or covered_length(sections) < _LEAST_M:
            continue
        yield View(
            place=place.name,
            how="walk",
            start=position,
            end=position,
            path=(section,),
            sections=sections,
            travel=f"nothing moves; {position_words(position)}",
            minutes=section.length_m / WALK_M_PER_S / 60,
            by_hand=place.by_hand,
        )


def free_run(hoist: Hoist, span: str, position: CranePosition) -> Section | None:
    """The free rope in which a span lies, from the contact before it to the one after it.

    None where it has no length or an axis is not known.
    """
    found = trace(hoist, CranePositions.one(position))
    before = -1
    for element in hoist.reeving.elements:
        if not isinstance(element, Span):
            before += 1
        elif element.name == span:
            break
    start = float(found.base_m[0]) if before < 0 else float(found.end_m[before][0])
    last = before + 1 == len(found.contacts)
    end = float(found.out_m[0]) if last else float(found.start_m[before + 1][0])
    if np.isnan(start) or np.isnan(end) or end <= start:
        return None
    return Section(start, end)
