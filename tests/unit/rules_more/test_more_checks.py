"""Metal lost, figures of the set-up, rules without a number: what cases do not show."""

import math
from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import Any, get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ropewright.errors import InputError, InputErrors
from ropewright.geometry import Drum, RopePlace, drum_figures, fleet_angles_deg
from ropewright.inspection import (
    SET_UP_MEASURES,
    SET_UP_UNITS,
    SET_UP_WORDS,
    MetallicLoss,
    SetUpMeasure,
    measures_of_drum,
)
from ropewright.intake import read_case
from ropewright.intake.shelf import PackageShelf
from ropewright.rules import ASSUMPTIONS, Level, assess, why
from ropewright.rules.more_checks import SetUpCheck
from tests.unit.rules.test_rule_cases import case_file, judge, ruling_of

ORDER = get_args(Level)
SHELF = PackageShelf()


def is_as_strict(after: str, before: str) -> bool:
    return ORDER.index(after) <= ORDER.index(before)


# ---------------------------------------------------------------- metallic loss


def loss(percent: Fraction | int, over: str | None = "6 d") -> dict[str, Any]:
    said = {"kind": "metallic loss", "at": "30 m", "loss": f"{float(percent):.2f} %"}
    return said if over is None else {**said, "over": over}


def level_of(*findings: dict[str, Any], rules: tuple[str, ...] = ("mrt-bands",)) -> str:
    return judge({"finding": list(findings), "rules": list(rules)}, rules[0]).verdict.level


@given(st.integers(0, 4000), st.integers(0, 4000), st.sampled_from(["6 d", "40 d", "500 d"]))
def test_more_metal_lost_is_never_milder(first: int, second: int, over: str) -> None:
    less, more = sorted((Fraction(first, 100), Fraction(second, 100)))
    assert is_as_strict(level_of(loss(more, over)), level_of(loss(less, over)))


@given(st.integers(0, 4000), st.sampled_from(["6 d", "8 d", "30 d", "40 d", "500 d", "1 lay"]))
def test_a_second_loss_is_never_milder(percent: int, over: str) -> None:
    one, other = loss(3), {**loss(Fraction(percent, 100), over), "at": "90 m"}
    assert is_as_strict(level_of(one, other), level_of(one))


@given(st.integers(1, 4000))
def test_leaving_the_length_out_is_never_called_clear(percent: int) -> None:
    assert is_as_strict(level_of(loss(Fraction(percent, 100), None)), "incomplete")


def test_metal_lost_without_a_rule_for_it_is_asked_about() -> None:
    assessment = judge({"finding": [loss(1)]}, "iso-4309-2017")
    ruling, _ = ruling_of(assessment, "own-checks", "no-clause")
    assert (ruling.status, ruling.level) == ("reached", "decide")
    assert "metallic loss" in ruling.words


def test_an_earlier_loss_stays_until_a_test_finds_it_again() -> None:
    """An eye pass cannot refute what a magnetic test found."""
    earlier = {"kind": "annual", "on": date(2026, 6, 1), "finding": [{**loss(7), "id": "L1"}]}
    whole = {"method": "eye-round", "whole": True}
    by_eye = judge({"earlier": [earlier], "inspection": {"pass": [whole]}}, "mrt-bands")
    assert by_eye.verdict.level == "remove"
    tested = {"pass": [whole, {"method": "mrt", "whole": True}]}
    vanished = judge({"earlier": [earlier], "inspection": tested}, "mrt-bands")
    ruling, _ = ruling_of(vanished, "own-checks", "vanished")
    assert ruling.status == "not assessable"
    again = judge({"earlier": [earlier], "inspection": tested, "finding": [loss(7)]}, "mrt-bands")
    ruling, count = ruling_of(again, "mrt-bands", "loss-6d")
    assert (ruling.status, count) == ("reached", 1)
    milder = judge({"earlier": [earlier], "inspection": tested, "finding": [loss(3)]}, "mrt-bands")
    assert milder.verdict.level == "remove"


