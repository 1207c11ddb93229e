"""The drum: rope length from the clamp to layer, wrap and part of turn, and back."""

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final, Literal, TypeAlias

import numpy as np
import numpy.typing as npt

from ropewright.errors import InputError
from ropewright.geometry.position import Floats, check_finite, check_not_negative, check_positive

Ints: TypeAlias = npt.NDArray[np.int64]
Grooving: TypeAlias = Literal["smooth", "helical", "parallel"]
Flange: TypeAlias = Literal["clamp", "far"]
GROOVINGS: Final[tuple[Grooving, ...]] = ("smooth", "helical", "parallel")

_EDGE_M: Final = 1e-9  # rope that ends this close to the drum's fill still lies on it


@dataclass(frozen=True, slots=True, kw_only=True)
class Drum:
    """A drum as wound: barrel, rope, layers.

    ``barrel_mm`` is the diameter at the groove bottom, ``rope_mm`` the rope as measured,
    ``wraps`` [wraps] the wraps of each layer as counted (halves allowed), ``rise_mm`` what each
    layer adds to the radius.  ``extra_wraps`` [wraps] is what calibration found every layer to
    hold beyond that; the layer's wraps as counted share it evenly.  ``crossover_share`` [-] is
    the part of a turn that lies in crossovers, ``crossovers`` how many there are per turn, the
    last one ending at the clamp's line.
    """

    barrel_mm: float
    rope_mm: float
    wraps: tuple[float, ...]
    rise_mm: float = 0.0
    pitch_mm: float | None = None
    grooving: Grooving = "smooth"
    crossover_share: float = 0.25
    crossovers: int = 2
    width_mm: float | None = None
    flange_mm: float | None = None
    extra_wraps: float = 0.0

    def __post_init__(self) -> None:
        for field in ("barrel_mm", "rope_mm", "pitch_mm", "width_mm", "flange_mm"):
            check_positive(f"drum.{field}", getattr(self, field))
        check_not_negative("drum.rise_mm", self.rise_mm)
        check_finite("drum.extra_wraps", self.extra_wraps)
        if not self.wraps:
            raise InputError(field="drum.wraps", expected="at least one layer", given=None)
        for number, wraps in enumerate(self.wraps, start=1):
            check_positive(f"drum.wraps of layer {number}", wraps)
            check_positive(f"drum.extra_wraps on layer {number}", wraps + self.extra_wraps)
        if len(self.wraps) > 1 and not 0 < self.rise_mm <= 1.2 * self.rope_mm:
            raise InputError(
                field="drum.rise_mm",
                expected=f"above zero and at most 1.2 rope diameters, {1.2 * self.rope_mm:g} mm",
                given=self.rise_mm,
            )
        if self.grooving not in GROOVINGS:
            raise InputError(
                field="drum.grooving",
                expected=f"one of {', '.join(GROOVINGS)}",
                given=self.grooving,
            )
        if not 0 <= self.crossover_share < 1 or self.crossovers not in (1, 2):
            raise InputError(
                field="drum.crossover_share",
                expected="a share from 0 to less than 1, in 1 or 2 crossovers per turn",
                given=f"{self.crossover_share:g} in {self.crossovers}",
            )
        if self.flange_mm is not None and self.flange_mm <= self.barrel_mm:
            raise InputError(
                field="drum.flange_mm",
                expected=f"more than barrel_mm, {self.barrel_mm:g}",
                given=self.flange_mm,
            )

    @property
    def layers(self) -> int:
        """How many layers the drum is described for."""
        return len(self.wraps)

    @property
    def turn_m(self) -> tuple[float, ...]:
        """Rope per turn of each layer [m]."""
        return tuple(float(turn) for turn in _table(self).turn)

    @property
    def layer_ends_m(self) -> tuple[float, ...]:
        """Rope from the clamp to the end of each layer [m]."""
        return tuple(float(edge) for edge in _table(self).edges[1:])

    @property
    def capacity_m(self) -> float:
        """Rope that the described layers hold [m]."""
        return float(_table(self).edges[-1])

    def turns_at(self, drum_m: Floats) -> Floats:
        """Turns of the drum from the clamp to a place on it.

        Parameters
        ----------
        drum_m
            Rope from the clamp [m].

        Returns
        -------
        array
            Turns [turns].
        """
        table = _table(self)
        layer = _layer_index(table, np.asarray(drum_m, dtype=np.float64))
        return table.turns[layer] + (drum_m - table.edges[layer]) / table.turn[layer]

    def metres_at_turns(self, turns: Floats) -> Floats:
        """Rope from the clamp after so many turns of the drum.

        Parameters
        ----------
        turns
            Turns from the clamp [turns].

        Returns
        -------
        array
            Rope from the clamp [m].
        """
        table = _table(self)
        turns = np.asarray(turns, dtype=np.float64)
        most = float(table.turns[-1])
        if np.any((turns < 0) | (turns > most + 1e-9)):
            worst = float(turns[np.argmax(np.abs(turns - most / 2))])
            raise InputError(
                field="drum_turns", expected=f"turns from 0 to {most:g}", given=f"{worst:g}"
            )
        layer = np.minimum(np.searchsorted(table.turns, turns, side="right") - 1, self.layers - 1)
        return table.edges[layer] + (turns - table.turns[layer]) * table.turn[layer]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DrumWraps:
    """Places on the drum: layer from 1, wrap from 1 in rope order, part of turn 0..1.

    ``part`` [turns] is counted from the clamp's line in the direction in which the rope was
    wound on.
    """

    layer: Ints
    wrap: Ints
    part: Floats

    def __len__(self) -> int:
        return self.layer.size


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Table:
    """Sums per layer, looked up by layer number from 0."""

    turn: Floats  # m per turn
    edges: Floats  # m from the clamp to the start of each layer, and to the end of the last
    turns: Floats  # turns from the clamp, likewise
    phase: Floats  # part of turn at which each layer starts
    last_turn: Floats  # turns into each layer, as far as one can go and still be on it
    visible: Ints  # wraps that lie side by side in each layer


