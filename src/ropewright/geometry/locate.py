"""From what a person reports to a place on the path, with its two errors."""

import math
from dataclasses import dataclass, replace

import numpy as np

from ropewright.errors import InputError
from ropewright.geometry.drum import drum_metres, drum_wraps, wrap_from_flange
from ropewright.geometry.hoist import Hoist, gradient
from ropewright.geometry.place import DrumPlace, PathPlace
from ropewright.geometry.plausible import check_position
from ropewright.geometry.points import axes_of, point_rows, point_values, position_from_turns
from ropewright.geometry.position import AXES, AXIS_WORDS, CranePosition, CranePositions, Floats
from ropewright.geometry.rows import Corrections, row_values
from ropewright.geometry.sighting import (
    DrumSide,
    SeenAtPoint,
    SeenFromEnd,
    SeenFromMark,
    SeenOnDrum,
    Sighting,
)

_UNREAD_PART_TURNS = 0.5  # a place somewhere in a wrap: its middle, give or take half a turn


def locate(sighting: Sighting, hoist: Hoist) -> PathPlace:
    """The place on today's path that a sighting means.

    ``abs_err_m`` is what the set-up's numbers leave open, the same for all places of a pass;
    ``rel_err_m`` is what this one reading leaves open.  Both are ± with about 95 % certainty.

    Parameters
    ----------
    sighting
        At an inspection point, on the drum, from a mark or from an end.
    hoist
        The hoist as rigged on that day.

    Returns
    -------
    PathPlace
        In [m] from where the rope leaves end A's fitting.

    Raises
    ------
    InputError
        If a number is missing or impossible; it names which.
    """
    at_m = path_m_of(sighting, hoist, hoist.corrections)
    length = hoist.rope_m
    known = hoist.uncertainty()
    slopes = gradient(lambda found: path_m_of(sighting, hoist, found), hoist.corrections)
    abs_err = known.err_of(slopes)
    if isinstance(sighting, SeenFromMark):
        abs_err = sighting.mark.abs_err_m
    if isinstance(sighting, SeenFromEnd):
        abs_err = math.hypot(abs_err, hoist.readings.tape_share * sighting.tape_m)
    if isinstance(sighting, SeenAtPoint):
        check_position(hoist, sighting.position)
        _check_free(sighting, hoist, slack_m=abs_err)
    rel_err = _reading_err(sighting, hoist)
    if length is not None and not -1e-6 <= at_m <= hoist.rope_length_m() + abs_err + rel_err:
        raise InputError(
            field="sighting",
            expected=f"a place on the rope, from 0 to {length:g} m",
            given=f"{at_m:.3f} m",
        )
    return PathPlace(at_m=at_m, abs_err_m=abs_err, rel_err_m=rel_err)


def path_m_of(sighting: Sighting, hoist: Hoist, corrections: Corrections) -> float:
    """The path position that a sighting means under given corrections.

    Returns
    -------
    float
        From where the rope leaves end A's fitting [m].
    """
    if isinstance(sighting, SeenAtPoint):
        return _at_point(sighting, hoist, corrections)
    if isinstance(sighting, SeenOnDrum):
        on_drum = _on_drum_m(sighting, hoist, corrections)
        if sighting.side == "A":
            return on_drum
        return hoist.rope_length_m(corrections) - on_drum
    if isinstance(sighting, SeenFromMark):
        return sighting.mark.at_m + sighting.offset_m
    if sighting.end == "A":
        return sighting.tape_m
    return hoist.rope_length_m(corrections) - sighting.tape_m


def _at_point(sighting: SeenAtPoint, hoist: Hoist, corrections: Corrections) -> float:
    position = position_from_turns(hoist, sighting.position, corrections)
    rows = point_rows(hoist, sighting.point, corrections)
    measures, known = hoist.reeving.frame.measures(CranePositions.one(position))
    value = float(point_values(rows, measures, known).path_m[0])
    if math.isnan(value):
        raise _missing_axis(hoist, rows.here, position)
    return value


def _missing_axis(hoist: Hoist, row: Floats, position: CranePosition) -> InputError:
    missing = [axis for axis in axes_of(hoist, row) if position.value(axis) is None]
    words = " and ".join(AXIS_WORDS[axis] for axis in missing)
    return InputError(
        field=f"position.{missing[0]}",
        expected=f"{words}: the place depends on it",
        given=None,
    )


def _check_free(sighting: SeenAtPoint, hoist: Hoist, *, slack_m: float) -> None:
    """Refuse a point that the neighbouring contact has already passed."""
    position = position_from_turns(hoist, sighting.position)
    rows = point_rows(hoist, sighting.point)
    measures, known = hoist.reeving.frame.measures(CranePositions.one(position))
    values = point_values(rows, measures, known)
    sides = (
        (float(values.to_before_m[0]), rows.before_name),
        (float(values.to_after_m[0]), rows.after_name),
    )
    for gap, name in sides:
        if gap < -slack_m - 1e-9:
            raise InputError(
                field="sighting",
                expected=f"a crane position at which '{sighting.point.name}' lies on free rope",
                given=f"one at which it lies {-gap:.3f} m beyond the {name}",
            )


