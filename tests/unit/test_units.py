"""Quantities are read exactly or refused with one clear error, and shown so that they read back."""

import contextlib
import math
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from ropewright import units
from ropewright.errors import QuantityError
from ropewright.units import (
    MAX_DIGITS,
    Duration,
    exact_decimal,
    fixed_decimal,
    metres,
    parse_angle,
    parse_duration,
    parse_force,
    parse_length,
    parse_mass,
    parse_number,
    parse_percent,
    parse_speed,
    parse_stress,
    parse_temperature,
    show_feet_inches,
    show_inches,
    show_length_mm,
    show_percent,
    show_place_m,
)

PARSERS = [
    parse_angle,
    parse_duration,
    parse_force,
    parse_length,
    parse_mass,
    parse_number,
    parse_percent,
    parse_speed,
    parse_stress,
    parse_temperature,
]

# By definition: 1 in = 25.4 mm; the rest by hand.
LENGTHS = {
    "20 mm": Fraction(20),
    "20mm": Fraction(20),
    " 20.50  mm ": Fraction(41, 2),
    "20\u00a0mm": Fraction(20),
    "+20 mm": Fraction(20),
    "2.1 m": Fraction(2100),
    "12 cm": Fraction(120),
    "0 mm": Fraction(0),
    ".5 m": Fraction(500),
    "0.1 mm": Fraction(1, 10),
    "3/4 in": Fraction("19.05"),
    "0.75 in": Fraction("19.05"),
    '3/4"': Fraction("19.05"),
    "9/8 in": Fraction("28.575"),
    "1 1/8 in": Fraction("28.575"),
    "1-1/8 in": Fraction("28.575"),
    "1 - 1/8 in": Fraction("28.575"),
    "1⅛ in": Fraction("28.575"),
    "½ in": Fraction("12.7"),
    "1/3 in": Fraction("25.4") / 3,
    "40 ft": Fraction(12192),
    "40 ft 8 in": Fraction("12395.2"),
    "40ft8in": Fraction("12395.2"),
    "40' 8\"": Fraction("12395.2"),
    "40′ 8″": Fraction("12395.2"),
    "40’ 8”": Fraction("12395.2"),
    "40' 8''": Fraction("12395.2"),
    "40'-8\"": Fraction("12395.2"),
    "40' 8 1/2\"": Fraction("12407.9"),
    "2 1/2 ft": Fraction(762),
    "0 ft 3 in": Fraction("76.2"),
}

# text -> words of the advice
BAD_LENGTHS = {
    "20": "unit is missing",
    "20,5 mm": "decimal point, not a comma",
    "1,200 mm": "could mean thousands or decimals",
    "1,234,567 mm": "could mean thousands or decimals",
    "1.200,5 mm": "decimal point, not a comma",
    "1 200 mm": "without separators",
    "1'200 mm": "without separators",
    "1_200 mm": "without separators",
    "1.200.000 mm": "without separators",
    "1e3 mm": "in full",
    "3/4 mm": "for inches and feet",
    "1/0 in": "write fractions as",
    "1 9/8 in": "write fractions as",
    "40 ft 12 in": "below 12",
    "40.5 ft 3 in": "whole",
    "20 Mm": "known units",
    "20 yd": "known units",
    "20 mm 3": "known units",
    "20 inches": "write in",
    "-20 mm": "not negative",
    "−20 mm": "not negative",
    "-1 1/8 in": "not negative",
    "inf mm": "expected a length",
    "nan mm": "expected a length",
    "-nan": "expected a length",
    "mm": "expected a length",
    "": "expected a length",
    "20. mm": "expected a length",
    "٢٠ mm": "expected a length",
    "5 mm - 6 mm": "expected a length",
    "8 ft 3": "expected a length",
    "1" * (MAX_DIGITS + 1) + " mm": "more than 40 digits",
    "x" * 5000: "far too long",
}


