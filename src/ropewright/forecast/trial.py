"""The feel-after-eye trial: how well one finds breaks oneself, measured on one day."""

from dataclasses import dataclass
from typing import Final

from ropewright.inspection import Trial

#: Weight of the usual figures against a trial, in breaks: (found, missed) [-].
_EYE_BEFORE: Final = (5.0, 5.0)
_FEEL_BEFORE: Final = (6.5, 3.5)


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnDetection:
    """Share found by eye and by hand, each a low and a high guess: ``eye`` [-], ``feel`` [-].

    Breaks that neither finds cannot show in such a trial, so the shares are upper estimates;
    the persistence of misses stays as assumed.
    """

    eye: tuple[float, float]
    feel: tuple[float, float]
    breaks: int


def own_detection(trials: tuple[Trial, ...]) -> OwnDetection:
    """Detection from trials, held near the usual figures while the trials are few.

    Low and high guess are one standard deviation around the mean of a beta distribution.
    """
    both = sum(one.both for one in trials)
    eye_only = sum(one.eye_only for one in trials)
    feel_only = sum(one.feel_only for one in trials)
    return OwnDetection(
        eye=_around(_EYE_BEFORE[0] + both, _EYE_BEFORE[1] + feel_only),
        feel=_around(_FEEL_BEFORE[0] + both, _FEEL_BEFORE[1] + eye_only),
        breaks=both + eye_only + feel_only,
    )


def _around(found: float, missed: float) -> tuple[float, float]:
    total = found + missed
    mean = found / total
    spread = (mean * (1 - mean) / (total + 1)) ** 0.5
    return max(0.05, mean - spread), min(0.95, mean + spread)
