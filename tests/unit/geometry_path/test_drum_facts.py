"""Worked figures of drums, each recomputed here in another way than the tool does it."""

import math

import numpy as np
import pytest

from ropewright.geometry import (
    Drum,
    crossover_rise_mm,
    crossover_skew_deg,
    drum_from,
    fill_estimate_m,
    fleet_angles_deg,
    helix_deg,
    layer_rise_mm,
    shift_on_drum,
    valley_rise_mm,
)
from tests.unit.geometry_path.reference import reference_drum

INCH, FOOT = 25.4, 0.3048


def _stacked_ft(barrel: float, rope: float, wraps: int, layers: int, rise: float) -> float:
    """Sum circle by circle, in inches and feet."""
    total = 0.0
    for layer in range(layers):
        for _ in range(wraps):
            total += math.pi * (barrel + rope + 2 * layer * rise)
    return total / 12


# By hand (script): exact sums for the drum of a handbook example, 18 in barrel, 20 in wide.
@pytest.mark.parametrize(
    ("rope", "wraps", "layers", "rise", "feet"),
    [
        (0.5, 40, 20, 0.5, 5864.3),
        (0.532, 37, 18, 0.532, 4808.1),
        (0.5, 40, 22, 0.866 * 0.5, 6357.0),
    ],
)
def test_exact_sums(rope: float, wraps: int, layers: int, rise: float, feet: float) -> None:
    drum = Drum(
        barrel_mm=18 * INCH, rope_mm=rope * INCH, rise_mm=rise * INCH, wraps=(wraps,) * layers
    )
    assert drum.capacity_m / FOOT == pytest.approx(feet, abs=0.05)
    assert drum.capacity_m / FOOT == pytest.approx(
        _stacked_ft(18, rope, wraps, layers, rise), abs=1e-6
    )


def test_handbook_estimate() -> None:
    # Published (rope handbook): A = 10, B = 20, D = 18 in, 1/2 in rope, K = 0.925: 5180 ft.
    implied_rope = math.sqrt(math.pi / 12 / 0.925)
    metres = fill_estimate_m(
        barrel_mm=18 * INCH,
        flange_mm=38 * INCH,
        margin_mm=0,
        width_mm=20 * INCH,
        rope_mm=implied_rope * INCH,
    )
    assert metres / FOOT == pytest.approx(5180, abs=0.5)


# Published (rope handbook): factor K per diameter; implied oversize by hand from it.
@pytest.mark.parametrize(
    ("inches", "factor", "percent"),
    [
        (1 / 8, 13.6, 11), (3 / 16, 6.14, 10), (1 / 4, 3.29, 13), (5 / 16, 2.21, 10),
        (3 / 8, 1.58, 8.5), (7 / 16, 1.19, 7.2), (1 / 2, 0.925, 6.4), (9 / 16, 0.741, 5.7),
        (5 / 8, 0.607, 5.1), (11 / 16, 0.506, 4.6), (3 / 4, 0.428, 4.3), (13 / 16, 0.354, 5.8),
        (7 / 8, 0.308, 5.4), (1, 0.239, 4.7), (1.125, 0.191, 4.1), (1.25, 0.152, 5.0),
    ],
)  # fmt: skip
def test_handbook_factors(inches: float, factor: float, percent: float) -> None:
    rope = inches * (1 + percent / 100)
    metres = fill_estimate_m(
        barrel_mm=10 * INCH, flange_mm=12 * INCH, margin_mm=0, width_mm=10 * INCH,
        rope_mm=rope * INCH,
    )  # fmt: skip
    # The oversize is printed to 0.1 or 1 %: twice that goes into the factor.
    slack = 2 * (0.5 if percent >= 10 else 0.05) / 100 + 0.005
    assert metres / FOOT == pytest.approx((1 + 10) * 1 * 10 * factor, rel=slack)


# By hand: metric factor pi / (1000 d²) with 4 % oversize.
@pytest.mark.parametrize(
    ("rope", "factor"),
    [
        (12, 2.017e-5), (14, 1.482e-5), (16, 1.135e-5), (18, 8.965e-6), (20, 7.261e-6),
        (22, 6.001e-6), (24, 5.043e-6), (25, 4.647e-6), (28, 3.705e-6),
    ],
)  # fmt: skip
def test_metric_factors(rope: float, factor: float) -> None:
    metres = fill_estimate_m(
        barrel_mm=300, flange_mm=500, margin_mm=0, width_mm=400, rope_mm=1.04 * rope
    )
    half_digit = 5e-9 if factor > 1e-5 else 5e-10
    assert metres / ((100 + 300) * 100 * 400) == pytest.approx(factor, abs=half_digit)


