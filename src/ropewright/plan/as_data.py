"""A plan as plain data for JSON: places in metres, nothing left out."""

from dataclasses import fields, is_dataclass
from datetime import date
from typing import Any

from ropewright.plan.model import InspectionPlan


def plan_as_data(plan: InspectionPlan) -> dict[str, Any]:
    """The whole plan as plain data, in a fixed order."""
    made: dict[str, Any] = {"plan": 1, **_plain(plan)}
    return made


def _plain(value: object) -> Any:  # noqa: ANN401 - JSON values of any kind
    if isinstance(value, bool) or value is None or isinstance(value, int | str):
        return value
    if isinstance(value, float):
        return round(value, 3)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, tuple):
        return [_plain(one) for one in value]
    if is_dataclass(value) and not isinstance(value, type):
        return {
            one.name: _plain(held)
            for one in fields(value)
            if (held := getattr(value, one.name)) not in (None, "", ())
        }
    raise TypeError(f"no plain form for {type(value).__name__}")
