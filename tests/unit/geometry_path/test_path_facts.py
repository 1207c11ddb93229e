"""Worked figures of paths, recomputed by their formulas written out for each crane."""

import math

import numpy as np
import pytest

from ropewright.geometry import (
    AT_DRUM,
    BlockSheaves,
    CranePosition,
    CranePositions,
    Hoist,
    Lead,
    LevelTrack,
    LuffingJib,
    PathPlace,
    TelescopicBoom,
    Travel,
    bridge_hoist_single,
    bridge_hoist_twin,
    bring_to,
    crossover_parts,
    drum_wraps,
    luffing_jib_hoist,
    telescopic_hoist,
    trace,
    trolley_rope,
)
from tests.unit.geometry_path.reference import reference_drum, reference_hoist

HALF_MM = 5e-4  # half a unit of the last printed digit

# By hand (script): reference crane, 2 falls: contact starts in metres from the jib tip.
STARTS = [
    ((20, 58.0), (40.000, 98.393, 157.178, 176.071, 190.071)),
    ((20, 30.0), (40.000, 70.393, 101.178, 120.071, 134.071)),
    ((45, 30.0), (15.000, 45.393, 76.178, 120.071, 134.071)),
    ((45, 50.0), (15.000, 65.393, 116.178, 160.071, 174.071)),
    ((58, 60.8), (2.000, 63.193, 124.778, 181.671, 195.671)),
]


@pytest.mark.parametrize(("place", "printed"), STARTS)
def test_contact_starts(place: tuple[float, float], printed: tuple[float, ...]) -> None:
    radius, drop = place
    path = trace(
        reference_hoist(), CranePositions.of(hook_m=62 - 1.2 - drop, radius_m=float(radius))
    )
    found = [*path.start_m[:, 0], path.out_m[0]]
    assert found == pytest.approx(printed, abs=HALF_MM)
    # The formula written out: a_j = (J - x) + j h + (2 j - 1) pi r / 2.
    r = 0.25
    formula = [60 - radius] + [
        60 - radius + j * drop + (2 * j - 1) * math.pi * r / 2 for j in (1, 2)
    ]
    formula += [60 - 1.5 + 2 * drop + 2 * math.pi * r, 60 - 1.5 + 2 * drop + 2 * math.pi * r + 14]
    assert found == pytest.approx(formula, abs=1e-9)


@pytest.mark.parametrize(("falls", "constant"), [(2, 74.0708), (4, 75.6416)])
def test_rope_outside(falls: int, constant: float) -> None:
    # By hand: L_out = 74.0708 + 2 h on 2 falls, 75.6416 + 4 h on 4.
    hook = np.linspace(0, 60, 7)
    path = trace(reference_hoist(falls), CranePositions.of(hook_m=hook))
    assert path.out_m == pytest.approx(constant + falls * (60.8 - hook), abs=5e-5)


# By hand (script): hook height, rope outside, on drum, layer, wrap, part of turn, zone.
PLACES = [
    (0, 195.671, 9.329, 1, 6, 0.934, "XB"),
    (10, 175.671, 29.329, 1, 19, 0.657, "PB"),
    (20, 155.671, 49.329, 2, 4, 0.148, "PA"),
    (40, 115.671, 89.329, 2, 27, 0.853, "PB"),
    (50, 95.671, 109.329, 3, 11, 0.020, "PA"),
    (58, 79.671, 125.329, 3, 19, 0.895, "XB"),
]


@pytest.mark.parametrize("row", PLACES)
def test_hook_height_to_drum(row: tuple[float, float, float, int, int, float, str]) -> None:
    hook, out, wound, layer, wrap, part, zone = row
    hoist = reference_hoist()
    path = trace(hoist, CranePositions.of(hook_m=float(hook)))
    assert path.out_m[0] == pytest.approx(out, abs=HALF_MM)
    assert path.on_drum_m is not None
    assert path.on_drum_m[0] == pytest.approx(wound, abs=HALF_MM)
    drum = hoist.wound_drum()
    found = drum_wraps(drum, path.on_drum_m)
    assert (int(found.layer[0]), int(found.wrap[0])) == (layer, wrap)
    assert found.part[0] == pytest.approx(part, abs=HALF_MM)
    crossing = [first <= part < last for first, last in crossover_parts(drum)]
    assert crossing == [zone == "XA", zone == "XB"]


def test_crossover_parts_of_the_reference_drum() -> None:
    assert crossover_parts(reference_drum()) == ((0.375, 0.5), (0.875, 1.0))


