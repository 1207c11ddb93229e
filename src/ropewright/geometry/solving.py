"""Roots and edges of functions of one crane axis, by halving."""

from collections.abc import Callable

import numpy as np
import numpy.typing as npt

from ropewright.geometry.position import Floats

HALVINGS = 44  # from a 64th of any travel to less than a millionth of a millimetre


def crossings(value: Callable[[float], float], nodes: Floats) -> list[float]:
    """Where a function changes sign between given nodes, or is zero on one of them.

    Parameters
    ----------
    value
        The function [m]; not-a-number where it has no value.
    nodes
        Where to look, in rising order [-].

    Returns
    -------
    list of float
        Roots in rising order [-].
    """
    values = [value(float(node)) for node in nodes]
    found: list[float] = []
    for number, (here, at) in enumerate(zip(values, nodes.tolist(), strict=True)):
        if here == 0:
            found.append(at)
        elif number and values[number - 1] * here < 0:
            found.append(_halve(lambda x: value(x) > 0, nodes[number - 1], at))
    return found


def runs_of(
    holds: Callable[[float], bool], nodes: Floats, *, flags: npt.NDArray[np.bool_] | None = None
) -> list[tuple[float, float]]:
    """Stretches of an axis on which a condition holds, their edges found by halving.

    Parameters
    ----------
    holds
        The condition, for a value of the axis [-].
    nodes
        Where to look, in rising order [-].
    flags
        The condition at the nodes, if it is known already [-].

    Returns
    -------
    list of pairs
        Beginning and end of each run [-].
    """
    if flags is None:
        flags = np.array([holds(float(node)) for node in nodes])
    runs: list[tuple[float, float]] = []
    start: float | None = None
    for number, at in enumerate(nodes.tolist()):
        if flags[number] and start is None:
            start = _halve(holds, nodes[number - 1], at, keep=True) if number else at
        if start is not None and not flags[number]:
            runs.append((start, _halve(holds, nodes[number - 1], at, keep=True)))
            start = None
    if start is not None:
        runs.append((start, float(nodes[-1])))
    return runs


def _halve(holds: Callable[[float], bool], low: float, high: float, *, keep: bool = False) -> float:
    """Return where a condition changes; with `keep`, on the side where it holds."""
    low, high = float(low), float(high)
    at_low = holds(low)
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        if holds(middle) == at_low:
            low = middle
        else:
            high = middle
    if keep:
        return low if at_low else high
    return (low + high) / 2
