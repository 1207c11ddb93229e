"""Calibration: the fit against other ways to the same answer, and refusal of contradictions."""

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ropewright.errors import InputError
from ropewright.geometry import (
    Corrections,
    CranePosition,
    CranePositions,
    Hoist,
    LayerChanged,
    MarkPassed,
    Observation,
    PathPlace,
    SeenAtPoint,
    SeenOnDrum,
    Tolerances,
    WrapsCounted,
    calibrate,
    locate,
    trace,
)
from tests.unit.geometry_path.reference import TOWER_HEAD, reference_hoist

NOTHING_FREE = Tolerances(
    hook_zero_m=0, anchor_side_m=0, lead_m=0, rope_m=0, barrel_mm=0, rise_mm=0, wraps=0
)


def _outside(hook: float, extra: float = 0.0) -> float:
    """Rope off the drum, written out: 74.0708 + 2 h."""
    return 58.5 + math.pi / 2 + 14 + 2 * (60.8 - hook) + extra


def _layer_ends(barrel: float = 480, rise: float = 18.36, wraps: float = 28) -> list[float]:
    turns = [wraps * math.pi * (barrel + 20.4 + 2 * k * rise) / 1000 for k in range(6)]
    return list(itertools.accumulate(turns))


def _hook_at(wound: float, rope: float, extra: float = 0.0, zero: float = 0.0) -> float:
    """Hook reading at which so much rope is wound on, in a crane with those true numbers."""
    return 60.8 - (rope - wound - extra - 58.5 - math.pi / 2 - 14) / 2 - zero


def test_one_free_number_is_a_weighted_mean() -> None:
    hoist = replace(reference_hoist(), tolerances=replace(NOTHING_FREE, rope_m=1.0))
    seen = WrapsCounted(
        name="wraps", position=CranePosition(hook_m=0.0), layer=1, wraps=6.2, err_turns=0.1
    )
    result = calibrate(hoist, [seen])
    turn = math.pi * 0.5004
    # By hand: the count says 6.2 turns, the numbers say 205 - outside.
    said = 6.2 * turn - (205 - _outside(0.0))
    own = math.hypot(2 * 0.1, 0.1 * turn)  # 2 falls x 0.1 m of reading, 0.1 turn of count
    share = 1.0**2 / (1.0**2 + own**2)
    assert result.hoist.corrections.rope_m == pytest.approx(said * share, rel=1e-6)
    (found,) = result.found
    assert found.name == "rope_m"
    assert found.err_before == pytest.approx(1.0)
    assert found.err_after == pytest.approx(own / math.hypot(1.0, own), rel=1e-6)
    (left,) = result.residuals
    assert left.residual_m == pytest.approx(said * (1 - share), rel=1e-6)
    assert left.err_m == pytest.approx(own, rel=1e-6)


def test_two_free_numbers_lie_where_a_plain_search_finds_them() -> None:
    tolerances = replace(NOTHING_FREE, rope_m=1.0, rise_mm=1.0)
    hoist = replace(reference_hoist(), tolerances=tolerances)
    hooks = [17.6, 41.3, 66.0]
    observations: list[Observation] = [
        LayerChanged(name=f"layer {k + 1}", position=CranePosition(hook_m=hook), layer=k + 1)
        for k, hook in enumerate(hooks)
        if hook <= 60
    ]
    result = calibrate(hoist, observations)

    def misfit(rope: float, rise: float) -> float:
        ends = _layer_ends(rise=18.36 + rise)
        total = rope**2 + rise**2
        for k, hook in enumerate(hooks[: len(observations)]):
            turn = math.pi * (480 + 20.4 + 2 * k * 18.36) / 1000
            err = math.hypot(0.2, 0.25 * turn)
            total += ((ends[k] - (205 + rope - _outside(hook))) / err) ** 2
        return total

    # Walk downhill in ever smaller steps.
    rope, rise, step = 0.0, 0.0, 0.5
    while step > 1e-7:
        near = [
            (misfit(rope + a * step, rise + b * step), rope + a * step, rise + b * step)
            for a in (-1, 0, 1)
            for b in (-1, 0, 1)
        ]
        best = min(near)
        if best[0] < misfit(rope, rise):
            _, rope, rise = best
        else:
            step /= 2
    assert result.hoist.corrections.rope_m == pytest.approx(rope, abs=1e-4)
    assert result.hoist.corrections.rise_mm == pytest.approx(rise, abs=1e-4)