@lru_cache(maxsize=64)
def _table(drum: Drum) -> _Table:
    number = np.arange(drum.layers)
    turn = np.pi * (drum.barrel_mm + drum.rope_mm + 2 * number * drum.rise_mm) / 1000
    wraps = np.array(drum.wraps)
    turn *= 1 + drum.extra_wraps / wraps
    turns = np.concatenate([[0.0], np.cumsum(wraps)])
    return _Table(
        turn=turn,
        edges=np.concatenate([[0.0], np.cumsum(wraps * turn)]),
        turns=turns,
        phase=turns[:-1] % 1.0,
        last_turn=np.nextafter(wraps, 0.0),
        visible=np.ceil(wraps - 1e-9).astype(np.int64),
    )


def _layer_index(table: _Table, drum_m: Floats) -> npt.NDArray[np.intp]:
    """Return the layer number from 0; refuse rope that is not on the drum."""
    layer = np.zeros(drum_m.shape, dtype=np.intp)
    for edge in table.edges[1:-1]:
        layer += drum_m >= edge
    if drum_m.size and not (drum_m.min() >= -_EDGE_M and drum_m.max() <= table.edges[-1] + _EDGE_M):
        bad = drum_m[~((drum_m >= -_EDGE_M) & (drum_m <= table.edges[-1] + _EDGE_M))]
        raise InputError(
            field="drum_m",
            expected=f"rope on the drum, from 0 to {table.edges[-1]:.3f} m",
            given=float(bad[0]),
            hint="more layers, or more wraps per layer, hold more rope",
        )
    return layer


def drum_wraps(drum: Drum, drum_m: npt.ArrayLike) -> DrumWraps:
    """Layer, wrap in rope order and part of turn of places on the drum.

    Parameters
    ----------
    drum
        The drum as wound.
    drum_m
        Rope from the clamp [m].

    Returns
    -------
    DrumWraps
        Part of turn in [turns].

    Raises
    ------
    InputError
        If a place is not on the drum.

    Examples
    --------
    >>> drum = Drum(barrel_mm=480, rope_mm=20.4, wraps=(28.0,) * 5, rise_mm=18.36)
    >>> place = drum_wraps(drum, [49.329])
    >>> int(place.layer[0]), int(place.wrap[0]), round(float(place.part[0]), 3)
    (2, 4, 0.148)
    """
    table = _table(drum)
    metres = np.atleast_1d(np.asarray(drum_m, dtype=np.float64))
    index = _layer_index(table, metres)
    into = metres - table.edges[index]
    into /= table.turn[index]
    np.clip(into, 0.0, table.last_turn[index], out=into)
    whole = np.floor(into)
    part = into - whole
    if table.phase.any():
        part += table.phase[index]
    part -= np.floor(part)
    return DrumWraps(layer=index.astype(np.int64) + 1, wrap=whole.astype(np.int64) + 1, part=part)