@pytest.mark.parametrize(("percent", "over_mm"), [("-1", None), ("101", None), ("3", "0")])
def test_a_loss_that_cannot_be_is_refused(percent: str, over_mm: str | None) -> None:
    with pytest.raises(InputError):
        MetallicLoss(
            finding_id="L1", place=RopePlace(at_m=1.0), percent=Fraction(percent),
            over_mm=None if over_mm is None else Fraction(over_mm),
        )  # fmt: skip


# ---------------------------------------------------------------- set-up


def set_up(*measures: dict[str, Any], **case: Any) -> Any:
    return judge({"installation": {"set_up": list(measures)}, **case}, "set-up-figures")


@given(st.integers(0, 80), st.integers(0, 80))
def test_fewer_turns_are_never_milder(first: int, second: int) -> None:
    fewer, more = sorted((first, second))
    levels = [
        set_up({"measure": "dead wraps", "value": f"{n / 10} wraps"}).verdict.level
        for n in (fewer, more)
    ]
    assert is_as_strict(levels[0], levels[1])


@given(st.integers(0, 600), st.booleans())
def test_a_figure_that_is_known_is_never_milder_than_a_worse_one(angle: int, smooth: bool) -> None:
    rigging = {"drum_grooving": "smooth"} if smooth else {}
    value = {"measure": "fleet angle", "value": f"{angle / 100} deg"}
    worse = {"measure": "fleet angle", "value": f"{angle / 100 + 4} deg"}
    good = set_up(value, rigging=rigging).verdict.level
    assert is_as_strict(set_up(worse, rigging=rigging).verdict.level, good)


def test_a_good_set_up_is_clear_and_not_something_to_monitor() -> None:
    good = [
        {"measure": "fleet angle", "value": "1.2 deg"},
        {"measure": "dead wraps", "value": "6 wraps"},
        {"measure": "groove radius", "value": "0.535 d"},
        {"measure": "swivel", "value": "none"},
        {"measure": "drum diameter", "value": "480 mm"},
    ]
    assessment = set_up(*good, rigging={"drum_grooving": "helical"})
    levels = {one.ruling_id: one.level for one in assessment.rulings if one.level != "clear"}
    # 24 d lies between the figures of M1 and M8, and nobody says which class the hoist is
    assert set(levels) == {"set-up-figures/drum-iso/1"}
    assert levels["set-up-figures/drum-iso/1"] == "incomplete"


def test_derivation_of_a_figure_can_be_checked_by_hand() -> None:
    found = set_up({"measure": "flange freeboard", "value": "29 mm", "how": "measured",
                    "on": date(2026, 11, 1)})  # fmt: skip
    ruling, _ = ruling_of(found, "set-up-figures", "flange-dguv")
    lines = "\n".join(why(ruling))
    # by hand: 29 / 20 = 1.45
    assert "29 mm" in lines
    assert "measured on 2026-11-01" in lines
    assert "1.45 d" in lines
    assert "is 1.45 < 1.5 d?" in lines


