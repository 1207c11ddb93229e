"""Fitting the growth model to zones on a small deterministic grid; everything else is exact."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from ropewright.forecast._numeric import Floats, Ints, gammaln
from ropewright.forecast.growth import expected_breaks, life_for, seen_and_unseen
from ropewright.forecast.prior import Prior, class_shares
from ropewright.forecast.sliding import Sweep, survival, sweeps_of
from ropewright.forecast.zone import UNIT_D, Limit, Zone


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """How fine the grid is: nodes for growth, for the prior life, for the level now.

    ``reach`` [-] is how many standard deviations of growth are covered; ``kept`` [-] is the
    share of the posterior that is carried on.
    """

    growth: int = 10
    life: int = 49
    level: int = 25
    reach: float = 2.8
    kept: float = 1 - 3e-5


FINE: Final = Grid(growth=61, life=241, level=241, kept=1 - 1e-9)

_LOWEST_LEVEL: Final = 0.003
_HIGHEST_LEVEL: Final = 30.0  # times the limit, or the most known breaks if they are more
_LIFE_REACH: Final = 6.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _ZoneNodes:
    """What one zone adds at every node that is kept."""

    zone: Zone
    sweeps: tuple[Sweep, ...]
    shape: Floats
    base: Floats
    unseen: Floats
    grown: Floats


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """The posterior of one group of zones that share life and growth.

    ``weight`` [-], ``life`` [-], ``steepness`` [-] and ``frailty`` [-] are over the nodes kept;
    ``log_evidence`` [-] is the logarithm of the chance of what was found; ``at_life`` [-] are
    the breaks per 6 d that the mean window has at its life.
    """

    weight: Floats
    life: Floats
    steepness: Floats
    frailty: Floats
    at_life: float
    log_evidence: float
    _zones: tuple[_ZoneNodes, ...]

    def survival(self, clocks: Floats, *, only: int | None = None) -> Floats:
        """Chance that no limit is reached in any zone, for each node.

        Parameters
        ----------
        clocks
            Clock readings, none before the last look, shape (time,) [-].
        only
            Number of the one limit to look at; all of them if not given.

        Returns
        -------
        Floats
            The chance, shape (time, node) [-].
        """
        grown = expected_breaks(clocks[:, None], self.life, self.steepness, self.at_life)
        alive = np.ones_like(grown)
        for one in self._zones:
            if not one.zone.gone:
                more = one.unseen + np.maximum(grown - one.grown, 0.0)
                sweeps = one.sweeps if only is None else one.sweeps[only : only + 1]
                alive *= survival(sweeps, more, one.shape, one.base)
        return alive

    def chance(self, clocks: Floats, *, only: int | None = None) -> Floats:
        """Chance that some limit is reached by each clock reading.

        Parameters
        ----------
        clocks
            Clock readings, none before the last look, shape (time,) [-].
        only
            Number of the one limit to look at; all of them if not given.

        Returns
        -------
        Floats
            The chance, shape (time,) [-].
        """
        if any(one.reached for zone in self._zones if not zone.zone.gone for one in zone.sweeps):
            return np.ones_like(clocks)
        found: Floats = np.clip((1.0 - self.survival(clocks, only=only)) @ self.weight, 0.0, 1.0)
        return found

    def chance_of(self, clocks: Floats, limit: Limit, *, zone: int) -> Floats:
        """Chance that one zone reaches a count of any size, whatever the limits of the fit.

        Parameters
        ----------
        clocks
            Clock readings, none before the last look, shape (time,) [-].
        limit
            The count and its window.
        zone
            Number of the zone among those that were fitted.

        Returns
        -------
        Floats
            The chance, shape (time,) [-].
        """
        one = self._zones[zone]
        grown = expected_breaks(clocks[:, None], self.life, self.steepness, self.at_life)
        more = one.unseen + np.maximum(grown - one.grown, 0.0)
        alive = survival(sweeps_of(one.zone, [limit]), more, one.shape, one.base)
        found: Floats = np.clip(1.0 - alive @ self.weight, 0.0, 1.0)
        return found

    @property
    def unseen(self) -> float:
        """Expected unseen breaks in all zones that are still there [-]."""
        return float(
            sum(
                self.weight @ (one.unseen * one.shape / one.base) * one.zone.windows
                for one in self._zones
                if not one.zone.gone
            )
        )

    def doubling(self) -> float:
        """Median doubling time of the count in clock units [-]."""
        times = self.life * math.log(2) / self.steepness
        order = np.argsort(times)
        return float(times[order][np.searchsorted(np.cumsum(self.weight[order]), 0.5)])


def reference_level(zones: Sequence[Zone], limits: Sequence[Limit]) -> float:
    """Mean breaks per 6 d at which the first of the limits is reached on average [-]."""
    longest = max((zone.windows for zone in zones), default=1.0)
    return min(limit.count / min(limit.window_d / UNIT_D, longest) for limit in limits)


def fit(
    zones: Sequence[Zone], limits: Sequence[Limit], prior: Prior, *, grid: Grid | None = None
) -> Fit:
    """Fit one group of zones that share life, growth, clustering and detection.

    Parameters
    ----------
    zones
        The zones; those cut off teach but do not count.
    limits
        The limits, each in its own window.
    prior
        What is believed before the first look.
    grid
        How fine; the product's own if not given.
    """
    fine = grid or Grid()
    at_life = reference_level(zones, limits)
    last = max((zone.looks[-1].clock for zone in zones if zone.looks), default=0.0)
    most = max((zone.known / zone.windows for zone in zones), default=0.0)
    life, steepness, log_prior = _nodes(prior, fine, at_life, last, most)
    shapes = np.array([value for value, _ in prior.clustering])
    detection = np.array([one.weight for one in prior.detection])
    weights = np.array([weight for _, weight in prior.clustering])
    log_weight = (
        log_prior[None, None, :]
        + np.log(detection / detection.sum())[None, :, None]
        + np.log(weights / weights.sum())[:, None, None]
    )
    parts: dict[tuple[tuple[float, str], ...], _Courses] = {}
    courses: list[tuple[_Courses, Floats]] = []
    for zone in zones:
        key = tuple((look.clock, look.method) for look in zone.looks)
        course = parts.get(key)
        if course is None:
            course = parts[key] = _course(zone, prior, life, steepness, at_life)
        log_weight = log_weight + _log_likelihood(zone, course, shapes)
        courses.append((course, course.grown))
    flat = log_weight.ravel()
    top = float(flat.max())
    mass = np.exp(flat - top)
    kept = _kept(mass, fine.kept)
    shape_at, detection_at, node_at = np.unravel_index(kept, log_weight.shape)
    weight = mass[kept] / mass[kept].sum()
    frailty = shapes[shape_at]
    return Fit(
        weight=weight,
        life=life[node_at],
        steepness=steepness[node_at],
        frailty=frailty,
        at_life=at_life,
        log_evidence=top + math.log(float(mass.sum())),
        _zones=tuple(
            _ZoneNodes(
                zone=zone,
                sweeps=sweeps_of(zone, limits),
                shape=frailty + zone.known,
                base=frailty + zone.windows * course.found[detection_at, node_at],
                unseen=course.unseen[detection_at, node_at],
                grown=grown[node_at],
            )
            for zone, (course, grown) in zip(zones, courses, strict=True)
        ),
    )


@lru_cache(maxsize=8)
def _gauss(count: int) -> tuple[Floats, Floats]:
    nodes, weights = np.polynomial.legendre.leggauss(count)
    return nodes, weights


def _kept(mass: Floats, share: float) -> Ints:
    """Indices of the heaviest nodes that together hold ``share`` of the mass."""
    order = np.argsort(mass)[::-1]
    running = np.cumsum(mass[order])
    enough = int(np.searchsorted(running, share * running[-1])) + 1
    kept: Ints = np.sort(order[:enough])
    return kept


def _nodes(
    prior: Prior, grid: Grid, at_life: float, last: float, most: float
) -> tuple[Floats, Floats, Floats]:
    """Nodes in life and steepness with the logarithm of their prior weight.

    For steep growth the posterior of the life is a needle, so nodes evenly spaced in the level
    reached now are added to those of the prior, up to far beyond ``most`` [-] known breaks.
    """
    nodes, gauss = _gauss(grid.growth)
    z = grid.reach * nodes
    rises = prior.steepness * np.exp(prior.steepness_spread * z)
    rise_weight = gauss * np.exp(-0.5 * z * z)
    centre = math.log(prior.life)
    # denser in the middle, out to six standard deviations
    bent = np.sinh(np.linspace(-2.2, 2.2, grid.life)) / math.sinh(2.2) * _LIFE_REACH
    from_prior = np.broadcast_to(bent, (grid.growth, grid.life))
    if last > 0:
        low, usual = math.log(_LOWEST_LEVEL), math.log(_HIGHEST_LEVEL * at_life)
        high = max(usual, math.log(_HIGHEST_LEVEL * max(most, 1e-9)))
        count = grid.level + math.ceil((grid.level - 1) * (high - usual) / (usual - low))
        levels = np.exp(np.linspace(low, high, count))
        lives = life_for(levels[None, :], last, rises[:, None], at_life)
        from_now = np.clip((np.log(lives) - centre) / prior.life_spread, -_LIFE_REACH, _LIFE_REACH)
        places = np.sort(np.concatenate((from_prior, from_now), axis=1), axis=1)
    else:
        places = from_prior
    steps = np.diff(places, axis=1)
    width = np.zeros_like(places)
    width[:, :-1] += steps / 2
    width[:, 1:] += steps / 2
    density = np.exp(-0.5 * places * places) * width
    weight = rise_weight[:, None] * density
    weight = weight / weight.sum()
    used = weight > 0
    life = np.exp(centre + prior.life_spread * places)
    steep = np.broadcast_to(rises[:, None], places.shape)
    return life[used], steep[used].copy(), np.log(weight[used])


@dataclass(frozen=True, slots=True, kw_only=True)
class _Courses:
    """Expected findings of one list of looks at every node of detection × (life, growth)."""

    log_found: tuple[Floats, ...]
    found: Floats
    unseen: Floats
    grown: Floats


def _course(zone: Zone, prior: Prior, life: Floats, steepness: Floats, at_life: float) -> _Courses:
    count = len(prior.detection)
    if not zone.looks:
        nothing = np.zeros((count, life.size))
        return _Courses(log_found=(), found=nothing, unseen=nothing, grown=np.zeros(life.size))
    levels = expected_breaks(
        np.array([look.clock for look in zone.looks])[:, None], life, steepness, at_life
    )
    grown = np.diff(levels, axis=0, prepend=np.zeros((1, life.size)))
    by_method = {
        look.method: np.array([one.chances(look.method) for one in prior.detection])
        for look in zone.looks
    }
    found, unseen = seen_and_unseen(
        list(grown), [by_method[look.method] for look in zone.looks], class_shares()
    )
    tiny = 1e-300
    return _Courses(
        log_found=tuple(np.log(np.maximum(one, tiny)) for one in found),
        found=np.sum(found, axis=0),
        unseen=unseen,
        grown=levels[-1],
    )


def _log_likelihood(zone: Zone, course: _Courses, shapes: Floats) -> Floats:
    """Log-likelihood of one zone, frailty integrated out: (clustering, detection, node)."""
    known = zone.known
    shape = shapes[:, None, None]
    total: Floats = -(shape + known) * np.log1p(zone.windows * course.found[None] / shape)
    total += (gammaln(shapes + known) - gammaln(shapes) - known * np.log(shapes))[:, None, None]
    if known:
        total += known * math.log(zone.windows)
        for look, log_found in zip(zone.looks, course.log_found, strict=True):
            if look.new:
                total += look.new * log_found[None] - math.lgamma(look.new + 1)
    return total
