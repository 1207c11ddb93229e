"""The kernel: where every contact lies along the rope, for any number of crane positions."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from ropewright.geometry.hoist import Hoist
from ropewright.geometry.position import CranePositions, Floats
from ropewright.geometry.reeving import Sense
from ropewright.geometry.rows import row_values

CHUNK: Final = 16_384
"""Crane positions worked on at a time: small enough for the processor's cache."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PathTrace:
    """The rope's path at many crane positions; not-a-number where a needed axis is not known.

    ``start_m`` and ``end_m`` have one row per contact and one column per position; ``out_m`` is
    where the rope touches the drum at end B: the length paid out, for a rope fastened at end A.
    ``base_m`` is where it leaves end A: 0, or on a twin drum the rope on drum A.
    ``on_drum_m`` is the rope on the drum at end B, none if the rope's length is not known.
    """

    contacts: tuple[str, ...]
    senses: tuple[Sense, ...]
    start_m: Floats
    end_m: Floats
    out_m: Floats
    base_m: Floats
    on_drum_m: Floats | None


def trace(hoist: Hoist, at: CranePositions) -> PathTrace:
    """Path positions of every contact's beginning and end, and the rope on the drum.

    Parameters
    ----------
    hoist
        The hoist.
    at
        The crane positions.

    Returns
    -------
    PathTrace
        In [m] from end A.
    """
    rows = hoist.rows()
    measures, known = hoist.reeving.frame.measures(at)
    contacts = hoist.reeving.contacts
    count = len(contacts)
    both_ends = np.vstack([rows.start, rows.end, rows.out, rows.base])
    places = row_values(both_ends, measures, known)
    out = places[2 * count]
    return PathTrace(
        contacts=tuple(contact.name for contact in contacts),
        senses=tuple(contact.sense for contact in contacts),
        start_m=places[:count],
        end_m=places[count : 2 * count],
        out_m=out,
        base_m=places[2 * count + 1],
        on_drum_m=None if hoist.rope_m is None else hoist.rope_length_m() - out,
    )


def trace_in_chunks(
    hoist: Hoist, at: CranePositions, *, size: int = CHUNK
) -> Iterator[tuple[slice, PathTrace]]:
    """Trace long series piece by piece, so that the working set stays small.

    Parameters
    ----------
    hoist
        The hoist.
    at
        The crane positions.
    size
        Positions per piece.
    """
    for first in range(0, len(at), size):
        rows = slice(first, min(first + size, len(at)))
        yield rows, trace(hoist, at.part(rows))
