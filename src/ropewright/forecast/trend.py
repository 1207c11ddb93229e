"""The course of other measures: diameter, lay length, corrosion, metallic loss.

They are never mixed into the break count.  A straight line is fitted that single wrong readings
cannot pull away, and its band is kept honest: it takes the larger of the scatter seen and the
instrument's own error, and Student's t for few readings.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import combinations
from statistics import median
from typing import Final, Literal, TypeAlias

from ropewright.errors import InputError
from ropewright.forecast._numeric import t_quantile

Measure: TypeAlias = Literal["diameter", "lay length", "corrosion", "metallic loss"]
MEASURES: Final[tuple[Measure, ...]] = ("diameter", "lay length", "corrosion", "metallic loss")

FEWEST_READINGS: Final = 3
"""Two readings always lie on a line: no trend is given from them; own."""

_HUBER: Final = 1.345
_MAD: Final = 1.4826


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One reading: the day and the ``value`` [-] in the unit of its measure."""

    on: date
    value: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Trend:
    """A straight course with its band.

    ``per_year`` [-] is the change in units of the measure per year, ``low_per_year`` [-]
    and ``high_per_year`` [-] its band; ``now`` [-] the value on the line on the last day of
    reading; ``scatter`` [-] the standard deviation used; ``share`` [-] is how much the band shall
    cover.
    """

    measure: Measure
    readings: int
    per_year: float
    low_per_year: float
    high_per_year: float
    now: float
    scatter: float
    share: float
    words: str
    _origin: date
    _mean_t: float
    _level: float
    _spread_level: float
    _spread_slope: float
    _factor: float

    def at(self, on: date) -> tuple[float, float, float]:
        """Low end, middle and high end [-] of what a reading on a day should show."""
        t = _years(self._origin, on)
        middle = self._level + self.per_year * (t - self._mean_t)
        spread = math.sqrt(
            self._spread_level**2 + (self._spread_slope * (t - self._mean_t)) ** 2 + self.scatter**2
        )
        return middle - self._factor * spread, middle, middle + self._factor * spread


@dataclass(frozen=True, slots=True, kw_only=True)
class NoTrend:
    """Why there is no trend."""

    measure: Measure
    why: str


def trend(
    measure: Measure, readings: Sequence[Reading], *, error: float, share: float = 0.9
) -> Trend | NoTrend:
    """The robust course of a measure at one place.

    Parameters
    ----------
    measure
        What was measured.
    readings
        At one place, by one method.
    error
        Standard deviation of a single reading, in the unit of the measure [-].
    share
        How much the band shall cover [-].

    Raises
    ------
    InputError
        If the error is not above zero, or a value is not finite.
    """
    if not (math.isfinite(error) and error > 0):
        raise InputError(field="error", expected="a reading error above 0", given=error)
    for one in readings:
        if not math.isfinite(one.value):
            raise InputError(field="value", expected="a finite value", given=one.value)
    days = {one.on for one in readings}
    if len(days) < FEWEST_READINGS:
        return NoTrend(
            measure=measure,
            why=f"{len(days)} days with a reading; {FEWEST_READINGS} are needed for a trend",
        )
    ordered = sorted(readings, key=lambda one: (one.on, one.value))
    origin = ordered[0].on
    times = [_years(origin, one.on) for one in ordered]
    values = [one.value for one in ordered]
    return _fitted(measure, ordered[-1].on, origin, times, values, error, share)


def _fitted(
    measure: Measure,
    last: date,
    origin: date,
    times: Sequence[float],
    values: Sequence[float],
    error: float,
    share: float,
) -> Trend:
    slope = median(
        (there - here) / (later - earlier)
        for (earlier, here), (later, there) in combinations(zip(times, values, strict=True), 2)
        if later > earlier
    )
    start = median(value - slope * time for time, value in zip(times, values, strict=True))
    weights = _weights(times, values, slope, start, error)
    total = math.fsum(weights)
    mean_t = math.fsum(w * t for w, t in zip(weights, times, strict=True)) / total
    level = math.fsum(w * v for w, v in zip(weights, values, strict=True)) / total
    spread_t = math.fsum(w * (t - mean_t) ** 2 for w, t in zip(weights, times, strict=True))
    slope = (
        math.fsum(
            w * (t - mean_t) * (v - level) for w, t, v in zip(weights, times, values, strict=True)
        )
        / spread_t
    )
    # scatter from all readings at full weight: an outlier widens the band, it does not hide
    freedom = len(values) - 2
    square = math.fsum(
        min(1.0, 2 * w) * (v - level - slope * (t - mean_t)) ** 2
        for w, t, v in zip(weights, times, values, strict=True)
    )
    scatter = max(error, math.sqrt(square / freedom))
    factor = t_quantile(0.5 + share / 2, freedom)
    slope_spread = scatter / math.sqrt(spread_t)
    now = level + slope * (_years(origin, last) - mean_t)
    low, high = slope - factor * slope_spread, slope + factor * slope_spread
    return Trend(
        measure=measure,
        readings=len(values),
        per_year=slope,
        low_per_year=low,
        high_per_year=high,
        now=now,
        scatter=scatter,
        share=share,
        words=_words(measure, slope, low, high),
        _origin=origin,
        _mean_t=mean_t,
        _level=level,
        _spread_level=scatter / math.sqrt(total),
        _spread_slope=slope_spread,
        _factor=factor,
    )


def _weights(
    times: Sequence[float], values: Sequence[float], slope: float, start: float, error: float
) -> list[float]:
    """Full weight near the line, less for what lies far off."""
    off = [abs(v - start - slope * t) for t, v in zip(times, values, strict=True)]
    scale = max(error, _MAD * median(off))
    return [1.0 if one <= _HUBER * scale else _HUBER * scale / one for one in off]


def _words(measure: Measure, slope: float, low: float, high: float) -> str:
    if low <= 0 <= high:
        return f"{measure}: no change beyond the scatter of the readings"
    grows = "grows" if slope > 0 else "falls"
    return f"{measure} {grows} by {abs(slope):.3g} a year ({abs(low):.3g} to {abs(high):.3g})"


def _years(origin: date, on: date) -> float:
    return (on - origin).days / 365.25


#: Grades of corrosion as steps; they are ordered, not evenly spaced.
CORROSION_STEPS: Final = ("none", "wipes off", "rough", "pitted")


def corrosion_course(steps: Sequence[tuple[date, str]]) -> str:
    """What grades of corrosion at one place say: steps, never a date.

    Raises
    ------
    InputError
        If a grade is not in the list.
    """
    for _, grade in steps:
        if grade not in CORROSION_STEPS:
            raise InputError(
                field="grade", expected=f"one of {', '.join(CORROSION_STEPS)}", given=grade
            )
    ordered = [grade for _, grade in sorted(steps, key=lambda step: step[0])]
    if len(ordered) < 2:
        return "corrosion: one grade alone shows no course"
    ranks = [CORROSION_STEPS.index(grade) for grade in ordered]
    if ranks[-1] > ranks[0]:
        return f"corrosion went from '{ordered[0]}' to '{ordered[-1]}': it does not go back"
    if ranks[-1] < max(ranks):
        return "corrosion was graded higher before: steel does not heal, look again"
    return f"corrosion stayed at '{ordered[-1]}' over {len(ordered)} looks"
