"""Tables of a case file for what was learnt beside an inspection, as strict models."""

from datetime import date
from fractions import Fraction
from typing import Annotated, TypeAlias

from pydantic import Field

from ropewright.inspection import Fate
from ropewright.intake.models import Name, SectionModel, Strict, Text, key, needed
from ropewright.intake.quantities import Length, Number, quantity_type
from ropewright.units import parse_percent

Count: TypeAlias = Annotated[int, Field(ge=0, le=100_000)]


def _chance(given: object) -> Fraction:
    """A chance [-], typed as a percentage."""
    return parse_percent(given) / 100  # type: ignore[arg-type]  # refuses what is not text


Chance: TypeAlias = Annotated[Fraction, *quantity_type(_chance, "a percentage", ["0.2 %"])]


class ComparisonModel(Strict):
    """A person held a finding against an earlier one."""

    earlier: Name | None = key("id of the earlier finding")
    later: Name | None = key("id of the later finding; left out if it was not found again")
    same: bool | None = key("false if the two are not the same; true if not said")
    fate: Fate | None = key("what became of a finding that was not found again")
    by: Name = needed("who compared, by role or name")
    on: date = needed("the date of it")
    reason: Text | None = key("why")


class OpenedModel(SectionModel):
    """A rope was opened after its life."""

    over: Length = needed("the length over which wires were counted", example="120 mm")
    outer: Count = needed("broken wires on the outside there", example=4)
    inner: Count = needed("broken wires inside there", example=9)
    sample: Text | None = key("name of the sample")
    remark: Text | None = key("anything else")
    on: date | None = key("the date it was opened")


class TrialModel(Strict):
    """An eye pass with marks and a hand pass over the same rope on one day."""

    both: Count = needed("broken wires seen and felt again", example=6)
    eye_only: Count = needed("seen but not felt", example=2)
    feel_only: Count = needed("felt but not seen", example=5)
    by: Text | None = key("who looked and felt, by role or name")
    on: date | None = key("the date of it")
    remark: Text | None = key("anything else")


class ForecastModel(Strict):
    """A forecast as it was given, to be held against what came."""

    made_on: date = needed("the date it was made")
    state: Name = needed("what it said, in its own words")
    until: date | None = key("the next inspection it named")
    order_by: date | None = key("the order date it named")
    chance_now: Chance | None = key("stated chance that the limit was reached already")
    chance: Chance | None = key("stated chance that it would be passed by then")
    taken: Chance = needed("the chance that was taken", example="0.2 %")
    limit: Annotated[int, Field(ge=1, le=100_000)] = needed("broken wires of the limit")
    window_d: Number = needed("its window in rope diameters", example="6")
    governing: Text | None = key("the limit in words")
    bounded_by: Text | None = key("what bounded the date")
    life_days: Number = needed("the usual life taken, in days")
    life_from: Text | None = key("where that life came from")
    model: Name = needed("version of the model")
    priors: Name = needed("version of the priors")
    software: Text | None = key("name and version of the program")
    by: Text | None = key("who took it into the record, by role or name")
