"""Whole lives of ropes under several ways of choosing the next inspection."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

import numpy as np

from ropewright.forecast import (
    Cap,
    Clock,
    Forecast,
    Limit,
    Policy,
    Prior,
    Situation,
    Zone,
    forecast,
)
from ropewright.forecast.clock import day_after
from ropewright.inspection.findings import Method
from tests.calibration.measures import PRIOR
from tests.calibration.plug_ins import days_to_limit
from tests.calibration.simulate import Truth, draw, zones_of

FITTED = date(2020, 1, 1)
LIMIT = 10
PLAIN = Situation(
    rotation_resistant=False,
    compacted=False,
    plastic_core=False,
    lang_lay=False,
    plastic_sheaves=False,
    steel_core=False,
    multi_layer=False,
)
#: Every rope is taken off at this age, limit or not.
_FOREVER = 3652.0

#: Days until the next inspection; ``None``: change the rope now; 0: look again at once.
Chooser = Callable[[tuple[Zone, ...], float], float | None]


@dataclass(frozen=True, kw_only=True)
class Life:
    """How one rope's life went."""

    passed: bool
    days_beyond: float
    inspections: int
    days: float
    used: float


@dataclass(frozen=True, kw_only=True)
class Row:
    """One way of choosing, over many ropes."""

    name: str
    ropes: int
    passed: float
    per_interval: float
    inspections_a_year: float
    life_used: float


def fixed(days: float) -> Chooser:
    """Always the same interval; the rope stays until the limit is found reached."""
    return lambda _zones, _now: days


def plug_in(kind: str, cap: float) -> Chooser:
    """Half of the days that a best fit gives; changed when less than a month is left."""

    def choose(zones: tuple[Zone, ...], _now: float) -> float | None:
        zone = zones[0]
        left = days_to_limit(
            kind, [look.clock for look in zone.looks], [look.new for look in zone.looks], LIMIT
        )
        return None if left < 30 else min(cap, left / 2)

    return choose


def forecast_of(zones: tuple[Zone, ...], now: float, cap: float, policy: Policy) -> Forecast:
    """The product's own forecast for an invented rope."""
    today = day_after(FITTED, math.ceil(now))
    until = day_after(FITTED, math.ceil(now) + cap)
    if today is None or until is None:
        raise ValueError("beyond the calendar")
    return forecast(
        zones,
        [Limit(count=LIMIT, window_d=6.0)],
        Clock(fitted_on=FITTED),
        PRIOR,
        today,
        caps=[Cap(until=until, by="the rule")],
        situation=PLAIN,
        persons_lifted=False,
        policy=policy,
        explain=False,
    )


def ours(alpha: float, cap: float) -> Chooser:
    """The forecast: looks again at once when it asks for that, changes when it says so."""
    policy = Policy(alpha=alpha)

    def choose(zones: tuple[Zone, ...], now: float) -> float | None:
        said = forecast_of(zones, now, cap, policy)
        repeated = sum(look.clock > now - 3 for look in zones[0].looks) > 1
        if said.state == "look closer now" and not repeated:
            return 1.0
        if said.plan_change and said.order_now and zones[0].known:
            return None
        if said.next_inspection is None:
            return None
        return max(1.0, float((said.next_inspection - said.as_of).days))

    return choose


def live(
    choose: Chooser, rng: np.random.Generator, *, truth: Truth, method: Method, prior: Prior
) -> Life:
    """One rope from fitting until it is taken off."""
    rope = draw(rng, prior, float(LIMIT), truth=truth)
    passing = rope.passes(LIMIT)
    looks: list[tuple[float, Method, tuple[int, ...]]] = []
    clock = 30.0
    while True:
        looks.append((clock, method, rope.look(rng, clock, method)))
        zones = zones_of(looks)
        if zones[0].known >= LIMIT:
            break
        wait = choose(zones, clock)
        if wait is None or clock + wait > _FOREVER:
            break
        clock += math.ceil(wait)
    return Life(
        passed=passing < clock,
        days_beyond=max(0.0, clock - passing),
        inspections=len(looks),
        days=clock,
        used=min(1.0, clock / passing),
    )


def compare(
    name: str,
    choose: Chooser,
    ropes: int,
    seed: int,
    *,
    truth: Truth = "as assumed",
    method: Method = "feel",
) -> Row:
    """One way of choosing over many ropes, the same ropes for every way."""
    lives = [
        live(choose, np.random.default_rng([seed, number]), truth=truth, method=method, prior=PRIOR)
        for number in range(ropes)
    ]
    inspections = sum(one.inspections for one in lives)
    return Row(
        name=name,
        ropes=ropes,
        passed=sum(one.passed for one in lives) / ropes,
        per_interval=sum(one.passed for one in lives) / inspections,
        inspections_a_year=inspections / (sum(one.days for one in lives) / 365.25),
        life_used=sum(one.used for one in lives) / ropes,
    )


WAYS: tuple[tuple[str, Chooser], ...] = (
    ("forecast 0.1 %", ours(0.001, 91.0)),
    ("forecast 0.2 %", ours(0.002, 91.0)),
    ("forecast 1 %", ours(0.01, 91.0)),
    ("fixed, monthly", fixed(30.0)),
    ("fixed, quarterly", fixed(91.0)),
    ("straight line", plug_in("straight line", 91.0)),
    ("log-linear", plug_in("log-linear", 91.0)),
    ("power law", plug_in("power law", 91.0)),
)
