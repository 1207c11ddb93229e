"""A growth rule of our own: signs of growth at which a person decides, whatever the model says."""

from collections.abc import Sequence
from typing import Final

from ropewright.forecast.zone import UNIT_D, Look, Zone
from ropewright.inspection.findings import CLOSENESS

FIRST_CLUSTER: Final = 2
"""So many breaks within 6 d where none was known before are a first cluster; own."""

DOUBLED_BY: Final = 2
"""A doubling counts only if at least so many are new: one becoming two may be chance; own."""


def signs_of_growth(zones: Sequence[Zone]) -> tuple[str, ...]:
    """Why the competent person has to decide now: a first cluster, a doubling.

    A closer look that finds more is not growth: a doubling counts only against passes that
    looked as closely.
    """
    found: list[str] = []
    for zone in zones:
        if zone.gone or not zone.looks or zone.known == 0:
            continue
        last = zone.looks[-1].clock
        before = [look for look in zone.looks if look.clock < last]
        now = [look for look in zone.looks if look.clock == last and look.new]
        known = sum(look.new for look in before)
        new = zone.known - known
        if not now:
            continue
        where = f" in {zone.name}" if zone.name else ""
        if known == 0 and zone.most_in(UNIT_D) >= FIRST_CLUSTER:
            found.append(
                f"first cluster{where}: {zone.most_in(UNIT_D)} broken wires within 6 d, "
                "where none was known before"
            )
        elif known and new >= max(known, DOUBLED_BY) and _as_close(before, now):
            found.append(
                f"the count doubled{where} between two inspections: from {known} to {zone.known}"
            )
    return tuple(found)


def _as_close(before: Sequence[Look], now: Sequence[Look]) -> bool:
    closest = max((CLOSENESS[look.method] for look in before), default=0)
    return all(CLOSENESS[look.method] <= closest for look in now)
