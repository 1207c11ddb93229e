"""Ropes with many findings, made from a seed: the same number gives the same rope.

Everything here is invented.  The generator knows ropes and inspections; it knows no rule.
"""

import itertools
import random
from dataclasses import replace
from datetime import date
from fractions import Fraction

from ropewright.geometry import ExposedSection, Exposure, RopePlace, Section
from ropewright.inspection import (
    DAMAGE_WORDS,
    ITEMS,
    BreakGroup,
    BrokenWires,
    Conditions,
    Crane,
    Damage,
    DiameterReading,
    Dossier,
    ExaminedItem,
    HiddenSection,
    Inspection,
    Installation,
    Pass,
    Person,
    ReferenceDiameter,
    Rigging,
    Waviness,
)
from ropewright.inspection.findings import RopeFinding
from ropewright.inspection.inspection import InspectionKind
from ropewright.rope import Rope, RopeHistory, StrandNumbers, build_construction, catalogue

FINDINGS = 50
TODAY = date(2026, 11, 10)
FITTED, EARLIER, LATEST = date(2025, 1, 9), date(2026, 10, 9), date(2026, 11, 9)
CONSTRUCTIONS = tuple(row.name for row in catalogue())

_DIAMETERS_MM = tuple(
    Fraction(text) for text in ("10", "13", "15.875", "19.05", "20", "22", "24", "28.575", "36")
)


def make_rope(number: int, *, seed: int) -> Dossier:
    """Dossier number ``number``: one rope, two inspections, 50 findings."""
    rng = random.Random(f"{seed}/{number}")
    rope = _rope(rng, number)
    latest = [_finding(rng, rope, f"F{one}") for one in range(FINDINGS - 12)]
    earlier = [_finding(rng, rope, f"E{one}") for one in range(10)]
    again = [_again(rng, one, f"A{at}") for at, one in enumerate(earlier[:2])]
    return Dossier(
        crane=Crane(crane_id=f"crane {number}", kind="trolley-jib tower crane"),
        rope=rope,
        installation=_installation(rng, rope),
        history=RopeHistory(original_length_m=rope.length_m),
        rigging=(
            Rigging(
                valid_from=FITTED,
                falls=2,
                drum_layers=rng.choice(("single", "multi")),
                sheaves=rng.choice(("steel", "steel", "plastic")),
            ),
        ),
        inspections=(
            _inspection(rng, rope, "annual", EARLIER, earlier),
            _inspection(rng, rope, rng.choice(("periodic", "annual")), LATEST, [*again, *latest]),
        ),
        invented=True,
        title=f"invented rope {number}",
    )


def _rope(rng: random.Random, number: int) -> Rope:
    diameter_mm = rng.choice(_DIAMETERS_MM)
    lay_in_d = rng.choice((None, Fraction("6.2"), Fraction("6.5"), Fraction("7")))
    numbers = StrandNumbers(core=rng.choice(("fibre", "steel", None)))
    return Rope(
        rope_id=f"rope {number}",
        nominal_diameter_mm=diameter_mm,
        construction=build_construction(name=rng.choice(CONSTRUCTIONS), given=numbers),
        length_m=float(rng.randrange(80, 900)),
        lay_type=rng.choice(("ordinary", "lang", None)),
        lay_length_mm=None if lay_in_d is None else lay_in_d * diameter_mm,
    )


def _installation(rng: random.Random, rope: Rope) -> Installation:
    reference_mm = rope.nominal_diameter_mm * Fraction(rng.randrange(1000, 1040), 1000)
    reading = DiameterReading(
        finding_id="reference",
        place=RopePlace(at_m=1.0),
        readings_mm=(_tenths(reference_mm), _tenths(reference_mm)),
    )
    end = rope.length_m
    bounds = sorted({0.0, 2.0, *(float(rng.randrange(3, int(end) - 3)) for _ in range(4)), end})
    exposed = tuple(
        ExposedSection(
            section=Section(low, high),
            exposure=Exposure(
                drum=rng.choice(("none", "single", "multi", "unknown")),
                sheaves=rng.choice(("none", "steel", "steel", "unknown")),
                crossover=rng.choice((True, False)),
                near_end=low == 0.0 or high == end,
                bends=rng.choice((True, True, False)),
            ),
        )
        for low, high in itertools.pairwise(bounds)
    )
    return Installation(
        hoist="hoist",
        fitted_on=FITTED,
        persons_lifted=False,
        exposed=exposed,
        reference=rng.choice((ReferenceDiameter(on=FITTED, readings=(reading,)),) * 4 + (None,)),
        interval_days=31,
    )


