"""Plug-in methods to compare with: power law, log-linear and straight line by best fit alone."""

import math
from collections.abc import Sequence

import numpy as np
from scipy.optimize import brentq, minimize  # type: ignore[import-untyped]


def power_law(
    systems: Sequence[Sequence[float]], ends: Sequence[float], *, to_event: bool = False
) -> tuple[float, float]:
    """Exact times of power-law processes: rate factor and exponent by maximum likelihood.

    ``to_event``: observation ended with the last event of each system.
    """
    count = sum(len(times) for times in systems)
    first = ends[0]
    if all(end == first for end in ends) and not to_event:
        total = sum(math.log(first / time) for times in systems for time in times)
        exponent = count / total
    else:

        def slope(beta: float) -> float:
            grown = sum(end**beta for end in ends)
            moved = sum(end**beta * math.log(end) for end in ends)
            logs = sum(math.log(time) for times in systems for time in times)
            return float(count * moved / grown - count / beta - logs)

        exponent = float(brentq(slope, 0.05, 20.0, xtol=1e-12))
    return count / sum(end**exponent for end in ends), exponent


def power_law_grouped(ends: Sequence[float], counts: Sequence[int]) -> tuple[float, float]:
    """Grouped counts of a power-law process: rate factor and exponent."""
    exponent = power_law_exponent(ends, counts)
    return sum(counts) / ends[-1] ** exponent, exponent


def power_law_exponent(ends: Sequence[float], counts: Sequence[int]) -> float:
    """Exponent of a power-law process from grouped counts."""
    edges = np.array([0.0, *ends])
    held = np.array(counts, dtype=float)

    def loss(at: float) -> float:
        shares = np.diff((edges / edges[-1]) ** min(at, 500.0))
        return float(-(held * np.log(np.maximum(shares, 1e-300))).sum())

    best = minimize(lambda v: loss(math.exp(v[0])), [0.0], method="Nelder-Mead",
                    options={"xatol": 1e-10, "fatol": 1e-13})  # fmt: skip
    return math.exp(min(float(best.x[0]), 6.0))


def log_linear_grouped(edges: Sequence[float], counts: Sequence[int]) -> tuple[float, float]:
    """Grouped counts of a log-linear process: logarithm of the rate at the first edge, slope."""
    at = np.array(edges) - edges[0]
    held = np.array(counts, dtype=float)

    def mean(slope: float) -> np.ndarray:
        if abs(slope) < 1e-12:
            return np.diff(at)
        return np.diff(np.expm1(np.clip(slope * at, -600.0, 600.0))) / slope

    def loss(slope: float) -> float:
        shares = mean(slope)
        return float(-(held * np.log(np.maximum(shares / shares.sum(), 1e-300))).sum())

    span = at[-1]
    best = minimize(lambda v: loss(v[0] / span), [0.0], method="Nelder-Mead",
                    options={"xatol": 1e-10, "fatol": 1e-14})  # fmt: skip
    slope = float(best.x[0]) / float(span)
    return math.log(float(held.sum() / mean(slope).sum())), slope


def days_to_limit(kind: str, times: Sequence[float], found: Sequence[int], limit: int) -> float:
    """Days from the last look until the best fit reaches the limit; infinite if it never does."""
    running = np.cumsum(found)
    total = int(running[-1])
    now = times[-1]
    if total == 0:
        return math.inf
    if kind == "straight line":
        slope = float(np.polyfit([0.0, *times], [0.0, *running], 1)[0])
        return math.inf if slope <= 0 else max(0.0, (limit - total) / slope)
    if len(times) < 2:
        return now * (limit / total - 1)
    if kind == "power law":
        exponent = power_law_exponent(times, found)
        return max(0.0, now * (float((limit / total) ** (1 / exponent)) - 1))
    start, slope = log_linear_grouped([0.0, *times], found)
    slope = min(slope, 50.0 / now)
    if abs(slope) < 1e-9:
        return max(0.0, limit / math.exp(start) - now)
    inside = 1 + limit * slope / math.exp(start)
    return math.inf if inside <= 0 else max(0.0, math.log(inside) / slope - now)
