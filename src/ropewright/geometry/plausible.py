"""Can the crane have stood there: a reading is compared with ground, sheaves and jib."""

import math
from typing import Final

import numpy as np

from ropewright.errors import InputError
from ropewright.geometry.frames import DROP, JIB, LuffingJib, TelescopicBoom
from ropewright.geometry.hoist import Hoist
from ropewright.geometry.points import position_from_turns
from ropewright.geometry.position import CranePosition, CranePositions
from ropewright.geometry.reeving import path_table
from ropewright.geometry.rows import row_values

RADIUS_AGREES_M: Final = 1.0
"""How far radius and angle of a jib may disagree, beside 2 % of the radius; own assumption."""


def check_position(hoist: Hoist, position: CranePosition) -> None:
    """Refuse a crane position that cannot have been: the number that does not fit is named.

    Beyond a limit switch is allowed, since switches are bridged for a purpose; below the ground,
    above the sheaves, or a radius that contradicts the jib's angle is not.
    """
    at = position_from_turns(hoist, position)
    measures, known = hoist.reeving.frame.measures(CranePositions.one(at))
    slack = math.hypot(
        hoist.tolerances.hook_zero_m + abs(hoist.corrections.hook_zero_m), hoist.readings.hook_m
    )
    field = "position.hook_m" if position.drum_turns is None else "position.drum_turns"
    uses_hook = any(span.per_drop for span in hoist.reeving.spans)
    if uses_hook and at.hook_m is not None:
        given = at.hook_m if position.drum_turns is None else position.drum_turns
        if at.hook_m < hoist.travel.ground_m - slack:
            raise InputError(
                field=field,
                expected=f"a hook height of at least {hoist.travel.ground_m:g}, the ground",
                given=f"{given:g}" + ("" if given == at.hook_m else f" turns: {at.hook_m:.1f} m"),
            )
        drop = float(measures[DROP, 0])
        if known[DROP] and drop < -slack:
            raise InputError(
                field=field,
                expected=f"a hook height of at most {at.hook_m + drop:g}, where the block meets "
                "the sheaves above it",
                given=f"{given:g}" + ("" if given == at.hook_m else f" turns: {at.hook_m:.1f} m"),
            )
    _check_spans(hoist, at)
    _check_radius(hoist, at, float(measures[JIB, 0]) if known[JIB] else None)


def _check_spans(hoist: Hoist, at: CranePosition) -> None:
    """Refuse a trolley beyond the ends of its jib."""
    if at.radius_m is None:
        return
    measures, known = hoist.reeving.frame.measures(CranePositions.one(at))
    lengths = row_values(path_table(hoist.reeving).spans, measures, known)[:, 0]
    for span, length in zip(hoist.reeving.spans, lengths.tolist(), strict=True):
        if span.per_radius and length < -RADIUS_AGREES_M:
            word = "most" if span.per_radius < 0 else "least"
            raise InputError(
                f"rope '{span.name}' would be {length:.1f} m long",
                field="position.radius_m",
                expected=f"at {word} {at.radius_m - length / span.per_radius:g}",
                given=at.radius_m,
            )


def _check_radius(hoist: Hoist, at: CranePosition, jib_rad: float | None) -> None:
    """Compare a radius given beside the angle with what the jib makes of that angle."""
    frame = hoist.reeving.frame
    if at.radius_m is None or jib_rad is None:
        return
    if isinstance(frame, LuffingJib):
        arm = frame.jib_m
    elif isinstance(frame, TelescopicBoom) and at.boom_m is not None:
        arm = at.boom_m
    else:
        return
    reached = frame.foot_radius_m + arm * float(np.cos(jib_rad))
    if abs(reached - at.radius_m) > RADIUS_AGREES_M + 0.02 * abs(reached):
        raise InputError(
            field="position.radius_m",
            expected=f"about {reached:.1f}, as the angle given with it makes it",
            given=at.radius_m,
        )
