"""Which way the rope runs at a point, and what it would pull a hand into: distances only."""

from dataclasses import dataclass, replace
from typing import Final, Literal, TypeAlias

import numpy as np
import numpy.typing as npt

from ropewright.errors import InputError
from ropewright.geometry.checks import reachable
from ropewright.geometry.frames import Known
from ropewright.geometry.hoist import Hoist
from ropewright.geometry.points import (
    InspectionPoint,
    PointRows,
    PointValues,
    point_rows,
    point_values,
)
from ropewright.geometry.position import (
    AXES,
    AXIS_WORDS,
    Axis,
    CranePosition,
    CranePositions,
    Floats,
)
from ropewright.geometry.reeving import DRUM, DRUM_A, END_A, Carrier
from ropewright.geometry.section import Section
from ropewright.geometry.solving import runs_of

Motion: TypeAlias = Literal[
    "hook up", "hook down", "trolley out", "trolley in", "jib up", "jib down",
    "boom out", "boom in", "boom up", "boom down",
]  # fmt: skip
MOTIONS: Final[dict[Axis, tuple[Motion, Motion]]] = {
    "hook_m": ("hook up", "hook down"),
    "radius_m": ("trolley out", "trolley in"),
    "jib_deg": ("jib up", "jib down"),
    "boom_m": ("boom out", "boom in"),
    "boom_deg": ("boom up", "boom down"),
}

NoWay: TypeAlias = Literal[
    "not all sheaves are known",
    "the point itself moves",
    "the rope does not run here",
    "the rope reverses on the way",
    "the nearest nip changes on the way",
    "the nearest nip comes along behind",
    "not on free rope all the way",
    "a distance is not known",
]

# What moves in space with each motion; the block always hangs on what moves.
_MOVED: Final[dict[Axis, tuple[Carrier, ...]]] = {
    "hook_m": ("block",),
    "radius_m": ("trolley", "block"),
    "jib_deg": ("jib", "block"),
    "boom_m": ("jib", "block"),
    "boom_deg": ("jib", "block"),
}

_NODES: Final = 65
_STILL: Final = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class AwayFromNip:
    """The motion for which the rope runs away from the nearest nip, over a whole pass.

    ``nearest_m`` is the least distance to that nip during the pass, ``ahead_m`` the least
    distance to what the rope runs towards: a sheave, the drum, or end A's fitting.
    ``rope_per_axis`` [-] is the most rope that runs past per metre or degree of the motion.
    ``motion`` is none where no direction is such, and ``why_none`` says why; distances not
    known are none.
    """

    motion: Motion | None
    why_none: NoWay | None
    nearest: str | None
    nearest_m: float | None
    ahead: str | None
    ahead_m: float | None
    rope_per_axis: float


def away_from_nip(
    hoist: Hoist, point: InspectionPoint, start: CranePosition, end: CranePosition
) -> AwayFromNip:
    """The motion for which the rope at a point runs away from the nearest nip.

    A nip is where rope runs onto a sheave or the drum; every sheave counts as one, whichever way
    it turns.  The answer holds for the whole pass between the two positions.

    Parameters
    ----------
    hoist
        The hoist as rigged now.
    point
        Where hand or eye is.
    start, end
        The pass: two crane positions that differ in one axis.

    Returns
    -------
    AwayFromNip
        Distances in [m].
    """
    axis = _moving_axis(start, end)
    rows = point_rows(hoist, point)
    values = _along(hoist, rows, axis, start, end, shift=0.0)
    slopes = _slopes(hoist, rows, axis, start, end)
    run = float(np.max(np.abs(slopes.path_m)))
    found = _Found(hoist=hoist, rows=rows, values=values, slopes=slopes)
    moves = _carrier(hoist, point) in _MOVED[axis]
    why: NoWay | None = "the point itself moves" if moves else found.why_none()
    if why is not None:
        return AwayFromNip(
            motion=None, why_none=why, nearest=None, nearest_m=None,
            ahead=None, ahead_m=None, rope_per_axis=run,
        )  # fmt: skip
    towards_drum = found.nearest_is_before()
    # Rope moves towards the drum where the path position in front of the person falls.
    rising = (float(slopes.path_m[0]) < 0) == towards_drum
    to_before, to_after = float(values.to_before_m.min()), float(values.to_after_m.min())
    return AwayFromNip(
        motion=MOTIONS[axis][0 if rising else 1],
        why_none=None,
        nearest=rows.before_name if towards_drum else rows.after_name,
        nearest_m=to_before if towards_drum else to_after,
        ahead=rows.after_name if towards_drum else rows.before_name,
        ahead_m=to_after if towards_drum else to_before,
        rope_per_axis=run,
    )


