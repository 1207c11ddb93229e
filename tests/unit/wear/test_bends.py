"""Bends along the rope: worked figures, the rules of counting, and what odd logs are made of."""

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest

from ropewright.errors import InputError
from ropewright.geometry import (
    BlockSheaves,
    CranePosition,
    Hoist,
    Lead,
    LevelTrack,
    LuffingJib,
    Travel,
    bridge_hoist_twin,
    hoist_by_payout,
    luffing_jib_hoist,
    trolley_rope,
)
from ropewright.wear import (
    BendCount,
    Counting,
    Duty,
    DutyChunk,
    Lift,
    LoadClasses,
    LogCounter,
    bends,
    bends_of_duty,
    bends_of_lifts,
    count_from_arrays,
    count_to_arrays,
    layer_contacts,
    remarks,
)
from tests.unit.geometry_path.reference import reference_hoist

START_MS = 1_760_000_000_000
BLOCK_T = 0.4
EXACT = Counting(
    classes=LoadClasses(upper_t=(1.0, 2.0, 4.0)), bin_m=0.05, jitter_m=0.0, block_t=BLOCK_T
)
HOIST = reference_hoist()

# By hand (facts on geometry, example P3): bends of one cycle (radius, drop below the trolley)
# (20, 58) - (20, 30) - (45, 30) - (45, 50) and the same way back; seams left out.  In order:
# from, to, then bends by outer trolley sheave, block sheave, inner trolley sheave, root sheave
# and drum.
CYCLE = [
    (0.0, 15.00, 0, 0, 0, 0, 0), (15.39, 40.00, 2, 0, 0, 0, 0), (40.39, 45.39, 0, 0, 0, 0, 0),
    (46.18, 65.39, 0, 4, 0, 0, 0), (66.18, 76.18, 0, 2, 0, 0, 0), (76.57, 98.39, 0, 2, 4, 0, 0),
    (99.18, 116.18, 0, 0, 4, 0, 0), (116.57, 120.07, 0, 0, 2, 0, 0),
    (120.46, 134.07, 0, 0, 2, 4, 0), (134.07, 157.18, 0, 0, 2, 4, 2),
    (157.57, 160.07, 0, 0, 0, 4, 2), (160.46, 174.07, 0, 0, 0, 2, 2),
    (176.46, 190.07, 0, 0, 0, 0, 1), (190.07, 205.0, 0, 0, 0, 0, 0),
]  # fmt: skip
# By hand, from the same example: trolley from 20 to 45 m and back at a drop of 30 m only.
TROLLEY = [
    (0.0, 15.0, 0, 0, 0, 0, 0), (15.39, 40.0, 2, 0, 0, 0, 0), (40.39, 45.39, 0, 0, 0, 0, 0),
    (46.18, 70.39, 0, 2, 0, 0, 0), (71.18, 76.18, 0, 0, 0, 0, 0), (76.57, 101.18, 0, 0, 2, 0, 0),
    (101.57, 205.0, 0, 0, 0, 0, 0),
]  # fmt: skip


def log(
    drops: list[float],
    radii: list[float] | None = None,
    loads: list[float] | None = None,
    *,
    step_s: float = 100.0,
) -> DutyChunk:
    """Return a log by drop below the trolley; steps are slow enough to be no jump."""
    count = len(drops)
    return DutyChunk(
        time_ms=START_MS + np.arange(count) * round(step_s * 1000),
        hook_m=60.8 - np.array(drops),
        radius_m=np.array(radii or [20.0] * count),
        load_t=np.array(loads or [BLOCK_T] * count),
    )


def counted(*pieces: DutyChunk, counting: Counting = EXACT, hoist: Hoist = HOIST) -> BendCount:
    return bends(pieces, hoist, replace(counting, gap_s=1e6))


def table_of(count: BendCount, rows: Sequence[tuple[float, ...]]) -> Sequence[tuple[float, ...]]:
    """Return what the count says over the rows' sections, where it says one thing."""
    found = []
    for start, end, *_ in rows:
        inside = (count.places_m > start + 0.03) & (count.places_m < end - 0.03)
        over = count.bends[:, inside]
        assert (over == over[:, :1]).all(), (start, end)
        found.append((start, end, *over[:, 0].tolist()))
    return found


CYCLE_LOG = log([58, 30, 30, 50, 30, 30, 58], [20, 20, 45, 45, 45, 20, 20])