def test_what_geometry_works_out_is_judged() -> None:
    """A 480 mm drum with 20.9 mm pitch, five layers and a 700 mm flange, 14 m from its sheave."""
    drum = Drum(
        barrel_mm=480.0, rope_mm=20.0, wraps=(28.0,) * 5, rise_mm=17.5, pitch_mm=20.9,
        flange_mm=700.0, grooving="parallel",
    )  # fmt: skip
    angles = fleet_angles_deg(width_mm=28 * 20.9, distance_mm=14_000)
    measures = measures_of_drum(drum_figures(drum), fleet_angles_deg=angles, on=date(2026, 1, 5))
    known = {(one.name, one.which): one for one in measures}
    # by hand: 480 / 20, 20.9 / 20, 20.9 - 20, atan(292.6 / 14000)
    assert known[("drum diameter", "drum")].value == 24
    assert known[("drum pitch", "drum")].value == Fraction("1.045")
    assert known[("clearance between wraps", "drum")].value == Fraction("0.9")
    # by hand: (700 - (480 + 2 * 20 + 2 * 4 * 17.5)) / 2 = 20
    assert known[("flange freeboard", "drum")].value == 20
    angle = known[("fleet angle", "far flange")].value
    assert isinstance(angle, Fraction)
    assert abs(float(angle) - math.degrees(math.atan(292.6 / 14_000))) < 1e-6
    assert {one.how for one in measures} == {"worked out"}
    sets = [SHELF.get("set-up-figures"), SHELF.get("own-checks")]
    plain = read_case(case_file({}), file="case", known_rules=SHELF.names()).dossier
    dossier = replace(plain, installation=replace(plain.installation, set_up=measures))
    found = assess(dossier, sets, date(2026, 11, 9), software="tests")
    status = {one.clause_id: one.status for one in found.rulings}
    assert status["drum-asme-hoist"] == "below"
    assert status["pitch-least"] == "reached"
    assert status["flange-dguv"] == "reached"  # 20 mm are 1 d
    assert status["clearance-small"] == "reached"
    assert status["angle-multi-most"] == "not applicable"  # the base has a single-layer drum


def test_the_source_of_each_figure_is_its_own() -> None:
    found = set_up({"measure": "dead wraps", "value": "3 wraps"})
    by_source = {
        one.source for one in found.rulings
        if one.clause_id.startswith("turns-") and one.status in ("below", "reached")
    }  # fmt: skip
    assert len(by_source) >= 7


def test_every_measure_is_asked_for_by_some_rule() -> None:
    asked = {
        clause.check.measure
        for name in SHELF.names()
        for clause in SHELF.get(name).clauses
        if isinstance(clause.check, SetUpCheck)
    }
    assert asked == set(SET_UP_MEASURES)


@pytest.mark.parametrize(
    ("measure", "value", "expected"),
    [
        ("fleet angle", "1.5", '"1.5 deg"'),
        ("fleet angle", "1.5 d", '"1.5 deg"'),
        ("dead wraps", "3", '"3 wraps"'),
        ("drum diameter", "18", '"18 d" or "360 mm"'),
        ("swivel", "maybe", '"none", "locked", "free"'),
        ("drum colour", "red", '"dead wraps"'),
        ("design factor", "5 to 1", '"5"'),
    ],
)
def test_a_value_that_cannot_be_read_says_how_it_should_look(
    measure: str, value: str, expected: str
) -> None:
    said = {"measure": measure, "value": value}
    case = {"installation": {"rules": ["set-up-figures"], "set_up": [said]}}
    with pytest.raises((InputError, InputErrors)) as caught:
        read_case(case_file(case), file="case", known_rules=SHELF.names())
    assert "installation.set_up[1]" in str(caught.value)
    assert expected in str(caught.value)


@pytest.mark.parametrize(
    ("measure", "value", "unit", "exact"),
    [
        ("fleet angle", "1.5 deg", "deg", "1.5"), ("fleet angle", "1.5°", "deg", "1.5"),
        ("dead wraps", "3.5 wraps", "wraps", "3.5"), ("dead wraps", "1 wrap", "wraps", "1"),
        ("drum diameter", "18.05 d", "d", "18.05"), ("drum diameter", "1 in", "mm", "25.4"),
        ("sheave hardness", "40 HRC", "HRC", "40"), ("design factor", "5.25", "-", "5.25"),
        ("spooling tension of working load", "8.5 %", "%", "8.5"),
    ],
)  # fmt: skip
def test_values_are_read_exactly(measure: str, value: str, unit: str, exact: str) -> None:
    case = {"installation": {"rules": ["set-up-figures"],
                             "set_up": [{"measure": measure, "value": value}]}}  # fmt: skip
    dossier = read_case(case_file(case), file="case", known_rules=SHELF.names()).dossier
    (read,) = dossier.installation.set_up
    assert (read.value, read.unit, read.how) == (Fraction(exact), unit, "stated")