@pytest.mark.parametrize(("text", "length_mm"), LENGTHS.items())
def test_lengths_are_exact(text: str, length_mm: Fraction) -> None:
    assert parse_length(text) == length_mm


@pytest.mark.parametrize(("text", "words"), BAD_LENGTHS.items(), ids=lambda value: value[:20])
def test_bad_lengths_are_refused_with_advice(text: str, words: str) -> None:
    with pytest.raises(QuantityError) as caught:
        parse_length(text, field="rope.diameter")
    error = caught.value
    assert error.field == "rope.diameter"
    assert error.expected
    assert error.expected.startswith("a length with unit")
    assert error.given
    assert words in str(error)


def test_the_message_as_a_person_sees_it() -> None:
    with pytest.raises(QuantityError) as caught:
        parse_length("20", field="rope.diameter")
    assert str(caught.value.with_file("KQ-1.toml")) == (
        'KQ-1.toml: rope.diameter: expected a length with unit such as "20 mm", "2.1 m", '
        '"3/4 in" or "40 ft 8 in", given "20" '
        "(the unit is missing; known units: mm, cm, m, in, ft)"
    )


@pytest.mark.parametrize("value", [20, 20.5, None, True, ["20 mm"], b"20 mm"])
@pytest.mark.parametrize("parse", PARSERS)
def test_what_is_no_text_is_refused(parse: Callable[[Any], object], value: object) -> None:
    with pytest.raises(QuantityError, match="as text in quotes"):
        parse(value)


@pytest.mark.parametrize("text", ["-20 mm", "−20 mm", "-2 cm"])
def test_negative_where_asked_for(text: str) -> None:
    assert parse_length(text, signed=True) == -20


def test_a_sign_counts_for_feet_and_inches_together() -> None:
    assert parse_length("-1 ft 6 in", signed=True) == Fraction("-457.2")


# Conversions: international pound 0.45359237 kg, standard gravity 9.80665 m/s2 (published
# definitions); mile 1609.344 m; the rest by hand.
OTHERS: list[tuple[Callable[[str], object], str, object]] = [
    (parse_mass, "850 kg", Fraction(850)),
    (parse_mass, "2.5 t", Fraction(2500)),
    (parse_mass, "100 lb", Fraction("45.359237")),
    (parse_force, "305 kN", Fraction(305)),
    (parse_force, "305000 N", Fraction(305)),
    (parse_force, "1 lbf", Fraction("0.45359237") * Fraction("9.80665") / 1000),
    (parse_stress, "1770 N/mm2", Fraction(1770)),
    (parse_stress, "1770 N/mm²", Fraction(1770)),
    (parse_stress, "1770 N/mm^2", Fraction(1770)),
    (parse_stress, "1770 MPa", Fraction(1770)),
    (parse_percent, "4.5 %", Fraction(9, 2)),
    (parse_percent, "7.5%", Fraction(15, 2)),
    (parse_temperature, "-5 °C", Fraction(-5)),
    (parse_temperature, "−5 C", Fraction(-5)),
    (parse_temperature, "23 °F", Fraction(-5)),
    (parse_temperature, "-40 F", Fraction(-40)),
    (parse_temperature, "-273.15 °C", Fraction("-273.15")),
    (parse_speed, "0.25 m/s", Fraction(1, 4)),
    (parse_speed, "15 m/min", Fraction(1, 4)),
    (parse_speed, "36 km/h", Fraction(10)),
    (parse_speed, "100 ft/min", Fraction("0.508")),
    (parse_speed, "1 mph", Fraction("1609.344") / 3600),
    (parse_angle, "1.5 deg", Fraction(3, 2)),
    (parse_angle, "1.5°", Fraction(3, 2)),
    (parse_number, "12.5", Fraction(25, 2)),
    (parse_duration, "30 d", Duration(Fraction(30), "days")),
    (parse_duration, "1 day", Duration(Fraction(1), "days")),
    (parse_duration, "36 h", Duration(Fraction(36), "hours")),
    (parse_duration, "1.5 h", Duration(Fraction(3, 2), "hours")),
    (parse_duration, "2 weeks", Duration(Fraction(2), "weeks")),
    (parse_duration, "3 months", Duration(Fraction(3), "months")),
    (parse_duration, "1 year", Duration(Fraction(1), "years")),
]

