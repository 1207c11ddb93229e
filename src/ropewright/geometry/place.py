"""Places in their three frames, each with its two errors."""

import math
from dataclasses import dataclass
from typing import Self

from ropewright.errors import InputError


def _check_number(value: float, *, field: str, least: float | None = None) -> None:
    if not math.isfinite(value) or (least is not None and value < least):
        bound = "" if least is None else f" of at least {least:g}"
        raise InputError(field=field, expected=f"a finite number of metres{bound}", given=value)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Place:
    """A place in one frame; ``abs_err_m`` is shared by a pass, ``rel_err_m`` is not.

    ``abs_err_m`` [m] is the error common to everything one pass placed; it never changes a
    count.  ``rel_err_m`` [m] is the error between two places of the same pass; it is the only
    one used to ask whether two breaks could lie within one window.
    """

    at_m: float
    abs_err_m: float = 0.0
    rel_err_m: float = 0.0

    def __post_init__(self) -> None:
        _check_number(self.at_m, field="place")
        _check_number(self.abs_err_m, field="abs_err_m", least=0.0)
        _check_number(self.rel_err_m, field="rel_err_m", least=0.0)

    def distance_m(self, other: Self) -> float:
        """Distance to another place of the same frame.

        Returns
        -------
        float
            The distance along the frame [m].

        Raises
        ------
        TypeError
            If the other place belongs to another frame.
        """
        if type(other) is not type(self):
            raise TypeError(
                f"cannot measure from a {type(self).__name__} to a {type(other).__name__}: "
                "they belong to different frames"
            )
        return abs(self.at_m - other.at_m)


@dataclass(frozen=True, slots=True, kw_only=True)
class RopePlace(_Place):
    """A place in the rope's own steel: metres from end A as first installed [m]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PathPlace(_Place):
    """A place on today's path: metres from where the rope leaves end A's fitting [m]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DrumPlace(_Place):
    """A place on the drum: metres of rope from the drum clamp [m]."""
