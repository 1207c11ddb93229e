"""Crane positions, one or many, and the travel that the limit switches leave."""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal, Self, TypeAlias

import numpy as np
import numpy.typing as npt

from ropewright.errors import InputError

Floats: TypeAlias = npt.NDArray[np.float64]

Axis: TypeAlias = Literal["hook_m", "radius_m", "jib_deg", "boom_m", "boom_deg"]
AXES: Final[tuple[Axis, ...]] = ("hook_m", "radius_m", "jib_deg", "boom_m", "boom_deg")

AXIS_WORDS: Final[dict[Axis, str]] = {
    "hook_m": "the hook height in metres",
    "radius_m": "the radius in metres",
    "jib_deg": "the jib angle in degrees",
    "boom_m": "the boom length in metres",
    "boom_deg": "the boom angle in degrees",
}

# Names of the two limits of each axis in `Travel`.
LIMITS: Final[dict[Axis, tuple[str, str]]] = {
    "hook_m": ("hook_low_m", "hook_high_m"),
    "radius_m": ("radius_min_m", "radius_max_m"),
    "jib_deg": ("jib_min_deg", "jib_max_deg"),
    "boom_m": ("boom_min_m", "boom_max_m"),
    "boom_deg": ("boom_min_deg", "boom_max_deg"),
}


def check_finite(field: str, value: float | None, *, expected: str = "a finite number") -> None:
    """Refuse a value [-] that is not a finite number; none is let through."""
    if value is not None and not math.isfinite(value):
        raise InputError(field=field, expected=expected, given=value)


def check_positive(field: str, value: float | None) -> None:
    """Refuse a value [-] that is not a finite number above zero; none is let through."""
    if value is not None and not (math.isfinite(value) and value > 0):
        raise InputError(field=field, expected="a number above zero", given=value)


def check_not_negative(field: str, value: float | None) -> None:
    """Refuse a value [-] below zero or not finite; none is let through."""
    if value is not None and not (math.isfinite(value) and value >= 0):
        raise InputError(field=field, expected="a number of zero or more", given=value)


@dataclass(frozen=True, slots=True, kw_only=True)
class CranePosition:
    """What fixes the path at one moment; only what the path asks for need be given.

    ``hook_m`` is the hook's height above the zero of its readings.  On a luffing jib the radius
    stands for the jib angle; on a telescopic crane, with the boom's length, for the boom angle.
    ``drum_turns`` [turns] counts the wraps on the drum from the clamp and stands for the hook
    height.
    """

    hook_m: float | None = None
    radius_m: float | None = None
    jib_deg: float | None = None
    boom_m: float | None = None
    boom_deg: float | None = None
    drum_turns: float | None = None

    def __post_init__(self) -> None:
        for axis in AXES:
            check_finite(axis, self.value(axis), expected=AXIS_WORDS[axis])
        check_not_negative("drum_turns", self.drum_turns)

    def value(self, axis: Axis) -> float | None:
        """Value of one axis [m or deg], none if not given.

        Returns
        -------
        float or None
            In metres or degrees as the axis' name says [-].
        """
        value: float | None = getattr(self, axis)
        return value


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CranePositions:
    """Many crane positions: one array per axis that is known, all of one length."""

    hook_m: Floats | None = None
    radius_m: Floats | None = None
    jib_deg: Floats | None = None
    boom_m: Floats | None = None
    boom_deg: Floats | None = None

    def __post_init__(self) -> None:
        shapes = {axis: array.shape for axis in AXES if (array := self.value(axis)) is not None}
        if not shapes:
            raise InputError(
                field="positions", expected="at least one axis of the crane", given=None
            )
        for axis, shape in shapes.items():
            if len(shape) != 1 or shape != next(iter(shapes.values())):
                raise InputError(
                    field=axis,
                    expected="a list of numbers as long as those of the other axes",
                    given=f"an array of shape {shape}",
                )

    def __len__(self) -> int:
        return next(array.size for axis in AXES if (array := self.value(axis)) is not None)

    def value(self, axis: Axis) -> Floats | None:
        """The array of one axis, in metres or degrees as its name says.

        Returns
        -------
        array or None
            One number per position [-], none if the axis is not known.
        """
        value: Floats | None = getattr(self, axis)
        return value

    @classmethod
    def of(cls, **axes: npt.ArrayLike) -> Self:
        """Make positions from numbers or lists of numbers; single numbers hold for all.

        Parameters
        ----------
        **axes
            By the axis' name, in metres or degrees as it says [-].

        Examples
        --------
        >>> len(CranePositions.of(hook_m=[0.0, 10.0, 20.0], radius_m=35.0))
        3
        """
        for axis in axes:
            if axis not in AXES:
                raise InputError(field=axis, expected=f"one of {', '.join(AXES)}", given=axis)
        known = {axis: np.asarray(value, dtype=np.float64) for axis, value in axes.items()}
        try:
            spread = np.broadcast_arrays(*(np.atleast_1d(value) for value in known.values()))
        except ValueError:
            sizes = {axis: int(value.size) for axis, value in known.items()}
            raise InputError(
                field="positions", expected="lists of one length for all axes", given=sizes
            ) from None
        arrays = {
            axis: np.ascontiguousarray(value) for axis, value in zip(known, spread, strict=True)
        }
        return cls(**arrays)

    @classmethod
    def one(cls, position: CranePosition) -> Self:
        """Make an array of one from a single position."""
        known = {axis: value for axis in AXES if (value := position.value(axis)) is not None}
        return cls.of(**known)

    @classmethod
    def many(cls, positions: Sequence[CranePosition]) -> Self:
        """Make arrays from single positions that all know the same axes."""
        axes = [axis for axis in AXES if positions[0].value(axis) is not None]
        columns: dict[str, list[float]] = {axis: [] for axis in axes}
        for position in positions:
            for axis in axes:
                value = position.value(axis)
                if value is None:
                    raise InputError(field=axis, expected=AXIS_WORDS[axis], given=None)
                columns[axis].append(value)
        return cls.of(**columns)

    def part(self, rows: slice | npt.NDArray[np.bool_]) -> "CranePositions":
        """Some of the positions; for a slice a view, so that nothing is copied."""
        arrays = {axis: array[rows] for axis in AXES if (array := self.value(axis)) is not None}
        return CranePositions(**arrays)

    def at(self, index: int) -> CranePosition:
        """One of the positions."""
        values = {
            axis: float(array[index]) for axis in AXES if (array := self.value(axis)) is not None
        }
        return CranePosition(**values)


