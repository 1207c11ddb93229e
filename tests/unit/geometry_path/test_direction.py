"""Which way the rope runs from the nearest nip, and what a pass brings past a point."""

import pytest

from ropewright.errors import InputError
from ropewright.geometry import (
    MOTIONS,
    BlockSheaves,
    CranePosition,
    Hoist,
    InspectionPoint,
    Lead,
    LevelTrack,
    TelescopicBoom,
    Travel,
    away_from_nip,
    bridge_hoist_twin,
    hoist_by_payout,
    rope_past,
    telescopic_hoist,
    trolley_rope,
)
from tests.unit.geometry_path.reference import TOWER_HEAD, reference_hoist


def _pass(low: float, high: float, radius: float | None = 30.0) -> tuple[CranePosition, ...]:
    return (
        CranePosition(hook_m=low, radius_m=radius),
        CranePosition(hook_m=high, radius_m=radius),
    )


def test_beside_the_root_sheave() -> None:
    # By hand: 2 m on the jib's side of the root sheave; hook down pulls the rope to the trolley.
    answer = away_from_nip(reference_hoist(), TOWER_HEAD, *_pass(0.0, 50.0))
    assert answer.motion == "hook down"
    assert answer.nearest == "root sheave"
    assert answer.nearest_m == pytest.approx(2.0)
    # By hand: x - x0 - 2 m to the inner trolley sheave.
    assert answer.ahead == "inner trolley sheave"
    assert answer.ahead_m == pytest.approx(26.5)
    assert answer.rope_per_axis == pytest.approx(2.0)
    assert answer.why_none is None


def test_beyond_the_root_sheave() -> None:
    point = InspectionPoint(name="ladder", at="root sheave", side="after", offset_m=1.0)
    answer = away_from_nip(reference_hoist(), point, *_pass(0.0, 50.0))
    # By hand: hook up pulls the rope to the drum, away from the root sheave.
    assert answer.motion == "hook up"
    assert (answer.nearest, answer.ahead) == ("root sheave", "drum")


def test_beside_the_drum() -> None:
    point = InspectionPoint(name="winch", at="drum", offset_m=3.0)
    answer = away_from_nip(reference_hoist(), point, *_pass(0.0, 50.0))
    assert (answer.motion, answer.nearest, answer.ahead) == ("hook down", "drum", "root sheave")


def test_the_order_of_the_two_positions_does_not_matter() -> None:
    up = away_from_nip(reference_hoist(), TOWER_HEAD, *_pass(0.0, 50.0))
    down = away_from_nip(reference_hoist(), TOWER_HEAD, *_pass(50.0, 0.0))
    assert up.motion == down.motion


def test_the_fall_at_the_anchor_stands_still() -> None:
    point = InspectionPoint(
        name="outer fall", at="outer trolley sheave", side="after", offset_m=2.0
    )
    answer = away_from_nip(reference_hoist(), point, *_pass(0.0, 50.0))
    assert (answer.motion, answer.why_none) == (None, "the rope does not run here")


def test_a_point_that_moves_with_the_block() -> None:
    point = InspectionPoint(name="block", at="block sheave", side="after", offset_m=1.0)
    answer = away_from_nip(reference_hoist(), point, *_pass(0.0, 50.0))
    assert answer.why_none == "the point itself moves"


def test_where_the_nearest_nip_changes() -> None:
    # By hand: 25 m under the trolley; with the hook at 30 the block is 5.8 m below the hand, with
    # the hook at 0 it is 35.8 m below, and the trolley is nearer.
    point = InspectionPoint(
        name="platform", at="inner trolley sheave", side="before", offset_m=25.0
    )
    answer = away_from_nip(reference_hoist(), point, *_pass(0.0, 30.0))
    assert answer.why_none == "the nearest nip changes on the way"
    low = away_from_nip(reference_hoist(), point, *_pass(0.0, 9.0))
    assert (low.motion, low.nearest) == ("hook down", "inner trolley sheave")
    assert low.ahead_m == pytest.approx(60.8 - 9 - 25)


def test_a_block_that_comes_along_behind() -> None:
    # Hook up: the rope runs up, away from the block; but the block itself comes up to the hand.
    point = InspectionPoint(
        name="platform", at="inner trolley sheave", side="before", offset_m=25.0
    )
    answer = away_from_nip(reference_hoist(), point, *_pass(25.0, 30.0))
    assert (answer.motion, answer.why_none) == (None, "the nearest nip comes along behind")


def test_the_block_above_the_hand() -> None:
    point = InspectionPoint(
        name="platform", at="inner trolley sheave", side="before", offset_m=25.0
    )
    answer = away_from_nip(reference_hoist(), point, *_pass(0.0, 50.0))
    assert answer.why_none == "not on free rope all the way"


def test_a_radius_not_given() -> None:
    answer = away_from_nip(reference_hoist(), TOWER_HEAD, *_pass(0.0, 50.0, radius=None))
    assert answer.why_none == "a distance is not known"