def _carrier(hoist: Hoist, point: InspectionPoint) -> Carrier:
    """Return what carries the sheave or fitting that the point is tied to."""
    if point.at in (DRUM, DRUM_A):
        return "crane"
    if point.at == END_A:
        return hoist.reeving.end_a_on
    return hoist.reeving.contact(point.at).on


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Found:
    """Distances along a pass and how they change, with the questions asked of them."""

    hoist: Hoist
    rows: PointRows
    values: PointValues
    slopes: PointValues

    def nearest_is_before(self) -> bool:
        """Tell whether the nearest nip is on end A's side; a fixed end is no nip."""
        if self.rows.before_name == END_A:
            return False
        return bool(self.values.to_before_m[0] < self.values.to_after_m[0])

    def _nearest_changes(self) -> bool:
        if self.rows.before_name == END_A:
            return False
        before_nearer = self.values.to_before_m < self.values.to_after_m
        same = self.values.to_before_m == self.values.to_after_m
        return bool(before_nearer.any() and not before_nearer.all()) or bool(same.any())

    def why_none(self) -> NoWay | None:
        """Return the first reason against any direction."""
        run = self.slopes.path_m
        gaps = (self.values.to_before_m, self.values.to_after_m)
        if self.rows.before_name == END_A and not self.hoist.reeving.all_sheaves:
            return "not all sheaves are known"
        if np.isnan(run).any() or any(np.isnan(gap).any() for gap in gaps):
            return "a distance is not known"
        if not self.values.free.all():
            return "not on free rope all the way"
        if np.abs(run).max() < _STILL:
            return "the rope does not run here"
        if run.min() < _STILL and run.max() > -_STILL:
            return "the rope reverses on the way"
        if self._nearest_changes():
            return "the nearest nip changes on the way"
        if self._comes_along():
            return "the nearest nip comes along behind"
        return None

    def _comes_along(self) -> bool:
        """Tell whether the nearest nip follows the hand while the rope runs away from it."""
        before = self.nearest_is_before()
        gap = self.slopes.to_before_m if before else self.slopes.to_after_m
        sign = -1.0 if (float(self.slopes.path_m[0]) > 0) == before else 1.0
        return bool((gap * sign).min() < -_STILL)


def _moving_axis(start: CranePosition, end: CranePosition) -> Axis:
    if start.drum_turns is not None or end.drum_turns is not None:
        raise InputError(
            field="start", expected="hook heights for a pass, not drum turns", given="drum turns"
        )
    moving = [axis for axis in AXES if start.value(axis) != end.value(axis)]
    if len(moving) != 1 or None in (start.value(moving[0]), end.value(moving[0])):
        raise InputError(
            field="end",
            expected="a position that differs from the start in exactly one axis",
            given=", ".join(moving) or "the same position",
        )
    return moving[0]