BAD_OTHERS: list[tuple[Callable[[str], object], str, str]] = [
    (parse_mass, "2 tons", "several meanings"),
    (parse_mass, "20 kN", "kN is a force"),
    (parse_mass, "-2 t", "not negative"),
    (parse_force, "31 tf", "9.80665 kN"),
    (parse_force, "31 kgf", "9.80665 N"),
    (parse_force, "31 t", "t is a mass"),
    (parse_force, "31 lb", "write lbf"),
    (parse_stress, "180 kgf/mm2", "known units"),
    (parse_percent, "4.5", "unit is missing"),
    (parse_percent, "4,5 %", "not a comma"),
    (parse_percent, "9/2 %", "as a decimal"),
    (parse_percent, "-1 %", "not negative"),
    (parse_temperature, "300 K", "°C or °F"),
    (parse_temperature, "-300 °C", "absolute zero"),
    (parse_speed, "50 fpm", "write ft/min"),
    (parse_angle, "1 rad", "in degrees"),
    (parse_number, "12 mm", "no unit belongs here"),
    (parse_number, "", "expected a number"),
    (parse_duration, "5 m", "minutes or months"),
    (parse_duration, "1.5 months", "counted whole"),
    (parse_duration, "101 years", "at most 100 years"),
    (parse_duration, "9999999999999999999 h", "at most 100 years"),
    (parse_duration, "-3 days", "not negative"),
]


@pytest.mark.parametrize(("parse", "text", "value"), OTHERS)
def test_other_quantities(parse: Callable[[str], object], text: str, value: object) -> None:
    assert parse(text) == value


@pytest.mark.parametrize(("parse", "text", "words"), BAD_OTHERS)
def test_other_bad_quantities(parse: Callable[[str], object], text: str, words: str) -> None:
    with pytest.raises(QuantityError) as caught:
        parse(text)
    assert words in str(caught.value)


def test_percent_and_angle_may_be_negative_where_asked_for() -> None:
    assert parse_percent("-1.5 %", signed=True) == Fraction(-3, 2)
    assert parse_angle("-1.5 deg", signed=True) == Fraction(-3, 2)
    assert parse_number("-1.5", signed=True) == Fraction(-3, 2)


# --- Garbage ------------------------------------------------------------------------------------

QUANTITY_LIKE = st.text(alphabet="0123456789.,/-+ '\"′″mcfintkNdays%°CF½eE_\u00a0", max_size=60)


@pytest.mark.parametrize("parse", PARSERS)
@given(text=st.text() | QUANTITY_LIKE)
@example(text="9" * 10000)
@example(text="½½½ in")
@example(text="1/00 in")
@example(text="\ud800 mm")
def test_garbage_raises_nothing_but_a_quantity_error(
    parse: Callable[[str], object], text: str
) -> None:
    with contextlib.suppress(QuantityError):
        parse(text)


@pytest.mark.parametrize("parse", PARSERS)
@given(text=st.text(max_size=20))
def test_the_error_is_one_line_that_shows_what_was_given(
    parse: Callable[[str], object], text: str
) -> None:
    with pytest.raises(QuantityError) as caught:
        parse(f"about {text}")
    assert str(caught.value).isprintable()
    assert caught.value.expected
    assert (caught.value.given or "").startswith('"about ')


# --- Showing ------------------------------------------------------------------------------------

DECIMALS = st.decimals(min_value=-(10**6), max_value=10**6, places=6).map(Fraction)
SIXTY_FOURTHS = st.integers(-(10**6), 10**6).map(
    lambda count: Fraction(count, 64) * Fraction("25.4")
)
TIMES = st.builds(
    Duration,
    st.integers(0, 99).map(Fraction),
    st.sampled_from(["hours", "days", "weeks", "months", "years"]),
)


