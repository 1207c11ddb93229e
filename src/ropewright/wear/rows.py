"""A map as plain lists, for pictures and records."""

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from ropewright.rope import PathMap
from ropewright.wear.model import BendCount
from ropewright.wear.profile import Profile, bins_profile, even_edges, sum_of
from ropewright.wear.wear_map import WearMap, to_rope


def wear_rows(wear: WearMap, step_m: float) -> tuple[list[float], list[list[float]]]:
    """Mean damage by cause in even steps along the rope.

    Parameters
    ----------
    wear
        The map.
    step_m
        Length of a step [m].

    Returns
    -------
    tuple
        Edges of the steps [m], and per cause the mean in each step, in full bends [-].
    """
    edges = even_edges(wear.in_service.from_m, wear.in_service.to_m, step_m)
    rows = [
        [round(float(value), 3) for value in wear.of(number).means(edges)]
        for number in range(len(wear.causes))
    ]
    return [round(float(edge), 4) for edge in edges], rows


def worst_rows(wear: WearMap, step_m: float) -> list[float]:
    """Worst damage of all causes together in even steps along the rope.

    Parameters
    ----------
    wear
        The map.
    step_m
        Length of a step [m].

    Returns
    -------
    list of float
        In full bends [-].
    """
    edges = even_edges(wear.in_service.from_m, wear.in_service.to_m, step_m).round(4)
    total = wear.total
    cells = np.minimum(
        np.searchsorted(wear.edges_m, edges[:-1], side="right") - 1, total.values.size - 1
    )
    return [float(value) for value in np.maximum.reduceat(total.values, np.maximum(cells, 0))]


def worst_in_steps(
    profile: Profile, from_m: float, to_m: float, step_m: float
) -> tuple[list[float], list[float]]:
    """Worst value of a profile in even steps over a section.

    Parameters
    ----------
    profile
        The profile.
    from_m, to_m
        The section [m].
    step_m
        Length of a step [m].

    Returns
    -------
    tuple
        Edges of the steps [m] and the worst value in each [-].
    """
    edges = even_edges(from_m, to_m, step_m).tolist()
    return edges, [profile.most(first, last) for first, last in pairwise(edges)]


def pick_up_rows(
    counts: Sequence[tuple[BendCount, PathMap]], now: PathMap, step_m: float
) -> list[float]:
    """How often a load was picked up while a place lay on a sheave or was leaving the drum.

    Parameters
    ----------
    counts
        Counts, each with how rope and path belonged together.
    now
        The rope that is left.
    step_m
        Length of a step [m].

    Returns
    -------
    list of float
        Greatest number in each step [-].
    """
    placed = [
        to_rope(bins_profile(one.pick_ups.counts.sum(axis=(0, 1)) * 1.0, one.bin_m), path)
        for one, path in counts
    ]
    low, high = now.in_service
    whole = sum_of(placed, from_m=low, to_m=high)
    return worst_in_steps(whole, low, high, step_m)[1]
