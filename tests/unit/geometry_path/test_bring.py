"""From a place back to crane positions: all of them, or the reason why there is none."""

from dataclasses import replace

import pytest

from ropewright.errors import InputError
from ropewright.geometry import (
    AT_DRUM,
    REASONS,
    BlockSheaves,
    CranePosition,
    Drum,
    Hoist,
    InspectionPoint,
    LevelTrack,
    PathPlace,
    SeenAtPoint,
    Travel,
    Unreachable,
    bridge_hoist_twin,
    bring_to,
    locate,
    on_drum,
    trolley_rope,
)
from tests.unit.geometry_path.reference import TOWER_HEAD, reference_hoist

UNDER_TROLLEY = InspectionPoint(
    name="under the trolley", at="inner trolley sheave", side="before", offset_m=2.0
)
OUTER = InspectionPoint(name="on the jib", at="outer trolley sheave", side="before", offset_m=1.0)


def test_there_and_back_to_the_tower_head() -> None:
    hoist = reference_hoist()
    place = locate(SeenAtPoint(point=TOWER_HEAD, position=CranePosition(hook_m=23.4)), hoist)
    found = bring_to(place, TOWER_HEAD, hoist)
    (way,) = found.ways
    assert way.start == way.end
    assert way.start.hook_m == pytest.approx(23.4, abs=1e-9)
    assert way.start.radius_m is None
    assert found.any_axes == ("radius_m",)
    assert found.unreachable is None


def test_a_line_of_hook_heights_and_radii() -> None:
    hoist = reference_hoist()
    (way,) = bring_to(PathPlace(at_m=100.0), UNDER_TROLLEY, hoist).ways
    # By hand: (60 - x) + 2 h + 3 pi r / 2 - 2 = 100 with h = 60.8 - z: z and x on one line.
    for at in (way.start, *way.between, way.end):
        assert at.hook_m is not None
        assert at.radius_m is not None
        path = 60 - at.radius_m + 2 * (60.8 - at.hook_m) + 1.1780972 - 2
        assert path == pytest.approx(100.0, abs=1e-6)
    assert way.start.radius_m == pytest.approx(2.0)
    assert way.end.radius_m == pytest.approx(58.0)


def test_a_place_that_only_the_trolley_moves() -> None:
    found = bring_to(PathPlace(at_m=30.0), OUTER, reference_hoist())
    (way,) = found.ways
    # By hand: 60 - x - 1 = 30.
    assert way.start.radius_m == pytest.approx(29.0, abs=1e-9)
    assert way.start.hook_m is None
    assert found.any_axes == ("hook_m",)


def test_a_trolley_rope() -> None:
    hoist = Hoist(
        reeving=trolley_rope(rope="inner", end_sheave_m=2.0, winch_m=10.0, sheave_mm=300),
        travel=Travel(radius_min_m=3.0, radius_max_m=58.0),
    )
    point = InspectionPoint(name="jib foot", at="jib foot sheave", side="before", offset_m=1.0)
    (way,) = bring_to(PathPlace(at_m=20.0), point, hoist).ways
    # By hand: x - 2 - 1 = 20.
    assert way.start.radius_m == pytest.approx(23.0, abs=1e-9)


def _why(
    at_m: float, point: InspectionPoint = TOWER_HEAD, held: CranePosition | None = None
) -> Unreachable:
    found = bring_to(PathPlace(at_m=at_m), point, reference_hoist(), held=held)
    assert not found.ways
    assert found.unreachable is not None
    assert found.unreachable.reason in REASONS
    return found.unreachable


def test_dead_wraps() -> None:
    # By hand: 195.671 m are outside with the hook at 0: 200 m never leaves the drum by 4.3 m.
    why = _why(200.0)
    assert why.reason == "dead wraps"
    assert "4.3 m" in why.text


def test_below_the_lower_limit() -> None:
    # By hand: 193.67 - 16 = 179.67 m are at the tower head with the hook at 0.
    why = _why(185.0)
    assert why.reason == "below the lower limit"
    assert why.needed is not None
    # By hand: 58.5 + 2 (60.8 - z) + 1.5708 - 2 = 185.
    assert why.needed.hook_m == pytest.approx(60.8 - (185 - 58.5 - 1.5707963 + 2) / 2)
    assert "stops at 0.0 m" in why.text


def test_above_the_upper_limit() -> None:
    # By hand: at the upper limit 59.671 m are there, with the block right up 58.071 m.
    assert _why(59.0).reason == "above the upper limit"


def test_behind_the_anchor() -> None:
    assert _why(30.0).reason == "behind the anchor"


