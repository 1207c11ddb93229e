"""The register of everything that is taken for granted, gathered from the rooms."""

from dataclasses import dataclass

from ropewright.card import ASSUMED as CARD_ASSUMPTIONS
from ropewright.desk.ordering_assumed import ORDER_ASSUMPTIONS
from ropewright.forecast import ASSUMED as FORECAST_ASSUMPTIONS
from ropewright.inspection import PLACE_ASSUMPTIONS, Assumption
from ropewright.matching import ASSUMED as MATCHING_ASSUMPTIONS
from ropewright.plan import ASSUMED as PLAN_ASSUMPTIONS
from ropewright.rules import ASSUMPTIONS as RULE_ASSUMPTIONS
from ropewright.wear import ASSUMED as WEAR_ASSUMPTIONS


@dataclass(frozen=True, slots=True, kw_only=True)
class AssumptionGroup:
    """The assumptions of one kind of answer, under a heading."""

    heading: str
    rows: tuple[Assumption, ...]


def assumption_register() -> tuple[AssumptionGroup, ...]:
    """All assumptions, grouped by what they bear on; provenance own, every one."""
    return (
        AssumptionGroup(heading="Rulings and verdict", rows=RULE_ASSUMPTIONS),
        AssumptionGroup(heading="Places on the rope", rows=PLACE_ASSUMPTIONS),
        AssumptionGroup(heading="Plan of an inspection", rows=PLAN_ASSUMPTIONS),
        AssumptionGroup(heading="Field card and phone", rows=CARD_ASSUMPTIONS),
        AssumptionGroup(heading="The same finding as last time", rows=MATCHING_ASSUMPTIONS),
        AssumptionGroup(heading="Forecast and next inspection", rows=FORECAST_ASSUMPTIONS),
        AssumptionGroup(heading="Duty and wear", rows=WEAR_ASSUMPTIONS),
        AssumptionGroup(heading="Order of a new rope", rows=ORDER_ASSUMPTIONS),
    )
