"""Rule sets as data: one published standard or regulation in one edition."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from typing import Final, Literal, TypeAlias

from ropewright.inspection.findings import BreakSite, Method
from ropewright.rules.more_checks import (
    GrowthCheck,
    MeasuredWithinCheck,
    MetallicLossCheck,
    NoLimitCheck,
    SetUpCheck,
    UnjudgedCheck,
)
from ropewright.rules.ruling import Comparison, Level, Provenance
from ropewright.rules.tables import Table

#: The rule set of our own questions, used beside every chosen one.
OWN_CHECKS: Final = "own-checks"

ShareOf: TypeAlias = Literal[
    "outer wires", "all wires", "wires of a strand", "outer wires of a strand"
]


Baseline: TypeAlias = Literal["reference", "nominal", "measured in each third"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """Where figures of a rule set were read."""

    source_id: str
    what: str
    provenance: Provenance


@dataclass(frozen=True, slots=True, kw_only=True)
class When:
    """What must be true of rope and installation for a clause or a column to apply."""

    rotation_resistant: bool | None = None
    constructions: tuple[str, ...] = ()
    mechanism: tuple[str, ...] = ()
    diameter_over_mm: Fraction | None = None
    diameter_up_to_mm: Fraction | None = None
    drum_layers: Literal["single", "multi"] | None = None
    grooving: tuple[str, ...] = ()
    use: Literal["running", "standing"] | None = None
    lay_type: Literal["ordinary", "lang"] | None = None
    core: tuple[str, ...] = ()
    persons_lifted: bool | None = None
    purposes: tuple[str, ...] = ()
    zone: Literal["single", "multi"] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column of a printed table and when it is the one to read."""

    column: str
    when: When
    doubled_by: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BreakCheck:
    """Broken wires in a window: ``limit`` [-], or ``share`` [%] of some wires, or a table."""

    sites: tuple[BreakSite, ...]
    window: str
    compare: Comparison
    per: Literal["rope", "strand"] = "rope"
    where: Literal["anywhere", "at an end", "not at an end"] = "anywhere"
    limit: Fraction | None = None
    share: Fraction | None = None
    share_of: ShareOf | None = None
    rounding: Literal["up", "none"] = "none"
    table: Table | None = None
    columns: tuple[Column, ...] = ()
    thick_rows_up: int = 0
    steel_sheaves_only: bool = False
    protruding_only: bool = False
    wear_factors: Table | None = None
    rated: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class BunchedCheck:
    """Breaks bunched in neighbouring strands of a length that does not spool."""

    strands: int
    window: str
    least: int


@dataclass(frozen=True, slots=True, kw_only=True)
class DiameterCheck:
    """Diameter lost or gained, against a baseline, in percent or millimetres."""

    change: Literal["decrease", "increase"]
    baseline: Baseline
    compare: Comparison
    limit_percent: Fraction | None = None
    limit_mm: Fraction | None = None
    percent_of: Literal["nominal", "baseline"] = "nominal"
    table: Table | None = None
    columns: tuple[Column, ...] = ()
    steps: Table | None = None
    except_crushed: bool = False
    local_only: bool = False
    rated: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class WaveCheck:
    """Gap of a wave against ``share_of_diameter`` [-] of the nominal diameter."""

    share_of_diameter: Fraction
    section_bends: bool
    compare: Comparison


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundCheck:
    """Damage that counts as soon as it is found; forms and grades may narrow it."""

    findings: tuple[str, ...]
    forms: tuple[str, ...] = ()
    grades: tuple[str, ...] = ()
    on_bending_rope: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class GradedCheck:
    """Damage with printed grades; ``ratings`` [%] toward discard by grade."""

    finding: str
    forms: tuple[str, ...]
    ratings: Mapping[str, Fraction]
    limit_percent: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class WornWireCheck:
    """Outer wires worn by ``share`` [-] of their diameter."""

    share: Fraction
    compare: Comparison


@dataclass(frozen=True, slots=True, kw_only=True)
class EventCheck:
    """An event that by itself takes the rope out, wherever it touched."""

    events: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PartCheck:
    """Findings on parts."""

    parts: tuple[str, ...]
    states: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CoverageCheck:
    """What must be seen, by any of the ways; ``extra_wraps`` [-] beyond the working length."""

    of: Literal["whole rope", "working length"]
    by: tuple[tuple[Method, ...], ...]
    extra_wraps: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemsCheck:
    """Places and parts that must have been examined."""

    items: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingsCheck:
    """Diameter pairs that must have been taken."""

    places: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PersonCheck:
    """Who must have inspected."""

    competence: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class GreaseCheck:
    """Lubricant that hides the rope from inspection."""


