"""Which sections were seen or felt, by which method, and which stayed hidden."""

from collections.abc import Iterable
from typing import Final

from ropewright.geometry import Section, subtract, union
from ropewright.inspection.findings import Method
from ropewright.inspection.inspection import Inspection

#: Methods that need the wires to be in sight.
SIGHT_METHODS: Final[frozenset[Method]] = frozenset({"eye", "eye-round"})

#: A stronger method covers what a weaker one asks for.  Looking all round includes one side.
_COVERS: Final[dict[Method, tuple[Method, ...]]] = {
    "eye": ("eye", "eye-round"),
    "eye-round": ("eye-round",),
    "feel": ("feel",),
    "gauge": ("gauge",),
    "internal": ("internal",),
    "mrt": ("mrt",),
}


def covered(inspection: Inspection, method: Method) -> tuple[Section, ...]:
    """Sections covered by a method or a stronger one, without what was hidden from sight."""
    passed = [p.section for p in inspection.passes if p.method in _COVERS[method]]
    if method in SIGHT_METHODS:
        return subtract(passed, [hidden.section for hidden in inspection.hidden])
    return union(passed)


def covered_by_all(inspection: Inspection, methods: Iterable[Method]) -> tuple[Section, ...]:
    """Sections covered by every one of the methods."""
    common: tuple[Section, ...] | None = None
    for method in methods:
        now = covered(inspection, method)
        common = now if common is None else intersection(common, now)
    return common or ()


def intersection(left: Iterable[Section], right: Iterable[Section]) -> tuple[Section, ...]:
    """Sections that both sets share; touching in a point only does not count."""
    shared = [
        Section(max(a.from_m, b.from_m), min(a.to_m, b.to_m))
        for a in union(left)
        for b in union(right)
        if a.from_m < b.to_m and b.from_m < a.to_m
    ]
    return union(shared)


def unseen(inspection: Inspection, whole: Section) -> tuple[Section, ...]:
    """Sections of the rope that no eye and no hand has been over, or only through grease."""
    felt_or_seen = (*covered(inspection, "eye"), *covered(inspection, "feel"))
    return subtract([whole], felt_or_seen)


def felt_only(inspection: Inspection, whole: Section) -> tuple[Section, ...]:
    """Sections of the rope that a hand went over and no eye saw, such as through grease."""
    felt = intersection([whole], covered(inspection, "feel"))
    return subtract(felt, covered(inspection, "eye"))


def seen_only(inspection: Inspection, whole: Section) -> tuple[Section, ...]:
    """Sections of the rope that an eye saw and no hand went over."""
    seen = intersection([whole], covered(inspection, "eye"))
    return subtract(seen, covered(inspection, "feel"))
