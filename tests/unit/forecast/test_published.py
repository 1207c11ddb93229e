"""The methods compared with, held to published examples of repairable systems."""

import math

import numpy as np
import pytest

from tests.calibration.plug_ins import (
    days_to_limit,
    log_linear_grouped,
    power_law,
    power_law_grouped,
)

#: Crow, AMSAA TR-138 (1975), table of three systems observed to 200 hours (text).
SYSTEMS = (
    (4.3, 4.4, 10.2, 23.5, 23.8, 26.4, 74.0, 77.1, 92.1, 197.2),
    (0.1, 5.6, 18.6, 19.5, 24.2, 26.7, 45.1, 45.8, 75.7, 79.7, 98.6, 120.1, 161.8, 180.6, 190.8),
    (8.4, 32.5, 44.7, 48.4, 50.6, 73.6, 98.7, 112.2, 129.8, 136.0, 195.8),
)

#: Coal-mining disasters in Britain by year 1851 to 1962, 191 in all (from memory).
COAL = (
    "4541043406334026335453144155342522342132211113001011003103220111010100"
    "021000110233112111124200014000100000100101"
)


def test_three_systems_to_one_time() -> None:
    rate, exponent = power_law(SYSTEMS, (200.0,) * 3)
    # published (Crow, AMSAA TR-138, 1975): .461 and .615, to the printed digits
    assert (rate, exponent) == pytest.approx((0.461, 0.615), abs=5e-4)
    events = sum(map(len, SYSTEMS))
    # published (same): unbiased .598
    assert exponent * (events - 1) / events == pytest.approx(0.598, abs=5e-4)


def test_three_systems_to_their_last_events() -> None:
    found = power_law(SYSTEMS, (197.2, 190.8, 195.8), to_event=True)
    # published (Crow, AMSAA TR-138, 1975): .443 and .626
    assert found == pytest.approx((0.443, 0.626), abs=5e-4)


def test_grouped_counts() -> None:
    found = power_law_grouped((20, 40, 60, 80, 100), (13, 16, 5, 8, 7))
    # from memory (MIL-HDBK-189, grouped data): 1.529 and .7529
    assert found == pytest.approx((1.529, 0.7529), abs=5e-4)


def test_repair_times_with_reliability_growth() -> None:
    times = (5, 40, 43, 175, 389, 712, 747, 795, 1299, 1478)
    _, exponent = power_law((times,), (1500.0,))
    # from memory (NIST/SEMATECH e-Handbook 8.4.5.2): growth slope .5165
    assert 1 - exponent * 9 / 10 == pytest.approx(0.5165, abs=5e-5)


def test_coal_disasters_against_a_poisson_regression() -> None:
    counts = [int(one) for one in COAL]
    assert (len(counts), sum(counts)) == (112, 191)
    found = log_linear_grouped(np.arange(113.0).tolist(), counts)
    # other program: statsmodels 0.15, GLM(counts, [1, mid-year], family=Poisson()), intercept
    # less ln(sinh(b/2)/(b/2)), on this series: 1.392239, -.0183776
    assert found == pytest.approx((1.392239, -0.0183776), abs=2e-6)


def test_days_to_the_limit_by_hand() -> None:
    # by hand: 2 found in 100 days on a straight line, 8 more take 400
    assert days_to_limit("straight line", (50.0, 100.0), (1, 1), 10) == pytest.approx(400.0)
    assert days_to_limit("power law", (50.0, 100.0), (1, 1), 10) == pytest.approx(400.0, rel=1e-6)
    assert days_to_limit("log-linear", (50.0, 100.0), (1, 1), 10) == pytest.approx(400.0, rel=1e-3)
    assert math.isinf(days_to_limit("power law", (50.0,), (0,), 10))