def test_what_moves_and_what_stands_still() -> None:
    hoist = reference_hoist()
    start = trace(hoist, CranePositions.of(hook_m=20.0, radius_m=20.0))
    trolleyed = trace(hoist, CranePositions.of(hook_m=20.0, radius_m=33.0))
    hoisted = trace(hoist, CranePositions.of(hook_m=27.0, radius_m=20.0))
    # Trolley travel: trolley and hook contacts move by it along the rope, root and drum do not.
    assert (trolleyed.start_m - start.start_m)[:, 0] == pytest.approx([-13, -13, -13, 0])
    assert trolleyed.out_m[0] == pytest.approx(start.out_m[0])
    # Hoisting: contact j moves by j times the hook's travel.
    assert (hoisted.start_m - start.start_m)[:, 0] == pytest.approx([0, -7, -14, -14])


# --- Luffing jib --------------------------------------------------------------------------------


def _luffing(falls: int) -> Hoist:
    """Return a 50 m jib, A-frame top 7 m behind and 12 m above the foot; sheaves of one size."""
    reeving = luffing_jib_hoist(
        falls=falls,
        frame=LuffingJib(
            jib_m=50, foot_height_m=60, a_frame_back_m=7, a_frame_up_m=12, hook_below_m=1
        ),
        sheaves=BlockSheaves(block_mm=500, upper_mm=500),
        a_frame_sheave_mm=500,
        lead_deg=270,
        lead=Lead(to_drum_m=12),
    )
    return Hoist(
        reeving=reeving,
        travel=Travel(hook_low_m=0, hook_high_m=60, jib_min_deg=15, jib_max_deg=80),
    )


# By hand (script): distance from jib head to A-frame top.
@pytest.mark.parametrize(
    ("jib", "metres"),
    [(20, 54.225), (30, 51.954), (40, 49.577), (50, 47.156), (60, 44.763), (70, 42.483),
     (80, 40.408)],
)  # fmt: skip
def test_jib_head_to_a_frame(jib: float, metres: float) -> None:
    path = trace(_luffing(2), CranePositions.of(hook_m=10.0, jib_deg=float(jib)))
    assert path.start_m[2, 0] - path.end_m[1, 0] == pytest.approx(metres, abs=HALF_MM)
    foot_to_head = (50 * math.cos(math.radians(jib)), 50 * math.sin(math.radians(jib)))
    assert metres == pytest.approx(math.dist(foot_to_head, (-7, 12)), abs=HALF_MM)


# By hand (script): luffing from 30 to 70 degrees.
@pytest.mark.parametrize(
    ("falls", "rise", "payout"), [(1, 12.513, 12.513), (2, 17.249, 34.498), (4, 19.617, 78.467)]
)
def test_luffing_with_the_drum_locked_and_with_the_hook_level(
    falls: int, rise: float, payout: float
) -> None:
    hoist = _luffing(falls)
    low = trace(hoist, CranePositions.of(hook_m=10.0, jib_deg=30.0))
    high = trace(hoist, CranePositions.of(hook_m=10.0, jib_deg=70.0))
    assert high.out_m[0] - low.out_m[0] == pytest.approx(payout, abs=HALF_MM)
    locked = bring_to(
        PathPlace(at_m=float(low.out_m[0])), AT_DRUM, hoist, held=CranePosition(jib_deg=70.0)
    )
    hook = locked.ways[0].start.hook_m
    assert hook is not None
    assert hook - 10.0 == pytest.approx(rise, abs=HALF_MM)


def test_radius_stands_for_the_jib_angle() -> None:
    hoist = _luffing(2)
    by_angle = trace(hoist, CranePositions.of(hook_m=10.0, jib_deg=60.0))
    by_radius = trace(hoist, CranePositions.of(hook_m=10.0, radius_m=25.0))
    assert by_radius.out_m[0] == pytest.approx(by_angle.out_m[0], abs=1e-9)


# --- Telescopic crane ---------------------------------------------------------------------------


def _telescopic(falls: int) -> Hoist:
    reeving = telescopic_hoist(
        falls=falls,
        frame=TelescopicBoom(foot_height_m=2),
        sheaves=BlockSheaves(block_mm=400, upper_mm=400),
        lead=Lead(to_drum_m=3),
    )
    travel = Travel(
        hook_low_m=0, hook_high_m=15, boom_min_m=20, boom_max_m=35,
        boom_min_deg=60, boom_max_deg=80,
    )  # fmt: skip
    return Hoist(reeving=reeving, travel=travel)


