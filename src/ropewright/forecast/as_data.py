"""A forecast as plain data, and as the specification of its figure."""

from dataclasses import asdict
from datetime import timedelta
from typing import Any

from ropewright.forecast.result import Forecast
from ropewright.forecast.zone import Limit, Zone


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


def trend_figure(result: Forecast, zone: Zone, limit: Limit) -> dict[str, Any]:
    """The trend figure as a Vega-Lite specification: found so far, chance to come.

    Parameters
    ----------
    result
        A forecast with a curve.
    zone
        The zone to show, on a clock of days.
    limit
        The limit to show as a line.
    """
    running, found = 0, []
    for look in zone.looks:
        running += look.new
        found.append({"day": look.clock, "found": running, "how": look.method})
    now = zone.looks[-1].clock if zone.looks else 0.0
    curve = result.curve
    chances = (
        []
        if curve is None
        else [
            {
                "day": now + days,
                "on": str(result.as_of + timedelta(days=int(days))),
                "chance": 100 * chance,
            }
            for days, chance in zip(curve.days, curve.chances, strict=True)
            if days <= 3653
        ]
    )
    x = {"field": "day", "type": "quantitative", "title": "days since fitting"}
    return {
        "$schema": "https://vega.github.io/schema/vega-lite/v5.json",
        "description": "Broken wires found, and the chance that the limit is passed",
        "vconcat": [
            {
                "width": 520,
                "height": 160,
                "layer": [
                    {
                        "data": {"values": found},
                        "mark": {"type": "line", "interpolate": "step-after", "point": True},
                        "encoding": {
                            "x": x,
                            "y": {
                                "field": "found",
                                "type": "quantitative",
                                "title": "broken wires found",
                            },
                        },
                    },
                    {
                        "data": {"values": [{"limit": limit.count}]},
                        "mark": {"type": "rule", "strokeDash": [6, 4]},
                        "encoding": {"y": {"field": "limit", "type": "quantitative"}},
                    },
                ],
            },
            {
                "width": 520,
                "height": 160,
                "data": {"values": chances},
                "mark": {"type": "line", "point": True},
                "encoding": {
                    "x": x,
                    "y": {
                        "field": "chance",
                        "type": "quantitative",
                        "title": f"chance of {limit.words} in %",
                    },
                },
            },
        ],
    }
