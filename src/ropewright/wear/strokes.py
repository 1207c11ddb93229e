"""Strokes: movement one way under one class of load; all that lies between does not matter."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ropewright.wear.loads import Bytes
from ropewright.wear.model import Places


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Strokes:
    """Strokes of one moving part: from and to in tenths of a millimetre [-], and load class."""

    first: Places
    last: Places
    classes: Bytes

    @classmethod
    def joined(cls, several: Sequence["Strokes"]) -> "Strokes":
        """All strokes of several lists as one."""
        if not several:
            nothing = np.zeros(0, dtype=np.int32)
            return cls(first=nothing, last=nothing, classes=np.zeros(0, dtype=np.uint8))
        return cls(
            first=np.concatenate([one.first for one in several]),
            last=np.concatenate([one.last for one in several]),
            classes=np.concatenate([one.classes for one in several]),
        )


def strokes_of(places: Places, classes: Bytes) -> Strokes:
    """The strokes of a series of places.

    Parameters
    ----------
    places
        (n,) places in order [-].
    classes
        (n - 1,) load class of each movement [-].
    """
    way = np.sign(np.diff(places)).astype(np.int8)
    edges = np.flatnonzero((way[1:] != way[:-1]) | (classes[1:] != classes[:-1])) + 1
    begins = np.concatenate([[0], edges]) if way.size else edges
    begins = begins[way[begins] != 0]
    ends = np.append(edges, way.size)
    ends = ends[way[ends - 1] != 0] if way.size else begins
    return Strokes(first=places[begins], last=places[ends], classes=classes[begins])
