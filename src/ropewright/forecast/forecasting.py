"""The forecast itself: present chance, next inspection, when to order, and why."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Final

import numpy as np

from ropewright.errors import InputError
from ropewright.forecast.cases import Situation, rows_for, unstated
from ropewright.forecast.clock import Clock, day_after
from ropewright.forecast.fitting import Fit, fit
from ropewright.forecast.prior import Prior
from ropewright.forecast.reasons import because, what_would_lengthen
from ropewright.forecast.result import Band, Cap, Forecast, Policy, State
from ropewright.forecast.signs import signs_of_growth
from ropewright.forecast.times import Curve, curve_of
from ropewright.forecast.zone import Limit, Look, Zone

USUAL: Final = Policy()

_FARTHEST_HOPE: Final = 731.0  # 'what would lengthen it' is not asked beyond two years [days]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Question:
    """Everything that stays the same while 'what if' is asked."""

    limits: tuple[Limit, ...]
    clock: Clock
    prior: Prior
    today: date
    alpha: float
    policy: Policy

    @property
    def now(self) -> float:
        return self.clock.at(self.today)

    def fits(self, zones: Sequence[Zone]) -> list[Fit]:
        """Hot zones of one exposure together; clean ones apart, one for each exposure."""
        hot: dict[str, list[Zone]] = {}
        clean: dict[str, Zone] = {}
        for zone in zones:
            if zone.known:
                hot.setdefault(zone.exposure, []).append(zone)
            elif not zone.gone:
                held = clean.get(zone.exposure)
                if held is None or _looked(zone) < _looked(held):
                    clean[zone.exposure] = zone
        groups = [group for group in hot.values() if any(not zone.gone for zone in group)]
        groups += [[zone] for zone in clean.values()]
        return [
            fit(group, self.limits, self.prior if _marked(group) else self.prior.without_marks())
            for group in groups
        ]

    def curve(self, fits: Sequence[Fit], *wanted: float) -> Curve:
        return curve_of(fits, self.now, self.clock.rates(), wanted)

    def lead_within(self, zones: Sequence[Zone], low: float, high: float) -> float:
        """Days that these zones would be given, looked for from ``low`` to ``high``."""
        start = max(1.0, low)
        days = [0.0, *np.geomspace(start, max(high, 1.5 * start), 4).tolist()]
        rates = self.clock.rates()
        curve = curve_of(self.fits(zones), self.now, rates, (self.alpha,), first=days)
        found = curve.day_of(self.alpha)
        return high if found is None else min(found, high)


def _looked(zone: Zone) -> tuple[float, int]:
    """How much a clean zone was looked at: the least decides."""
    return (zone.looks[-1].clock if zone.looks else 0.0), len(zone.looks)


def _marked(zones: Sequence[Zone]) -> bool:
    return all(zone.marked for zone in zones if zone.known)


def forecast(
    zones: Sequence[Zone],
    limits: Sequence[Limit],
    clock: Clock,
    prior: Prior,
    today: date,
    *,
    caps: Sequence[Cap],
    situation: Situation,
    persons_lifted: bool | None = None,
    lead_time_days: float | None = None,
    change_days: float = 0.0,
    policy: Policy = USUAL,
    explain: bool = True,
) -> Forecast:
    """Say when to look next and when to order, or why there is no date.

    Parameters
    ----------
    zones
        Zones of rope with their looks; clocks in the units of ``clock``.
    limits
        Broken wires per window at which the rope is discarded; at least one.
    clock
        Days since fitting, or damage.
    prior
        What is believed before the first look.
    today
        The day of the forecast; later looks are refused.
    caps
        Days by which rule, maker or competent person want the next inspection; without any
        the next inspection is not assessable.
    situation
        What decides on the row of the table of cases.
    persons_lifted
        Whether persons are lifted; not known counts as yes.
    lead_time_days
        Days from order to delivery of a new rope [days].
    change_days
        Days within which a change can be arranged [days].
    policy
        The chances and times used.
    explain
        Work out what would lengthen the interval (about as costly as the forecast).

    Raises
    ------
    InputError
        If there is no limit, or a look lies in the future.
    """
    if not limits:
        raise InputError(field="limits", expected="at least one limit", given="none")
    now = clock.at(today)
    _refuse_future(zones, now)
    alpha = policy.alpha if persons_lifted is False else policy.alpha_persons
    asked = _Question(
        limits=tuple(limits), clock=clock, prior=prior, today=today, alpha=alpha, policy=policy
    )
    rows = rows_for(situation)
    decide = signs_of_growth(zones)
    cap = min(caps, key=lambda one: one.until) if caps else None
    base = Forecast(
        as_of=today,
        state="no date",
        rows=rows,
        because="",
        lengthen="",
        decide=decide,
        alpha=alpha,
        prior=prior,
        policy=policy,
        missing=_missing(situation, cap),
    )
    if any(_is_reached(zone, limit) for zone in zones for limit in limits):
        return _reached(base, zones, limits)
    if rows[0].treatment == "no date":
        return _without_date(base, cap)
    return _with_model(asked, base, zones, cap, lead_time_days, change_days, explain=explain)


def _refuse_future(zones: Sequence[Zone], now: float) -> None:
    for zone in zones:
        if zone.looks and zone.looks[-1].clock > now + 1e-9:
            raise InputError(
                field="looks",
                expected=f"no look after today, clock {now:g}",
                given=zone.looks[-1].clock,
            )


def _missing(situation: Situation, cap: Cap | None) -> tuple[str, ...]:
    asked = unstated(situation)
    if cap is None:
        asked += ("the interval of the rule, the maker or the competent person",)
    return asked


def _is_reached(zone: Zone, limit: Limit) -> bool:
    return not zone.gone and zone.most_in(limit.window_d) >= limit.count


def _reached(base: Forecast, zones: Sequence[Zone], limits: Sequence[Limit]) -> Forecast:
    zone, limit = next(
        (zone, limit) for zone in zones for limit in limits if _is_reached(zone, limit)
    )
    return replace(
        base,
        state="limit reached",
        next_inspection=None,
        present_chance=1.0,
        governing=limit.words,
        plan_change=True,
        order_now=True,
        order_by=base.as_of,
        because=f"the known breaks reach a limit already: {zone.most_in(limit.window_d)} in a "
        f"window of {limit.window_d:g} d, limit {limit.count}",
    )


def _without_date(base: Forecast, cap: Cap | None) -> Forecast:
    """No date of our own: the row's action, and the interval that holds anyway."""
    row = base.rows[0]
    is_unstated = row.case_id == "unstated"
    return replace(
        base,
        next_inspection=None if cap is None else max(cap.until, base.as_of),
        bounded_by="" if cap is None else cap.by,
        because=f"no forecast until it is stated: {', '.join(base.missing)}"
        if is_unstated
        else f"no forecast for {row.when}: {row.why}",
        lengthen="nothing: the interval stays as the rule, the maker or the competent person set it"
        if not is_unstated
        else "state " + ", ".join(base.missing),
    )


