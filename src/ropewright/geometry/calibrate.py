"""Calibration: fit the few free numbers of a hoist to what was observed, by least squares."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from ropewright.errors import InputError
from ropewright.geometry.hoist import Hoist, Spread, gradient, prior_spread
from ropewright.geometry.observations import (
    Observation,
    check_observation,
    observation_err_m,
    observed_minus_computed_m,
)
from ropewright.geometry.position import Floats
from ropewright.geometry.rows import NO_CORRECTIONS, PARAMETERS, Corrections

REFUSED_BEYOND: Final = 2.0
"""An observation is refused if it lies more than this many times its own ± off; own assumption."""

_ROUNDS: Final = 30
_STILL: Final = 1e-10


@dataclass(frozen=True, slots=True, kw_only=True)
class Residual:
    """What is left of one observation after the fit: observed minus computed, and its own ±."""

    name: str
    residual_m: float
    err_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """One number that was free in the fit.

    ``correction`` [-] is what was added to it, ``err_before`` [-] and ``err_after`` [-] its ±
    without and with the observations; all in the unit its name ends in (wraps: wraps).
    """

    name: str
    correction: float
    err_before: float
    err_after: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Calibration:
    """A calibrated hoist, what each observation left over, and what each number became."""

    hoist: Hoist
    residuals: tuple[Residual, ...]
    found: tuple[Found, ...]


def calibrate(hoist: Hoist, observations: Sequence[Observation]) -> Calibration:
    """Fit the hoist's free numbers to observations; refuse what contradicts the rest.

    Each number may move as far as its tolerance makes likely: the tolerances enter the least
    squares beside the observations, so a single observation is enough, and numbers that none of
    them tells about stay as they are.  Earlier corrections are dropped and fitted anew.

    Parameters
    ----------
    hoist
        The hoist as described; numbers with a tolerance of zero stay fixed.
    observations
        What was seen, each with a name to refer to.

    Raises
    ------
    InputError
        If an observation contradicts the others or the numbers as typed; it is named.
    """
    names = [observation.name for observation in observations]
    if not observations or len(set(names)) < len(names):
        raise InputError(
            field="observations", expected="at least one, each with its own name", given=names
        )
    fresh = replace(hoist, corrections=NO_CORRECTIONS, spread=None)
    for observation in observations:
        check_observation(observation, fresh)
    errs = np.array([max(observation_err_m(seen, fresh), 1e-6) for seen in observations])
    prior = prior_spread(fresh)
    _refuse_contradictions(fresh, observations, errs, prior)
    fitted, covariance = _fit(fresh, observations, errs, prior)
    spread = Spread.from_matrix(covariance)
    residuals = tuple(
        Residual(
            name=seen.name,
            residual_m=observed_minus_computed_m(seen, fresh, fitted),
            err_m=float(err),
        )
        for seen, err in zip(observations, errs, strict=True)
    )
    return Calibration(
        hoist=replace(fresh, corrections=fitted, spread=spread),
        residuals=residuals,
        found=_found(fitted, prior, spread),
    )


def _fit(
    hoist: Hoist, observations: Sequence[Observation], errs: Floats, prior: Spread
) -> tuple[Corrections, Floats]:
    """Gauss-Newton on the numbers with a tolerance; return corrections and their covariance."""
    free = np.flatnonzero(np.diag(prior.matrix) > 0)
    covariance = np.zeros_like(prior.matrix)
    if not free.size:
        return NO_CORRECTIONS, covariance
    scale = np.sqrt(np.diag(prior.matrix)[free])  # work in units of the tolerances
    weights = 2 / errs  # ± is two standard deviations
    values = np.zeros(len(PARAMETERS))
    for _ in range(_ROUNDS):
        at = Corrections.from_array(values)
        left = np.array([observed_minus_computed_m(seen, hoist, at) for seen in observations])
        slopes = np.array([_slopes(seen, hoist, at) for seen in observations])[:, free]
        design = np.vstack([slopes * scale * weights[:, np.newaxis], np.eye(free.size)])
        target = np.concatenate([-left * weights, -values[free] / scale])
        step, *_ = np.linalg.lstsq(design, target, rcond=None)
        values[free] += step * scale
        if np.abs(step).max() < _STILL:
            break
    inverse = np.linalg.inv(design.T @ design)
    covariance[np.ix_(free, free)] = inverse * np.outer(scale, scale)
    return Corrections.from_array(values), covariance


def _slopes(observation: Observation, hoist: Hoist, at: Corrections) -> Floats:
    return gradient(lambda found: observed_minus_computed_m(observation, hoist, found), at)


def _refuse_contradictions(
    hoist: Hoist, observations: Sequence[Observation], errs: Floats, prior: Spread
) -> None:
    """Compare each observation with what the typed numbers and all others say of it."""
    off, said = [], []
    for number, seen in enumerate(observations):
        rest = [other for other in observations if other is not seen]
        at, covariance = _fit(hoist, rest, np.delete(errs, number), prior) if rest else (
            NO_CORRECTIONS, prior.matrix,
        )  # fmt: skip
        left = observed_minus_computed_m(seen, hoist, at)
        slopes = _slopes(seen, hoist, at)
        expected = float(np.hypot(Spread.from_matrix(covariance).err_of(slopes), errs[number]))
        off.append(abs(left) / expected)
        said.append((left, expected))
    worst = int(np.argmax(off))
    if off[worst] <= REFUSED_BEYOND:
        return
    left, expected = said[worst]
    near = [
        seen.name
        for seen, ratio in zip(observations, off, strict=True)
        if ratio > 0.9 * off[worst] and seen is not observations[worst]
    ]
    others = (
        "the numbers as typed"
        if len(observations) == 1
        else ("the numbers as typed and the other readings")
    )
    raise InputError(
        f"'{observations[worst].name}' contradicts {others}",
        field=observations[worst].name,
        expected=f"agreement within {REFUSED_BEYOND * expected:.2f} m of rope",
        given=f"{left:+.2f} m",
        hint="read it again; or one of these is wrong: " + ", ".join(near)
        if near
        else "read it again, or look at the numbers of the set-up",
    )


def _found(fitted: Corrections, prior: Spread, spread: Spread) -> tuple[Found, ...]:
    return tuple(
        Found(
            name=name,
            correction=getattr(fitted, name),
            err_before=2 * float(np.sqrt(prior.matrix[number, number])),
            err_after=2 * float(np.sqrt(max(spread.matrix[number, number], 0.0))),
        )
        for number, name in enumerate(PARAMETERS)
        if prior.matrix[number, number] > 0
    )
