"""The drum on the card: what it takes to turn metres into layer, wrap and part, and back."""

import math
from dataclasses import dataclass

from ropewright.geometry import DrumZone, SeenOnDrum, drum_zones
from ropewright.geometry.hoist import gradient
from ropewright.geometry.locate import path_m_of
from ropewright.geometry.sighting import DrumSide
from ropewright.inspection import DrumFacts, RiggedHoist


@dataclass(frozen=True, slots=True, kw_only=True)
class CardLayer:
    """One layer: from and to in metres from the clamp, rope per turn, the turn it starts in.

    ``wraps`` [-] is what it holds, ``start_part`` [turns] where it begins, ``abs_err_m`` [m] how
    far off a place on it may be.
    """

    layer: int
    from_m: float
    to_m: float
    turn_m: float
    start_part: float
    wraps: float
    abs_err_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CardDrum:
    """A drum, or one side of a twin drum; ``length_m`` [m] is the rope on today's path.

    ``own_err_m`` [m] is what the rope's length leaves open when a place of the path is looked
    for on the drum.
    """

    side: DrumSide
    length_m: float
    clamp_flange: str
    far_flange: str
    layers: tuple[CardLayer, ...]
    zones: tuple[DrumZone, ...]
    own_err_m: float


def card_drums(rigged: RiggedHoist) -> tuple[CardDrum, ...]:
    """The drum as the card has it, none if it is not described; two sides of a twin drum."""
    hoist = rigged.hoist
    if rigged.asked_for_drum or hoist.drum is None or hoist.rope_m is None:
        return ()
    sides: tuple[DrumSide, ...] = ("A", "B") if hoist.reeving.end_a == "drum" else ("B",)
    return tuple(_side(rigged, side) for side in sides)


def _side(rigged: RiggedHoist, side: DrumSide) -> CardDrum:
    hoist = rigged.hoist
    drum = hoist.wound_drum()
    facts = rigged.rigging.drum or DrumFacts()
    edges = (0.0, *drum.layer_ends_m)
    layers = tuple(
        CardLayer(
            layer=number,
            from_m=edges[number - 1],
            to_m=edges[number],
            turn_m=drum.turn_m[number - 1],
            start_part=math.fsum(drum.wraps[: number - 1]) % 1.0,
            wraps=wraps,
            abs_err_m=max(
                _err_m(rigged, side, number, wrap) for wrap in {1, max(1, math.floor(wraps))}
            ),
        )
        for number, wraps in enumerate(drum.wraps, 1)
    )
    slopes = gradient(hoist.rope_length_m, hoist.corrections)
    return CardDrum(
        side=side,
        length_m=hoist.rope_length_m(),
        clamp_flange=facts.clamp_flange or "clamp flange",
        far_flange=facts.far_flange or "far flange",
        layers=layers,
        zones=drum_zones(drum),
        own_err_m=0.0 if side == "A" else hoist.uncertainty().err_of(slopes),
    )


def _err_m(rigged: RiggedHoist, side: DrumSide, layer: int, wrap: int) -> float:
    hoist = rigged.hoist
    seen = SeenOnDrum(layer=layer, wrap=wrap, side=side)
    slopes = gradient(lambda found: path_m_of(seen, hoist, found), hoist.corrections)
    return hoist.uncertainty().err_of(slopes)
