"""The use cases: chosen rule sets, the record of a report, what a later shift check adds."""

import json
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

import pytest

from ropewright.demo import demo_case, demo_names
from ropewright.desk import choose_rule_sets, judge, record_of
from ropewright.inspection import Dossier, Inspection
from ropewright.intake import PackageShelf, read_case
from ropewright.units import as_plain_data

DAY = date(2026, 11, 10)
SHELF = PackageShelf()


def demo(name: str) -> Dossier:
    """A demo rope's dossier."""
    return read_case(demo_case(name), file=name, known_rules=SHELF.names()).dossier


def test_own_checks_are_always_used_and_each_rule_set_once() -> None:
    dossier = demo("KQ-1")
    sets = choose_rule_sets(dossier, SHELF, added=["iso-4309-2017", "own-checks"])
    assert [one.rule_set_id for one in sets] == [
        "iso-4309-2017", "us-29cfr-1926-1413", "own-checks",
    ]  # fmt: skip


@pytest.mark.parametrize("name", demo_names())
def test_the_record_holds_everything_and_is_the_same_twice(name: str) -> None:
    dossier = demo(name)
    result = judge(dossier, SHELF, DAY, software="ropewright test")
    record = record_of(dossier, result, case_file=name, case_hash="0" * 64)
    assert record == record_of(dossier, result, case_file=name, case_hash="0" * 64)
    data = json.loads(record)
    found = {
        finding["finding_id"]
        for inspection in data["dossier"]["inspections"]
        for finding in inspection["findings"]
    }
    expected = {f.finding_id for one in dossier.inspections for f in one.findings}
    assert found == expected
    assert data["assessment"]["verdict"]["level"] == result.verdict.level


def test_plain_data_is_exact_and_refuses_to_guess() -> None:
    @dataclass
    class Sample:
        half: Fraction
        third: Fraction
        day: date

    data = as_plain_data(Sample(Fraction(1, 2), Fraction(1, 3), DAY))
    assert data == {"half": "0.5", "third": "1/3", "day": "2026-11-10"}
    with pytest.raises(TypeError):
        as_plain_data(object())


def test_a_shift_check_after_the_periodic_one_is_judged_by_the_shift_clauses_too() -> None:
    """The periodic inspection still governs completeness; the shift check is judged beside it."""
    dossier = demo("KQ-1")
    shift = Inspection(inspection_id="shift", kind="shift", on=DAY)
    later = replace(dossier, inspections=(*dossier.inspections, shift))
    by_shift = [
        one
        for one in judge(later, SHELF, DAY, software="test").rulings
        if one.inspection_id == "shift" and one.status == "not assessable"
    ]
    assert by_shift, "a shift check that saw nothing must not pass"
    before = judge(dossier, SHELF, DAY, software="test")
    assert not [one for one in before.rulings if one.inspection_id == "shift"]
