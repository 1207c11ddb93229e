"""Clusters that could share one window, and how many broken wires a window holds there."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor

from ropewright.geometry import Section
from ropewright.inspection import BreakGroup, BrokenWires, CountedGroup, Inspection, worst_window
from ropewright.inspection.windows import NANOMETRES_PER_METRE, nanometres
from ropewright.rules.context import NANOMETRES_PER_MM, Window

#: How far breaks at an end may lie from it [nominal diameters]: one longest plausible lay.
END_ZONE_IN_DIAMETERS = Fraction(29, 4)

#: How to get what is missing where a count straddles its limit.
CLOSE_COUNT = "count it closely: lay a strip of the window's length on the worst spot"

Certainty = Callable[[BrokenWires, BreakGroup], tuple[bool, bool]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cluster:
    """One cluster of broken wires with the inspection that counted it."""

    finding: BrokenWires
    inspection: Inspection
    section: Section

    @property
    def reach(self) -> Section:
        """Where its breaks may lie relative to those of other clusters."""
        finding = self.finding
        return self.section.widened(finding.place.rel_err_m + float(finding.offset_err_mm) / 1000)


@dataclass(frozen=True, slots=True, kw_only=True)
class Counted:
    """Sure and possible count in the worst window of a group of clusters, and where."""

    lower: int
    upper: int
    section: Section


def clusters_of(found: Sequence[tuple[BrokenWires, Inspection]]) -> list[Cluster]:
    """Clusters in order of place."""
    clusters = [
        Cluster(finding=finding, inspection=inspection, section=finding.section)
        for finding, inspection in found
    ]
    return sorted(clusters, key=lambda one: (one.section, one.finding.finding_id))


def neighbours(clusters: Sequence[Cluster], window_m: float) -> list[list[Cluster]]:
    """Clusters chained wherever two of them could touch one window [m]."""
    chains: list[list[Cluster]] = []
    end = 0.0
    for cluster in sorted(clusters, key=lambda one: one.reach):
        reach = cluster.reach
        if chains and reach.from_m <= end + window_m + 1e-9:
            chains[-1].append(cluster)
            end = max(end, reach.to_m)
        else:
            chains.append([cluster])
            end = reach.to_m
    return chains


def _counted(cluster: Cluster, group: BreakGroup, err_nm: int) -> CountedGroup:
    # Rounded down on both sides, so that two breaks exactly one window apart stay within it.
    base = nanometres(cluster.finding.place.at_m)
    return CountedGroup(
        from_nm=base + floor(group.from_mm * NANOMETRES_PER_MM),
        to_nm=base + floor(group.to_mm * NANOMETRES_PER_MM),
        count=group.count,
        err_nm=err_nm,
    )


def _groups(
    clusters: Sequence[Cluster], certainty: Certainty, *, sure: bool, apart: bool
) -> list[CountedGroup]:
    groups = []
    for cluster in clusters:
        finding = cluster.finding
        err_nm = ceil(finding.offset_err_mm * NANOMETRES_PER_MM)
        if apart:
            err_nm += nanometres(finding.place.rel_err_m)
        for group in finding.groups:
            if certainty(finding, group)[0 if sure else 1]:
                groups.append(_counted(cluster, group, err_nm))
    return groups


def _lower(clusters: Sequence[Cluster], certainty: Certainty, window_nm: int) -> int:
    """What is certain: within one cluster, or across clusters of one inspection."""
    best = 0
    for cluster in clusters:
        worst = worst_window(_groups([cluster], certainty, sure=True, apart=False), window_nm)
        best = max(best, worst.lower if worst else 0)
    if len(clusters) == 1:
        return best
    for inspection_id in {one.inspection.inspection_id for one in clusters}:
        own = [one for one in clusters if one.inspection.inspection_id == inspection_id]
        if len(own) > 1:
            worst = worst_window(_groups(own, certainty, sure=True, apart=True), window_nm)
            best = max(best, worst.lower if worst else 0)
    return best


def count_in_window(
    clusters: Sequence[Cluster], certainty: Certainty, window: Window
) -> Counted | None:
    """Worst window over neighbouring clusters; ``None`` when no break can count.

    Counts of two inspections at one place may be the same breaks or others: the lower count
    takes one inspection at a time, the upper count takes all of them together.
    """
    longest_nm = ceil(window.longest_mm * NANOMETRES_PER_MM)
    shortest_nm = floor(window.shortest_mm * NANOMETRES_PER_MM)
    possible = _groups(clusters, certainty, sure=False, apart=len(clusters) > 1)
    worst = worst_window(possible, longest_nm)
    if worst is None:
        return None
    return Counted(
        lower=_lower(clusters, certainty, shortest_nm),
        upper=worst.upper,
        section=Section(worst.from_nm / NANOMETRES_PER_METRE, worst.to_nm / NANOMETRES_PER_METRE),
    )


def spread_of(chain: Sequence[Cluster], counted: Counted) -> Section:
    """The whole length over which a chain of clusters and its worst window reach."""
    return Section(
        min(counted.section.from_m, *(one.section.from_m for one in chain)),
        max(counted.section.to_m, *(one.section.to_m for one in chain)),
    )