def _on_drum_m(sighting: SeenOnDrum, hoist: Hoist, corrections: Corrections) -> float:
    """Return rope from the clamp; wraps as typed, lengths as corrected."""
    if sighting.side == "A" and hoist.reeving.end_a != "drum":
        raise InputError(
            field="side", expected="B: end A is not on a drum here", given=sighting.side
        )
    drum = hoist.wound_drum(corrections)
    typed = hoist.wound_drum()
    wrap = sighting.wrap
    if sighting.flange is not None:
        wrap = wrap_from_flange(typed, layer=sighting.layer, wrap=wrap, flange=sighting.flange)
    if sighting.part is None:
        start = _start_part(drum.wraps, sighting.layer)
        part = (start + _UNREAD_PART_TURNS) % 1.0
    else:
        part = sighting.part
    return float(drum_metres(drum, layer=sighting.layer, wrap=wrap, part=part)[0])


def _start_part(wraps: tuple[float, ...], layer: int) -> float:
    return math.fsum(wraps[: layer - 1]) % 1.0


def _reading_err(sighting: Sighting, hoist: Hoist) -> float:
    readings = hoist.readings
    if isinstance(sighting, SeenFromMark):
        tape = readings.tape_m + readings.tape_share * abs(sighting.offset_m)
        return math.hypot(sighting.mark.rel_err_m, tape)
    if isinstance(sighting, SeenFromEnd):
        return readings.tape_m
    if isinstance(sighting, SeenOnDrum):
        drum = hoist.wound_drum()
        part = _UNREAD_PART_TURNS if sighting.part is None else readings.part_of_turn
        return part * drum.turn_m[sighting.layer - 1]
    return math.hypot(position_err_m(sighting, hoist), readings.point_m)


def position_err_m(sighting: SeenAtPoint, hoist: Hoist) -> float:
    """± of a place at a point from how exactly the crane's position was read.

    Returns
    -------
    float
        Metres of rope [m].
    """
    parts = []
    for name in (*AXES, "drum_turns"):
        value = getattr(sighting.position, name)
        if value is None:
            continue
        step = 1e-4
        up = replace(sighting, position=replace(sighting.position, **{name: value + step}))
        slope = (
            _at_point(up, hoist, hoist.corrections) - _at_point(sighting, hoist, hoist.corrections)
        ) / step
        parts.append(slope * getattr(hoist.readings, name))
    return math.hypot(*parts)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceOnDrum:
    """Where a place of the path lies when it is wound on: ``part`` [turns] from the clamp's line.

    ``wrap`` counts in rope order, ``wrap_from_clamp`` and ``wrap_from_far`` from the two flanges.
    """

    place: DrumPlace
    side: DrumSide
    layer: int
    wrap: int
    wrap_from_clamp: int
    wrap_from_far: int
    part: float


def on_drum(place: PathPlace, hoist: Hoist) -> PlaceOnDrum:
    """Layer, wrap and part of turn of a place once it is wound onto the drum.

    Parameters
    ----------
    place
        On today's path.
    hoist
        The hoist; its rope length and drum must be known.

    Raises
    ------
    InputError
        If the place never comes to lie on the drum's described layers.
    """
    length = hoist.rope_length_m()
    drum = hoist.wound_drum()
    side: DrumSide = "B"
    if hoist.reeving.end_a == "drum" and place.at_m < length / 2:
        side = "A"

    def from_clamp(found: Corrections) -> float:
        if side == "A":
            return place.at_m
        return hoist.rope_length_m(found) - place.at_m

    metres = from_clamp(hoist.corrections)
    found = drum_wraps(drum, metres)
    layer, wrap, part = int(found.layer[0]), int(found.wrap[0]), float(found.part[0])
    own_err = hoist.uncertainty().err_of(gradient(from_clamp, hoist.corrections))
    return PlaceOnDrum(
        place=DrumPlace(
            at_m=metres,
            abs_err_m=math.hypot(place.abs_err_m, own_err),
            rel_err_m=place.rel_err_m,
        ),
        side=side,
        layer=layer,
        wrap=wrap,
        wrap_from_clamp=wrap_from_flange(drum, layer=layer, wrap=wrap, flange="clamp"),
        wrap_from_far=wrap_from_flange(drum, layer=layer, wrap=wrap, flange="far"),
        part=part,
    )


def on_drum_now(place: PathPlace, hoist: Hoist, position: CranePosition) -> bool:
    """Whether a place lies on the drum with the crane at a position."""
    at = position_from_turns(hoist, position)
    measures, known = hoist.reeving.frame.measures(CranePositions.one(at))
    rows = hoist.rows()
    first, last = row_values(np.vstack([rows.base, rows.out]), measures, known)[:, 0]
    if math.isnan(first) or math.isnan(last):
        raise _missing_axis(hoist, rows.out, at)
    on_a = hoist.reeving.end_a == "drum" and place.at_m <= first
    return bool(place.at_m >= last or on_a)
