"""Where the crane stands with the most rope off the drum, and how that is said."""

from ropewright.errors import InputError
from ropewright.geometry import CranePosition, Hoist, trace
from ropewright.inspection import RiggedHoist
from ropewright.plan.travel import position_words


def most_rope_off(hoist: Hoist) -> CranePosition | None:
    """The corner of the crane's travel at which the most rope is off the drum, if known."""
    try:
        grid = hoist.travel.grid(hoist.reeving.axes, 3)
    except InputError:
        return None
    found = trace(hoist, grid)
    outside = found.out_m - found.base_m
    return None if bool((outside != outside).any()) else grid.at(int(outside.argmax()))


def has_hook(rigged: RiggedHoist) -> bool:
    """Whether the rope moves with the hook's height: a trolley or luffing rope does not."""
    return "hook_m" in rigged.hoist.reeving.axes


def rope_off_words(rigged: RiggedHoist) -> str:
    """How the crane stands with the most rope off the drum: 'hook at its lowest'."""
    if has_hook(rigged):
        return "hook at its lowest"
    at = most_rope_off(rigged.hoist)
    return "most rope off the drum" if at is None else position_words(at)
