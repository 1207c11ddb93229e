"""Metric figures in sentences told in feet, inches and pounds: what is told, what is left alone.

Figures by hand: 1 ft = 0.3048 m and 1 in = 25.4 mm exactly, 1 lb = 0.45359237 kg exactly,
1 lbf = 4.4482216152605 N exactly (published: the international yard and pound agreement of 1959
and standard gravity of 1901); each quotient is written beside its row.
"""

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ropewright.units import exact_in_us, in_us, parse_length, us_beside, us_example

TOLD = [
    ("hook at 41.2 m", "hook at 135.2 ft"),  # 135.171
    ("14.0 m to 17.0 m", "45.9 ft to 55.8 ft"),  # 45.932, 55.774
    ("14.0 to 17.0 m", "45.9 to 55.8 ft"),
    ("295.1–297.7 m", "968.2–976.7 ft"),  # 968.176, 976.706
    ("± 0.3 m", "± 1.0 ft"),  # 0.984
    ("41.2 ± 0.3 m", "135.2 ± 1.0 ft"),
    ("61 m", "200 ft"),  # 200.131
    ("297 m", "974 ft"),  # 974.409
    ("the last 2 m before it", "the last 6.56 ft before it"),  # 6.562
    ("at -4.6 m; it stops at 0.0 m", "at -15.1 ft; it stops at 0.0 ft"),  # -15.092
    ("20 mm", "0.787 in"),  # 0.78740
    ("22.3 and 22.25 mm", "0.878 and 0.8760 in"),  # 0.87795, 0.87598
    ("1.5 t", "3307 lb"),  # 3306.93
    ("400 kg", "882 lb"),  # 881.85
    ("83.4 kN", "18750 lbf"),  # 18749.1
    ("396.00 kN", "89024 lbf"),  # 89024.3
    ("layer 1 to 2, ± 2.5 m", "layer 1 to 2, ± 8.2 ft"),  # 8.202
]


@pytest.mark.parametrize(("metric", "us"), TOLD)
def test_advice_is_told_in_the_other_units(metric: str, us: str) -> None:
    assert in_us(metric) == us


@pytest.mark.parametrize(("metric", "us"), TOLD)
def test_a_record_keeps_its_words_before_the_brackets(metric: str, us: str) -> None:
    said = us_beside(metric)
    assert re.sub(r" \([^()]*\)", "", said) == metric
    inside = re.findall(r" \(([^()]*)\)", said)
    for figure in re.findall(r"[0-9]+(?:\.[0-9]+)? (?:ft|in|lbf?)\b", us):
        assert any(figure in one for one in inside)


def test_figures_that_belong_together_stand_in_one_pair_of_brackets() -> None:
    said = us_beside("5 broken wires in 30 d from 296.1 m to 296.7 m ± 1.0 m; limit 4 or more")
    expected = (  # by hand: 971.457, 973.425, 3.281
        "5 broken wires in 30 d from 296.1 m to 296.7 m ± 1.0 m (971.5 ft to 973.4 ft ± 3.3 ft); "
        "limit 4 or more"
    )
    assert said == expected


@pytest.mark.parametrize(
    "words",
    [
        "5 broken wires in 6 d and 9 in 30 d", "29 CFR 1926.1413(a)(2)(ii)(A)(1)",
        "ISO 4309:2017, 6.6.2", "at 0.25 m/s, at most 12 m/min", "grade 1770 N/mm²",
        "2026-11-10", "10 Nov 2026", "30 min of running", "§ 5, layer 2", "6x36WS", "1,200 m",
        "23,4 m", "3 m2 and 4 m³", "12.7 mm (1/2 in)", "1/2 in (12.7 mm)", "8 °C, 60.0 deg",
        "π × (460 + 22) mm", "KQ-1 m", "5.5 %", "2 falls", "2 to 4 wires",
    ],
)  # fmt: skip
def test_what_only_looks_like_a_figure_is_left_alone(words: str) -> None:
    assert in_us(words) == words
    assert us_beside(words) == words


@pytest.mark.parametrize("words", ["5 × 1.514 m", "3, 4 m", "22.35; 22.4 mm", "5 or 6 mm"])
def test_where_a_number_before_may_belong_to_it_the_metric_figure_stays(words: str) -> None:
    assert in_us(words).startswith(words)
    assert in_us(words) != words


def back(shown: str) -> Fraction:
    """A US figure in the metric unit it came from: metres, millimetres, kilograms, kilonewtons."""
    number, unit = shown.rsplit(" ", 1)
    per = {"ft": "0.3048", "in": "25.4", "lb": "0.45359237", "lbf": "0.0044482216152605"}
    return Fraction(number) * Fraction(per[unit])


@given(
    number=st.integers(0, 10**7), digits=st.integers(0, 3),
    unit=st.sampled_from(["m", "mm", "kg", "kN"]),
)  # fmt: skip
def test_no_place_is_lost_on_the_way(number: int, digits: int, unit: str) -> None:
    if unit in ("mm", "kN"):
        digits = min(digits, 2)  # nobody reads a gauge or a load cell finer
    value = Fraction(number, 10**digits)
    whole, part = divmod(number, 10**digits)
    metric = f"{whole}.{part:0{digits}d} {unit}" if digits else f"{whole} {unit}"
    shown = in_us(f"at {metric}, so").removeprefix("at ").removesuffix(", so")
    assert abs(back(shown) - value) * 2 <= Fraction(1, 10**digits)
    assert us_beside(f"at {metric}, so") == f"at {metric} ({shown}), so"


@given(st.text(alphabet="0123456789. mtokgN±–()-,;×/ft", max_size=40))
def test_telling_twice_changes_nothing_and_no_words_are_lost(text: str) -> None:
    once = us_beside(text)
    assert us_beside(once) == once
    rest = iter(once)
    assert all(char in rest for char in text)  # the text runs through it in order


def test_examples_are_what_the_trade_would_write() -> None:
    assert us_example("like 23.4 m") == "like 76 ft 9 in"  # by hand: 921.3 in
    assert us_example("like 61 m") == "like 200 ft"
    assert us_example("like 20 mm") == "like 3/4 in"  # by hand: 6.3 eighths
    assert us_example("like 8 t, block included") == "like 17600 lb, block included"
    assert us_example("like Stamp, s or m") == "like Stamp, s or m"


@given(st.integers(0, 10**6), st.sampled_from([1, 2, 4, 8, 16, 32, 64]))
def test_what_was_typed_in_inches_comes_back_as_it_was(number: int, parts: int) -> None:
    length_mm = Fraction(number, parts) * Fraction("25.4")
    if (length_mm * 10**12).denominator != 1:
        return
    for value, unit in ((length_mm, "mm"), (length_mm / 1000, "m")):
        digits = f"{int(value * 10**15):016d}"
        text = f"{digits[:-15]}.{digits[-15:]}".rstrip("0").rstrip(".")
        shown = exact_in_us(f"{text} {unit}")
        assert not shown.endswith(f" {unit}")
        assert parse_length(shown) == length_mm


def test_what_is_not_exact_in_inches_stays_metric() -> None:
    assert exact_in_us("0.4 m") == "0.4 m"
    assert exact_in_us("480 mm") == "480 mm"
    assert exact_in_us("38") == "38"
