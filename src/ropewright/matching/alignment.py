"""How places of two inspections differ: one shift and one stretch for the whole pass.

Marks that were placed both times say it directly.  Without marks the pattern of the findings
does: many shifts are tried, each is refined, and those that explain the findings best are kept
with their weights, so that a doubtful pattern makes every pair doubtful.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from ropewright.matching.likeness import Floats, Spot

#: Shift of a whole pass that is reckoned with where no error is stated [m]; own.
USUAL_SHIFT_M: Final = 1.0
#: Stretch between two passes: constructional elongation, temperature, payout error [-]; own.
STRETCH: Final = 0.003
#: A mark's centre is read this well [m]; own.
MARK_ERR_M: Final = 0.03
#: A finding is placed this well among others where no error is stated [m]; own.
SPOT_ERR_M: Final = 0.05

_MODES: Final = 5
_STEPS: Final = 12
_CANDIDATES: Final = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkSeen:
    """One mark placed at both inspections [m], with the error of the two readings together."""

    name: str
    before_m: float
    after_m: float
    err_m: float = MARK_ERR_M


@dataclass(frozen=True, slots=True, kw_only=True)
class Alignment:
    """Later place = earlier place + ``shift_m`` + ``stretch`` [-] × (earlier place - ``about_m``).

    ``weight`` [-] is how likely this alignment is among all that were kept; ``cov`` [-] holds the
    variance of the shift, the covariance and the variance of the stretch.
    """

    shift_m: float
    stretch: float
    about_m: float
    weight: float
    cov: tuple[float, float, float]

    def later_m(self, earlier_m: Floats) -> Floats:
        """Where places ``earlier_m`` [m] of the earlier inspection lie in the later one [m]."""
        moved: Floats = earlier_m + self.shift_m + self.stretch * (earlier_m - self.about_m)
        return moved

    def variance(self, earlier_m: Floats) -> Floats:
        """Variance [m²] that the alignment adds to places ``earlier_m`` [m]."""
        arm = earlier_m - self.about_m
        added: Floats = self.cov[0] + 2 * self.cov[1] * arm + self.cov[2] * arm**2
        return added


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """Everything the alignments are worked out from.

    ``err`` [m] is the error between two places, ``like`` [-] the logarithm of the likeness of
    each pair, ``again`` [-] the chance that each earlier finding is found again, ``per_metre``
    [1/m] the density of new findings.
    """

    earlier_m: Floats
    later_m: Floats
    err: Floats
    like: Floats
    again: Floats
    per_metre: float
    shift_sd_m: float
    marks: tuple[MarkSeen, ...]
    about_m: float


def setting(
    earlier: Sequence[Spot],
    later: Sequence[Spot],
    like: Floats,
    again: Floats,
    marks: Sequence[MarkSeen],
    shift_sd_m: float,
    length_m: float,
) -> Setting:
    """Put the findings of two inspections into arrays.

    Parameters
    ----------
    earlier, later
        Findings of the two inspections.
    like
        Logarithm of the likeness of each pair [-].
    again
        Chance that each earlier finding is found again [-].
    marks
        Marks placed both times.
    shift_sd_m
        Standard deviation of the shift before anything is compared [m].
    length_m
        Length of rope on which something new may turn up [m].
    """
    x = np.array([one.at_m for one in earlier])
    y = np.array([one.at_m for one in later])
    e1 = np.array([max(one.err_m, SPOT_ERR_M) for one in earlier])
    e2 = np.array([max(one.err_m, SPOT_ERR_M) for one in later])
    places = [*x.tolist(), *(mark.before_m for mark in marks)]
    return Setting(
        earlier_m=x,
        later_m=y,
        err=np.sqrt(e1[:, None] ** 2 + e2[None, :] ** 2),
        like=like,
        again=again,
        per_metre=max(1.0, 0.3 * len(later)) / max(length_m, 1.0),
        shift_sd_m=shift_sd_m,
        marks=tuple(marks),
        about_m=sum(places) / len(places) if places else 0.0,
    )


def alignments(given: Setting) -> tuple[Alignment, ...]:
    """The alignments that explain marks and findings best, with weights that add up to one."""
    first = _by_marks(given)
    if given.earlier_m.size == 0 or given.later_m.size == 0:
        return (_named(given, *first, weight=1.0),)
    tried: list[tuple[float, npt.NDArray[np.float64], Floats]] = []
    for shift in _candidates(given, first[0]):
        mean, cov, score = _refined(given, shift, first)
        if not any(abs(mean[0] - other[1][0]) < 0.02 for other in tried):
            tried.append((score, mean, cov))
    tried.sort(key=lambda one: -one[0])
    kept = tried[:_MODES]
    weights = np.exp(np.array([score - kept[0][0] for score, _, _ in kept]))
    weights /= weights.sum()
    return tuple(
        _named(given, mean, cov, weight=float(weight))
        for weight, (_, mean, cov) in zip(weights, kept, strict=True)
        if weight > 1e-3
    )


def _named(given: Setting, mean: Floats, cov: Floats, *, weight: float) -> Alignment:
    return Alignment(
        shift_m=float(mean[0]),
        stretch=float(mean[1]),
        about_m=given.about_m,
        weight=weight,
        cov=(float(cov[0, 0]), float(cov[0, 1]), float(cov[1, 1])),
    )


def _by_marks(given: Setting) -> tuple[Floats, Floats]:
    """Shift and stretch with their covariance from marks and what is believed before."""
    precision = np.diag([given.shift_sd_m**-2, STRETCH**-2])
    pull = np.zeros(2)
    for mark in given.marks:
        row = np.array([1.0, mark.before_m - given.about_m])
        weight = max(mark.err_m, MARK_ERR_M) ** -2
        precision = precision + weight * np.outer(row, row)
        pull = pull + weight * row * (mark.after_m - mark.before_m)
    cov = np.linalg.inv(precision)
    return cov @ pull, cov


def _candidates(given: Setting, mean: Floats) -> list[float]:
    """Shifts worth trying: that of the marks, and those at which most pairs agree."""
    centre, spread = float(mean[0]), math.sqrt(float(_by_marks(given)[1][0, 0]))
    apart = given.later_m[None, :] - given.earlier_m[:, None]
    fits = (given.like > -5) & (np.abs(apart - centre) <= 4 * spread + 0.2)
    found = np.sort(apart[fits])
    if found.size == 0:
        return [centre]
    near = np.searchsorted(found, found + 0.2, side="right") - np.searchsorted(
        found, found - 0.2, side="left"
    )
    best: list[float] = []
    for index in np.argsort(-near, kind="stable"):
        value = float(found[index])
        if all(abs(value - other) > 0.1 for other in best):
            best.append(value)
        if len(best) == _CANDIDATES:
            break
    return [centre, *best]


def _refined(
    given: Setting, shift: float, first: tuple[Floats, Floats]
) -> tuple[Floats, Floats, float]:
    """Climb to the nearest best alignment: soft pairs, then shift and stretch, again and again."""
    prior_mean, prior_cov = first
    prior_precision = np.linalg.inv(prior_cov)
    mean = np.array([shift, float(prior_mean[1])])
    arm = given.earlier_m - given.about_m
    score, cov = -math.inf, prior_cov
    for step in range(_STEPS):
        wide = given.err * (1.0 + 3.0 * 0.5**step)
        moved = given.earlier_m + mean[0] + mean[1] * arm
        off = given.later_m[None, :] - moved[:, None]
        log_pair = (
            given.like
            + np.log(given.again)[:, None]
            - 0.5 * (off / wide) ** 2
            - np.log(wide * math.sqrt(2 * math.pi))
        )
        pair = np.exp(np.maximum(log_pair, -700.0))
        total = given.per_metre + pair.sum(axis=0)
        soft = pair / total
        # an earlier finding has at most one partner
        soft = soft / np.maximum(1.0, soft.sum(axis=1))[:, None]
        weight = soft / given.err**2
        by_row = weight.sum(axis=1)
        pulled = (weight * (given.later_m[None, :] - given.earlier_m[:, None])).sum(axis=1)
        precision = prior_precision + np.array(
            [[by_row.sum(), by_row @ arm], [by_row @ arm, by_row @ arm**2]]
        )
        pull = prior_precision @ prior_mean + np.array([pulled.sum(), pulled @ arm])
        cov = np.linalg.inv(precision)
        mean = cov @ pull
        gap = mean - prior_mean
        score = float(np.log(total / given.per_metre).sum() - 0.5 * gap @ prior_precision @ gap)
    score += 0.5 * float(np.log(np.linalg.det(cov)))
    return mean, cov, score
