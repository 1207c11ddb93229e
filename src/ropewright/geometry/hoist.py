"""A hoist: path, travel, rope and drum, with how far each number may be wrong."""

import math
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Final

import numpy as np

from ropewright.errors import InputError
from ropewright.geometry.checks import check_rope, check_travel
from ropewright.geometry.drum import Drum, corrected_drum
from ropewright.geometry.position import Floats, Travel, check_not_negative
from ropewright.geometry.reeving import Reeving
from ropewright.geometry.rows import (
    NO_CORRECTIONS,
    PARAMETERS,
    Corrections,
    PathRows,
    path_rows,
)

ROPE_LENGTH_SHARE: Final = 0.005
"""± of a rope's length taken from its certificate, as a share; own assumption."""
RISE_SHARE: Final = 0.05
"""± of a layer rise worked out from pitch and diameter, in rope diameters; own assumption."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tolerances:
    """How far the numbers of the set-up may be off, each as ± with about 95 % certainty.

    Defaults are own assumptions.  ``rope_m`` and ``rise_mm`` not given stand for 0.5 % of the
    rope's length and 5 % of its diameter; ``wraps`` [wraps] holds for every layer.
    """

    hook_zero_m: float = 0.3
    anchor_side_m: float = 0.3
    lead_m: float = 0.5
    rope_m: float | None = None
    barrel_mm: float = 2.0
    rise_mm: float | None = None
    wraps: float = 0.25

    def __post_init__(self) -> None:
        for name in PARAMETERS:
            check_not_negative(f"tolerances.{name}", getattr(self, name))


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingErrors:
    """How far a single reading may be off, each as ± with about 95 % certainty; own assumptions.

    ``drum_turns`` [turns] is a turn counter's, ``point_m`` where exactly hand or eye was,
    ``part_of_turn`` [turns] how well a place on the drum is read, ``tape_m`` and ``tape_share``
    [-] a tape's fixed and growing part.
    """

    hook_m: float = 0.1
    radius_m: float = 0.1
    jib_deg: float = 0.1
    boom_m: float = 0.1
    boom_deg: float = 0.1
    drum_turns: float = 0.05
    point_m: float = 0.1
    part_of_turn: float = 0.05
    tape_m: float = 0.02
    tape_share: float = 0.001

    def __post_init__(self) -> None:
        for name in self.__slots__:
            check_not_negative(f"readings.{name}", getattr(self, name))


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """How far the seven corrections may be off together.

    ``covariance`` [-] has one row and column per name in `PARAMETERS`, in their units.
    """

    covariance: tuple[tuple[float, ...], ...]

    @property
    def matrix(self) -> Floats:
        """The covariance as an array, in the parameters' units [-]."""
        return np.array(self.covariance, dtype=np.float64)

    def err_of(self, gradient: Floats) -> float:
        """± of a value that depends on the corrections by a gradient.

        Parameters
        ----------
        gradient
            Change of the value per unit of each correction [-].

        Returns
        -------
        float
            About 95 % certain, in the value's unit [-].
        """
        variance = float(gradient @ self.matrix @ gradient)
        return 2 * math.sqrt(max(variance, 0.0))

    @staticmethod
    def from_matrix(matrix: Floats) -> "Spread":
        """Make a spread from a covariance matrix.

        Parameters
        ----------
        matrix
            In the parameters' units [-].
        """
        return Spread(covariance=tuple(tuple(float(cell) for cell in row) for row in matrix))


@dataclass(frozen=True, slots=True, kw_only=True)
class Hoist:
    """The path of one rope with its travel, its drum, and what calibration found.

    Only ``reeving`` and ``travel`` are needed; ``rope_m`` and ``drum`` add places on the drum.
    ``spread`` is what calibration left of the tolerances; before that the tolerances hold.
    """

    reeving: Reeving
    travel: Travel
    rope_m: float | None = None
    drum: Drum | None = None
    tolerances: Tolerances = field(default_factory=Tolerances)
    readings: ReadingErrors = field(default_factory=ReadingErrors)
    corrections: Corrections = NO_CORRECTIONS
    spread: Spread | None = None

    def __post_init__(self) -> None:
        check_travel(self.reeving, self.travel)
        check_rope(self.reeving, self.travel, self.rope_m, self.drum)

    def rows(self, corrections: Corrections | None = None) -> PathRows:
        """The path's rows, with other corrections if given."""
        return path_rows(
            self.reeving,
            rope_m=self.rope_m,
            corrections=self.corrections if corrections is None else corrections,
        )

    def rope_length_m(self, corrections: Corrections | None = None) -> float:
        """Length of the rope, corrected.

        Returns
        -------
        float
            The length [m].

        Raises
        ------
        InputError
            If it is not known.
        """
        if self.rope_m is None:
            raise InputError(
                field="rope_m", expected="the rope's length, for places on the drum", given=None
            )
        return self.rope_m + (corrections or self.corrections).rope_m

    def wound_drum(self, corrections: Corrections | None = None) -> Drum:
        """The drum, corrected.

        Raises
        ------
        InputError
            If no drum is described.
        """
        if self.drum is None:
            raise InputError(
                field="drum", expected="barrel diameter and wraps per layer", given=None
            )
        found = self.corrections if corrections is None else corrections
        return corrected_drum(
            self.drum, barrel_mm=found.barrel_mm, rise_mm=found.rise_mm, wraps=found.wraps
        )

    def uncertainty(self) -> Spread:
        """What is open about the corrections: the tolerances, or what calibration left of them."""
        return self.spread if self.spread is not None else prior_spread(self)


def prior_spread(hoist: Hoist) -> Spread:
    """The tolerances as a spread of independent numbers; what is not described has none."""
    given = hoist.tolerances
    several = hoist.drum is not None and hoist.drum.layers > 1
    rope = 0.0 if hoist.rope_m is None else ROPE_LENGTH_SHARE * hoist.rope_m
    rise = 0.0 if hoist.drum is None else RISE_SHARE * hoist.drum.rope_mm
    halves = {
        "hook_zero_m": given.hook_zero_m,
        "anchor_side_m": 0.0 if hoist.reeving.end_a == "drum" else given.anchor_side_m,
        "lead_m": given.lead_m,
        "rope_m": rope if given.rope_m is None else given.rope_m,
        "barrel_mm": 0.0 if hoist.drum is None else given.barrel_mm,
        "rise_mm": (rise if given.rise_mm is None else given.rise_mm) if several else 0.0,
        "wraps": given.wraps if several else 0.0,
    }
    if hoist.rope_m is None:
        halves["rope_m"] = 0.0
    return Spread.from_matrix(np.diag([(halves[name] / 2) ** 2 for name in PARAMETERS]))


_STEPS: Final = dict.fromkeys(PARAMETERS, 1e-4)


def gradient(value: Callable[[Corrections], float], at: Corrections) -> Floats:
    """Change of a value per unit of each correction, by central differences.

    Parameters
    ----------
    value
        Gives the value for any corrections [-].
    at
        Around which corrections.

    Returns
    -------
    array
        One number per parameter, per its unit [-].
    """
    slopes = []
    for name in PARAMETERS:
        step = _STEPS[name]
        up = replace(at, **{name: getattr(at, name) + step})
        down = replace(at, **{name: getattr(at, name) - step})
        slopes.append((value(up) - value(down)) / (2 * step))
    return np.array(slopes, dtype=np.float64)
