"""What the trend figure shows: what was known when, what may come, and the dates that follow."""

from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Final

import numpy as np

from ropewright.forecast._numeric import Floats
from ropewright.forecast.fitting import Fit, fit
from ropewright.forecast.nearest import fullest_zone, nearest_limit
from ropewright.forecast.of_dossier import RopeForecast
from ropewright.forecast.record import record_of_rope
from ropewright.forecast.zone import Limit, Zone
from ropewright.inspection import Dossier
from ropewright.inspection.findings import CLOSENESS, Method

#: So many looks get an estimate of what they left unseen; older ones only their count.
_MOST_LOOKS: Final = 24
_STEPS: Final = 24
_SHARES: Final = (0.05, 0.5, 0.95)


@dataclass(frozen=True, slots=True, kw_only=True)
class SeenThen:
    """One past day of looking at the zone: what was known in the evening, what may be unseen.

    ``known`` [-] is the most known broken wires in one window of the limit, ``new`` [-] how many
    more than before, ``unseen`` [-] the expected number left unseen there, ``None`` where the
    model does not hold.  ``closer`` says that the way of looking was closer than before.
    """

    on: date
    method: Method
    known: int
    new: int
    unseen: float | None
    closer: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class CourseDay:
    """Broken wires in the fullest window on a day to come: low, middle and high count [-]."""

    on: date
    low: int
    middle: int
    high: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ChanceDay:
    """The chance [-] that a limit has been passed by a day."""

    on: date
    chance: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TrendFigure:
    """Everything the trend figure is drawn from; days are dates whatever the clock.

    ``begins`` is the first day shown: fitting, or some time before the first look of an old rope.
    ``limit`` [-] is the count of the limit that is nearest, in ``window`` (words).
    ``alpha`` [-] is the chance of passing it that is taken before the next look.
    """

    rope_id: str
    title: str
    invented: bool
    fitted_on: date
    begins: date
    as_of: date
    ends: date
    where: str
    limit: int
    window: str
    limit_words: str
    looks: tuple[SeenThen, ...]
    course: tuple[CourseDay, ...]
    chances: tuple[ChanceDay, ...]
    alpha: float
    headline: str
    why: str
    next_inspection: date | None
    bounded_by: str
    order_by: date | None
    order_now: bool
    decide: tuple[str, ...]
    early: date | None
    middle: date | None
    late: date | None
    back_test: str


def trend_of(dossier: Dossier, found: RopeForecast) -> TrendFigure:
    """The trend figure of a forecast.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    found
        Its forecast.
    """
    result, record = found.forecast, found.record
    zones = (*record.zones, *record.apart)
    limit = nearest_limit(zones, found.limits, result.governing)
    zone = fullest_zone(zones, limit)
    has_model = result.curve is not None and zone not in record.apart
    fits = _group_fit(found, zone) if has_model else None
    begins = _begins(found, zone)
    ends = _ends(found, begins)
    band = result.band
    return TrendFigure(
        rope_id=dossier.rope.rope_id,
        title=dossier.title,
        invented=dossier.invented,
        fitted_on=record.clock.fitted_on,
        begins=begins,
        as_of=result.as_of,
        ends=ends,
        where=(zone.name or "the rope") if zone.known else "anywhere on the rope",
        limit=limit.count,
        window=f"{limit.window_d:g} d",
        limit_words=limit.words,
        looks=_looks(dossier, found, zone, limit, with_model=has_model),
        course=() if fits is None else _course(found, fits, zone, limit, ends),
        chances=_chances(found, ends),
        alpha=result.alpha,
        headline=result.headline,
        why=result.because,
        next_inspection=result.next_inspection,
        bounded_by=result.bounded_by,
        order_by=result.order_by,
        order_now=result.order_now,
        decide=result.decide,
        early=None if band is None else band.early,
        middle=None if band is None else band.median,
        late=None if band is None else band.late,
        back_test=found.score.words,
    )


