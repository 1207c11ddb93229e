"""Random dossiers: ropes, riggings, inspections and findings that a person could record.

Places lie on a few anchors and offsets on a coarse grid, so that clusters meet, touch and miss
each other by little.  Everything here is invented.
"""

import itertools
from dataclasses import dataclass, replace
from datetime import timedelta
from fractions import Fraction
from typing import Any

from hypothesis import strategies as st

from ropewright.geometry import ExposedSection, Exposure, RopePlace, Section
from ropewright.inspection import (
    DAMAGE_WORDS,
    EVENT_KINDS,
    INSPECTION_KINDS,
    ITEM_STATES,
    ITEMS,
    METHODS,
    PART_WORDS,
    BreakGroup,
    BrokenWires,
    Conditions,
    Damage,
    DiameterReading,
    Dossier,
    Event,
    ExaminedItem,
    HiddenSection,
    Inspection,
    MetallicLoss,
    PartFinding,
    Pass,
    Permission,
    Person,
    Release,
    Waviness,
)
from ropewright.inspection.inspection import THOROUGH_KINDS
from ropewright.intake.shelf import PackageShelf
from ropewright.rope import Rope
from ropewright.rules import OWN_CHECKS
from tests.laws.building import (
    COMPETENT,
    EARLIER,
    EXPOSURES,
    ISO,
    LATEST,
    LENGTH_M,
    QUALIFIED,
    US,
    WHOLE,
    dossier,
    inspection,
    rope,
)

HOUSE = "house-template"

CONSTRUCTIONS = (
    "6x7", "6x19S", "6x36WS", "8x19S", "8x36WS", "8x41WS", "4x29F", "18x7", "35(W)x7", "35(W)xK7",
)  # fmt: skip

maybe = st.sampled_from([True, False, None])


def millimetres(*texts: str) -> st.SearchStrategy[Fraction]:
    return st.sampled_from([Fraction(text) for text in texts])


# ---- rope ------------------------------------------------------------------------------------


@st.composite
def ropes(draw: st.DrawFn) -> Rope:
    return rope(
        draw(st.sampled_from(CONSTRUCTIONS)),
        diameter_mm=draw(millimetres("10", "15.875", "20", "22")),
        lay_type=draw(st.sampled_from(["ordinary", "lang", None])),
        lay_in_d=draw(st.sampled_from([None, Fraction(6), Fraction("6.5"), Fraction("7.25")])),
        core=draw(st.sampled_from(["fibre", "steel", None])),
    )


exposures = st.builds(
    Exposure,
    drum=st.sampled_from(["none", "single", "multi", "multi", "unknown"]),
    sheaves=st.sampled_from(["none", "steel", "steel", "steel", "plastic", "unknown"]),
    crossover=maybe,
    near_end=maybe,
    bends=maybe,
)


@st.composite
def riggings(draw: st.DrawFn) -> tuple[ExposedSection, ...]:
    """What sections are exposed to: mostly the sound rigging, sometimes anything."""
    if draw(st.integers(0, 2)):
        return EXPOSURES
    ends = [0.0, 2.0, 80.0, 120.0, 126.0, 198.0, 200.0]
    return tuple(
        ExposedSection(section=Section(low, high), exposure=draw(exposures))
        for low, high in itertools.pairwise(ends)
        if draw(st.integers(0, 5))
    )


# ---- findings --------------------------------------------------------------------------------

ANCHORS = (0.03, 0.5, 1.98, 2.0, 50.0, 50.1, 50.5, 100.0, 119.95, 121.0, 123.0, 125.99, 199.9)


@st.composite
def places(draw: st.DrawFn) -> RopePlace:
    anchor = draw(st.sampled_from(ANCHORS))
    moved = anchor + draw(st.integers(0, 8)) * 0.06
    return RopePlace(
        at_m=min(moved, LENGTH_M),
        abs_err_m=draw(st.sampled_from([0.0, 0.0, 0.2, 1.0])),
        rel_err_m=draw(st.sampled_from([0.0, 0.0, 0.01, 0.05])),
    )


@st.composite
def break_groups(draw: st.DrawFn) -> BreakGroup:
    start = Fraction(draw(st.sampled_from([0, 0, 20, 60, 120, 121, 300, 600])))
    length = draw(st.sampled_from([0, 0, 0, 0, 60, 120, 300, 2000]))
    return BreakGroup(
        from_mm=start,
        to_mm=start + length,
        count=draw(st.sampled_from([1, 1, 1, 2, 3, 6])),
        site=draw(st.sampled_from(["crown", "crown", "crown", "valley", "end", "unknown"])),
        strand=draw(st.sampled_from([None, 1, 2, 3, 4, 6])),
    )


