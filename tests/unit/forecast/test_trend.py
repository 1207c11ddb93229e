"""Trends of other measures: right on a line, unmoved by one wrong reading, honest bands."""

from datetime import date, timedelta

import numpy as np
import pytest

from ropewright.errors import InputError
from ropewright.forecast import NoTrend, Reading, Trend, corrosion_course, trend

START = date(2024, 1, 1)


def readings(*values: float, every_days: int = 91) -> list[Reading]:
    return [
        Reading(on=START + timedelta(days=every_days * number), value=value)
        for number, value in enumerate(values)
    ]


def line(*values: float, error: float = 0.05) -> Trend:
    found = trend("diameter", readings(*values), error=error)
    assert isinstance(found, Trend)
    return found


def test_a_straight_line_is_found() -> None:
    found = line(20.0, 19.9, 19.8, 19.7, 19.6)
    # by hand: 0.1 mm in 91 days
    assert found.per_year == pytest.approx(-0.1 * 365.25 / 91)
    assert found.now == pytest.approx(19.6)


def test_one_wrong_reading_hardly_moves_the_line_but_widens_the_band() -> None:
    right = line(20.0, 19.95, 19.9, 19.85, 19.8, 19.75, 19.7)
    wrong = line(20.0, 19.95, 19.9, 21.9, 19.8, 19.75, 19.7)
    assert wrong.per_year == pytest.approx(right.per_year, abs=0.1)
    assert wrong.scatter > right.scatter


@pytest.mark.parametrize("values", [(), (20.0,), (20.0, 19.9)])
def test_two_readings_are_no_trend(values: tuple[float, ...]) -> None:
    found = trend("lay length", readings(*values), error=0.1)
    assert isinstance(found, NoTrend)
    assert "3 are needed" in found.why


def test_no_change_is_said_as_no_change() -> None:
    assert "no change" in line(20.0, 20.02, 19.99, 20.01, 20.0).words


@pytest.mark.parametrize("outliers", [0.0, 0.1])
def test_the_band_covers_what_it_says(outliers: float) -> None:
    rng, inside, lines = np.random.default_rng(20265), 0, 400
    for _ in range(lines):
        slope = rng.normal(-0.3, 0.2)
        values = []
        for number in range(6):
            off = 1.0 if rng.random() < outliers else 0.0
            values.append(20 + slope * number * 91 / 365.25 + rng.normal(0, 0.05) + off)
        found = line(*values)
        inside += found.low_per_year <= slope <= found.high_per_year
    # at least nine in ten, less three standard errors of 400 lines
    assert inside / lines > 0.9 - 3 * (0.09 / lines) ** 0.5


def test_prediction_widens_with_time() -> None:
    found = line(20.0, 19.9, 19.8, 19.7)
    near, far = found.at(date(2025, 1, 1)), found.at(date(2026, 1, 1))
    assert far[2] - far[0] > near[2] - near[0]


def test_what_is_no_number_is_refused() -> None:
    with pytest.raises(InputError):
        trend("diameter", readings(20.0, float("nan"), 19.8), error=0.1)
    with pytest.raises(InputError):
        trend("diameter", readings(20.0, 19.9, 19.8), error=0.0)


def test_corrosion_is_told_in_steps_and_never_heals() -> None:
    first, later = date(2025, 1, 1), date(2026, 1, 1)
    assert "went from" in corrosion_course([(first, "none"), (later, "rough")])
    assert "does not heal" in corrosion_course([(first, "rough"), (later, "wipes off")])
    assert "stayed" in corrosion_course([(first, "rough"), (later, "rough")])
    with pytest.raises(InputError):
        corrosion_course([(first, "rusty")])
