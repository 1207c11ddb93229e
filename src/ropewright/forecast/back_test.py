"""How past recommendations came out: stated chances against what was found next."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import pairwise

import numpy as np

from ropewright.forecast._numeric import poisson_at_least
from ropewright.forecast.clock import Clock
from ropewright.forecast.fitting import fit
from ropewright.forecast.prior import Prior
from ropewright.forecast.zone import Limit, Zone


@dataclass(frozen=True, slots=True, kw_only=True)
class Recommendation:
    """A recommendation as it was stored: ``chance`` [-] of a limit being passed by ``until``.

    ``alpha`` [-] is the chance that was taken.
    """

    made_on: date
    until: date
    chance: float
    alpha: float
    version: str
    prior_version: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """A recommendation with what came of it; ``passed`` is ``None`` while nobody looked since."""

    made: Recommendation
    passed: bool | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Score:
    """The back-test in figures.

    ``expected`` [-] is the sum of stated chances, ``passed`` how often a limit was found passed,
    ``p_too_many`` [-] the chance of so many or more if the chances were right, ``brier`` [-] the
    mean squared error of the chances.
    """

    judged: int
    open: int
    expected: float
    passed: int
    p_too_many: float
    brier: float
    words: str


def score(outcomes: Sequence[Outcome]) -> Score:
    """Compare stated chances with what happened."""
    closed = [one for one in outcomes if one.passed is not None]
    expected = math.fsum(one.made.chance for one in closed)
    passed = sum(bool(one.passed) for one in closed)
    p_value = poisson_at_least(passed, expected) if closed and passed else 1.0
    brier = (
        math.fsum((one.made.chance - bool(one.passed)) ** 2 for one in closed) / len(closed)
        if closed
        else 0.0
    )
    if not closed:
        words = "no recommendation has been followed by a look yet"
    else:
        words = (
            f"{len(closed)} recommendations were followed by a look: a limit was found passed "
            f"{passed} times, {expected:.2f} were to be expected"
        )
        if p_value < 0.05:
            words += "; that is more than chance explains: do not rely on the forecast here"
    return Score(
        judged=len(closed),
        open=len(outcomes) - len(closed),
        expected=expected,
        passed=passed,
        p_too_many=p_value,
        brier=brier,
        words=words,
    )


def back_test(
    zones: Sequence[Zone], limits: Sequence[Limit], clock: Clock, prior: Prior
) -> tuple[Outcome, ...]:
    """Forecast every next look from what was known at the one before, with today's model.

    Each hot zone is taken by itself; the first look has nothing before it.
    """
    outcomes: list[Outcome] = []
    for zone in zones:
        clocks = sorted({look.clock for look in zone.looks})
        for earlier, later in pairwise(clocks):
            before = _until(zone, earlier)
            if before.known >= min(limit.count for limit in limits):
                break
            fitted = fit([before], limits, prior if zone.marked else prior.without_marks())
            days = later - earlier
            chance = float(fitted.chance(np.array([later]))[0])
            found = _until(zone, later)
            outcomes.append(
                Outcome(
                    made=Recommendation(
                        made_on=_day(clock, earlier),
                        until=_day(clock, earlier) + timedelta(days=math.ceil(days)),
                        chance=chance,
                        alpha=0.0,
                        version="recomputed",
                        prior_version=prior.version,
                    ),
                    passed=any(found.known >= limit.count for limit in limits),
                )
            )
    return tuple(outcomes)


def _until(zone: Zone, clock: float) -> Zone:
    looks = tuple(look for look in zone.looks if look.clock <= clock)
    return replace(zone, looks=looks, places_d=None)


def _day(clock: Clock, reading: float) -> date:
    """The first day on which the clock reads that much."""
    if clock.kind == "days" and not clock.idle:
        return clock.fitted_on + timedelta(days=math.ceil(reading))
    day = clock.fitted_on
    while clock.at(day) < reading:
        day += timedelta(days=1)
    return day
