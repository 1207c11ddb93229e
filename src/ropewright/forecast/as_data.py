"""A forecast as plain data."""

from dataclasses import asdict
from typing import Any

from ropewright.forecast.result import Forecast


def forecast_as_data(result: Forecast) -> dict[str, Any]:
    """Everything a forecast says and rests on, as plain data for JSON."""
    return {
        "forecast": 1,
        "as_of": result.as_of.isoformat(),
        "state": result.state,
        "next_inspection": _day(result.next_inspection),
        "bounded_by": result.bounded_by,
        "missing": list(result.missing),
        "because": result.because,
        "lengthen": result.lengthen,
        "decide": list(result.decide),
        "present_chance": result.present_chance,
        "lead_days": result.lead_days,
        "limit": result.governing,
        "plan_change": result.plan_change,
        "order_by": _day(result.order_by),
        "order_now": result.order_now,
        "band": None
        if result.band is None
        else {
            "early": _day(result.band.early),
            "median": _day(result.band.median),
            "late": _day(result.band.late),
            "early_days": result.band.early_days,
            "median_days": result.band.median_days,
            "late_days": result.band.late_days,
        },
        "unseen": result.unseen,
        "doubling": result.doubling,
        "rows": [asdict(row) for row in result.rows],
        "alpha": result.alpha,
        "policy": asdict(result.policy),
        "prior": asdict(result.prior),
        "version": result.version,
        "curve": None
        if result.curve is None
        else {"days": list(result.curve.days), "chances": list(result.curve.chances)},
    }


def _day(day: object) -> str | None:
    return None if day is None else str(day)
