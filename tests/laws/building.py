"""Sound dossiers in few words: a good rope, well inspected, on a rigging that is known.

Everything here is invented.  A test takes a sound dossier and changes one thing.
"""

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction
from functools import cache
from typing import Any, get_args

from ropewright.geometry import ExposedSection, Exposure, RopePlace, Section
from ropewright.inspection import (
    ITEMS,
    BreakGroup,
    BrokenWires,
    Conditions,
    Crane,
    Damage,
    DiameterReading,
    Dossier,
    ExaminedItem,
    Inspection,
    Installation,
    PartFinding,
    Pass,
    Person,
    ReferenceDiameter,
    Rigging,
    Waviness,
)
from ropewright.inspection.findings import Method
from ropewright.intake.shelf import PackageShelf
from ropewright.rope import Rope, RopeHistory, StrandNumbers, build_construction
from ropewright.rope.construction import Core
from ropewright.rope.rope import LayType
from ropewright.rules import OWN_CHECKS, Assessment, RuleSet, assess
from ropewright.rules.ruling import Level

LENGTH_M = 200.0
WHOLE = Section(0.0, LENGTH_M)
FITTED = date(2025, 9, 1)
EARLIER = date(2026, 2, 2)
LATEST = date(2026, 3, 2)
TODAY = date(2026, 3, 10)

ISO = "iso-4309-2017"
US = "us-29cfr-1926-1413"

ORDER: tuple[Level, ...] = get_args(Level)  # remove > decide > incomplete > monitor > clear

COMPETENT = Person(role="competent person of the site", competence="competent")
QUALIFIED = Person(role="crane engineer of the site", competence="qualified")


@cache
def rule_set(name: str) -> RuleSet:
    """A rule set of the package."""
    return PackageShelf().get(name)


def judged(dossier: Dossier, *names: str, today: date = TODAY) -> Assessment:
    """Assess with the named rule sets, or the installation's own, and our own checks."""
    chosen = names or dossier.installation.rules
    rules = [rule_set(name) for name in (*chosen, OWN_CHECKS)]
    return assess(dossier, rules, today, software="test")


def level(dossier: Dossier, *names: str, today: date = TODAY) -> Level:
    """The verdict's level."""
    return judged(dossier, *names, today=today).verdict.level


def is_as_strict(after: Level, before: Level) -> bool:
    """Whether a verdict is no milder than another."""
    return ORDER.index(after) <= ORDER.index(before)


# ---- rope and installation -------------------------------------------------------------------


def rope(
    construction: str = "6x36WS",
    *,
    diameter_mm: Fraction = Fraction(20),
    lay_type: LayType | None = "ordinary",
    lay_in_d: Fraction | None = Fraction("6.5"),
    core: Core | None = "steel",
    length_m: float = LENGTH_M,
    **more: Any,
) -> Rope:
    """A rope whose lay has been measured."""
    return Rope(
        rope_id="test rope",
        nominal_diameter_mm=diameter_mm,
        construction=build_construction(name=construction, given=StrandNumbers(core=core)),
        length_m=length_m,
        lay_type=lay_type,
        lay_length_mm=None if lay_in_d is None else lay_in_d * diameter_mm,
        **more,
    )


def pair(
    value_mm: Fraction | str, *, at_m: float = 50.0, name: str = "D1", **more: Any
) -> DiameterReading:
    """Two equal readings at right angles."""
    value = Fraction(value_mm)
    return DiameterReading(
        finding_id=name, place=RopePlace(at_m=at_m), readings_mm=(value, value), **more
    )


def reference(value_mm: Fraction) -> ReferenceDiameter:
    """A reference diameter from one pair."""
    return ReferenceDiameter(on=FITTED, readings=(pair(value_mm, at_m=1.0, name="R1"),))


EXPOSURES = (
    ExposedSection(
        section=Section(0, 2),
        exposure=Exposure(drum="none", sheaves="none", crossover=False, near_end=True, bends=False),
    ),
    ExposedSection(
        section=Section(2, 80),
        exposure=Exposure(
            drum="none", sheaves="steel", crossover=False, near_end=False, bends=True
        ),
    ),
    ExposedSection(
        section=Section(80, 120),
        exposure=Exposure(
            drum="multi", sheaves="steel", crossover=False, near_end=False, bends=True
        ),
    ),
    ExposedSection(
        section=Section(120, 126),
        exposure=Exposure(
            drum="multi", sheaves="steel", crossover=True, near_end=False, bends=True
        ),
    ),
    ExposedSection(
        section=Section(126, 198),
        exposure=Exposure(
            drum="multi", sheaves="steel", crossover=False, near_end=False, bends=True
        ),
    ),
    ExposedSection(
        section=Section(198, 200),
        exposure=Exposure(drum="multi", sheaves="none", crossover=False, near_end=True, bends=True),
    ),
)


