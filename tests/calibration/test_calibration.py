"""Calibration in small by default, in full as a proof."""

from pathlib import Path

import pytest

from tests.calibration.measures import check, reliability, uniformity
from tests.calibration.policies import WAYS, compare, fixed, ours
from tests.calibration.report import SEED_CHECK, write_report

#: Chance of a false alarm that is accepted for each test.
LEAST_P = 0.01


def held_to(ropes: int) -> None:
    checked = check(ropes, SEED_CHECK)
    for values in (checked.life, checked.time, checked.count):
        found = uniformity(values)
        assert found.p_90 > LEAST_P
        assert found.p_ks > LEAST_P
    assert checked.in_band.mean() > 0.88
    for stated, happened, count in reliability(checked):
        # four standard errors; statements of one rope hang together, so half as many count
        error = (stated * (1 - stated) / (count / 2)) ** 0.5
        assert abs(happened - stated) < 4 * error + 0.002


def test_a_few_ropes_are_calibrated() -> None:
    held_to(250)


@pytest.mark.proof
def test_five_thousand_ropes_are_calibrated() -> None:
    held_to(5000)


def test_the_forecast_beats_the_quarterly_look() -> None:
    quarterly = compare("quarterly", fixed(91.0), 10, 7)
    forecast = compare("forecast", ours(0.002, 91.0), 10, 7)
    assert forecast.passed < 0.5 * quarterly.passed
    assert forecast.inspections_a_year < 12


def test_the_report_is_written(tmp_path: Path) -> None:
    said: list[str] = []
    write_report(tmp_path, ropes=30, lives=1, pairs=1, say=said.append)
    page = (tmp_path / "calibration.md").read_text(encoding="utf-8")
    assert "| time to the limit |" in page
    assert all(name in page for name, _ in WAYS)
    assert (tmp_path / "calibration.svg").read_text(encoding="utf-8").startswith("<svg")