@given(DECIMALS)
def test_decimals_read_back(value: Fraction) -> None:
    assert parse_number(exact_decimal(value), signed=True) == value
    assert parse_length(show_length_mm(value), signed=True) == value
    assert parse_percent(show_percent(value, 6), signed=True) == value


@given(SIXTY_FOURTHS)
def test_inches_and_feet_read_back(length_mm: Fraction) -> None:
    assert parse_length(show_inches(length_mm), signed=True) == length_mm
    assert parse_length(show_feet_inches(length_mm), signed=True) == length_mm


@given(TIMES)
def test_durations_read_back(duration: Duration) -> None:
    assert parse_duration(str(duration)) == duration


@given(st.fractions(-1000, 1000), st.integers(0, 8))
def test_rounding_is_within_half_a_digit(value: Fraction, digits: int) -> None:
    shown = Fraction(fixed_decimal(value, digits))
    assert abs(shown - value) <= Fraction(1, 2 * 10**digits)


@given(st.fractions(-1000, 1000))
def test_a_cut_decimal_never_overstates(value: Fraction) -> None:
    shown = exact_decimal(value)
    if shown.endswith("…"):
        cut = Fraction(shown[:-1])
        assert abs(cut) < abs(value) < abs(cut) + Fraction(1, 10**6)
    else:
        assert Fraction(shown) == value


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        (Fraction(0), "0"),
        (Fraction(20), "20"),
        (Fraction(9, 2), "4.5"),
        (Fraction("28.575"), "28.575"),
        (Fraction(-1, 8), "-0.125"),
        (Fraction(1, 3), "0.333333…"),
        (Fraction(-2, 3), "-0.666666…"),
        (Fraction(1, 2**20), "0.00000095367431640625"),
        (Fraction(1, 10**9 * 3), "0.000000…"),
        (Fraction(1, 2**1000), "0.000000…"),
    ],
)
def test_exact_decimal(value: Fraction, shown: str) -> None:
    assert exact_decimal(value) == shown


@pytest.mark.parametrize(
    ("value", "digits", "shown"),
    [
        (Fraction("0.125"), 2, "0.13"),
        (Fraction("-0.125"), 2, "-0.13"),
        (Fraction("-0.001"), 2, "0.00"),
        (Fraction(5, 2), 0, "3"),
        (Fraction(20), 1, "20.0"),
    ],
)
def test_fixed_decimal(value: Fraction, digits: int, shown: str) -> None:
    assert fixed_decimal(value, digits) == shown


def test_a_percentage_just_below_a_limit_is_not_shown_as_the_limit() -> None:
    assert show_percent(Fraction(45, 10)) == "4.5 %"
    assert show_percent(Fraction(45, 10) - Fraction(1, 10**9)) == "≈ 4.50 %"


@pytest.mark.parametrize(
    ("length_mm", "inches", "feet_inches"),
    [
        (Fraction(0), "0 in", "0 in"),
        (Fraction("28.575"), "1 1/8 in", "1 1/8 in"),
        (Fraction(20), "≈ 25/32 in", "≈ 25/32 in"),
        (Fraction("12395.2"), "488 in", "40 ft 8 in"),
        (Fraction("304.8"), "12 in", "1 ft"),
        (Fraction("-28.575"), "-1 1/8 in", "-1 1/8 in"),
    ],
)
def test_inches(length_mm: Fraction, inches: str, feet_inches: str) -> None:
    assert show_inches(length_mm) == inches
    assert show_feet_inches(length_mm) == feet_inches


def test_places() -> None:
    assert metres(Fraction(23400)) == 23.4
    assert show_place_m(23.4) == "23.40 m"
    assert show_place_m(23.456, 1) == "23.5 m"
    for value in (math.inf, math.nan):
        with pytest.raises(ValueError, match="finite"):
            show_place_m(value)


def test_names_are_listed() -> None:
    assert units.__all__ == sorted(units.__all__)
