"""Invented ropes, break by break: the slow and obvious counterpart of the model."""

from dataclasses import dataclass, field
from typing import Literal, TypeAlias

import numpy as np
import numpy.typing as npt

from ropewright.forecast import Detection, Look, Prior, Zone
from ropewright.inspection.findings import Method

Floats: TypeAlias = npt.NDArray[np.float64]
Truth: TypeAlias = Literal[
    "as assumed", "power law", "late onset", "load sharing", "shorter lives", "worse detection"
]
TRUTHS: tuple[Truth, ...] = (
    "as assumed", "power law", "late onset", "load sharing", "shorter lives", "worse detection",
)  # fmt: skip

REACH = 2.8

#: So many breaks a window are drawn at most.  The model knows no bound: with only sixty, ropes
#: that grew steeply between two looks seemed younger than they were, and the rank of the life
#: was off (Kolmogorov-Smirnov p 3e-8 on 20000 ropes, seed 20264; with 4000 nothing is left).
MOST = 4000


@dataclass(kw_only=True)
class Window:
    """One window of rope: when its wires break, their class, which are found."""

    breaks: Floats
    kinds: npt.NDArray[np.int64]
    found: npt.NDArray[np.bool_] = field(init=False)

    def __post_init__(self) -> None:
        self.found = np.zeros(self.breaks.size, dtype=bool)

    def passes(self, limit: int) -> float:
        """When the limit is reached."""
        return float(self.breaks[limit - 1]) if self.breaks.size >= limit else np.inf


@dataclass(frozen=True, kw_only=True)
class SimulatedRope:
    """The truth of one rope."""

    life: float
    steepness: float
    frailty: float
    detection: Detection
    windows: tuple[Window, ...]
    at_life: float

    def look(self, rng: np.random.Generator, clock: float, method: Method) -> tuple[int, ...]:
        """Look at every window; the newly found breaks."""
        chances = self.detection.chances(method)
        new = []
        for window in self.windows:
            there = (window.breaks <= clock) & ~window.found
            hit = there & (rng.random(window.breaks.size) < chances[window.kinds])
            window.found |= hit
            new.append(int(hit.sum()))
        return tuple(new)

    def passes(self, limit: int) -> float:
        """When the first window reaches the limit."""
        return min(window.passes(limit) for window in self.windows)


def draw(
    rng: np.random.Generator,
    prior: Prior,
    at_life: float,
    *,
    windows: int = 1,
    truth: Truth = "as assumed",
    most: int = MOST,
) -> SimulatedRope:
    """Draw one rope from the prior, or from a truth the model does not assume."""
    while abs(z := rng.normal()) > REACH:
        pass
    steepness = prior.steepness * np.exp(prior.steepness_spread * z)
    life = prior.life * np.exp(prior.life_spread * rng.normal())
    if truth == "shorter lives":
        life /= 3
    values = [value for value, _ in prior.clustering]
    frailty = float(rng.choice(values, p=[weight for _, weight in prior.clustering]))
    weights = np.array([one.weight for one in prior.detection])
    detection = prior.detection[int(rng.choice(weights.size, p=weights / weights.sum()))]
    if truth == "worse detection":
        detection = Detection(eye=(0.6, 0.0), feel=(0.7, 0.1), eye_round=(0.7, 0.1))
    onset = life * rng.uniform(0.5, 0.95)
    made = []
    for _ in range(windows):
        factor = rng.gamma(frailty, 1 / frailty)
        if truth == "load sharing":
            times = _load_sharing(rng, life, at_life, most)
        else:
            # breaks are where the mean course crosses the points of a unit Poisson process
            level = np.cumsum(rng.exponential(size=most)) / max(factor, 1e-12)
            times = _when(level, life, steepness, at_life, truth, onset)
        made.append(Window(breaks=times, kinds=rng.integers(0, 4, size=times.size)))
    return SimulatedRope(
        life=float(life),
        steepness=float(steepness),
        frailty=frailty,
        detection=detection,
        windows=tuple(made),
        at_life=at_life,
    )


def _when(
    level: Floats, life: float, steepness: float, at_life: float, truth: Truth, onset: float
) -> Floats:
    if truth == "power law":
        exponent = max(1.0, steepness / 2)
        return np.asarray(life * (level / at_life) ** (1 / exponent))
    if truth == "late onset":
        return np.asarray(onset + (life - onset) * (level / at_life))
    return np.asarray(life / steepness * np.log1p(level * np.expm1(steepness) / at_life))


def _load_sharing(rng: np.random.Generator, life: float, at_life: float, most: int) -> Floats:
    """Equal wires share the load; each break loads the rest, fatigue goes with its fifth power."""
    wires, used, clock, times = 60, 0.0, 0.0, []
    strength = np.sort(rng.weibull(3.0, size=wires))
    scale = life / float(strength[min(int(at_life), wires - 1)])
    for number in range(min(most, wires - 1)):
        rate = (wires / (wires - number)) ** 5
        clock += (float(strength[number]) - used) * scale / rate
        used = float(strength[number])
        times.append(clock)
    return np.array(times)


def zones_of(looks: list[tuple[float, Method, tuple[int, ...]]]) -> tuple[Zone, ...]:
    """The zones the model sees, one for each window."""
    count = len(looks[0][2])
    return tuple(
        Zone(
            name=f"window {number + 1}",
            exposure="bending",
            looks=tuple(
                Look(clock=clock, method=method, new=new[number]) for clock, method, new in looks
            ),
        )
        for number in range(count)
    )
