"""Does the map agree with what was found?  Rank correlation and hits, with an honest chance.

Neighbouring metres of rope wear alike, and breaks come in clusters, so the usual significance
figures would be far too good.  Here the map is slid along the rope, all the way round, and each
position is compared with the findings anew: the share of positions that agree at least as well
is the chance that agreement of this size comes from nothing.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, TypeAlias

import numpy as np
import numpy.typing as npt

from ropewright.geometry import Section
from ropewright.wear.models import Floats

Numbers: TypeAlias = npt.NDArray[np.int64]
LEAST_PLACES: Final = 4
"""Fewer places with breaks than this prove nothing either way; own choice."""
LEAST_STEPS: Final = 40
"""Fewer steps of rope looked at than this prove nothing either way; own choice."""
TOP_SHARE: Final = 0.1
STEP_M: Final = 2.0
"""Step along the rope: about the ± of a place, so that a place lands in its step; own choice."""
SHORT_ROPE_M: Final = 120.0
"""Shorter ropes are compared metre by metre: places on them are surer; own choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """Broken wires found at a place: ``rope_m`` and how many."""

    rope_m: float
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Agreement:
    """How well a map agrees with findings.

    Parameters
    ----------
    breaks, places
        Broken wires that could be compared, and in how many steps of rope they lie.
    steps
        Steps of rope that were looked at.
    correlation
        Rank correlation of damage and breaks over those steps; none if not assessable [-].
    correlation_chance
        Chance of at least this correlation from a map that knows nothing [-].
    top_share
        Share of the breaks in the tenth of the rope that is worn most [-].
    top_chance
        Chance of at least this share from a map that knows nothing [-].
    why_not
        Why it is not assessable; empty if it is.
    """

    breaks: int
    places: int
    steps: int
    correlation: float | None = None
    correlation_chance: float | None = None
    top_share: float | None = None
    top_chance: float | None = None
    why_not: str = ""

    @property
    def assessable(self) -> bool:
        """Whether there was enough to compare."""
        return not self.why_not

    @property
    def agrees(self) -> bool | None:
        """Whether agreement shows with a chance of 5 % or less; none if not assessable."""
        if self.correlation_chance is None or self.top_chance is None:
            return None
        return min(self.correlation_chance, self.top_chance) <= 0.025


def step_for_m(rope_m: float) -> float:
    """Step along a rope of a length ``rope_m`` [m] for comparing map and findings [m]."""
    return STEP_M / 2 if rope_m < SHORT_ROPE_M else STEP_M


def agreement(
    edges_m: Floats, wear: Floats, found: Sequence[Found], seen: Sequence[Section]
) -> Agreement:
    """Compare a map with findings.

    Parameters
    ----------
    edges_m
        Edges of even steps along the rope [m].
    wear
        Damage in each step [-].
    found
        Broken wires found.
    seen
        Rope that was looked at; steps not wholly inside are left out.
    """
    steps = wear.size
    looked = np.zeros(steps, dtype=np.bool_)
    for section in seen:
        looked |= (edges_m[:-1] >= section.from_m - 1e-6) & (edges_m[1:] <= section.to_m + 1e-6)
    breaks = np.zeros(steps)
    for one in found:
        step = int(np.searchsorted(edges_m, one.rope_m, side="right")) - 1
        if 0 <= step < steps and looked[step]:
            breaks[step] += one.count
    places, total, count = int((breaks > 0).sum()), int(breaks.sum()), int(looked.sum())
    why = _too_little(places, count, float(edges_m[1] - edges_m[0]), wear[looked])
    if why:
        return Agreement(breaks=total, places=places, steps=count, why_not=why)
    ranks, tops = _slid(wear, breaks[looked], np.flatnonzero(looked))
    rank, top = ranks[0], tops[0]
    return Agreement(
        breaks=total,
        places=places,
        steps=count,
        correlation=float(rank),
        correlation_chance=float((ranks >= rank - 1e-12).mean()),
        top_share=float(top),
        top_chance=float((tops >= top - 1e-12).mean()),
    )


def _too_little(places: int, steps: int, step_m: float, wear: Floats) -> str:
    if steps < LEAST_STEPS:
        return f"only {steps * step_m:g} m of rope were looked at"
    if not places:
        return "no broken wires on rope that was looked at"
    if places < LEAST_PLACES:
        where = "place" if places == 1 else "places"
        return f"broken wires in only {places} {where}; it takes {LEAST_PLACES}"
    if np.ptp(wear) <= 0:
        return "the duty wears all of the rope alike"
    return ""


def _slid(wear: Floats, breaks: Floats, looked: Numbers) -> tuple[Floats, Floats]:
    """Rank correlation and share in the top tenth, for the map slid by every number of steps."""
    values, code = np.unique(wear, return_inverse=True)
    steps, levels = wear.size, values.size
    slide = np.arange(steps)[:, np.newaxis]
    here = code[(looked[np.newaxis, :] - slide) % steps]
    flat = (slide * levels + here).ravel()
    counts = np.bincount(flat, minlength=steps * levels).reshape(steps, levels)
    upto = np.cumsum(counts, axis=1)
    ranks = np.take_along_axis(upto - (counts - 1) / 2, here, axis=1)
    return _correlations(ranks, _ranks(breaks)), _in_top(here, counts, breaks)


def _correlations(ranks: Floats, other: Floats) -> Floats:
    """Correlation of every row with one list; zero where a row is all alike."""
    apart = ranks - ranks.mean(axis=1, keepdims=True)
    other = other - other.mean()
    sizes = np.sqrt((apart**2).sum(axis=1) * (other**2).sum())
    found = np.divide(apart @ other, sizes, out=np.zeros(sizes.shape), where=sizes > 0)
    return np.asarray(found)


def _in_top(here: Numbers, counts: Numbers, breaks: Floats) -> Floats:
    """Share of breaks in the most worn tenth; of steps that tie at its edge a fair part."""
    room = TOP_SHARE * here.shape[1]
    at_least = np.cumsum(counts[:, ::-1], axis=1)[:, ::-1]
    level = (at_least >= room).sum(axis=1) - 1
    rows = np.arange(level.size)
    tied = counts[rows, level]
    above = at_least[rows, level] - tied
    part = np.clip((room - above) / tied, 0.0, 1.0)
    weight = (here > level[:, np.newaxis]) + part[:, np.newaxis] * (here == level[:, np.newaxis])
    return np.asarray(weight @ breaks / breaks.sum())


def _ranks(values: Floats) -> Floats:
    """Ranks from 1, the mean rank for values that tie."""
    _, place, counts = np.unique(values, return_inverse=True, return_counts=True)
    last = np.cumsum(counts)
    return np.asarray((last - (counts - 1) / 2)[place])
