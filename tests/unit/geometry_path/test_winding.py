"""The rope on the drum as the crane moves, and its zones along the path."""

from dataclasses import replace

import pytest

from ropewright.errors import InputError
from ropewright.geometry import (
    BlockSheaves,
    CranePosition,
    Drum,
    Hoist,
    LevelTrack,
    Tolerances,
    Travel,
    bridge_hoist_twin,
    least_and_most_wound_m,
    path_zones,
    wound,
)
from tests.unit.geometry_path.reference import reference_hoist


def test_rope_left_at_the_lowest_hook() -> None:
    # By hand (script): 9.329 m on the drum, 6th wrap, part 0.934; 5.934 wraps are left.
    left = wound(reference_hoist(), CranePosition(hook_m=0.0))
    assert left.on_drum_m == pytest.approx(9.329, abs=5e-4)
    assert (left.layer, left.wrap) == (1, 6)
    assert left.part == pytest.approx(0.934, abs=5e-4)
    assert left.turns == pytest.approx(5.934, abs=5e-4)


def test_its_error() -> None:
    tolerances = Tolerances(
        hook_zero_m=0.3, anchor_side_m=0, lead_m=0, rope_m=0.5, barrel_mm=0, rise_mm=0, wraps=0
    )
    hoist = replace(reference_hoist(), tolerances=tolerances)
    # By hand: 2 falls x 0.3 m, and 0.5 m of rope length.
    assert wound(hoist, CranePosition(hook_m=10.0)).err_m == pytest.approx((0.6**2 + 0.5**2) ** 0.5)


def test_dead_wraps_and_fullest_drum() -> None:
    # By hand: 205 - 74.0708 - 2 x 60.8 and 205 - 74.0708 - 2 x 0.8.
    assert least_and_most_wound_m(reference_hoist()) == pytest.approx((9.3292, 129.3292), abs=1e-4)


def test_zones_along_the_path() -> None:
    zones = path_zones(reference_hoist())
    changes = [zone for zone in zones if zone.kind == "layer change"]
    # By hand: layers end 44.017 and 91.265 m from the clamp, 160.983 and 113.735 m from end A.
    assert [zone.layer for zone in changes] == [2, 1]
    assert changes[1].section.from_m == pytest.approx(205 - 44.0175 - 0.8437, abs=5e-4)
    assert changes[1].section.to_m == pytest.approx(205 - 44.0175 + 0.7860, abs=5e-4)
    assert all(zone.side == "B" for zone in zones)
    assert min(zone.section.from_m for zone in zones) >= 205 - 129.3292 - 1e-4


def test_zones_of_a_twin_drum_lie_at_both_ends() -> None:
    reeving = bridge_hoist_twin(
        falls=4,
        frame=LevelTrack(sheave_height_m=12.0, hook_below_m=0.5),
        sheaves=BlockSheaves(block_mm=300, upper_mm=300),
        equaliser_mm=240,
    )
    drum = Drum(barrel_mm=300, rope_mm=13, rise_mm=11.5, wraps=(14.0, 14.0), grooving="helical")
    hoist = Hoist(
        reeving=reeving, travel=Travel(hook_low_m=0.0, hook_high_m=10.0), rope_m=56.0, drum=drum
    )
    zones = path_zones(hoist)
    sides = {side: [zone for zone in zones if zone.side == side] for side in ("A", "B")}
    assert len(sides["A"]) == len(sides["B"]) > 0
    for first, last in zip(sides["A"], reversed(sides["B"]), strict=True):
        assert first.section.from_m + last.section.to_m == pytest.approx(56.0)


def test_what_is_missing_is_named() -> None:
    with pytest.raises(InputError) as caught:
        wound(reference_hoist(), CranePosition(radius_m=10.0))
    assert caught.value.field == "position.hook_m"
    with pytest.raises(InputError) as caught:
        wound(replace(reference_hoist(), rope_m=None), CranePosition(hook_m=10.0))
    assert caught.value.field == "rope_m"
