"""The field card on paper: one page, and strips that measure what they say."""

import re
import zlib
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest

from ropewright.card import FieldCard
from ropewright.demo import demo_case, demo_names
from ropewright.desk.carding import card_for
from ropewright.intake import PackageShelf, read_case
from ropewright.paper.field_card import CHECK_BAR_MM, MOST_PIECES, PIECE_MM, field_card_pdf
from tests.unit.paper.pdf import Pdf

DAY = date(2026, 11, 10)
POINTS_PER_MM = 72 / 25.4
#: A tenth of what an eye sees on a ruler [mm].
DRAWN_MM = 0.01


def card(name: str) -> FieldCard:
    shelf = PackageShelf()
    case = read_case(demo_case(name), file=name, known_rules=shelf.names())
    return card_for(case.dossier, shelf, DAY, software="tests")


@pytest.fixture(scope="module")
def kq1() -> FieldCard:
    return card("KQ-1")


def with_diameter(made: FieldCard, diameter_mm: str) -> FieldCard:
    return replace(made, rope=replace(made.rope, diameter_mm=Fraction(diameter_mm)))


def drawings(pdf: bytes) -> Iterator[str]:
    """The drawing orders of every page, as text."""
    for found in re.finditer(rb"stream\n(.*?)\nendstream", pdf, re.DOTALL):
        try:
            yield zlib.decompress(found[1]).decode("latin-1")
        except zlib.error:
            continue


def boxes_mm(pdf: bytes) -> list[tuple[float, float, bool]]:
    """Width, height [mm] and whether it is filled, of every upright box, as drawn."""
    number = r"(-?[\d.]+)"
    path = re.compile(
        rf"q 1 0 0 -1 {number} {number} cm[^\n]*? 0 0 m {number} 0 l {number} {number} l "
        rf"0 {number} l\s*h\s*(f|S|B)"
    )
    found = []
    for text in drawings(pdf):
        for one in path.finditer(text):
            wide, wide_again, high, high_again = (float(one[at]) for at in (3, 4, 5, 6))
            assert (wide, high) == (wide_again, high_again)
            found.append((wide / POINTS_PER_MM, high / POINTS_PER_MM, one[7] == "f"))
    return found


def strips_mm(pdf: bytes) -> list[float]:
    """Lengths of the strips' pieces [mm]: boxes of their height, in the order they stand."""
    return [wide for wide, high, filled in boxes_mm(pdf) if abs(high - 7.6) < DRAWN_MM]


def test_the_check_bar_measures_what_it_says(kq1: FieldCard) -> None:
    bars = [wide for wide, _, filled in boxes_mm(field_card_pdf(kq1)) if filled and wide > 50]
    assert bars == [pytest.approx(CHECK_BAR_MM, abs=DRAWN_MM)]
    assert CHECK_BAR_MM == 100


@pytest.mark.parametrize("diameter", ["20", "10", "12.7", "24"])
def test_the_strips_are_six_and_thirty_diameters_long(kq1: FieldCard, diameter: str) -> None:
    """By hand: pieces of at most 180 mm that add up to 6 d and to 30 d."""
    pieces = strips_mm(field_card_pdf(with_diameter(kq1, diameter)))
    six, thirty = 6 * float(diameter), 30 * float(diameter)
    assert pieces[0] == pytest.approx(six, abs=DRAWN_MM)
    assert sum(pieces[1:]) == pytest.approx(thirty, abs=DRAWN_MM)
    assert max(pieces) <= PIECE_MM + DRAWN_MM


def test_a_strip_too_long_for_the_page_is_not_drawn_short(kq1: FieldCard) -> None:
    made = with_diameter(kq1, "38")  # 30 d = 1140 mm: more pieces than fit
    assert MOST_PIECES * PIECE_MM < 1140
    pdf = field_card_pdf(made)
    assert sum(strips_mm(pdf)) == pytest.approx(228, abs=DRAWN_MM)  # 6 d alone, in two pieces
    assert "30 d = 1140 mm: too long for this page" in Pdf(pdf).pages[0]


@pytest.mark.parametrize("name", demo_names())
def test_one_page_for_every_rope(name: str) -> None:
    pdf = field_card_pdf(card(name))
    assert len(Pdf(pdf).pages) == 1
    assert Pdf(pdf).is_tagged


def test_the_page_says_what_counts(kq1: FieldCard) -> None:
    words = Pdf(field_card_pdf(kq1)).pages[0]
    for said in (
        "Invented data", "2 or more broken wires in 6 d (120 mm)", "run the hook up",
        "HAND OFF between hook", "mark 7", "This bar measures exactly 100 mm.",
        "diameter, mean of the pair: 19.4 mm or less", "good until 2026-11-24",
        "It advises; a person decides.", "less than 19 mm",
    ):  # fmt: skip
        assert said in words, said


def test_where_no_hand_may_lie_is_never_cut_short(kq1: FieldCard) -> None:
    luffing = Pdf(field_card_pdf(card("KQ-2-luffing"))).pages[0]
    assert re.search(r"HAND OFF at jib [\d.]+ to [\d.]+ deg", " ".join(luffing.split()))
    assert "mark 7: HAND OFF, 298.2 m" in " ".join(Pdf(field_card_pdf(kq1)).pages[0].split())
    assert kq1.plan
    off = next(one for one in kq1.plan.passes if one.hands_off)
    many = replace(off, hands_off=off.hands_off * 7)
    plan = replace(kq1.plan, passes=tuple(many if one is off else one for one in kq1.plan.passes))
    words = " ".join(Pdf(field_card_pdf(replace(kq1, plan=plan))).pages[0].split())
    assert "HAND OFF at 4 more: see the phone" in words


def test_the_same_card_gives_the_same_bytes(kq1: FieldCard) -> None:
    assert field_card_pdf(kq1) == field_card_pdf(kq1)


def test_letters_that_mean_something_to_the_template_are_only_text(kq1: FieldCard) -> None:
    odd = replace(kq1, rope=replace(kq1.rope, rope_id='#panic("x") *a* $b$'))
    assert '#panic("x") *a* $b$' in Pdf(field_card_pdf(odd)).pages[0]
