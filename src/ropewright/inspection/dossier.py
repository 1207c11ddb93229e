"""The dossier: everything that is known of one rope on one hoist, frozen."""

from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Final, Literal, TypeAlias

from ropewright.geometry import ExposedSection, RopePlace, Section
from ropewright.inspection.experience import Comparison, InnerCount, StoredForecast, Trial
from ropewright.inspection.findings import DiameterReading
from ropewright.inspection.inspection import Inspection, Person
from ropewright.inspection.rigged import (
    CalibrationReading,
    DrumFacts,
    ReadingErrorFacts,
    ReevingFacts,
    ToleranceFacts,
    TravelFacts,
    WorkPlace,
)
from ropewright.inspection.set_up import SetUpMeasure
from ropewright.rope import Rope, RopeHistory

CraneKind: TypeAlias = Literal[
    "trolley-jib tower crane",
    "luffing-jib tower crane",
    "telescopic crane",
    "lattice-boom crane",
    "bridge crane",
    "gantry crane",
    "other",
]
CRANE_KINDS: Final[tuple[CraneKind, ...]] = (
    "trolley-jib tower crane", "luffing-jib tower crane", "telescopic crane",
    "lattice-boom crane", "bridge crane", "gantry crane", "other",
)  # fmt: skip

EventKind: TypeAlias = Literal[
    "shock load", "slack rope", "jumped sheave", "two-block", "power line", "lightning",
    "overload", "welding", "snag", "re-rigged", "other",
]  # fmt: skip
EVENT_KINDS: Final[tuple[EventKind, ...]] = (
    "shock load", "slack rope", "jumped sheave", "two-block", "power line", "lightning",
    "overload", "welding", "snag", "re-rigged", "other",
)  # fmt: skip

RopeUse: TypeAlias = Literal["running", "standing"]
MechanismClass: TypeAlias = Literal["M1", "M2", "M3", "M4", "M5", "M6", "M7", "M8"]
MECHANISM_CLASSES: Final[tuple[MechanismClass, ...]] = (
    "M1", "M2", "M3", "M4", "M5", "M6", "M7", "M8",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Crane:
    """The crane and its site, as far as the report needs them."""

    crane_id: str
    kind: CraneKind = "other"
    site: str = ""
    site_address: str = ""
    zone: str = ""
    owner: str = ""
    owner_address: str = ""
    safe_working_load: str = ""
    built: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rigging:
    """Dated set-up of the rope's path; each datum may be absent until an answer needs it.

    ``drum_wraps_per_layer`` [-] and ``dead_wraps`` [-] count wraps.
    """

    valid_from: date
    falls: int | None = None
    drum_layers: Literal["single", "multi"] | None = None
    drum_grooving: Literal["smooth", "helical", "parallel"] | None = None
    drum_diameter_mm: Fraction | None = None
    drum_wraps_per_layer: float | None = None
    dead_wraps: float | None = None
    sheaves: Literal["steel", "plastic"] | None = None
    sheave_diameter_mm: Fraction | None = None
    hook_low_m: float | None = None
    hook_high_m: float | None = None
    remark: str = ""
    reeving: ReevingFacts | None = None
    drum: DrumFacts | None = None
    travel: TravelFacts | None = None
    points: tuple[WorkPlace, ...] = ()
    readings: tuple[CalibrationReading, ...] = ()
    tolerance: ToleranceFacts | None = None
    reading_error: ReadingErrorFacts | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ReferenceDiameter:
    """Diameter measured after running in, on rope that does not bend; belongs to the installation.

    ``readings`` are pairs at right angles; ``measured_mm`` is the mean of their means [mm].
    """

    on: date
    readings: tuple[DiameterReading, ...]
    tension: str = ""

    @property
    def measured_mm(self) -> Fraction | None:
        """Mean of the measured diameters [mm]; ``None`` while any pair is incomplete."""
        values = [reading.measured_mm for reading in self.readings]
        if not values or any(value is None for value in values):
            return None
        return sum((value for value in values if value is not None), Fraction(0)) / len(values)


@dataclass(frozen=True, slots=True, kw_only=True)
class Permission:
    """A choice that a rule permits and a person has made: recorded, named, dated."""

    rule_set: str
    permission: str
    by: str
    on: date
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Confirmation:
    """A named person held a clause against an own copy of the standard: it agrees, or not."""

    rule_set: str
    clause_id: str
    by: str
    edition: str
    on: date
    agrees: bool
    remark: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Installation:
    """One rope on one hoist from a date."""

    hoist: str
    fitted_on: date | None = None
    use: RopeUse = "running"
    purpose: str = "hoist"
    persons_lifted: bool | None = None
    mechanism_class: MechanismClass | None = None
    exposed: tuple[ExposedSection, ...] = ()
    working: Section | None = None
    drum_wrap_length_m: float | None = None
    reference: ReferenceDiameter | None = None
    rules: tuple[str, ...] = ()
    permissions: tuple[Permission, ...] = ()
    confirmed: tuple[Confirmation, ...] = ()
    set_up: tuple[SetUpMeasure, ...] = ()
    interval_days: int | None = None
    interval_by: str = ""
    lubricant: str = ""
    idle_since: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Release:
    """A named person lets the rope back into service after an event, on named evidence."""

    by: str
    on: date
    evidence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """Something happened that may have hurt the rope: it is on hold until released."""

    event_id: str
    kind: EventKind
    on: date
    section: Section | None = None
    remark: str = ""
    release: Release | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """Tape or paint with a name, beside the damage, at a rope position."""

    name: str
    place: RopePlace
    made_of: str = ""
    on: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Dossier:
    """Everything known of one rope on one hoist; consumed by every decision.

    ``comparisons`` are what persons said of findings of two inspections, ``opened`` what was
    broken inside once the rope was opened, ``trials`` how well breaks are found, ``forecasts``
    what was forecast before.
    """

    crane: Crane
    rope: Rope
    installation: Installation
    history: RopeHistory
    rigging: tuple[Rigging, ...] = ()
    marks: tuple[Mark, ...] = ()
    events: tuple[Event, ...] = ()
    inspections: tuple[Inspection, ...] = ()
    people: tuple[Person, ...] = ()
    invented: bool = False
    title: str = ""
    comparisons: tuple[Comparison, ...] = ()
    opened: tuple[InnerCount, ...] = ()
    trials: tuple[Trial, ...] = ()
    forecasts: tuple[StoredForecast, ...] = ()

    def rigging_at(self, on: date) -> Rigging | None:
        """The set-up in force on a date, ``None`` if none is known."""
        known = [rigging for rigging in self.rigging if rigging.valid_from <= on]
        return max(known, key=lambda rigging: rigging.valid_from) if known else None
