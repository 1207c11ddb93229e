"""Cuts and end-for-end turns: which steel is left, and where it lies on the path of a day.

A rope position is metres in the rope's own steel from end A as first installed; it never
changes.  A path position is metres along the path of a day from where the rope leaves end A's
fitting.  A cut at end A takes the rope that lies at end A on that day, whichever steel that is.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final, Literal, TypeAlias, overload

from ropewright.errors import HistoryError

_TOUCH_M: Final = 1e-9  # a nanometre over the edge is on the edge


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """``length_m`` of rope was taken off at end A or end B as they were on that day."""

    on: date
    end: Literal["A", "B"]
    length_m: float
    reason: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class EndForEnd:
    """The rope was turned: what was at end A is at end B."""

    on: date
    reason: str = ""


Step: TypeAlias = Cut | EndForEnd


@dataclass(frozen=True, slots=True, kw_only=True)
class PathMap:
    """How rope positions and path positions belong together on one day.

    ``first_rope_m`` to ``last_rope_m`` is the rope still there; ``turned`` says that the path runs
    against the direction in which the rope's steel is measured.
    """

    first_rope_m: float
    last_rope_m: float
    turned: bool = False

    @property
    def in_service(self) -> tuple[float, float]:
        """First and last rope position that is still there [m]."""
        return self.first_rope_m, self.last_rope_m

    @property
    def length_m(self) -> float:
        """Length of rope that is still there [m]."""
        return self.last_rope_m - self.first_rope_m

    def is_in_service(self, rope_m: float) -> bool:
        """Whether the steel at ``rope_m`` [m] has not been cut off."""
        return self.first_rope_m - _TOUCH_M <= rope_m <= self.last_rope_m + _TOUCH_M

    @overload
    def to_path_m(self, rope_m: float) -> float: ...
    @overload
    def to_path_m(self, rope_m: Sequence[float]) -> list[float]: ...
    def to_path_m(self, rope_m: float | Sequence[float]) -> float | list[float]:
        """Path position of the steel at a rope position.

        Parameters
        ----------
        rope_m
            Rope position, or several [m].

        Returns
        -------
        float or list of float
            Metres along the path from end A's fitting [m].

        Raises
        ------
        HistoryError
            If a place has been cut off or was never there.
        """
        return _each(rope_m, self._one_to_path_m)

    @overload
    def to_rope_m(self, path_m: float) -> float: ...
    @overload
    def to_rope_m(self, path_m: Sequence[float]) -> list[float]: ...
    def to_rope_m(self, path_m: float | Sequence[float]) -> float | list[float]:
        """Rope position of the steel at a path position.

        Parameters
        ----------
        path_m
            Metres along the path from end A's fitting, or several [m].

        Returns
        -------
        float or list of float
            Rope position [m].

        Raises
        ------
        HistoryError
            If the path has no such place.
        """
        return _each(path_m, self._one_to_rope_m)

    def _one_to_path_m(self, rope_m: float) -> float:
        if not self.is_in_service(rope_m):
            raise HistoryError(
                field="rope_m",
                expected=f"a place on the rope that is left, "
                f"{self.first_rope_m:.3f} m to {self.last_rope_m:.3f} m",
                given=f"{rope_m:.3f} m",
            )
        path_m = self.last_rope_m - rope_m if self.turned else rope_m - self.first_rope_m
        return min(max(path_m, 0.0), self.length_m)

    def _one_to_rope_m(self, path_m: float) -> float:
        if not -_TOUCH_M <= path_m <= self.length_m + _TOUCH_M:
            raise HistoryError(
                field="path_m",
                expected=f"a place on the path, 0.000 m to {self.length_m:.3f} m",
                given=f"{path_m:.3f} m",
            )
        rope_m = self.last_rope_m - path_m if self.turned else self.first_rope_m + path_m
        return min(max(rope_m, self.first_rope_m), self.last_rope_m)


def _each(places_m: float | Sequence[float], turn: Callable[[float], float]) -> float | list[float]:
    if isinstance(places_m, Sequence):
        return [turn(place_m) for place_m in places_m]
    return turn(places_m)


@dataclass(frozen=True, slots=True, kw_only=True)
class RopeHistory:
    """All cuts and end-for-end turns of one rope, in the order of their dates.

    ``original_length_m`` is the length as first installed.  Steps of one day keep the order in
    which they are given.
    """

    original_length_m: float
    steps: tuple[Step, ...] = ()

    def __post_init__(self) -> None:
        """Put the steps in order and refuse cuts that the rope has no length for."""
        if not (math.isfinite(self.original_length_m) and self.original_length_m > 0):
            raise HistoryError(
                field="original_length_m",
                expected="a length above zero",
                given=self.original_length_m,
            )
        numbered = sorted(enumerate(self.steps), key=lambda pair: pair[1].on)
        state = PathMap(first_rope_m=0.0, last_rope_m=self.original_length_m)
        for number, step in numbered:
            state = _after(state, step, field=f"history[{number}]")
        object.__setattr__(self, "steps", tuple(step for _, step in numbered))

    def at(self, on: date, *, start_of_day: bool = False) -> PathMap:
        """Return how places belonged together on a day.

        Parameters
        ----------
        on
            The day.
        start_of_day
            Take the rope as it was before the cuts and turns of that day; otherwise they are
            done.
        """
        state = PathMap(first_rope_m=0.0, last_rope_m=self.original_length_m)
        for step in self.steps:
            if step.on < on or (step.on == on and not start_of_day):
                state = _after(state, step, field="history")
        return state

    def cut_off_on(self, rope_m: float) -> date | None:
        """Return the day on which the steel at ``rope_m`` [m] was cut off; none if it was not.

        Raises
        ------
        HistoryError
            If the rope never had such a place.
        """
        state = PathMap(first_rope_m=0.0, last_rope_m=self.original_length_m)
        state.to_path_m(rope_m)
        for step in self.steps:
            state = _after(state, step, field="history")
            if not state.is_in_service(rope_m):
                return step.on
        return None


def _after(state: PathMap, step: Step, *, field: str) -> PathMap:
    """Return the state after one step."""
    if isinstance(step, EndForEnd):
        return PathMap(
            first_rope_m=state.first_rope_m, last_rope_m=state.last_rope_m, turned=not state.turned
        )
    if step.end not in ("A", "B"):
        raise HistoryError(field=f"{field}.end", expected='"A" or "B"', given=step.end)
    if not (math.isfinite(step.length_m) and step.length_m > 0):
        raise HistoryError(
            field=f"{field}.length", expected="a length above zero", given=f"{step.length_m} m"
        )
    if step.length_m >= state.length_m:
        raise HistoryError(
            f"the cut of {step.on.isoformat()} leaves no rope",
            field=f"{field}.length",
            expected=f"less than the {state.length_m:.3f} m that were left",
            given=f"{step.length_m:.3f} m",
        )
    at_low_end = (step.end == "A") != state.turned
    return PathMap(
        first_rope_m=state.first_rope_m + (step.length_m if at_low_end else 0.0),
        last_rope_m=state.last_rope_m - (0.0 if at_low_end else step.length_m),
        turned=state.turned,
    )