def _inspection(
    rng: random.Random, rope: Rope, kind: InspectionKind, on: date, findings: list[RopeFinding]
) -> Inspection:
    end = rope.length_m
    hidden = float(rng.randrange(0, int(end) - 5))
    return Inspection(
        inspection_id=f"{kind} {on.isoformat()}",
        kind=kind,
        on=on,
        by=(Person(role="rope inspector", competence=rng.choice(("competent", "qualified"))),),
        passes=tuple(
            Pass(method=method, section=Section(low, min(end, low + end / 3)))
            for method in ("eye-round", "feel")
            for low in (0.0, end / 4, end / 2, end * 2 / 3)
        ),
        hidden=(HiddenSection(section=Section(hidden, hidden + 5.0)),),
        examined=tuple(ExaminedItem(item=item, state="seen") for item in ITEMS),
        conditions=Conditions(grease=rng.choice(("right", "thin", "unknown"))),
        findings=tuple(findings),
        next_by=date(2026, 12, 9),
    )


def _tenths(value_mm: Fraction) -> Fraction:
    return Fraction(round(value_mm * 20), 20)


def _place(rng: random.Random, rope: Rope) -> RopePlace:
    # half of them near one of a few bad spots, so that clusters meet
    spot = rope.length_m * rng.choice((0.02, 0.4, 0.41, 0.8))
    at_m = spot + rng.random() if rng.random() < 0.5 else rng.random() * rope.length_m
    return RopePlace(
        at_m=round(min(at_m, rope.length_m), 3),
        abs_err_m=rng.choice((0.0, 0.5, 1.0)),
        rel_err_m=rng.choice((0.0, 0.01)),
    )


def _finding(rng: random.Random, rope: Rope, name: str) -> RopeFinding:
    chance = rng.random()
    if chance < 0.5:
        return _cluster(rng, rope, name)
    if chance < 0.74:
        worn_mm = rope.nominal_diameter_mm * Fraction(rng.randrange(930, 1030), 1000)
        return DiameterReading(
            finding_id=name,
            place=_place(rng, rope),
            readings_mm=(_tenths(worn_mm), _tenths(worn_mm) + Fraction(1, 20)),
            crushed_by_crossover=rng.choice((None, True)),
        )
    if chance < 0.84:
        gap_mm = Fraction(rng.randrange(0, 60), 10)
        return Waviness(finding_id=name, place=_place(rng, rope), gap_mm=gap_mm, length_m=0.5)
    what = rng.choice(("corrosion", "corrosion", "abrasion", "bend", "flat", "kink"))
    forms, grades = DAMAGE_WORDS[what]  # type: ignore[index]
    return Damage(
        finding_id=name,
        place=_place(rng, rope),
        damage=what,  # type: ignore[arg-type]
        length_m=rng.choice((0.0, 0.3, 3.0)),
        form=rng.choice(forms) if forms else None,
        grade=rng.choice((None, *grades)),
        depth_share=Fraction(rng.randrange(1, 40), 100) if what == "abrasion" else None,
    )


def _cluster(rng: random.Random, rope: Rope, name: str) -> BrokenWires:
    at_mm, groups = 0, []
    for _ in range(rng.randrange(1, 6)):
        length_mm = rng.choice((0, 0, 0, 0, 60, 400))
        groups.append(
            BreakGroup(
                from_mm=Fraction(at_mm),
                to_mm=Fraction(at_mm + length_mm),
                count=1 if length_mm == 0 else rng.randrange(1, 4),
                site=rng.choice(("crown", "crown", "crown", "crown", "valley", "unknown")),
                strand=rng.choice((None, 1, 2, 3, 4, 5, 6)),
            )
        )
        at_mm += rng.randrange(5, 300)
    return BrokenWires(
        finding_id=name,
        place=_place(rng, rope),
        groups=tuple(groups),
        offset_err_mm=Fraction(rng.choice((0, 2))),
        crossover_damage=rng.choice((None, True)),
    )


def _again(rng: random.Random, earlier: RopeFinding, name: str) -> RopeFinding:
    """An earlier finding found again at the same place."""
    moved = replace(earlier.place, at_m=max(0.0, earlier.place.at_m + rng.uniform(-0.2, 0.2)))
    return replace(earlier, finding_id=name, place=moved, same_as=earlier.finding_id)