def test_square_stacking() -> None:
    # By hand: barrel 10, flange 20, width 12, rope 0.5 in: 24 wraps, 10 layers, 942.48 ft.
    drum = drum_from(
        barrel_mm=10 * INCH, rope_mm=0.5 * INCH, width_mm=12 * INCH, layers=10, rise_mm=0.5 * INCH
    )
    assert list(drum.wraps) == [24.0] * 10
    assert drum.capacity_m / FOOT == pytest.approx(942.48, abs=0.005)
    assert drum.capacity_m / FOOT == pytest.approx(math.pi * 24 * 10 * (10 + 10 * 0.5) / 12)


def test_single_layer_textbook() -> None:
    # By hand from a textbook's formula: H = 12 m, i = 2, D = 0.4 m: 19.10 + 2 = 21.10 wraps.
    drum = Drum(barrel_mm=390, rope_mm=10, wraps=(30,))
    needed = float(drum.turns_at(np.array([12.0 * 2]))[0])
    assert needed + 2 == pytest.approx(21.10, abs=0.005)


# By hand: rise in the valley, in rope diameters.
@pytest.mark.parametrize(
    ("pitch", "share"), [(1.0, 0.8660), (1.02, 0.8602), (1.04, 0.8542), (1.05, 0.8511)]
)
def test_rise_in_the_valley(pitch: float, share: float) -> None:
    assert valley_rise_mm(1.0, pitch) == pytest.approx(share, abs=5e-5)


@pytest.mark.parametrize("pitch", [1.0, 1.0245, 1.05])
def test_rise_in_a_crossover_is_an_integral(pitch: float) -> None:
    strips = 200_000
    across = (np.arange(strips) + 0.5) / strips * pitch - pitch / 2
    mean = float(np.mean(np.sqrt(1 - across**2)))
    assert crossover_rise_mm(1.0, pitch) == pytest.approx(mean, abs=1e-9)


def test_rise_in_a_crossover() -> None:
    # By hand: 0.9566 d for a pitch of one diameter.
    assert crossover_rise_mm(1.0, 1.0) == pytest.approx(0.9566, abs=5e-5)


@pytest.mark.parametrize(("share", "rise"), [(0.20, 0.884), (0.25, 0.889), (0.30, 0.893)])
def test_mean_rise(share: float, rise: float) -> None:
    assert layer_rise_mm(1.0, 1.0, share) == pytest.approx(rise, abs=5e-4)


def test_mean_rise_of_the_reference_drum() -> None:
    # By hand: 18.007 mm, 0.8827 d; in the valley 17.520 mm, 0.859 d.
    assert layer_rise_mm(20.4, 20.9, 0.25) == pytest.approx(18.007, abs=5e-4)
    assert layer_rise_mm(20.4, 20.9, 0.25) / 20.4 == pytest.approx(0.8827, abs=5e-5)
    assert valley_rise_mm(20.4, 20.9) == pytest.approx(17.520, abs=5e-4)


# By hand (script): reference drum, pitch diameter / rope per turn / rope to the layer's end.
VALLEY = [
    (500.40, 1.5721, 44.017), (535.44, 1.6821, 91.117), (570.48, 1.7922, 141.299),
    (605.52, 1.9023, 194.564), (640.56, 2.0124, 250.911),
]  # fmt: skip
NINE_TENTHS = [
    (500.40, 1.5721, 44.017), (537.12, 1.6874, 91.265), (573.84, 1.8028, 141.743),
    (610.56, 1.9181, 195.450), (647.28, 2.0335, 252.388),
]  # fmt: skip
SQUARE = [44.017, 91.624, 142.819, 197.604, 255.977]


IN_THE_VALLEY = math.sqrt(1 - (20.9 / 20.4 / 2) ** 2)  # 0.859 rope diameters


@pytest.mark.parametrize(("rise", "rows"), [(IN_THE_VALLEY, VALLEY), (0.9, NINE_TENTHS)])
def test_reference_drum(rise: float, rows: list[tuple[float, float, float]]) -> None:
    drum = reference_drum(rise)
    for number, (diameter, turn, end) in enumerate(rows):
        assert drum.turn_m[number] * 1000 / math.pi == pytest.approx(diameter, abs=5e-3)
        assert drum.turn_m[number] == pytest.approx(turn, abs=5e-5)
        assert drum.layer_ends_m[number] == pytest.approx(end, abs=5e-4)


def test_reference_drum_stacked_squarely() -> None:
    assert reference_drum(1.0).layer_ends_m == pytest.approx(SQUARE, abs=5e-4)


