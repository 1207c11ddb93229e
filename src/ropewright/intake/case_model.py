"""The whole case file and its ``[rope]`` table, as strict models."""

import re
from datetime import date
from fractions import Fraction
from typing import Annotated, Final, Literal, TypeAlias

from pydantic import Field

from ropewright.errors import QuantityError
from ropewright.intake.experience_models import (
    ComparisonModel,
    ForecastModel,
    OpenedModel,
    TrialModel,
)
from ropewright.intake.inspection_models import InspectionModel, PersonModel
from ropewright.intake.models import (
    CraneModel,
    EventModel,
    HistoryModel,
    InstallationModel,
    MarkModel,
    Name,
    Strict,
    Text,
    key,
    needed,
    tables,
)
from ropewright.intake.quantities import Force, Length, Stress, quantity_type
from ropewright.intake.rigging_models import RiggingModel
from ropewright.rope import Core, LayHand, LayType
from ropewright.units import parse_length, parse_mass, parse_number

SCHEMA: Final = 1
"""The version of the case file format that is read here."""

_PER_LENGTH: Final = re.compile(r"(.+)/\s*(m|ft)\s*")
_AREA: Final = re.compile(r"([0-9.]+)\s*mm(?:2|²|\^2)\s*")


def _length_mass(given: object) -> Fraction:
    """A mass of one metre [kg/m]."""
    match = _PER_LENGTH.fullmatch(given) if isinstance(given, str) else None
    if match is None:
        raise QuantityError(
            expected='a mass per length such as "1.82 kg/m" or "1.2 lb/ft"', given=given
        )
    return parse_mass(match[1].strip()) / (parse_length(f"1 {match[2]}") / 1000)


def _area(given: object) -> Fraction:
    """An area [mm²]."""
    match = _AREA.fullmatch(given) if isinstance(given, str) else None
    if match is None:
        raise QuantityError(expected='an area such as "222.6 mm2"', given=given)
    return parse_number(match[1])


_mass_type = quantity_type(_length_mass, "a mass per length", ["1.82 kg/m"])
_area_type = quantity_type(_area, "an area", ["222.6 mm2"])
LengthMass: TypeAlias = Annotated[Fraction, *_mass_type]
Area: TypeAlias = Annotated[Fraction, *_area_type]
Whole: TypeAlias = Annotated[int, Field(ge=1, le=100_000)]


class StrandModel(Strict):
    """The make of a rope in numbers, for one that is not in the table, or differs from it."""

    outer_strands: Whole | None = key("number of outer strands", example=16)
    wires_per_outer_strand: Whole | None = key(
        "load-bearing wires in one outer strand, fillers left out", example=7
    )
    load_bearing_outer_wires: Whole | None = key(
        "load-bearing wires in all outer strands together", example=112
    )
    total_wires: Whole | None = key("load-bearing wires of the whole rope")
    thick_outer_wires: bool | None = key("Seale strands of 19 wires or fewer")
    rotation_resistant: bool | None = key("the rope is rotation-resistant")
    compacted: bool | None = key("the strands are compacted")
    core: Core | None = key("what the core is made of", example="steel")


class CertificateModel(StrandModel):
    """What the rope's certificate says; it wins over the table and over ``[rope]``."""

    number: Name | None = key("number of the certificate")
    issued_on: date | None = key("its date")
    breaking_force: Force | None = key("minimum breaking force", example="283 kN")
    grade: Stress | None = key("rope grade", example="1960 N/mm2")
    mass: LengthMass | None = key("mass per length", example="1.82 kg/m")
    metallic_area: Area | None = key("metallic cross-section", example="222.6 mm2")


class RopeModel(StrandModel):
    """The rope as it was first installed."""

    id: Name | None = key("the rope's own id; crane and hoist if not said")
    diameter: Length = needed('the nominal diameter, such as "20 mm"', example="20 mm")
    length: Length = needed('the length as first installed, such as "420 m"', example="420 m")
    construction: Name | None = key("a construction of the table", example="35(W)x7")
    lay_type: LayType | None = key("ordinary lay or Lang lay")
    lay_hand: LayHand | None = key("right-hand or left-hand lay")
    lay_length: Length | None = key("lay length measured on this rope", example="130 mm")
    grade: Stress | None = key("rope grade", example="1960 N/mm2")
    breaking_force: Force | None = key("minimum breaking force", example="283 kN")
    finish: Text | None = key("finish of the wires", example="galvanised")
    plastic: bool | None = key("plastic covers or fills the core")
    rcn: Name | None = key("rope category number from certificate or data sheet", example="23-2")
    certificate: CertificateModel | None = key("what the rope's certificate says")


class CaseModel(Strict):
    """One rope on one hoist, and everything that is known of it."""

    schema_: Literal[1] = needed("schema = 1 at the top", alias="schema")
    title: Text | None = key("a title for the report")
    invented: bool | None = key("true if the data are invented")
    crane: CraneModel | None = key("the crane and its site")
    rigging: list[RiggingModel] = tables("dated set-ups of the rope's path")
    rope: RopeModel = needed("a [rope] table with at least diameter, construction and length")
    installation: InstallationModel = needed("an [installation] table with at least the rules")
    history: list[HistoryModel] = tables("cuts and end-for-end turns")
    mark: list[MarkModel] = tables("marks on the rope")
    event: list[EventModel] = tables("what may have hurt the rope")
    inspection: list[InspectionModel] = tables("inspections of the rope")
    person: list[PersonModel] = tables("people who have to do with the rope")
    comparison: list[ComparisonModel] = tables("findings that a person held against earlier ones")
    opened: list[OpenedModel] = tables("what was broken inside once the rope was opened")
    trial: list[TrialModel] = tables("how much eye and hand found on one day")
    forecast: list[ForecastModel] = tables("forecasts as they were given")
