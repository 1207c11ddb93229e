"""Diameter readings: mean, decrease, ovality, spread and deviation."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ropewright.errors import InputError
from ropewright.formulas import (
    deviation_from_nominal_percent,
    diameter_at_decrease_mm,
    mean_diameter_mm,
    ovality_percent,
    spread_of_readings_percent,
    uniform_decrease_percent,
)

SIZES = st.fractions(Fraction(1, 10), 100)


# From memory: ISO 4309:2017, example in 6.3.1 (arithmetic checked by hand).
@pytest.mark.parametrize(("measured", "percent"), [("39.5", "4.25"), ("38.5", "6.75")])
def test_worked_example_of_the_decrease(measured: str, percent: str) -> None:
    assert uniform_decrease_percent(
        reference_diameter_mm=Fraction("41.2"),
        measured_diameter_mm=Fraction(measured),
        nominal_diameter_mm=Fraction(40),
    ) == Fraction(percent)


def test_worked_example_of_the_discard_size() -> None:
    # From memory: same example; 41.2 - 0.075 * 40 = 38.2, exactly.
    assert diameter_at_decrease_mm(
        reference_diameter_mm=Fraction("41.2"),
        nominal_diameter_mm=Fraction(40),
        decrease_percent=Fraction("7.5"),
    ) == Fraction("38.2")


@given(SIZES, SIZES, SIZES)
def test_the_two_are_inverse(reference: Fraction, measured: Fraction, nominal: Fraction) -> None:
    percent = uniform_decrease_percent(
        reference_diameter_mm=reference, measured_diameter_mm=measured, nominal_diameter_mm=nominal
    )
    assert (
        diameter_at_decrease_mm(
            reference_diameter_mm=reference, nominal_diameter_mm=nominal, decrease_percent=percent
        )
        == measured
    )


def test_a_rope_that_has_grown_gives_a_negative_decrease() -> None:
    assert (
        uniform_decrease_percent(
            reference_diameter_mm=Fraction(20),
            measured_diameter_mm=Fraction(21),
            nominal_diameter_mm=Fraction(20),
        )
        == -5
    )


@given(SIZES, SIZES, SIZES)
def test_order_of_a_pair_does_not_matter(a: Fraction, b: Fraction, nominal: Fraction) -> None:
    assert mean_diameter_mm(first_mm=a, second_mm=b) == mean_diameter_mm(first_mm=b, second_mm=a)
    oval = ovality_percent(first_mm=a, second_mm=b, nominal_diameter_mm=nominal)
    assert oval == ovality_percent(first_mm=b, second_mm=a, nominal_diameter_mm=nominal) >= 0


def test_four_readings_of_a_new_rope() -> None:
    # By hand: 20.4 20.2 20.6 20.4 on 20 mm: mean 20.4 = +2 %, spread 0.4 mm = 2 %.
    readings = [Fraction(text) for text in ("20.4", "20.2", "20.6", "20.4")]
    nominal = Fraction(20)
    assert deviation_from_nominal_percent(readings_mm=readings, nominal_diameter_mm=nominal) == 2
    assert spread_of_readings_percent(readings_mm=readings, nominal_diameter_mm=nominal) == 2


def test_bad_readings_are_refused() -> None:
    nominal = Fraction(20)
    with pytest.raises(InputError, match="two or more"):
        spread_of_readings_percent(readings_mm=[nominal], nominal_diameter_mm=nominal)
    with pytest.raises(InputError, match="at least one"):
        deviation_from_nominal_percent(readings_mm=[], nominal_diameter_mm=nominal)
    with pytest.raises(InputError) as caught:
        deviation_from_nominal_percent(
            readings_mm=[nominal, Fraction(0)], nominal_diameter_mm=nominal
        )
    assert caught.value.field == "readings_mm[1]"
    with pytest.raises(InputError, match="above zero"):
        mean_diameter_mm(first_mm=Fraction(-1), second_mm=Fraction(1))
    with pytest.raises(InputError, match="above zero"):
        uniform_decrease_percent(
            reference_diameter_mm=nominal,
            measured_diameter_mm=nominal,
            nominal_diameter_mm=Fraction(0),
        )
    with pytest.raises(InputError, match="above zero"):
        diameter_at_decrease_mm(
            reference_diameter_mm=nominal,
            nominal_diameter_mm=Fraction(0),
            decrease_percent=Fraction(1),
        )
