"""Which inspections and findings count on a date, and which earlier ones are a question.

The latest finished thorough inspection and everything after it is the evidence.  Steel does not
heal: a finding of an earlier inspection stays evidence until it was found again at least as
grave; where its place was looked at and it was not found, or only a milder one, it stays and is
a question.  Nothing that was cut off counts any more.  A shift check does not replace a thorough
inspection.  Parts are repaired: a finding on a part stays until the part was examined again.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from typing import Any, Final

from ropewright.geometry import Section, union
from ropewright.inspection.again import SAME_PLACE_M, count_now, is_as_grave, is_same_kind
from ropewright.inspection.compared import Compared
from ropewright.inspection.coverage import covered
from ropewright.inspection.dossier import Dossier
from ropewright.inspection.experience import Comparison
from ropewright.inspection.findings import (
    BrokenWires,
    Damage,
    DiameterReading,
    MetallicLoss,
    Method,
    PartFinding,
    PartKind,
    RopeFinding,
    Waviness,
)
from ropewright.inspection.inspection import Inspection

#: What must have been seen before an earlier finding on a part is taken for put right.
ITEMS_OF_PARTS: Final[Mapping[PartKind, tuple[str, ...]]] = {
    "sheave": ("sheaves",),
    "drum": ("drum",),
    "rope clamp": ("drum anchorage",),
    "wedge socket": ("end A fitting", "end B fitting"),
    "swivel": ("end A fitting", "end B fitting"),
    "pin": ("end A fitting", "end B fitting"),
    "end fitting": ("end A fitting", "end B fitting"),
    "hook block": ("hook block",),
    "rope roller": ("rubbing points",),
    "rope guide": ("rope guide",),
    "equaliser": ("equaliser",),
    "limit switch": ("limit switches",),
    "load sensor sheave": ("load sensor sheave",),
    "spooling": ("spooling",),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """A finding with the inspection that made it."""

    finding: RopeFinding
    inspection: Inspection


@dataclass(frozen=True, slots=True, kw_only=True)
class PartSeen:
    """A finding on a part with the inspection that made it."""

    finding: PartFinding
    inspection: Inspection


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """An earlier finding that is not answered by what came after it.

    ``answer`` is what a person said became of it: the question is closed, the count stays.
    """

    earlier: Seen
    why: str
    answer: Comparison | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """What counts on a date.

    ``base`` is the latest thorough inspection, ``later`` what came after it, ``seen`` the
    findings that count, ``questions`` earlier findings that vanished or shrank, ``cut_off``
    findings on rope that is no longer there.
    """

    as_of: date
    base: Inspection | None
    later: tuple[Inspection, ...]
    past: tuple[Inspection, ...]
    seen: tuple[Seen, ...]
    parts: tuple[PartSeen, ...]
    questions: tuple[Question, ...]
    cut_off: tuple[Seen, ...]
    service: Section
    _of_kind: Mapping[type, tuple[Any, ...]] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Put the findings that count under their kinds."""
        of_kind: dict[type, list[tuple[RopeFinding, Inspection]]] = {}
        for one in self.seen:
            of_kind.setdefault(type(one.finding), []).append((one.finding, one.inspection))
        object.__setattr__(
            self, "_of_kind", {kind: tuple(found) for kind, found in of_kind.items()}
        )

    @property
    def current(self) -> tuple[Inspection, ...]:
        """The base inspection and all later ones, oldest first."""
        return (() if self.base is None else (self.base,)) + self.later

    @property
    def latest(self) -> Inspection | None:
        """The inspection whose coverage is judged: the base, else the newest of any kind."""
        if self.base is not None:
            return self.base
        return self.later[-1] if self.later else None

    def broken_wires(self) -> tuple[tuple[BrokenWires, Inspection], ...]:
        """Clusters of broken wires that count."""
        return self._of_kind.get(BrokenWires, ())

    def diameters(self) -> tuple[tuple[DiameterReading, Inspection], ...]:
        """Diameter readings that count."""
        return self._of_kind.get(DiameterReading, ())

    def waves(self) -> tuple[tuple[Waviness, Inspection], ...]:
        """Waves that count."""
        return self._of_kind.get(Waviness, ())

    def metallic_losses(self) -> tuple[tuple[MetallicLoss, Inspection], ...]:
        """Losses found by a magnetic rope test that count."""
        return self._of_kind.get(MetallicLoss, ())

    def damage(self) -> tuple[tuple[Damage, Inspection], ...]:
        """Damage that counts."""
        return self._of_kind.get(Damage, ())


def evidence_on(dossier: Dossier, as_of: date) -> Evidence:
    """Sort out what counts on a date.

    Inspections after ``as_of`` do not exist yet, unfinished ones count with what they found
    but are never the base.  Inspections of one day keep the order of the record.
    """
    past = sorted((one for one in dossier.inspections if one.on <= as_of), key=lambda one: one.on)
    places = [number for number, one in enumerate(past) if one.is_thorough and one.finished]
    base_at = places[-1] if places else -1
    base, later = past[base_at] if places else None, past[base_at + 1 :]

    service = Section(*dossier.history.at(as_of).in_service)
    said = [one for one in dossier.comparisons if one.on <= as_of]
    sorting = _Sorting(past, max(base_at, 0), _baseline(dossier), service, Compared(said))
    return Evidence(
        as_of=as_of,
        base=base,
        later=tuple(later),
        past=tuple(past),
        seen=tuple(sorting.seen),
        parts=tuple(_parts(past, max(base_at, 0))),
        questions=tuple(sorting.questions),
        cut_off=tuple(sorting.cut_off),
        service=service,
    )


