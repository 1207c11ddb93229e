"""Plain measures of a drum for the set-up rules: angles, ratios, freeboard, shifts.

Nothing here is compared with a limit; the rules do that.
"""

import math
from dataclasses import dataclass

from ropewright.errors import InputError
from ropewright.geometry.drum import Drum
from ropewright.geometry.position import check_finite, check_not_negative, check_positive


@dataclass(frozen=True, slots=True, kw_only=True)
class DrumFigures:
    """Measures of a drum and the rope on it.

    ``barrel_ratio`` [-] is barrel to rope diameter, ``pitch_circle_ratio`` [-] the same to the
    rope's centre line on the first layer, ``pitch_ratio`` [-] groove pitch to rope diameter.
    ``freeboard_mm`` is how far the flange stands out beyond the top layer, ``freeboard_ropes``
    [-] the same in rope diameters.  ``helix_deg`` is the slope of a helical groove,
    ``crossover_skew_deg`` the slope of the rope in a crossover.
    """

    barrel_ratio: float
    pitch_circle_ratio: float
    pitch_ratio: float | None
    pitch_gap_mm: float | None
    freeboard_mm: float | None
    freeboard_ropes: float | None
    helix_deg: float | None
    crossover_skew_deg: float | None


def drum_figures(drum: Drum, *, layers_used: int | None = None) -> DrumFigures:
    """All measures of a drum; those that need a datum not given are none.

    Parameters
    ----------
    drum
        The drum as wound.
    layers_used
        How many layers are filled with the hook at its highest; all, if not given.
    """
    layers = drum.layers if layers_used is None else layers_used
    if not 1 <= layers <= drum.layers:
        raise InputError(field="layers_used", expected=f"from 1 to {drum.layers}", given=layers)
    freeboard = None
    if drum.flange_mm is not None:
        top = drum.barrel_mm + 2 * drum.rope_mm + 2 * (layers - 1) * drum.rise_mm
        freeboard = (drum.flange_mm - top) / 2
    pitch = drum.pitch_mm
    circle = drum.barrel_mm + drum.rope_mm
    skew = helix = None
    if pitch is not None and drum.grooving == "parallel" and drum.crossover_share:
        skew = crossover_skew_deg(
            pitch_mm=pitch,
            pitch_circle_mm=circle,
            crossover_share=drum.crossover_share,
            crossovers=drum.crossovers,
        )
    if pitch is not None and drum.grooving == "helical":
        helix = helix_deg(pitch_mm=pitch, pitch_circle_mm=circle)
    return DrumFigures(
        barrel_ratio=drum.barrel_mm / drum.rope_mm,
        pitch_circle_ratio=circle / drum.rope_mm,
        pitch_ratio=None if pitch is None else pitch / drum.rope_mm,
        pitch_gap_mm=None if pitch is None else pitch - drum.rope_mm,
        freeboard_mm=freeboard,
        freeboard_ropes=None if freeboard is None else freeboard / drum.rope_mm,
        helix_deg=helix,
        crossover_skew_deg=skew,
    )


def helix_deg(*, pitch_mm: float, pitch_circle_mm: float) -> float:
    """Slope of a helical groove against the plane of the flange.

    Parameters
    ----------
    pitch_mm
        Groove pitch [mm].
    pitch_circle_mm
        Diameter to the rope's centre line on the first layer [mm].

    Returns
    -------
    float
        The angle [deg].
    """
    check_positive("pitch_mm", pitch_mm)
    check_positive("pitch_circle_mm", pitch_circle_mm)
    return math.degrees(math.atan(pitch_mm / (math.pi * pitch_circle_mm)))


