"""How often rope was wound into crossovers and layer changes, layer by layer."""

from dataclasses import dataclass

import numpy as np

from ropewright.wear.model import BendCount, Mask


@dataclass(frozen=True, slots=True, kw_only=True)
class LayerContacts:
    """One layer of the drum: how much rope lies in it, and how often it was wound on.

    ``wound_on`` [-] is the greatest number anywhere in the layer; ``crossover`` [-] and
    ``layer_change`` [-] are the greatest numbers in such places, none where the layer has none.
    ``crossover_m`` and ``layer_change_m`` are the lengths of rope in them, ``rope_m`` that of all.
    """

    layer: int
    rope_m: float
    wound_on: int
    crossover_m: float
    crossover: int | None
    layer_change_m: float
    layer_change: int | None


def layer_contacts(count: BendCount) -> tuple[LayerContacts, ...]:
    """Winding on, layer by layer; nothing if the drum is not known.

    On a twin drum both sides are taken together.

    Parameters
    ----------
    count
        A count of bends.
    """
    wound = count.wound_on.sum(axis=0)
    rows = []
    for layer in range(1, int(count.drum_layer.max(initial=0)) + 1):
        here = count.drum_layer == layer
        if not here.any():
            continue
        crossed, climbed = here & count.crossover, here & count.layer_change

        def most(where: Mask) -> int | None:
            return int(wound[where].max()) if where.any() else None

        rows.append(
            LayerContacts(
                layer=layer,
                rope_m=_metres(here, count),
                wound_on=most(here) or 0,
                crossover_m=_metres(crossed, count),
                crossover=most(crossed),
                layer_change_m=_metres(climbed, count),
                layer_change=most(climbed),
            )
        )
    return tuple(rows)


def _metres(where: Mask, count: BendCount) -> float:
    return round(int(np.count_nonzero(where)) * count.bin_m, 3)