@dataclass(frozen=True, slots=True, kw_only=True)
class Travel:
    """How far the crane can go: limit switches of the hook, of trolley, jib and boom.

    Axes that the rope's path does not depend on may be left out.  ``ground_m`` is the lowest
    place the hook can get to at all, above the same zero as the hook heights.  ``drop_min_m`` is
    how near the upper limit switch lets the hook sheaves come to the sheaves above them: on a
    jib that luffs or telescopes this bounds the hook at each angle, ``hook_high_m`` at the best.
    """

    hook_low_m: float | None = None
    hook_high_m: float | None = None
    radius_min_m: float | None = None
    radius_max_m: float | None = None
    jib_min_deg: float | None = None
    jib_max_deg: float | None = None
    boom_min_m: float | None = None
    boom_max_m: float | None = None
    boom_min_deg: float | None = None
    boom_max_deg: float | None = None
    ground_m: float = 0.0
    drop_min_m: float = 0.0

    def __post_init__(self) -> None:
        for axis, (low_name, high_name) in LIMITS.items():
            low, high = getattr(self, low_name), getattr(self, high_name)
            check_finite(low_name, low, expected=AXIS_WORDS[axis])
            check_finite(high_name, high, expected=AXIS_WORDS[axis])
            if (low is None) != (high is None):
                raise InputError(
                    field=low_name if low is None else high_name,
                    expected=f"{AXIS_WORDS[axis]}, since the other limit is given",
                    given=None,
                )
            if low is not None and high < low:
                raise InputError(
                    field=high_name, expected=f"at least {low_name}, {low:g}", given=high
                )
        check_finite("ground_m", self.ground_m)
        check_not_negative("drop_min_m", self.drop_min_m)
        if self.hook_low_m is not None and self.hook_low_m < self.ground_m:
            raise InputError(
                field="hook_low_m",
                expected=f"at least ground_m, {self.ground_m:g}",
                given=self.hook_low_m,
                hint="if the hook goes into a pit, give the pit's depth as ground_m",
            )
        for name, least in (("radius_min_m", 0.0), ("boom_min_m", 0.0), ("jib_min_deg", -30.0)):
            value = getattr(self, name)
            if value is not None and value < least:
                raise InputError(field=name, expected=f"at least {least:g}", given=value)
        for name in ("jib_max_deg", "boom_max_deg"):
            value = getattr(self, name)
            if value is not None and value > 90:
                raise InputError(field=name, expected="at most 90 degrees", given=value)

    def range_of(self, axis: Axis) -> tuple[float, float] | None:
        """Lowest and highest value of one axis, none if it is not bounded.

        Returns
        -------
        tuple of float, or None
            In metres or degrees as the axis' name says [-].
        """
        low_name, high_name = LIMITS[axis]
        low, high = getattr(self, low_name), getattr(self, high_name)
        return None if low is None or high is None else (low, high)

    def grid(self, axes: Sequence[Axis], nodes: int) -> CranePositions:
        """All combinations of evenly spaced values of the given axes, corners included."""
        lines = []
        for axis in axes:
            bounds = self.range_of(axis)
            if bounds is None:
                raise InputError(
                    field=LIMITS[axis][0],
                    expected=f"{AXIS_WORDS[axis]}, lowest and highest, because the path needs it",
                    given=None,
                )
            lines.append(np.linspace(*bounds, nodes if bounds[1] > bounds[0] else 1).tolist())
        rows = np.array(list(itertools.product(*lines)), dtype=np.float64)
        return CranePositions.of(**{axis: rows[:, i] for i, axis in enumerate(axes)})
