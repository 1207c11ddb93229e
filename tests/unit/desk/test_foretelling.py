"""The forecast at the desk: limits and caps of the rules, and the verdict before everything."""

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest

from ropewright.demo import demo_case
from ropewright.desk import choose_rule_sets, foretell, judge
from ropewright.desk.foretelling import break_limits
from ropewright.desk.overview import overview
from ropewright.errors import InputError
from ropewright.inspection import Dossier
from ropewright.intake import PackageShelf, read_case

SHELF = PackageShelf()
DAY = date(2026, 11, 10)


@pytest.fixture
def dossier() -> Dossier:
    """The demo's hoist rope."""
    return read_case(demo_case("KQ-1"), file="KQ-1", known_rules=SHELF.names()).dossier


def test_a_rope_to_be_removed_has_no_next_inspection(dossier: Dossier) -> None:
    """By hand: whatever the model would say, the verdict comes first."""
    found = foretell(dossier, SHELF, DAY, software="test").forecast
    assert found.state == "limit reached"
    assert found.next_inspection is None
    assert found.order_by == DAY
    assert "29 CFR 1926.1413(a)(2)(ii)(A)(2)" in found.because


def test_limits_are_the_strictest_of_each_window(dossier: Dossier) -> None:
    """29 CFR 1926.1413(a)(2)(ii)(A), published: 2 in 6 d, 4 in 30 d, 6 in one lay."""
    rulings = judge(dossier, SHELF, DAY, software="test").rulings
    limits = break_limits(rulings, choose_rule_sets(dossier, SHELF), Fraction(20))
    assert {(one.window_d, one.count) for one in limits} == {(6.0, 2), (30.0, 4), (7.25, 6)}


def test_never_beyond_the_interval_of_a_rule(dossier: Dossier) -> None:
    """29 CFR 1926.1413(b): monthly, so not later than a month after the last one."""
    clean = replace(
        dossier,
        inspections=tuple(
            replace(one, findings=(), part_findings=()) for one in dossier.inspections
        ),
    )
    found = foretell(clean, SHELF, DAY, software="test").forecast
    assert found.next_inspection is None or found.next_inspection <= date(2026, 12, 9)


def test_without_a_number_in_any_rule_there_is_nothing_to_forecast(dossier: Dossier) -> None:
    silent = replace(
        dossier, installation=replace(dossier.installation, rules=("uk-loler",), permissions=())
    )
    with pytest.raises(InputError, match="a number of broken wires"):
        foretell(silent, SHELF, DAY, software="test")


def test_an_overview_judges_once_and_forecasts_the_same(
    dossier: Dossier, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Other program: the forecast that judges by itself."""
    alone = foretell(dossier, SHELF, DAY, software="test")
    made = judge(dossier, SHELF, DAY, software="test")

    def never(*_: object, **__: object) -> None:
        raise AssertionError("judged a second time")

    monkeypatch.setattr("ropewright.desk.foretelling.judge", never)
    assert foretell(dossier, SHELF, DAY, software="test", judged=made) == alone
    assert overview(dossier, SHELF, DAY, software="test").growth == alone


def test_an_assessment_of_another_day_is_refused(dossier: Dossier) -> None:
    made = judge(dossier, SHELF, date(2026, 11, 9), software="test")
    with pytest.raises(InputError, match="an assessment of 2026-11-10"):
        foretell(dossier, SHELF, DAY, software="test", judged=made)
