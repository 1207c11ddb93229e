"""The tables of a case file, as strict models: crane, rigging, rope, installation, history.

Each key carries the words that an error uses for it and that the published JSON Schema shows.
Findings and inspections have their models in ``inspection_models``.
"""

from collections.abc import Sequence
from datetime import date
from typing import Annotated, Any, Literal, TypeAlias

from pydantic import BaseModel, ConfigDict, Field

from ropewright.geometry.exposure import DrumLayers, SheaveKind
from ropewright.inspection.dossier import CraneKind, EventKind, MechanismClass, RopeUse
from ropewright.inspection.set_up import HowKnown
from ropewright.intake.quantities import Length, PlusMinus

MAX_TEXT = 4000

Text: TypeAlias = Annotated[str, Field(max_length=MAX_TEXT)]
Name: TypeAlias = Annotated[str, Field(min_length=1, max_length=200)]


def key(words: str, *, example: object = None, alias: str | None = None) -> Any:  # noqa: ANN401
    """A key that may be left out, with the words for it."""
    return Field(default=None, description=words, alias=alias, examples=_examples(example))


def needed(words: str, *, example: object = None, alias: str | None = None) -> Any:  # noqa: ANN401
    """A key that must be there, with the words for it."""
    return Field(description=words, alias=alias, examples=_examples(example))


def tables(words: str, *, alias: str | None = None) -> Any:  # noqa: ANN401
    """A list of tables that may be empty."""
    return Field(default_factory=list, description=words, alias=alias)


def _examples(example: object) -> list[Any] | None:
    if example is None:
        return None
    many = isinstance(example, Sequence) and not isinstance(example, str)
    return list(example) if many else [example]  # type: ignore[call-overload]


class Strict(BaseModel):
    """A table of the file: known keys only, no silent conversion."""

    model_config = ConfigDict(strict=True, extra="forbid", frozen=True)


class PlaceModel(Strict):
    """One place, by rope position or by today's path position, with its two errors."""

    at: Length | None = key("rope position: length from end A as first installed", example="23.4 m")
    at_path: Length | None = key(
        "path position: length along today's path from end A's fitting", example="23.4 m"
    )
    at_err: PlusMinus | None = key(
        "how far off this place and all others of the same pass may be together",
        example="± 1 m",
    )
    between_err: PlusMinus | None = key(
        "how far off this place may be against others of the same pass", example="± 20 mm"
    )


class SectionModel(Strict):
    """A section, by rope position, by today's path position, or the whole rope."""

    from_: Length | None = key("start of the section, rope position", alias="from")
    to: Length | None = key("end of the section, rope position")
    from_path: Length | None = key("start of the section, path position of that day")
    to_path: Length | None = key("end of the section, path position of that day")
    whole: Literal[True] | None = key("true for the whole rope")


class CraneModel(Strict):
    """The crane and its site."""

    id: Name | None = key("the crane's name or number", example="KQ-1")
    kind: CraneKind | None = key("the kind of crane")
    site: Text | None = key("name of the site")
    site_address: Text | None = key("address of the site")
    zone: Text | None = key("time zone of the site", example="Europe/Lisbon")
    owner: Text | None = key("who owns the crane, by role or name")
    owner_address: Text | None = key("the owner's address")
    safe_working_load: Text | None = key("safe working load as marked", example="8 t")
    built: Text | None = key("year or date of building", example="2019")


class HistoryModel(Strict):
    """One change to the rope after it was fitted."""

    kind: Literal["cut", "end-for-end"] = needed("what was done")
    on: date = needed("the date of the change, such as 2026-03-14")
    end: Literal["A", "B"] | None = key("for a cut: the end that was cut")
    length: Length | None = key("for a cut: the length cut off", example="6.2 m")
    remark: Text | None = key("why, and by whom")


class MarkModel(PlaceModel):
    """Tape or paint with a name, beside the damage."""

    name: Name = needed("the mark's name", example="7")
    made_of: Text | None = key("what it is made of", example="blue paint")
    on: date | None = key("when it was put there")


class ReleaseModel(Strict):
    """A named person lets the rope back into service."""

    by: Name = needed("who released the rope, by role or name")
    on: date = needed("the date of the release")
    evidence: Name = needed("on what evidence, such as an inspection's id")


