"""A plan of duties as plain data: days as texts."""

from datetime import date
from typing import Any

from ropewright.rules.duties import DutyPlan


def duties_as_data(plan: DutyPlan) -> dict[str, Any]:
    """A plan as plain data, ready for JSON; days as texts."""
    return {
        "schema": 1,
        "as_of": plan.as_of.isoformat(),
        "holds": [
            {
                "rule": one.rule,
                "clause": one.clause,
                "words": one.words,
                "missing": list(one.missing),
                "how_to_get": list(one.how_to_get),
            }
            for one in plan.holds
        ],
        "duties": [
            {
                "rule_set": one.rule_set,
                "rule": one.rule,
                "duty": one.duty_id,
                "kind": one.kind,
                "title": one.title,
                "who": one.who,
                "every": one.every,
                "when": one.when,
                "due": _day(one.due),
                "overdue": one.overdue,
                "last_on": _day(one.last_on),
                "last_inspection": one.last_inspection,
                "record": one.record,
                "keep": one.keep,
                "keep_until": _day(one.keep_until),
                "clause": one.clause,
                "provenance": one.provenance,
                "clause_provenance": one.clause_provenance,
            }
            for one in plan.duties
        ],
    }


def _day(day: date | None) -> str | None:
    return None if day is None else day.isoformat()