def _with_model(
    asked: _Question,
    base: Forecast,
    zones: Sequence[Zone],
    cap: Cap | None,
    lead_time_days: float | None,
    change_days: float,
    *,
    explain: bool,
) -> Forecast:
    policy = asked.policy
    fits = asked.fits(zones)
    curve = asked.curve(fits, asked.alpha, policy.alarm, policy.early, 0.5, policy.late)
    at_half_life = _lead_at_half_life(asked, zones)
    lead = _shorter(curve.day_of(asked.alpha), at_half_life)
    band = _band(curve, policy, asked.today)
    state: State = "inspect by"
    if curve.now > policy.alarm or lead == 0:
        state = "look closer now"
    elif cap is None:
        state = "not assessable"
    shortest = max(policy.useful_days, (lead_time_days or 0.0) + change_days)
    broken = any(zone.known and not zone.gone for zone in zones)
    plan = _is_below(lead if broken else band.early_days, shortest)
    order_by, order_now = _order(asked.today, band.early_days, lead_time_days, change_days)
    order_now = order_now or plan
    day, bound = _next(asked.today, state, lead, cap)
    result = replace(
        base,
        state=state,
        next_inspection=day,
        bounded_by=bound,
        present_chance=curve.now,
        lead_days=lead,
        band=band,
        governing=_governing(asked, fits, lead),
        plan_change=plan,
        order_by=asked.today if order_now else order_by,
        order_now=order_now,
        unseen=sum(one.unseen for one in fits),
        doubling=min((one.doubling() for one in fits), default=None),
        curve=curve,
    )
    lengthen = ""
    if explain:
        room = None if cap is None else float(max(0, (cap.until - asked.today).days))
        hopeful = at_half_life
        bounded = room is not None and (lead is None or lead >= room)
        if not bounded and (at_half_life is None or lead != at_half_life):
            better = _after_clean_hand_pass(zones, asked.now)
            most = _FARTHEST_HOPE if room is None else room
            hopeful = _shorter(asked.lead_within(better, lead or 0.0, most), at_half_life)
        lengthen = what_would_lengthen(result, zones, hopeful, room)
    return replace(result, because=because(result, zones), lengthen=lengthen)


