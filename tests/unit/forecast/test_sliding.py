"""Sliding windows against published scan statistics and a slow simulation."""

import numpy as np
import pytest

from ropewright.forecast import Limit, Look, Zone
from ropewright.forecast.sliding import survival, sweep, sweeps_of

POISSON = 1e7  # so large a gamma shape is as good as Poisson


def chance(count: int, mean: float, length: float) -> float:
    zone = Zone(name="", length_d=6 * length)
    one = sweep(zone, Limit(count=count, window_d=6.0))
    alive = survival([one], np.array([[mean]]), np.array([POISSON]), np.array([POISSON]))
    return 1.0 - float(alive[0, 0])


@pytest.mark.parametrize(
    ("count", "mean", "length", "alm"),
    [
        # published formula (Alm 1983, abstract read), worked out by another program
        (2, 0.05, 10, 0.02184),
        (3, 0.2, 10, 0.02825),
        (5, 0.5, 10, 0.00655),
        (5, 1.0, 10, 0.10777),
        (8, 1.5, 20, 0.01753),
        (10, 2.0, 20, 0.00583),
    ],
)
def test_without_known_breaks_it_is_the_published_formula(
    count: int, mean: float, length: float, alm: float
) -> None:
    assert chance(count, mean, length) == pytest.approx(alm, abs=1e-5)


@pytest.mark.parametrize(
    ("count", "mean", "length", "simulated"),
    [
        # other program: Monte Carlo over 400,000 ropes; the formula is good to 5 %
        (2, 0.05, 10, 0.02180),
        (3, 0.2, 10, 0.02870),
        (5, 1.0, 10, 0.11031),
        (8, 1.5, 20, 0.01737),
    ],
)
def test_it_is_close_to_a_simulation(
    count: int, mean: float, length: float, simulated: float
) -> None:
    assert chance(count, mean, length) == pytest.approx(simulated, rel=0.05)


def test_known_breaks_are_swept_exactly_with_closed_windows() -> None:
    zone = Zone(
        name="",
        looks=(Look(clock=1.0, method="feel", new=3),),
        length_d=30.0,
        places_d=(6.0, 12.0, 24.0),
    )
    one = sweep(zone, Limit(count=5, window_d=6.0))
    # by hand: 6 and 12 lie in one closed window of 6 d; 24 stands alone; so 3 and 4 are missing
    assert sorted(one.peaks) == [3, 4]
    # by hand: starts 0 .. 24 d; the window holds one break over [0, 6), (6, 12] and [18, 24],
    # none over (12, 18); in widths of 6 d
    assert dict(one.runs) == pytest.approx({4: 3.0, 5: 1.0})


def test_a_limit_that_is_reached_leaves_no_survival() -> None:
    zone = Zone(name="", looks=(Look(clock=1.0, method="feel", new=5),))
    assert sweep(zone, Limit(count=5, window_d=6.0)).reached


def test_with_known_breaks_it_errs_on_the_safe_side_of_a_simulation() -> None:
    places, count, length, shape, rate, more = (6.0, 9.0, 21.0), 5, 5.0, 4.0, 8.0, 0.9
    zone = Zone(
        name="", looks=(Look(clock=1.0, method="feel", new=3),), length_d=30.0, places_d=places
    )
    said = 1.0 - (
        float(
            survival(
                [sweep(zone, Limit(count=count, window_d=6.0))],
                np.array([[more]]),
                np.array([shape]),
                np.array([rate]),
            )[0, 0]
        )
    )
    rng, hits, ropes = np.random.default_rng(20264), 0, 20_000
    for _ in range(ropes):
        new = rng.uniform(0, 30, rng.poisson(rng.gamma(shape) / rate * more * length))
        every = np.sort(np.concatenate((places, new)))
        held = np.searchsorted(every, every + 6.0, side="right") - np.arange(every.size)
        hits += int(held.max()) >= count
    share = hits / ropes
    # the formula may be up to a third too high, and hardly too low
    assert 0.95 * share < said < 1.35 * share


def test_a_limit_that_cannot_come_first_is_left_empty() -> None:
    six, thirty = Limit(count=6, window_d=6.0), Limit(count=12, window_d=30.0)
    first, second = sweeps_of(Zone(name="", length_d=6.0), (six, thirty))
    # by hand: in 6 d of rope twelve breaks are there only after six
    assert first.peaks == (6,)
    assert second.peaks == ()
    assert all(one.peaks for one in sweeps_of(Zone(name="", length_d=60.0), (six, thirty)))
    # by hand: of two equal limits one is left
    twice = sweeps_of(Zone(name=""), (six, six))
    assert [one.peaks for one in twice] == [(6,), ()]


def test_longer_windows_are_cut_to_the_zone() -> None:
    zone = Zone(name="", length_d=6.0)
    assert sweep(zone, Limit(count=10, window_d=30.0)).width == 1.0
