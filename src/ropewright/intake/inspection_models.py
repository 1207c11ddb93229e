"""The ``[[inspection]]`` tables of a case file and the findings in them, as strict models."""

from datetime import date
from typing import Annotated, Literal, TypeAlias

from pydantic import Field

from ropewright.inspection.findings import BreakSite, DamageKind, Method, PartKind
from ropewright.inspection.inspection import InspectionKind, ItemState
from ropewright.intake.models import (
    Name,
    PlaceModel,
    ReadingModel,
    SectionModel,
    Strict,
    Text,
    key,
    needed,
    tables,
)
from ropewright.intake.quantities import Length, Percent, PlusMinus, Share, Span, Speed
from ropewright.intake.signed_quantities import Height

Count: TypeAlias = Annotated[int, Field(ge=1, le=100_000)]
Strand: TypeAlias = Annotated[int, Field(ge=1, le=100)]


class BreakModel(Strict):
    """Some broken wires of a cluster, placed by tape from its first break."""

    at: Height | None = key(
        "offset from the place of the cluster; toward end A negative", example="14 mm"
    )
    from_: Height | None = key(
        "start of a length over which this count was made, offset", example="0 mm", alias="from"
    )
    to: Height | None = key("end of that length, offset", example="60 mm")
    count: Count | None = key("how many broken wires; one if not said")
    strand: Strand | None = key("number of the strand")
    site: BreakSite | None = key("where on the strand the wire broke")
    protruding: bool | None = key("the end stands out")


class _FindingModel(PlaceModel):
    """What every finding on the rope may say."""

    id: Name | None = key("the finding's own id", example="F1")
    method: Method | None = key("how it was found")
    same_as: Name | None = key("id of the earlier finding that this is again")
    remark: Text | None = key("anything else")
    photos: list[Name] | None = key("names of photo files", example=[["crossover-1.jpg"]])


class BrokenWiresModel(_FindingModel):
    """A cluster of broken wires: a count over a length, or each break by its offset."""

    kind: Literal["broken wires"] = needed("the kind of finding")
    from_: Length | None = key(
        "start of the counted length, rope position", example="23.40 m", alias="from"
    )
    to: Length | None = key("end of the counted length, rope position", example="23.52 m")
    count: Count | None = key("how many broken wires over the length given", example=6)
    over: Span | None = key(
        "the length over which they were counted", example=["120 mm", "6 d", "1 lay"]
    )
    breaks: Annotated[list[BreakModel], Field(min_length=1)] | None = key(
        "each break, or each counted length, with its offset"
    )
    site: BreakSite | None = key("where on the strands the wires broke")
    strand: Strand | None = key("number of the strand, if all are in one")
    protruding: bool | None = key("the ends stand out")
    offset_err: PlusMinus | None = key("error of a taped offset", example="± 2 mm")
    crossover_damage: bool | None = key("the breaks come from crossovers or rubbing wraps")
    ends_broken_off: bool | None = key("ends that stood out were broken off")


class DiameterModel(_FindingModel, ReadingModel):
    """A measured diameter: two readings at right angles at one place."""

    kind: Literal["diameter"] = needed("the kind of finding")
    tension: Text | None = key("under what tension", example="empty hook")
    crushed_by_crossover: bool | None = key("the place is crushed by crossovers")


class _ExtendedModel(_FindingModel):
    """A finding that has a place and may have a length."""

    from_: Length | None = key("start, rope position, instead of a place", alias="from")
    to: Length | None = key("end, rope position")
    length: Length | None = key("how long it is", example="300 mm")


class WavinessModel(_ExtendedModel):
    """A wave: the gap under a straight edge."""

    kind: Literal["waviness"] = needed("the kind of finding")
    gap: Length = needed("the gap between straight edge and rope", example="2 mm")


class DamageModel(_ExtendedModel):
    """Damage that is seen or felt rather than counted."""

    kind: DamageKind = needed("the kind of finding")
    form: Name | None = key("its form, in the words that this kind knows")
    grade: Name | None = key("its grade, in the words that this kind knows")
    rating: Percent | None = key("your own rating toward discard", example="40 %")
    depth: Share | None = key("worn depth as a share of the wire", example="1/3")


class MetallicLossModel(_FindingModel):
    """Metal or strength lost, by a magnetic rope test, over a length from the place on."""

    kind: Literal["metallic loss"] = needed("the kind of finding")
    loss: Percent = needed("how much is lost, as the test states it", example="4.2 %")
    over: Span | None = key("the length the loss is stated for", example=["120 mm", "6 d", "500 d"])
    of: Literal["metallic area", "breaking force"] | None = key(
        "what is lost; metallic area if not said"
    )