def test_beyond_the_rope() -> None:
    assert _why(206.0).reason == "beyond the rope"
    assert _why(-1.0).reason == "beyond the rope"


def test_beyond_what_the_trolley_shows() -> None:
    # By hand: 60 - 58 - 1 to 60 - 2 - 1 m come past; a trolley farther in would show 58 m.
    assert _why(58.0, OUTER).reason == "beyond the limits"
    assert "1.0 to 57.0 m" in _why(58.0, OUTER).text


def test_rope_that_stands_still() -> None:
    point = InspectionPoint(name="jib tip", at="end A", side="after", offset_m=1.0)
    found = bring_to(PathPlace(at_m=1.0), point, reference_hoist())
    assert found.any_axes == ("hook_m", "radius_m")
    assert _why(5.0, point).reason == "rope stands still"


def test_a_point_that_the_block_has_passed() -> None:
    point = InspectionPoint(name="ladder", at="inner trolley sheave", side="before", offset_m=50.0)
    # By hand: 60 - 50 + 2 h + 1.178 - 50 = 20 asks for h = 29.4, where the block is above.
    why = _why(20.0, point, CranePosition(radius_m=50.0))
    assert why.reason == "not on free rope"
    assert "block sheave" in why.text


def test_held_axes_stay() -> None:
    hoist = reference_hoist()
    (way,) = bring_to(
        PathPlace(at_m=100.0), UNDER_TROLLEY, hoist, held=CranePosition(hook_m=30.0)
    ).ways
    # By hand: (60 - x) + 2 * 30.8 + 1.1781 - 2 = 100.
    assert way.start.radius_m == pytest.approx(60 + 61.6 + 1.1780972 - 2 - 100)
    assert way.start.hook_m == 30.0
    there = bring_to(PathPlace(at_m=100.0), UNDER_TROLLEY, hoist, held=way.start)
    assert len(there.ways) == 1
    assert _why(101.0, UNDER_TROLLEY, way.start).reason == "rope stands still"


def test_missing_limits_are_asked_for() -> None:
    hoist = replace(reference_hoist(), travel=Travel(hook_low_m=0.0, hook_high_m=60.0))
    with pytest.raises(InputError) as caught:
        bring_to(PathPlace(at_m=100.0), UNDER_TROLLEY, hoist)
    assert caught.value.field == "held.radius_m"
    assert bring_to(PathPlace(at_m=100.0), AT_DRUM, hoist).ways


def _twin() -> Hoist:
    reeving = bridge_hoist_twin(
        falls=4,
        frame=LevelTrack(sheave_height_m=12.0, hook_below_m=0.5),
        sheaves=BlockSheaves(block_mm=300, upper_mm=300),
        equaliser_mm=300,
    )
    travel = Travel(hook_low_m=0.0, hook_high_m=10.0)
    drum = Drum(barrel_mm=300, rope_mm=13, wraps=(40.0,), grooving="helical")
    return Hoist(reeving=reeving, travel=travel, rope_m=56.0, drum=drum)


@pytest.mark.parametrize(
    ("point", "at_m"),
    [
        # By hand: each half is 2 h + 1.5 pi 0.15 m; with the hook at 4 m h = 7.5 m, so 12.2931 m
        # are wound on each drum.
        (InspectionPoint(name="drum A", at="end A", side="after", offset_m=1.0), 13.2931),
        (InspectionPoint(name="drum B", at="drum", side="before", offset_m=1.0), 42.7069),
    ],
)
def test_both_ends_of_a_twin_drum(point: InspectionPoint, at_m: float) -> None:
    hoist = _twin()
    place = locate(SeenAtPoint(point=point, position=CranePosition(hook_m=4.0)), hoist)
    assert place.at_m == pytest.approx(at_m, abs=5e-5)
    (way,) = bring_to(place, point, hoist).ways
    assert way.start.hook_m == pytest.approx(4.0, abs=1e-9)
    wound = on_drum(place, hoist)
    assert wound.side == point.name[-1]
    assert wound.place.at_m == pytest.approx(13.2931, abs=5e-5)


@pytest.mark.parametrize("at_m", [3.0, 53.0])
def test_dead_wraps_at_both_ends_of_a_twin_drum(at_m: float) -> None:
    # By hand: with the hook at 0 there are 28 - 23.7069 = 4.29 m on each drum.
    found = bring_to(PathPlace(at_m=at_m), AT_DRUM, _twin())
    assert found.unreachable is not None
    assert found.unreachable.reason == "dead wraps"
    assert "1.3 m" in found.unreachable.text