def test_sheaves_that_nobody_knows() -> None:
    """With falls and two hook heights alone there may be a nip anywhere."""
    hoist = hoist_by_payout(falls=2, hook_low_m=0.0, hook_high_m=60.0)
    point = InspectionPoint(name="winch", at="drum", offset_m=3.0)
    answer = away_from_nip(hoist, point, *_pass(0.0, 50.0))
    assert (answer.motion, answer.why_none) == (None, "not all sheaves are known")
    lead = Lead(to_drum_m=13.0, sheave_mm=500)
    known = hoist_by_payout(falls=2, hook_low_m=0.0, hook_high_m=60.0, lead=lead)
    assert away_from_nip(known, point, *_pass(0.0, 50.0)).motion == "hook down"
    assert away_from_nip(known, TOWER_HEAD, *_pass(0.0, 50.0)).why_none == answer.why_none


def test_an_equaliser() -> None:
    reeving = bridge_hoist_twin(
        falls=4,
        frame=LevelTrack(sheave_height_m=12, hook_below_m=0.5),
        sheaves=BlockSheaves(block_mm=300, upper_mm=300),
        equaliser_mm=240,
    )
    hoist = Hoist(reeving=reeving, travel=Travel(hook_low_m=0, hook_high_m=10), rope_m=70)
    positions = (CranePosition(hook_m=0.0), CranePosition(hook_m=8.0))
    beside = InspectionPoint(name="crab", at="equaliser", side="after", offset_m=1.0)
    assert away_from_nip(hoist, beside, *positions).why_none == "the rope does not run here"
    drum_b = InspectionPoint(name="drum B", at="drum", offset_m=1.0)
    drum_a = InspectionPoint(name="drum A", at="end A", side="after", offset_m=1.0)
    for point, name in ((drum_a, "drum A"), (drum_b, "drum")):
        answer = away_from_nip(hoist, point, *positions)
        assert (answer.motion, answer.nearest) == ("hook down", name)


def test_the_dead_end_on_a_block_is_no_nip() -> None:
    reeving = telescopic_hoist(
        falls=1,
        frame=TelescopicBoom(foot_height_m=2),
        sheaves=BlockSheaves(block_mm=400, upper_mm=400),
        lead=Lead(to_drum_m=3),
    )
    hoist = Hoist(reeving=reeving, travel=Travel())
    point = InspectionPoint(name="basket", at="boom head sheave", side="before", offset_m=4.0)
    ends = [CranePosition(hook_m=hook, boom_m=20.0, boom_deg=60.0) for hook in (13.0, 14.5)]
    answer = away_from_nip(hoist, point, *ends)
    # By hand: head at 2 + 17.32 m; the hand at 15.32 m; the hook's fitting is nearer than the
    # sheave, but it is no nip: the rope must run down.
    assert (answer.motion, answer.nearest, answer.ahead) == (
        "hook down", "boom head sheave", "end A",
    )  # fmt: skip
    assert answer.ahead_m == pytest.approx(2 + 20 * 0.8660254 - 4 - 14.5)


def test_a_trolley_rope_at_the_winch() -> None:
    hoist = Hoist(
        reeving=trolley_rope(rope="outer", end_sheave_m=60.0, winch_m=10.0, sheave_mm=300),
        travel=Travel(radius_min_m=3.0, radius_max_m=58.0),
    )
    point = InspectionPoint(name="winch", at="drum", offset_m=1.0)
    answer = away_from_nip(hoist, point, CranePosition(radius_m=5.0), CranePosition(radius_m=50.0))
    # By hand: trolley out winds the outer rope on, trolley in draws it off the drum.
    assert answer.motion == "trolley in"
    assert answer.motion in MOTIONS["radius_m"]


def test_a_pass_moves_one_axis() -> None:
    both = (CranePosition(hook_m=0.0, radius_m=1.0), CranePosition(hook_m=1.0, radius_m=2.0))
    with pytest.raises(InputError, match="exactly one axis"):
        away_from_nip(reference_hoist(), TOWER_HEAD, *both)
    with pytest.raises(InputError, match="the same position"):
        rope_past(reference_hoist(), TOWER_HEAD, both[0], both[0])
    turns = CranePosition(drum_turns=3.0)
    with pytest.raises(InputError, match="not drum turns"):
        rope_past(reference_hoist(), TOWER_HEAD, turns, both[0])


def test_what_a_pass_shows() -> None:
    past = rope_past(reference_hoist(), TOWER_HEAD, *_pass(0.0, 60.0, radius=None))
    (section,) = past.sections
    # By hand: 58.5 + 2 h + 1.5708 - 2 with h from 0.8 to 60.8.
    assert (section.from_m, section.to_m) == pytest.approx((59.6708, 179.6708), abs=1e-4)
    assert past.rope_per_axis == pytest.approx(2.0)
    assert past.axis == "hook_m"


def test_a_pass_during_which_the_block_goes_by() -> None:
    point = InspectionPoint(
        name="platform", at="inner trolley sheave", side="before", offset_m=25.0
    )
    (section,) = rope_past(reference_hoist(), point, *_pass(0.0, 60.0)).sections
    # By hand: seen only while h > 25: from 30 + 2 * 25 + 1.1781 - 25 to 30 + 2 * 60.8 + ... .
    assert (section.from_m, section.to_m) == pytest.approx((56.1781, 127.7781), abs=1e-4)


def test_a_pass_that_lacks_an_axis() -> None:
    point = InspectionPoint(name="platform", at="inner trolley sheave", side="before", offset_m=2.0)
    with pytest.raises(InputError) as caught:
        rope_past(reference_hoist(), point, *_pass(0.0, 30.0, radius=None))
    assert caught.value.field == "start.radius_m"
