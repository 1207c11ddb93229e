"""One search for crane positions that bring a place to a point: the pieces it is made of."""

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final, TypeAlias

import numpy as np
import numpy.typing as npt

from ropewright.errors import InputError
from ropewright.geometry.checks import Mask, reachable
from ropewright.geometry.frames import TelescopicBoom
from ropewright.geometry.hoist import Hoist
from ropewright.geometry.points import PointRows, hook_for, point_values
from ropewright.geometry.position import AXIS_WORDS, LIMITS, Axis, CranePositions, Floats

Rest: TypeAlias = dict[Axis, float]
_SAME: Final = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PlaceSearch:
    """One search: the hoist, the point's rows, the place, and the axes that stay where they are.

    ``held`` [-] gives each held axis its value, in metres or degrees as its name says.
    """

    hoist: Hoist
    rows: PointRows
    place_m: float
    held: Rest

    def positions(self, at: Rest) -> CranePositions:
        """The held axes and those of ``at`` [-] as one crane position."""
        axes: Rest = {**self.held, **at}
        if not axes:  # an axis that this frame has no use for stands in, to say 'one position'
            axes = {
                "jib_deg" if isinstance(self.hoist.reeving.frame, TelescopicBoom) else "boom_m": 0.0
            }
        return CranePositions.of(**axes)

    def offset(self, at: Rest) -> float:
        """How far beyond the place [m] the point is, for axes ``at`` [-]."""
        measures, known = self.hoist.reeving.frame.measures(self.positions(at))
        return float(point_values(self.rows, measures, known).path_m[0]) - self.place_m

    def hook(self, at: Rest) -> float:
        """Hook height that brings the place to the point, limits aside [m], for axes ``at`` [-]."""
        wanted = np.array([self.place_m])
        others = self.positions({"hook_m": 0.0, **at})
        return float(hook_for(self.hoist, self.rows.here, wanted, others)[0])

    def hook_within(self, at: Rest) -> float:
        """That hook height [m] for axes ``at`` [-], rounding errors beyond a limit taken off."""
        hook = self.hook(at)
        bounds = self.hoist.travel.range_of("hook_m")
        return hook if bounds is None else min(max(hook, bounds[0]), bounds[1])

    def gaps(self, at: Rest) -> tuple[float, float]:
        """Free rope to the contacts before and after [m], for axes ``at`` [-]; or not-a-number."""
        measures, known = self.hoist.reeving.frame.measures(self.positions(at))
        values = point_values(self.rows, measures, known)
        return float(values.to_before_m[0]), float(values.to_after_m[0])

    def within(self, axis: Axis, value: float) -> bool:
        """Whether the limits let an axis get to a ``value`` [-]."""
        bounds = self.hoist.travel.range_of(axis)
        return bounds is None or bounds[0] - _SAME <= value <= bounds[1] + _SAME

    def reachable(self, at: Rest) -> bool:
        """Whether the block leaves room for axes ``at`` [-]."""
        measures, known = self.hoist.reeving.frame.measures(self.positions(at))
        return bool(reachable(self.hoist.reeving, self.hoist.travel, measures, known)[0])

    def nodes(self, axis: Axis, count: int) -> list[float]:
        """Evenly spaced values between the limits of an axis [-]."""
        bounds = self.hoist.travel.range_of(axis)
        if bounds is None:
            raise InputError(
                field=f"held.{axis}",
                expected=f"{AXIS_WORDS[axis]}, or its limits {' and '.join(LIMITS[axis])}",
                given=None,
            )
        values: list[float] = np.linspace(*bounds, count).tolist()
        return values

    def hooks_hold(self, at: Mapping[Axis, Floats], loose: Sequence[Axis]) -> Mask:
        """For many settings at once, whether a hook height within the limits does it.

        Parameters
        ----------
        at
            Values of the scanned axes, arrays of one length [-].
        loose
            Axes that only decide where the neighbours are.
        """
        count = next(iter(at.values())).size
        rest = self._many({}, at, np.zeros(count))
        hook = hook_for(self.hoist, self.rows.here, np.full(count, self.place_m), rest)
        bounds = self.hoist.travel.range_of("hook_m")
        inside = np.ones(count, dtype=np.bool_)
        if bounds is not None:
            inside = (bounds[0] - _SAME <= hook) & (hook <= bounds[1] + _SAME)
        free = np.zeros(count, dtype=np.bool_)
        for other in self.loose_values(loose):
            places = self._many(other, at, hook)
            measures, known = self.hoist.reeving.frame.measures(places)
            values = point_values(self.rows, measures, known)
            barred = (values.to_before_m < -_SAME) | (values.to_after_m < -_SAME)
            free |= ~barred & reachable(self.hoist.reeving, self.hoist.travel, measures, known)
        held: Mask = inside & free
        return held

    def _many(self, other: Rest, at: Mapping[Axis, Floats], hook: Floats) -> CranePositions:
        """Many positions: held axes and ``other`` [-] alike, ``at`` [-] and ``hook`` [m] each."""
        rest = (*self.held.items(), *other.items())
        alike: dict[str, npt.ArrayLike] = {str(name): value for name, value in rest}
        each: dict[str, npt.ArrayLike] = {str(name): value for name, value in at.items()}
        return CranePositions.of(**{**alike, **each, "hook_m": hook})

    def loose_values(self, loose: Sequence[Axis]) -> list[Rest]:
        """Settings [-] worth trying for axes that only decide where the neighbours are."""
        bounded = [axis for axis in loose if self.hoist.travel.range_of(axis) is not None]
        tried = [self.nodes(axis, 3) for axis in bounded]
        return [dict(zip(bounded, values, strict=True)) for values in itertools.product(*tried)]

    def is_free(self, at: Rest, loose: Sequence[Axis]) -> bool:
        """Whether the point can be on free rope for axes ``at`` [-]; what is not known may be."""
        for rest in self.loose_values(loose):
            before, after = self.gaps({**rest, **at})
            barred = before < -_SAME or after < -_SAME or not self.reachable({**rest, **at})
            if not barred:
                return True
        return False