def _begins(found: RopeForecast, zone: Zone) -> date:
    """The first day shown: fitting, unless long years without a look would squeeze the rest."""
    fitted, as_of = found.record.clock.fitted_on, found.forecast.as_of
    first = min((look.on for look in zone.looks if look.on is not None), default=fitted)
    before, after = (first - fitted).days, (as_of - first).days
    return fitted if before <= 2 * after else first - timedelta(days=max(14, after // 3))


def _ends(found: RopeForecast, begins: date) -> date:
    """The last day shown: past the dates that matter, but no farther than the past is long."""
    result = found.forecast
    past = (result.as_of - begins).days
    band = result.band
    days = [60.0, 0.2 * past]
    for one in (result.next_inspection, result.order_by):
        if one is not None:
            days.append(1.15 * (one - result.as_of).days)
    if band is not None and band.early_days is not None:
        days.append(1.3 * band.early_days)
        if band.median_days is not None and band.median_days <= 3 * band.early_days:
            days.append(1.15 * band.median_days)
    return result.as_of + timedelta(days=int(min(max(days), max(731.0, past))) + 1)


def _group_fit(found: RopeForecast, zone: Zone) -> tuple[Fit, int]:
    """The fit of the zones that share what they teach with this one, and its number there."""
    if zone.known:
        group = [one for one in found.record.zones if one.known and one.exposure == zone.exposure]
    else:
        group = [zone]
    marked = all(one.marked for one in group if one.known)
    prior = found.forecast.prior if marked else found.forecast.prior.without_marks()
    return fit(group, found.limits, prior), group.index(zone)


def _looks(
    dossier: Dossier, found: RopeForecast, zone: Zone, limit: Limit, *, with_model: bool
) -> tuple[SeenThen, ...]:
    looks: list[SeenThen] = []
    before, closest = 0, 0
    by_day = {look.on: look for look in zone.looks if look.on is not None}
    days = sorted(by_day)
    for number, on in enumerate(days):
        record = record_of_rope(dossier, on, same=found.same, clock=found.record.clock)
        same_zone = [
            one
            for one in (*record.zones, *record.apart)
            if one.overlaps(zone) or (not zone.known and not one.known)
        ]
        known = max((one.most_in(limit.window_d) for one in same_zone), default=0)
        # what was known once stays known
        known = max(known, before)
        unseen = None
        if with_model and number >= len(days) - _MOST_LOOKS:
            unseen = _unseen_then(found, zone, by_day[on].clock)
        look = by_day[on]
        rank = CLOSENESS[look.method]
        looks.append(
            SeenThen(
                on=on, method=look.method, known=known, new=known - before, unseen=unseen,
                closer=bool(looks) and rank > closest,
            )
        )  # fmt: skip
        before, closest = known, max(closest, rank)
    return tuple(looks)


def _unseen_then(found: RopeForecast, zone: Zone, clock: float) -> float:
    looks = tuple(look for look in zone.looks if look.clock <= clock)
    then = replace(zone, looks=looks, places_d=None)
    prior = found.forecast.prior if zone.marked else found.forecast.prior.without_marks()
    return fit([then], found.limits, prior).unseen / zone.windows


def _course(
    found: RopeForecast, fits: tuple[Fit, int], zone: Zone, limit: Limit, ends: date
) -> tuple[CourseDay, ...]:
    """Quantiles of the count in the fullest window, day by day, up to the last day shown."""
    fitted, number = fits
    result, clock = found.forecast, found.record.clock
    now = clock.at(result.as_of)
    whole = (ends - result.as_of).days
    days = np.unique(np.round(np.linspace(0.0, whole, _STEPS)))
    known = zone.most_in(limit.window_d)
    most = max(int(1.6 * limit.count) + 1, known + 2)
    reached = np.zeros((most + 1, days.size))
    reached[: known + 1] = 1.0
    for count in range(known + 1, most + 1):
        asked = Limit(count=count, window_d=limit.window_d)
        for rate, weight in clock.rates():
            reached[count] += weight * fitted.chance_of(now + rate * days, asked, zone=number)
    quantiles = [_quantile(reached, share) for share in _SHARES]
    return tuple(
        CourseDay(
            on=result.as_of + timedelta(days=int(day)),
            low=int(quantiles[0][place]),
            middle=int(quantiles[1][place]),
            high=int(quantiles[2][place]),
        )
        for place, day in enumerate(days)
    )


def _quantile(reached: Floats, share: float) -> Floats:
    """The smallest count that is not passed with this chance [-], for each day."""
    counts: Floats = (reached > 1.0 - share).sum(axis=0) - 1.0
    return np.maximum.accumulate(np.maximum(counts, 0.0))


def _chances(found: RopeForecast, ends: date) -> tuple[ChanceDay, ...]:
    curve, as_of = found.forecast.curve, found.forecast.as_of
    if curve is None:
        return ()
    last = float((ends - as_of).days)
    days = np.unique(np.round(np.linspace(0.0, last, 2 * _STEPS)))
    chances = [curve.at(float(day)) for day in days]
    return tuple(
        ChanceDay(on=as_of + timedelta(days=int(day)), chance=chance)
        for day, chance in zip(days, chances, strict=True)
    )
