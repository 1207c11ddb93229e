"""Fitting a rope: papers against order and crane, spooling tension, what is done and what is next.

Invented data; kinds of the expected figures stand beside them.
"""

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest

from ropewright.desk import FITTING_STEPS, FittingSaid, StepSaid, fitting_guide
from ropewright.desk.installing_checks import papers_compared, spooling_tension
from ropewright.desk.ordering_model import OrderValue
from ropewright.inspection import Dossier, SetUpMeasure
from ropewright.rope import Certificate
from tests.unit.logbook.samples import a_dossier

DAY = date(2026, 11, 25)
ORDER: dict[str, OrderValue] = {
    "construction": "6x36WS", "diameter_mm": Fraction(20), "length_m": 200.0, "lay_hand": "left",
    "breaking_force_kn": Fraction(250),
}  # fmt: skip


def new_rope() -> Dossier:
    one = a_dossier()
    paper = Certificate(number="2", minimum_breaking_force_kn=Fraction(252))
    rope = replace(one.rope, certificate=paper, lay_hand="left")
    return replace(
        one,
        rope=rope,
        crane=replace(one.crane, safe_working_load="8 t on 2 falls"),
        installation=replace(
            one.installation,
            reference=None,
            set_up=(SetUpMeasure(name="drum hand", value="right"),),
        ),
    )


def test_steps_have_cautions_where_hands_are_in_danger() -> None:
    keys = [one.key for one in FITTING_STEPS]
    assert keys == [
        "papers", "measured", "sheaves", "reel", "pull in", "tension", "ends", "limits",
        "break in", "reference", "test", "release",
    ]  # fmt: skip
    assert [one.key for one in FITTING_STEPS if not one.cautions] == ["papers"]


def test_papers_are_held_against_the_order_line_by_line() -> None:
    one = new_rope()
    order: dict[str, OrderValue] = {**ORDER, "construction": one.rope.construction.name}
    said = {line.what: line.agrees for line in papers_compared(one, order)}
    assert said["Construction"] is True
    assert said["Nominal diameter [mm]"] is True
    assert said["Minimum breaking force [kN]"] is True  # more than ordered is no mismatch
    assert said["Lay hand and drum"] is True
    assert said["Finish"] is None  # nobody says
    silent = papers_compared(replace(one, rope=replace(one.rope, certificate=None)), order)
    (force,) = (line for line in silent if line.what == "Minimum breaking force [kN]")
    assert force.agrees is False  # ordered, and the papers do not state it
    assert force.words == "Minimum breaking force [kN]: papers say nothing, ordered 250"
    worse: dict[str, OrderValue] = {
        **order,
        "lay_hand": "right",
        "breaking_force_kn": Fraction("252.1"),
        "length_m": 200.5,
    }
    wrong = [line.what for line in papers_compared(one, worse) if line.agrees is False]
    assert wrong == ["Length [m]", "Lay hand", "Minimum breaking force [kN]"]
    left = replace(one.installation, set_up=(SetUpMeasure(name="drum hand", value="left"),))
    lines = papers_compared(replace(one, installation=left), order)
    assert [line.what for line in lines if line.agrees is False] == ["Lay hand and drum"]
    assert [line.what for line in papers_compared(one, None)] == ["Lay hand and drum"]


def test_the_tension_is_the_larger_of_both_with_its_derivation() -> None:
    """By hand: 252 kN × 0.02 = 5.04 kN; 8000 kg × 9.80665 / 2 / 10 = 3.92 kN."""
    lines = spooling_tension(new_rope())
    assert lines[0] == "2 % of breaking force: 252.00 kN × 0.02 = 5.04 kN"
    assert lines[1].endswith("8000 kg × g ÷ 2 falls × 0.1 = 3.92 kN")
    assert lines[2] == "spool with 5.04 kN or more, the larger of both"
    one = new_rope()
    heavy = replace(one, crane=replace(one.crane, safe_working_load="24 t on 2 falls"))
    assert spooling_tension(heavy)[2].startswith("spool with 11.77 kN")  # by hand: 3 × 3.9227
    silent = replace(one, crane=replace(one.crane, safe_working_load=""))
    assert spooling_tension(silent)[2].startswith("at least 5.04 kN; the tension is to be filled")


