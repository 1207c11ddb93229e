"""What crossovers and layer changes add to the bends on a drum with several layers.

Where a wrap crosses the one below, both are pressed and bent sharply: the upper each time it is
wound on or off, the lower each time the upper one is.  Where the rope climbs at a flange it is
wedged as well; such a place counts as layer change and not as crossover.  All this lies at fixed
places on the drum, so it moves along the rope when the rope is cut at the drum; bends move when
the rope is cut at the other end.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from ropewright.geometry import Drum, DrumZone, drum_zones
from ropewright.rope.table import Provenance
from ropewright.wear.factor import LEAST_STRESS, MOST_STRESS
from ropewright.wear.factors import multi_layer_factor
from ropewright.wear.profile import Profile, merged_edges, middles

Floats = npt.NDArray[np.float64]
STRESS_WITHOUT_LOAD: Final = 100.0


@dataclass(frozen=True, slots=True, kw_only=True)
class CrossoverWeight:
    """How much a pass through a crossover wears beside the bend itself.

    ``value`` [-] multiplies the damage of the bends; ``stress_n_per_mm2`` is S/d² as used.
    """

    value: float
    stress_n_per_mm2: float
    provenance: Provenance
    source: str
    note: str


def crossover_weight(stress_n_per_mm2: float | None) -> CrossoverWeight:
    """What a crossover adds: the published loss of life on several layers, put where it happens.

    Parameters
    ----------
    stress_n_per_mm2
        S/d² of the greatest force met; none if forces are not known, 100 is then taken [N/mm²].
    """
    asked = STRESS_WITHOUT_LOAD if stress_n_per_mm2 is None else stress_n_per_mm2
    stress = min(max(asked, LEAST_STRESS), MOST_STRESS)
    factor = multi_layer_factor(stress)
    return CrossoverWeight(
        value=1 / factor.value - 1,
        stress_n_per_mm2=stress,
        provenance="own",
        source=factor.source,
        note="the factor was measured for whole drums; that the loss happens in crossovers and "
        "layer changes, and to the wrap below as to the one above, is our own reading",
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DrumPresses:
    """Presses along the rope on the drum, from the clamp, in passes of bent rope.

    ``crossovers`` and ``layer_changes`` are profiles over drum positions.
    """

    crossovers: Profile
    layer_changes: Profile


def drum_presses(drum: Drum, passes: Profile, *, most_m: float) -> DrumPresses:
    """How often each place on the drum is pressed in a crossover or at a layer change.

    Parameters
    ----------
    drum
        The drum as wound.
    passes
        Bends on the drum along the rope from the clamp, weighed as the caller likes.
    most_m
        The most rope that was ever on the drum [m].
    """
    most = min(most_m, drum.capacity_m)
    zones = drum_zones(drum, on_drum_m=max(most, 0.0))
    crossed = [zone for zone in zones if zone.kind != "layer change"]
    climbed = [zone for zone in zones if zone.kind == "layer change"]
    edges = _edges(zones, passes, most)
    at = middles(edges)
    climbing = _inside(climbed, at)
    crossing = _inside(crossed, at) & ~climbing
    own, pressed = passes.at(at), _pressed(drum, passes, at, most)
    share = 1.0 if drum.grooving == "parallel" else drum.crossover_share
    over = np.where(layer_of(drum, at) > 0, own, 0.0) + pressed
    return DrumPresses(
        crossovers=Profile(edges_m=edges, values=np.where(crossing, over * share, 0.0)),
        layer_changes=Profile(edges_m=edges, values=np.where(climbing, own + pressed, 0.0)),
    )


def _edges(zones: tuple[DrumZone, ...], passes: Profile, most: float) -> Floats:
    bounds = np.array([bound for zone in zones for bound in (zone.from_m, zone.to_m)])
    return merged_edges(bounds, passes.edges_m, from_m=0.0, to_m=max(most, 1e-6))


def _inside(zones: list[DrumZone], at: Floats) -> npt.NDArray[np.bool_]:
    """Whether places lie in one of some zones, which follow each other."""
    if not zones:
        return np.zeros(at.shape, dtype=np.bool_)
    ordered = sorted(zones, key=lambda zone: zone.from_m)
    starts = np.array([zone.from_m for zone in ordered])
    ends = np.maximum.accumulate(np.array([zone.to_m for zone in ordered]))
    number = np.searchsorted(starts, at, side="right") - 1
    return np.asarray((number >= 0) & (at < ends[np.maximum(number, 0)]))


def _pressed(drum: Drum, passes: Profile, at: Floats, most: float) -> Floats:
    """Passes of the wrap that lies on top."""
    above = above_m(drum, at)
    return np.where(above <= most, passes.at(above), 0.0)


def layer_of(drum: Drum, drum_m: Floats) -> npt.NDArray[np.int64]:
    """Layer, counted from 0, of places ``drum_m`` [m] on the drum."""
    return np.asarray(
        np.searchsorted(np.array(drum.layer_ends_m[:-1]), drum_m, side="right"), dtype=np.int64
    )


def above_m(drum: Drum, drum_m: Floats) -> Floats:
    """The place that lies on top of each place once the next layer is wound.

    The next layer runs back along the drum: what lies so many turns before the end of a layer is
    covered by what lies as many turns behind it.

    Parameters
    ----------
    drum
        The drum as wound.
    drum_m
        Places, from the clamp [m].

    Returns
    -------
    array
        Places from the clamp; infinite above the last layer, and where the next layer is too
        short to reach back so far [m].
    """
    layer = layer_of(drum, drum_m)
    last = drum.layers - 1
    turn, ends = np.array(drum.turn_m), np.array(drum.layer_ends_m)
    following = np.minimum(layer + 1, last)
    back = (ends[layer] - drum_m) / turn[layer]
    over = ends[layer] + back * turn[following]
    covered = (layer < last) & (over < ends[following])
    return np.where(covered, over, np.inf)