FindingModel: TypeAlias = Annotated[
    BrokenWiresModel | DiameterModel | WavinessModel | DamageModel | MetallicLossModel,
    Field(discriminator="kind"),
]


class PartModel(Strict):
    """A finding on a part that the rope meets."""

    id: Name | None = key("the finding's own id")
    part: PartKind = needed("the kind of part")
    which: Name = needed("which one", example="jib head sheave")
    state: Name = needed("what is wrong, in the words that this part knows")
    measured: dict[Name, Span] | None = key(
        "what was measured, by name", example=[{"gap": "2 mm", "tail": "8 d"}]
    )
    dangerous: bool | None = key("it is, or could become, a danger to persons")
    remark: Text | None = key("anything else")
    photos: list[Name] | None = key("names of photo files")


class PersonModel(Strict):
    """A person of an inspection; the role is enough."""

    role: Name = needed("the person's role", example="rope inspector")
    name: Text | None = key("the person's name")
    qualification: Text | None = key("training or licence")
    competence: Literal["competent", "qualified", "trained", "unknown"] | None = key(
        "in the words of the rules"
    )
    certificate: Text | None = key("number of the certificate")
    certificate_expires: date | None = key("the date it expires")
    employer: Text | None = key("who employs the person")
    address: Text | None = key("the employer's address")
    independent: bool | None = key("independent of whoever runs the crane")


class PassModel(SectionModel):
    """Rope run past a person by one method."""

    method: Method = needed("the method of this pass")
    point: Text | None = key("where the person stood", example="tower head platform")
    hook_from: Length | None = key("hook height at the start", example="2 m")
    hook_to: Length | None = key("hook height at the end", example="60 m")
    rope_speed: Speed | None = key("speed of the rope", example="0.25 m/s")
    remark: Text | None = key("anything else")


class HiddenModel(SectionModel):
    """A section whose wires cannot be seen."""

    cause: Name | None = key("what hides it; grease if not said", example="grease")


class AcceptedModel(SectionModel):
    """A named person accepts that a section was not seen, until a date."""

    by: Name = needed("who accepts it, by role or name")
    until: date = needed("until when")
    reason: Name = needed("why")


class ItemModel(Strict):
    """One place or part that a rule asks for."""

    item: Name = needed("the place or part, in the words of the list")
    state: ItemState = needed("seen, not seen or not fitted")
    remark: Text | None = key("anything else")


class InstrumentModel(Strict):
    """A measuring instrument with its calibration."""

    name: Name = needed("the instrument's own name", example="caliper 1")
    kind: Name = needed("what it is", example="wide-jaw caliper")
    resolution: Length | None = key("smallest step it shows", example="0.05 mm")
    calibrated_on: date | None = key("last calibration")
    calibration_due: date | None = key("next calibration")


class ConditionsModel(Strict):
    """Under what conditions was looked."""

    light: Text | None = key("light", example="daylight")
    weather: Text | None = key("weather", example="dry")
    wind: Text | None = key("wind", example="4 m/s")
    rope_cleaned: bool | None = key("the rope was cleaned first")
    grease: Literal["none", "thin", "right", "too much", "hides the wires", "unknown"] | None = key(
        "how much grease"
    )
    tension: Text | None = key("tension in the rope", example="empty hook")
    remark: Text | None = key("anything else")


class InspectionModel(Strict):
    """One inspection of the rope."""

    id: Name | None = key("the inspection's own id; its date if not said")
    kind: InspectionKind = needed("the kind of inspection")
    on: date = needed("the date of the inspection, such as 2026-11-09")
    finished: bool | None = key("false while it is still going on")
    before_changes: bool | None = key("true if it came before a cut or turn of the same day")
    next_by: date | None = key("latest date of the next one")
    after_event: Name | None = key("for an inspection after an event: the event's id")
    remark: Text | None = key("anything else")
    signed_by: Text | None = key("who signed it")
    findings_file: Name | None = key(
        "CSV or XLSX with more findings, beside this file", example="findings.csv"
    )
    seen: list[Name] | None = key("places and parts that were seen", example=[["drum"]])
    not_seen: list[Name] | None = key("places and parts that were not seen")
    not_fitted: list[Name] | None = key("places and parts that this crane has not")
    conditions: ConditionsModel | None = key("under what conditions was looked")
    person: list[PersonModel] = tables("who took part")
    instrument: list[InstrumentModel] = tables("what was measured with")
    pass_: list[PassModel] = tables("rope run past a person by one method", alias="pass")
    hidden: list[HiddenModel] = tables("sections whose wires cannot be seen")
    accepted: list[AcceptedModel] = tables("unseen sections that somebody accepts")
    item: list[ItemModel] = tables("places and parts, one by one with remarks")
    finding: list[FindingModel] = tables("findings on the rope")
    part: list[PartModel] = tables("findings on parts")
