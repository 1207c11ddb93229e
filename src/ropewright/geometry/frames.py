"""How a crane position gives the few measures that the rope's path is made of.

Every span and every arc of the path is a sum of fixed lengths and multiples of a few measures
of the crane's position.  A frame turns positions into these measures, one row each:

====  =========  ==================================================================
row   name       meaning
====  =========  ==================================================================
0     ONE        1, for everything that does not change
1     DROP       from the centre of the upper sheaves down to that of the hook sheaves [m]
2     RADIUS     radius of the trolley [m]
3     BOOM       length of the telescopic boom, foot pin to head sheave [m]
4     TIE        length of the straight run from the jib to the A-frame [m]
5     JIB        angle of jib or boom above the horizontal [rad]
6     TIE_DIR    direction of the run from the jib to the A-frame [rad]
====  =========  ==================================================================
"""

import math
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, TypeAlias

import numpy as np
import numpy.typing as npt

from ropewright.errors import InputError
from ropewright.geometry.position import (
    Axis,
    CranePositions,
    Floats,
    check_finite,
    check_not_negative,
    check_positive,
)

ONE, DROP, RADIUS, BOOM, TIE, JIB, TIE_DIR = range(7)
MEASURES: Final = 7

Known: TypeAlias = npt.NDArray[np.bool_]


def _empty(at: CranePositions) -> tuple[Floats, Known]:
    measures = np.zeros((MEASURES, len(at)), dtype=np.float64)
    measures[ONE] = 1.0
    known = np.zeros(MEASURES, dtype=np.bool_)
    known[ONE] = True
    return measures, known


def _angle_from_radius(radius: Floats, foot: float, arm: Floats | float) -> Floats:
    """Return the angle [rad] at which an arm reaches a radius."""
    share = (radius - foot) / arm
    if np.any(np.abs(share) > 1):
        worst = int(np.argmax(np.abs(share)))
        longest = float(np.max(np.broadcast_to(arm, radius.shape)))
        raise InputError(
            field="radius_m",
            expected=f"a radius that the jib reaches, at most {foot + longest:g}",
            given=float(radius[worst]),
        )
    return np.arccos(share)


@dataclass(frozen=True, slots=True, kw_only=True)
class LevelTrack:
    """Upper sheaves that stay at one height: on a trolley, at a bridge crane's crab.

    ``sheave_height_m`` is the height of their centres above the zero of the hook readings,
    ``hook_below_m`` how far the hook hangs below the centre of the hook sheaves.
    """

    sheave_height_m: float
    hook_below_m: float = 0.0

    def __post_init__(self) -> None:
        check_finite("sheave_height_m", self.sheave_height_m)
        check_not_negative("hook_below_m", self.hook_below_m)

    @property
    def needs(self) -> MappingProxyType[int, tuple[Axis, ...]]:
        """Which axes each measure is made from."""
        return MappingProxyType({DROP: ("hook_m",), RADIUS: ("radius_m",)})

    def measures(self, at: CranePositions) -> tuple[Floats, Known]:
        """Measures of many positions.

        Returns
        -------
        tuple of arrays
            One row per measure in [m] or [rad], and which rows are known.
        """
        measures, known = _empty(at)
        if at.hook_m is not None:
            np.subtract(self.sheave_height_m - self.hook_below_m, at.hook_m, out=measures[DROP])
            known[DROP] = True
        if at.radius_m is not None:
            measures[RADIUS] = at.radius_m
            known[RADIUS] = True
        return measures, known


