"""When the crane moved: samples at which a reading changed, jitter left out, and their corners."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from ropewright.geometry import Axis, Hoist, LevelTrack
from ropewright.wear.loads import Bytes
from ropewright.wear.model import Mask, Places, Readings
from ropewright.wear.settings import TENTHS_PER_M, Counting
from ropewright.wear.sweep import TrueTurns


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Movement:
    """The samples at which the crane has moved.

    ``at`` [-] are their numbers, ``followed`` [-] the readings there in ten-thousandths of a
    metre or degree, without jitter.
    """

    at: npt.NDArray[np.intp]
    followed: dict[Axis, Places]


class Mover:
    """Follows all readings of a log, piece by piece."""

    def __init__(self, hoist: Hoist, counting: Counting) -> None:
        """Start without a reading."""
        self._counting = counting
        self._straight = straight_axes(hoist)
        self._turns: dict[Axis, TrueTurns] = {}
        self._raw: dict[Axis, float] = {}
        self.last: dict[Axis, int] = {}

    def fresh(self) -> None:
        """Forget what was followed: the next sample begins anew."""
        self._raw, self.last = {}, {}
        for turns in self._turns.values():
            turns.fresh()

    def take(self, readings: dict[Axis, Readings]) -> Movement:
        """The movement in a piece; the first sample after a new beginning counts as one.

        Parameters
        ----------
        readings
            One array per axis, metres or degrees [-].
        """
        begins = not self._raw
        moves: Mask | None = None
        for axis, values in readings.items():
            changes = np.empty(values.size, dtype=np.bool_)
            np.not_equal(values[1:], values[:-1], out=changes[1:])
            changes[0] = begins or float(values[0]) != self._raw[axis]
            self._raw[axis] = float(values[-1])
            moves = changes if moves is None else np.logical_or(moves, changes, out=moves)
        at = np.flatnonzero(moves) if moves is not None else np.zeros(0, dtype=np.intp)
        followed: dict[Axis, Places] = {}
        truly = np.zeros(at.size, dtype=np.bool_)
        for axis, values in readings.items():
            some = values[at].astype(np.float64)
            some *= TENTHS_PER_M
            one = self._follower(axis).follow(np.rint(some, out=some).astype(np.int32))
            followed[axis] = one
            if at.size:
                truly[1:] |= one[1:] != one[:-1]
                truly[0] |= begins or int(one[0]) != self.last[axis]
                self.last[axis] = int(one[-1])
        if truly.all():
            return Movement(at=at, followed=followed)
        return Movement(
            at=at[truly], followed={axis: values[truly] for axis, values in followed.items()}
        )

    def _follower(self, axis: Axis) -> TrueTurns:
        if axis not in self._turns:
            counting = self._counting
            band = counting.jitter_deg if axis.endswith("deg") else counting.jitter_m
            self._turns[axis] = TrueTurns(round(band * TENTHS_PER_M))
        return self._turns[axis]

    def corners(self, followed: dict[Axis, Places], classes: Bytes) -> npt.NDArray[np.intp] | slice:
        """Places between which one axis alone moves one way under one class of load.

        Only these matter where the rope's path follows that axis straight: in between, every
        tangent point moves one way too.

        Parameters
        ----------
        followed
            Readings, the first of all before the first movement [-].
        classes
            Load class of each movement [-].

        Returns
        -------
        array or slice
            Numbers of the places that matter, the first and the last included [-].
        """
        if classes.size < 2:
            return slice(None)
        way = np.zeros(classes.size, dtype=np.uint8)
        alone = np.ones(classes.size, dtype=np.bool_)
        bit = 1
        for axis, values in followed.items():
            up, down = values[1:] > values[:-1], values[1:] < values[:-1]
            if axis in self._straight:
                alone &= ~((way != 0) & (up | down))
            else:
                alone &= ~(up | down)
            way += (up * np.uint8(bit)) + (down * np.uint8(2 * bit))
            bit *= 4
        keep = np.ones(classes.size + 1, dtype=np.bool_)
        same = (way[1:] == way[:-1]) & (classes[1:] == classes[:-1]) & alone[1:]
        np.logical_not(same, out=keep[1:-1])
        return np.flatnonzero(keep)


def straight_axes(hoist: Hoist) -> frozenset[Axis]:
    """Axes that the rope's path follows straight: twice the movement, twice the rope.

    Parameters
    ----------
    hoist
        The hoist.
    """
    if isinstance(hoist.reeving.frame, LevelTrack):
        return frozenset({"hook_m", "radius_m"})
    return frozenset({"hook_m"})
