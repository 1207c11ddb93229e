"""The order sheet and the card of a rope on paper: what stands there, on how many pages."""

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest

from ropewright.demo import demo_case
from ropewright.desk.ordering import order_sheet
from ropewright.desk.rope_life import LifeLine, RopeLife, rope_life
from ropewright.geometry import RopePlace, Section
from ropewright.inspection import BrokenWires, DiameterReading, Dossier, InnerCount, Pass
from ropewright.intake import read_case
from ropewright.logbook.sheets import inspections_table
from ropewright.paper import order_pdf, rope_card_pdf
from tests.unit.paper.pdf import Pdf

DAY = date(2026, 11, 25)


@pytest.fixture(scope="module")
def rope() -> Dossier:
    return read_case(demo_case("KQ-1"), file="KQ-1.toml").dossier


def words(data: bytes) -> str:
    return " ".join(" ".join(Pdf(data).pages).split())


def test_the_order_sheet_leaves_lines_for_what_is_not_known(rope: Dossier) -> None:
    sheet = order_sheet(rope, DAY)
    pdf = order_pdf(sheet)
    said = words(pdf)
    assert pdf == order_pdf(sheet)
    assert Pdf(pdf).is_tagged
    assert f"{len(sheet.to_fill)} fields are to be filled in." in said
    assert said.count("Fill in:") == len(sheet.to_fill)
    assert "Invented data" in said
    for one in sheet.fields:
        assert one.words in said
    kept = words(order_pdf(sheet, order_id="O1", ordered_by="planner one"))
    assert "Order O1" in kept
    assert "planner one" in kept


def test_the_card_holds_a_life_on_one_page(rope: Dossier) -> None:
    life = rope_life(rope, DAY, seal="SEAL-WORD")
    pdf = rope_card_pdf(life)
    said = words(pdf)
    assert len(Pdf(pdf).pages) == 1
    assert pdf == rope_card_pdf(life)
    for expected in (
        "SEAL-WORD",
        "Invented data",
        rope.rope.construction.name,
        "Reference diameter",
    ):
        assert expected in said
    for inspection in rope.inspections:
        assert inspection.on.isoformat() in said
    newest = max(rope.inspections, key=lambda one: one.on)
    counts = [one.count for one in newest.findings if isinstance(one, BrokenWires)]
    assert int(life.inspections[-1].worst_long.split()[-1]) <= sum(counts)


def test_a_long_life_keeps_its_newest_lines_and_says_what_is_left_out(rope: Dossier) -> None:
    first = rope.inspections[0]
    many = tuple(
        replace(first, inspection_id=f"I{n}", on=date(2024, 1, 1) + timedelta(days=7 * n))
        for n in range(120)
    )
    work = [
        LifeLine(on=date(2024, 1, 1) + timedelta(days=n), what="lubrication", words="dressing")
        for n in range(300)
    ]
    life = rope_life(replace(rope, inspections=many, events=(), marks=()), DAY, work=work)
    pdf = rope_card_pdf(life)
    assert len(Pdf(pdf).pages) == 1
    said = words(pdf)
    assert "104 earlier inspections" in said  # by hand: 120 less the 16 shown
    assert many[-1].on.isoformat() in said
    assert many[0].on.isoformat() not in said


def test_a_bare_rope_has_a_card_too(rope: Dossier) -> None:
    bare = replace(
        rope, inspections=(), events=(), marks=(), rigging=(),
        installation=replace(rope.installation, reference=None, fitted_on=None),
    )  # fmt: skip
    life: RopeLife = rope_life(bare, DAY)
    said = words(rope_card_pdf(life))
    assert "None in the book." in said
    assert "not measured" in said


def test_nobody_looked_is_not_no_broken_wires(rope: Dossier) -> None:
    """By hand: a gauge alone says nothing of wires; an eye pass without a find says none."""
    first = rope.inspections[0]
    reading = DiameterReading(
        finding_id="D1", place=RopePlace(at_m=10.0), method="gauge",
        readings_mm=(Fraction(20), Fraction(20)),
    )  # fmt: skip
    gauged = replace(first, findings=(reading,), passes=(), hidden=())
    eye = Pass(method="eye", section=Section(0.0, 20.0))
    for one, said in ((gauged, ""), (replace(gauged, passes=(eye,)), "0")):
        dossier = replace(rope, inspections=(one,))
        (line,) = rope_life(dossier, DAY).inspections
        assert (line.worst_short, line.worst_long) == (said, said)
        (row,) = inspections_table([dossier])[1]
        assert row["most broken wires in one place"] == said


def test_what_was_broken_inside_stands_on_the_card(rope: Dossier) -> None:
    opened = InnerCount(
        section=Section(296.0, 297.0), over_mm=Fraction(120), outer_broken=5, inner_broken=14,
        sample="S1", on=DAY,
    )  # fmt: skip
    said = words(rope_card_pdf(rope_life(replace(rope, opened=(opened,)), DAY)))
    assert "5 broken outside, 14 inside over 120 mm at 296.00 m; S1" in said
