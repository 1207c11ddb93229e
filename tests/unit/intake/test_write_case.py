"""A case file that is written reads back as the same dossier and is judged the same.

Kind of every expected value here: the dossier that went in (a round trip).
"""

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import assume, given, settings

from ropewright.desk import judge
from ropewright.errors import InputError
from ropewright.geometry import RopePlace, Section
from ropewright.inspection import (
    BreakGroup,
    BrokenWires,
    Dossier,
    Event,
    Inspection,
    Mark,
    Person,
    Release,
)
from ropewright.intake import PackageShelf, read_case, write_case
from ropewright.intake.write_case import as_recorded
from ropewright.rope import Cut, EndForEnd, RopeHistory
from ropewright.rules import assessment_as_json
from tests.laws.building import judged
from tests.laws.strategies import dossiers
from tests.unit.logbook.samples import ROOT, a_dossier, case_dossiers

CASES = dict(case_dossiers())


@pytest.mark.parametrize("name", CASES)
def test_every_demo_rope_and_example_comes_back(name: str) -> None:
    one = CASES[name]
    text = write_case(one, folder=ROOT / "examples")
    again = read_case(text, file="again.toml", folder=ROOT / "examples").dossier
    assert again == one
    assert write_case(again, folder=ROOT / "examples") == text
    day = max((each.on for each in one.inspections), default=date(2026, 1, 1)) + timedelta(days=1)
    before, after = (judge(each, PackageShelf(), day, software="test") for each in (one, again))
    assert assessment_as_json(before) == assessment_as_json(after)


@settings(max_examples=60)
@given(dossiers(earlier=True))
def test_any_dossier_comes_back(one: Dossier) -> None:
    # The reader refuses a cluster beyond the rope or a strand it does not have; so does the writer.
    found = [each for inspection in one.inspections for each in inspection.findings]
    assume(all(each.section.to_m <= one.rope.length_m for each in found))
    strands = one.rope.construction.outer_strands or 100
    groups = [group for each in found if isinstance(each, BrokenWires) for group in each.groups]
    assume(all((group.strand or 1) <= strands for group in groups))
    again = read_case(write_case(one), file="again.toml").dossier
    assert again == as_recorded(one)
    assert judged(again).verdict == judged(one).verdict


def test_a_turned_rope_counts_back_from_its_place() -> None:
    found = BrokenWires(
        finding_id="F9",
        place=RopePlace(at_m=50.0),
        groups=(
            BreakGroup(from_mm=Fraction(-60), to_mm=Fraction(-40), count=2),
            BreakGroup(from_mm=Fraction(127, 15), to_mm=Fraction(127, 15), count=1, strand=2),
        ),
    )
    one = a_dossier()
    one = replace(
        one,
        inspections=(replace(one.inspections[0], findings=(found,)),),
        people=(Person(role="lift supervisor", name="supervisor one"),),
        title='quotes " and \\ and\nlines',
    )
    text = write_case(one, heading="invented data")
    assert text.startswith("# invented data\n")
    assert read_case(text, file="again.toml").dossier == as_recorded(one)


def test_what_a_case_file_cannot_hold_is_refused_by_name() -> None:
    one = a_dossier()
    twice = replace(one.inspections[0], inspection_id="another")
    with pytest.raises(InputError, match="an id that is not used elsewhere"):
        write_case(
            replace(one, inspections=(_with_finding(one.inspections[0]), _with_finding(twice)))
        )
    other = replace(one, history=replace(one.history, original_length_m=one.rope.length_m + 5))
    with pytest.raises(InputError, match=r"history\.original_length_m"):
        write_case(other)


def _with_finding(inspection: Inspection) -> Inspection:
    found = BrokenWires(
        finding_id="F1",
        place=RopePlace(at_m=5.0),
        groups=(BreakGroup(from_mm=Fraction(0), to_mm=Fraction(0), count=1),),
    )
    return replace(inspection, findings=(found,))


def test_a_rule_file_has_to_lie_beside(tmp_path: Path) -> None:
    beside = tmp_path / "house.toml"
    beside.write_text("invented", encoding="utf-8")
    one = a_dossier()
    one = replace(one, installation=replace(one.installation, rules=(str(beside),)))
    text = write_case(one, folder=tmp_path)
    assert 'rules = ["./house.toml"]' in text
    assert read_case(text, file="again.toml", folder=tmp_path).dossier.installation.rules == (
        str(beside),
    )
    with pytest.raises(InputError, match="a rule file beside the case file"):
        write_case(one, folder=tmp_path / "elsewhere")


def test_a_rope_that_was_cut_and_turned_on_the_day_of_an_inspection_comes_back() -> None:
    one = a_dossier()
    day = one.inspections[0].on
    history = RopeHistory(
        original_length_m=one.rope.length_m,
        steps=(
            Cut(on=day, end="A", length_m=6.2, reason="worn end"),
            EndForEnd(on=day, reason="both makers agree"),
        ),
    )
    found = BrokenWires(
        finding_id="F1",
        place=RopePlace(at_m=3.1, abs_err_m=1.0, rel_err_m=0.02),  # on the piece that was cut off
        groups=(BreakGroup(from_mm=Fraction(0), to_mm=Fraction(120), count=6, strand=3),),
        photos=("spot.jpg",),
        same_as=None,
    )
    event = Event(
        event_id="snag", kind="snag", on=day, section=Section(0.0, 5.0), remark="hook caught",
        release=Release(by="engineer", on=day, evidence="I1"),
    )  # fmt: skip
    one = replace(
        one,
        history=history,
        events=(event,),
        marks=(Mark(name="7", place=RopePlace(at_m=100.25), made_of="paint", on=day),),
        inspections=(
            replace(one.inspections[0], findings=(found,), after_event="snag", finished=False),
        ),
    )
    text = write_case(one)
    assert "before_changes = true" in text
    assert read_case(text, file="again.toml").dossier == as_recorded(one)
