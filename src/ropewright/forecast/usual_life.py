"""The usual life of a rope on a kind of hoist: asked for, or learnt from discarded ropes."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

from ropewright.errors import UnknownNameError
from ropewright.forecast.fitting import Grid, fit
from ropewright.forecast.prior import DAYS_PER_YEAR, Prior, detection_prior
from ropewright.forecast.zone import Limit, Zone


@dataclass(frozen=True, slots=True, kw_only=True)
class HoistType:
    """A kind of hoist with the usual life of its rope: ``years`` [years], own judgement."""

    name: str
    years: float
    words: str


#: Own judgement without source, meant to be replaced by the company's own ropes.
HOIST_TYPES: Final[tuple[HoistType, ...]] = (
    HoistType(name="tower crane hoist", years=2.5, words="multi-layer drum, daily work"),
    HoistType(name="tower crane luffing", years=3.0, words="multi-layer drum, many short moves"),
    HoistType(name="trolley rope", years=3.0, words="light load, small sheaves"),
    HoistType(name="mobile crane hoist", years=4.0, words="changing sites, few hours a day"),
    HoistType(name="bridge crane hoist", years=5.0, words="single layer, workshop duty"),
    HoistType(name="bridge crane hoist, heavy duty", years=1.5, words="process duty, three shifts"),
    HoistType(name="not stated", years=2.0, words="the stricter guess"),
)

ENOUGH_ROPES: Final = 8
"""Fewer ropes of one's own do not replace the usual life asked for; own."""


def usual_life_days(hoist_type: str) -> float:
    """Usual life of the rope on a kind of hoist, own judgement.

    Parameters
    ----------
    hoist_type
        A name of the list.

    Returns
    -------
    float
        The usual life [days].

    Raises
    ------
    UnknownNameError
        If the name is not in the list.
    """
    for one in HOIST_TYPES:
        if one.name == hoist_type:
            return one.years * DAYS_PER_YEAR
    raise UnknownNameError(
        what="a kind of hoist",
        field="hoist_type",
        given=hoist_type,
        known=[one.name for one in HOIST_TYPES],
    )


def prior_for(
    hoist_type: str | None = None,
    *,
    stated_days: float | None = None,
    stated_by: str = "",
    flush_ends: bool = False,
) -> Prior:
    """The prior for a rope on a calendar clock.

    Parameters
    ----------
    hoist_type
        A name of the list; 'not stated' if not given.
    stated_days
        The usual life as stated by a person, which wins [days].
    stated_by
        Who stated it.
    flush_ends
        Compacted or rotation-resistant rope, whose broken ends a hand hardly feels.
    """
    name = hoist_type or "not stated"
    life = usual_life_days(name) if stated_days is None else stated_days
    says = f"usual for: {name}" if stated_days is None else f"stated by {stated_by or 'a person'}"
    return Prior(life=life, life_from=says, detection=detection_prior(flush_ends=flush_ends))


@dataclass(frozen=True, slots=True, kw_only=True)
class PastRope:
    """A rope of one's own, discarded or still running, with its whole record.

    Ropes must not be chosen by how they ended: those still running belong to it too.  When a
    discarded rope was opened, ``inner`` and ``outer`` are the breaks counted at its worst place.
    """

    name: str
    zones: tuple[Zone, ...]
    inner: int | None = None
    outer: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Learnt:
    """What one's own ropes taught: the prior to use, on how many ropes it rests.

    ``hidden_share`` [-] is the share of all breaks that lay inside in opened ropes, ``None`` if
    none was opened; above one half the outside does not tell the truth.
    """

    prior: Prior
    ropes: int
    learnt: bool
    words: str
    hidden_share: float | None


_HIDDEN_PRIOR: Final = (1.0, 2.0)
_COARSE: Final = Grid(growth=7, life=31, level=19, kept=1 - 1e-4)


def learn(ropes: Sequence[PastRope], limits: Sequence[Limit], prior: Prior) -> Learnt:
    """Usual life, its spread and the growth of a kind of rope from one's own ropes.

    Empirical Bayes: the values under which the whole record was most likely, held near the
    prior by a weak hyperprior (a factor of two either way is one standard deviation).

    Parameters
    ----------
    ropes
        Ropes of one kind on one kind of hoist.
    limits
        The limits they were judged by.
    prior
        What is used without them.
    """
    hidden = _hidden_share(ropes)
    if len(ropes) < ENOUGH_ROPES:
        count = "1 rope" if len(ropes) == 1 else f"{len(ropes)} ropes"
        words = f"{count} of one's own; {ENOUGH_ROPES} are needed, so {prior.life_from}"
        return Learnt(prior=prior, ropes=len(ropes), learnt=False, words=words, hidden_share=hidden)

    def loss(at: tuple[float, float, float]) -> float:
        tried = _tried(prior, at)
        evidence = sum(fit(rope.zones, limits, tried, grid=_COARSE).log_evidence for rope in ropes)
        return 0.5 * sum((value / _HYPER) ** 2 for value in at) - evidence

    best = _descend(loss)
    found = replace(
        _tried(prior, best),
        life_from=f"learnt from {len(ropes)} ropes of one's own",
        version=f"{prior.version}+own",
    )
    return Learnt(
        prior=found,
        ropes=len(ropes),
        learnt=True,
        words=f"{found.life_from}: median life {found.life:.0f} days, before {prior.life:.0f}",
        hidden_share=hidden,
    )


_HYPER: Final = math.log(2)
_SMALLEST_SPREAD: Final = 0.25


def _tried(prior: Prior, at: tuple[float, float, float]) -> Prior:
    life, spread, steepness = at
    return replace(
        prior,
        life=prior.life * math.exp(life),
        life_spread=max(_SMALLEST_SPREAD, prior.life_spread * math.exp(spread)),
        steepness=prior.steepness * math.exp(steepness),
    )


def _descend(loss: Callable[[tuple[float, float, float]], float]) -> tuple[float, float, float]:
    """Pattern search with halving steps: few calls, no derivative, always the same way."""
    at = (0.0, 0.0, 0.0)
    best, step = loss(at), 0.5
    while step > 0.05:
        moved = False
        for axis in range(3):
            for sign in (1.0, -1.0):
                there = [*at]
                there[axis] += sign * step
                tried = (there[0], there[1], there[2])
                value = loss(tried)
                if value < best - 1e-9:
                    best, at, moved = value, tried, True
                    break
        if not moved:
            step /= 2
    return at


def _hidden_share(ropes: Sequence[PastRope]) -> float | None:
    opened = [
        (rope.inner, rope.outer)
        for rope in ropes
        if rope.inner is not None and rope.outer is not None
    ]
    if not opened:
        return None
    inner = sum(pair[0] for pair in opened) + _HIDDEN_PRIOR[0]
    return inner / (inner + sum(pair[1] for pair in opened) + _HIDDEN_PRIOR[1])
