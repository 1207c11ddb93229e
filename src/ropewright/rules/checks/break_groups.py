"""Clusters that could share one window, and how many broken wires a window holds there."""

from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction
from typing import NamedTuple, TypeAlias

from ropewright.geometry import Section
from ropewright.inspection import (
    BreakGroup,
    BrokenWires,
    CountedGroup,
    Inspection,
    sure_count,
    worst_window,
)
from ropewright.inspection.windows import NANOMETRES_PER_METRE, nanometres
from ropewright.rules.context import NANOMETRES_PER_MM, Context, Window
from ropewright.rules.ruling import Step
from ropewright.rules.words import listing

#: How far breaks at an end may lie from it [nominal diameters]: one longest plausible lay.
END_ZONE_IN_DIAMETERS = Fraction(29, 4)

#: How to get what is missing where a count straddles its limit.
CLOSE_COUNT = "count it closely: lay a strip of the window's length on the worst spot"


class Spot(NamedTuple):
    """One group of broken wires of a cluster, on whole nanometres.

    ``around`` is the whole cluster's section with the error of its place.  ``alone`` has the
    error of a taped offset only; ``apart`` that of the cluster's place too.
    """

    finding: BrokenWires
    group: BreakGroup
    section: Section
    around: Section
    alone: CountedGroup
    apart: CountedGroup


class Cluster(NamedTuple):
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


class Counted(NamedTuple):
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
    section, place = finding.section, finding.place
    around = section.widened(place.abs_err_m)
    base = nanometres(place.at_m)
    alone_nm = -_nm(-finding.offset_err_mm)
    apart_nm = alone_nm + nanometres(place.rel_err_m)
    spots = []
    for group in finding.groups:
        from_nm, to_nm = base + _nm(group.from_mm), base + _nm(group.to_mm)
        alone = apart = CountedGroup(
            from_nm=from_nm, to_nm=to_nm, count=group.count, err_nm=alone_nm
        )
        if apart_nm != alone_nm:
            apart = CountedGroup(from_nm=from_nm, to_nm=to_nm, count=group.count, err_nm=apart_nm)
        at = Section(
            place.at_m + float(group.from_mm) / 1000, place.at_m + float(group.to_mm) / 1000
        )
        spots.append(
            Spot(finding=finding, group=group, section=at, around=around, alone=alone, apart=apart)
        )
    return Cluster(
        finding=finding,
        inspection=inspection,
        section=section,
        reach=section.widened(place.rel_err_m + float(finding.offset_err_mm) / 1000),
        spots=tuple(spots),
    )


def _nm(length_mm: Fraction) -> int:
    """Whole nanometres, always rounded down.

    So two breaks exactly one window apart stay within one window.
    """
    numerator, denominator = length_mm.as_integer_ratio()
    return numerator * NANOMETRES_PER_MM // denominator


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
    """Clusters chained wherever two of them could touch one window, ``window_m`` [m] long."""
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
    together: dict[str, list[Sequence[Spot]]] = {}
    for cluster, sure, _ in clusters:
        if sure:
            together.setdefault(cluster.inspection.inspection_id, []).append(sure)
    best = 0
    for own in together.values():
        everything = [spot for sure in own for spot in sure]
        if sum(spot.group.count for spot in everything) <= best:
            continue
        if len(own) > 1:
            best = max(best, sure_count([spot.apart for spot in everything], window_nm))
        if len(own) == 1 or any(spot.apart is not spot.alone for spot in everything):
            for sure in own:
                best = max(best, sure_count([spot.alone for spot in sure], window_nm))
    return best


def count_in_window(clusters: Sorted, window: Window) -> Counted | None:
    """Worst window over neighbouring clusters; ``None`` when no break can count.

    Counts of two inspections at one place may be the same breaks or others: the lower count
    takes one inspection at a time, the upper count takes all of them together.
    """
    held = [possible for _, _, possible in clusters if possible]
    if len(held) == 1:  # offsets of one cluster keep their taped error
        worst = worst_window([spot.alone for spot in held[0]], window.longest_nm)
    else:
        worst = worst_window([s.apart for possible in held for s in possible], window.longest_nm)
    if worst is None:
        return None
    certain = window.shortest_nm == window.longest_nm and _is_certain(clusters)
    return Counted(
        lower=worst.lower if certain else _lower(clusters, window.shortest_nm),
        upper=worst.upper,
        section=Section(worst.from_nm / NANOMETRES_PER_METRE, worst.to_nm / NANOMETRES_PER_METRE),
    )


def _is_certain(clusters: Sorted) -> bool:
    """Whether all that may count surely does, in one inspection, without errors between places."""
    inspections = {one.inspection.inspection_id for one, _, possible in clusters if possible}
    return (
        len(inspections) == 1
        and all(len(sure) == len(possible) for _, sure, possible in clusters)
        and (
            len(clusters) == 1
            or all(spot.apart is spot.alone for _, _, possible in clusters for spot in possible)
        )
    )


class Chain(NamedTuple):
    """What is the same for every clause that rules on one chain of clusters.

    ``err_m`` is the largest error of their places [m].
    """

    clusters: tuple[Cluster, ...]
    section: Section
    err_m: float
    finding_ids: tuple[str, ...]
    inspection_id: str
    counted_step: Step
    called_crossover: bool

    def spread(self, counted: Counted) -> Section:
        """The whole length over which the clusters and a window over them reach, ± its error."""
        window = counted.section
        return Section(
            min(window.from_m, self.section.from_m) - self.err_m,
            max(window.to_m, self.section.to_m) + self.err_m,
        )


def chain_of(sorted_out: Sorted, context: Context) -> Chain:
    """The chain that some clusters make; worked out once for a context."""
    asked = tuple([id(cluster) for cluster, _, _ in sorted_out])
    known: Chain | None = context.worked_out.get(asked)
    if known is None:
        known = context.worked_out[asked] = _chain([cluster for cluster, _, _ in sorted_out])
    return known


def _chain(clusters: Sequence[Cluster]) -> Chain:
    names = tuple(one.finding.finding_id for one in clusters)
    return Chain(
        clusters=tuple(clusters),
        section=Section(
            min(one.section.from_m for one in clusters), max(one.section.to_m for one in clusters)
        ),
        err_m=max(one.finding.place.abs_err_m for one in clusters),
        finding_ids=names,
        inspection_id=clusters[-1].inspection.inspection_id,
        counted_step=Step(
            says="clusters counted",
            value=listing(names),
            origin=listing(
                sorted({f"inspection {one.inspection.inspection_id}" for one in clusters})
            ),
        ),
        called_crossover=all(one.finding.crossover_damage is True for one in clusters),
    )