def test_telescoping() -> None:
    # By hand (script): 20 to 35 m at 60 degrees on 4 falls: hook + 16.740; level payout 66.962.
    hoist = _telescopic(4)
    short = trace(hoist, CranePositions.of(hook_m=5.0, boom_m=20.0, boom_deg=60.0))
    long = trace(hoist, CranePositions.of(hook_m=5.0, boom_m=35.0, boom_deg=60.0))
    assert long.out_m[0] - short.out_m[0] == pytest.approx(66.962, abs=HALF_MM)
    assert 15 * (1 + 4 * math.sin(math.radians(60))) == pytest.approx(66.962, abs=HALF_MM)
    free = Hoist(reeving=hoist.reeving, travel=Travel())
    locked = bring_to(
        PathPlace(at_m=float(short.out_m[0])),
        AT_DRUM,
        free,
        held=CranePosition(boom_m=35.0, boom_deg=60.0),
    )
    hook = locked.ways[0].start.hook_m
    assert hook is not None
    assert hook - 5.0 == pytest.approx(16.740, abs=HALF_MM)
    head_rise = 15 * math.sin(math.radians(60))
    assert head_rise == pytest.approx(12.990, abs=HALF_MM)
    assert hook - 5.0 - head_rise == pytest.approx(3.750, abs=HALF_MM)


@pytest.mark.parametrize("falls", range(1, 9))
def test_where_a_telescopic_cranes_rope_is_anchored(falls: int) -> None:
    # Published (army manual TM 5-3810-305-10 and a maker's): odd at the block, even at the head.
    reeving = _telescopic(falls).reeving
    assert reeving.falls == falls
    assert reeving.end_a_on == ("block" if falls % 2 else "jib")
    at_block = [contact.name for contact in reeving.contacts if contact.on == "block"]
    assert len(at_block) == falls // 2


# --- Bridge crane -------------------------------------------------------------------------------


@pytest.mark.parametrize("falls", [2, 4, 6, 8])
def test_twin_drum_pays_out_half_the_falls_on_each_side(falls: int) -> None:
    reeving = bridge_hoist_twin(
        falls=falls,
        frame=LevelTrack(sheave_height_m=12, hook_below_m=0.5),
        sheaves=BlockSheaves(block_mm=300, upper_mm=300),
        equaliser_mm=240,
    )
    hoist = Hoist(reeving=reeving, travel=Travel(hook_low_m=0, hook_high_m=10), rope_m=140)
    assert reeving.falls == falls / 2
    low = trace(hoist, CranePositions.of(hook_m=3.0))
    high = trace(hoist, CranePositions.of(hook_m=4.0))
    assert high.on_drum_m is not None
    assert low.on_drum_m is not None
    assert high.on_drum_m[0] - low.on_drum_m[0] == pytest.approx(falls / 2)
    # Published: contact j from the equaliser travels j times the hook; 0 at the equaliser.
    travelled = (high.start_m - low.start_m)[:, 0]
    middle = reeving.index("equaliser")
    expected = [middle - number for number in range(len(travelled))]
    assert travelled == pytest.approx(expected)
    assert low.start_m[middle, 0] + low.end_m[middle, 0] == pytest.approx(140)


@pytest.mark.parametrize("falls", [1, 2, 4])
def test_single_drum(falls: int) -> None:
    reeving = bridge_hoist_single(
        falls=falls,
        frame=LevelTrack(sheave_height_m=12, hook_below_m=0.5),
        sheaves=BlockSheaves(block_mm=300, upper_mm=300),
        drum_up_m=0.2,
    )
    hoist = Hoist(reeving=reeving, travel=Travel(hook_low_m=0, hook_high_m=10))
    path = trace(hoist, CranePositions.of(hook_m=2.0))
    # By hand: each fall 9.5 m, half a circle on every sheave, 0.2 m more at the drum.
    expected = falls * 9.5 + 0.2 + (falls - 1) * math.pi * 0.15
    assert path.out_m[0] == pytest.approx(expected)


# --- Trolley ropes ------------------------------------------------------------------------------


def test_trolley_ropes() -> None:
    inner = trolley_rope(rope="inner", end_sheave_m=2, winch_m=10, sheave_mm=300)
    outer = trolley_rope(rope="outer", end_sheave_m=60, winch_m=10, sheave_mm=300)
    travel = Travel(radius_min_m=3, radius_max_m=58)
    at = CranePositions.of(radius_m=[5.0, 30.0])
    half_circle = math.pi * 0.15
    # By hand: trolley to the end sheave, half round it, back to the winch at 10 m.
    assert trace(Hoist(reeving=inner, travel=travel), at).out_m == pytest.approx(
        [3 + half_circle + 8, 28 + half_circle + 8]
    )
    assert trace(Hoist(reeving=outer, travel=travel), at).out_m == pytest.approx(
        [55 + half_circle + 50, 30 + half_circle + 50]
    )