def _along(
    hoist: Hoist,
    rows: PointRows,
    axis: Axis,
    start: CranePosition,
    end: CranePosition,
    *,
    shift: float,
) -> PointValues:
    """Return a point's values along a pass, all positions shifted a little in its axis."""
    line: Floats = np.linspace(start.value(axis) or 0.0, end.value(axis) or 0.0, _NODES) + shift
    axes: dict[str, Floats | float] = {
        name: value for name in AXES if (value := start.value(name)) is not None
    }
    axes[axis] = line
    measures, known = hoist.reeving.frame.measures(CranePositions.of(**axes))
    return point_values(rows, measures, known)


def _slopes(
    hoist: Hoist, rows: PointRows, axis: Axis, start: CranePosition, end: CranePosition
) -> PointValues:
    step = 1e-5
    up = _along(hoist, rows, axis, start, end, shift=step)
    down = _along(hoist, rows, axis, start, end, shift=-step)
    return PointValues(
        path_m=(up.path_m - down.path_m) / (2 * step),
        to_before_m=(up.to_before_m - down.to_before_m) / (2 * step),
        to_after_m=(up.to_after_m - down.to_after_m) / (2 * step),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class RopePast:
    """What a pass brings past a point.

    ``sections`` are what is seen, as path positions; ``rope_per_axis`` [-] is the most rope that
    runs past per metre or degree of the motion: the factor from hook speed to rope speed.
    """

    axis: Axis
    sections: tuple[Section, ...]
    rope_per_axis: float


def rope_past(
    hoist: Hoist, point: InspectionPoint, start: CranePosition, end: CranePosition
) -> RopePast:
    """The sections of path that come past a point between two crane positions.

    Parameters
    ----------
    hoist
        The hoist as rigged now.
    point
        Where the person stands.
    start, end
        Two crane positions that differ in one axis.

    Returns
    -------
    RopePast
        Sections in [m] from end A; none where the point is not on free rope or the block is
        right up.

    Raises
    ------
    InputError
        If an axis that the path depends on is missing.
    """
    axis = _moving_axis(start, end)
    rows = point_rows(hoist, point)

    def measured(share: float) -> tuple[Floats, Known]:
        low, high = start.value(axis) or 0.0, end.value(axis) or 0.0
        here = replace(start, **{axis: low + share * (high - low)})
        return hoist.reeving.frame.measures(CranePositions.one(here))

    def value_at(share: float) -> PointValues:
        return point_values(rows, *measured(share))

    def is_seen(share: float) -> bool:
        barred = not reachable(hoist.reeving, hoist.travel, *measured(share))[0]
        values = value_at(share)
        return not (barred or values.to_before_m[0] < -1e-9 or values.to_after_m[0] < -1e-9)

    if np.isnan(value_at(0.0).path_m[0]):
        missing = [name for name in hoist.reeving.axes if start.value(name) is None]
        raise InputError(field=f"start.{missing[0]}", expected=AXIS_WORDS[missing[0]], given=None)

    def at_shares(shares: Floats) -> tuple[Floats, Known]:
        """Measures at many shares of the pass."""
        low, high = start.value(axis) or 0.0, end.value(axis) or 0.0
        axes: dict[str, npt.ArrayLike] = {
            name: value for name in AXES if (value := start.value(name)) is not None
        }
        axes[axis] = low + shares * (high - low)
        return hoist.reeving.frame.measures(CranePositions.of(**axes))

    nodes = np.linspace(0.0, 1.0, _NODES)
    measures, known = at_shares(nodes)
    values = point_values(rows, measures, known)
    flags = (
        reachable(hoist.reeving, hoist.travel, measures, known)
        & ~(values.to_before_m < -1e-9)
        & ~(values.to_after_m < -1e-9)
    )
    sections = []
    for first, last in runs_of(is_seen, nodes, flags=flags):
        inside = point_values(rows, *at_shares(np.linspace(first, last, _NODES))).path_m
        sections.append(Section(float(inside.min()), float(inside.max())))
    slopes = _slopes(hoist, rows, axis, start, end)
    return RopePast(
        axis=axis,
        sections=tuple(sections),
        rope_per_axis=float(np.max(np.abs(slopes.path_m))),
    )
