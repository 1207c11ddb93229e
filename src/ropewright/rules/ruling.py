"""What a rule says of one section of rope, and what all of them say together."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final, Literal, TypeAlias

from ropewright.geometry import Section

Status: TypeAlias = Literal["below", "reached", "not assessable", "not applicable", "not in force"]
STATUSES: Final[tuple[Status, ...]] = (
    "below", "reached", "not assessable", "not applicable", "not in force",
)  # fmt: skip

Level: TypeAlias = Literal["remove", "decide", "incomplete", "monitor", "clear"]
#: From the gravest to the mildest.
LEVELS: Final[tuple[Level, ...]] = ("remove", "decide", "incomplete", "monitor", "clear")

#: What each level is called on screen and paper.
LEVEL_WORDS: Final[Mapping[Level, str]] = {
    "remove": "remove from service",
    "decide": "competent person to decide",
    "incomplete": "inspection incomplete",
    "monitor": "in service, monitor",
    "clear": "no discard criterion reached",
}

Provenance: TypeAlias = Literal["text", "second-hand", "derived", "reconstructed", "memory", "own"]
PROVENANCES: Final[tuple[Provenance, ...]] = (
    "text", "second-hand", "derived", "reconstructed", "memory", "own",
)  # fmt: skip

Comparison: TypeAlias = Literal["reached", "more than"]
#: What a figure of the set-up may be asked besides: not less than.
AnyComparison: TypeAlias = Literal["reached", "more than", "less than"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step of a derivation: what was taken or worked out, its value, where it comes from."""

    says: str
    value: str
    origin: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What was found: ``lower`` [-] and ``upper`` [-] value, in the unit that ``unit`` names."""

    lower: Fraction
    upper: Fraction
    unit: str

    @property
    def is_exact(self) -> bool:
        """Whether lower and upper value agree."""
        return self.lower == self.upper


@dataclass(frozen=True, slots=True, kw_only=True)
class Ruling:
    """One clause on one section of rope.

    ``share`` [-] is found over ``limit`` [-], with the upper value; ``watch`` is false where it
    is too slight to be watched.  ``rating_percent`` [%] is the
    graded severity that the combined effect adds up.  ``section_err_m`` [m] is the error of
    the section's place.  ``finding_ids`` names the findings it rests on.  ``confirmed`` says who
    held a value from memory against an own copy of the rule; the provenance stays what it was.
    """

    ruling_id: str
    rule_set: str
    rule_title: str
    edition: str
    clause_id: str
    clause: str
    title: str
    status: Status
    provenance: Provenance
    clause_provenance: Provenance
    source: str
    words: str
    compare: AnyComparison | None = None
    baseline: str | None = None
    found: Found | None = None
    limit: Fraction | None = None
    share: Fraction | None = None
    watch: bool = True
    rating_percent: Fraction | None = None
    window: str | None = None
    window_mm: Fraction | None = None
    section: Section | None = None
    section_err_m: float = 0.0
    demand: Level | None = None
    remedy: tuple[str, ...] = ()
    who: str = ""
    by_when: str = ""
    missing: tuple[str, ...] = ()
    how_to_get: tuple[str, ...] = ()
    finding_ids: tuple[str, ...] = ()
    inspection_id: str = ""
    note: str = ""
    steps: tuple[Step, ...] = ()
    rules_hash: str = ""
    confirmed: str = ""

    @property
    def citation(self) -> str:
        """Rule and clause as they are cited, such as ``29 CFR 1926.1413(a)(2)(ii)(B)``."""
        joint = "" if self.clause.startswith("(") else ", "
        return f"{self.rule_title}{joint}{self.clause}"

    @property
    def level(self) -> Level:
        """The level that this ruling alone calls for."""
        if self.status == "reached":
            return self.demand or "decide"
        if self.status == "not assessable":
            return "incomplete"
        if self.status == "below" and self.watch and self.share is not None and self.share > 0:
            return "monitor"
        return "clear"


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """What all rulings together say; the strictest governs."""

    level: Level
    governing: tuple[str, ...]
    on_hold: bool
    hold_reasons: tuple[str, ...]
    remedy: tuple[str, ...]
    who: str
    by_when: str
    sentence: str
    unseen: tuple[Section, ...] = ()
    unseen_whole_rope: bool = False
    felt_only: tuple[Section, ...] = ()
    seen_only: tuple[Section, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleSetUsed:
    """A rule set that took part, with the hash of its files."""

    rule_set: str
    title: str
    edition: str
    rules_hash: str
    why_used: str
    notice: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Assessment:
    """Verdict, every ruling, and what they were made with, on a date."""

    rope_id: str
    as_of: str
    software: str
    verdict: Verdict
    rulings: tuple[Ruling, ...]
    rule_sets: tuple[RuleSetUsed, ...]
    assumptions: tuple[str, ...] = ()
    inspections_used: tuple[str, ...] = ()
    extra: Mapping[str, str] = field(default_factory=dict)

    def ruling(self, ruling_id: str) -> Ruling | None:
        """The ruling with an id, ``None`` if there is none."""
        return next((one for one in self.rulings if one.ruling_id == ruling_id), None)
