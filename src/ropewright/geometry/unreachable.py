"""Why no crane position within the limits brings a place in front of a person."""

import itertools
import math
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

import numpy as np

from ropewright.errors import InputError
from ropewright.geometry.frames import DROP
from ropewright.geometry.position import Axis, CranePosition
from ropewright.geometry.rows import row_values
from ropewright.geometry.search import PlaceSearch, Rest

Reason: TypeAlias = Literal[
    "beyond the rope",
    "dead wraps",
    "below the lower limit",
    "above the upper limit",
    "behind the anchor",
    "beyond the limits",
    "not on free rope",
    "rope stands still",
]
REASONS: Final[tuple[Reason, ...]] = (
    "beyond the rope", "dead wraps", "below the lower limit", "above the upper limit",
    "behind the anchor", "beyond the limits", "not on free rope", "rope stands still",
)  # fmt: skip

_NODES: Final = 13


@dataclass(frozen=True, slots=True, kw_only=True)
class Unreachable:
    """Why a place cannot be brought to a point, in one word and in a sentence.

    ``needed`` is the crane position nearest to the limits that would bring it there, if any.
    """

    reason: Reason
    text: str
    needed: CranePosition | None = None


def why_not(search: PlaceSearch, free: list[Axis], point: str) -> Unreachable:
    """The reason why a search found no crane position.

    Parameters
    ----------
    search
        The search that found none.
    free
        The axes the place depends on that are not held.
    point
        Name of the inspection point, for the sentence.
    """
    place_m = search.place_m
    length = search.hoist.rope_length_m() if search.hoist.rope_m is not None else None
    if place_m < 0 or (length is not None and place_m > length):
        said = "the rope" if length is None else f"the rope of {length:.1f} m"
        return Unreachable(
            reason="beyond the rope", text=f"{place_m:.1f} m from end A is not on {said}"
        )
    dead = _dead_wraps(search)
    if dead is not None:
        return dead
    if not free:
        return Unreachable(
            reason="rope stands still",
            text=f"nothing that may move runs the rope past '{point}'",
        )
    if "hook_m" in free:
        return _hook_reason(search, [axis for axis in free if axis != "hook_m"], point)
    return _other_reason(search, free, point)


def _dead_wraps(search: PlaceSearch) -> Unreachable | None:
    """Tell whether the place lies on the drum wherever the crane goes."""
    hoist = search.hoist
    axes = [axis for axis in hoist.reeving.axes if axis not in search.held]
    if any(hoist.travel.range_of(axis) is None for axis in axes):
        return None
    grid = itertools.product(*(search.nodes(axis, _NODES) for axis in axes))
    rows = hoist.rows()
    stacked = np.vstack([rows.base, rows.out])
    always = []
    for values in grid:
        at: Rest = dict(zip(axes, values, strict=True))
        if not search.reachable(at):
            continue
        measures, known = hoist.reeving.frame.measures(search.positions(at))
        first, last = row_values(stacked, measures, known)[:, 0]
        if math.isnan(first) or math.isnan(last):
            return None
        on_a = hoist.reeving.end_a == "drum" and search.place_m < first
        if not (on_a or search.place_m > last):
            return None
        always.append(first - search.place_m if on_a else search.place_m - last)
    if not always:
        return None
    return Unreachable(
        reason="dead wraps",
        text=f"stays on the drum wherever the crane goes: {min(always):.1f} m of rope are "
        "missing for it to come off",
    )


def _hook_reason(search: PlaceSearch, scanned: list[Axis], point: str) -> Unreachable:
    nearest: tuple[float, float, Rest] | None = None
    for values in itertools.product(*(search.nodes(axis, _NODES) for axis in scanned)):
        at: Rest = dict(zip(scanned, values, strict=True))
        hook = search.hook(at)
        beyond = max(_beyond(search, "hook_m", hook), _too_high(search, at, hook))
        if nearest is None or beyond < nearest[0]:
            nearest = (beyond, hook, at)
    if nearest is None or math.isnan(nearest[1]):
        raise InputError(
            field="held", expected="values or limits of the axes the place depends on", given=None
        )
    beyond, hook, at = nearest
    needed = CranePosition(**{**search.held, **at, "hook_m": hook})
    if beyond <= 0:
        return _not_free(search, {**at, "hook_m": hook}, point, needed)
    bounds = search.hoist.travel.range_of("hook_m")
    low, high = bounds if bounds is not None else (hook, hook)
    if hook < low:
        return Unreachable(
            reason="below the lower limit",
            text=f"would need the hook at {hook:.1f} m; it stops at {low:.1f} m",
            needed=needed,
        )
    if _drop(search, at, hook) < search.hoist.corrections.hook_zero_m:
        return Unreachable(
            reason="behind the anchor",
            text="lies between end A and this place even with the block right up",
        )
    stop = min(high, hook - _too_high(search, at, hook))
    return Unreachable(
        reason="above the upper limit",
        text=f"would need the hook at {hook:.1f} m; it stops at {stop:.1f} m",
        needed=needed,
    )


def _drop(search: PlaceSearch, at: Rest, hook: float) -> float:
    """Return how far the hook sheaves hang below those above [m]."""
    measures, _ = search.hoist.reeving.frame.measures(search.positions({**at, "hook_m": hook}))
    return float(measures[DROP, 0])


def _too_high(search: PlaceSearch, at: Rest, hook: float) -> float:
    """Return by how much the block would have to come nearer than the limit switch lets it [m]."""
    return max(search.hoist.travel.drop_min_m - _drop(search, at, hook), 0.0)


def _beyond(search: PlaceSearch, axis: Axis, value: float) -> float:
    bounds = search.hoist.travel.range_of(axis)
    return 0.0 if bounds is None else max(bounds[0] - value, value - bounds[1], 0.0)


def _not_free(search: PlaceSearch, at: Rest, point: str, needed: CranePosition) -> Unreachable:
    before, after = search.gaps(at)
    name = search.rows.before_name if before < after else search.rows.after_name
    return Unreachable(
        reason="not on free rope",
        text=f"at that crane position '{point}' lies beyond the {name}",
        needed=needed,
    )


def _other_reason(search: PlaceSearch, free: list[Axis], point: str) -> Unreachable:
    """Compare the place with all that comes past the point."""
    seen = []
    for values in itertools.product(*(search.nodes(axis, _NODES) for axis in free)):
        at: Rest = dict(zip(free, values, strict=True))
        seen.append(search.offset(at) + search.place_m)
    if min(seen) <= search.place_m <= max(seen):
        return Unreachable(
            reason="not on free rope",
            text=f"where it would come to '{point}', another sheave is in the way",
        )
    if search.place_m < min(seen) and search.rows.before_name == "end A":
        return Unreachable(
            reason="behind the anchor", text="always lies between end A and this place"
        )
    return Unreachable(
        reason="beyond the limits",
        text=f"only {min(seen):.1f} to {max(seen):.1f} m from end A come past here",
    )
