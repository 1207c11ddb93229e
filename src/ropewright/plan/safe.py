"""In which direction the rope may run at a point, and whether a hand may be near."""

from collections.abc import Mapping
from typing import Final

from ropewright.geometry import (
    AwayFromNip,
    CranePosition,
    Hoist,
    InspectionPoint,
    NoWay,
    away_from_nip,
)
from ropewright.plan.assumed import AHEAD_LEAST_M, NEAREST_LEAST_M
from ropewright.plan.model import Direction

NO_DIRECTION: Final = "no safe direction: by eye, or stop and feel"

_MOTION_WORDS: Final[Mapping[str, str]] = {
    "hook up": "run the hook up",
    "hook down": "run the hook down",
    "trolley out": "run the trolley out",
    "trolley in": "run the trolley in",
    "jib up": "raise the jib",
    "jib down": "lower the jib",
    "boom out": "telescope the boom out",
    "boom in": "telescope the boom in",
    "boom up": "raise the boom",
    "boom down": "lower the boom",
}

_WHY_WORDS: Final[Mapping[NoWay, str]] = {
    "not all sheaves are known": "not all sheaves of the path are known",
    "the point itself moves": "the place itself moves",
    "the rope does not run here": "the rope does not run here",
    "the rope reverses on the way": "the rope reverses on the way",
    "the nearest nip changes on the way": "the nearest nip changes on the way",
    "the nearest nip comes along behind": "the nearest nip comes along behind the hand",
    "not on free rope all the way": "the place is not on free rope all the way",
    "a distance is not known": "a distance to a nip is not known",
}


def direction_at(
    hoist: Hoist, point: InspectionPoint, start: CranePosition, end: CranePosition, *, by_hand: bool
) -> Direction:
    """The direction in which the rope may run at a point, over a whole pass.

    Parameters
    ----------
    hoist
        The hoist as rigged now.
    point
        Where hand or eye is.
    start, end
        The pass.
    by_hand
        Whether a hand gets at the rope there at all.
    """
    found = away_from_nip(hoist, point, start, end)
    if found.motion is None or found.nearest_m is None or found.ahead_m is None:
        why = found.why_none
        said = f" ({_WHY_WORDS[why]})" if why is not None else ""
        return Direction(motion=None, words=NO_DIRECTION + said, hand=False, why_none=why)
    near = _too_near(found)
    words = (
        f"{_MOTION_WORDS[found.motion]}: the rope runs away from the {found.nearest}, "
        f"{found.nearest_m:.1f} m behind; next nip ahead: {found.ahead}, {found.ahead_m:.1f} m"
    )
    if near:
        words = f"{NO_DIRECTION} ({near})"
    return Direction(
        motion=None if near else found.motion,
        words=words,
        hand=by_hand and not near,
        nearest=found.nearest,
        nearest_m=found.nearest_m,
        ahead=found.ahead,
        ahead_m=found.ahead_m,
    )


def _too_near(found: AwayFromNip) -> str:
    """Return which nip is too near for a hand, in words; empty if none is."""
    if found.ahead_m is not None and found.ahead_m < AHEAD_LEAST_M:
        return f"the {found.ahead} is only {found.ahead_m:.1f} m ahead"
    if found.nearest_m is not None and found.nearest_m < NEAREST_LEAST_M:
        return f"the {found.nearest} is only {found.nearest_m:.1f} m away"
    return ""
