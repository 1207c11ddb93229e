"""Where to cut: the half-wrap rule comes out, bends and crossovers move with their own ends."""

from datetime import date

import numpy as np
import pytest

from ropewright.errors import InputError
from ropewright.geometry import Drum
from ropewright.rope import Cut as PastCut
from ropewright.rope import EndForEnd, PathMap, RopeHistory
from ropewright.rope.history import Step
from ropewright.wear.cut_effects import cut_effects
from ropewright.wear.cutting import damage_after, plan_cuts
from ropewright.wear.drum_wear import above_m, drum_presses
from ropewright.wear.outlook import Outlook
from ropewright.wear.possible_cuts import Cut, CutLimits, after, drum_shapes, possible_cuts
from ropewright.wear.profile import Profile

# The reference drum of the worked figures: 20.4 mm rope on 480 mm, 5 layers of 28 wraps.
DRUM = Drum(
    barrel_mm=480, rope_mm=20.4, wraps=(28.0,) * 5, rise_mm=18.36, pitch_mm=20.9,
    grooving="parallel",
)  # fmt: skip
ROPE_M = DRUM.capacity_m
NOW = PathMap(first_rope_m=0.0, last_rope_m=ROPE_M)


def _flat(value: float, to_m: float, from_m: float = 0.0) -> Profile:
    return Profile(edges_m=np.array([from_m, to_m]), values=np.array([value]))


def _only_crossovers() -> Outlook:
    """Every place of the rope is wound on and off alike; only presses wear."""
    return Outlook(
        bends=_flat(0.0, ROPE_M),
        passes=_flat(1.0, ROPE_M),
        drum=DRUM,
        weight=1.0,
        paid_out_least_m=0.0,
    )


def _layer_inside(layer: int) -> tuple[float, float]:
    """Rope positions of a layer's wraps without the last three on each side."""
    ends = (0.0, *DRUM.layer_ends_m)
    room = 3 * DRUM.turn_m[layer - 1]
    return ROPE_M - (ends[layer] - room), ROPE_M - (ends[layer - 1] + room)


# Worked table for this drum: the shift in wraps of each layer must lie an eighth of a wrap or
# more from every half wrap.  Typed from the worked figures: cut [m], layers in which it works.
HALF_WRAPS = [
    (0.3930, {1, 2, 3, 4, 5}),
    (0.7860, set()),
    (1.5721, {3, 4, 5}),
    (1.9651, {1, 2}),
    (2.2535, {2, 3, 4}),
    (5.1092, {1, 3, 4}),
]


@pytest.mark.parametrize(("cut_m", "works"), HALF_WRAPS)
def test_the_half_wrap_rule_comes_out(cut_m: float, works: set[int]) -> None:
    outlook = _only_crossovers()
    worn = damage_after(_flat(0.0, ROPE_M), outlook, NOW, 100.0)
    path = after(NOW, Cut(way="cut at the drum", at_drum_m=cut_m))
    then = damage_after(worn, outlook, path, 100.0)
    still = damage_after(worn, outlook, NOW, 100.0)
    found = set()
    for layer in range(1, 6):
        section = _layer_inside(layer)
        doubled = still.most(*section)
        # beside an untouched place, old and new crossovers each count once, never twice
        if then.most(*section) < 0.99 * doubled:
            found.add(layer)
    assert found == works


def test_the_planner_never_puts_old_crossovers_into_crossovers() -> None:
    """By the rule itself, worked out apart: the cut put forward works in the pressed layers."""
    outlook = Outlook(
        bends=_flat(0.0, ROPE_M),
        passes=_flat(1.0, *reversed(_layer_inside(3))),
        drum=DRUM,
        weight=1.0,
        paid_out_least_m=0.0,
    )
    worn = damage_after(_flat(0.0, ROPE_M), outlook, NOW, 100.0)
    limits = CutLimits(spare_m=3.0, least_on_drum_m=8.0, dead_wraps=3)
    plan = plan_cuts(worn, outlook, NOW, limits=limits, period_days=100.0)
    best = next(one for one in plan.best if one.cut.way == "cut at the drum")
    for layer in (2, 3):  # layer 3 is wound on and off; layer 2 lies under it
        part = (best.cut.at_drum_m / DRUM.turn_m[layer - 1]) % 0.5
        assert 0.125 <= part <= 0.375
    assert not any(one.cut.way == "cut at end A" for one in plan.best)