@pytest.mark.parametrize("load", ["10 000 kg on 2 falls", "10,000 kg", "1,5 t", "8'000 kg"])
def test_a_load_is_not_read_from_the_middle_of_its_number(load: str) -> None:
    one = new_rope()
    one = replace(one, crane=replace(one.crane, safe_working_load=load))
    assert spooling_tension(one)[1] == "10 % of safe working load: not known"


def said_of(*keys: str, **more: object) -> FittingSaid:
    steps = {key: StepSaid(done=True, by="rope fitter", on=DAY) for key in keys}
    return FittingSaid(begun_on=DAY, begun_by="rope fitter", steps=steps, **more)  # type: ignore[arg-type]


def test_one_step_is_next_and_nothing_is_skipped_in_silence() -> None:
    one = new_rope()
    guide = fitting_guide(one, FittingSaid())
    assert {each.state for each in guide.steps} == {"open"}
    assert guide.next_step is None
    guide = fitting_guide(one, said_of("papers", "sheaves"))
    assert guide.next_step is not None
    assert guide.next_step.step.key == "measured"
    assert [each.state for each in guide.steps[:3]] == ["done", "next", "done"]
    broken = replace(guide.said, steps={"papers": StepSaid(done=False, by="x", remark="no tag")})
    guide = fitting_guide(one, broken)
    assert guide.next_step is not None
    assert (guide.next_step.step.key, guide.next_step.state) == ("papers", "not right")
    assert "papers: no tag" in guide.missing


def test_a_mismatch_or_an_unchecked_order_keeps_the_rope_on_hold() -> None:
    one = new_rope()
    every = [step.key for step in FITTING_STEPS if step.key not in ("reference", "release")]
    order: dict[str, OrderValue] = {
        **ORDER,
        "lay_hand": "right",
        "construction": one.rope.construction.name,
    }
    guide = fitting_guide(one, said_of(*every, order=order, order_checked=False))
    assert guide.next_step is not None
    assert guide.next_step.step.key == "papers", "nothing goes on before papers agree"
    assert any("was not checked by a second person" in words for words in guide.missing)
    assert any("Lay hand: papers say left, ordered right" in words for words in guide.missing)
    explained = StepSaid(done=True, by="x", on=DAY, remark="left lay is right, the order was wrong")
    said = said_of(*every, order=order, order_checked=True)
    said = replace(said, steps={**said.steps, "papers": explained})
    assert fitting_guide(one, said).missing == ("reference: not done",)


@pytest.mark.parametrize(
    ("readings", "words"),
    [
        ("20.5 mm, 20.4 mm, 20.5 mm, 20.6 mm", "mean 20.50 mm, +2.50 % of nominal"),  # by hand
        ("20.5 mm", "readings: four readings or more"),
        ("20.5 mm, 20.4 mm, 2o.5 mm, 20.5 mm, 20.6 mm", "readings: a length"),  # none is left out
        ("", ""),
    ],
)
def test_readings_on_the_new_rope_stand_beside_its_tolerance(readings: str, words: str) -> None:
    said = said_of("papers")
    told = StepSaid(done=True, by="x", on=DAY, values={"readings": readings} if readings else {})
    said = replace(said, steps={**said.steps, "measured": told})
    figures = fitting_guide(new_rope(), said).steps[1].figures
    assert figures == () if not words else words in figures[-1]


def test_the_gauges_are_worked_out() -> None:
    """By hand: 20 mm × 1.05 = 21 mm, × 1.025 = 20.5 mm."""
    figures = fitting_guide(new_rope(), said_of()).steps[2].figures
    assert "21.00 mm" in figures[0]
    assert "20.50 mm" in figures[1]
