"""Tolerance of new rope, on both sides of every range."""

from fractions import Fraction

import pytest

from ropewright.errors import InputError, UnknownNameError
from ropewright.rope import diameter_tolerance, read_new_rope, tolerance_standards

EN = "EN 12385-4"
US = "Wire Rope Users Manual"


@pytest.mark.parametrize(
    ("diameter", "high", "wire", "fibre"),
    [
        # Published (second-hand): EN 12385-4, restated on a trade page.
        ("2", 8, 7, None),
        ("3.999", 8, 7, None),
        ("4", 7, 6, 8),
        ("5.999", 7, 6, 8),
        ("6", 6, 5, 7),
        ("7.999", 6, 5, 7),
        ("8", 5, 4, 6),
        ("20", 5, 4, 6),
    ],
)
def test_en_ranges_include_their_lower_end(
    diameter: str, high: int, wire: int, fibre: int | None
) -> None:
    found = diameter_tolerance(Fraction(diameter), standard=EN)
    assert (found.low_percent, found.high_percent) == (Fraction(0), Fraction(high))
    assert found.largest_spread_percent == wire
    with_fibre = diameter_tolerance(Fraction(diameter), standard=EN, fibre_centre_strands=True)
    assert with_fibre.largest_spread_percent == fibre
    assert found.provenance == "second-hand"


@pytest.mark.parametrize(
    ("inches", "high"),
    [
        # Published (second-hand): Wire Rope Users Manual.
        ("1/16", 8),
        ("1/8", 8),
        ("9/64", 7),
        ("3/16", 7),
        ("13/64", 6),
        ("5/16", 6),
        ("21/64", 5),
        ("3/4", 5),
    ],
)
def test_us_ranges_include_their_upper_end(inches: str, high: int) -> None:
    found = diameter_tolerance(Fraction(inches) * Fraction("25.4"), standard=US)
    assert (found.low_percent, found.high_percent) == (Fraction(0), Fraction(high))
    assert found.largest_spread_percent is None


def test_limits_in_millimetres_are_exact() -> None:
    # By hand: 22 mm, 0 to +5 %: 22 mm to 23.1 mm.
    found = diameter_tolerance(Fraction(22), standard=EN)
    assert (found.smallest_mm, found.largest_mm) == (Fraction(22), Fraction("23.1"))
    oil = diameter_tolerance(Fraction(20), standard="oil and gas service")
    assert (oil.smallest_mm, oil.largest_mm) == (Fraction("19.8"), Fraction("20.8"))


def test_no_tolerance_is_refused_not_guessed() -> None:
    for diameter in ("1.999", "0", "-1"):
        with pytest.raises(InputError, match="has a tolerance for"):
            diameter_tolerance(Fraction(diameter), standard=EN)
    with pytest.raises(InputError, match="has a tolerance for"):
        diameter_tolerance(Fraction(0), standard=US)
    with pytest.raises(UnknownNameError) as caught:
        diameter_tolerance(Fraction(20), standard="EN 12385")
    assert EN in caught.value.near
    assert tolerance_standards() == (EN, US, "oil and gas service")


def test_readings_beside_their_tolerance() -> None:
    # By hand: mean 20.4 = +2 %; spread 0.4 mm = 2 %.
    readings = [Fraction(text) for text in ("20.4", "20.2", "20.6", "20.4")]
    found = read_new_rope(readings, nominal_diameter_mm=Fraction(20), standard=EN)
    assert found.mean_mm == Fraction("20.4")
    assert (found.deviation_percent, found.spread_percent) == (Fraction(2), Fraction(2))
    assert found.tolerance == diameter_tolerance(Fraction(20), standard=EN)


def test_fewer_than_four_readings_are_refused() -> None:
    with pytest.raises(InputError, match="four readings or more"):
        read_new_rope([Fraction(20)] * 3, nominal_diameter_mm=Fraction(20), standard=EN)