def test_bends_of_a_cycle_by_contact() -> None:
    assert table_of(counted(CYCLE_LOG), CYCLE) == CYCLE


def test_bends_of_trolley_travel_by_contact() -> None:
    assert table_of(counted(log([30, 30, 30], [20, 45, 20])), TROLLEY) == TROLLEY


def test_seams_have_half_values() -> None:
    # By hand: at the pick-up (20, 58) the inner trolley sheave covers 157.178 m and 0.393 m more;
    # elements there are on the sheave at first, leave it and come back: one bend by it.
    count = counted(CYCLE_LOG)
    inner = count.bends[count.of_contact("inner trolley sheave")]
    assert inner[round(157.3 / 0.05)] == 1
    assert inner[round(157.1 / 0.05)] == 2


def test_a_bin_is_met_when_its_middle_is_passed() -> None:
    # By hand: the drum's tangent point lies at 74.0708 m + twice the drop; a drop from 20 to
    # 20.0396 m takes it from 114.07080 to 114.1500 m.  Middles lie at 114.075 and 114.125 m.
    count = counted(log([20, 20.0396]))
    drum = count.half_bends[count.of_contact("drum")].sum(axis=0)
    assert np.flatnonzero(drum).tolist() == [2281, 2282]


@pytest.mark.parametrize(("lowered_m", "passed"), [(0.025, 0), (0.0251, 1), (0.075, 1)])
def test_a_middle_exactly_on_the_point_lies_on_the_drums_side(
    lowered_m: float, passed: int
) -> None:
    # By hand: with the hook at 50 m the drum's tangent point lies at 40 m, and goes on by twice
    # what the hook is lowered.  The first middle behind it lies at 40.05 m, the next at 40.15 m.
    plain = hoist_by_payout(falls=2, hook_low_m=0, hook_high_m=50, rope_m=180, out_at_top_m=40)
    counting = replace(EXACT, bin_m=0.1)
    down = DutyChunk(time_ms=np.arange(2) * 1000, hook_m=np.array([50.0, 50.0 - lowered_m]))
    assert bends([down], plain, counting).half_bends.sum() == passed
    up = replace(down, hook_m=np.array([50.0 - lowered_m, 50.0]))
    assert bends([up], plain, counting).half_bends.sum() == passed


def test_drum_is_half_a_bend_on_and_half_off() -> None:
    down = counted(log([20, 40]))
    assert down.bends[-1].max() == 0.5
    assert down.wound_on.max() == 0
    up = counted(log([40, 20]))
    assert up.bends[-1].max() == 0.5
    assert up.wound_on.max() == 1


def test_layer_and_zone_of_bins() -> None:
    # By hand (facts on geometry, example P2): with the hook at 40 m, 89.329 m lie on the drum
    # and rope leaves it on layer 2, wrap 27, part of turn 0.853, no crossover; at 58 m 125.329 m,
    # layer 3, part 0.895, in a crossover.
    count = counted(log([20, 40]))
    at_40, at_58 = (math.floor((205 - metres) / 0.05) for metres in (89.329, 125.329))
    assert count.drum_layer[[at_40, at_58]].tolist() == [2, 3]
    assert count.crossover[[at_40, at_58]].tolist() == [False, True]
    assert count.drum_layer[: round(70 / 0.05)].max() == 0


def test_layers_of_the_drum() -> None:
    # By hand: the reference drum's layer 1 holds 28 wraps of 1.5721 m = 44.02 m, a quarter of it
    # in crossovers; layer 2 47.25 m.  From a drop of 50 m to 20 m and back, the drum's tangent
    # point goes from 174.07 m to 114.07 m and back: rope from 30.93 m to 90.93 m on the drum,
    # so the last 13.09 m of layer 1 and nearly all of layer 2 are wound on once.
    first, second, *above = layer_contacts(counted(log([50, 20, 50])))
    assert (first.layer, first.wound_on, first.crossover) == (1, 1, 1)
    assert first.rope_m == pytest.approx(44.02, abs=0.1)
    assert first.crossover_m == pytest.approx(44.02 / 4, abs=1.0)
    # By hand: the change zone is half a wrap before and behind a layer's end: 0.79 m of layer 1,
    # 0.84 m at either end of layer 2.
    assert first.layer_change_m == pytest.approx(0.79, abs=0.05)
    assert second.layer_change_m == pytest.approx(1.69, abs=0.1)
    assert (second.wound_on, second.layer_change) == (1, 1)
    assert {row.wound_on for row in above} == {0}


