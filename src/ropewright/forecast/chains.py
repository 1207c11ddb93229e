"""The same cluster through all inspections: what was new each time."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from ropewright.forecast.prior import counts_breaks
from ropewright.inspection import BrokenWires, Compared, Inspection
from ropewright.inspection.findings import Method

#: Findings that nobody named are taken for the same cluster within this distance beyond both
#: their errors [m]; own, as in the evidence.
SAME_PLACE_M: Final = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Chain:
    """Findings of one cluster, oldest first, each with the id of its inspection.

    ``named``: every link was named by a person or found by the matching.
    """

    links: tuple[tuple[str, BrokenWires], ...]
    named: bool

    @property
    def newest(self) -> BrokenWires:
        """The newest finding."""
        return self.links[-1][1]

    @property
    def fullest(self) -> BrokenWires:
        """The finding with the most broken wires, the newest of those."""
        return max(reversed(self.links), key=lambda link: link[1].count)[1]

    def new_in(self, inspections: Collection[str]) -> int:
        """Broken wires newly found in these inspections: how far they raise the highest count."""
        before = after = 0
        for inspection, finding in self.links:
            if inspection in inspections:
                after = max(before, after, finding.count)
            elif after == 0:
                before = max(before, finding.count)
        return max(0, after - before) if after else 0

    def methods_in(self, inspections: Collection[str]) -> list[Method]:
        """How it was found in these inspections; not stated counts as an eye pass."""
        return [
            finding.method if finding.method and counts_breaks(finding.method) else "eye"
            for inspection, finding in self.links
            if inspection in inspections
        ]

    def places_m(self) -> list[float]:
        """A place for every broken wire of the fullest finding [m].

        A group without places of its own is laid together where it begins, so that it counts as
        close as it can be.
        """
        finding = self.fullest
        return [
            finding.place.at_m + float(group.from_mm) / 1000
            for group in finding.groups
            for _ in range(group.count)
        ]


def chains_of(
    past: Sequence[Inspection], same: Mapping[str, str], compared: Compared | None = None
) -> list[Chain]:
    """Link clusters through the inspections, by name first, else by place.

    Parameters
    ----------
    past
        Inspections, oldest first.
    same
        Later finding id to earlier finding id, confirmed or matched.
    compared
        What persons said; findings they told apart are never one cluster.
    """
    said = compared or Compared(())
    open_chains: list[list[tuple[str, BrokenWires]]] = []
    named: list[bool] = []
    for inspection in past:
        begun = len(open_chains)
        for finding in inspection.findings:
            if not isinstance(finding, BrokenWires):
                continue
            target = same.get(finding.finding_id, finding.same_as)
            number = _by_name(open_chains, target, finding, said)
            if number is None:
                number = _by_place(open_chains[:begun], finding, said)
                if number is not None:
                    named[number] = False
            if number is None:
                open_chains.append([(inspection.inspection_id, finding)])
                named.append(True)
            else:
                open_chains[number].append((inspection.inspection_id, finding))
    return [
        Chain(links=tuple(links), named=sure)
        for links, sure in zip(open_chains, named, strict=True)
    ]


def _by_name(
    chains: Sequence[list[tuple[str, BrokenWires]]],
    name: str | None,
    finding: BrokenWires,
    said: Compared,
) -> int | None:
    for number, links in enumerate(chains):
        if any(said.is_apart(one, finding) for _, one in links):
            continue
        if any(one.finding_id == name or said.is_named(one, finding) for _, one in links):
            return number
    return None


def _by_place(
    chains: Sequence[list[tuple[str, BrokenWires]]], finding: BrokenWires, said: Compared
) -> int | None:
    best: tuple[float, int] | None = None
    for number, links in enumerate(chains):
        if any(said.is_apart(one, finding) for _, one in links):
            continue
        last = links[-1][1]
        reach = SAME_PLACE_M + last.place.rel_err_m + finding.place.rel_err_m
        reach += max(last.place.abs_err_m, finding.place.abs_err_m)
        if last.section.widened(reach).overlaps(finding.section):
            gap = abs(last.place.at_m - finding.place.at_m)
            if best is None or gap < best[0]:
                best = (gap, number)
    return None if best is None else best[1]