def test_what_the_rise_is_worth() -> None:
    # By hand: from 0.859 d to 1.0 d the end of layer 5 moves by 5.07 m, 2.5 wraps.
    square, valley = reference_drum(1.0), reference_drum(IN_THE_VALLEY)
    moved = square.capacity_m - valley.capacity_m
    assert moved == pytest.approx(5.07, abs=0.005)
    assert moved / reference_drum(0.9).turn_m[4] == pytest.approx(2.5, abs=0.05)
    # By hand: 1 % of d of layer rise: 0.36 m at the end of layer 5.
    one_percent = reference_drum(0.91).capacity_m - reference_drum(0.90).capacity_m
    assert one_percent == pytest.approx(0.36, abs=0.005)


# By hand (script): moving the rope on the reference drum, turns per layer and distance to the
# nearest half turn.
SHIFTS = [
    (0.3930, [0.250, 0.233, 0.218, 0.205, 0.193], [0.250, 0.233, 0.218, 0.205, 0.193]),
    (0.7860, [0.500, 0.466, 0.436, 0.410, 0.387], [0.000, 0.034, 0.064, 0.090, 0.113]),
    (1.5721, [1.000, 0.932, 0.872, 0.820, 0.773], [0.000, 0.068, 0.128, 0.180, 0.227]),
    (1.9651, [1.250, 1.165, 1.090, 1.024, 0.966], [0.250, 0.165, 0.090, 0.024, 0.034]),
    (2.2535, [1.433, 1.335, 1.250, 1.175, 1.108], [0.067, 0.165, 0.250, 0.175, 0.108]),
    (5.1092, [3.250, 3.028, 2.834, 2.664, 2.513], [0.250, 0.028, 0.166, 0.164, 0.013]),
]


@pytest.mark.parametrize(("cut", "turns", "apart"), SHIFTS)
def test_what_a_cut_at_the_drum_does(cut: float, turns: list[float], apart: list[float]) -> None:
    shifts = shift_on_drum(reference_drum(), moved_m=cut)
    # The cuts are printed to 0.1 mm: 0.00003 turns beside the last digit.
    assert [shift.turns for shift in shifts] == pytest.approx(turns, abs=6e-4)
    assert [shift.to_repeat_turns for shift in shifts] == pytest.approx(apart, abs=6e-4)


def test_skew_in_a_crossover() -> None:
    # By hand: 12.5 % of a 500 mm pitch circle: 3.0 degrees; 10 %: 3.8 degrees.
    wide = crossover_skew_deg(pitch_mm=20.9, pitch_circle_mm=500, crossover_share=0.25)
    narrow = crossover_skew_deg(pitch_mm=20.9, pitch_circle_mm=500, crossover_share=0.20)
    assert (wide, narrow) == pytest.approx((3.0, 3.8), abs=0.05)


def test_helix_of_the_reference_drum() -> None:
    # By hand: 0.76 degrees.
    assert helix_deg(pitch_mm=20.9, pitch_circle_mm=500.4) == pytest.approx(0.76, abs=0.005)


@pytest.mark.parametrize(
    ("offset_mm", "distance_mm", "degrees"),
    [
        # Published (rope handbook): 18 in off, 1.5 degrees at 687.4 in; metric 457 and 17 452 mm.
        (18 * INCH, 687.4 * INCH, 1.5),
        (457, 17_452, 1.5),
        # Published (supplier's rule): 38 times and 29 times the offset: 1.51 and 1.97 degrees.
        (1, 38, 1.51),
        (1, 29, 1.97),
        # Published (state guide): 1 m grooved drum, 6 m: 4.76; plain, 9.5 m: 3.01 degrees.
        (500, 6000, 4.76),
        (500, 9500, 3.01),
        # Published (30 times half the width for a grooved drum): 15 m for 1 m; by hand 1.91.
        (500, 15_000, 1.91),
        # By hand: the reference drum at 14 m.
        (28 * 20.9 / 2, 14_000, 1.197),
    ],
)
def test_fleet_angles(offset_mm: float, distance_mm: float, degrees: float) -> None:
    angles = fleet_angles_deg(width_mm=2 * offset_mm, distance_mm=distance_mm)
    slack = 5e-4 if degrees == 1.197 else 5e-3
    assert angles == pytest.approx((degrees, degrees), abs=slack)


def test_fleet_angle_of_a_sheave_off_the_middle() -> None:
    # By hand: 1 m drum, sheave 0.2 m towards the clamp's flange, 10 m away.
    near, far = fleet_angles_deg(width_mm=1000, distance_mm=10_000, off_centre_mm=200)
    assert near == pytest.approx(math.degrees(math.atan(0.03)))
    assert far == pytest.approx(math.degrees(math.atan(0.07)))