def test_reverse_bends_run_straight_on_to_the_next_sheave() -> None:
    # By hand: with the trolley still, the block goes down from a drop of 10 to 30 m and up again.
    # At first the block sheave ends at 40 + 10 + 0.393 + 0.785 = 51.178 m and the inner trolley
    # sheave begins at 61.178 m; down there the block sheave ends at 71.178 m.  What lay on the
    # inner sheave or beyond it and is met by the block ran over both, and back: 61.178 to 71.178.
    # What hung between the two at first is taken to have come from the drum's side: once.
    count = counted(log([10, 30, 10]), counting=replace(EXACT, bin_m=0.1))
    pair = [names[:2] for names in count.pairs].index(("block sheave", "inner trolley sheave"))
    ran = count.reverse_bends[pair].sum(axis=0)
    assert count.pairs[pair][2] == pytest.approx(10, abs=1e-4)
    assert ran[513:611].tolist() == [1] * 98
    assert ran[613:711].tolist() == [2] * 98
    assert ran[713:].max() == 0


def test_loads_fall_into_classes() -> None:
    loads = [0.4, 1.0, 1.0, 1.001, 1.001, 4.0, 4.0, 9.0, 9.0, math.nan]
    drops = [20.0, 20.0, 25.0, 25.0, 20.0, 20.0, 25.0, 25.0, 20.0, 25.0]
    count = counted(log(drops, loads=loads))
    drum = count.half_bends[-1]
    # By hand: each stroke passes the same 200 middles once; a step counts as the heavier of its
    # two loads, and one with an unknown load as unknown.
    assert drum.sum(axis=1).tolist() == [200, 200, 200, 200, 200]
    assert count.class_loads_t[:4].tolist() == [1.0, 2.0, 4.0, 9.0]
    assert count.quality.load_unknown == 1


def test_load_that_no_crane_lifts_is_not_known() -> None:
    count = counted(log([20.0, 25.0, 20.0], loads=[1.5, 1.5, 999.0]))
    assert count.half_bends[-1].sum(axis=1).tolist() == [0, 200, 0, 0, 200]
    assert count.load_most_t == 1.5
    assert count.quality.load_unknown == 1


def test_weighted_bends() -> None:
    count = counted(log([20.0, 25.0, 20.0], loads=[1.5, 1.5, 1.5]))
    # By hand: one bend of class 'up to 2 t', its cube 8; half of it on, half off the drum.
    assert count.weighted(3, unknown_t=4.0)[-1].max() == 8.0
    assert count.weighted(1, unknown_t=4.0)[-1].sum() == 2.0 * 200


@pytest.mark.parametrize("cuts", [2, 3, 7])
def test_pieces_do_not_matter(cuts: int) -> None:
    whole = counted(CYCLE_LOG)
    parts = [
        DutyChunk(
            time_ms=CYCLE_LOG.time_ms[part],
            hook_m=CYCLE_LOG.hook_m[part] if CYCLE_LOG.hook_m is not None else None,
            radius_m=CYCLE_LOG.radius_m[part] if CYCLE_LOG.radius_m is not None else None,
            load_t=CYCLE_LOG.load_t[part] if CYCLE_LOG.load_t is not None else None,
        )
        for part in np.array_split(np.arange(7), cuts)
    ]
    assert (counted(*parts).half_bends == whole.half_bends).all()


def test_single_and_double_precision_count_alike() -> None:
    # Readings of whole centimetres: as float32 they are off by micrometres, which must not matter.
    chance = np.random.default_rng(3)
    hook = np.round(np.cumsum(chance.normal(0, 0.5, 4000)).clip(-20, 20) + 30, 2)
    double = log((60.8 - hook).tolist())
    single = replace(
        double,
        hook_m=hook.astype(np.float32),
        radius_m=np.full(hook.size, 20.0, dtype=np.float32),
    )
    double = replace(double, hook_m=hook)
    for jitter in (0.0, 0.02):
        counting = replace(EXACT, jitter_m=jitter)
        one, two = counted(double, counting=counting), counted(single, counting=counting)
        assert (one.half_bends == two.half_bends).all()


