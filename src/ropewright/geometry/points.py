"""Inspection points: where a person stands, tied to a point of the path."""

from dataclasses import dataclass
from typing import Literal, TypeAlias

import numpy as np

from ropewright.errors import InputError, UnknownNameError
from ropewright.geometry.frames import DROP, MEASURES, ONE, Known
from ropewright.geometry.hoist import Hoist
from ropewright.geometry.position import Axis, CranePosition, CranePositions, Floats, check_finite
from ropewright.geometry.reeving import DRUM, DRUM_A, END_A
from ropewright.geometry.rows import Corrections, row_values

Side: TypeAlias = Literal["before", "after"]


@dataclass(frozen=True, slots=True, kw_only=True)
class InspectionPoint:
    """A place where a person stands, so far from a sheave, from end A or from the drum.

    ``at`` names a sheave of the path, 'end A' or 'drum', on a twin drum 'drum A' too; ``side``
    says on which side of it, 'before' it seen from end A or 'after' it; ``offset_m`` how far
    along the rope.
    """

    name: str
    at: str
    side: Side = "before"
    offset_m: float = 0.0

    def __post_init__(self) -> None:
        check_finite("point.offset_m", self.offset_m)
        if self.offset_m < 0:
            raise InputError(
                field="point.offset_m",
                expected="zero or more; the side says which way",
                given=self.offset_m,
            )
        if self.side not in ("before", "after"):
            raise InputError(field="point.side", expected="before or after", given=self.side)
        wrong = "before" if self.at in (END_A, DRUM_A) else "after" if self.at == DRUM else None
        if self.side == wrong:
            raise InputError(
                field="point.side",
                expected=f"'after' at {END_A} or {DRUM_A}, 'before' at the {DRUM}",
                given=self.side,
            )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PointRows:
    """A point as rows over the measures: itself [m], the contacts before and after it.

    ``here`` [m] is the point; ``before`` [m] where the rope leaves the contact on end A's side,
    ``after`` [m] where it meets the contact on the drum's side.
    """

    here: Floats
    before: Floats
    after: Floats
    before_name: str
    after_name: str


def point_rows(
    hoist: Hoist, point: InspectionPoint, corrections: Corrections | None = None
) -> PointRows:
    """The rows of an inspection point and of its neighbours along the path."""
    rows = hoist.rows(corrections)
    reeving = hoist.reeving
    if point.at == DRUM_A and reeving.end_a != "drum":
        raise UnknownNameError(
            what="a place on this path", given=DRUM_A, known=[END_A, DRUM], field="at"
        )
    names = [contact.name for contact in reeving.contacts]
    first = DRUM_A if reeving.end_a == "drum" else END_A
    after_index = (
        0
        if point.at in (END_A, DRUM_A)
        else len(names)
        if point.at == DRUM
        else reeving.index(point.at) + (point.side == "after")
    )
    before = rows.base if after_index == 0 else rows.end[after_index - 1]
    after = rows.out if after_index == len(names) else rows.start[after_index]
    offset = np.zeros(MEASURES)
    offset[ONE] = point.offset_m
    return PointRows(
        here=before + offset if point.side == "after" else after - offset,
        before=before,
        after=after,
        before_name=first if after_index == 0 else names[after_index - 1],
        after_name=DRUM if after_index == len(names) else names[after_index],
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PointValues:
    """A point at many positions: path position, and free rope to the contacts on either side."""

    path_m: Floats
    to_before_m: Floats
    to_after_m: Floats

    @property
    def free(self) -> np.ndarray[tuple[int, ...], np.dtype[np.bool_]]:
        """Whether the point lies on free rope, or just touches a contact."""
        nothing = -1e-9
        return (self.to_before_m >= nothing) & (self.to_after_m >= nothing)


def point_values(rows: PointRows, measures: Floats, known: Known) -> PointValues:
    """Values of a point's rows.

    Parameters
    ----------
    rows
        The point's rows.
    measures
        One row per measure in [m] or [rad].
    known
        Which measures are known.
    """
    stacked = np.vstack([rows.here, rows.here - rows.before, rows.after - rows.here])
    here, before, after = row_values(stacked, measures, known)
    return PointValues(path_m=here, to_before_m=before, to_after_m=after)


def axes_of(hoist: Hoist, row: Floats) -> tuple[Axis, ...]:
    """The crane's axes on which a row [m] depends, the hook first."""
    needs = hoist.reeving.frame.needs
    used = {axis for measure, axes in needs.items() if row[measure] for axis in axes}
    return tuple(axis for axis in hoist.reeving.axes if axis in used)


def hook_for(hoist: Hoist, row: Floats, wanted_m: Floats, others: CranePositions) -> Floats:
    """Hook readings at which a row takes wanted values, other axes as given.

    Parameters
    ----------
    hoist
        The hoist.
    row
        A row that depends on the hook [m].
    wanted_m
        One wanted value per position [m].
    others
        The other axes; a hook height in them is not used.

    Returns
    -------
    array
        Hook heights [m].
    """
    at_zero = CranePositions(
        hook_m=np.zeros(len(others)),
        radius_m=others.radius_m,
        jib_deg=others.jib_deg,
        boom_m=others.boom_m,
        boom_deg=others.boom_deg,
    )
    measures, known = hoist.reeving.frame.measures(at_zero)
    value = row_values(row[np.newaxis, :], measures, known)[0]
    hook: Floats = (value - wanted_m) / row[DROP]
    return hook


def position_from_turns(
    hoist: Hoist, position: CranePosition, corrections: Corrections | None = None
) -> CranePosition:
    """The crane position with the hook height worked out from the drum's turns, if those count.

    Raises
    ------
    InputError
        If rope length or drum are not known, or both hook height and turns are given.
    """
    if position.drum_turns is None:
        return position
    if position.hook_m is not None:
        raise InputError(
            field="drum_turns", expected="either the hook height or drum turns", given="both"
        )
    drum = hoist.wound_drum(corrections)
    length = hoist.rope_length_m(corrections)
    on_drum = float(drum.metres_at_turns(np.array([position.drum_turns]))[0])
    row = hoist.rows(corrections).out
    axes = {
        axis: value
        for axis in ("radius_m", "jib_deg", "boom_m", "boom_deg")
        if (value := getattr(position, axis)) is not None
    }
    others = CranePositions.of(hook_m=0.0, **axes)
    hook = float(hook_for(hoist, row, np.array([length - on_drum]), others)[0])
    if np.isnan(hook):
        raise InputError(
            field="position", expected="the axes that the path depends on", given=sorted(axes)
        )
    return CranePosition(hook_m=hook, **axes)
