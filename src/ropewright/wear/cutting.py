"""Where to cut: every possible cut and turn, and what the next period would make of it.

A cut at the drum moves crossovers and layer changes along the rope; a cut at end A moves the
bends; turning the rope end for end moves both.  For each, the damage there is now and the damage
to come are added up along the rope that is left, and the worst place is looked at.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from ropewright.errors import InputError
from ropewright.geometry import Drum
from ropewright.rope import PathMap
from ropewright.wear.outlook import Outlook
from ropewright.wear.possible_cuts import (
    CUT_STEP_M,
    WAYS,
    Cut,
    CutLimits,
    Way,
    after,
    possible_cuts,
)
from ropewright.wear.profile import Profile, merged_edges, middles

GOOD_ENOUGH: Final = 0.9
"""The shortest cut that gains this share of the most is put forward; own choice."""
LEAST_GAIN: Final = 0.05
"""A gain below this share of the period is called none; own choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutResult:
    """What a cut does over the next period.

    Parameters
    ----------
    cut
        The cut.
    path
        How rope and path belong together afterwards.
    worst
        Worst damage anywhere after the period [-].
    worst_rope_m
        Where, in rope position [m].
    gained_days
        Days until the worst place is where it would be after the period without a cut, beyond
        the period [days].
    gained_least_days
        The least of it, the drum's measures being off by their usual ± [days].
    removed_most
        Worst damage on the rope that is cut off [-].
    """

    cut: Cut
    path: PathMap
    worst: float
    worst_rope_m: float
    gained_days: float
    gained_least_days: float
    removed_most: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CutPlan:
    """All that was weighed, and the best of each way.

    Parameters
    ----------
    period_days
        The next period [days].
    worst_now
        Worst damage today [-].
    worst_without
        Worst damage after the period if nothing is done [-].
    worst_without_rope_m
        Where, in rope position [m].
    limits
        How much rope may go.
    tried
        Every cut weighed, with the length [m] and the days gained [days].
    best
        The best of each way that gains anything, the most first; none: nothing helps.
    """

    period_days: float
    worst_now: float
    worst_without: float
    worst_without_rope_m: float
    limits: CutLimits
    tried: tuple[tuple[Cut, float], ...]
    best: tuple[CutResult, ...]

    @property
    def nothing_helps(self) -> bool:
        """Whether no cut and no turn gains anything."""
        return not self.best


def damage_and_pace(
    damage: Profile, outlook: Outlook, path: PathMap, *, drum: Drum | None = None
) -> tuple[Profile, Profile]:
    """Damage today and damage per day to come, on the same cells of the rope that is left.

    Parameters
    ----------
    damage
        Damage along the rope today, in rope positions.
    outlook
        Damage per day to come.
    path
        How rope and path will belong together.
    drum
        Another drum than the outlook's own.
    """
    pace = outlook.along(path, drum=drum)
    low, high = path.in_service
    edges = merged_edges(damage.edges_m, pace.edges_m, from_m=low, to_m=high)
    at = middles(edges)
    return (
        Profile(edges_m=edges, values=damage.at(at)),
        Profile(edges_m=edges, values=pace.at(at)),
    )


def damage_after(
    damage: Profile, outlook: Outlook, path: PathMap, days: float, *, drum: Drum | None = None
) -> Profile:
    """Damage along the rope after some more days of the same duty.

    Parameters
    ----------
    damage
        Damage along the rope today, in rope positions.
    outlook
        Damage per day to come.
    path
        How rope and path will belong together.
    days
        Days of duty [days].
    drum
        Another drum than the outlook's own.
    """
    today, pace = damage_and_pace(damage, outlook, path, drum=drum)
    return Profile(edges_m=today.edges_m, values=today.values + days * pace.values)