TRUE_ROPE, TRUE_RISE, TRUE_BARREL, TRUE_EXTRA, TRUE_ZERO = 205.6, 18.0, 481.0, 0.3, 0.15


def _true_observations() -> list[Observation]:
    """What would be seen at a crane whose true numbers differ from the typed ones."""
    ends = _layer_ends(barrel=TRUE_BARREL, rise=TRUE_RISE)
    turn = math.pi * (TRUE_BARREL + 20.4) / 1000
    ground = TRUE_ROPE - _outside(TRUE_ZERO, TRUE_EXTRA)
    observations: list[Observation] = [
        WrapsCounted(
            name="wraps at the ground", position=CranePosition(hook_m=0.0), layer=1,
            wraps=ground / turn,
        )
    ]  # fmt: skip
    for layer in (1, 2):
        hook = _hook_at(ends[layer - 1], TRUE_ROPE, TRUE_EXTRA, TRUE_ZERO)
        observations.append(
            LayerChanged(
                name=f"layer {layer} full", position=CranePosition(hook_m=hook), layer=layer
            )
        )
    return observations


def _true_place(hook: float) -> float:
    return 58.5 + 2 * (60.8 - hook - TRUE_ZERO) + math.pi / 2 + TRUE_EXTRA - 2


def _place(hoist: Hoist, hook: float) -> PathPlace:
    return locate(SeenAtPoint(point=TOWER_HEAD, position=CranePosition(hook_m=hook)), hoist)


def test_the_truth_lies_within_what_is_said() -> None:
    before = reference_hoist()
    mark = MarkPassed(
        name="blue mark",
        position=CranePosition(hook_m=20.0),
        point=TOWER_HEAD,
        mark=PathPlace(at_m=_true_place(20.0), rel_err_m=0.05),
    )
    after = calibrate(before, [*_true_observations(), mark]).hoist
    for hook in (5.0, 25.0, 55.0):
        old, new = _place(before, hook), _place(after, hook)
        assert abs(new.at_m - _true_place(hook)) < new.abs_err_m + 0.05
        assert new.abs_err_m < 0.5 * old.abs_err_m
    ends = _layer_ends(barrel=TRUE_BARREL, rise=TRUE_RISE)
    for layer in (1, 2, 3):
        seen = SeenOnDrum(layer=layer, wrap=28, part=1.0)
        old, new = locate(seen, before), locate(seen, after)
        assert abs(new.at_m - (TRUE_ROPE - ends[layer - 1])) < new.abs_err_m
        assert new.abs_err_m < old.abs_err_m


def test_corrections_are_seen_in_the_path_and_on_the_drum() -> None:
    hoist = replace(
        reference_hoist(),
        corrections=Corrections(
            hook_zero_m=0.1, anchor_side_m=0.2, lead_m=0.4, rope_m=1.0, rise_mm=-0.3, barrel_mm=1.0
        ),
    )
    at = CranePositions.of(hook_m=20.0, radius_m=30.0)
    moved = trace(hoist, at).start_m - trace(reference_hoist(), at).start_m
    # By hand: the zero lifts the hook by 0.1 m: j x 0.1 m less rope before contact j; the anchor's
    # side adds 0.2 m everywhere, the lead 0.4 m from the root sheave on.
    assert moved[:, 0] == pytest.approx([0.2, 0.1, 0.0, 0.4])
    path = trace(hoist, at)
    assert path.on_drum_m is not None
    assert path.on_drum_m[0] == pytest.approx(206.0 - (_outside(20.0) - 0.2 + 0.6))
    ends = hoist.wound_drum().layer_ends_m
    assert ends == pytest.approx(_layer_ends(barrel=481.0, rise=18.06)[:6])


