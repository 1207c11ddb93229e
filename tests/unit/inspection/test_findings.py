"""Findings hold only what can be; their derived figures are by hand."""

from collections.abc import Callable
from datetime import date
from fractions import Fraction
from typing import Any

import pytest

from ropewright.errors import InputError
from ropewright.geometry import RopePlace, Section
from ropewright.inspection import (
    DAMAGE_WORDS,
    ITEM_STATES,
    ITEMS,
    PART_WORDS,
    BreakGroup,
    BrokenWires,
    Damage,
    DiameterReading,
    ExaminedItem,
    Inspection,
    PartFinding,
    ReferenceDiameter,
    Rigging,
    Waviness,
)
from tests.laws.building import breaks, damage, dossier, inspection, pair, part, wave

AT = RopePlace(at_m=10.0)


def group(start: int, end: int, count: int = 1, **more: Any) -> BreakGroup:
    return BreakGroup(from_mm=Fraction(start), to_mm=Fraction(end), count=count, **more)


REFUSED: list[tuple[str, Callable[[], object]]] = [
    ("to", lambda: group(5, 4)),
    ("count", lambda: group(0, 0, 0)),
    ("strand", lambda: group(0, 0, strand=0)),
    ("breaks", lambda: BrokenWires(finding_id="b", place=AT, groups=())),
    ("readings", lambda: DiameterReading(finding_id="d", place=AT, readings_mm=())),
    ("readings", lambda: DiameterReading(finding_id="d", place=AT, readings_mm=(Fraction(0),))),
    ("gap", lambda: Waviness(finding_id="w", place=AT, gap_mm=Fraction(-1))),
    ("form", lambda: Damage(finding_id="x", place=AT, damage="kink", form="rusty")),
    ("form", lambda: Damage(finding_id="x", place=AT, damage="heat", form="kink")),
    ("grade", lambda: Damage(finding_id="x", place=AT, damage="bend", grade="pitted")),
    ("grade", lambda: Damage(finding_id="x", place=AT, damage="heat", grade="severe")),
    ("rating", lambda: damage("heat", rating_percent=Fraction(101))),
    ("state", lambda: PartFinding(finding_id="p", part="drum", which="1", state="tired")),
    ("item", lambda: ExaminedItem(item="hook paint", state="seen")),
    ("finding.id", lambda: inspection("annual", date(2026, 3, 2), pair("20"), pair("20"))),
    ("finding.id", lambda: inspection(
        "annual", date(2026, 3, 2), damage("kink", name="P1"), parts=[part("drum", "crack")])),
]  # fmt: skip


@pytest.mark.parametrize(("field", "make"), REFUSED)
def test_what_cannot_be_is_refused_and_named(field: str, make: Callable[[], object]) -> None:
    with pytest.raises(InputError) as problem:
        make()
    assert problem.value.field == field


@pytest.mark.parametrize("what", DAMAGE_WORDS)
def test_every_kind_of_damage_takes_its_own_words(what: str) -> None:
    forms, grades = DAMAGE_WORDS[what]  # type: ignore[index]
    for form in (None, *forms):
        for grade in (None, *grades):
            made = damage(what, form=form, grade=grade, length_m=2.0)
            assert made.kind == what
            assert made.section == Section(50, 52)


@pytest.mark.parametrize("what", PART_WORDS)
def test_every_part_takes_its_own_words(what: str) -> None:
    for state in PART_WORDS[what]:  # type: ignore[index]
        assert part(what, state).state == state


def test_a_cluster_spans_its_breaks() -> None:
    one = breaks(0, 96, 500, at_m=296.0)
    assert one.count == 3
    assert one.section == Section(296, 296.5)
    before = BrokenWires(finding_id="b", place=AT, groups=(group(-200, 100, 4), group(50, 50)))
    assert before.count == 5
    assert before.section == Section(9.8, 10.1)


def test_a_diameter_is_the_mean_of_two_readings() -> None:
    one = DiameterReading(
        finding_id="d", place=AT, readings_mm=(Fraction("20.30"), Fraction("19.65"))
    )
    assert one.measured_mm == Fraction("19.975")
    assert one.ovality_mm == Fraction("0.65")
    half = DiameterReading(finding_id="d", place=AT, readings_mm=(Fraction("20.30"),))
    assert half.measured_mm is None
    assert half.ovality_mm is None


def test_a_reference_is_the_mean_of_its_pairs_and_needs_them_whole() -> None:
    half = DiameterReading(finding_id="h", place=AT, readings_mm=(Fraction(20),))
    first, second = pair("20.4", name="a"), pair("20.2", name="b")
    on = date(2026, 1, 1)
    assert ReferenceDiameter(on=on, readings=(first, second)).measured_mm == Fraction("20.3")
    assert ReferenceDiameter(on=on, readings=(first, half)).measured_mm is None
    assert ReferenceDiameter(on=on, readings=()).measured_mm is None


def test_kinds_are_trade_words() -> None:
    assert [one.kind for one in (breaks(0), pair("20"), wave("1"), damage("kink"))] == [
        "broken wires", "diameter", "waviness", "kink",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("states", "expected"),
    [
        ((), None),
        (("seen",), "seen"),
        (("seen", "not seen"), "not seen"),
        (("not fitted", "seen"), "seen"),
        (("not fitted",), "not fitted"),
    ],
)
def test_of_two_words_on_one_item_the_worse_counts(
    states: tuple[str, ...], expected: str | None
) -> None:
    assert set(states) <= set(ITEM_STATES)
    one = Inspection(
        inspection_id="i",
        kind="annual",
        on=date(2026, 3, 2),
        examined=tuple(ExaminedItem(item=ITEMS[0], state=state) for state in states),  # type: ignore[arg-type]
    )
    assert one.item_state(ITEMS[0]) == expected


def test_only_a_shift_check_is_not_thorough() -> None:
    assert not inspection("shift", date(2026, 3, 2)).is_thorough
    assert inspection("monthly", date(2026, 3, 2)).is_thorough


def test_the_newest_rigging_that_is_in_force_holds() -> None:
    rigging = tuple(
        Rigging(valid_from=day, falls=falls)
        for day, falls in ((date(2026, 2, 1), 4), (date(2026, 1, 1), 2), (date(2026, 5, 1), 8))
    )
    one = dossier(rigging=rigging)
    assert one.rigging_at(date(2025, 12, 31)) is None
    falls = [
        rigged.falls
        for day in (date(2026, 1, 31), date(2026, 2, 1), date(2026, 6, 1))
        if (rigged := one.rigging_at(day)) is not None
    ]
    assert falls == [2, 4, 8]