def test_a_cut_at_end_a_moves_bends_and_leaves_crossovers() -> None:
    outlook = _only_crossovers()
    worn = damage_after(_flat(0.0, ROPE_M), outlook, NOW, 100.0)
    path = after(NOW, Cut(way="cut at end A", at_a_m=1.0))
    then = damage_after(worn, outlook, path, 100.0)
    for layer in range(1, 6):
        section = _layer_inside(layer)
        assert then.most(*section) == pytest.approx(2 * worn.most(*section))


def test_bends_in_one_place_are_helped_by_end_a_only() -> None:
    """A hook that always stops at one height: 3 m of rope are bent, 100 m from end A."""
    outlook = Outlook(
        bends=Profile(edges_m=np.array([100.0, 103.0]), values=np.array([1.0])),
        passes=_flat(0.0, ROPE_M),
        drum=DRUM,
        weight=1.0,
        paid_out_least_m=0.0,
    )
    worn = damage_after(_flat(0.0, ROPE_M), outlook, NOW, 100.0)
    limits = CutLimits(spare_m=6.0, least_on_drum_m=10.0, dead_wraps=3)
    plan = plan_cuts(worn, outlook, NOW, limits=limits, period_days=60.0)
    ways = {one.cut.way: one for one in plan.best}
    assert set(ways) == {"cut at end A", "turn"}
    best = ways["cut at end A"]
    assert best.cut.at_a_m == pytest.approx(3.0, abs=0.051)  # the shortest that clears them
    # by hand: worn 100, without a cut 160 after 60 days; fresh rope gets there in 160 days
    assert plan.worst_without == pytest.approx(160.0)
    assert best.gained_days == pytest.approx(100.0)
    assert best.worst == pytest.approx(100.0)  # the old place, which bends no more


def test_short_spare_rope_helps_nothing_and_says_so() -> None:
    outlook = Outlook(
        bends=_flat(1.0, ROPE_M),
        passes=_flat(0.0, ROPE_M),
        drum=None,
        weight=0.0,
        paid_out_least_m=0.0,
    )
    worn = _flat(50.0, ROPE_M)
    limits = CutLimits(spare_m=4.0, least_on_drum_m=9.0, dead_wraps=3)
    plan = plan_cuts(worn, outlook, NOW, limits=limits, period_days=30.0)
    assert plan.nothing_helps
    assert all(gained == pytest.approx(0.0) for _, gained in plan.tried)


def test_every_length_within_the_limits_is_tried() -> None:
    limits = CutLimits(spare_m=1.0, least_on_drum_m=6.0, dead_wraps=3)
    cuts = list(possible_cuts(limits))
    at_a = [cut.at_a_m for cut in cuts if cut.way == "cut at end A"]
    assert at_a[0] == pytest.approx(0.2)
    assert at_a[-1] == pytest.approx(1.0)
    assert np.diff(at_a) == pytest.approx(0.05)
    assert sum(cut.way == "turn" for cut in cuts) == 1
    assert max(cut.length_m for cut in cuts) <= 1.0 + 1e-9
    none = CutLimits(spare_m=0.0, least_on_drum_m=4.0, dead_wraps=3)
    assert [cut.way for cut in possible_cuts(none)] == ["turn"]


@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("turn", [False, True])
def test_cuts_take_the_rope_at_that_end(turned: bool, turn: bool) -> None:
    """Second formulation: the rope's own history of cuts and turns."""
    day = date(2026, 1, 1)
    before: list[Step] = [EndForEnd(on=day)] if turned else []
    steps = [*before, *([EndForEnd(on=day)] if turn else [])]
    steps += [PastCut(on=day, end="A", length_m=2.0), PastCut(on=day, end="B", length_m=5.0)]
    now = RopeHistory(original_length_m=100.0, steps=tuple(before)).at(day)
    expected = RopeHistory(original_length_m=100.0, steps=tuple(steps)).at(day)
    found = after(now, Cut(way="turn", at_a_m=2.0, at_drum_m=5.0, turn=turn))
    assert found == expected


def test_the_wrap_above_by_counting_turns() -> None:
    """By hand: 2 turns before the end of layer 1 lies under 2 turns after it, on layer 2."""
    ends, turn = DRUM.layer_ends_m, DRUM.turn_m
    at = np.array([ends[0] - 2 * turn[0], ends[4] - 1.0])
    above = above_m(DRUM, at)
    assert above[0] == pytest.approx(ends[0] + 2 * turn[1])
    assert np.isinf(above[1])


def test_a_single_layer_has_no_presses() -> None:
    drum = Drum(barrel_mm=480, rope_mm=20.4, wraps=(28.0,), pitch_mm=20.9, grooving="parallel")
    presses = drum_presses(drum, _flat(1.0, drum.capacity_m), most_m=drum.capacity_m)
    assert not presses.crossovers.values.any()
    assert not presses.layer_changes.values.any()


