"""Can this path exist: no span shorter than nothing, enough rope, room on the drum."""

from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from ropewright.errors import InputError
from ropewright.geometry.drum import Drum
from ropewright.geometry.frames import DROP, Known
from ropewright.geometry.position import (
    LIMITS,
    Axis,
    CranePosition,
    CranePositions,
    Floats,
    Travel,
    check_positive,
)
from ropewright.geometry.reeving import Contact, Reeving, Span, path_table
from ropewright.geometry.rows import path_rows, row_values

Mask: TypeAlias = npt.NDArray[np.bool_]

_NODES = 5
_NOTHING_M = 1e-9


def check_travel(reeving: Reeving, travel: Travel) -> None:
    """Refuse a travel in which a span or a wrap would become negative; name the limit."""
    every = _places(reeving, travel)
    if every is None:
        return
    measures, known = reeving.frame.measures(every)
    mask = reachable(reeving, travel, measures, known)
    _check_upper_limit(travel, every, measures, mask)
    places, measures = every.part(mask), measures[:, mask]
    table = path_table(reeving)
    lengths = row_values(table.spans, measures, known)
    for span, length in zip(reeving.spans, lengths, strict=True):
        if np.nanmin(length, initial=0.0) < -_NOTHING_M:
            at = int(np.nanargmin(length))
            raise _short_span(span, float(length[at]), places.at(at), travel)
    arcs = row_values(table.arcs, measures, known)
    for contact, arc in zip(reeving.contacts, arcs, strict=True):
        wrap = np.degrees(arc / contact.radius_m)
        for worst in (np.nanmin(wrap, initial=0.0), np.nanmax(wrap, initial=0.0)):
            if not -1e-9 <= worst < 360:
                at = int(np.nanargmin(np.abs(wrap - worst)))
                raise _bad_wrap(contact, float(worst), places.at(at))


def reachable(reeving: Reeving, travel: Travel, measures: Floats, known: Known) -> Mask:
    """Which positions the block does not bar: those that leave it room below the sheaves above.

    Parameters
    ----------
    reeving, travel
        The path and its bounds.
    measures
        One row per measure in [m] or [rad].
    known
        Which measures are known.
    """
    if not known[DROP] or not any(span.per_drop for span in reeving.spans):
        return np.ones(measures.shape[1], dtype=np.bool_)
    mask: Mask = measures[DROP] >= travel.drop_min_m - _NOTHING_M
    return mask


def _check_upper_limit(
    travel: Travel, places: CranePositions, measures: Floats, mask: Mask
) -> None:
    """Refuse a highest hook position that cannot be reached in any position of the jib."""
    if travel.hook_high_m is None or places.hook_m is None:
        return
    at_top = places.hook_m == travel.hook_high_m
    if not mask[at_top].any():
        bound = float(np.max((measures[DROP] + places.hook_m)[at_top])) - travel.drop_min_m
        raise InputError(
            field="hook_high_m",
            expected=f"at most {bound:g}, where the block meets the sheaves above it",
            given=travel.hook_high_m,
            hint="or give the true height of the upper sheaves",
        )


def _places(reeving: Reeving, travel: Travel) -> CranePositions | None:
    axes = [axis for axis in reeving.axes if travel.range_of(axis) is not None]
    if "jib_deg" in reeving.axes and "jib_deg" not in axes and travel.range_of("radius_m"):
        axes.append("radius_m")
    if "boom_deg" in reeving.axes and "boom_deg" not in axes and "boom_m" in axes:
        return None if travel.range_of("radius_m") else travel.grid(axes, _NODES)
    return travel.grid(axes, _NODES) if axes else None


def _said(position: CranePosition) -> str:
    words: dict[Axis, str] = {
        "hook_m": "hook at {:g} m",
        "radius_m": "radius {:g} m",
        "jib_deg": "jib at {:g} degrees",
        "boom_m": "boom of {:g} m",
        "boom_deg": "boom at {:g} degrees",
    }
    known = [(words[axis], position.value(axis)) for axis in words]
    return ", ".join(text.format(value) for text, value in known if value is not None)


def _short_span(span: Span, length_m: float, at: CranePosition, travel: Travel) -> InputError:
    """Name the limit of travel, or else the fixed length, that makes a span negative."""
    where = f"rope '{span.name}' would be {length_m:.3f} m long with {_said(at)}"
    if span.per_radius and at.radius_m is not None:
        bound = at.radius_m - length_m / span.per_radius
        field = LIMITS["radius_m"][span.per_radius < 0]
        word = "at most" if span.per_radius < 0 else "at least"
        return InputError(
            where, field=field, expected=f"{word} {bound:g}", given=getattr(travel, field)
        )
    if span.per_drop > 0:
        return InputError(
            where,
            field="drop_min_m",
            expected=f"at least {travel.drop_min_m - length_m / span.per_drop:g}, the room the "
            "upper limit switch leaves below the sheaves above",
            given=travel.drop_min_m,
        )
    return InputError(
        where,
        field=f"span '{span.name}'.fixed_m",
        expected=f"at least {span.fixed_m - length_m:g}",
        given=span.fixed_m,
    )


def _bad_wrap(contact: Contact, wrap_deg: float, at: CranePosition) -> InputError:
    turning = contact.wrap_per_tie or contact.wrap_per_jib
    said = f" with {_said(at)}" if turning else ""
    return InputError(
        field=f"sheave '{contact.name}'.wrap_deg",
        expected=f"a wrap from 0 to less than 360 degrees{said}",
        given=f"{wrap_deg:.1f}",
        hint="check lead_deg" if contact.wrap_per_tie < 0 else None,
    )


def check_rope(reeving: Reeving, travel: Travel, rope_m: float | None, drum: Drum | None) -> None:
    """Refuse a rope too short for the travel, or too long for the drum.

    Parameters
    ----------
    reeving, travel, drum
        The path, its bounds and what winds the rope.
    rope_m
        Length of the rope [m].
    """
    check_positive("rope_m", rope_m)
    every = _places(reeving, travel)
    if rope_m is None or every is None:
        return
    rows = path_rows(reeving, rope_m=rope_m)
    measures, known = reeving.frame.measures(every)
    mask = reachable(reeving, travel, measures, known)
    places, measures = every.part(mask), measures[:, mask]
    outside = row_values(rows.out - rows.base, measures, known)
    if np.isnan(outside).any():
        return
    most = int(np.argmax(outside))
    if outside[most] > rope_m:
        raise InputError(
            field="rope_m",
            expected=f"at least {outside[most]:.3f}, the rope off the drum with "
            f"{_said(places.at(most))}",
            given=rope_m,
            hint="or raise the lower limit of the hook",
        )
    sides = 2 if reeving.end_a == "drum" else 1
    wound = (rope_m - float(outside.min())) / sides
    if drum is not None and wound > drum.capacity_m + _NOTHING_M:
        raise InputError(
            field="drum.wraps",
            expected=f"layers and wraps that hold {wound:.3f} m, the rope on the drum with "
            f"{_said(places.at(int(np.argmin(outside))))}",
            given=f"{drum.layers} layers that hold {drum.capacity_m:.3f} m",
        )
