"""The model against other programs: a sampler, a scoring library, two libraries for repairs.

Kind of every figure here: other program.  The commands stand in tests/calibration/oracles.txt
and tests/calibration/nuts_oracle.txt.
"""

import math
from datetime import date

import numpy as np
import pytest

from ropewright.forecast import (
    Detection,
    Limit,
    Look,
    Outcome,
    Prior,
    Recommendation,
    Zone,
    fit,
    score,
)
from ropewright.forecast.fitting import Fit
from tests.calibration.plug_ins import power_law
from tests.unit.forecast.golden import NUTS, NUTS_LEADS, NUTS_ROPES, PRIOR_DRAWS

#: scoringrules 0.10.0, crps_negbinom: score of the count forecast where 2, 3, 6, 12 came.
SCORED = {
    500.0: (0.0221130100, 0.7261521220, 3.6943929640, 9.6943807383),
    600.0: (0.4746694324, 0.2509647642, 2.3463383935, 8.3013645820),
    800.0: (2.7782983719, 1.8882530108, 0.7023173387, 4.0478881869),
}
CAME = (2, 3, 6, 12)
COUNTED = 150


def sure_of_growth() -> Fit:
    """A prior as narrow as a point, so that one growth curve is left."""
    prior = Prior(
        life=1000.0, life_from="", life_spread=1e-7, steepness=4.0, steepness_spread=1e-7,
        clustering=((1.5, 1.0),), detection=(Detection(eye=(0.8, 0.8), feel=(0.8, 0.8)),),
    )  # fmt: skip
    zone = Zone(
        name="",
        looks=(Look(clock=400.0, method="feel"), Look(clock=500.0, method="feel", new=2)),
    )
    return fit([zone], [Limit(count=10, window_d=6.0)], prior)


@pytest.mark.parametrize("clock", SCORED)
def test_the_count_forecast_scores_as_a_scoring_library_says(clock: float) -> None:
    fitted = sure_of_growth()
    at_least = [1.0] * 3 + [
        float(fitted.chance_of(np.array([clock]), Limit(count=k, window_d=6.0), zone=0)[0])
        for k in range(3, COUNTED)
    ]
    below = 1.0 - np.array(at_least[1:])  # P(N <= k) for k = 0, 1, ...
    for came, expected in zip(CAME, SCORED[clock], strict=True):
        happened = np.arange(below.size) >= came
        # the prior is a point but for 1e-7
        assert float(((below - happened) ** 2).sum()) == pytest.approx(expected, abs=5e-6)


@pytest.mark.parametrize(
    ("count", "mean", "chance"),
    [  # statsmodels 0.15.0, test_poisson, exact-c, larger
        (1, 0.02, 0.0198013266932447),
        (2, 0.5, 0.09020401043104986),
        (3, 0.03, 4.399954939749084e-06),
        (5, 2.25, 0.07801410740927758),
    ],
)
def test_too_many_failures_by_an_exact_poisson_test(count: int, mean: float, chance: float) -> None:
    day = date(2026, 1, 1)
    outcomes = [
        Outcome(
            made=Recommendation(
                made_on=day, until=day, chance=mean / 10, alpha=0.0, version="", prior_version=""
            ),
            passed=number < count,
        )
        for number in range(10)
    ]
    assert score(outcomes).p_too_many == pytest.approx(chance, rel=1e-9)


def test_power_law_of_the_comparison_by_a_library_for_repairs() -> None:
    times = (5, 40, 43, 175, 389, 712, 747, 795, 1299, 1478)
    rate, exponent = power_law((times,), (1500.0,))
    # surpyval 0.25, CrowAMSAA: scale 20.63893032, exponent 0.53722887 (to the printed digits)
    assert exponent == pytest.approx(0.53722887, abs=5e-9)
    assert rate ** (-1 / exponent) == pytest.approx(20.63893032, abs=5e-8)


def figures(name: str) -> list[float]:
    """Mean of ln life and ln steepness, and the chance of the limit at each lead."""
    limit, clocks, methods, counts = NUTS_ROPES[name]
    prior = Prior(
        life=1826.25, life_from="", clustering=((1.5, 1.0),),
        detection=(Detection(eye=(0.9, 0.1), feel=(0.85, 0.45)),),
    )  # fmt: skip
    zones = [
        Zone(
            name=str(number),
            exposure="one",
            looks=tuple(
                Look(clock=float(clock), method=method, new=new)
                for clock, method, new in zip(clocks, methods, window, strict=True)
            ),
        )
        for number, window in enumerate(counts)
    ]
    fitted = fit(zones, [Limit(count=limit, window_d=6.0)], prior)
    leads = np.array([clocks[-1] + lead for lead in NUTS_LEADS])
    return [
        float(fitted.weight @ np.log(fitted.life)),
        float(fitted.weight @ np.log(fitted.steepness)),
        *fitted.chance(leads).tolist(),
    ]


#: Below this chance the sampler has a handful of draws, and its own error means nothing: the clean
#: history is a funnel (64 divergences), and it is held to draws from the prior instead.
TELLS = 1e-4


@pytest.mark.parametrize("name", NUTS)
def test_the_posterior_is_that_of_a_sampler(name: str) -> None:
    for mine, (theirs, error) in zip(figures(name), NUTS[name], strict=True):
        if theirs < TELLS:
            assert mine < TELLS
            continue
        # four standard errors of the sampler, and the printed digits; the product's grid itself
        # is held to a fine one elsewhere, to two per cent of the chance
        allowed = 4 * error + 1e-5 + 0.02 * (theirs if theirs < 1 else 0)
        assert math.isclose(mine, theirs, rel_tol=0, abs_tol=allowed), (mine, theirs, error)


def test_a_clean_rope_is_that_of_ropes_drawn_from_the_prior() -> None:
    for mine, theirs in zip(figures("clean"), PRIOR_DRAWS, strict=True):
        # six per cent: the product's ten values of steepness, at chances that small
        assert mine == pytest.approx(theirs, rel=0.06 if theirs < 1e-4 else 0.012)
