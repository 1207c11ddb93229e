"""The chance that a limit is passed, against days to come, and the days for a given chance."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from ropewright.forecast._numeric import Floats, normal_quantile, normal_share
from ropewright.forecast.fitting import Fit

_ROUNDS: Final = 2

FARTHEST_DAYS: Final = 36525.0
"""A hundred years: nothing is said beyond."""

_FIRST: Final = np.concatenate(([0.0], np.geomspace(1.0, FARTHEST_DAYS, 8)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve:
    """Chance ``chances`` [-] that a limit has been reached ``days`` [days] from today."""

    days: tuple[float, ...]
    chances: tuple[float, ...]

    @property
    def now(self) -> float:
        """Chance that a limit is reached today already, though unseen [-]."""
        return self.chances[0]

    def at(self, days: float) -> float:
        """Chance that a limit has been reached by then.

        Parameters
        ----------
        days
            Days from today, at least 0 [days].

        Returns
        -------
        float
            The chance [-].
        """
        if days >= self.days[-1]:
            return self.chances[-1]
        number = next(place for place, one in enumerate(self.days) if one > days)
        low, high = self.days[number - 1], self.days[number]
        below, above = self.chances[number - 1], self.chances[number]
        if low <= 0:
            return below + (above - below) * days / high
        left, right = normal_quantile(below), normal_quantile(above)
        part = math.log(days / low) / math.log(high / low)
        return normal_share(left + part * (right - left))

    def day_of(self, chance: float) -> float | None:
        """Days until the chance is reached; none if not within a hundred years.

        Parameters
        ----------
        chance
            The chance that must not be passed before [-].

        Returns
        -------
        float or None
            Days from today, 0 if it is passed already [days].
        """
        if self.chances[0] > chance:
            return 0.0
        for number in range(1, len(self.days)):
            if self.chances[number] > chance:
                return _between(self, number, chance)
        return None


def _between(curve: Curve, number: int, chance: float) -> float:
    """Interpolate on normal paper against the logarithm of the day, where curves are straight.

    The first step, from today on, is taken as straight in the day itself.
    """
    low, high = curve.days[number - 1], curve.days[number]
    below, above = curve.chances[number - 1], curve.chances[number]
    if low <= 0:
        return high * (chance - below) / (above - below)
    left, here, right = (normal_quantile(one) for one in (below, chance, above))
    part = (here - left) / (right - left) if right > left else 0.0
    return low * math.exp(part * math.log(high / low))


def curve_of(
    fits: Sequence[Fit],
    now: float,
    rates: Sequence[tuple[float, float]],
    wanted: Sequence[float],
    *,
    first: Sequence[float] | None = None,
) -> Curve:
    """The chance against days, fine around the chances that are wanted.

    Parameters
    ----------
    fits
        Groups of zones that are independent of each other.
    now
        Clock reading today [-].
    rates
        Possible rates of the clock with their weights [-].
    wanted
        Chances at which the days shall be exact [-].
    first
        Days to begin with, from 0 on; spread over a hundred years if not given [days].
    """

    def chances(days: Floats) -> Floats:
        total = np.zeros_like(days)
        for rate, weight in rates:
            left = np.ones_like(days)
            for one in fits:
                left *= 1.0 - one.chance(now + rate * days)
            total += weight * (1.0 - left)
        return total

    days = _FIRST if first is None else np.array(first)
    found = chances(days)
    for _ in range(_ROUNDS):
        rough = _curve(days, found)
        finer = sorted(
            {day for chance in wanted if (day := rough.day_of(chance)) is not None and day > 0}
            - set(days.tolist())
        )
        if not finer:
            break
        more = np.array(finer)
        order = np.argsort(np.concatenate((days, more)), kind="stable")
        found = np.concatenate((found, chances(more)))[order]
        days = np.concatenate((days, more))[order]
    return _curve(days, found)


def _curve(days: Floats, found: Floats) -> Curve:
    rising = np.maximum.accumulate(np.clip(found, 0.0, 1.0))
    return Curve(days=tuple(days.tolist()), chances=tuple(rising.tolist()))
