"""Which of several limits is nearest, and which zone is fullest."""

from collections.abc import Sequence

from ropewright.forecast.zone import Limit, Zone


def nearest_limit(zones: Sequence[Zone], limits: Sequence[Limit], governing: str) -> Limit:
    """The limit the forecast names, else the one of which most is used up.

    Parameters
    ----------
    zones
        All zones of the rope.
    limits
        The limits, at least one.
    governing
        The words of the limit that the forecast names.
    """
    for one in limits:
        if one.words == governing:
            return one
    return max(
        limits,
        key=lambda one: (
            max((zone.most_in(one.window_d) for zone in zones if not zone.gone), default=0)
            / one.count,
            -one.count,
        ),
    )


def fullest_zone(zones: Sequence[Zone], limit: Limit) -> Zone:
    """The zone with the most known breaks in the limit's window; one that is still there."""
    here = [zone for zone in zones if not zone.gone] or list(zones)
    return max(here, key=lambda zone: zone.most_in(limit.window_d))
