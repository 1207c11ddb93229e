"""Places asked for in four ways agree, name what is missing, and come back."""

from dataclasses import replace
from datetime import date

import pytest

from ropewright.demo import demo_case
from ropewright.desk import AtPoint, FromEnd, FromMark, OnDrum, bring_back, where_is
from ropewright.errors import InputError, UnknownNameError
from ropewright.geometry import CranePosition
from ropewright.inspection import Dossier
from ropewright.intake import read_case
from ropewright.rope import EndForEnd, RopeHistory
from tests.unit.plan.cranes import DAY, by_payout, trolley_jib


def demo() -> Dossier:
    return read_case(demo_case("KQ-1"), file="KQ-1").dossier


def at(hook_m: float, point: str = "tower head") -> AtPoint:
    return AtPoint(point=point, position=CranePosition(hook_m=hook_m))


def test_the_governing_finding_is_found_by_hook_height_drum_and_mark() -> None:
    """The demo's own places: 296.1 m, 2.1 m before mark 7, first wrap of layer 3."""
    by_hook = where_is(demo(), at(49.97), DAY)
    by_mark = where_is(demo(), FromMark(mark="blue", offset_m=-2.1), DAY)
    assert by_hook.rope.at_m == pytest.approx(296.1, abs=0.01)
    assert by_mark.rope.at_m == pytest.approx(296.1)
    assert by_mark.rope.abs_err_m == 1.0  # the mark's own
    assert by_hook.drum is not None
    assert (by_hook.drum.layer, by_hook.drum.wrap) == (3, 1)
    drum = OnDrum(layer=3, wrap=1, part=by_hook.drum.part, counted_from="motor")
    again = where_is(demo(), drum, DAY)
    assert again.rope.at_m == pytest.approx(by_hook.rope.at_m)
    assert by_hook.near[0].name.startswith("2026-11-A")
    assert any("climbs from layer 2 to 3" in words for words in by_hook.zones)


def test_wraps_counted_from_either_flange_are_the_same_wrap() -> None:
    # by hand: 38 wraps, so the 4th from one flange is the 35th from the other
    near = where_is(demo(), OnDrum(layer=2, wrap=4, counted_from="motor-side flange"), DAY)
    far = where_is(demo(), OnDrum(layer=2, wrap=35, counted_from="gearbox"), DAY)
    order = where_is(demo(), OnDrum(layer=2, wrap=35, counted_from="rope order"), DAY)
    assert near.rope == far.rope == order.rope


def test_a_tape_from_an_end_is_a_path_position() -> None:
    assert where_is(demo(), FromEnd(end="A", tape_m=12.0), DAY).rope.at_m == 12.0
    assert where_is(demo(), FromEnd(end="B", tape_m=12.0), DAY).rope.at_m == 408.0


@pytest.mark.parametrize("hook", [1.0, 49.97, 120.0, 164.0])
def test_there_and_back_gives_the_same_hook_height(hook: float) -> None:
    found = where_is(demo(), at(hook), DAY)
    back = bring_back(demo(), found.rope.at_m, DAY, point="tower head")
    assert back.reaches[0].hook_m == pytest.approx(hook, abs=1e-3)


def test_cuts_and_turns_are_between_path_and_rope() -> None:
    """By hand: turned round, 12 m from end A are 170 - 12 m of the steel."""
    dossier = trolley_jib()
    turned = replace(
        dossier,
        history=RopeHistory(original_length_m=170.0, steps=(EndForEnd(on=date(2026, 1, 1)),)),
    )
    assert where_is(turned, FromEnd(end="A", tape_m=12.0), DAY).rope.at_m == pytest.approx(158.0)
    plain = where_is(dossier, at(20.0), DAY)
    other = where_is(turned, at(20.0), DAY)
    assert plain.path == other.path
    assert plain.rope.at_m + other.rope.at_m == pytest.approx(170.0)


def test_payout_alone_gives_right_distances_and_an_honest_error() -> None:
    low, high = (where_is(by_payout(), at(hook, "drum"), DAY) for hook in (10.0, 11.0))
    assert low.path.at_m - high.path.at_m == pytest.approx(2.0)  # by hand: two falls
    assert low.rope.abs_err_m > 30
    assert low.drum is None
    assert low.helps[0].then_m < 1.0
    assert {one.key for one in low.asked} >= {"reeving.kind", "drum_diameter"}


def test_the_best_measurement_comes_first() -> None:
    helps = where_is(demo(), at(49.97), DAY).helps
    assert [one.then_m for one in helps] == sorted(one.then_m for one in helps)


def test_the_hand_stays_off_where_wires_stand_out() -> None:
    """The demo's finding 2026-11-A has protruding wires; at 180 m nothing is known to stand out."""
    (caution,) = bring_back(demo(), "2026-11-A", DAY).cautions
    assert caution.startswith("HAND OFF while the rope runs: 2026-11-A: protruding wires")
    assert not bring_back(demo(), 180.0, DAY).cautions


def test_what_cannot_be_brought_has_a_reason() -> None:
    found = bring_back(demo(), 418.0, DAY)
    assert not found.reaches
    assert all("drum" in why or "shows at most" in why for why in found.not_reached)


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (lambda: where_is(demo(), at(20.0, "jib root"), DAY), "tower head platform"),
        (lambda: where_is(demo(), at(20.0, "platform"), DAY), "one of tower head platform"),
        (lambda: where_is(demo(), FromMark(mark="9", offset_m=1), DAY), "a mark of this rope"),
        (lambda: bring_back(demo(), "nothing", DAY), "a mark, a finding that counts"),
        (lambda: bring_back(demo(), 500.0, DAY), "0 to 420"),
        (lambda: where_is(demo(), OnDrum(layer=2, wrap=1, counted_from=""), DAY), "motor-side"),
        (lambda: where_is(demo(), OnDrum(layer=9, wrap=1, counted_from="clamp"), DAY), "1 to 5"),
        (lambda: where_is(demo(), OnDrum(layer=9, wrap=1, counted_from="motor"), DAY), "1 to 5"),
        (
            lambda: where_is(by_payout(), OnDrum(layer=1, wrap=1, counted_from="far"), DAY),
            "the barrel diameter",
        ),
        (lambda: where_is(demo(), at(20.0), date(2020, 1, 1)), "in force on 2020-01-01"),
    ],
)
def test_a_wrong_question_is_answered_with_what_is_expected(ask: object, words: str) -> None:
    assert callable(ask)
    with pytest.raises(InputError) as caught:
        ask()
    assert words in str(caught.value)


def test_unknown_names_are_an_error_of_their_own() -> None:
    with pytest.raises(UnknownNameError):
        where_is(demo(), at(20.0, "moon"), DAY)
