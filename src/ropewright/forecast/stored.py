"""Forecasts kept in the record: as they were given, and held against what came."""

from collections.abc import Mapping, Sequence
from datetime import date
from fractions import Fraction

from ropewright.forecast.back_test import Outcome, Recommendation
from ropewright.forecast.clock import Clock
from ropewright.forecast.nearest import nearest_limit
from ropewright.forecast.record import record_of_rope
from ropewright.forecast.result import Forecast
from ropewright.forecast.zone import Limit, Zone
from ropewright.inspection import BrokenWires, Dossier, StoredForecast


def to_store(
    result: Forecast,
    zones: Sequence[Zone],
    limits: Sequence[Limit],
    *,
    software: str = "",
    by: str = "",
) -> StoredForecast:
    """A forecast in the form that is kept: with priors, chance taken and version.

    Parameters
    ----------
    result
        The forecast.
    zones
        The zones it was made from.
    limits
        The limits it was made with.
    software
        Name and version of the program.
    by
        Who takes it into the record.
    """
    limit = nearest_limit(zones, limits, result.governing)
    curve, until = result.curve, result.next_inspection
    chance = None
    if curve is not None and until is not None:
        chance = _short(curve.at(float((until - result.as_of).days)))
    return StoredForecast(
        made_on=result.as_of,
        state=result.state,
        until=until,
        order_by=result.order_by,
        chance_now=None if curve is None else _short(curve.now),
        chance=chance,
        alpha=_short(result.alpha),
        limit=limit.count,
        window_d=_short(limit.window_d),
        governing=limit.words,
        bounded_by=result.bounded_by,
        life_days=_short(result.prior.life),
        life_from=result.prior.life_from,
        model=result.version,
        priors=result.prior.version,
        software=software,
        by=by,
    )


def _short(value: float) -> Fraction:
    """The number ``value`` [-] in six digits, exactly as it will be shown."""
    return Fraction(f"{min(value, 1e9):.6g}")


def stored_outcomes(
    dossier: Dossier, today: date, *, same: Mapping[str, str], clock: Clock
) -> tuple[Outcome, ...]:
    """What came of every forecast in the record that gave a date.

    The first day after it on which the rope was thoroughly looked at decides.  A look before the
    named day is held against the chance up to that look; one after it is the planner's, not the
    forecast's, and stays open.  A shift check can show that the limit was passed, never that it
    was not.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    today
        Later looks do not exist yet.
    same
        Later finding id to earlier finding id.
    clock
        The clock of the record.
    """
    past = [one for one in dossier.inspections if one.on <= today]
    looks = sorted({one.on for one in past if one.is_thorough})
    checks = sorted(
        {
            one.on
            for one in past
            if not one.is_thorough and any(isinstance(each, BrokenWires) for each in one.findings)
        }
    )
    outcomes = []
    for made in dossier.forecasts:
        if made.made_on > today or made.until is None or made.chance is None:
            continue
        after = next((on for on in looks if on > made.made_on), None)
        passed, chance = None, float(made.chance)
        if after is not None and after <= made.until:
            chance = _chance_until(made, after)
            passed = _is_passed(dossier, made, after, same=same, clock=clock)
        else:
            within = (on for on in checks if made.made_on < on <= made.until)
            shown = (on for on in within if _is_passed(dossier, made, on, same=same, clock=clock))
            if (found_on := next(shown, None)) is not None:
                after, passed, chance = found_on, True, _chance_until(made, found_on)
        outcomes.append(
            Outcome(
                made=Recommendation(
                    made_on=made.made_on, until=made.until, chance=chance,
                    alpha=float(made.alpha), version=made.model, prior_version=made.priors,
                ),
                passed=passed,
                looked_on=after,
            )
        )  # fmt: skip
    return tuple(outcomes)


def _chance_until(made: StoredForecast, on: date) -> float:
    """The stated chance up to a day before the one it was stated for, along a straight line."""
    whole = (made.until - made.made_on).days if made.until is not None else 0
    now, then = float(made.chance_now or 0), float(made.chance or 0)
    return then if whole <= 0 else now + (then - now) * (on - made.made_on).days / whole


def _is_passed(
    dossier: Dossier, made: StoredForecast, on: date, *, same: Mapping[str, str], clock: Clock
) -> bool:
    record = record_of_rope(dossier, on, same=same, clock=clock)
    window = float(made.window_d)
    return any(zone.most_in(window) >= made.limit for zone in (*record.zones, *record.apart))