def test_count_agrees_with_the_classic_count_of_bendings() -> None:
    """A full lift and lowering: drum 1, sheave 2, sheave that bends the other way 4.

    From memory (DIN 15020-1, appendix on the number of bendings).
    """
    count = counted(log([5, 59, 5]), counting=replace(EXACT, bin_m=0.1))
    bins = {name: count.bends[count.of_contact(name)] for name in count.contacts}
    pair = [names[:2] for names in count.pairs].index(("block sheave", "inner trolley sheave"))
    reverse = count.reverse_bends[pair].sum(axis=0)
    # By hand: over the drum, root and inner trolley sheaves runs rope from 51.2 + 88.8 + ... m;
    # taken where all three are met: 2 + 2 + 1.
    three = (bins["inner trolley sheave"] == 2) & (bins["root sheave"] == 2) & (bins["drum"] == 1)
    three &= bins["block sheave"] == 0
    assert three.any()
    assert set(count.all_bends[three]) == {5.0}
    both = (bins["inner trolley sheave"] == 2) & (bins["block sheave"] == 2) & (reverse == 2)
    both &= (bins["root sheave"] == 0) & (bins["drum"] == 0)
    assert both.any()
    assert set((count.all_bends + reverse)[both]) == {2.0 + 4.0}


def test_paths_of_which_little_is_known() -> None:
    plain = Counting(classes=LoadClasses.even(5.0))
    times = np.arange(5) * 60_000
    by_payout = hoist_by_payout(falls=2, hook_low_m=0, hook_high_m=50)
    hook = DutyChunk(time_ms=times, hook_m=np.array([0.0, 20, 10, 30, 0]))
    count = bends([hook], by_payout, plain)
    assert count.contacts == ("drum",)
    assert count.all_bends.max() == 2.0  # by hand: two strokes up, two down
    assert layer_contacts(count) == ()
    inner = trolley_rope(rope="inner", end_sheave_m=1, winch_m=3, sheave_mm=300)
    travel = Travel(radius_min_m=2, radius_max_m=50)
    radius = DutyChunk(time_ms=times, radius_m=np.array([3.0, 20, 10, 30, 5]))
    moved = bends([radius], Hoist(reeving=inner, travel=travel, rope_m=70.0), plain)
    assert moved.contacts == ("jib foot sheave", "drum")
    # By hand: four strokes over 10 to 20 m of radius, two half-bends each at the sheave, and one
    # each at the drum: 6 bends where both are passed.
    assert moved.all_bends.max() == 6.0


# --- Jitter, gaps, jumps, slack -------------------------------------------------------------------


def test_jitter_does_not_count() -> None:
    quiet = replace(EXACT, jitter_m=0.03)
    count = counted(log([20, 20.01, 19.99, 20.01, 20.0] * 50), counting=quiet)
    assert count.half_bends.sum() == 0
    assert count.quality.moving_ms == 0
    # True turning points keep their exact place: the same bins as without any jitter.
    clean = counted(log([20, 30, 20]))
    noisy = counted(log([20, 25.02, 25, 25.02, 30, 29.99, 30, 20]), counting=quiet)
    assert (noisy.half_bends == clean.half_bends).all()


def test_gap_is_bridged_as_unknown_load() -> None:
    chunk = log([20, 25, 25, 30], loads=[1.5] * 4, step_s=10)
    later = replace(chunk, time_ms=chunk.time_ms + np.array([0, 0, 0, 120_000]))
    count = bends([later], HOIST, EXACT)
    assert count.quality.gaps == 1
    assert count.quality.gap_ms == 130_000
    assert count.quality.covered_ms == 20_000
    drum = count.half_bends[-1].sum(axis=1)
    assert drum.tolist() == [0, 200, 0, 0, 200]


def test_jump_is_not_bridged() -> None:
    count = bends([log([20, 21, 41, 42], step_s=1)], HOIST, EXACT)
    assert count.quality.resets == 1
    assert count.quality.reset_list[0].by_m == -20
    assert count.half_bends[-1].sum() == 2 * 40


