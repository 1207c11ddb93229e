"""The contacts of a path as counting needs them: tangent points as a moving part and a constant.

Every tangent point lies at a constant place plus a part that moves with the crane.  All points
whose moving part is the same see the same movement, only shifted: on fixed sheaves and drum that
is the rope paid out; on trolley and hook block it is a share of it and of the trolley's travel.
So movement is worked on once per kind of moving part, and each point adds its constant.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from ropewright.errors import InputError
from ropewright.geometry import (
    DRUM,
    Axis,
    CranePositions,
    Drum,
    Hoist,
    Sense,
    drum_wraps,
    drum_zones,
)
from ropewright.wear.model import DRUM_A, Floats, Ints, Mask, Places
from ropewright.wear.settings import TENTHS_PER_M

_ONE: Final = 0  # the row of a path's constants
_NODES: Final = 9
_MARGIN_M: Final = 2.0  # beyond the limits, if the rope's length is not known


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Tangent:
    """A tangent point: its moving part's number, and its constant place in tenths of a mm.

    ``moving`` [-] is -1 for a point that never moves; ``constant`` [-] counts tenths of a
    millimetre from end A.
    """

    moving: int
    constant: int


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class BendingContact:
    """A sheave or drum, with the tangent points at its ends; a drum has only one.

    ``sense`` is the side to which it bends the rope, 1 or -1; ``start`` is the tangent point
    nearer to end A (none on drum A), ``end`` the other (none on the drum at end B).
    """

    name: str
    sense: Sense
    start: Tangent | None
    end: Tangent | None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PathContacts:
    """All contacts of a path in order from end A, and the moving parts of their tangent points.

    ``rows`` [m] has one row of multiples of the crane's measures per moving part.
    """

    hoist: Hoist
    contacts: tuple[BendingContact, ...]
    rows: Floats

    def moved(self, at: CranePositions) -> Places:
        """Moving parts of the tangent points at crane positions.

        Parameters
        ----------
        at
            The crane positions.

        Returns
        -------
        array
            (moving parts, positions) in whole tenths of a millimetre [-].
        """
        measures, _ = self.hoist.reeving.frame.measures(at)
        parts = np.empty((len(self.rows), len(at)), dtype=np.int32)
        for row, part in zip(self.rows, parts, strict=True):
            used = np.flatnonzero(row)
            value = measures[used[0]] * row[used[0]]
            for measure in used[1:].tolist():
                value += measures[measure] * row[measure]
            value *= TENTHS_PER_M
            part[:] = np.rint(value, out=value)
        return parts

    @property
    def pairs(self) -> list[tuple[int, int]]:
        """Numbers of neighbouring contacts that bend the rope in opposite senses."""
        return [
            (number, number + 1)
            for number in range(len(self.contacts) - 1)
            if self.contacts[number].sense != self.contacts[number + 1].sense
        ]


def places_of(tangent: Tangent, moved: Places) -> Places:
    """Places of a tangent point.

    Parameters
    ----------
    tangent
        The point.
    moved
        (moving parts, n) where the moving parts are, in tenths of a millimetre [-].

    Returns
    -------
    array
        (n,) places from end A in tenths of a millimetre [-].
    """
    if tangent.moving < 0:
        return np.full(moved.shape[1], tangent.constant, dtype=np.int32)
    places: Places = moved[tangent.moving] + np.int32(tangent.constant)
    return places


def path_contacts(hoist: Hoist) -> PathContacts:
    """The contacts of a hoist's path.

    Parameters
    ----------
    hoist
        The hoist, for a rope with both ends on a twin drum with the rope's length.
    """
    rows = hoist.rows()
    moving: list[Floats] = []

    def tangent(row: Floats) -> Tangent:
        rest = row.copy()
        rest[_ONE] = 0.0
        constant = round(float(row[_ONE]) * TENTHS_PER_M)
        if not rest.any():
            return Tangent(moving=-1, constant=constant)
        for number, known in enumerate(moving):
            if np.array_equal(known, rest):
                return Tangent(moving=number, constant=constant)
        moving.append(rest)
        return Tangent(moving=len(moving) - 1, constant=constant)

    reeving = hoist.reeving
    contacts = [
        BendingContact(name=one.name, sense=one.sense, start=tangent(start), end=tangent(end))
        for one, start, end in zip(reeving.contacts, rows.start, rows.end, strict=True)
    ]
    sense = reeving.drum_sense
    if reeving.end_a == "drum":
        drum_a = BendingContact(name=DRUM_A, sense=sense, start=None, end=tangent(rows.base))
        contacts.insert(0, drum_a)
    contacts.append(BendingContact(name=DRUM, sense=sense, start=tangent(rows.out), end=None))
    stacked = np.array(moving, dtype=np.float64).reshape(len(moving), rows.out.size)
    return PathContacts(hoist=hoist, contacts=tuple(contacts), rows=stacked)


def rope_outside_m(hoist: Hoist) -> tuple[float, float]:
    """Least and most rope between end A and the drum within the travel limits.

    Parameters
    ----------
    hoist
        The hoist.

    Returns
    -------
    tuple of float
        Path positions of the drum's tangent point [m].
    """
    contacts = path_contacts(hoist)
    places = hoist.travel.grid(hoist.reeving.axes, _NODES)
    out = contacts.contacts[-1].start
    if out is None:
        raise ValueError("the drum has a tangent point")
    moved = contacts.moved(places)[out.moving] if out.moving >= 0 else np.zeros(1)
    outside = (moved + out.constant) / TENTHS_PER_M
    return float(outside.min()), float(outside.max())


def path_bins(hoist: Hoist, bin_m: float) -> int:
    """How many bins the path has.

    Parameters
    ----------
    hoist
        The hoist.
    bin_m
        Width of the bins [m].
    """
    if hoist.rope_m is not None:
        length = hoist.rope_length_m()
    else:
        length = rope_outside_m(hoist)[1] + _MARGIN_M
    return max(1, int(np.ceil(round(length / bin_m, 6))))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DrumZones:
    """Per bin: the layer in which it lies when wound on [-], and what happens to it there."""

    layer: Ints
    crossover: Mask
    layer_change: Mask


def zones_of_bins(hoist: Hoist, bin_m: float) -> DrumZones:
    """Layer and zone on the drum of every bin; layer 0 where the rope never gets there.

    Crossovers are marked on drums whose grooves fix where in the turn they lie.

    Parameters
    ----------
    hoist
        The hoist; without drum or rope length nothing is known and every layer is 0.
    bin_m
        Width of the bins [m].
    """
    bins = path_bins(hoist, bin_m)
    nothing = np.zeros(bins, dtype=np.bool_)
    zones = DrumZones(
        layer=np.zeros(bins, dtype=np.int64), crossover=nothing, layer_change=nothing.copy()
    )
    if hoist.drum is None or hoist.rope_m is None:
        return zones
    middles: Floats = (np.arange(bins, dtype=np.float64) + 0.5) * bin_m
    length = hoist.rope_length_m()
    drum = hoist.wound_drum()
    least = rope_outside_m(hoist)[0]
    if hoist.reeving.end_a == "drum":
        # Wound alike on both sides: as much is left on either drum.
        clear = (length - least) / 2
        _fill(zones, drum, middles, middles < clear)
        _fill(zones, drum, length - middles, middles > length - clear)
    else:
        _fill(zones, drum, length - middles, middles > least)
    return zones


def _fill(zones: DrumZones, drum: Drum, drum_m: Floats, where: Mask) -> None:
    """Write layers and zones of the bins that lie on a drum, given their places on it [m]."""
    where = where & (drum_m >= 0) & (drum_m <= drum.capacity_m)
    if not where.any():
        return
    zones.layer[where] = drum_wraps(drum, drum_m[where]).layer
    for zone in drum_zones(drum, on_drum_m=float(drum_m[where].max())):
        inside = where & (drum_m >= zone.from_m) & (drum_m < zone.to_m)
        if zone.kind == "crossover":
            zones.crossover[inside] = True
        elif zone.kind == "layer change":
            zones.layer_change[inside] = True


def check_axes(axes: Sequence[Axis], known: set[str]) -> None:
    """Refuse a log that lacks a reading the path depends on.

    Parameters
    ----------
    axes
        The axes that the path depends on.
    known
        Names of the axes in the log; drum turns stand for the hook, a radius for an angle.
    """
    stand_in = {
        "hook_m": {"drum_turns"},
        "jib_deg": {"radius_m"},
        "boom_deg": {"radius_m"},
    }
    for axis in axes:
        if not known & ({axis} | stand_in.get(axis, set())):
            raise InputError(
                field=axis,
                expected="this reading in the log, because the rope's path depends on it",
                given=None,
                hint="give it as a column, or as one number for the whole log if it did not change",
            )