def test_every_measure_may_be_not_fitted() -> None:
    for name in SET_UP_MEASURES:
        assert SetUpMeasure(name=name, value="not fitted").value == "not fitted"


@pytest.mark.parametrize(
    ("name", "value", "unit"),
    [
        ("drum colour", "red", ""), ("swivel", "loose", ""), ("swivel", "none", "d"),
        ("fleet angle", Fraction(1), "d"), ("fleet angle", Fraction(-1), "deg"),
        ("fleet angle", "steep", "deg"),
    ],
)  # fmt: skip
def test_a_measure_that_cannot_be_is_refused(name: str, value: Fraction | str, unit: str) -> None:
    with pytest.raises(InputError):
        SetUpMeasure(name=name, value=value, unit=unit)


def test_no_measure_has_both_units_and_words() -> None:
    assert not set(SET_UP_UNITS) & set(SET_UP_WORDS)


# ---------------------------------------------------------------- rules without a number


def test_a_generous_house_rule_does_not_silence_the_question() -> None:
    one = [{"kind": "broken wires", "at": "30 m", "count": 1}]
    alone = judge({"finding": one}, "uk-loler")
    assert alone.verdict.level == "decide"
    with_house = judge({"finding": one, "rules": ["uk-loler", "house-template"]}, "uk-loler")
    assert with_house.verdict.level == "decide"
    with_iso = judge({"finding": one, "rules": ["uk-loler", "iso-4309-2017"]}, "uk-loler")
    assert with_iso.verdict.level == "monitor"


def test_a_rule_that_is_not_in_force_does_not_answer_for_another() -> None:
    nine = [{"kind": "broken wires", "at": "30 m", "count": 1}]
    found = judge({"finding": nine, "rules": ["uk-loler", "din-15020-2"]}, "uk-loler")
    assert found.verdict.level == "decide"


def test_our_own_choices_stand_in_the_register() -> None:
    known = {one.assumption_id: one.says for one in ASSUMPTIONS}
    one = [{"kind": "broken wires", "at": "30 m", "count": 1}]
    assert known["no-number"] in judge({"finding": one}, "uk-loler").assumptions
    assert known["loss-adds-up"] in judge({"finding": [loss(1)]}, "mrt-bands").assumptions
    worn = [*one, {"kind": "abrasion", "at": "30 m", "depth": "20 %"}]
    case = {"finding": worn, "rope": {"total_wires": 240}}
    assert known["wear-at-the-place"] in judge(case, "cn-older").assumptions


@given(st.integers(1, 40), st.sampled_from([None, "9 %", "10 %", "24 %", "30 %", "1/3"]))
def test_wear_at_the_place_never_makes_it_milder(count: int, depth: str | None) -> None:
    breaks = {"kind": "broken wires", "at": "30 m", "count": count, "over": "130 mm"}
    worn = {"kind": "abrasion", "at": "30 m", **({"depth": depth} if depth else {})}
    rope = {"total_wires": 240}
    before = judge({"finding": [breaks], "rope": rope}, "cn-older").verdict.level
    after = judge({"finding": [breaks, worn], "rope": rope}, "cn-older").verdict.level
    assert is_as_strict(after, before)


def test_nothing_found_by_nobody_is_not_clear_where_no_chosen_rule_is_in_force() -> None:
    alone = judge({}, "din-15020-2")
    assert alone.verdict.level == "incomplete"
    assert alone.verdict.on_hold
    assert "none of the chosen rules is in force" in alone.verdict.sentence
    beside = judge({"rules": ["din-15020-2", "iso-4309-2017"]}, "din-15020-2")
    assert beside.verdict.level == "clear"


def test_a_finding_does_not_lift_the_hold_where_no_chosen_rule_is_in_force() -> None:
    """By hand: the rope was on hold without the finding, and it is no better with it."""
    found = judge({"finding": [{"kind": "cut", "at": "30 m"}]}, "din-15020-2")
    assert found.verdict.level == "decide"
    assert found.verdict.on_hold
    assert "none of the chosen rules is in force" in found.verdict.hold_reasons[0]