def crossover_skew_deg(
    *, pitch_mm: float, pitch_circle_mm: float, crossover_share: float, crossovers: int = 2
) -> float:
    """Slope of the rope in a crossover, where it shifts by a pitch over all crossovers of a turn.

    Parameters
    ----------
    pitch_mm
        Groove pitch [mm].
    pitch_circle_mm
        Diameter to the rope's centre line [mm].
    crossover_share
        Part of a turn that lies in crossovers [-].
    crossovers
        How many crossovers there are per turn.

    Returns
    -------
    float
        The angle [deg].
    """
    check_positive("pitch_mm", pitch_mm)
    check_positive("pitch_circle_mm", pitch_circle_mm)
    check_positive("crossover_share", crossover_share)
    check_positive("crossovers", crossovers)
    arc_mm = math.pi * pitch_circle_mm * crossover_share / crossovers
    return math.degrees(math.atan(pitch_mm / crossovers / arc_mm))


def fleet_angles_deg(
    *, width_mm: float, distance_mm: float, off_centre_mm: float = 0.0
) -> tuple[float, float]:
    """Fleet angles with the rope at either flange, from the drum to its first sheave.

    Parameters
    ----------
    width_mm
        Width between the flanges that the rope uses [mm].
    distance_mm
        From the drum's axis to the sheave's [mm].
    off_centre_mm
        How far the sheave's plane lies off the drum's middle, towards the clamp's flange [mm].

    Returns
    -------
    tuple of float
        At the clamp's flange and at the far one, positive towards it [deg].

    Examples
    --------
    >>> [round(angle, 3) for angle in fleet_angles_deg(width_mm=28 * 20.9, distance_mm=14_000)]
    [1.197, 1.197]
    """
    check_positive("width_mm", width_mm)
    check_positive("distance_mm", distance_mm)
    check_finite("off_centre_mm", off_centre_mm)
    half = width_mm / 2
    near, far = half - off_centre_mm, half + off_centre_mm
    return (
        math.degrees(math.atan(near / distance_mm)),
        math.degrees(math.atan(far / distance_mm)),
    )


def fill_estimate_m(
    *, barrel_mm: float, flange_mm: float, margin_mm: float, width_mm: float, rope_mm: float
) -> float:
    """Rope that fits on a drum, by the handbook's rule of thumb; never good for places.

    Wraps are taken as stacked squarely; give the rope its greatest oversize.  Within 10 to 20 %
    of an exact sum.

    Parameters
    ----------
    barrel_mm, flange_mm
        Diameters of barrel and flange [mm].
    margin_mm
        Free margin of the flange [mm].
    width_mm
        Width between the flanges [mm].
    rope_mm
        Rope diameter with its oversize [mm].

    Returns
    -------
    float
        Length of rope [m].
    """
    for name, value in (("barrel_mm", barrel_mm), ("width_mm", width_mm), ("rope_mm", rope_mm)):
        check_positive(name, value)
    check_not_negative("margin_mm", margin_mm)
    depth = (flange_mm - barrel_mm) / 2 - margin_mm
    if depth <= 0:
        raise InputError(
            field="flange_mm",
            expected=f"more than barrel and margins, {barrel_mm + 2 * margin_mm:g}",
            given=flange_mm,
        )
    return math.pi * (depth + barrel_mm) * depth * width_mm / rope_mm**2 / 1000


@dataclass(frozen=True, slots=True, kw_only=True)
class LayerShift:
    """What moving the rope on the drum does on one layer.

    ``turns`` [turns] is how far every place moves; ``to_repeat_turns`` [turns] how far that is
    from the nearest shift at which old crossovers fall on crossovers again.
    """

    layer: int
    turns: float
    to_repeat_turns: float


def shift_on_drum(drum: Drum, *, moved_m: float) -> tuple[LayerShift, ...]:
    """How far places move on each layer when the rope moves along the drum, as by a cut there.

    Parameters
    ----------
    drum
        The drum as wound.
    moved_m
        How far the rope moves [m].

    Returns
    -------
    tuple of LayerShift
        One per layer, in [turns].
    """
    check_not_negative("moved_m", moved_m)
    step = 1 / drum.crossovers
    shifts = []
    for layer, turn in enumerate(drum.turn_m, start=1):
        turns = moved_m / turn
        beyond = turns % step
        shifts.append(
            LayerShift(layer=layer, turns=turns, to_repeat_turns=min(beyond, step - beyond))
        )
    return tuple(shifts)