@dataclass(frozen=True, slots=True, kw_only=True)
class IntervalCheck:
    """An inspection of certain kinds must not be older than an interval.

    ``if_broken``: the interval holds only while a broken wire is on record.
    """

    kinds: tuple[str, ...]
    months: int | None = None
    days: int | None = None
    stated: bool = False
    if_broken: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class IdleCheck:
    """After standing idle for longer than some time, inspect before use."""

    months: int
    kinds: tuple[str, ...]
    compare: Comparison = "more than"


@dataclass(frozen=True, slots=True, kw_only=True)
class AfterEventCheck:
    """After an event: an inspection, and a release, before the rope works again."""

    kinds: tuple[str, ...]
    needs_release: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class CombinedCheck:
    """Ratings of different kinds at one place, added up."""

    limit_percent: Fraction
    window: str


@dataclass(frozen=True, slots=True, kw_only=True)
class VanishedCheck:
    """An earlier finding that was not found again though its place was looked at."""


@dataclass(frozen=True, slots=True, kw_only=True)
class UnnamedCheck:
    """A finding that no clause of the chosen rules speaks of."""


Check: TypeAlias = (
    BreakCheck
    | BunchedCheck
    | DiameterCheck
    | WaveCheck
    | FoundCheck
    | GradedCheck
    | WornWireCheck
    | EventCheck
    | PartCheck
    | CoverageCheck
    | ItemsCheck
    | ReadingsCheck
    | PersonCheck
    | GreaseCheck
    | IntervalCheck
    | IdleCheck
    | AfterEventCheck
    | CombinedCheck
    | VanishedCheck
    | UnnamedCheck
    | MetallicLossCheck
    | NoLimitCheck
    | SetUpCheck
    | MeasuredWithinCheck
    | GrowthCheck
    | UnjudgedCheck
)

#: Checks that ask whether the inspection was complete, not whether the rope is worn.
COMPLETENESS_CHECKS: Final = (
    CoverageCheck, ItemsCheck, ReadingsCheck, PersonCheck, IntervalCheck, IdleCheck,
    AfterEventCheck, VanishedCheck, SetUpCheck, MeasuredWithinCheck,
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Clause:
    """One clause: what it checks, what it demands, where it is printed, who read it there."""

    clause_id: str
    title: str
    clause: str
    clause_provenance: Provenance
    provenance: Provenance
    source: str
    check: Check
    demand: Level
    remedy: tuple[str, ...]
    who: str
    by_when: str
    when: When = When()
    at: tuple[str, ...] = ()
    needed_at: tuple[str, ...] = ()
    in_force_from: date | None = None
    in_force_to: date | None = None
    note: str = ""

    @property
    def counts_over_the_rope(self) -> bool:
        """Whether it counts broken wires on the crown over all strands, clear of the ends."""
        check = self.check
        return (
            isinstance(check, BreakCheck)
            and "crown" in check.sites
            and check.per == "rope"
            and check.where != "at an end"
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class PermissionRule:
    """A choice the rule permits, once a named person records it; ``factor`` [-] on the limits."""

    permission_id: str
    title: str
    clause: str
    clause_provenance: Provenance
    provenance: Provenance
    source: str
    factor: Fraction
    mechanism_classes: tuple[str, ...]
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Duty:
    """What a rule set demands to be done and kept, by inspection kind.

    ``every`` and ``keep`` are the words of the rule; ``months`` and ``days`` are the interval
    that a due date is worked out from, ``keep_months`` how long the record is kept.  ``kinds``
    are the inspections that fulfil it, ``after`` the events that call for it.
    """

    duty_id: str
    kind: str
    title: str
    who: str
    every: str
    record: str
    keep: str
    clause: str
    clause_provenance: Provenance
    provenance: Provenance
    source: str
    months: int | None = None
    days: int | None = None
    keep_months: int | None = None
    kinds: tuple[str, ...] = ()
    after: tuple[str, ...] = ()
    when: When = When()


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleSet:
    """One published standard or regulation in one edition, or a house rule."""

    rule_set_id: str
    title: str
    short: str
    edition: str
    in_force_from: date | None
    in_force_to: date | None
    notice: str
    rules_hash: str
    sources: tuple[Source, ...]
    clauses: tuple[Clause, ...]
    permissions: tuple[PermissionRule, ...] = ()
    duties: tuple[Duty, ...] = ()
    tables: Mapping[str, Table] = field(default_factory=dict)
    template: bool = False

    def source(self, source_id: str) -> Source:
        """The source with an id (the loader makes sure that it exists)."""
        return next(one for one in self.sources if one.source_id == source_id)