def drum_metres(
    drum: Drum, *, layer: npt.ArrayLike, wrap: npt.ArrayLike, part: npt.ArrayLike = 0.0
) -> Floats:
    """Rope from the clamp to places given by layer, wrap in rope order and part of turn.

    Parameters
    ----------
    drum
        The drum as wound.
    layer
        Layer, 1 on the barrel [-].
    wrap
        Wrap in rope order within the layer, from 1 [-].
    part
        Part of turn from the clamp's line, 0 to less than 1 [turns].

    Returns
    -------
    array
        Rope from the clamp [m].

    Raises
    ------
    InputError
        If the drum has no such layer or the layer no such wrap.
    """
    table = _table(drum)
    layers, wraps, parts = np.broadcast_arrays(
        np.atleast_1d(np.asarray(layer, dtype=np.int64)),
        np.atleast_1d(np.asarray(wrap, dtype=np.int64)),
        np.atleast_1d(np.asarray(part, dtype=np.float64)),
    )
    _check_range("layer", layers, np.ones_like(layers), np.full_like(layers, drum.layers))
    index = layers - 1
    _check_range("wrap", wraps, np.ones_like(wraps), table.visible[index])
    _check_range("part", parts, np.zeros_like(parts), np.ones_like(parts))
    turns = parts - table.phase[index]
    turns += wraps - 1 + (turns < 0)
    _check_range("part", turns, np.zeros_like(turns), np.array(drum.wraps)[index] + 1e-9)
    metres: Floats = table.edges[index] + turns * table.turn[index]
    return metres


def _check_range(
    field: str,
    given: npt.NDArray[np.int64] | Floats,
    least: npt.NDArray[np.int64] | Floats,
    most: npt.NDArray[np.int64] | Floats,
) -> None:
    wrong = ~((given >= least) & (given <= most))
    if wrong.any():
        first = int(np.argmax(wrong))
        raise InputError(
            field=field,
            expected=f"from {least[first]:g} to {most[first]:g}",
            given=f"{given[first]:g}",
        )


def wrap_from_flange(drum: Drum, *, layer: int, wrap: int, flange: Flange) -> int:
    """Turn a wrap in rope order into one counted from a flange, or the other way round.

    Odd layers run from the clamp's flange to the far one, even layers back.

    Parameters
    ----------
    drum
        The drum as wound.
    layer
        Layer, 1 on the barrel.
    wrap
        The wrap, from 1.
    flange
        The flange it is, or shall be, counted from: the clamp's or the far one.
    """
    if not 1 <= layer <= drum.layers:
        raise InputError(field="layer", expected=f"from 1 to {drum.layers}", given=layer)
    visible = int(_table(drum).visible[layer - 1])
    if not 1 <= wrap <= visible:
        raise InputError(field="wrap", expected=f"from 1 to {visible} on layer {layer}", given=wrap)
    if flange not in ("clamp", "far"):
        raise InputError(field="flange", expected="clamp or far", given=flange)
    with_the_rope = (layer % 2 == 1) == (flange == "clamp")
    return wrap if with_the_rope else visible + 1 - wrap


def corrected_drum(
    drum: Drum, *, barrel_mm: float = 0.0, rise_mm: float = 0.0, wraps: float = 0.0
) -> Drum:
    """The drum with small corrections to barrel, layer rise and wraps per layer.

    Parameters
    ----------
    drum
        The drum as given.
    barrel_mm, rise_mm
        Added to the barrel's diameter and to the layer rise [mm].
    wraps
        Added to every layer [wraps].
    """
    if not (barrel_mm or rise_mm or wraps):
        return drum
    return replace(
        drum,
        barrel_mm=drum.barrel_mm + barrel_mm,
        rise_mm=drum.rise_mm + rise_mm if drum.layers > 1 else drum.rise_mm,
        extra_wraps=drum.extra_wraps + wraps,
    )
