"""Which readings can be believed: those that are there, and within what the crane can do."""

from typing import Final

import numpy as np

from ropewright.geometry import Axis, Hoist, LuffingJib, TelescopicBoom
from ropewright.wear.model import Mask, Readings

BEYOND_M: Final = 1.0
"""How far beyond its limits, in metres or degrees, a reading is still believed; own assumption."""
FARTHEST_M: Final = 10_000.0
"""No crane goes farther; own assumption."""


def bounds_of(hoist: Hoist, axis: Axis) -> tuple[float, float]:
    """Lowest and highest reading of an axis that is believed.

    Parameters
    ----------
    hoist
        The hoist with its limits.
    axis
        The axis.

    Returns
    -------
    tuple of float
        In metres or degrees [-].
    """
    travel = hoist.travel
    limits = travel.range_of(axis)
    if limits is None:
        return -FARTHEST_M, FARTHEST_M
    low, high = limits
    if axis == "hook_m":
        low = min(low, travel.ground_m)
    return low - BEYOND_M, high + BEYOND_M


def out_of_reach(hoist: Hoist, readings: dict[Axis, Readings]) -> Mask | None:
    """Which radii a jib or boom cannot reach, where the radius stands for its angle.

    Parameters
    ----------
    hoist
        The hoist.
    readings
        The readings that are used, metres or degrees [-].
    """
    radius, frame = readings.get("radius_m"), hoist.reeving.frame
    if radius is None:
        return None
    if isinstance(frame, LuffingJib):
        beyond: Mask = np.abs(radius - frame.foot_radius_m) > frame.jib_m
        return beyond
    boom = readings.get("boom_m")
    if isinstance(frame, TelescopicBoom) and boom is not None:
        longer: Mask = np.abs(radius - frame.foot_radius_m) > np.abs(boom)
        return longer
    return None
