"""Calibration: does what is said happen as often as it is said?"""

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from scipy import stats  # type: ignore[import-untyped]

from ropewright.forecast import Grid, Limit, Prior, curve_of, fit
from ropewright.forecast.fitting import Fit
from ropewright.forecast.growth import expected_breaks
from ropewright.forecast.sliding import Sweep, survival
from ropewright.inspection.findings import Method
from tests.calibration.simulate import Floats, Truth, draw, zones_of

PRIOR = Prior(life=1826.25, life_from="as simulated")
METHODS: tuple[Method, ...] = ("eye", "feel", "feel", "eye-round")

#: Bins of a stated chance, and for how many leads each rope states one: 0, 30, 91, 365 days.
BINS = (0.0, 0.001, 0.003, 0.01, 0.03, 0.1, 0.3, 0.7, 1.000001)
LEADS = 4

#: A finer grid than the product's, for the rank of the true life.
FINER = Grid(growth=31, life=81, level=61, kept=1 - 1e-7)

#: Counts are compared up to here; more is taken for so many.
COUNTED = 60


@dataclass(frozen=True, kw_only=True)
class Checked:
    """Calibration values of many ropes; each should be uniform between 0 and 1.

    ``life`` is the rank of the true life on the product's own grid, ``life_fine`` on a finer
    one; ``life_nodes`` counts whole nodes of the product's grid and is kept for comparison.
    """

    life_fine: Floats
    life_nodes: Floats
    life: Floats
    time: Floats
    count: Floats
    stated: Floats
    happened: Floats
    in_band: Floats


def check(ropes: int, seed: int, *, truth: Truth = "as assumed") -> Checked:
    """Simulate ropes with mixed methods and removal at the limit, and hold the model to them.

    Every rope is used; none is replaced.
    """
    rows: list[tuple[float, ...]] = []
    stated: list[float] = []
    happened: list[bool] = []
    for number in range(ropes):
        rng = np.random.default_rng([seed, number])
        limit = int(rng.integers(2, 11))
        windows = int(rng.integers(1, 4))
        rope = draw(rng, PRIOR, float(limit), windows=windows, truth=truth)
        looks: list[tuple[float, Method, tuple[int, ...]]] = []
        clock = 0.0
        for _ in range(int(rng.integers(1, 11))):
            clock += float(rng.choice([30.0, 91.0, 182.0, 365.0]))
            method = METHODS[int(rng.integers(len(METHODS)))]
            looks.append((clock, method, rope.look(rng, clock, method)))
            known = np.sum([new for _, _, new in looks], axis=0)
            if known.max() >= limit:
                break  # taken off
        fitted = fit(zones_of(looks), [Limit(count=limit, window_d=6.0)], PRIOR)
        coarse = float(fitted.weight[fitted.life < rope.life].sum())
        filled = filled_rank(fitted, rope.life)
        finely = fit(zones_of(looks), [Limit(count=limit, window_d=6.0)], PRIOR, grid=FINER)
        life = filled_rank(finely, rope.life)
        passing = rope.passes(limit)
        lead = float(rng.choice([30.0, 91.0, 365.0]))
        count = _count_place(fitted, rope.windows[0].breaks, int(known[0]), clock + lead, rng)
        removed = bool(known.max() >= limit)
        if removed:
            rows.append((life, rng.uniform(), count, 1.0, coarse, filled))
            continue
        curve = curve_of([fitted], clock, ((1.0, 1.0),), (0.002, 0.01, 0.05, 0.5, 0.95))
        if passing <= clock:
            time = curve.now * rng.uniform()
        else:
            time = float(fitted.chance(np.array([min(passing, 1e7)]))[0])
        early, late = curve.day_of(0.05), curve.day_of(0.95)
        waits = max(0.0, passing - clock)
        covered = (early or 0.0) <= waits <= (math.inf if late is None else late)
        rows.append((life, time, count, float(covered), coarse, filled))
        for days in (0.0, 30.0, 91.0, 365.0):
            stated.append(float(fitted.chance(np.array([clock + days]))[0]))
            happened.append(passing <= clock + days)
    table = np.array(rows)
    return Checked(
        life_fine=table[:, 0],
        life_nodes=table[:, 4],
        life=table[:, 5],
        time=table[:, 1],
        count=table[:, 2],
        in_band=table[:, 3],
        stated=np.array(stated),
        happened=np.array(happened, dtype=float),
    )


def filled_rank(fitted: Fit, life: float) -> float:
    """Where a life lies in its posterior, the weight of each node spread evenly over its cell.

    A node's weight stands for all lives up to half way to its neighbours of the same steepness.
    Counting whole nodes instead puts up to half a node's weight on the wrong side.
    """
    below = 0.0
    for steepness in np.unique(fitted.steepness):
        mine = fitted.steepness == steepness
        places, where = np.unique(np.log(fitted.life[mine]), return_inverse=True)
        weight = np.bincount(where, weights=fitted.weight[mine])
        if places.size == 1:
            below += float(weight[0]) * (places[0] < math.log(life))
            continue
        middle = (places[1:] + places[:-1]) / 2
        first, last = 2 * places[0] - middle[0], 2 * places[-1] - middle[-1]
        low, high = np.append(first, middle), np.append(middle, last)
        below += float(weight @ np.clip((math.log(life) - low) / (high - low), 0.0, 1.0))
    return below


def _count_place(
    fitted: Fit, breaks: Floats, known: int, clock: float, rng: np.random.Generator
) -> float:
    """Where the true count of the first window lies in its predictive distribution."""
    true = min(int((breaks <= clock).sum()), COUNTED)
    part = fitted._zones[0]
    grown = expected_breaks(np.array([[clock]]), fitted.life, fitted.steepness, fitted.at_life)
    more = part.unseen + np.maximum(grown - part.grown, 0.0)

    def at_least(count: int) -> float:
        if count <= known or count > COUNTED:
            return float(count <= COUNTED)
        one = Sweep(width=1.0, peaks=(count - known,), runs=(), reached=False)
        alive = survival([one], more, part.shape, part.base)
        return float(1.0 - (alive @ fitted.weight)[0])

    below, here = 1.0 - at_least(true), at_least(true) - at_least(true + 1)
    return below + here * rng.uniform()


@dataclass(frozen=True, kw_only=True)
class Uniformity:
    """How uniform a set of calibration values is."""

    p_ks: float
    p_chi2: float
    in_90: float
    p_90: float


def uniformity(values: Floats) -> Uniformity:
    """Kolmogorov-Smirnov, chi-square on 20 bins, and the share in the middle 90 %."""
    counts, _ = np.histogram(values, bins=20, range=(0.0, 1.0))
    inside = int(((values >= 0.05) & (values <= 0.95)).sum())
    return Uniformity(
        p_ks=float(stats.kstest(values, "uniform").pvalue),
        p_chi2=float(stats.chisquare(counts).pvalue),
        in_90=inside / values.size,
        p_90=float(stats.binomtest(inside, values.size, 0.9).pvalue),
    )


def reliability(checked: Checked) -> list[tuple[float, float, int]]:
    """Stated chance against how often it happened, in bins."""
    rows = []
    for low, high in pairwise(BINS):
        inside = (checked.stated >= low) & (checked.stated < high)
        if inside.any():
            rows.append(
                (
                    float(checked.stated[inside].mean()),
                    float(checked.happened[inside].mean()),
                    int(inside.sum()),
                )
            )
    return rows
