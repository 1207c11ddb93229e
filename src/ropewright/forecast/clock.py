"""The clock a rope ages by: days of use, or damage added up from a duty log."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise
from typing import Final, Literal, TypeAlias

from ropewright.errors import InputError

ClockKind: TypeAlias = Literal["days", "damage"]

#: Three nodes and weights for a rate that is only known with a spread.
_RATE_NODES: Final = ((-math.sqrt(3.0), 1 / 6), (0.0, 2 / 3), (math.sqrt(3.0), 1 / 6))

_LAST_DAY: Final = date.max


@dataclass(frozen=True, slots=True, kw_only=True)
class Clock:
    """Readings of the clock against days, and how fast it runs from now on.

    ``readings`` [-] are pairs of day and damage added up until its evening; without them the
    clock counts days since fitting.  ``rate`` [-] is clock units per day to come, ``rate_spread``
    [-] the standard deviation of its logarithm.  ``idle`` are pairs of first and last day on
    which the crane did not work; a clock of days stands still over them.
    """

    fitted_on: date
    readings: tuple[tuple[date, float], ...] = ()
    rate: float = 1.0
    rate_spread: float = 0.0
    idle: tuple[tuple[date, date], ...] = ()

    def __post_init__(self) -> None:
        """Refuse a clock that runs backwards."""
        if not (math.isfinite(self.rate) and self.rate > 0):
            raise InputError(field="rate", expected="a rate above 0", given=self.rate)
        if not self.rate_spread >= 0:
            raise InputError(field="rate_spread", expected="at least 0", given=self.rate_spread)
        for earlier, later in pairwise(((self.fitted_on, 0.0), *self.readings)):
            if later[0] < earlier[0] or later[1] < earlier[1]:
                raise InputError(
                    field="readings",
                    expected="readings that never go back, none before fitting",
                    given=f"{later[1]:g} on {later[0]}",
                )

    @property
    def words(self) -> str:
        """What the clock counts, in words."""
        if not self.readings:
            return "days since fitting, not the work done"
        return (
            f"work by the duty log up to {self.readings[-1][0]}, from then on "
            f"{self.rate:.1f} times the average pace"
        )

    @property
    def kind(self) -> ClockKind:
        """What the clock counts."""
        return "damage" if self.readings else "days"

    def at(self, on: date) -> float:
        """Reading in the evening of a day.

        Returns
        -------
        float
            Clock units since fitting [-].

        Raises
        ------
        InputError
            If the day lies before fitting.
        """
        if on < self.fitted_on:
            raise InputError(
                field="on", expected=f"a day from fitting on, {self.fitted_on}", given=str(on)
            )
        if not self.readings:
            stood = sum(
                max(0, (min(to, on) - max(since, self.fitted_on)).days) for since, to in self.idle
            )
            return float((on - self.fitted_on).days - stood)
        known: Sequence[tuple[date, float]] = ((self.fitted_on, 0.0), *self.readings)
        for earlier, later in pairwise(known):
            if on <= later[0]:
                days = (later[0] - earlier[0]).days
                part = (on - earlier[0]).days / days if days else 1.0
                return earlier[1] + part * (later[1] - earlier[1])
        return known[-1][1] + self.rate * (on - known[-1][0]).days

    def rates(self) -> tuple[tuple[float, float], ...]:
        """Possible rates to come with their weights, pairs of units per day and weight [-]."""
        if self.rate_spread == 0:
            return ((self.rate, 1.0),)
        return tuple(
            (self.rate * math.exp(node * self.rate_spread), weight) for node, weight in _RATE_NODES
        )


RECENT_DAYS: Final = 91
"""The pace to come is that of so many days before the last reading [days]; own."""

USUAL_SPREAD: Final = 0.3
"""Spread of the pace to come, in the logarithm, where readings are too few to tell [-]; own."""

_FEWEST_PACES: Final = 4


def working_days(clock: Clock) -> Clock:
    """A clock of damage in days of average work: its own average pace is one a day.

    So a usual life stated in days keeps its meaning.  The pace to come is the recent one, or the
    average if that is faster, with a spread taken from how much the pace changed from reading to
    reading.
    """
    if not clock.readings:
        return clock
    last, total = clock.readings[-1]
    days = (last - clock.fitted_on).days
    if days <= 0 or total <= 0:
        return Clock(fitted_on=clock.fitted_on, idle=clock.idle)
    pace = total / days
    since = max(clock.fitted_on, last - timedelta(days=RECENT_DAYS))
    recent = (total - clock.at(since)) / max(1, (last - since).days) / pace
    return Clock(
        fitted_on=clock.fitted_on,
        readings=tuple((on, damage / pace) for on, damage in clock.readings),
        # a crane that stood still may be put to work again, or be at work since the log ended
        rate=max(recent, 1.0),
        rate_spread=_spread(clock),
    )


def _spread(clock: Clock) -> float:
    """Standard deviation of the logarithm of the pace from reading to reading [-]."""
    known = ((clock.fitted_on, 0.0), *clock.readings)
    paces = [
        math.log((now[1] - then[1]) / (now[0] - then[0]).days)
        for then, now in pairwise(known)
        if (now[0] - then[0]).days >= 7 and now[1] > then[1]
    ]
    if len(paces) < _FEWEST_PACES:
        return USUAL_SPREAD
    mean = math.fsum(paces) / len(paces)
    return math.sqrt(math.fsum((one - mean) ** 2 for one in paces) / (len(paces) - 1))


def day_after(today: date, days: float | None) -> date | None:
    """The day that many whole ``days`` [days] after today, ``None`` if there is no such day."""
    if days is None or not math.isfinite(days) or days < 0:
        return None
    whole = math.floor(days + 1e-9)
    return None if whole > (_LAST_DAY - today).days else today + timedelta(days=whole)