def test_slack_rope_is_left_out() -> None:
    # Lowered to a drop of 40 m, block set down, 3 m more laid out loose, taken in, lifted again.
    drops = [30.0, 40, 40.0, 41, 43, 41, 40.0, 40, 30]
    loads = [0.4, 0.4, 0.05, 0.05, 0.05, 0.05, 0.05, 0.4, 0.4]
    count = bends([log(drops, loads=loads, step_s=10)], HOIST, EXACT)
    assert count.quality.slack_spells == 1
    assert count.quality.slack_ms == 40_000
    assert count.quality.slack_known
    assert count.half_bends[-1].sum() == 2 * 400
    blind = bends([log(drops, loads=loads, step_s=10)], HOIST, replace(EXACT, block_t=None))
    assert not blind.quality.slack_known
    assert blind.quality.slack_spells == 0


def test_repeated_backward_blank_and_impossible_samples() -> None:
    chunk = log([20, 20, 21, 21, 22, math.nan, 200, 23], step_s=10)
    order = np.array([0, 0, 10, 5, 20, 30, 40, 50]) * 1000
    count = bends([replace(chunk, time_ms=START_MS + order)], HOIST, EXACT)
    found = count.quality
    assert (found.repeated, found.backward, found.blank, found.beyond_travel) == (1, 1, 1, 1)
    assert found.samples == 8
    assert count.half_bends[-1].sum() == 120


def test_other_falls_are_not_counted() -> None:
    counter = LogCounter(HOIST, EXACT)
    counter.take(replace(log([20, 30]), falls=4))
    count = counter.count()
    assert count.half_bends.sum() == 0
    assert count.quality.falls_unlike == 2
    unlike = (count.quality.unlike_first_ms, count.quality.unlike_last_ms)
    assert unlike == (START_MS, START_MS + 100_000)  # by hand
    assert count.quality.invalid_ms == 100_000
    assert count.quality.lost_share == 1.0
    with pytest.raises(InputError, match="other falls"):
        bends([replace(log([20, 30]), falls=4)], HOIST, EXACT)


def test_falls_of_a_twin_drum_and_of_a_rope_without_falls() -> None:
    times = np.arange(3) * 100_000
    sheaves = BlockSheaves(block_mm=400, upper_mm=400)
    twin = bridge_hoist_twin(
        falls=4, frame=LevelTrack(sheave_height_m=12), sheaves=sheaves, equaliser_mm=400
    )
    crab = Hoist(reeving=twin, travel=Travel(hook_low_m=0, hook_high_m=10), rope_m=60.0)
    hook = DutyChunk(time_ms=times, hook_m=np.array([1.0, 9.0, 1.0]), falls=4)
    # By hand: four falls, two on each side, so each drum takes 2 x 8 m on and lets it off again.
    assert bends([hook], crab, EXACT).half_bends[-1].sum() == 2 * 320
    inner = trolley_rope(rope="inner", end_sheave_m=1, winch_m=3, sheave_mm=300)
    travel = Travel(radius_min_m=2, radius_max_m=50)
    rope = Hoist(reeving=inner, travel=travel, rope_m=70.0)
    radius = DutyChunk(time_ms=times, radius_m=np.array([3.0, 20, 10]), falls=4)
    assert bends([radius], rope, EXACT).quality.falls_unlike == 0


def test_no_sample_is_not_zero_bends() -> None:
    for pieces in ([], [log([500.0, 600.0])]):
        with pytest.raises(InputError, match="at least one sample"):
            bends(pieces, HOIST, EXACT)


def test_missing_reading_is_named() -> None:
    chunk = DutyChunk(time_ms=np.arange(2), hook_m=np.zeros(2))
    with pytest.raises(InputError, match="radius_m"):
        bends([chunk], HOIST, EXACT)


def test_turns_of_the_drum_stand_for_the_hook() -> None:
    # Published example of the drum is of no use here: turns and hook by the kernel's own drum.
    hook = np.array([5.0, 40.0, 12.0])
    drum = HOIST.wound_drum()
    turns = drum.turns_at(205.0 - (74.0708 + 2 * (60.8 - hook)))
    by_turns = DutyChunk(
        time_ms=np.arange(3) * 100_000, drum_turns=turns, radius_m=np.full(3, 20.0)
    )
    by_hook = DutyChunk(time_ms=np.arange(3) * 100_000, hook_m=hook, radius_m=np.full(3, 20.0))
    one, two = counted(by_turns), counted(by_hook)
    # The example's 74.0708 m is rounded to a tenth of a millimetre: one bin at each of the ends.
    assert np.abs(one.half_bends - two.half_bends).sum(axis=(1, 2)).max() <= 4