def _is_below(days: float | None, shortest: float) -> bool:
    return days is not None and days < shortest


def _next(
    today: date, state: State, lead: float | None, cap: Cap | None
) -> tuple[date | None, str]:
    """The day of the next inspection and whose word it is; only ever shorter than the cap."""
    if state == "look closer now" or cap is None:
        return None, ""
    due = max(cap.until, today)
    own = day_after(today, lead)
    return (due, cap.by) if own is None or own >= due else (own, "this forecast")


def _lead_at_half_life(asked: _Question, zones: Sequence[Zone]) -> float | None:
    """For a rope past half its usual life: what its clean part got at the last look before.

    A clean rope gets no more than that however old it grows.  The model alone would trust it
    more and more, because it takes it for one of the good ones.
    """
    half = asked.prior.life / 2
    clean = [zone for zone in zones if not zone.gone and zone.known == 0]
    if asked.now <= half or not clean:
        return None
    leads = []
    for looks in {_clean_until(zone, half) for zone in clean}:
        fitted = fit([replace(clean[0], looks=looks)], asked.limits, asked.prior)
        curve = curve_of([fitted], looks[-1].clock, asked.clock.rates(), (asked.alpha,))
        leads.append(curve.day_of(asked.alpha))
    return min((lead for lead in leads if lead is not None), default=None)


def _clean_until(zone: Zone, half: float) -> tuple[Look, ...]:
    """The looks up to half the usual life; without any, as if there had been one on that day."""
    then = tuple(look for look in zone.looks if look.clock <= half)
    method = zone.looks[-1].method if zone.looks else "eye"
    return then or (Look(clock=half, method=method),)


def _shorter(lead: float | None, other: float | None) -> float | None:
    """The shorter of two times, where ``None`` is longer than any."""
    if lead is None or other is None:
        return other if lead is None else lead
    return min(lead, other)


def _band(curve: Curve, policy: Policy, today: date) -> Band:
    early, median, late = (curve.day_of(share) for share in (policy.early, 0.5, policy.late))
    return Band(
        early_days=early,
        median_days=median,
        late_days=late,
        early=day_after(today, early),
        median=day_after(today, median),
        late=day_after(today, late),
    )


def _order(
    today: date, early: float | None, lead_time_days: float | None, change_days: float
) -> tuple[date | None, bool]:
    """Order so early that the rope is there, and can be changed, by the early end of the band."""
    if lead_time_days is None or early is None:
        return None, False
    left = early - lead_time_days - change_days
    day = day_after(today, left) if left >= 0 else today
    return day, left <= 0


def _governing(asked: _Question, fits: Sequence[Fit], lead: float | None) -> str:
    """The limit that is most likely to be reached first, at the day the forecast gives."""
    if len(asked.limits) == 1:
        return asked.limits[0].words
    rate = asked.clock.rates()[-1][0]
    at = np.array([asked.now + rate * max(1.0, lead or 0.0)])
    chances = [
        1.0 - float(np.prod([1.0 - one.chance(at, only=number)[0] for one in fits]))
        for number in range(len(asked.limits))
    ]
    return asked.limits[int(np.argmax(chances))].words


def _after_clean_hand_pass(zones: Sequence[Zone], now: float) -> list[Zone]:
    """The zones as they would be after a hand pass today that finds nothing new."""
    return [
        zone
        if zone.gone or now <= 0
        else replace(zone, looks=(*zone.looks, Look(clock=now, method="feel")))
        for zone in zones
    ]
