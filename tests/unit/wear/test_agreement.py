"""Agreement of map and findings: the control that ignores bends must show none."""

from collections.abc import Callable

import numpy as np
import pytest
from scipy.stats import spearmanr  # type: ignore[import-untyped]

from ropewright.geometry import Section
from ropewright.wear.agreement import Agreement, Found, agreement
from ropewright.wear.models import Floats

Generator = Callable[[np.random.Generator], list[Found]]
STEPS = 200
EDGES: Floats = np.arange(STEPS + 1, dtype=np.float64) * 2.0
ALL = [Section(0.0, 400.0)]


def _map(rng: np.random.Generator) -> Floats:
    """Damage as hoisting makes it: steps of whole sections, neighbours alike."""
    wear = np.zeros(STEPS)
    for _ in range(6):
        start = rng.integers(0, STEPS - 40)
        wear[start : start + rng.integers(10, 60)] += rng.uniform(0.5, 2.0)
    return wear


def _clusters(rng: np.random.Generator, chance: Floats, count: int) -> list[Found]:
    """Broken wires in clusters of up to five within 4 m."""
    found = []
    for step in rng.choice(STEPS, size=count, p=chance / chance.sum()):
        for _ in range(rng.integers(1, 6)):
            place = min(max(2.0 * step + rng.uniform(0, 4), 0.0), 399.0)
            found.append(Found(rope_m=float(place), count=int(rng.integers(1, 3))))
    return found


def _spread(rng: np.random.Generator) -> list[Found]:
    """Clusters anywhere, whatever the bends."""
    return _clusters(rng, np.ones(STEPS), 8)


def _one_bad_section(rng: np.random.Generator) -> list[Found]:
    """All breaks in 60 m somewhere, as corrosion would make them, whatever the bends."""
    chance = np.zeros(STEPS)
    start = rng.integers(0, STEPS - 30)
    chance[start : start + 30] = 1.0
    return _clusters(rng, chance, 12)


@pytest.mark.parametrize("generator", [_spread, _one_bad_section])
def test_a_generator_that_ignores_bends_shows_no_agreement(generator: Generator) -> None:
    """The control: under nothing, a chance of 5 % comes up in about 5 % of trials.

    400 trials; more than 34 below 5 % would happen by luck once in 1000 (binomial).
    """
    rng = np.random.default_rng(20261125)
    correlation = top = agreed = 0
    for _ in range(400):
        result = agreement(EDGES, _map(rng), generator(rng), ALL)
        assert result.correlation_chance is not None
        assert result.top_chance is not None
        correlation += result.correlation_chance <= 0.05
        top += result.top_chance <= 0.05
        agreed += bool(result.agrees)
    assert correlation <= 34
    assert top <= 34
    assert agreed <= 34


def test_the_usual_significance_would_have_been_fooled() -> None:
    """Why the map is slid: on one bad section the usual figure cries agreement far too often."""
    rng = np.random.default_rng(20261125)
    fooled = 0
    for _ in range(400):
        wear = _map(rng)
        breaks = np.zeros(STEPS)
        for one in _one_bad_section(rng):
            breaks[int(one.rope_m // 2)] += one.count
        fooled += spearmanr(wear, breaks, alternative="greater").pvalue <= 0.05
    assert fooled > 80


def test_a_generator_that_follows_the_bends_is_noticed() -> None:
    rng = np.random.default_rng(7)
    noticed = 0
    for _ in range(60):
        wear = _map(rng)
        found = _clusters(rng, wear**4 + 1e-9, 12)
        noticed += bool(agreement(EDGES, wear, found, ALL).agrees)
    assert noticed >= 30


def test_the_correlation_is_spearmans() -> None:
    """Other program: scipy.stats.spearmanr on the same steps."""
    rng = np.random.default_rng(3)
    wear = _map(rng)
    found = _clusters(rng, np.ones(STEPS), 10)
    breaks = np.zeros(STEPS)
    for one in found:
        breaks[int(one.rope_m // 2)] += one.count
    result = agreement(EDGES, wear, found, ALL)
    assert result.correlation == pytest.approx(spearmanr(wear, breaks).statistic)


def test_only_rope_that_was_looked_at_counts() -> None:
    wear = np.linspace(0, 1, STEPS)
    found = [Found(rope_m=place, count=1) for place in (10.0, 50.0, 90.0, 130.0, 390.0)]
    result = agreement(EDGES, wear, found, [Section(0.0, 200.0)])
    assert (result.steps, result.breaks, result.places) == (100, 4, 4)


def test_the_top_tenth_by_hand() -> None:
    """20 of 200 steps are the top tenth: 3 of 4 breaks lie in them."""
    wear = np.arange(STEPS, dtype=float)
    found = [Found(rope_m=place, count=1) for place in (361.0, 370.0, 399.0, 100.0)]
    assert agreement(EDGES, wear, found, ALL).top_share == pytest.approx(0.75)


@pytest.mark.parametrize(
    ("found", "seen", "wear", "words"),
    [
        ([Found(rope_m=5.0, count=9)], ALL, np.arange(200.0), "only 1 place"),
        ([], [Section(0, 20)], np.arange(200.0), "only 20 m"),
        (
            [Found(rope_m=place, count=1) for place in (1.0, 9.0, 60.0, 80.0)],
            ALL,
            np.ones(200),
            "alike",
        ),
        ([], ALL, np.arange(200.0), "no broken wires"),
    ],
)
def test_too_little_is_not_assessable(
    found: list[Found], seen: list[Section], wear: Floats, words: str
) -> None:
    result: Agreement = agreement(EDGES, wear, found, seen)
    assert words in result.why_not
    assert result.agrees is None
    assert not result.assessable