def test_one_impossible_reading_does_not_spoil_a_log() -> None:
    jib = LuffingJib(jib_m=50, foot_height_m=40, a_frame_back_m=7, a_frame_up_m=12)
    reeving = luffing_jib_hoist(
        falls=1, frame=jib, sheaves=BlockSheaves(block_mm=500, upper_mm=500),
        a_frame_sheave_mm=500, lead_deg=270, lead=Lead(to_drum_m=10),
    )  # fmt: skip
    travel = Travel(hook_low_m=0, hook_high_m=40, jib_min_deg=15, jib_max_deg=75)
    luffing = Hoist(reeving=reeving, travel=travel, rope_m=200.0)
    radius = np.array([30.0, 30, 999, math.inf, 30, 30])
    chunk = DutyChunk(
        time_ms=np.arange(6) * 10_000, hook_m=np.array([0.0, 5, 6, 7, 10, 0]), radius_m=radius
    )
    count = bends([chunk], luffing, EXACT)
    assert count.quality.beyond_travel == 2
    assert count.bends[-1].max() == 1.0  # by hand: onto the drum, and off again
    turns = np.array([3.0, -1, 500, math.nan, 10, 3])
    by_turns = replace(chunk, hook_m=None, drum_turns=turns, radius_m=np.full(6, 20.0))
    assert bends([by_turns], HOIST, EXACT).quality.blank == 3


# --- Lifts ----------------------------------------------------------------------------------------


def test_pick_ups_and_rest_under_load() -> None:
    # By hand: picked up at (20, 50), 30 s at rest with the load in the air at (20, 40).
    drops = [50.0, 50, 50, 40, 40, 50, 50]
    loads = [0.4, 3.0, 3.5, 3.5, 3.5, 3.5, 0.4]
    count = bends([log(drops, loads=loads, step_s=30)], HOIST, EXACT)
    assert count.pick_ups.lifts == 1
    assert count.pick_ups.hook_counts.tolist() == [1]
    assert count.pick_ups.hook_from_m == 10
    block = count.of_contact("block sheave")
    # The block sheave covers 40 + 50 + 0.393 = 90.393 m to 91.178 m at the pick-up.
    on_block = np.flatnonzero(count.pick_ups.counts[block, 2]) * 0.05
    assert on_block.min() == pytest.approx(90.4, abs=0.051)
    assert on_block.max() == pytest.approx(91.1, abs=0.051)
    rest = count.pick_ups.rest_ms[block]
    assert rest[round(90.8 / 0.05)] == 30_000  # before going up
    assert rest[round(80.8 / 0.05)] == 30_000  # in the air
    root = count.pick_ups.rest_ms[count.of_contact("root sheave")]
    assert root.max() == 30_000


def test_lift_under_way_is_counted_but_not_kept() -> None:
    counter = LogCounter(HOIST, EXACT)
    counter.take(log([50, 50, 45], loads=[0.4, 3.0, 3.0], step_s=30))
    assert counter.count().pick_ups.lifts == 1
    assert counter.count().pick_ups.lifts == 1
    rest = log([45, 50, 50], loads=[3.0, 3.0, 0.4], step_s=30)
    counter.take(replace(rest, time_ms=rest.time_ms + 90_000))
    assert counter.count().pick_ups.lifts == 1


def lift(times: int = 1) -> Lift:
    return Lift(
        pick=CranePosition(hook_m=2.8, radius_m=20.0),
        place=CranePosition(hook_m=10.8, radius_m=45.0),
        over_m=30.8,
        load_t=2.0,
        times=times,
    )


def test_list_of_lifts_is_the_cycle_so_many_times() -> None:
    count = bends_of_lifts([lift(7)], HOIST, EXACT)
    wanted = [(start, end, *(7 * number for number in rest)) for start, end, *rest in CYCLE]
    assert table_of(count, wanted) == wanted
    assert count.origin == "lift list"
    assert count.pick_ups.lifts == 7
    assert count.first_ms is None


def test_half_of_the_cycle_is_loaded() -> None:
    count = bends_of_lifts([lift()], HOIST, EXACT)
    by_class = count.half_bends.sum(axis=(0, 2))
    # By hand: out with 2.4 t (class 'up to 4 t'), back with the block's 0.4 t.
    assert by_class[0] == by_class[2] > 0
    assert by_class[[1, 3, 4]].sum() == 0


