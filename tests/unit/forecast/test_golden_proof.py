"""The golden values worked out anew by nested adaptive quadrature, written apart from the model."""

import math
from collections.abc import Callable

import pytest
from scipy.integrate import quad  # type: ignore[import-untyped]
from scipy.stats import nbinom  # type: ignore[import-untyped]

from tests.unit.forecast.golden import GOLDEN

LIMIT, SPREAD, LIFE, STEEP = 5, 0.8, 5.0, 8.0
CHANCE = {"eye": (0.95, 0.05), "feel": (0.9, 0.9)}


def mean_course(clock: float, life: float, steep: float) -> float:
    return LIMIT * math.expm1(min(600.0, steep * clock / life)) / math.expm1(steep)


def at_node(
    clocks: tuple[float, ...], methods: tuple[str, ...], new: tuple[int, ...], lead: float
) -> Callable[[float, float], tuple[float, float]]:
    """Likelihood, and likelihood times the chance of the limit, at one life and steepness."""

    def of(life: float, steep: float) -> tuple[float, float]:
        unseen, before, found, log = [0.0, 0.0], 0.0, 0.0, 0.0
        for clock, method, count in zip(clocks, methods, new, strict=True):
            now = mean_course(clock, life, steep)
            unseen = [one + (now - before) / 2 for one in unseen]
            mean = sum(p * one for p, one in zip(CHANCE[method], unseen, strict=True))
            unseen = [(1 - p) * one for p, one in zip(CHANCE[method], unseen, strict=True)]
            before, found = now, found + mean
            log += count * math.log(max(mean, 1e-300)) - math.lgamma(count + 1)
        known = sum(new)
        log += math.lgamma(1 + known) - (1 + known) * math.log1p(found)
        more = sum(unseen) + mean_course(clocks[-1] + lead, life, steep) - before
        success = (1 + found) / (1 + found + more)
        tail = float(nbinom.sf(LIMIT - known - 1, 1 + known, success)) if known < LIMIT else 1.0
        like = math.exp(log)
        return like, like * tail

    return of


@pytest.mark.proof
@pytest.mark.parametrize(("clocks", "methods", "new", "expected"), GOLDEN)
@pytest.mark.parametrize("number", [0, 1, 2])
def test_nested_quadrature_gives_the_golden_values(
    clocks: tuple[float, ...],
    methods: tuple[str, ...],
    new: tuple[int, ...],
    expected: tuple[float, ...],
    number: int,
) -> None:
    of = at_node(clocks, methods, new, (0.0, 0.25, 1.0)[number])

    def total(part: int) -> float:
        def inner(z: float) -> float:
            steep = STEEP * math.exp(SPREAD * z)

            def one(y: float) -> float:
                both = of(LIFE * math.exp(SPREAD * y), steep)
                return math.exp(-0.5 * y * y) * both[part]

            # short pieces, so that no needle is missed
            pieces = [-6 + 0.25 * step for step in range(49)]
            return math.exp(-0.5 * z * z) * sum(
                float(quad(one, low, low + 0.25, epsrel=1e-7)[0]) for low in pieces[:-1]
            )

        return float(quad(inner, -2.8, 2.8, epsrel=1e-6)[0])

    # to the five digits that are printed
    assert total(1) / total(0) == pytest.approx(expected[number], abs=1e-5)
