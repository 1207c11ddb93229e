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

#: For the rank of the true life: at each steepness the life is a needle, so the product's ten
#: values of steepness make a comb, and a rank among its teeth is not quite uniform.
FINER = Grid(growth=31, life=81, level=61, kept=1 - 1e-7)

#: Counts are compared up to here; an invented window holds no more.
COUNTED = 60


@dataclass(frozen=True, kw_only=True)
class Checked:
    """Calibration values of many ropes; each should be uniform between 0 and 1."""

    life: Floats
    life_coarse: Floats
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
        rope = draw(rng, PRIOR, float(limit), windows=int(rng.integers(1, 4)), truth=truth)
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
        finely = fit(zones_of(looks), [Limit(count=limit, window_d=6.0)], PRIOR, grid=FINER)
        life = float(finely.weight[finely.life < rope.life].sum())
        passing = rope.passes(limit)
        lead = float(rng.choice([30.0, 91.0, 365.0]))
        count = _count_place(fitted, rope.windows[0].breaks, int(known[0]), clock + lead, rng)
        removed = bool(known.max() >= limit)
        if removed:
            rows.append((life, rng.uniform(), count, 1.0, coarse))
            continue
        curve = curve_of([fitted], clock, ((1.0, 1.0),), (0.002, 0.01, 0.05, 0.5, 0.95))
        if passing <= clock:
            time = curve.now * rng.uniform()
        else:
            time = float(fitted.chance(np.array([min(passing, 1e7)]))[0])
        early, late = curve.day_of(0.05), curve.day_of(0.95)
        waits = max(0.0, passing - clock)
        covered = (early or 0.0) <= waits <= (math.inf if late is None else late)
        rows.append((life, time, count, float(covered), coarse))
        for days in (0.0, 30.0, 91.0, 365.0):
            stated.append(float(fitted.chance(np.array([clock + days]))[0]))
            happened.append(passing <= clock + days)
    table = np.array(rows)
    return Checked(
        life=table[:, 0],
        life_coarse=table[:, 4],
        time=table[:, 1],
        count=table[:, 2],
        in_band=table[:, 3],
        stated=np.array(stated),
        happened=np.array(happened, dtype=float),
    )


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
    edges = [0.0, 0.001, 0.003, 0.01, 0.03, 0.1, 0.3, 0.7, 1.000001]
    rows = []
    for low, high in pairwise(edges):
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
