"""How well two findings fit each other, apart from where they lie."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from ropewright.inspection import BrokenWires, Damage, Inspection, RopeFinding, covered

Floats = npt.NDArray[np.float64]

#: Findings that keep their place and can be found again; readings are taken wherever one likes.
_KEEPS_PLACE: Final = ("broken wires", "waviness", "metallic loss")

#: Log-likelihood for each break fewer than before: steel does not heal, but people miss breaks.
_PER_BREAK_LESS: Final = -1.2
#: For strands that agree, and that do not; people number strands afresh, so this says little.
_STRAND_AGREES: Final = 0.7
_STRAND_DIFFERS: Final = -0.7
#: For lengths inside the cluster: their error [mm].
_SPAN_ERR_MM: Final = 25.0
_NEVER: Final = -1e9


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """One finding as the matching sees it: where its middle is and how sure, in [m]."""

    finding: RopeFinding
    at_m: float
    err_m: float


def spots_of(inspection: Inspection) -> tuple[Spot, ...]:
    """The findings of an inspection that keep their place."""
    return tuple(
        Spot(
            finding=one,
            at_m=(one.section.from_m + one.section.to_m) / 2,
            err_m=one.place.rel_err_m,
        )
        for one in inspection.findings
        if isinstance(one, Damage) or one.kind in _KEEPS_PLACE
    )


def likeness(earlier: Sequence[Spot], later: Sequence[Spot]) -> Floats:
    """Logarithm of how much likelier each pair looks if it is the same finding.

    Parameters
    ----------
    earlier, later
        Findings of the two inspections.

    Returns
    -------
    ndarray
        One row for each earlier, one column for each later finding [-].
    """
    table = np.zeros((len(earlier), len(later)))
    for row, then in enumerate(earlier):
        for column, now in enumerate(later):
            table[row, column] = _pair(then.finding, now.finding)
    return table


def _pair(then: RopeFinding, now: RopeFinding) -> float:
    if then.kind != now.kind:
        return _NEVER
    if isinstance(then, BrokenWires) and isinstance(now, BrokenWires):
        return _breaks(then, now)
    if isinstance(then, Damage) and isinstance(now, Damage):
        return 0.0 if then.form in (None, now.form) or now.form is None else -2.0
    return 0.0


def _breaks(then: BrokenWires, now: BrokenWires) -> float:
    total = _PER_BREAK_LESS * max(0, then.count - now.count)
    strands_then = {group.strand for group in then.groups if group.strand is not None}
    strands_now = {group.strand for group in now.groups if group.strand is not None}
    if strands_then and strands_now:
        total += _STRAND_AGREES if strands_then & strands_now else _STRAND_DIFFERS
    if then.count > 1 and now.count == then.count:
        # the same number of breaks must also span the same length
        apart = 1000 * abs(then.section.length_m - now.section.length_m)
        total += 0.7 - min(3.0, 0.5 * (apart / _SPAN_ERR_MM) ** 2)
    sites_then = {group.site for group in then.groups} - {"unknown"}
    sites_now = {group.site for group in now.groups} - {"unknown"}
    if sites_then and sites_now and not sites_then & sites_now:
        total -= 2.0
    return total


def looked_at(spot: Spot, inspection: Inspection, shift_m: float) -> bool:
    """Whether an inspection went over a place by eye, hand or test; ``shift_m`` [m] is its shift.

    An inspection without any recorded pass says nothing of what it went over.
    """
    at_m = spot.at_m + shift_m
    if spot.finding.kind == "metallic loss":
        passes = covered(inspection, "mrt")
    else:
        passes = (*covered(inspection, "eye"), *covered(inspection, "feel"))
    return any(one.from_m <= at_m <= one.to_m for one in passes)


def found_again_chance(spot: Spot, inspection: Inspection) -> float:
    """Chance [-] that what was there before is found again where it was looked for; own figures."""
    methods = {one.method for one in inspection.passes}
    if isinstance(spot.finding, BrokenWires):
        best = 0.9 if "feel" in methods else 0.7
        if spot.finding.ends_broken_off:
            best = 0.5 if "eye" in methods or "eye-round" in methods else 0.2
        return 1 - (1 - best) / math.sqrt(spot.finding.count)
    return 0.85