def _baseline(dossier: Dossier) -> Fraction:
    reference = dossier.installation.reference
    measured = None if reference is None else reference.measured_mm
    return dossier.rope.nominal_diameter_mm if measured is None else measured


class _Sorting:
    """Puts every finding where it belongs, the current ones first, then the newest."""

    def __init__(
        self,
        past: Sequence[Inspection],
        first_current: int,
        baseline_mm: Fraction,
        service: Section,
        compared: Compared,
    ) -> None:
        self._compared = compared
        self._baseline_mm = baseline_mm
        self._service = service
        self._past = past
        self._first_current = first_current
        self._covered: dict[tuple[int, tuple[Method, ...]], tuple[Section, ...]] = {}
        self.seen: list[Seen] = []
        self.questions: list[Question] = []
        self.cut_off: list[Seen] = []
        #: Every finding's section, worked out once; findings are told apart by themselves.
        self._sections = {id(one): one.section for done in past for one in done.findings}
        order = [*range(first_current, len(past)), *reversed(range(first_current))]
        for number in order:
            for finding in past[number].findings:
                self._put(Seen(finding=finding, inspection=past[number]), number)

    def _put(self, one: Seen, number: int) -> None:
        finding = one.finding
        place = self._sections[id(finding)]
        around, near_to = place.widened(finding.place.abs_err_m), place.widened(SAME_PLACE_M)
        if not around.overlaps(self._service):
            self.cut_off.append(one)
            return
        is_old = number < self._first_current
        named: list[RopeFinding] = []
        near: list[RopeFinding] = []
        for inspection in self._past[number + 1 :]:
            says = [f for f in inspection.findings if self._compared.is_named(finding, f)]
            here = [
                f
                for f in (inspection.findings if is_old else ())
                if is_same_kind(finding, f)
                and near_to.overlaps(self._sections[id(f)])
                and not self._compared.is_apart(finding, f)
            ]
            if self._is_answered(finding, says, here):
                return
            named, near = says or named, here or near  # the newest word counts
        if isinstance(finding, DiameterReading):
            self.seen.append(one)  # readings scatter: a thicker one is no question
            return
        by: tuple[Method, ...] = ("mrt",) if isinstance(finding, MetallicLoss) else ("eye", "feel")
        looked_at = is_old and self._looked_at(around, place, number, by)
        if looked_at and not named and not near and not place.overlaps(self._service):
            self.cut_off.append(one)  # only its error reached the rope that is left
            return
        self.seen.append(one)
        if named or near:
            self._ask(one, _milder(finding, named or near))
        elif looked_at:
            self._ask(one, "its place was looked at and it was not found")

    def _ask(self, one: Seen, why: str) -> None:
        """Note a question, with its answer if a person gave one that the record bears out."""
        answer = self._compared.fate_of(one.finding)
        if answer is not None and answer.fate == "cut away":
            why = f"{why}; {answer.words}, but no cut on record covers its place"
            answer = None
        self.questions.append(Question(earlier=one, why=why, answer=answer))

    def _is_answered(
        self, finding: RopeFinding, says: Sequence[RopeFinding], here: Sequence[RopeFinding]
    ) -> bool:
        """Whether one later inspection by itself has all of it again, by name or by place."""
        by_name = bool(says) and is_as_grave(
            finding, says, by_name=True, baseline_mm=self._baseline_mm
        )
        return by_name or (
            bool(here) and is_as_grave(finding, here, by_name=False, baseline_mm=self._baseline_mm)
        )

    def _looked_at(
        self, around: Section, place: Section, number: int, by: tuple[Method, ...]
    ) -> bool:
        """Whether a later finished thorough inspection went over all of the place by a method."""
        if not place.overlaps(self._service):
            place = Section(
                max(around.from_m, self._service.from_m), min(around.to_m, self._service.to_m)
            )
        return any(
            piece.contains(place)
            for done in range(number + 1, self._first_current + 1)
            for piece in self._went_over(done, by)
        )

    def _went_over(self, number: int, by: tuple[Method, ...]) -> tuple[Section, ...]:
        asked = (number, by)
        if asked not in self._covered:
            done = self._past[number]
            counts = done.is_thorough and done.finished
            self._covered[asked] = union(
                [one for way in by for one in covered(done, way)] if counts else ()
            )
        return self._covered[asked]


def _milder(finding: RopeFinding, later: Sequence[RopeFinding]) -> str:
    if all(one.kind != finding.kind for one in later):
        return f"it is called {later[-1].kind} now"
    if isinstance(finding, BrokenWires):
        return f"{finding.count} were counted then and {count_now(finding, later)} now"
    return "it was graver then than it is said to be now"


def _parts(past: Sequence[Inspection], first_current: int) -> list[PartSeen]:
    current = [
        PartSeen(finding=part, inspection=one)
        for one in past[first_current:]
        for part in one.part_findings
    ]
    kept = [
        PartSeen(finding=part, inspection=past[number])
        for number in reversed(range(first_current))
        for part in past[number].part_findings
        if not _examined_since(part, past[number + 1 : first_current + 1])
    ]
    return current + kept


def _examined_since(part: PartFinding, later: Sequence[Inspection]) -> bool:
    """Whether a later finished thorough inspection saw the part."""
    items = ITEMS_OF_PARTS[part.part]
    return any(
        one.is_thorough
        and one.finished
        and all(one.item_state(item) in ("seen", "not fitted") for item in items)
        and any(one.item_state(item) == "seen" for item in items)
        for one in later
    )
