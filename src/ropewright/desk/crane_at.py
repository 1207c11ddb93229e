"""Where the crane may stand for a drawing: its axes with their ends, and one position."""

from dataclasses import dataclass
from datetime import date
from typing import Final

from ropewright.errors import InputError
from ropewright.geometry import Axis, CranePosition
from ropewright.inspection import Asked, Dossier, RiggedHoist, hoist_on

AXIS_NAMES: Final[dict[Axis, tuple[str, str]]] = {
    "hook_m": ("hook height", "m"),
    "radius_m": ("radius", "m"),
    "jib_deg": ("jib angle", "°"),
    "boom_m": ("boom length", "m"),
    "boom_deg": ("boom angle", "°"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class AxisRange:
    """One axis of the crane: from ``low`` [-] to ``high`` [-] in ``unit``, now at ``here`` [-]."""

    axis: Axis
    name: str
    unit: str
    low: float
    high: float
    here: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CraneAt:
    """The rigging of a day, its axes and the position asked for."""

    rigged: RiggedHoist
    axes: tuple[AxisRange, ...]
    position: CranePosition
    asked: tuple[Asked, ...]


def crane_at(dossier: Dossier, on: date, wanted: dict[str, float] | None = None) -> CraneAt:
    """The crane at a position; axes that are not asked for stand in the middle of their travel.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    on
        The day whose rigging counts.
    wanted
        Values by axis [-], in metres or degrees; each is held within the axis' ends.

    Raises
    ------
    InputError
        If too little is known of the rigging.
    """
    rigged = hoist_on(dossier, on)
    axes = []
    for axis in rigged.hoist.reeving.axes:
        bounds = rigged.hoist.travel.range_of(axis)
        if bounds is None:
            continue
        low, high = bounds
        here = (wanted or {}).get(axis, (low + high) / 2)
        name, unit = AXIS_NAMES[axis]
        axes.append(
            AxisRange(
                axis=axis, name=name, unit=unit, low=low, high=high,
                here=min(high, max(low, here)),
            )
        )  # fmt: skip
    if not axes:
        raise InputError(
            field="rigging", expected="the travel of the crane: lowest and highest hook height",
            given=None,
        )  # fmt: skip
    position = CranePosition(**{one.axis: one.here for one in axes})
    asked = (*rigged.asked, *rigged.asked_for_drum)
    return CraneAt(rigged=rigged, axes=tuple(axes), position=position, asked=asked)
