"""An inspection: who, when, how, what was covered, what stayed hidden, what was found."""

from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Final, Literal, TypeAlias

from ropewright.errors import InputError
from ropewright.geometry import Section
from ropewright.inspection.findings import Method, PartFinding, RopeFinding

InspectionKind: TypeAlias = Literal[
    "shift", "monthly", "periodic", "annual", "after-event", "after-idle", "first"
]
INSPECTION_KINDS: Final[tuple[InspectionKind, ...]] = (
    "shift", "monthly", "periodic", "annual", "after-event", "after-idle", "first",
)  # fmt: skip

#: Kinds that look over the whole rope; a shift check does not replace one of them.
THOROUGH_KINDS: Final[frozenset[InspectionKind]] = frozenset(INSPECTION_KINDS) - {"shift"}

ItemState: TypeAlias = Literal["seen", "not seen", "not fitted"]
ITEM_STATES: Final[tuple[ItemState, ...]] = ("seen", "not seen", "not fitted")

#: Places and parts that rules ask to be examined, in trade words.
ITEMS: Final[tuple[str, ...]] = (
    "end A fitting", "end B fitting", "drum anchorage", "drum", "spooling", "sheaves",
    "hook block", "equaliser", "load sensor sheave", "crossovers", "flange points",
    "pick-up points", "rubbing points", "hot places", "rope guide", "limit switches",
    "reverse bends", "falls untwisted", "hidden parts", "lubrication", "rope over sheaves",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """A person of an inspection.  The role is enough; the rest stands in the report if given."""

    role: str
    name: str = ""
    qualification: str = ""
    competence: Literal["competent", "qualified", "trained", "unknown"] = "unknown"
    certificate: str = ""
    certificate_expires: date | None = None
    employer: str = ""
    address: str = ""
    independent: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Pass:
    """Rope run past a person by one method; covers a section of rope."""

    method: Method
    section: Section
    point: str = ""
    hook_from_m: float | None = None
    hook_to_m: float | None = None
    rope_speed_m_per_s: float | None = None
    remark: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class HiddenSection:
    """A section whose wires cannot be seen: under grease, in the clamp, behind a guard."""

    section: Section
    cause: str = "grease"


@dataclass(frozen=True, slots=True, kw_only=True)
class UnseenAcceptance:
    """A named person accepts that a section was not seen, until a date; it stays on record."""

    section: Section
    by: str
    until: date
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ExaminedItem:
    """One place or part that a rule asks for, and whether it was seen."""

    item: str
    state: ItemState
    remark: str = ""

    def __post_init__(self) -> None:
        if self.item not in ITEMS:
            raise InputError(field="item", expected=f"one of {', '.join(ITEMS)}", given=self.item)


@dataclass(frozen=True, slots=True, kw_only=True)
class Instrument:
    """A measuring instrument with its calibration."""

    name: str
    kind: str
    resolution_mm: Fraction | None = None
    calibrated_on: date | None = None
    calibration_due: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Conditions:
    """Under what conditions was looked: light, weather, wind, cleaned, lubricant, tension."""

    light: str = ""
    weather: str = ""
    wind: str = ""
    rope_cleaned: bool | None = None
    grease: Literal["none", "thin", "right", "too much", "hides the wires", "unknown"] = "unknown"
    tension: str = ""
    remark: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Inspection:
    """One inspection of one rope."""

    inspection_id: str
    kind: InspectionKind
    on: date
    by: tuple[Person, ...] = ()
    finished: bool = True
    passes: tuple[Pass, ...] = ()
    hidden: tuple[HiddenSection, ...] = ()
    accepted: tuple[UnseenAcceptance, ...] = ()
    examined: tuple[ExaminedItem, ...] = ()
    conditions: Conditions = Conditions()
    instruments: tuple[Instrument, ...] = ()
    findings: tuple[RopeFinding, ...] = ()
    part_findings: tuple[PartFinding, ...] = ()
    next_by: date | None = None
    after_event: str | None = None
    remark: str = ""
    signed_by: str = ""

    def __post_init__(self) -> None:
        seen: set[str] = set()
        for finding in (*self.findings, *self.part_findings):
            if finding.finding_id in seen:
                raise InputError(
                    field="finding.id",
                    expected="each finding to have its own id",
                    given=finding.finding_id,
                )
            seen.add(finding.finding_id)

    @property
    def is_thorough(self) -> bool:
        """Whether this kind looks over the whole rope."""
        return self.kind in THOROUGH_KINDS

    def item_state(self, item: str) -> ItemState | None:
        """State of an examined place or part, ``None`` when nothing is said of it.

        When it is named more than once the worst state counts.
        """
        states = [examined.state for examined in self.examined if examined.item == item]
        for state in ("not seen", "seen", "not fitted"):
            if state in states:
                return state
        return None