class _Weighing:
    """Weighs ways for one shape of the drum, against doing nothing."""

    def __init__(
        self, damage: Profile, outlook: Outlook, now: PathMap, days: float, drum: Drum | None = None
    ) -> None:
        self._damage, self._outlook, self._days, self._drum = damage, outlook, days, drum
        self._now = now
        self.without, self.without_rope_m = self.worst(now)

    def worst(self, path: PathMap) -> tuple[float, float]:
        """Worst damage after the period, and where."""
        then = damage_after(self._damage, self._outlook, path, self._days, drum=self._drum)
        place = int(np.argmax(then.values))
        return float(then.values[place]), float(middles(then.edges_m)[place])

    def gained(self, cut: Cut) -> float:
        """Days until the worst place is where it would be after the period without a cut."""
        path = after(self._now, cut)
        now, pace = damage_and_pace(self._damage, self._outlook, path, drum=self._drum)
        moving = pace.values > 0
        if not moving.any():
            return np.inf
        days = ((self.without - now.values[moving]) / pace.values[moving]).min()
        return float(days) - self._days


def plan_cuts(
    damage: Profile,
    outlook: Outlook,
    now: PathMap,
    *,
    limits: CutLimits,
    period_days: float,
    shapes: Sequence[tuple[Profile, Drum | None]] = (),
    step_m: float = CUT_STEP_M,
) -> CutPlan:
    """Weigh every possible cut.

    Parameters
    ----------
    damage
        Damage along the rope today, in rope positions.
    outlook
        Damage per day to come.
    now
        How rope and path belong together today.
    limits
        How much rope may go.
    period_days
        The next period [days].
    shapes
        The damage again with the drum's measures off by their usual ±, each with its drum.
    step_m
        Step between two lengths [m].
    """
    if not period_days > 0:
        raise InputError(field="period_days", expected="days above zero", given=period_days)
    nominal = _Weighing(damage, outlook, now, period_days)
    tried = [
        (cut, max(nominal.gained(cut), -period_days))
        for cut in possible_cuts(limits, step_m=step_m)
    ]
    others = [_Weighing(profile, outlook, now, period_days, drum) for profile, drum in shapes]
    best = []
    for way in WAYS:
        chosen = _choose(tried, way, period_days)
        if chosen is None:
            continue
        cut, gained = chosen
        path = after(now, cut)
        worst, where = nominal.worst(path)
        result = CutResult(
            cut=cut,
            path=path,
            worst=worst,
            worst_rope_m=where,
            gained_days=gained,
            gained_least_days=min([gained, *(other.gained(cut) for other in others)]),
            removed_most=_removed_most(damage, now, path),
        )
        best.append(result)
    best = _worth_it(best, period_days)
    best.sort(key=lambda one: (-one.gained_days, one.cut.length_m))
    return CutPlan(
        period_days=period_days,
        worst_now=damage.most(*now.in_service),
        worst_without=nominal.without,
        worst_without_rope_m=nominal.without_rope_m,
        limits=limits,
        tried=tuple(tried),
        best=tuple(best),
    )


def days_gained(
    cut: Cut, damage: Profile, outlook: Outlook, now: PathMap, period_days: float
) -> float:
    """Days that one cut gains, as in a plan.

    Parameters
    ----------
    cut
        The cut.
    damage, outlook, now, period_days
        As for `plan_cuts` [days].

    Returns
    -------
    float
        Below zero where it would be worse than doing nothing [days].
    """
    return _Weighing(damage, outlook, now, period_days).gained(cut)


def _choose(
    tried: Sequence[tuple[Cut, float]], way: Way, period_days: float
) -> tuple[Cut, float] | None:
    """The shortest cut of a way that gains nearly as much as the best one."""
    ours = [(cut, gained) for cut, gained in tried if cut.way == way]
    most = max((gained for _, gained in ours), default=0.0)
    if most < LEAST_GAIN * period_days:
        return None
    return min(
        ((cut, gained) for cut, gained in ours if gained >= GOOD_ENOUGH * most),
        key=lambda one: one[0].length_m,
    )


def _worth_it(best: list[CutResult], period_days: float) -> list[CutResult]:
    """Without a turn and cut that gains hardly more than the turn alone."""
    turned = max((one.gained_days for one in best if one.cut.way == "turn"), default=-np.inf)
    enough = turned + LEAST_GAIN * period_days
    return [
        one for one in best if one.cut.way != "turn and cut at the drum" or one.gained_days > enough
    ]


def _removed_most(damage: Profile, now: PathMap, path: PathMap) -> float:
    low, high = now.in_service
    left, right = path.in_service
    parts = [damage.most(low, left)] if left > low else []
    parts += [damage.most(right, high)] if right < high else []
    return max(parts, default=0.0)
