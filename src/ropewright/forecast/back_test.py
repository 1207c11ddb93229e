"""How past recommendations came out: stated chances against what was found next."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
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
    """A recommendation with what came of it; ``passed`` is ``None`` while nobody looked since.

    ``looked_on`` is the first day on which somebody did.
    """

    made: Recommendation
    passed: bool | None
    looked_on: date | None = None


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
        words = "no forecast was followed by a look yet"
    else:
        made = "1 forecast was" if len(closed) == 1 else f"{len(closed)} forecasts were"
        often = {0: "never found passed", 1: "found passed once"}
        words = (
            f"{made} followed by a look: the limit was "
            f"{often.get(passed, f'found passed {passed} times')}, {_times(expected)} were to "
            "be expected"
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


def _times(expected: float) -> str:
    """How often, ``expected`` [-], never rounded to nothing."""
    if 0 < expected < 0.0005:
        return "less than 0.001 times"
    return f"{expected:.3f} times" if expected < 0.095 else f"{expected:.2f} times"


def back_test(
    courses: Sequence[Sequence[Zone]], limits: Sequence[Limit], clock: Clock, prior: Prior
) -> tuple[Outcome, ...]:
    """Forecast every next look from what was known at the one before, with today's model.

    Parameters
    ----------
    courses
        Each hot zone as it was known after each look, oldest first.
    limits
        The limits, each in its own window.
    clock
        The clock of the looks.
    prior
        What is believed before the first look.
    """
    outcomes: list[Outcome] = []
    for course in courses:
        for before, after in pairwise(course):
            if _is_reached(before, limits):
                break
            fitted = fit([before], limits, prior if before.marked else prior.without_marks())
            earlier, later = before.looks[-1].clock, after.looks[-1].clock
            chance = float(fitted.chance(np.array([later]))[0])
            outcomes.append(
                Outcome(
                    made=Recommendation(
                        made_on=_day(clock, earlier),
                        until=_day(clock, later),
                        chance=chance,
                        alpha=0.0,
                        version="recomputed",
                        prior_version=prior.version,
                    ),
                    passed=_is_reached(after, limits),
                    looked_on=_day(clock, later),
                )
            )
    return tuple(outcomes)


def _is_reached(zone: Zone, limits: Sequence[Limit]) -> bool:
    return any(zone.most_in(limit.window_d) >= limit.count for limit in limits)


def _day(clock: Clock, reading: float) -> date:
    """The first day on which the clock reads that much."""
    if clock.kind == "days" and not clock.idle:
        return clock.fitted_on + timedelta(days=math.ceil(reading))
    day = clock.fitted_on
    while clock.at(day) < reading:
        day += timedelta(days=1)
    return day
