"""What a cut does, put so that it can be checked at the drum: which rope comes to lie where."""

from collections.abc import Sequence
from dataclasses import dataclass

from ropewright.geometry import Drum, DrumZone, Section, drum_zones, union
from ropewright.geometry.section import covered_length
from ropewright.rope import PathMap
from ropewright.wear.possible_cuts import Cut


@dataclass(frozen=True, slots=True, kw_only=True)
class LayerEffect:
    """What becomes of one layer's crossovers.

    ``shift_wraps`` [wraps] is how far the rope moves along the drum there; ``again`` [-] is the
    share of the rope that lay in this layer's crossovers and comes to lie in a crossover or layer
    change once more, none where the drum does not fix its crossovers.
    """

    layer: int
    shift_wraps: float
    again: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class CutEffects:
    """Which rope comes to lie where.

    Parameters
    ----------
    layers
        What becomes of the crossovers, layer by layer; none for a drum with one layer.
    layer_changes_again
        Share of the rope of today's layer changes that comes to lie in one again; none without
        layer changes [-].
    bends_shift_m
        How much further from end A the bent sections come to lie in the rope; none if the rope is
        turned [m].
    """

    layers: tuple[LayerEffect, ...]
    layer_changes_again: float | None
    bends_shift_m: float | None


def cut_effects(
    cut: Cut, now: PathMap, then: PathMap, drum: Drum | None, *, paid_out_least_m: float
) -> CutEffects:
    """Which rope comes to lie where once a cut is made.

    Parameters
    ----------
    cut
        The cut.
    now, then
        How rope and path belong together before and after.
    drum
        The drum, if it is known.
    paid_out_least_m
        The least rope paid out [m].
    """
    shift = None if cut.turn else cut.at_a_m
    if drum is None or drum.layers < 2:
        return CutEffects(layers=(), layer_changes_again=None, bends_shift_m=shift)
    old, new = (zones_on_rope(drum, path, paid_out_least_m) for path in (now, then))
    pressed = [section for _, section in new]
    changes = [section for zone, section in new if zone.kind == "layer change"]
    vague = any(zone.kind == "crossover somewhere" for zone, _ in old)
    layers = []
    for layer in sorted({zone.layer for zone, _ in old}):
        here = [one for zone, one in old if zone.kind == "crossover" and zone.layer == layer]
        if not here and not vague:
            continue
        layers.append(
            LayerEffect(
                layer=layer,
                shift_wraps=cut.at_drum_m / drum.turn_m[layer - 1],
                again=None if vague else _again(here, pressed),
            )
        )
    before = [section for zone, section in old if zone.kind == "layer change"]
    return CutEffects(
        layers=tuple(layers),
        layer_changes_again=_again(before, changes) if before else None,
        bends_shift_m=shift,
    )


def zones_on_rope(
    drum: Drum, path: PathMap, paid_out_least_m: float
) -> list[tuple[DrumZone, Section]]:
    """Crossovers and layer changes of the drum as sections of the rope.

    Parameters
    ----------
    drum
        The drum.
    path
        How rope and path belong together.
    paid_out_least_m
        The least rope paid out [m].
    """
    length = path.length_m
    most = min(max(length - paid_out_least_m, 0.0), drum.capacity_m)
    found = []
    for zone in drum_zones(drum, on_drum_m=most):
        ends = [path.to_rope_m(length - place) for place in (zone.from_m, min(zone.to_m, length))]
        found.append((zone, Section(min(ends), max(ends))))
    return found


def _again(old: Sequence[Section], new: Sequence[Section]) -> float:
    """Share of the old sections' length that the new ones cover."""
    whole = covered_length(old)
    shared = [
        Section(max(one.from_m, other.from_m), min(one.to_m, other.to_m))
        for one in union(old)
        for other in union(new)
        if one.from_m < other.to_m and other.from_m < one.to_m
    ]
    return covered_length(shared) / whole if whole else 0.0
