"""What can be observed to calibrate a hoist: wraps counted, layer changes, a mark passing."""

import math
from dataclasses import dataclass, replace
from typing import TypeAlias

import numpy as np

from ropewright.errors import InputError
from ropewright.geometry.drum import Drum
from ropewright.geometry.hoist import Hoist
from ropewright.geometry.locate import path_m_of, position_err_m
from ropewright.geometry.place import PathPlace
from ropewright.geometry.points import InspectionPoint
from ropewright.geometry.position import CranePosition, check_not_negative
from ropewright.geometry.reeving import DRUM
from ropewright.geometry.rows import Corrections
from ropewright.geometry.sighting import SeenAtPoint


@dataclass(frozen=True, slots=True, kw_only=True)
class WrapsCounted:
    """So many wraps [wraps] lie on a layer, the fullest one, with the crane at a position.

    ``err_turns`` [turns] is how well that was counted, parts of a turn included; ``longer_m`` by
    how much the rope was longer then than it is now.
    """

    name: str
    position: CranePosition
    layer: int
    wraps: float
    err_turns: float = 0.1
    longer_m: float = 0.0

    def __post_init__(self) -> None:
        check_not_negative(f"{self.name}.wraps", self.wraps)
        check_not_negative(f"{self.name}.err_turns", self.err_turns)


@dataclass(frozen=True, slots=True, kw_only=True)
class LayerChanged:
    """The rope climbs from ``layer`` to the next, or comes down to it, at a crane position.

    ``err_turns`` [turns] is how well the moment was seen; ``longer_m`` by how much the rope was
    longer then than it is now.
    """

    name: str
    position: CranePosition
    layer: int
    err_turns: float = 0.25
    longer_m: float = 0.0

    def __post_init__(self) -> None:
        check_not_negative(f"{self.name}.err_turns", self.err_turns)


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkPassed:
    """A mark whose place is known passes an inspection point at a crane position.

    ``longer_m`` is by how much the rope was longer then than it is now.
    """

    name: str
    position: CranePosition
    point: InspectionPoint
    mark: PathPlace
    longer_m: float = 0.0


Observation: TypeAlias = WrapsCounted | LayerChanged | MarkPassed

AT_DRUM = InspectionPoint(name="drum", at=DRUM)


def check_observation(observation: Observation, hoist: Hoist) -> None:
    """Refuse an observation that the hoist as described cannot show at all; it is named."""
    if isinstance(observation, MarkPassed):
        return
    drum = hoist.wound_drum()
    last = drum.layers - isinstance(observation, LayerChanged)
    if not 1 <= observation.layer <= last:
        raise InputError(
            field=f"{observation.name}.layer",
            expected=f"from 1 to {last}" if last else "a drum of several layers",
            given=observation.layer,
        )
    if isinstance(observation, WrapsCounted):
        most = drum.wraps[observation.layer - 1] + 2
        if observation.wraps > most:
            raise InputError(
                field=f"{observation.name}.wraps",
                expected=f"at most about {drum.wraps[observation.layer - 1]:g} on layer "
                f"{observation.layer}",
                given=observation.wraps,
            )


def observed_minus_computed_m(
    observation: Observation, hoist: Hoist, corrections: Corrections
) -> float:
    """By how much rope an observation and the corrected hoist disagree.

    Returns
    -------
    float
        The disagreement [m].
    """
    then = corrections
    if observation.longer_m:
        then = replace(corrections, rope_m=corrections.rope_m + observation.longer_m)
    outside = path_m_of(_at_point(observation), hoist, then)
    if isinstance(observation, MarkPassed):
        return observation.mark.at_m - outside
    wound = hoist.rope_length_m(then) - outside
    return _wound_m(observation, hoist.wound_drum(corrections)) - wound


def _wound_m(observation: WrapsCounted | LayerChanged, drum: Drum) -> float:
    before = (0.0, *drum.layer_ends_m)
    if isinstance(observation, LayerChanged):
        return before[observation.layer]
    return before[observation.layer - 1] + observation.wraps * drum.turn_m[observation.layer - 1]


def _at_point(observation: Observation) -> SeenAtPoint:
    point = observation.point if isinstance(observation, MarkPassed) else AT_DRUM
    return SeenAtPoint(point=point, position=observation.position)


def observation_err_m(observation: Observation, hoist: Hoist) -> float:
    """± of an observation as such, in metres of rope: count, reading, mark.

    Returns
    -------
    float
        About 95 % certain [m].
    """
    reading = position_err_m(_at_point(observation), hoist)
    if isinstance(observation, MarkPassed):
        mark = math.hypot(observation.mark.abs_err_m, observation.mark.rel_err_m)
        return float(np.hypot(reading, np.hypot(mark, hoist.readings.point_m)))
    turn = hoist.wound_drum().turn_m[observation.layer - 1]
    return math.hypot(reading, observation.err_turns * turn)
