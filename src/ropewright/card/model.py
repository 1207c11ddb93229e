"""What a field card is made of."""

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from ropewright.card.cautions import Caution
from ropewright.card.drums import CardDrum
from ropewright.card.last_time import LastTime
from ropewright.card.maps import NoMap, PlaceMap
from ropewright.geometry import ExposedSection, Exposure, ReadingErrors, Travel
from ropewright.inspection import Crane, Event, Inspection, Mark
from ropewright.inspection.evidence import PartSeen
from ropewright.plan import InspectionPlan, LookAgain
from ropewright.rope import PathMap
from ropewright.rules import ResolvedLimit, Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class RopeOnCard:
    """The rope: diameters [mm], ``wires`` [-] that count; ``lay_mm`` [mm] if measured."""

    rope_id: str
    hoist: str
    purpose: str
    construction: str
    diameter_mm: Fraction
    reference_mm: Fraction | None
    outer_strands: int | None
    wires: int | None
    lay_mm: Fraction | None
    rotation_resistant: bool | None


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkOnCard:
    """A mark, and how it comes in front of a person again."""

    mark: Mark
    again: LookAgain | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldCard:
    """One rope, ready to be taken where nobody can be asked.

    ``book_head`` is the hash of the logbook it was made from, ``rules_hash`` that of all rules on
    it.  ``plan_missing`` says why there is no plan or no map.  ``told`` is what the last shift
    leaves open beside holds and marks.
    """

    made_on: date
    expires_on: date
    invented: bool
    book_head: str
    rules_hash: str
    software: str
    crane: Crane
    rope: RopeOnCard
    path: PathMap
    elsewhere: Exposure
    zones: tuple[ExposedSection, ...]
    limits: tuple[ResolvedLimit, ...]
    place_maps: tuple[PlaceMap, ...]
    not_mapped: tuple[NoMap, ...]
    travel: Travel | None
    readings: ReadingErrors | None
    by_payout: bool
    drums: tuple[CardDrum, ...]
    plan: InspectionPlan | None
    plan_missing: str
    marks: tuple[MarkOnCard, ...]
    last_time: tuple[LastTime, ...]
    parts: tuple[PartSeen, ...]
    last: Inspection | None
    unfinished: tuple[Inspection, ...]
    verdict: Verdict
    events: tuple[Event, ...]
    told: tuple[str, ...]
    cautions: tuple[Caution, ...]
