"""What is believed before the first look: usual life, growth, clustering, detection."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Final

import numpy as np

from ropewright.errors import InputError
from ropewright.forecast._numeric import Floats
from ropewright.inspection import METHODS
from ropewright.inspection.findings import Method

PRIORS_VERSION: Final = "1"

DAYS_PER_YEAR: Final = 365.25

#: Largest chance to find a break that a side facing the person can have [-].
_BEST: Final = 0.95

#: Methods that cannot count broken wires on the outside.
_BLIND: Final[frozenset[Method]] = frozenset({"gauge", "internal"})

_SHARES: Final = np.full(4, 0.25)


@dataclass(frozen=True, slots=True, kw_only=True)
class Finds:
    """How well one method finds breaks: ``mean`` [-] over all, ``persistence`` [-] of misses.

    With persistence 0 every pass has the same chance for every break; with 1 the same half is
    seen again and again.
    """

    mean: float
    persistence: float

    def __post_init__(self) -> None:
        """Refuse what is no chance."""
        for name in ("mean", "persistence"):
            value = getattr(self, name)
            if not 0 <= value <= 1:
                raise InputError(field=name, expected="a share from 0 to 1", given=value)

    @property
    def by_class(self) -> tuple[float, float]:
        """Chance for the easy and for the hard half of all breaks [-]."""
        best = min(max(_BEST, self.mean), 2 * self.mean)
        easy = self.mean + self.persistence * (best - self.mean)
        return easy, 2 * self.mean - easy


@dataclass(frozen=True, slots=True, kw_only=True)
class Detection:
    """One assumption on how well breaks are found; ``weight`` [-] is its prior chance.

    ``eye`` [-], ``eye_round`` [-], ``feel`` [-] and ``mrt`` [-] are the chances for the easy and
    the hard half.  What is hard for the eye (the far side) and what is hard for the hand (flush
    ends) are told apart; what is hard for the eye once stays hard for the eye.
    """

    weight: float = 1.0
    eye: tuple[float, float]
    feel: tuple[float, float]
    eye_round: tuple[float, float] = (0.6, 0.6)
    mrt: tuple[float, float] = (0.7, 0.7)

    def chances(self, method: Method) -> Floats:
        """Chance [-] to find a break of each of the four classes: easy/hard by eye × by hand."""
        if method in ("eye", "eye-round"):
            easy, hard = self.eye if method == "eye" else self.eye_round
            return np.array([easy, easy, hard, hard])
        easy, hard = self.feel if method == "feel" else self.mrt
        return np.array([easy, hard, easy, hard])


#: Hand and eye, low and high guess of what they find of crown breaks [-].
_EYE: Final = (0.43, 0.57)
_EYE_ROUND: Final = (0.53, 0.67)
_FEEL: Final = (0.55, 0.75)
_FEEL_HARD: Final = (0.30, 0.50)  # compacted or rotation-resistant: ends lie flat
_MRT: Final = (0.6, 0.8)
DETECTION_WORDS: Final = (
    f"Of the broken wires on the crown an eye pass finds {_EYE[0]:g} or {_EYE[1]:g}, an all-round "
    f"look {_EYE_ROUND[0]:g} or {_EYE_ROUND[1]:g}, a hand {_FEEL[0]:g} or {_FEEL[1]:g} "
    f"({_FEEL_HARD[0]:g} or {_FEEL_HARD[1]:g} where ends lie flat), a magnetic test {_MRT[0]:g} or "
    f"{_MRT[1]:g}."
)
#: Persistence of misses with its weight [-]: it leans to 'the same ones again'.
_PERSISTENCE: Final = ((0.25, 0.35), (0.95, 0.65))


def detection_prior(
    *,
    flush_ends: bool = False,
    persistence: tuple[tuple[float, float], ...] = _PERSISTENCE,
    own: Mapping[Method, tuple[float, float]] | None = None,
) -> tuple[Detection, ...]:
    """Assumptions on detection: a low and a high guess, each with less and more persistence.

    Parameters
    ----------
    flush_ends
        Compacted or rotation-resistant rope, whose broken ends a hand hardly feels.
    persistence
        Values and weights of the persistence of misses [-].
    own
        A low and a high guess measured in trials of one's own, by method [-].
    """
    levels: dict[Method, tuple[float, float]] = {
        "eye": _EYE,
        "eye-round": _EYE_ROUND,
        "feel": _FEEL_HARD if flush_ends else _FEEL,
        "mrt": _MRT,
    }
    levels.update(own or {})
    return tuple(
        Detection(
            weight=weight / 2,
            eye=Finds(mean=levels["eye"][side], persistence=again).by_class,
            eye_round=Finds(mean=levels["eye-round"][side], persistence=again).by_class,
            feel=Finds(mean=levels["feel"][side], persistence=again).by_class,
            mrt=(levels["mrt"][side], levels["mrt"][side]),
        )
        for side in (0, 1)
        for again, weight in persistence
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Prior:
    """Everything that is believed before the first look; stored with every forecast.

    ``life`` [-] is the usual life in clock units (median), ``life_spread`` [-] its spread as the
    standard deviation of the logarithm; ``steepness`` [-] is the median number of e-folds of the
    count over a life, ``steepness_spread`` [-] its spread; ``clustering`` [-] are values and
    weights of the gamma shape (small: bursts at one place); ``life_from`` says who stated the life.
    """

    life: float
    life_from: str
    life_spread: float = 0.8
    steepness: float = 8.0
    steepness_spread: float = 0.8
    clustering: tuple[tuple[float, float], ...] = ((0.5, 0.3), (1.5, 0.4), (5.0, 0.3))
    detection: tuple[Detection, ...] = field(default_factory=detection_prior)
    version: str = PRIORS_VERSION

    def __post_init__(self) -> None:
        """Refuse sizes that have no meaning."""
        for name in ("life", "life_spread", "steepness", "steepness_spread"):
            value = getattr(self, name)
            if not (math.isfinite(value) and value > 0):
                raise InputError(field=name, expected="a number above 0", given=value)

    def without_marks(self) -> "Prior":
        """The same prior for counts without marks: misses are taken to be the same every time.

        Totals without marks cannot be told apart into old and new breaks.  The running maximum,
        taken as if marked, understates what is unseen; full persistence undoes that.
        """
        return replace(self, detection=detection_prior(persistence=((1.0, 1.0),)))


def counts_breaks(method: Method) -> bool:
    """Whether a method can count broken wires on the outside."""
    return method in METHODS and method not in _BLIND


def class_shares() -> Floats:
    """Share of breaks in each of the four classes [-]."""
    return _SHARES
