"""Bends from a list of lifts, or from a mere description of the duty, where nothing was logged.

Each lift is taken as a closed round: pick up, straight up to clear everything, across, straight
down, unload, and empty the same way back.  What the crane does between different lifts is not
counted, so the result is the least that can have happened; its origin says so.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from operator import add
from typing import Final

import numpy as np

from ropewright.errors import InputError
from ropewright.geometry import AXES, AXIS_WORDS, Axis, CranePosition, Hoist
from ropewright.wear.counting import LogCounter
from ropewright.wear.model import BendCount, DutyChunk, PickUps
from ropewright.wear.quality import Origin, QualityReport
from ropewright.wear.settings import Counting

_NO_LIMIT: Final = 1e9
_MOST: Final = 10**9


@dataclass(frozen=True, slots=True, kw_only=True)
class Lift:
    """One kind of lift: where from, where to, how heavy, how often.

    ``load_t`` [t] is the load beside the hook block; ``over_m`` the hook height at which the
    load was carried across, the higher of the two ends if not given; ``times`` [-] how often.
    """

    pick: CranePosition
    place: CranePosition
    load_t: float
    times: int = 1
    over_m: float | None = None

    def __post_init__(self) -> None:
        """Refuse a load, a number or a height that cannot be."""
        if not (math.isfinite(self.load_t) and self.load_t >= 0):
            raise InputError(field="load", expected="a mass of zero or more", given=self.load_t)
        if not 1 <= self.times <= _MOST:
            raise InputError(
                field="times", expected=f"a whole number from 1 to {_MOST}", given=self.times
            )
        if self.over_m is None:
            return
        for end in (self.pick, self.place):
            if end.hook_m is not None and not self.over_m >= end.hook_m:
                raise InputError(
                    field="over",
                    expected=f"at least as high as both ends, {end.hook_m:g} m",
                    given=self.over_m,
                )


@dataclass(frozen=True, slots=True, kw_only=True)
class Duty:
    """A description of a crane's duty: so many lifts a day over so many days, of these kinds.

    The ``times`` of the ``kinds`` are their shares, 3 and 1 for three out of four.
    """

    lifts_per_day: float
    days: int
    kinds: tuple[Lift, ...]

    def __post_init__(self) -> None:
        """Refuse a duty without lifts."""
        if not (math.isfinite(self.lifts_per_day) and self.lifts_per_day > 0):
            raise InputError(
                field="lifts_per_day", expected="a number above zero", given=self.lifts_per_day
            )
        if not 1 <= self.days <= 40_000:
            raise InputError(field="days", expected="from 1 to 40000 days", given=self.days)
        if not self.kinds:
            raise InputError(field="kinds", expected="at least one kind of lift", given=None)

    def as_lifts(self) -> tuple[Lift, ...]:
        """The duty as a list of lifts; each kind is there at least once."""
        shares = sum(kind.times for kind in self.kinds)
        whole = self.lifts_per_day * self.days
        return tuple(
            replace(kind, times=min(max(1, round(whole * kind.times / shares)), _MOST))
            for kind in self.kinds
        )


def bends_of_lifts(
    lifts: Iterable[Lift], hoist: Hoist, counting: Counting, *, origin: Origin = "lift list"
) -> BendCount:
    """Bends along the path from a list of lifts.

    Parameters
    ----------
    lifts
        The lifts; their order does not matter.
    hoist
        The path model of the rigging.
    counting
        How to count; what it says of jitter, gaps and jumps does not apply.
    origin
        What the list was made from.

    Raises
    ------
    InputError
        If there is no lift, or one lacks a reading that the path depends on.
    """
    plain = replace(counting, jitter_m=0.0, jitter_deg=0.0, gap_s=_NO_LIMIT)
    plain = replace(plain, hook_speed_m_per_s=_NO_LIMIT)
    whole: BendCount | None = None
    for number, lift in enumerate(lifts):
        try:
            one = _of_one(lift, hoist, plain)
        except InputError as error:
            raise error.within(f"lift[{number + 1}]") from None
        whole = one if whole is None else add(whole, one)  # a count is large: no list of them
    if whole is None:
        raise InputError(field="lift", expected="at least one lift", given=None)
    return replace(whole, origin=origin)


def bends_of_duty(duty: Duty, hoist: Hoist, counting: Counting) -> BendCount:
    """Bends along the path from a description of the duty: the last resort.

    Parameters
    ----------
    duty
        The description.
    hoist, counting
        As for `bends_of_lifts`.
    """
    return bends_of_lifts(duty.as_lifts(), hoist, counting, origin="duty description")


def _words_of(lift: Lift) -> str:
    """The readings of a lift as far as they are given, such as: pick hook 1.5 m, radius 20 m."""
    ends = []
    for name, end in (("pick", lift.pick), ("place", lift.place)):
        given = [(axis.rpartition("_"), getattr(end, axis)) for axis in AXES]
        said = [f"{axis[0]} {value:g} {axis[2]}" for axis, value in given if value is not None]
        ends.append(f"{name} {', '.join(said)}")
    return "; ".join(ends if lift.over_m is None else [*ends, f"over {lift.over_m:g} m"])


def _of_one(lift: Lift, hoist: Hoist, counting: Counting) -> BendCount:
    """Count the second of two rounds, so that the beginning leaves no trace, and multiply."""
    block = counting.block_t or 0.0
    once = _round(lift, block)
    first, both = LogCounter(hoist, counting), LogCounter(hoist, counting)
    for counter, rounds in ((first, 1), (both, 2)):
        for number in range(rounds):
            part = once if number == 0 else replace(once, time_ms=once.time_ms + 10**8)
            counter.take(part)
    alone, twice = first.count(), both.count()
    if alone.quality.beyond_travel:
        raise InputError(
            field="pick, place or over",
            expected="hook heights and radii within the crane's limits",
            given=_words_of(lift),
        )
    times = lift.times
    held = twice.pick_ups
    return replace(
        twice,
        half_bends=(twice.half_bends - alone.half_bends) * times,
        reverse_bends=(twice.reverse_bends - alone.reverse_bends) * times,
        wound_on=(twice.wound_on - alone.wound_on) * times,
        pick_ups=PickUps(
            counts=(held.counts - alone.pick_ups.counts) * times,
            rest_ms=np.zeros_like(held.rest_ms),
            hook_counts=alone.pick_ups.hook_counts * times,
            hook_from_m=alone.pick_ups.hook_from_m,
            lifts=times,
        ),
        first_ms=None,
        last_ms=None,
        quality=QualityReport.nothing(),
    )


def _round(lift: Lift, block_t: float) -> DutyChunk:
    """Return the round of one lift as a log: pick, up, across, down, place, and empty back."""
    axes: list[Axis] = [axis for axis in AXES if lift.pick.value(axis) is not None]
    for axis in (*axes, *(axis for axis in AXES if lift.place.value(axis) is not None)):
        for name, end in (("pick", lift.pick), ("place", lift.place)):
            if end.value(axis) is None:
                raise InputError(
                    field=f"{name}.{axis}",
                    expected=f"{AXIS_WORDS[axis]}, as at the other end",
                    given=None,
                )
    pick, place = ([end.value(axis) or 0.0 for axis in axes] for end in (lift.pick, lift.place))
    over_pick, over_place = list(pick), list(place)
    if "hook_m" in axes:
        hook = axes.index("hook_m")
        height = lift.over_m if lift.over_m is not None else max(pick[hook], place[hook])
        over_pick[hook] = over_place[hook] = height
    way: Sequence[list[float]] = [
        pick, pick, over_pick, over_place, place, place, over_place, over_pick, pick,
    ]  # fmt: skip
    full = block_t + lift.load_t
    loads = [block_t, full, full, full, full, block_t, block_t, block_t, block_t]
    columns = np.array(way).T
    readings = dict(zip(axes, columns, strict=True))
    return DutyChunk(time_ms=np.arange(9) * 1000, load_t=np.array(loads), **readings)
