"""A hoist of which little is known: falls and two hook heights give places by payout alone."""

import math
from typing import Final

from ropewright.errors import InputError
from ropewright.geometry.drum import Drum
from ropewright.geometry.falls import Lead
from ropewright.geometry.frames import LevelTrack
from ropewright.geometry.hoist import Hoist, ReadingErrors, Tolerances
from ropewright.geometry.position import Travel, check_not_negative
from ropewright.geometry.reeving import Contact, Reeving, Span

UNKNOWN_OUT_M: Final = 100.0
"""Rope outside with the hook at its highest lies between 0 and this if nobody knows; own."""


def hoist_by_payout(
    *,
    falls: float,
    hook_low_m: float,
    hook_high_m: float,
    out_at_top_m: float | None = None,
    out_at_top_err_m: float = 0.5,
    lead: Lead | None = None,
    rope_m: float | None = None,
    drum: Drum | None = None,
    ground_m: float | None = None,
    readings: ReadingErrors | None = None,
) -> Hoist:
    """A hoist from falls and two hook heights; each further datum narrows the ± of its places.

    Places are right among each other from the start.  How far they are from end A depends on the
    rope that is outside with the hook at its highest; if that is not given it is taken as
    somewhere between nothing and 100 m, or what the rope's length leaves, and the ± says so.

    Parameters
    ----------
    falls
        Metres of rope per metre of hook travel [-].
    hook_low_m, hook_high_m
        Lowest and highest hook height [m].
    out_at_top_m
        Rope from end A to the drum with the hook at its highest [m].
    out_at_top_err_m
        ± of that [m].
    lead
        Root sheave and rope from there to the drum, if known.
    rope_m
        Length of the rope [m].
    drum
        The drum, if known.
    ground_m
        Lowest place the hook can get to [m]; `hook_low_m` or 0, whichever is lower, if not given.
    readings
        How well things are read.
    """
    if not falls > 0:
        raise InputError(field="falls", expected="a number above zero", given=falls)
    check_not_negative("out_at_top_m", out_at_top_m)
    check_not_negative("out_at_top_err_m", out_at_top_err_m)
    ground = min(hook_low_m, 0.0) if ground_m is None else ground_m
    travel = Travel(hook_low_m=hook_low_m, hook_high_m=hook_high_m, ground_m=ground)
    end = Lead(to_drum_m=0.0) if lead is None else lead
    inside = _length_of(end)
    if out_at_top_m is None:
        travelled = falls * (hook_high_m - hook_low_m)
        least, most = _out_at_top(inside, travelled, rope_m, drum)
        out, err = (least + most) / 2, (most - least) / 2
    else:
        out, err = out_at_top_m, out_at_top_err_m
    if out < inside:
        raise InputError(
            field="out_at_top_m",
            expected=f"at least the rope from the root sheave to the drum, {inside:g}",
            given=out,
        )
    reeving = Reeving(
        name="hoist rope by payout",
        frame=LevelTrack(sheave_height_m=hook_high_m),
        elements=(
            Span(name="outside with the hook at its highest", fixed_m=out - inside),
            Span(name="falls", per_drop=float(falls)),
            *end.elements,
        ),
        all_sheaves=False,
    )
    return Hoist(
        reeving=reeving,
        travel=travel,
        rope_m=rope_m,
        drum=drum,
        tolerances=Tolerances(anchor_side_m=err, lead_m=0.5 if lead is not None else 0.0),
        readings=readings or ReadingErrors(),
    )


def _length_of(lead: Lead) -> float:
    """Return the rope from the root sheave to the drum, arcs included [m]."""
    length = 0.0
    for element in lead.elements:
        if isinstance(element, Contact):
            length += element.radius_m * math.radians(element.wrap_deg)
        else:
            length += element.fixed_m
    return length


def _out_at_top(
    inside_m: float, travelled_m: float, rope_m: float | None, drum: Drum | None
) -> tuple[float, float]:
    """Return least and most rope that can be outside with the hook at its highest [m]."""
    if rope_m is None:
        return inside_m, max(UNKNOWN_OUT_M, inside_m)
    least = inside_m if drum is None else max(inside_m, rope_m - drum.capacity_m)
    most = rope_m - travelled_m
    if most < least:
        raise InputError(
            field="rope_m",
            expected=f"at least what lead and hook travel take, {least + travelled_m:g}",
            given=rope_m,
        )
    return least, most
