"""How layers lie on a drum: rise, wraps per layer, and a drum made from what is known."""

import math
from collections.abc import Sequence

from ropewright.errors import InputError
from ropewright.geometry.drum import Drum, Grooving
from ropewright.geometry.position import check_positive

MOST_LAYERS = 20


def valley_rise_mm(rope_mm: float, pitch_mm: float) -> float:
    """Rise of a wrap lying in the valley between two wraps of the layer below.

    Parameters
    ----------
    rope_mm
        Rope diameter as measured [mm].
    pitch_mm
        Distance between two wraps [mm].

    Returns
    -------
    float
        The rise [mm].
    """
    _check_pitch(rope_mm, pitch_mm)
    return math.sqrt(rope_mm**2 - (pitch_mm / 2) ** 2)


def crossover_rise_mm(rope_mm: float, pitch_mm: float) -> float:
    """Mean rise while a wrap crosses one wrap of the layer below, from valley to valley.

    Parameters
    ----------
    rope_mm
        Rope diameter as measured [mm].
    pitch_mm
        Distance between two wraps [mm].

    Returns
    -------
    float
        The mean rise [mm].
    """
    valley = valley_rise_mm(rope_mm, pitch_mm)
    half = pitch_mm / 2
    return (valley + rope_mm**2 / half * math.asin(half / rope_mm)) / 2


def layer_rise_mm(rope_mm: float, pitch_mm: float, crossover_share: float = 0.25) -> float:
    """Mean rise of a layer over a turn.

    Parameters
    ----------
    rope_mm
        Rope diameter as measured [mm].
    pitch_mm
        Distance between two wraps [mm].
    crossover_share
        Part of a turn that lies in crossovers [-].

    Returns
    -------
    float
        The mean rise [mm].

    Examples
    --------
    >>> round(layer_rise_mm(20.4, 20.9), 3)
    18.007
    """
    if not 0 <= crossover_share <= 1:
        raise InputError(
            field="drum.crossover_share", expected="a share from 0 to 1", given=crossover_share
        )
    valley = valley_rise_mm(rope_mm, pitch_mm)
    return valley + crossover_share * (crossover_rise_mm(rope_mm, pitch_mm) - valley)


def _check_pitch(rope_mm: float, pitch_mm: float) -> None:
    check_positive("drum.rope_mm", rope_mm)
    check_positive("drum.pitch_mm", pitch_mm)
    if not 0.9 * rope_mm <= pitch_mm < 2 * rope_mm:
        raise InputError(
            field="drum.pitch_mm",
            expected=f"a groove pitch near the rope's diameter, {rope_mm:g}",
            given=pitch_mm,
        )


def drum_from(
    *,
    barrel_mm: float,
    rope_mm: float,
    grooving: Grooving = "smooth",
    pitch_mm: float | None = None,
    width_mm: float | None = None,
    wraps: float | Sequence[float] | None = None,
    layers: int | None = None,
    rope_m: float | None = None,
    rise_mm: float | None = None,
    crossover_share: float = 0.25,
    crossovers: int = 2,
    flange_mm: float | None = None,
) -> Drum:
    """Make a drum from what is known; the rest is derived.

    Wraps per layer come from counting, else from width and pitch; the pitch, if not given, is
    the rope's diameter; the layer rise comes from pitch, diameter and crossover share; the
    number of layers, if not given, is what the rope needs.

    Parameters
    ----------
    barrel_mm
        Barrel diameter at the groove bottom [mm].
    rope_mm
        Rope diameter as measured [mm].
    grooving
        smooth, helical or parallel.
    pitch_mm
        Groove pitch [mm].
    width_mm
        Width between the flanges [mm].
    wraps
        Wraps of every layer, or of each layer in turn [wraps].
    layers
        Number of layers.
    rope_m
        Length of the rope [m], to find the number of layers.
    rise_mm
        What each layer adds to the radius [mm].
    crossover_share
        Part of a turn that lies in crossovers [-].
    crossovers
        Crossovers per turn, 1 or 2.
    flange_mm
        Diameter of the flanges [mm].
    """
    check_positive("drum.barrel_mm", barrel_mm)
    check_positive("drum.rope_mm", rope_mm)
    pitch = rope_mm if pitch_mm is None else pitch_mm
    rise = layer_rise_mm(rope_mm, pitch, crossover_share) if rise_mm is None else rise_mm
    check_positive("drum.rise_mm", rise)
    if isinstance(wraps, Sequence):
        per_layer = tuple(float(count) for count in wraps)
    else:
        each = _wraps_in_width(width_mm, pitch) if wraps is None else float(wraps)
        check_positive("drum.wraps", each)
        count = _layers_needed(barrel_mm, rope_mm, rise, each, rope_m) if layers is None else layers
        if not 1 <= count <= MOST_LAYERS:
            raise InputError(field="drum.layers", expected=f"from 1 to {MOST_LAYERS}", given=count)
        per_layer = (each,) * count
    return Drum(
        barrel_mm=barrel_mm,
        rope_mm=rope_mm,
        wraps=per_layer,
        rise_mm=rise,
        pitch_mm=pitch_mm,
        grooving=grooving,
        crossover_share=crossover_share,
        crossovers=crossovers,
        width_mm=width_mm,
        flange_mm=flange_mm,
    )


def _wraps_in_width(width_mm: float | None, pitch_mm: float) -> float:
    if width_mm is None:
        raise InputError(
            field="drum.wraps",
            expected="the wraps of one layer, counted, or else the drum's width and pitch",
            given=None,
        )
    check_positive("drum.width_mm", width_mm)
    if width_mm < pitch_mm:
        raise InputError(
            field="drum.width_mm", expected=f"at least one pitch, {pitch_mm:g}", given=width_mm
        )
    return math.floor(width_mm / pitch_mm + 1e-9)


def _layers_needed(
    barrel_mm: float, rope_mm: float, rise_mm: float, wraps: float, rope_m: float | None
) -> int:
    if rope_m is None:
        raise InputError(
            field="drum.layers", expected="the number of layers, or the rope's length", given=None
        )
    check_positive("rope_m", rope_m)
    held, count = 0.0, 0
    while held < rope_m:
        held += wraps * math.pi * (barrel_mm + rope_mm + 2 * count * rise_mm) / 1000
        count += 1
        if count > MOST_LAYERS:
            raise InputError(
                field="rope_m",
                expected=f"rope for at most {MOST_LAYERS} layers of {wraps:g} wraps",
                given=rope_m,
            )
    return count
