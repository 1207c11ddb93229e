"""Where on the drum wraps cross the layer below, and where the rope climbs at a flange."""

import math
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

import numpy as np
import numpy.typing as npt

from ropewright.errors import InputError
from ropewright.geometry.drum import Drum, drum_wraps
from ropewright.geometry.position import Floats

ZoneKind: TypeAlias = Literal["crossover", "crossover somewhere", "layer change"]
ZONE_KINDS: Final[tuple[ZoneKind, ...]] = ("crossover", "crossover somewhere", "layer change")

CHANGE_WRAPS: Final = 0.5
"""Part of a wrap before and after a layer's end that counts as layer change; from memory."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DrumZone:
    """A length of rope on the drum, from the clamp, and what happens to it there.

    'crossover somewhere' stands for a whole layer of a smooth or helical drum: each of its wraps
    crosses the layer below, but the drum does not fix where in the turn.
    """

    kind: ZoneKind
    layer: int
    from_m: float
    to_m: float


def crossover_parts(drum: Drum) -> tuple[tuple[float, float], ...]:
    """Parts of a turn, from the clamp's line, in which a parallel-grooved drum crosses over.

    Returns
    -------
    tuple of pairs
        Beginning and end of each crossover [turns].
    """
    if drum.grooving != "parallel" or not drum.crossover_share:
        return ()
    width = drum.crossover_share / drum.crossovers
    ends = [(number + 1) / drum.crossovers for number in range(drum.crossovers)]
    return tuple((end - width, end) for end in ends)


def drum_zones(drum: Drum, *, on_drum_m: float | None = None) -> tuple[DrumZone, ...]:
    """All zones of the rope that lies on the drum, in order from the clamp, by kind.

    Parameters
    ----------
    drum
        The drum as wound.
    on_drum_m
        The most rope that is ever on the drum [m]; all it holds, if not given.

    Returns
    -------
    tuple of DrumZone
        None at all if only one layer is used [m].
    """
    most = drum.capacity_m if on_drum_m is None else on_drum_m
    if not 0 <= most <= drum.capacity_m + 1e-9:
        raise InputError(
            field="on_drum_m",
            expected=f"from 0 to {drum.capacity_m:.3f}, what the drum holds",
            given=on_drum_m,
        )
    edges = (0.0, *drum.layer_ends_m)
    used = sum(1 for edge in edges[:-1] if edge < most)
    if used < 2:
        return ()
    zones: list[DrumZone] = []
    for layer in range(1, used + 1):
        zones += _crossovers(drum, layer, edges[layer - 1], edges[layer])
        if layer < used:
            zones.append(
                DrumZone(
                    kind="layer change",
                    layer=layer,
                    from_m=edges[layer] - CHANGE_WRAPS * drum.turn_m[layer - 1],
                    to_m=edges[layer] + CHANGE_WRAPS * drum.turn_m[layer],
                )
            )
    kept = [_cut(zone, most) for zone in zones if zone.from_m < most]
    return tuple(sorted(kept, key=lambda zone: (zone.from_m, zone.kind)))


def _cut(zone: DrumZone, most: float) -> DrumZone:
    return DrumZone(kind=zone.kind, layer=zone.layer, from_m=zone.from_m, to_m=min(zone.to_m, most))


def _crossovers(drum: Drum, layer: int, start: float, end: float) -> list[DrumZone]:
    parts = crossover_parts(drum)
    if not parts:
        crossed = drum.grooving != "parallel" and layer > 1
        kind: ZoneKind = "crossover somewhere"
        return [DrumZone(kind=kind, layer=layer, from_m=start, to_m=end)] if crossed else []
    turn = drum.turn_m[layer - 1]
    phase = math.fsum(drum.wraps[: layer - 1]) % 1.0
    zones = []
    for number in range(math.ceil((end - start) / turn + phase)):
        for first, last in parts:
            low = max(start + (number + first - phase) * turn, start)
            high = min(start + (number + last - phase) * turn, end)
            if high > low:
                zones.append(DrumZone(kind="crossover", layer=layer, from_m=low, to_m=high))
    return zones


def in_crossover(drum: Drum, drum_m: npt.ArrayLike) -> npt.NDArray[np.bool_]:
    """Whether places on a parallel-grooved drum lie in a crossover of the turn.

    Parameters
    ----------
    drum
        The drum as wound.
    drum_m
        Rope from the clamp [m].
    """
    part = drum_wraps(drum, drum_m).part
    inside = np.zeros(part.shape, dtype=np.bool_)
    for first, last in crossover_parts(drum):
        inside |= (part >= first) & (part < last)
    return inside


def in_layer_change(drum: Drum, drum_m: npt.ArrayLike) -> npt.NDArray[np.bool_]:
    """Whether places on the drum lie where the rope climbs to the next layer.

    Parameters
    ----------
    drum
        The drum as wound.
    drum_m
        Rope from the clamp [m].
    """
    metres: Floats = np.atleast_1d(np.asarray(drum_m, dtype=np.float64))
    inside = np.zeros(metres.shape, dtype=np.bool_)
    for number, edge in enumerate(drum.layer_ends_m[:-1]):
        low = edge - CHANGE_WRAPS * drum.turn_m[number]
        high = edge + CHANGE_WRAPS * drum.turn_m[number + 1]
        inside |= (metres >= low) & (metres <= high)
    return inside