def test_presses_by_a_slow_walk_along_the_drum() -> None:
    """Second formulation: walk the drum by the millimetre and ask part of turn and layer."""
    passes = Profile(edges_m=np.array([0.0, 60.0, 150.0, 240.0]), values=np.array([0.5, 2.0, 1.0]))
    presses = drum_presses(DRUM, passes, most_m=240.0)
    ends, turn = (0.0, *DRUM.layer_ends_m), DRUM.turn_m
    rng = np.random.default_rng(20261125)
    for drum_m in rng.uniform(0.0, 239.9, 800):
        layer = sum(drum_m >= end for end in ends[1:])
        turns = (drum_m - ends[layer]) / turn[layer]
        part = turns % 1.0
        if min(abs(part - edge) for edge in (0.0, 0.375, 0.5, 0.875, 1.0)) < 1e-3:
            continue
        climbing = (layer > 0 and turns < 0.5) or (layer < 4 and turns > 27.5)
        crossing = (0.375 <= part < 0.5 or part >= 0.875) and not climbing
        own = _passes(drum_m) if layer > 0 else 0.0
        over = 0.0
        if layer < 4:
            mirrored = ends[layer + 1] + (28 - turns) * turn[layer + 1]
            over = _passes(mirrored) if mirrored <= 240.0 else 0.0
        place = np.array([drum_m])
        assert presses.crossovers.at(place)[0] == (own + over if crossing else 0.0)
        whole = _passes(drum_m) + over
        assert presses.layer_changes.at(place)[0] == (whole if climbing else 0.0)


def _passes(drum_m: float) -> float:
    return 0.5 if drum_m < 60 else 2.0 if drum_m < 150 else 1.0 if drum_m < 240 else 0.0


def test_drum_shapes_are_off_by_each_measure() -> None:
    shapes = drum_shapes(DRUM, barrel_mm=2.0, wraps=0.25)
    assert len(shapes) == 6
    assert {round(shape.barrel_mm, 3) for shape in shapes} == {478.0, 480.0, 482.0}
    assert {round(shape.rise_mm, 3) for shape in shapes} == {17.34, 18.36, 19.38}


def test_a_period_of_nothing_is_refused() -> None:
    limits = CutLimits(spare_m=1.0, least_on_drum_m=6.0, dead_wraps=3)
    with pytest.raises(InputError, match="period_days"):
        plan_cuts(_flat(0, ROPE_M), _only_crossovers(), NOW, limits=limits, period_days=0)


# Shift in wraps by layer, typed from the worked figures.
SHIFTS = [
    (0.3930, (0.250, 0.233, 0.218, 0.205, 0.193)),
    (0.7860, (0.500, 0.466, 0.436, 0.410, 0.387)),
    (1.5721, (1.000, 0.932, 0.872, 0.820, 0.773)),
    (1.9651, (1.250, 1.165, 1.090, 1.024, 0.966)),
    (2.2535, (1.433, 1.335, 1.250, 1.175, 1.108)),
    (5.1092, (3.250, 3.028, 2.834, 2.664, 2.513)),
]


@pytest.mark.parametrize(("shift", "row"), list(zip(SHIFTS, HALF_WRAPS, strict=True)))
def test_effects_say_what_lies_in_crossovers_again(
    shift: tuple[float, tuple[float, ...]], row: tuple[float, set[int]]
) -> None:
    cut_m, wraps = shift
    cut = Cut(way="cut at the drum", at_drum_m=cut_m)
    found = cut_effects(cut, NOW, after(NOW, cut), DRUM, paid_out_least_m=0.0)
    assert [one.shift_wraps for one in found.layers] == pytest.approx(wraps, abs=0.0005)
    assert found.bends_shift_m == 0.0
    for one in found.layers:
        assert one.again is not None
        # beside the flanges a crossover may come into a layer change: at most 4 of 56 of a layer
        assert (one.again < 0.09) == (one.layer in row[1]), one


def test_effects_of_other_ways() -> None:
    turn = Cut(way="turn", turn=True)
    assert cut_effects(turn, NOW, after(NOW, turn), DRUM, paid_out_least_m=0).bends_shift_m is None
    end_a = Cut(way="cut at end A", at_a_m=1.0)
    found = cut_effects(end_a, NOW, after(NOW, end_a), DRUM, paid_out_least_m=0.0)
    assert found.bends_shift_m == 1.0
    assert all(one.again == pytest.approx(1.0, abs=0.02) for one in found.layers)
    assert found.layer_changes_again == pytest.approx(1.0)
    assert cut_effects(end_a, NOW, after(NOW, end_a), None, paid_out_least_m=0).layers == ()
