"""What would help: which measurement would narrow the ± of a place most, and by how much."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from ropewright.errors import InputError
from ropewright.geometry.drum import drum_wraps
from ropewright.geometry.hoist import Hoist, Spread, gradient
from ropewright.geometry.locate import path_m_of
from ropewright.geometry.observations import (
    AT_DRUM,
    LayerChanged,
    MarkPassed,
    Observation,
    WrapsCounted,
    observation_err_m,
    observed_minus_computed_m,
)
from ropewright.geometry.place import PathPlace
from ropewright.geometry.points import axes_of, hook_for, point_rows
from ropewright.geometry.position import Axis, CranePosition, CranePositions, Floats
from ropewright.geometry.rows import PARAMETERS
from ropewright.geometry.sighting import SeenAtPoint, Sighting

# How well each number can be measured at the crane, ± with about 95 % certainty; own assumptions.
MEASURED: Final[dict[str, tuple[float, str]]] = {
    "hook_zero_m": (0.05, "tape the hook's height once and compare it with the reading"),
    "anchor_side_m": (0.05, "tape the rope from end A to the first sheave"),
    "lead_m": (0.1, "tape the rope from the last fall's sheave to the drum"),
    "rope_m": (0.1, "measure the rope's length when it is off the drum"),
    "barrel_mm": (0.5, "measure the barrel's diameter at the groove bottom"),
    "rise_mm": (0.2, "measure the diameter over the full layers"),
    "wraps": (0.05, "count the wraps of a full layer"),
}

_LEAST_GAIN_M: Final = 0.005
_COUNT_TURNS: Final = 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class Help:
    """One measurement that would narrow a place's ±: from ``now_m`` to ``then_m``."""

    what: str
    now_m: float
    then_m: float

    @property
    def gain_m(self) -> float:
        """By how much the ± would shrink [m]."""
        return self.now_m - self.then_m


def what_would_help(sighting: Sighting, hoist: Hoist) -> tuple[Help, ...]:
    """Measurements that would narrow the ± of a place, the best first.

    Parameters
    ----------
    sighting
        The place asked about.
    hoist
        The hoist as known now.

    Returns
    -------
    tuple of Help
        Each taken alone [m]; those that gain less than 5 mm are left out.
    """
    slopes = gradient(lambda found: path_m_of(sighting, hoist, found), hoist.corrections)
    known = hoist.uncertainty()
    now = known.err_of(slopes)
    helps = []
    for what, row, err in _measurements(sighting, hoist):
        then = _after(known, row, err).err_of(slopes)
        helps.append(Help(what=what, now_m=now, then_m=then))
    worth = [help_ for help_ in helps if help_.gain_m >= _LEAST_GAIN_M]
    return tuple(sorted(worth, key=lambda help_: (help_.then_m, help_.what)))


def _after(known: Spread, row: Floats, err: float) -> Spread:
    """Return what is known after one more measurement of a sum of the corrections."""
    before = known.matrix
    reach = before @ row
    variance = float(row @ reach) + (err / 2) ** 2
    if variance <= 0:
        return known
    return Spread.from_matrix(before - np.outer(reach, reach) / variance)


def _measurements(sighting: Sighting, hoist: Hoist) -> Iterator[tuple[str, Floats, float]]:
    """Yield words, gradient and ± of each measurement that could be made."""
    for number, name in enumerate(PARAMETERS):
        if hoist.uncertainty().matrix[number, number] > 0:
            err, what = MEASURED[name]
            yield what, np.eye(len(PARAMETERS))[number], err
    for what, observation in _observable(sighting, hoist):
        yield what, _row(observation, hoist), observation_err_m(observation, hoist)
    if hoist.rope_m is None or hoist.drum is None:
        yield from _rope_and_wraps(hoist)


def _row(observation: Observation, hoist: Hoist) -> Floats:
    return gradient(
        lambda found: observed_minus_computed_m(observation, hoist, found), hoist.corrections
    )


def _observable(sighting: Sighting, hoist: Hoist) -> Iterator[tuple[str, Observation]]:
    lowest = _lowest(hoist)
    if hoist.rope_m is not None and hoist.drum is not None and lowest is not None:
        yield from _drum_observations(hoist, lowest)
    if isinstance(sighting, SeenAtPoint):
        tape = hoist.readings.tape_m + hoist.readings.tape_share * 30
        yield (
            "see a mark, taped from end A, pass this point",
            MarkPassed(
                name="mark",
                position=sighting.position,
                point=sighting.point,
                mark=PathPlace(at_m=path_m_of(sighting, hoist, hoist.corrections), abs_err_m=tape),
            ),
        )


def _lowest(hoist: Hoist) -> CranePosition | None:
    """Return the lowest hook position, other axes in the middle; none if not bounded."""
    values: dict[Axis, float] = {}
    for axis in axes_of(hoist, hoist.rows().out):
        bounds = hoist.travel.range_of(axis)
        if bounds is None:
            return None
        values[axis] = bounds[0] if axis == "hook_m" else sum(bounds) / 2
    return CranePosition(**values) if values else None


def _drum_observations(hoist: Hoist, lowest: CranePosition) -> Iterator[tuple[str, Observation]]:
    drum = hoist.wound_drum()
    length = hoist.rope_length_m()
    outside = path_m_of(SeenAtPoint(point=AT_DRUM, position=lowest), hoist, hoist.corrections)
    try:
        place = drum_wraps(drum, length - outside)
    except InputError:  # the numbers as known do not agree so far: no wraps to name
        return
    layer = int(place.layer[0])
    on_layer = length - outside - (0.0, *drum.layer_ends_m)[layer - 1]
    yield (
        "count the wraps on the drum with the hook at its lowest",
        WrapsCounted(
            name="wraps",
            position=lowest,
            layer=layer,
            wraps=on_layer / drum.turn_m[layer - 1],
            err_turns=_COUNT_TURNS,
        ),
    )
    if lowest.hook_m is None:
        return
    row = point_rows(hoist, AT_DRUM).here
    for number, edge in enumerate(drum.layer_ends_m[:-1], start=1):
        others = CranePositions.one(lowest)
        hook = float(hook_for(hoist, row, np.array([length - edge]), others)[0])
        bounds = hoist.travel.range_of("hook_m")
        if bounds is not None and bounds[0] <= hook <= bounds[1]:
            yield (
                f"note the hook height at which layer {number} is full (about {hook:.1f} m)",
                LayerChanged(name="layer", position=replace(lowest, hook_m=hook), layer=number),
            )


def _rope_and_wraps(hoist: Hoist) -> Iterator[tuple[str, Floats, float]]:
    """Yield what rope length, drum and wraps left at the lowest hook would tell together."""
    lowest = _lowest(hoist)
    if lowest is None:
        return
    seen = SeenAtPoint(point=AT_DRUM, position=lowest)
    row = gradient(lambda found: path_m_of(seen, hoist, found), hoist.corrections)
    outside = path_m_of(seen, hoist, hoist.corrections)
    length = 1.1 * outside if hoist.rope_m is None else hoist.rope_m
    yield (
        "give the rope's length, the drum, and the wraps on it with the hook at its lowest",
        row,
        float(np.hypot(0.005 * length, 0.5)),
    )
