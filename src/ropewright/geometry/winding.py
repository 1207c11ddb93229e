"""The rope on the drum as the crane moves: how much is left, and its zones along the path."""

from dataclasses import dataclass

import numpy as np

from ropewright.errors import InputError
from ropewright.geometry.checks import reachable
from ropewright.geometry.drum import drum_wraps
from ropewright.geometry.drum_zones import ZoneKind, drum_zones
from ropewright.geometry.hoist import Hoist, gradient
from ropewright.geometry.points import axes_of, position_from_turns
from ropewright.geometry.position import AXIS_WORDS, CranePosition, CranePositions
from ropewright.geometry.rows import Corrections, row_values
from ropewright.geometry.section import Section
from ropewright.geometry.sighting import DrumSide

_NODES = 9


@dataclass(frozen=True, slots=True, kw_only=True)
class Wound:
    """The rope on the drum at one crane position; on a twin drum, on each side of it.

    ``turns`` [turns] are all wraps from the clamp; ``layer``, ``wrap`` and ``part`` [turns] say
    where the rope leaves the drum.  ``err_m`` is ± with about 95 % certainty.
    """

    on_drum_m: float
    err_m: float
    turns: float
    layer: int
    wrap: int
    part: float


def wound(hoist: Hoist, position: CranePosition) -> Wound:
    """How much rope lies on the drum at a crane position, and where it leaves the drum.

    Parameters
    ----------
    hoist
        The hoist; its rope length and drum must be known.
    position
        The crane's position.

    Raises
    ------
    InputError
        If a number is missing, or more rope is outside than there is.
    """

    def on_drum(found: Corrections) -> float:
        at = position_from_turns(hoist, position, found)
        row = hoist.rows(found).out
        measures, known = hoist.reeving.frame.measures(CranePositions.one(at))
        outside = float(row_values(row[np.newaxis, :], measures, known)[0, 0])
        if np.isnan(outside):
            missing = next(axis for axis in axes_of(hoist, row) if at.value(axis) is None)
            raise InputError(field=f"position.{missing}", expected=AXIS_WORDS[missing], given=None)
        return hoist.rope_length_m(found) - outside

    metres = on_drum(hoist.corrections)
    drum = hoist.wound_drum()
    place = drum_wraps(drum, metres)
    return Wound(
        on_drum_m=metres,
        err_m=hoist.uncertainty().err_of(gradient(on_drum, hoist.corrections)),
        turns=float(drum.turns_at(np.array([metres]))[0]),
        layer=int(place.layer[0]),
        wrap=int(place.wrap[0]),
        part=float(place.part[0]),
    )


def least_and_most_wound_m(hoist: Hoist) -> tuple[float, float]:
    """Least and most rope on the drum within the limits: dead wraps, and all layers used.

    Returns
    -------
    tuple of float
        Rope from the clamp [m].

    Raises
    ------
    InputError
        If the rope's length or a limit is not given.
    """
    row = hoist.rows().out
    length = hoist.rope_length_m()
    axes = axes_of(hoist, row)
    places = hoist.travel.grid(axes, _NODES)
    measures, known = hoist.reeving.frame.measures(places)
    mask = reachable(hoist.reeving, hoist.travel, measures, known)
    outside = row_values(row[np.newaxis, :], measures[:, mask], known)[0]
    return length - float(outside.max()), length - float(outside.min())


@dataclass(frozen=True, slots=True, kw_only=True)
class PathZone:
    """A section of the path, from end A, that is a crossover or layer change when wound on."""

    kind: ZoneKind
    layer: int
    side: DrumSide
    section: Section


def path_zones(hoist: Hoist) -> tuple[PathZone, ...]:
    """All zones of the rope that ever lies on the drum, as sections of the path from end A.

    Parameters
    ----------
    hoist
        The hoist; rope length, drum and limits must be known.

    Returns
    -------
    tuple of PathZone
        In [m], sorted from end A.
    """
    _, most = least_and_most_wound_m(hoist)
    length = hoist.rope_length_m()
    drum = hoist.wound_drum()
    zones = drum_zones(drum, on_drum_m=min(most, drum.capacity_m))
    found = [
        PathZone(
            kind=zone.kind,
            layer=zone.layer,
            side="B",
            section=Section(length - zone.to_m, length - zone.from_m),
        )
        for zone in zones
    ]
    if hoist.reeving.end_a == "drum":
        found += [
            PathZone(
                kind=zone.kind,
                layer=zone.layer,
                side="A",
                section=Section(zone.from_m, zone.to_m),
            )
            for zone in zones
        ]
    return tuple(sorted(found, key=lambda zone: (zone.section, zone.kind)))