def test_the_observation_that_contradicts_is_named() -> None:
    observations = _true_observations()
    wrong = observations[1]
    assert isinstance(wrong, LayerChanged)
    moved = replace(wrong.position, hook_m=(wrong.position.hook_m or 0.0) + 5.0)
    observations[1] = replace(wrong, position=moved)
    with pytest.raises(InputError) as caught:
        calibrate(reference_hoist(), observations)
    assert caught.value.field == "layer 1 full"
    assert "'layer 1 full' contradicts" in str(caught.value)
    # By hand: 5 m of hook are 10 m of rope, less what the typed numbers are off.
    assert caught.value.given is not None
    assert "-10" in caught.value.given or "-9" in caught.value.given


def test_two_that_contradict_each_other_are_both_named() -> None:
    hoist = replace(reference_hoist(), tolerances=replace(NOTHING_FREE, rope_m=10.0))
    pair = [
        WrapsCounted(name="monday", position=CranePosition(hook_m=0.0), layer=1, wraps=4.0),
        WrapsCounted(name="tuesday", position=CranePosition(hook_m=0.0), layer=1, wraps=8.0),
    ]
    with pytest.raises(InputError) as caught:
        calibrate(hoist, pair)
    assert "monday" in str(caught.value)
    assert "tuesday" in str(caught.value)


def test_a_single_one_can_contradict_what_was_typed() -> None:
    seen = WrapsCounted(name="wraps", position=CranePosition(hook_m=0.0), layer=1, wraps=25.0)
    with pytest.raises(InputError, match="contradicts the numbers as typed;"):
        calibrate(reference_hoist(), [seen])


@given(st.lists(st.floats(-0.7, 0.7), min_size=3, max_size=3))
def test_honest_readings_are_not_refused(noise: list[float]) -> None:
    """Each reading off by up to 0.7 of its own ±."""
    observations = []
    for seen, share in zip(_true_observations(), noise, strict=True):
        hook = (seen.position.hook_m or 0.0) + 0.1 * share
        observations.append(replace(seen, position=replace(seen.position, hook_m=hook)))
    after = calibrate(reference_hoist(), observations)
    assert all(abs(left.residual_m) < 2 * left.err_m for left in after.residuals)
    assert abs(_place(after.hoist, 25.0).at_m - _true_place(25.0)) < 1.0


def test_more_observations_never_make_it_less_sure() -> None:
    observations = _true_observations()
    errs = [_place(reference_hoist(), 25.0).abs_err_m]
    for count in range(1, len(observations) + 1):
        errs.append(
            _place(calibrate(reference_hoist(), observations[:count]).hoist, 25.0).abs_err_m
        )
    assert errs == sorted(errs, reverse=True)


def test_the_spread_is_a_covariance() -> None:
    spread = calibrate(reference_hoist(), _true_observations()).hoist.spread
    assert spread is not None
    matrix = spread.matrix
    np.testing.assert_allclose(matrix, matrix.T, atol=1e-12)
    assert np.linalg.eigvalsh(matrix).min() > -1e-12


def test_calibrating_again_starts_from_what_was_typed() -> None:
    once = calibrate(reference_hoist(), _true_observations()).hoist
    twice = calibrate(once, _true_observations()).hoist
    assert once.corrections == twice.corrections


@pytest.mark.parametrize(
    ("observation", "field"),
    [
        (LayerChanged(name="a", position=CranePosition(hook_m=1.0), layer=6), "a.layer"),
        (WrapsCounted(name="a", position=CranePosition(hook_m=1.0), layer=0, wraps=1), "a.layer"),
        (WrapsCounted(name="a", position=CranePosition(hook_m=1.0), layer=1, wraps=99), "a.wraps"),
    ],
)
def test_observations_that_the_drum_cannot_show(observation: Observation, field: str) -> None:
    with pytest.raises(InputError) as caught:
        calibrate(reference_hoist(), [observation])
    assert caught.value.field == field


def test_names_must_differ() -> None:
    seen = _true_observations()[0]
    with pytest.raises(InputError, match="own name"):
        calibrate(reference_hoist(), [seen, seen])
    with pytest.raises(InputError, match="at least one"):
        calibrate(reference_hoist(), [])
