"""What each kind of entry holds, where no core type says it all."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from fractions import Fraction
from typing import Any, Literal

from ropewright.geometry import Section
from ropewright.inspection import (
    BrokenWires,
    Conditions,
    Damage,
    DiameterReading,
    ExaminedItem,
    HiddenSection,
    Instrument,
    MetallicLoss,
    PartFinding,
    Pass,
    Person,
    Release,
    UnseenAcceptance,
    Waviness,
)
from ropewright.inspection.inspection import InspectionKind
from ropewright.logbook.codec import PersonId
from ropewright.rope import Rope
from ropewright.rope.rope import LayHand, LayType
from ropewright.rules import Level


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """The head of a rope's page: title, people, and whether its data are invented."""

    title: str = ""
    invented: bool = False
    people: tuple[Person, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class RopeStated:
    """The rope without its certificate; ``first_length_m`` is where its history begins."""

    rope: Rope
    first_length_m: float


# --- An inspection ----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class InspectionBegun:
    """Somebody began to inspect: who, what kind, under what conditions."""

    inspection_id: str
    kind: InspectionKind
    on: date
    by: tuple[Person, ...] = ()
    conditions: Conditions = field(default_factory=Conditions)
    after_event: str | None = None
    next_by: date | None = None
    remark: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PassMade:
    """Rope was run past a person."""

    inspection_id: str
    what: Pass


@dataclass(frozen=True, slots=True, kw_only=True)
class HiddenFound:
    """A section could not be seen."""

    inspection_id: str
    what: HiddenSection


@dataclass(frozen=True, slots=True, kw_only=True)
class UnseenAccepted:
    """Somebody accepts that a section was not seen."""

    inspection_id: str
    what: UnseenAcceptance


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemExamined:
    """A place or part was looked at, or not."""

    inspection_id: str
    what: ExaminedItem


@dataclass(frozen=True, slots=True, kw_only=True)
class InstrumentUsed:
    """A measuring instrument was used."""

    inspection_id: str
    what: Instrument


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingMade:
    """Damage, a wave or a loss of metal was found."""

    inspection_id: str
    what: Waviness | Damage | MetallicLoss


@dataclass(frozen=True, slots=True, kw_only=True)
class ClusterCounted:
    """Broken wires were counted at one place."""

    inspection_id: str
    what: BrokenWires


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingTaken:
    """A diameter was measured."""

    inspection_id: str
    what: DiameterReading


@dataclass(frozen=True, slots=True, kw_only=True)
class PartFindingMade:
    """Something was found on a part."""

    inspection_id: str
    what: PartFinding


@dataclass(frozen=True, slots=True, kw_only=True)
class InspectionFinished:
    """The inspection is finished; it may not be signed yet."""

    inspection_id: str
    next_by: date | None = None
    remark: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class InspectionSigned:
    """A person signed; the report is kept under its hash, with the seal it carried."""

    inspection_id: str
    by: PersonId
    report_sha256: str = ""
    seal: str = ""
    software: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoTaken:
    """A photo by the hash of its original; ``scale_in_frame``: a scale or gauge is in it."""

    sha256: str
    media_type: str
    size_bytes: int
    finding_id: str = ""
    inspection_id: str = ""
    taken_at: datetime | None = None
    scale_in_frame: bool | None = None
    caption: str = ""


# --- Work on the rope -------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Reterminated:
    """An end was made anew."""

    end: Literal["A", "B"]
    fitting: str
    tail_mm: Fraction | None = None
    remark: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Respooled:
    """The rope was wound anew."""

    tension: str = ""
    wraps_from: str = ""
    remark: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lubricated:
    """The rope was dressed."""

    lubricant: str
    section: Section | None = None
    cleaned_first: bool | None = None
    remark: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReZeroed:
    """The hook's zero moved: climbing, other falls, another block, a cut."""

    why: Literal["climbing", "falls changed", "block changed", "rope cut", "other"]
    zero_moved_m: float | None = None
    remark: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitOverridden:
    """A limit switch was bridged by an authorised person."""

    override_id: str
    which: str
    by: PersonId
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitReset:
    """The limit works again and was tried."""

    override_id: str
    tried: bool
    remark: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """The rope is out of use until somebody releases it."""

    hold_id: str
    on: date
    reason: str
    section: Section | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Released:
    """A hold or an event is released by name, on named evidence."""

    of: str
    release: Release


# --- What people were told and decided --------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class WarningShown:
    """A warning stood before somebody."""

    warning_id: str
    words: str
    to: PersonId | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WarningDismissed:
    """Somebody put a warning aside, with a reason."""

    warning_id: str
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class VerdictAccepted:
    """A person took note of a verdict, with what it was made from."""

    level: Level
    as_of: date
    sentence: str
    by: PersonId
    assessment_sha256: str = ""
    software: str = ""
    rules: Mapping[str, Any] | None = None
    remark: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class HandoverTaken:
    """The next shift took note of open marks, holds and overrides."""

    by: PersonId
    told: tuple[str, ...] = ()
    remark: str = ""


# --- A new rope, an old rope ------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """What a new rope is ordered by; whatever is not known stays out and is asked for."""

    order_id: str
    length_m: float | None = None
    diameter_mm: Fraction | None = None
    tolerance: str = ""
    construction: str = ""
    lay_hand: LayHand | None = None
    lay_type: LayType | None = None
    core: str = ""
    plastic_core: bool | None = None
    compacted: bool | None = None
    grade_n_per_mm2: Fraction | None = None
    breaking_force_kn: Fraction | None = None
    finish: str = ""
    lubricant: str = ""
    end_a: str = ""
    end_b: str = ""
    certificate_type: str = ""
    reel: str = ""
    reel_mass_kg: Fraction | None = None
    reel_bore_mm: Fraction | None = None
    spooling_direction: str = ""
    needed_by: date | None = None
    lead_weeks: Fraction | None = None
    remark: str = ""
    by: PersonId | None = None
    purpose: str = ""
    rotation_resistant: bool | None = None
    drum_grooving: str = ""
    drum_hand: str = ""
    deliver_to: str = ""
    length_steps: tuple[str, ...] = ()
    to_fill: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderChecked:
    """A second person went over the order."""

    order_id: str
    by: PersonId
    agrees: bool
    remark: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class FittingStepSaid:
    """A step of fitting a new rope: done, or not right; ``begin`` opens it and names the order."""

    step: str
    by: PersonId
    done: bool
    values: Mapping[str, str] = field(default_factory=dict)
    remark: str = ""
    order_of: str = ""
    order_id: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SpareStored:
    """A rope lies in store; a spare ages too."""

    where: str
    reel: str = ""
    reel_turned_on: date | None = None
    remark: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class RopeTakenOff:
    """The rope was taken off its hoist."""

    why: str
    went_to: Literal["scrap", "store", "sample", "other"] = "scrap"
    remark: str = ""
