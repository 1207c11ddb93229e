"""One call from a dossier to its forecast: what the desk hands in, what it gets back."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta

from ropewright.forecast.back_test import Outcome, Score, back_test, score
from ropewright.forecast.clock import Clock
from ropewright.forecast.forecasting import USUAL, forecast
from ropewright.forecast.prior import Prior
from ropewright.forecast.record import RopeRecord, known_then, record_of_rope
from ropewright.forecast.result import Cap, Forecast, Policy
from ropewright.forecast.stored import stored_outcomes
from ropewright.forecast.zone import Limit
from ropewright.inspection import Dossier


@dataclass(frozen=True, slots=True, kw_only=True)
class RopeForecast:
    """A forecast with the record it was made from and how earlier looks came out.

    ``limits`` and ``same`` (later finding id to earlier finding id) are those it was made with.
    ``outcomes`` are forecasts made anew for earlier looks, ``stored`` those in the record.
    ``notes`` say what was taken.
    """

    forecast: Forecast
    record: RopeRecord
    outcomes: tuple[Outcome, ...]
    limits: tuple[Limit, ...] = ()
    same: Mapping[str, str] = field(default_factory=dict)
    stored: tuple[Outcome, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def score(self) -> Score:
        """How earlier forecasts came out: those in the record if any was judged, else anew."""
        kept = score(self.stored)
        return kept if kept.judged else score(self.outcomes)


def stated_caps(dossier: Dossier, today: date) -> tuple[Cap, ...]:
    """Days by which persons want the next inspection: the stated interval, the last report."""
    past = [one for one in dossier.inspections if one.on <= today and one.is_thorough]
    last = max((one.on for one in past), default=None)
    fitted = dossier.installation.fitted_on
    since = last or fitted
    caps: list[Cap] = []
    days = dossier.installation.interval_days
    if days is not None and since is not None:
        by = dossier.installation.interval_by or "the stated interval"
        caps.append(Cap(until=since + timedelta(days=days), by=by))
    for one in past:
        if one.on == last and one.next_by is not None:
            caps.append(Cap(until=one.next_by, by="the last inspection"))
    return tuple(caps)


def forecast_of(
    dossier: Dossier,
    today: date,
    *,
    limits: Sequence[Limit],
    prior: Prior,
    caps: Sequence[Cap] = (),
    same: Mapping[str, str] | None = None,
    clock: Clock | None = None,
    lead_time_days: float | None = None,
    change_days: float = 0.0,
    policy: Policy = USUAL,
    mostly_inside: bool | None = None,
) -> RopeForecast:
    """Forecast the rope of a dossier.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    today
        The day of the forecast.
    limits
        Broken wires per window by the rules that govern.
    prior
        What is believed before the first look.
    caps
        Intervals of rules and maker; those that persons stated are added.
    same
        Later finding id to earlier finding id, confirmed or matched.
    clock
        Damage from a duty log; days since fitting if not given.
    lead_time_days
        Days from order to delivery of a new rope [days].
    change_days
        Days within which a change can be arranged [days].
    policy
        The chances and times used.
    mostly_inside
        Whether opened ropes of this kind had most of their breaks inside.

    Raises
    ------
    InputError
        If the rope's age is not known.
    """
    record = record_of_rope(dossier, today, same=same, clock=clock)
    situation = replace(record.situation, mostly_inside=bool(mostly_inside))
    result = forecast(
        record.zones,
        limits,
        record.clock,
        prior,
        today,
        caps=(*caps, *stated_caps(dossier, today)),
        situation=situation,
        persons_lifted=dossier.installation.persons_lifted,
        lead_time_days=lead_time_days,
        change_days=change_days,
        policy=policy,
    )
    hot = [zone for zone in record.zones if zone.known]
    courses = [known_then(dossier, record, zone, same=same) for zone in hot]
    outcomes = back_test(courses, limits, record.clock, prior) if result.curve is not None else ()
    return RopeForecast(
        forecast=result,
        record=record,
        outcomes=outcomes,
        limits=tuple(limits),
        same=dict(same or {}),
        notes=(f"clock: {record.clock.words}", *record.notes),
        stored=stored_outcomes(dossier, today, same=same or {}, clock=record.clock),
    )
