"""The growth model against golden values, a slow simulation and its own invariants."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ropewright.errors import InputError
from ropewright.forecast import (
    FINE,
    Detection,
    Finds,
    Limit,
    Look,
    Prior,
    Zone,
    detection_prior,
    fit,
)
from ropewright.forecast.growth import expected_breaks, life_for, seen_and_unseen
from ropewright.forecast.prior import class_shares
from ropewright.inspection.findings import Method
from tests.unit.forecast.golden import GOLDEN

PLAIN = Detection(eye=(0.95, 0.05), feel=(0.9, 0.9))
PRIOR = Prior(life=5.0, life_from="test", clustering=((1.0, 1.0),), detection=(PLAIN,))
FIVE = (Limit(count=5, window_d=6.0),)


def zone_of(clocks: tuple[float, ...], methods: tuple[Method, ...], new: tuple[int, ...]) -> Zone:
    return Zone(
        name="",
        looks=tuple(
            Look(clock=clock, method=method, new=count)
            for clock, method, count in zip(clocks, methods, new, strict=True)
        ),
    )


@pytest.mark.parametrize(("clocks", "methods", "new", "expected"), GOLDEN)
def test_golden_values(
    clocks: tuple[float, ...],
    methods: tuple[Method, ...],
    new: tuple[int, ...],
    expected: tuple[float, ...],
) -> None:
    ahead = np.array([clocks[-1], clocks[-1] + 0.25, clocks[-1] + 1])
    found = fit([zone_of(clocks, methods, new)], FIVE, PRIOR).chance(ahead)
    # other program (nested quad, golden.py), to the tolerance asked of the product's grid
    assert found == pytest.approx(expected, abs=5e-4)


def test_a_fine_grid_meets_the_golden_values_to_their_last_digit() -> None:
    clocks, methods, new, expected = GOLDEN[2]
    found = fit([zone_of(clocks, methods, new)], FIVE, PRIOR, grid=FINE).chance(
        np.array([3.0, 3.25, 4.0])
    )
    # other program (nested quad, golden.py): printed to five digits
    assert found == pytest.approx(expected, abs=3e-5)


def test_the_course_starts_at_zero_and_reaches_its_level_at_the_life() -> None:
    at = np.array([0.0, 5.0])
    five, eight = np.array([5.0]), np.array([8.0])
    # by hand: N(0) = 0 and N(T) = level
    assert expected_breaks(at, five, eight, 10.0) == pytest.approx([0.0, 10.0], abs=1e-12)


@given(breaks=st.floats(0.01, 200), clock=st.floats(0.1, 5000), steepness=st.floats(0.9, 75))
def test_life_for_is_the_inverse_of_the_course(
    breaks: float, clock: float, steepness: float
) -> None:
    rises = np.array([steepness])
    life = life_for(np.array([breaks]), clock, rises, 10.0)
    assert expected_breaks(np.array([clock]), life, rises, 10.0)[0] == pytest.approx(
        breaks, rel=1e-9
    )


@given(
    more=st.lists(st.floats(0, 5), min_size=1, max_size=12),
    methods=st.lists(st.sampled_from(["eye", "eye-round", "feel", "mrt"]), min_size=12),
)
def test_found_and_unseen_add_up_to_all_that_grew(more: list[float], methods: list[Method]) -> None:
    detections = detection_prior()
    chances = [
        np.array([one.chances(method) for one in detections]) for method in methods[: len(more)]
    ]
    found, unseen = seen_and_unseen([np.array([value]) for value in more], chances, class_shares())
    # by hand: nothing is lost; rounding of a dozen sums
    assert np.sum(found, axis=0) + unseen == pytest.approx(sum(more), rel=1e-12, abs=1e-12)


HISTORIES: tuple[tuple[tuple[float, ...], tuple[Method, ...], tuple[int, ...]], ...] = (
    ((2.0, 4.0), ("eye", "feel"), (0, 1)),
    ((3.0, 3.5), ("eye", "eye"), (1, 1)),
)


@pytest.mark.parametrize(("clocks", "methods", "new"), HISTORIES)
def test_against_ropes_simulated_without_any_likelihood(
    clocks: tuple[float, ...], methods: tuple[Method, ...], new: tuple[int, ...]
) -> None:
    """Ropes from the prior; those that show just this history are kept and looked at later."""
    prior = Prior(life=5.0, life_from="test")
    rng, ropes, lead = np.random.default_rng(20263), 600_000, 1.0
    z = rng.normal(size=ropes)
    z = z[np.abs(z) <= 2.8]  # as the grid cuts it
    ropes = z.size
    rises = 8.0 * np.exp(0.8 * z)
    lives = 5.0 * np.exp(0.8 * rng.normal(size=ropes))
    shapes = np.array([value for value, _ in prior.clustering])
    shape = rng.choice(shapes, size=ropes, p=[weight for _, weight in prior.clustering])
    frailty = rng.gamma(shape) / shape
    which = rng.choice(len(prior.detection), size=ropes, p=[one.weight for one in prior.detection])
    grown = [
        expected_breaks(np.array([clock]), lives, rises, 5.0)
        for clock in (0.0, *clocks, clocks[-1] + lead)
    ]
    unseen = np.zeros((ropes, 4), dtype=np.int64)
    known = np.zeros(ropes, dtype=np.int64)
    alive = np.ones(ropes, dtype=bool)
    for number, (method, count) in enumerate(zip(methods, new, strict=True)):
        mean = np.minimum(frailty * (grown[number + 1] - grown[number]) / 4, 1e6)
        unseen += rng.poisson(mean[:, None], size=(ropes, 4))
        chances = np.array([one.chances(method) for one in prior.detection])[which]
        found = rng.binomial(unseen, chances)
        unseen -= found
        known += found.sum(axis=1)
        alive &= found.sum(axis=1) == count
    mean = np.minimum(frailty * (grown[-1] - grown[-2]), 1e6)
    total = known + unseen.sum(axis=1) + rng.poisson(mean)
    kept = int(alive.sum())
    share = float((total[alive] >= 5).mean())
    fitted = fit([zone_of(clocks, methods, new)], FIVE, prior)
    said = float(fitted.chance(np.array([clocks[-1] + lead]))[0])
    assert kept > 5000
    # four standard errors of the simulation and the grid's own 5e-4
    assert said == pytest.approx(share, abs=4 * math.sqrt(said * (1 - said) / kept) + 5e-4)
    evidence = math.exp(fitted.log_evidence)
    assert evidence == pytest.approx(kept / ropes, rel=4 / math.sqrt(kept) + 0.005)


def test_detection_halves_average_to_the_mean_and_persistence_parts_them() -> None:
    assert Finds(mean=0.5, persistence=0.0).by_class == (0.5, 0.5)  # by hand
    assert Finds(mean=0.5, persistence=1.0).by_class == pytest.approx((0.95, 0.05))  # by hand
    assert Finds(mean=0.65, persistence=1.0).by_class == pytest.approx((0.95, 0.35))  # by hand


def test_hand_finds_065_of_crown_breaks_and_less_where_ends_lie_flat() -> None:
    usual = [float(one.chances("feel").mean()) for one in detection_prior()]
    flat = [float(one.chances("feel").mean()) for one in detection_prior(flush_ends=True)]
    assert np.mean(usual) == pytest.approx(0.65)  # common practice, no source
    assert np.mean(flat) == pytest.approx(0.40)  # common practice, no source


@pytest.mark.parametrize(
    ("make", "field"),
    [
        (lambda: Look(clock=-1.0, method="eye"), "clock"),
        (lambda: Look(clock=1.0, method="gauge"), "method"),
        (lambda: Look(clock=1.0, method="eye", new=-1), "new"),
        (lambda: Look(clock=0.0, method="eye", new=1), "clock"),
        (lambda: Limit(count=0, window_d=6.0), "limit"),
        (lambda: Limit(count=2, window_d=0.0), "window"),
        (lambda: Prior(life=0.0, life_from=""), "life"),
        (lambda: Finds(mean=1.2, persistence=0.0), "mean"),
        (
            lambda: Zone(
                name="", looks=(Look(clock=2.0, method="eye"), Look(clock=1.0, method="eye"))
            ),
            "looks",
        ),
        (lambda: Zone(name="", places_d=(7.0,)), "places"),
        (lambda: Zone(name="", places_d=(1.0,)), "places"),
    ],
)
def test_what_cannot_be_is_refused(make: object, field: str) -> None:
    with pytest.raises(InputError) as caught:
        make()  # type: ignore[operator]
    assert caught.value.field == field


def test_evidence_of_two_windows_is_not_that_of_one_with_both() -> None:
    one = zone_of((2.0,), ("feel",), (4,))
    two = [zone_of((2.0,), ("feel",), (2,)), zone_of((2.0,), ("feel",), (2,))]
    later = np.array([2.5])
    alone = fit([one], FIVE, PRIOR).chance(later)[0]
    shared = fit(two, FIVE, PRIOR).chance(later)[0]
    assert alone > shared


def test_a_same_day_second_pass_is_legal_and_lowers_what_is_unseen() -> None:
    once = fit([zone_of((2.0,), ("feel",), (3,))], FIVE, PRIOR)
    twice = fit([zone_of((2.0, 2.0), ("feel", "feel"), (3, 0))], FIVE, PRIOR)
    assert twice.unseen < once.unseen
    assert twice.chance(np.array([2.0]))[0] < once.chance(np.array([2.0]))[0]