def test_duty_is_a_list_of_lifts() -> None:
    duty = Duty(lifts_per_day=40, days=50, kinds=(lift(3), replace(lift(1), load_t=0.5)))
    assert [one.times for one in duty.as_lifts()] == [1500, 500]
    count = bends_of_duty(duty, HOIST, EXACT)
    assert count.origin == "duty description"
    assert count.all_bends.max() == 2000 * 8


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"pick": CranePosition(hook_m=2.8)}, "pick.radius_m"),
        ({"place": CranePosition(hook_m=99.0, radius_m=45.0), "over_m": None}, "limits"),
    ],
)
def test_lifts_that_cannot_be(change: dict[str, object], words: str) -> None:
    wrong = replace(lift(), **change)  # type: ignore[arg-type]
    with pytest.raises(InputError, match=words):
        bends_of_lifts([wrong], HOIST, EXACT)


@pytest.mark.parametrize(
    "change", [{"load_t": -1.0}, {"times": 0}, {"over_m": 1.0}, {"load_t": math.nan}]
)
def test_impossible_lift_is_refused(change: dict[str, object]) -> None:
    with pytest.raises(InputError):
        replace(lift(), **change)  # type: ignore[arg-type]


# --- Adding and keeping ---------------------------------------------------------------------------


def test_counts_add_up() -> None:
    one, two = counted(log([20, 40, 20])), counted(log([40, 20, 50]))
    both = one + two
    assert (both.half_bends == one.half_bends + two.half_bends).all()
    assert both.quality.samples == 6
    assert (one + bends_of_lifts([lift()], HOIST, EXACT)).origin == "several"


def test_unlike_counts_are_not_added() -> None:
    other = counted(log([20, 40]), counting=replace(EXACT, bin_m=0.1))
    with pytest.raises(InputError, match="bin_m"):
        counted(log([20, 40])) + other


def test_count_is_the_same_after_being_stored(tmp_path: object) -> None:
    count = bends([log([20, 21, 41, 42, 30, 50], loads=[0.4, 3, 3, 3, 0.4, 0.4])], HOIST, EXACT)
    again = count_from_arrays(count_to_arrays(count))
    assert (again.half_bends == count.half_bends).all()
    assert again.quality == count.quality
    assert again.pairs == count.pairs
    assert again.pick_ups.lifts == count.pick_ups.lifts
    assert (again + count).quality.samples == 12


@pytest.mark.parametrize(
    "change",
    [{"bin_m": 0.04}, {"bin_m": 0.05001}, {"jitter_m": -1.0}, {"gap_s": 0.0}, {"block_t": 0.0},
     {"slack_share": 1.0}, {"hook_speed_m_per_s": math.inf}],
)  # fmt: skip
def test_senseless_settings_are_refused(change: dict[str, float]) -> None:
    with pytest.raises(InputError):
        replace(EXACT, **change)  # type: ignore[arg-type]


@pytest.mark.parametrize("upper", [(), (0.0, 1.0), (2.0, 1.0), (math.nan,)])
def test_senseless_classes_are_refused(upper: tuple[float, ...]) -> None:
    with pytest.raises(InputError):
        LoadClasses(upper_t=upper)


# --- What the reader is told ----------------------------------------------------------------------


def test_log_of_another_crane_is_refused() -> None:
    with pytest.raises(InputError, match="unit and zero"):
        bends([log([20.0, 21.0] + [500.0] * 3)], HOIST, EXACT)
    with pytest.raises(InputError, match="jump"):
        bends([log([20.0, 50.0] * 5, step_s=1)], HOIST, EXACT)


def test_remarks_on_a_log() -> None:
    assert remarks(bends([log([20, 30, 20])], HOIST, replace(EXACT, gap_s=1e6)).quality) == ()
    loads = [0.4, math.nan, 0.4, 0.4]
    said = remarks(bends([log([20, 30, 20, 40], loads=loads)], HOIST, EXACT).quality)
    assert any("25% of the samples have no load" in words for words in said)
    assert any("least that can have happened" in words for words in said)
    jumped = remarks(bends([log([20, 21, 22, 60, 60, 60], step_s=1)], HOIST, EXACT).quality)
    assert any("jumped once, first on 2025-10-09 (UTC) by -38.0 m" in words for words in jumped)