@dataclass(frozen=True, slots=True, kw_only=True)
class LuffingJib:
    """A jib that luffs about its foot pin and is held from an A-frame behind it.

    ``foot_radius_m`` and ``foot_height_m`` place the foot pin from the slewing axis and above
    the zero of the hook readings; ``a_frame_back_m`` and ``a_frame_up_m`` place the centre of
    the A-frame's sheaves behind and above the foot pin.  ``tie_at_m`` is how far along the jib
    the run to the A-frame begins (the head, if not given).  ``tie_offset_m`` is how much farther
    the centre at the A-frame lies to the left of the run than the centre at the jib, seen along
    the rope from the jib: the difference of the two radii where both sheaves turn it left.
    """

    jib_m: float
    foot_height_m: float
    a_frame_back_m: float
    a_frame_up_m: float
    foot_radius_m: float = 0.0
    hook_below_m: float = 0.0
    tie_at_m: float | None = None
    tie_offset_m: float = 0.0

    def __post_init__(self) -> None:
        check_positive("jib_m", self.jib_m)
        check_positive("tie_at_m", self.tie_at_m)
        check_positive("a_frame_up_m", self.a_frame_up_m)
        check_not_negative("hook_below_m", self.hook_below_m)
        for name in ("foot_height_m", "a_frame_back_m", "foot_radius_m", "tie_offset_m"):
            check_finite(name, getattr(self, name))
        if self.tie_at_m is not None and self.tie_at_m > self.jib_m:
            raise InputError(
                field="tie_at_m", expected=f"at most jib_m, {self.jib_m:g}", given=self.tie_at_m
            )

    def jib_deg_at(self, radius_m: float) -> float:
        """Jib angle [deg] at which the hook hangs at ``radius_m`` [m].

        Raises
        ------
        InputError
            If the jib does not reach it.
        """
        radius = np.array([radius_m])
        return math.degrees(float(_angle_from_radius(radius, self.foot_radius_m, self.jib_m)[0]))

    @property
    def needs(self) -> MappingProxyType[int, tuple[Axis, ...]]:
        """Which axes each measure is made from."""
        return MappingProxyType(
            {
                DROP: ("hook_m", "jib_deg"),
                TIE: ("jib_deg",),
                JIB: ("jib_deg",),
                TIE_DIR: ("jib_deg",),
            }
        )

    def measures(self, at: CranePositions) -> tuple[Floats, Known]:
        """Measures of many positions; the radius stands in for a jib angle not given.

        Returns
        -------
        tuple of arrays
            One row per measure in [m] or [rad], and which rows are known.
        """
        measures, known = _empty(at)
        if at.jib_deg is not None:
            jib = np.radians(at.jib_deg)
        elif at.radius_m is not None:
            jib = _angle_from_radius(at.radius_m, self.foot_radius_m, self.jib_m)
        else:
            return measures, known
        cosine, sine = np.cos(jib), np.sin(jib)
        tie_at = self.jib_m if self.tie_at_m is None else self.tie_at_m
        along = -self.a_frame_back_m - tie_at * cosine
        up = self.a_frame_up_m - tie_at * sine
        centres = np.hypot(along, up)
        measures[JIB] = jib
        direction = np.arctan2(up, along)
        direction[direction < 0] += 2 * math.pi
        if self.tie_offset_m:
            measures[TIE] = np.sqrt(np.maximum(centres**2 - self.tie_offset_m**2, 0.0))
            direction -= np.arcsin(np.clip(self.tie_offset_m / centres, -1.0, 1.0))
        else:
            measures[TIE] = centres
        measures[TIE_DIR] = direction
        known[[JIB, TIE, TIE_DIR]] = True
        if at.hook_m is not None:
            head = self.foot_height_m - self.hook_below_m + self.jib_m * sine
            np.subtract(head, at.hook_m, out=measures[DROP])
            known[DROP] = True
        return measures, known


@dataclass(frozen=True, slots=True, kw_only=True)
class TelescopicBoom:
    """A boom that telescopes and luffs about its foot pin.

    ``foot_radius_m`` and ``foot_height_m`` place the foot pin from the slewing axis (behind it:
    negative) and above the zero of the hook readings.  The boom's length runs from the foot pin
    to the centre of the head sheaves.
    """

    foot_height_m: float
    foot_radius_m: float = 0.0
    hook_below_m: float = 0.0

    def __post_init__(self) -> None:
        check_finite("foot_height_m", self.foot_height_m)
        check_finite("foot_radius_m", self.foot_radius_m)
        check_not_negative("hook_below_m", self.hook_below_m)

    @property
    def needs(self) -> MappingProxyType[int, tuple[Axis, ...]]:
        """Which axes each measure is made from."""
        return MappingProxyType(
            {DROP: ("hook_m", "boom_m", "boom_deg"), BOOM: ("boom_m",), JIB: ("boom_deg",)}
        )

    def measures(self, at: CranePositions) -> tuple[Floats, Known]:
        """Measures of many positions; the radius stands in for a boom angle not given.

        Returns
        -------
        tuple of arrays
            One row per measure in [m] or [rad], and which rows are known.
        """
        measures, known = _empty(at)
        if at.boom_m is not None:
            measures[BOOM] = at.boom_m
            known[BOOM] = True
        if at.boom_deg is not None:
            boom = np.radians(at.boom_deg)
        elif at.radius_m is not None and at.boom_m is not None:
            boom = _angle_from_radius(at.radius_m, self.foot_radius_m, at.boom_m)
        else:
            return measures, known
        measures[JIB] = boom
        known[JIB] = True
        if at.hook_m is not None and at.boom_m is not None:
            head = self.foot_height_m - self.hook_below_m + at.boom_m * np.sin(boom)
            np.subtract(head, at.hook_m, out=measures[DROP])
            known[DROP] = True
        return measures, known


Frame: TypeAlias = LevelTrack | LuffingJib | TelescopicBoom
