"""Clusters that could share one window, and how many broken wires a window holds there."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor
from typing import TypeAlias

from ropewright.geometry import Section
from ropewright.inspection import BreakGroup, BrokenWires, CountedGroup, Inspection, worst_window
from ropewright.inspection.windows import NANOMETRES_PER_METRE, nanometres
from ropewright.rules.context import NANOMETRES_PER_MM, Context, Window

#: How far breaks at an end may lie from it [nominal diameters]: one longest plausible lay.
END_ZONE_IN_DIAMETERS = Fraction(29, 4)

#: How to get what is missing where a count straddles its limit.
CLOSE_COUNT = "count it closely: lay a strip of the window's length on the worst spot"


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """One group of broken wires of a cluster, on whole nanometres.

    ``alone`` has the error of a taped offset only; ``apart`` that of the cluster's place too.
    """

    finding: BrokenWires
    group: BreakGroup
    section: Section
    alone: CountedGroup
    apart: CountedGroup


@dataclass(frozen=True, slots=True, kw_only=True)
class Cluster:
    """One cluster of broken wires with the inspection that counted it.

    ``reach`` is where its breaks may lie relative to those of other clusters.
    """

    finding: BrokenWires
    inspection: Inspection
    section: Section
    reach: Section
    spots: tuple[Spot, ...]


#: Whether the breaks of a spot surely count, and whether they may.
Certainty: TypeAlias = Callable[[Spot], tuple[bool, bool]]

#: Clusters with what counts of each: the sure spots and the possible ones.
Sorted: TypeAlias = Sequence[tuple[Cluster, Sequence[Spot], Sequence[Spot]]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Counted:
    """Sure and possible count in the worst window of a group of clusters, and where."""

    lower: int
    upper: int
    section: Section


def clusters_of(context: Context) -> tuple[Cluster, ...]:
    """Clusters that count, in order of place; worked out once for a context."""
    known: tuple[Cluster, ...] | None = context.worked_out.get("clusters")
    if known is None:
        known = tuple(
            sorted(
                (_cluster(*one) for one in context.evidence.broken_wires()),
                key=lambda one: (one.section, one.finding.finding_id),
            )
        )
        context.worked_out["clusters"] = known
    return known


def _cluster(finding: BrokenWires, inspection: Inspection) -> Cluster:
    section = finding.section
    # Rounded down on both sides, so that two breaks exactly one window apart stay within it.
    base = nanometres(finding.place.at_m)
    alone_nm = ceil(finding.offset_err_mm * NANOMETRES_PER_MM)
    apart_nm = alone_nm + nanometres(finding.place.rel_err_m)
    spots = []
    for group in finding.groups:
        ends = {
            "from_nm": base + floor(group.from_mm * NANOMETRES_PER_MM),
            "to_nm": base + floor(group.to_mm * NANOMETRES_PER_MM),
        }
        alone = CountedGroup(**ends, count=group.count, err_nm=alone_nm)
        spots.append(
            Spot(
                finding=finding,
                group=group,
                section=Section(
                    finding.place.at_m + float(group.from_mm) / 1000,
                    finding.place.at_m + float(group.to_mm) / 1000,
                ),
                alone=alone,
                apart=alone
                if apart_nm == alone_nm
                else CountedGroup(**ends, count=group.count, err_nm=apart_nm),
            )
        )
    return Cluster(
        finding=finding,
        inspection=inspection,
        section=section,
        reach=section.widened(finding.place.rel_err_m + float(finding.offset_err_mm) / 1000),
        spots=tuple(spots),
    )


def sort_out(clusters: Iterable[Cluster], certainty: Certainty) -> Sorted:
    """What surely counts and what may count of each cluster."""
    found = []
    for cluster in clusters:
        sure, possible = [], []
        for spot in cluster.spots:
            surely, may = certainty(spot)
            if surely:
                sure.append(spot)
            if may:
                possible.append(spot)
        found.append((cluster, sure, possible))
    return found


def neighbours(clusters: Sorted, window_m: float) -> list[Sorted]:
    """Clusters chained wherever two of them could touch one window [m]."""
    chains: list[list[tuple[Cluster, Sequence[Spot], Sequence[Spot]]]] = []
    end = 0.0
    for one in sorted(clusters, key=_reach):
        reach = one[0].reach
        if chains and reach.from_m <= end + window_m + 1e-9:
            chains[-1].append(one)
            end = max(end, reach.to_m)
        else:
            chains.append([one])
            end = reach.to_m
    return [*chains]


def _reach(one: tuple[Cluster, Sequence[Spot], Sequence[Spot]]) -> Section:
    return one[0].reach


def _lower(clusters: Sorted, window_nm: int) -> int:
    """What is certain: within one cluster, or across clusters of one inspection."""
    best = 0
    together: dict[str, list[Sequence[Spot]]] = {}
    for cluster, sure, _ in clusters:
        if sure:
            worst = worst_window([spot.alone for spot in sure], window_nm)
            best = max(best, worst.lower if worst else 0)
            together.setdefault(cluster.inspection.inspection_id, []).append(sure)
    for own in together.values():
        if len(own) > 1:
            worst = worst_window([spot.apart for sure in own for spot in sure], window_nm)
            best = max(best, worst.lower if worst else 0)
    return best


def count_in_window(clusters: Sorted, window: Window) -> Counted | None:
    """Worst window over neighbouring clusters; ``None`` when no break can count.

    Counts of two inspections at one place may be the same breaks or others: the lower count
    takes one inspection at a time, the upper count takes all of them together.
    """
    held = [possible for _, _, possible in clusters if possible]
    if not held:
        return None
    lower: int | None = None
    if len(held) == 1:  # offsets of one cluster keep their taped error
        worst = worst_window([spot.alone for spot in held[0]], window.longest_nm)
        all_sure = len(held[0]) == sum(len(sure) for _, sure, _ in clusters)
        if worst is not None and all_sure and window.is_known:
            lower = worst.lower
    else:
        worst = worst_window([s.apart for possible in held for s in possible], window.longest_nm)
    if worst is None:
        return None
    return Counted(
        lower=_lower(clusters, window.shortest_nm) if lower is None else lower,
        upper=worst.upper,
        section=Section(worst.from_nm / NANOMETRES_PER_METRE, worst.to_nm / NANOMETRES_PER_METRE),
    )


def spread_of(chain: Sequence[Cluster], counted: Counted) -> Section:
    """The whole length over which a chain of clusters and its worst window reach."""
    return Section(
        min(counted.section.from_m, *(one.section.from_m for one in chain)),
        max(counted.section.to_m, *(one.section.to_m for one in chain)),
    )
