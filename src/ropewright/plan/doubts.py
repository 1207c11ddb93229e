"""Numbers of the set-up that do not go together: said on the plan, for somebody to look again."""

import math
from typing import Final

from ropewright.errors import InputError
from ropewright.geometry import wound
from ropewright.inspection import RiggedHoist
from ropewright.plan.resting import most_rope_off

WRAPS_OVER: Final = 3.0
"""So many more dead wraps than stated are taken for rope in hand for later cuts; own choice."""
WRAPS_UNDER: Final = 0.5
"""So many fewer than stated are taken for rounding; own choice."""


def doubts_of(rigged: RiggedHoist) -> tuple[str, ...]:
    """What does not go together, in words; nothing where that cannot be told.

    Parameters
    ----------
    rigged
        The hoist of the day.
    """
    said = dead_wraps_words(rigged)
    return (said,) if said else ()


def dead_wraps_words(rigged: RiggedHoist) -> str:
    """Dead wraps stated against those worked out from rope, path and drum; empty where they agree.

    Parameters
    ----------
    rigged
        The hoist of the day.
    """
    stated = rigged.rigging.dead_wraps
    if stated is None or rigged.by_payout or rigged.asked_for_drum:
        return ""
    position = most_rope_off(rigged.hoist)
    if position is None:
        return ""
    try:
        left = wound(rigged.hoist, position)
    except InputError:  # rope length not known, or more rope outside than there is
        return ""
    turn_m = left.on_drum_m / left.turns if left.turns else math.inf
    err = left.err_m / turn_m
    over = left.turns - stated
    if -max(WRAPS_UNDER, err) <= over <= max(WRAPS_OVER, err):
        return ""
    if over > 0:
        why = "the rope is longer than needed, or rope length, lowest position or path is not right"
    else:
        why = "too little rope, or rope length, lowest position or path is not right"
    return (
        f"dead wraps: {stated:g} stated, {left.turns:.1f} ± {err:.1f} worked out. Count them: {why}"
    )