class EventModel(SectionModel):
    """Something happened that may have hurt the rope."""

    id: Name | None = key("the event's own id")
    kind: EventKind = needed("what happened")
    on: date = needed("the date it happened")
    remark: Text | None = key("what is known of it")
    release: ReleaseModel | None = key("who let the rope back into service")


class ExposureModel(SectionModel):
    """What one section of rope meets in service."""

    drum: DrumLayers | None = key("does it spool, and in how many layers")
    sheaves: SheaveKind | None = key("what sheaves it runs over")
    crossover: bool | None = key("the whole section lies in a crossover or flange zone")
    near_end: bool | None = key("it lies at an end fitting")
    bends: bool | None = key("it runs over a sheave or spools")


class ReadingModel(PlaceModel):
    """A pair of diameter readings at right angles."""

    readings: Annotated[list[Length], Field(min_length=1, max_length=2)] = needed(
        "two diameters at right angles", example=[["20.4 mm", "20.3 mm"]]
    )
    instrument: Name | None = key("what it was measured with")
    remark: Text | None = key("anything else")


class ReferenceReadingModel(ReadingModel):
    """A pair of readings of the reference measurement."""

    id: Name | None = key("the reading's own id")
    tension: Text | None = key("under what tension, if not as the others")


class ReferenceModel(Strict):
    """The reference diameter, measured after running in, on rope that does not bend."""

    on: date = needed("the date of the measurement")
    tension: Text | None = key("under what tension", example="empty hook")
    reading: Annotated[list[ReferenceReadingModel], Field(min_length=1)] = needed(
        "at least one [[installation.reference.reading]] with readings at right angles"
    )


class PermissionModel(Strict):
    """A choice that a rule permits and a person has made."""

    rule_set: Name = needed("the rule set that permits it")
    permission: Name = needed("the name of the permission")
    by: Name = needed("who chose it, by role or name")
    on: date = needed("the date of the choice")
    reason: Name = needed("why")


class ConfirmedModel(Strict):
    """A clause that a person held against an own copy of the standard."""

    rule_set: Name = needed("the rule set it stands in", example="iso-4309-2017")
    clause: Name = needed("the clause's own name there", example="rr-breaks-6d")
    by: Name = needed("who looked, by role or name")
    edition: Name = needed("what copy it was held against", example="own copy of the 2017 edition")
    on: date = needed("the date of it")
    agrees: bool = needed("true if the copy says the same, false if it does not")
    remark: Text | None = key("what the copy says, if it differs")


class SetUpModel(Strict):
    """A figure or a word of the set-up: drum, sheaves, spooling, end fittings."""

    measure: Name = needed("what it is, in the words of the list", example="fleet angle")
    value: Name = needed(
        "its value with unit, or its word", example=["1.5 deg", "18 d", "3 wraps", "yes"]
    )
    how: HowKnown | None = key("how it is known; stated if not said")
    on: date | None = key("the date it was measured")
    which: Name | None = key("of which part", example="jib head sheave")


class InstallationModel(Strict):
    """One rope on one hoist from a date."""

    hoist: Name | None = key("the hoist's name", example="hoist")
    fitted_on: date | None = key("the date the rope was fitted")
    use: RopeUse | None = key("does it run; running if not said")
    purpose: Name | None = key("what the rope does", example=["hoist", "trolley", "luffing"])
    persons_lifted: bool | None = key("whether persons are lifted")
    mechanism_class: MechanismClass | None = key("class of the mechanism")
    rules: list[Name] | None = key(
        "the rule sets that govern this rope", example=[["iso-4309-2017"]]
    )
    interval_days: Annotated[int, Field(ge=1, le=3660)] | None = key(
        "longest time between periodic inspections, in days"
    )
    interval_by: Text | None = key("who set that interval")
    lubricant: Text | None = key("the dressing in use")
    idle_since: date | None = key("out of use since")
    drum_wrap_length: Length | None = key("rope in one wrap on the drum", example="1.57 m")
    working: SectionModel | None = key(
        "the section that works in ordinary use", example={"from": "0 m", "to": "400 m"}
    )
    exposure: list[ExposureModel] = tables("what each section of rope meets in service")
    reference: ReferenceModel | None = key("the reference diameter")
    permission: list[PermissionModel] = tables("choices that a rule permits")
    confirmed: list[ConfirmedModel] = tables("clauses held against an own copy of the standard")
    set_up: list[SetUpModel] = tables("figures and words of the set-up")
