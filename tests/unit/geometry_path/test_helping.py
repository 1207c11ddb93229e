"""What would help: each promised ± is what one gets when the measurement is made."""

from dataclasses import replace
from functools import partial

import pytest

from ropewright.geometry import (
    AT_DRUM,
    CranePosition,
    Hoist,
    LayerChanged,
    Lead,
    MarkPassed,
    PathPlace,
    SeenAtPoint,
    SeenFromEnd,
    SeenOnDrum,
    Sighting,
    WrapsCounted,
    calibrate,
    hoist_by_payout,
    locate,
    what_would_help,
)
from tests.unit.geometry_path.reference import TOWER_HEAD, reference_drum, reference_hoist

SEEN = SeenAtPoint(point=TOWER_HEAD, position=CranePosition(hook_m=23.4))


def _promised(sighting: Sighting, hoist: Hoist, words: str) -> float:
    (found,) = [one for one in what_would_help(sighting, hoist) if words in one.what]
    assert found.now_m == pytest.approx(locate(sighting, hoist).abs_err_m, rel=1e-6)
    assert found.gain_m == pytest.approx(found.now_m - found.then_m)
    return found.then_m


def test_the_best_comes_first() -> None:
    found = what_would_help(SEEN, reference_hoist())
    assert [one.then_m for one in found] == sorted(one.then_m for one in found)
    assert all(one.gain_m > 0 for one in found)


def test_a_number_measured() -> None:
    hoist = reference_hoist()
    then = replace(hoist, tolerances=replace(hoist.tolerances, hook_zero_m=0.05))
    # A measurement to 0.05 m beside a tolerance of 0.3 m: together 0.0493 m.
    assert _promised(SEEN, hoist, "tape the hook's height") == pytest.approx(
        locate(SEEN, then).abs_err_m, rel=2e-3
    )


def test_wraps_counted() -> None:
    hoist = reference_hoist()
    turn = hoist.wound_drum().turn_m[0]
    seen = WrapsCounted(
        name="x", position=CranePosition(hook_m=0.0), layer=1, wraps=9.3292 / turn, err_turns=0.1
    )
    after = calibrate(hoist, [seen]).hoist
    assert _promised(SEEN, hoist, "with the hook at its lowest") == pytest.approx(
        locate(SEEN, after).abs_err_m, rel=1e-3
    )


def test_a_layer_change_noted() -> None:
    hoist = reference_hoist()
    # By hand: layer 1 is full with 205 - 44.0175 m outside.
    hook = 60.8 - (205 - 44.01748 - 74.0708) / 2
    seen = LayerChanged(name="x", position=CranePosition(hook_m=hook), layer=1)
    after = calibrate(hoist, [seen]).hoist
    assert _promised(SEEN, hoist, "layer 1 is full (about 17.3 m)") == pytest.approx(
        locate(SEEN, after).abs_err_m, rel=1e-3
    )


def test_a_mark_seen() -> None:
    hoist = reference_hoist()
    here = locate(SEEN, hoist).at_m
    mark = MarkPassed(
        name="x", position=SEEN.position, point=TOWER_HEAD,
        mark=PathPlace(at_m=here, abs_err_m=0.05),
    )  # fmt: skip
    after = calibrate(hoist, [mark]).hoist
    assert _promised(SEEN, hoist, "see a mark") == pytest.approx(
        locate(SEEN, after).abs_err_m, rel=1e-3
    )


def test_for_a_place_on_the_drum_other_things_help() -> None:
    seen = SeenOnDrum(layer=4, wrap=5, part=0.0)
    words = [one.what for one in what_would_help(seen, reference_hoist())]
    assert any("rope's length" in text for text in words)
    assert any("full layer" in text for text in words)
    assert not any("hook's height" in text for text in words)


def test_nothing_helps_a_tape_from_end_a() -> None:
    assert what_would_help(SeenFromEnd(end="A", tape_m=10.0), reference_hoist()) == ()


# --- Little known -------------------------------------------------------------------------------

AT_23 = SeenAtPoint(point=AT_DRUM, position=CranePosition(hook_m=23.4))


def test_falls_and_two_hook_heights_are_enough() -> None:
    hoist = hoist_by_payout(falls=2, hook_low_m=0.0, hook_high_m=60.0)
    low = locate(AT_23, hoist)
    high = locate(SeenAtPoint(point=AT_DRUM, position=CranePosition(hook_m=40.0)), hoist)
    # By hand: 2 x 16.6 m apart, each right to its reading; from end A nobody knows.
    assert low.at_m - high.at_m == pytest.approx(33.2)
    assert low.rel_err_m == pytest.approx((0.2**2 + 0.1**2) ** 0.5)
    assert low.abs_err_m == pytest.approx(50, rel=1e-3)


def test_each_further_number_narrows() -> None:
    """From nothing but falls and heights to rope, drum, lead, and a taped top."""
    make = partial(hoist_by_payout, falls=2, hook_low_m=0.0, hook_high_m=60.0)
    drum = reference_drum(layers=6)
    steps = [
        make(),
        make(rope_m=205.0),
        make(rope_m=205.0, drum=reference_drum(layers=3)),
        make(rope_m=205.0, drum=drum, out_at_top_m=75.7),
        make(rope_m=205.0, drum=drum, out_at_top_m=75.7, out_at_top_err_m=0.1),
    ]
    errs = [locate(AT_23, hoist).abs_err_m for hoist in steps]
    assert errs == sorted(errs, reverse=True)
    assert errs[-1] < 0.7


def test_counting_wraps_replaces_what_nobody_knew() -> None:
    """Rope length, drum and wraps at the ground place the rope as well as a known jib would."""
    hoist = hoist_by_payout(
        falls=2, hook_low_m=0.0, hook_high_m=60.0, rope_m=205.0, drum=reference_drum(layers=6)
    )
    # By hand: 205 - (74.0708 + 2 x 60.8) = 9.329 m or 5.934 turns at the ground.
    seen = WrapsCounted(name="wraps", position=CranePosition(hook_m=0.0), layer=1, wraps=5.934)
    place = locate(AT_23, calibrate(hoist, [seen]).hoist)
    assert place.at_m == pytest.approx(74.0708 + 2 * (60.8 - 23.4), abs=place.abs_err_m)
    assert place.abs_err_m < 1.3
    best = what_would_help(AT_23, hoist)
    assert any("count the wraps" in one.what for one in best)


def test_what_is_asked_for_when_nothing_is_known() -> None:
    found = what_would_help(AT_23, hoist_by_payout(falls=2, hook_low_m=0.0, hook_high_m=60.0))
    assert any("rope's length, the drum, and the wraps" in one.what for one in found)
    assert all(one.then_m < 2.0 for one in found)


def test_a_lead_gives_a_root_sheave_to_stand_at() -> None:
    hoist = hoist_by_payout(
        falls=2, hook_low_m=0.0, hook_high_m=60.0, lead=Lead(to_drum_m=13.0, sheave_mm=500)
    )
    place = locate(SeenAtPoint(point=TOWER_HEAD, position=CranePosition(hook_m=60.0)), hoist)
    at_drum = locate(SeenAtPoint(point=AT_DRUM, position=CranePosition(hook_m=60.0)), hoist)
    # By hand: 13 m and a quarter of a circle of 0.25 m radius, and the 2 m before the sheave.
    assert at_drum.at_m - place.at_m == pytest.approx(13 + 0.3926991 + 2)
