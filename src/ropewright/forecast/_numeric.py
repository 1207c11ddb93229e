"""Array types, and the few special functions that come from outside, with their types."""

from typing import TypeAlias, cast

import numpy as np
import numpy.typing as npt
from scipy import special, stats  # type: ignore[import-untyped]

Floats: TypeAlias = npt.NDArray[np.float64]
Ints: TypeAlias = npt.NDArray[np.int64]


def gammaln(value: Floats) -> Floats:
    """Logarithm of the gamma function of ``value`` [-]; the result is [-]."""
    return cast(Floats, special.gammaln(value))


def normal_quantile(share: float) -> float:
    """Quantile of the normal distribution, ``share`` [-] below it, kept finite.

    Returns
    -------
    float
        The quantile [-].
    """
    return float(special.ndtri(min(max(share, 1e-15), 1.0 - 1e-15)))


def normal_share(at: float) -> float:
    """Share of the normal distribution below ``at`` [-] standard deviations.

    Returns
    -------
    float
        The share [-].
    """
    return float(special.ndtr(at))


def t_quantile(share: float, freedom: float) -> float:
    """Quantile of Student's t.

    Parameters
    ----------
    share
        Probability below it [-].
    freedom
        Degrees of freedom [-].

    Returns
    -------
    float
        The quantile [-].
    """
    return float(stats.t.ppf(share, freedom))


def poisson_at_least(count: int, mean: float) -> float:
    """Chance of ``count`` or more events where ``mean`` [-] are expected.

    Returns
    -------
    float
        The chance [-].
    """
    return float(stats.poisson.sf(count - 1, mean))