# ---- inspections -----------------------------------------------------------------------------


def whole_pass(method: Method) -> Pass:
    """A pass over the whole rope."""
    return Pass(method=method, section=WHOLE)


def inspection(
    kind: Any = "annual", on: date = LATEST, *findings: Any, parts: Any = (), **more: Any
) -> Inspection:
    """An inspection that leaves nothing out; ``more`` changes that."""
    defaults: dict[str, Any] = {
        "inspection_id": f"{kind} {on.isoformat()}",
        "by": (QUALIFIED, COMPETENT),
        "passes": (whole_pass("eye-round"), whole_pass("feel")),
        "examined": tuple(ExaminedItem(item=item, state="seen") for item in ITEMS),
        "conditions": Conditions(grease="right"),
        "next_by": on + timedelta(days=180),
    }
    return Inspection(
        kind=kind, on=on, findings=tuple(findings), part_findings=tuple(parts), **(defaults | more)
    )


def dossier(*inspections: Inspection, the_rope: Rope | None = None, **more: Any) -> Dossier:
    """A dossier of a good rope; without inspections it has one annual one with a reading."""
    used = the_rope or rope()
    reference_mm = used.nominal_diameter_mm * Fraction("1.01")
    if not inspections:
        inspections = (inspection("annual", LATEST, pair(reference_mm)),)
    installed: dict[str, Any] = {
        "hoist": "hoist",
        "fitted_on": FITTED,
        "persons_lifted": False,
        "exposed": EXPOSURES,
        "reference": reference(reference_mm),
        "rules": (ISO, US),
    }
    outer: dict[str, Any] = {}
    for key, value in more.items():
        (outer if key in _DOSSIER_KEYS else installed)[key] = value
    return Dossier(
        crane=Crane(crane_id="test crane", kind="trolley-jib tower crane"),
        rope=used,
        installation=Installation(**installed),
        inspections=tuple(inspections),
        **({"history": RopeHistory(original_length_m=used.length_m)} | _rigged() | outer),
    )


_DOSSIER_KEYS = frozenset({"history", "rigging", "marks", "events", "people"})


def _rigged() -> dict[str, Any]:
    return {"rigging": (Rigging(valid_from=FITTED, falls=2, drum_layers="multi", sheaves="steel"),)}


# ---- findings --------------------------------------------------------------------------------


def breaks(
    *offsets_mm: float | str | Fraction,
    at_m: float = 50.0,
    name: str = "B1",
    count: int = 1,
    site: Any = "crown",
    length_mm: float | str | Fraction = 0,
    place: RopePlace | None = None,
    strands: tuple[int | None, ...] = (),
    **more: Any,
) -> BrokenWires:
    """A cluster with a group at each offset; single breaks lie in strands 1, 3, 5, 1 ..."""
    numbers = strands or tuple(
        1 + 2 * step % 6 if count == 1 else None for step in range(len(offsets_mm))
    )
    return BrokenWires(
        finding_id=name,
        place=place or RopePlace(at_m=at_m),
        groups=tuple(
            BreakGroup(
                from_mm=Fraction(str(offset)),
                to_mm=Fraction(str(offset)) + Fraction(str(length_mm)),
                count=count,
                site=site,
                strand=strand,
            )
            for offset, strand in zip(offsets_mm, numbers, strict=True)
        ),
        **more,
    )


def damage(what: Any, *, at_m: float = 50.0, name: str = "X1", **more: Any) -> Damage:
    """Damage at a place."""
    return Damage(finding_id=name, place=RopePlace(at_m=at_m), damage=what, **more)


def wave(gap_mm: str, *, at_m: float = 50.0, name: str = "W1", **more: Any) -> Waviness:
    """A wave at a place."""
    return Waviness(finding_id=name, place=RopePlace(at_m=at_m), gap_mm=Fraction(gap_mm), **more)


def part(what: Any, state: str, *, name: str = "P1", which: str = "1") -> PartFinding:
    """A finding on a part."""
    return PartFinding(finding_id=name, part=what, which=which, state=state)


# ---- changes ---------------------------------------------------------------------------------


def with_latest(one: Dossier, **changes: Any) -> Dossier:
    """The dossier with its last inspection changed."""
    *earlier, last = one.inspections
    return replace(one, inspections=(*earlier, replace(last, **changes)))


def with_finding(one: Dossier, *findings: Any) -> Dossier:
    """The dossier with findings added to its last inspection."""
    return with_latest(one, findings=(*one.inspections[-1].findings, *findings))