@st.composite
def clusters(draw: st.DrawFn, name: str = "B") -> BrokenWires:
    return BrokenWires(
        finding_id=name,
        place=draw(places()),
        groups=tuple(draw(st.lists(break_groups(), min_size=1, max_size=3))),
        offset_err_mm=Fraction(draw(st.sampled_from([0, 0, 2, 10]))),
        crossover_damage=draw(maybe),
    )


@st.composite
def readings(draw: st.DrawFn, name: str = "D", d_mm: Fraction = Fraction(20)) -> DiameterReading:
    """A pair, or half of one, between 12 % under and 6 % over the nominal diameter."""
    shares = st.integers(-24, 12).map(lambda half_percent: 1 + Fraction(half_percent, 200))
    usual = st.just(Fraction("1.01"))
    pairs = 1 if draw(st.integers(0, 5)) == 0 else 2
    return DiameterReading(
        finding_id=name,
        place=draw(places()),
        readings_mm=tuple(d_mm * draw(usual | usual | shares) for _ in range(pairs)),
        crushed_by_crossover=draw(maybe),
    )


@st.composite
def damages(draw: st.DrawFn, name: str = "X") -> Damage:
    what = draw(st.sampled_from(list(DAMAGE_WORDS)))
    forms, grades = DAMAGE_WORDS[what]
    return Damage(
        finding_id=name,
        place=draw(places()),
        damage=what,
        length_m=draw(st.sampled_from([0.0, 0.0, 0.3, 5.0])),
        form=draw(st.sampled_from([None, *forms, *forms])),
        grade=draw(st.sampled_from([None, *grades, *grades])),
        rating_percent=draw(st.none() | st.integers(0, 10).map(lambda tens: Fraction(10 * tens))),
        depth_share=draw(st.none() | millimetres("1/4", "1/3", "0.4")),
    )


@st.composite
def metallic_losses(draw: st.DrawFn, name: str = "M") -> MetallicLoss:
    return MetallicLoss(
        finding_id=name,
        place=draw(places()),
        percent=Fraction(draw(st.integers(0, 12))),
        over_mm=draw(st.none() | millimetres("60", "120", "600", "3000")),
        of=draw(st.sampled_from(["metallic area", "breaking force"])),
    )


@st.composite
def waves(draw: st.DrawFn, name: str = "W") -> Waviness:
    return Waviness(
        finding_id=name,
        place=draw(places()),
        gap_mm=draw(millimetres("0", "1", "1.5875", "2", "5", "8")),
        length_m=draw(st.sampled_from([0.0, 0.6])),
    )


@st.composite
def part_findings(draw: st.DrawFn, name: str = "P") -> PartFinding:
    what = draw(st.sampled_from(list(PART_WORDS)))
    state = draw(st.sampled_from(PART_WORDS[what]))
    return PartFinding(finding_id=name, part=what, which="1", state=state)


def rope_findings(name: str) -> st.SearchStrategy[Any]:
    """Damage of any kind; no readings, which are evidence rather than damage."""
    return clusters(name) | clusters(name) | damages(name) | waves(name) | metallic_losses(name)


@st.composite
def finding_lists(draw: st.DrawFn, prefix: str, most: int = 3) -> list[Any]:
    count = draw(st.sampled_from([0, 0, 1, 1, 2, 3])) if most == 3 else draw(st.integers(0, most))
    return [draw(rope_findings(f"{prefix}{number}")) for number in range(count)]


@st.composite
def events(draw: st.DrawFn) -> Event:
    on = LATEST + timedelta(days=draw(st.integers(-60, 8)))
    release = Release(by="competent person of the site", on=on, evidence="inspected")
    return Event(
        event_id=draw(st.sampled_from(["event 1", "event 2"])),
        kind=draw(st.sampled_from(EVENT_KINDS)),
        on=on,
        release=draw(st.sampled_from([None, release])),
    )


# ---- inspections -----------------------------------------------------------------------------


@st.composite
def holes(draw: st.DrawFn) -> dict[str, Any]:
    """What an inspection leaves out; nothing in two of three cases."""
    if draw(st.integers(0, 2)):
        return {}
    left_out: dict[str, Any] = {}
    if draw(st.booleans()):
        cut = draw(st.sampled_from([0.0, 49.0, 51.0, 150.0]))
        left_out["passes"] = (
            Pass(method=draw(st.sampled_from(METHODS)), section=Section(cut, LENGTH_M)),
            Pass(method="feel", section=WHOLE),
        )
    if draw(st.booleans()):
        left_out["hidden"] = (HiddenSection(section=Section(45.0, 55.0)),)
    if draw(st.booleans()):
        gone = draw(st.sampled_from(ITEMS))
        state = draw(st.sampled_from(ITEM_STATES))
        left_out["examined"] = tuple(
            ExaminedItem(item=item, state=state if item == gone else "seen") for item in ITEMS
        )
    if draw(st.booleans()):
        people: list[tuple[Person, ...]] = [(), (COMPETENT,), (QUALIFIED,)]
        left_out["by"] = draw(st.sampled_from(people))
    if draw(st.booleans()):
        left_out["conditions"] = Conditions()
    if draw(st.booleans()):
        left_out["next_by"] = None
    return left_out


