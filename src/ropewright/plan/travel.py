"""The crane's travel as a plan needs it: limits of each axis, what bars the hook, and the words."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Final

from ropewright.errors import InputError
from ropewright.geometry import Axis, CranePosition, CranePositions, Hoist, Section, union
from ropewright.geometry.frames import DROP
from ropewright.rope import PathMap

_UNITS: Final[Mapping[Axis, tuple[str, str]]] = {
    "hook_m": ("hook", "m"),
    "radius_m": ("trolley", "m"),
    "jib_deg": ("jib", "deg"),
    "boom_m": ("boom", "m"),
    "boom_deg": ("boom", "deg"),
}


def position_words(position: CranePosition, digits: int = 1) -> str:
    """A crane position in words, to so many digits: 'hook 23.4 m, trolley 58.0 m'."""
    said = []
    for axis, (name, unit) in _UNITS.items():
        value = position.value(axis)
        if value is not None:
            said.append(f"{name} {value:.{digits}f} {unit}")
    return ", ".join(said)


def axis_words(axis: Axis, low: float, high: float) -> str:
    """A range ``low`` [m] to ``high`` [m] of one axis, [deg] of an angle: 'hook 0.0 to 9.0 m'."""
    name, unit = _UNITS[axis]
    return f"{name} {low:.1f} to {high:.1f} {unit}"


def run_words(axis: Axis, start: CranePosition, end: CranePosition, beside: str) -> str:
    """A run in words: 'hook 0.0 to 61.0 m, with trolley 2.5 m'."""
    name, unit = _UNITS[axis]
    words = f"{name} {start.value(axis) or 0.0:.1f} to {end.value(axis) or 0.0:.1f} {unit}"
    return f"{words}, with {beside}" if beside else words


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


def ends_of(hoist: Hoist, axis: Axis) -> tuple[float, ...]:
    """Both limits of an axis, or the one value it can take.

    Returns
    -------
    tuple of float
        In metres or degrees as the axis' name says [-].
    """
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


def in_rope(path: PathMap, sections: Sequence[Section]) -> tuple[Section, ...]:
    """Sections of today's path as rope positions; what is beyond the rope is left out."""
    found = []
    for section in sections:
        low, high = max(section.from_m, 0.0), min(section.to_m, path.length_m)
        if high > low:
            ends = sorted((path.to_rope_m(low), path.to_rope_m(high)))
            found.append(Section(*ends))
    return union(found)