@st.composite
def mild_clusters(draw: st.DrawFn, name: str) -> BrokenWires:
    """One or two broken wires clear of the ends, each in a strand of its own."""
    offsets = draw(st.sampled_from([(0,), (0,), (0, 300)]))
    return BrokenWires(
        finding_id=name,
        place=RopePlace(at_m=draw(st.sampled_from([50.0, 50.1, 100.0, 121.0]))),
        groups=tuple(
            BreakGroup(from_mm=Fraction(at), to_mm=Fraction(at), count=1, strand=1 + 2 * number)
            for number, at in enumerate(offsets)
        ),
    )


@st.composite
def _mild_inspections(draw: st.DrawFn, d_mm: Fraction) -> list[Inspection]:
    """A good rope with at most a few broken wires; the inspection may still have holes."""
    found: list[Any] = [draw(mild_clusters("F0"))] if draw(st.booleans()) else []
    if draw(st.integers(0, 4)):
        place = RopePlace(at_m=draw(st.sampled_from([50.0, 100.0])))
        worn = draw(st.sampled_from(["1.01", "1.01", "1.00", "0.98"]))
        value = d_mm * Fraction(worn)
        found.append(DiameterReading(finding_id="D0", place=place, readings_mm=(value, value)))
    return [inspection("annual", LATEST, *found, **draw(holes()))]


@st.composite
def _wild_inspections(draw: st.DrawFn, d_mm: Fraction, earlier: bool) -> list[Inspection]:
    kinds = st.sampled_from(["annual", "annual", *sorted(THOROUGH_KINDS)])
    pairs = [
        draw(readings(f"D{number}", d_mm))
        for number in range(draw(st.sampled_from([0, 1, 1, 1, 2])))
    ]
    parts = [
        draw(part_findings(f"P{number}")) for number in range(draw(st.sampled_from([0, 0, 0, 1])))
    ]
    damage = draw(finding_lists("F"))
    found = [inspection(draw(kinds), LATEST, *pairs, *damage, parts=parts, **draw(holes()))]
    if earlier and draw(st.booleans()):
        before = [draw(readings("OD", d_mm)), *draw(finding_lists("O", 2))]
        found.insert(0, inspection(draw(kinds), EARLIER, *before, **draw(holes())))
    if draw(st.integers(0, 3)) == 0:
        check = draw(finding_lists("S", 1))
        found.append(inspection("shift", LATEST + timedelta(days=3), *check))
    return found


@st.composite
def dossiers(draw: st.DrawFn, *, earlier: bool = False) -> Dossier:
    """A dossier whose latest thorough inspection may be sound or full of holes."""
    the_rope = draw(ropes())
    d_mm = the_rope.nominal_diameter_mm
    if draw(st.booleans()):
        return dossier(*draw(_mild_inspections(d_mm)), the_rope=the_rope)
    one = dossier(
        *draw(_wild_inspections(d_mm, earlier)),
        the_rope=the_rope,
        exposed=draw(riggings()),
        use=draw(st.sampled_from(["running", "running", "standing"])),
        mechanism_class=draw(st.sampled_from([None, "M4", "M6"])),
        permissions=draw(st.sampled_from([(), (_DOUBLED,)])),
        events=tuple(draw(st.lists(events(), max_size=1))),
    )
    if draw(st.integers(0, 7)) == 0:
        one = replace(one, installation=replace(one.installation, reference=None))
    if draw(st.integers(0, 7)) == 0:
        one = replace(one, rigging=())
    return one


_DOUBLED = Permission(
    rule_set=ISO,
    permission="m5-m8-double",
    by="crane engineer of the site",
    on=EARLIER,
    reason="class known from the crane's papers",
)

#: Every rule set of the package but our own checks, which are used beside all of them.
ALL_RULES = tuple(name for name in PackageShelf().names() if name != OWN_CHECKS)

choices = st.sampled_from([(ISO,), (US,), (ISO, US), (ISO, US, HOUSE), (HOUSE,)]) | st.lists(
    st.sampled_from(ALL_RULES), min_size=1, max_size=3, unique=True
).map(tuple)


@dataclass(frozen=True)
class Case:
    """A dossier and the rule sets it is judged by."""

    dossier: Dossier
    rules: tuple[str, ...]


def cases(**more: Any) -> st.SearchStrategy[Case]:
    """Random dossiers with random choices of rule sets."""
    return st.builds(Case, dossiers(**more), choices)


assert set(INSPECTION_KINDS) - THOROUGH_KINDS == {"shift"}
