"""Breaks bunched in one or a few neighbouring strands where the rope does not spool."""

from collections.abc import Sequence
from fractions import Fraction

from ropewright.rules.checks.break_groups import (
    CLOSE_COUNT,
    Cluster,
    Spot,
    chain_of,
    clusters_of,
    count_in_window,
    neighbours,
    sort_out,
)
from ropewright.rules.context import Context, Window
from ropewright.rules.model import BunchedCheck, Clause
from ropewright.rules.ruling import Found
from ropewright.rules.words import place_words


def check_bunched(clause: Clause, check: BunchedCheck, context: Context) -> None:
    """Breaks bunched in one or a few neighbouring strands where rope does not spool."""
    window = context.window(check.window)
    outer = context.rope.construction.outer_strands
    made = False
    everything = sort_out(clusters_of(context), _all)
    for sorted_out in neighbours(everything, float(window.longest_mm) / 1000):
        counted = count_in_window(sorted_out, window)
        if counted is None or counted.upper < check.least:
            continue
        chain = chain_of(sorted_out, context)
        if context.exposure(chain.spread(counted)).drum in ("single", "multi"):
            continue
        made = True
        common: dict[str, object] = {
            "section": counted.section, "section_err_m": chain.err_m, "window": window.words,
            "window_mm": window.longest_mm,
            "found": Found(
                lower=Fraction(counted.lower), upper=Fraction(counted.upper), unit="broken wires"
            ),
            "finding_ids": chain.finding_ids, "inspection_id": chain.inspection_id,
            "steps": (window.step,),
        }  # fmt: skip
        strands = [group.strand for one in chain.clusters for group in one.finding.groups]
        where = place_words(counted.section, chain.err_m)
        most = (0, counted.upper)
        if outer:
            most = _most_in_neighbours(chain.clusters, check, outer, window)
        common["found"] = Found(
            lower=Fraction(most[0]), upper=Fraction(most[1]), unit="broken wires"
        )
        words = f"{most[1]} broken wires in {check.strands} neighbouring strands {where}"
        if most[0] >= check.least:
            context.add(clause, status="reached", words=words, **common)
        elif most[1] < check.least:
            context.add(clause, status="below", words=words, **common)
        elif None in strands or not outer:
            context.add(
                clause, status="not assessable",
                words=f"{counted.upper} broken wires {where}, strands not numbered",
                missing=("strand numbers of the breaks",),
                how_to_get=("number the strands and say in which ones the breaks are",), **common,
            )  # fmt: skip
        else:
            context.add(
                clause, status="not assessable", words=words, missing=("how close the breaks lie",),
                how_to_get=(CLOSE_COUNT,), **common,
            )  # fmt: skip
    if not made:
        context.add(clause, status="below", words="no bunched breaks where rope does not spool")


def _all(_spot: Spot) -> tuple[bool, bool]:
    return True, True


def _most_in_neighbours(
    chain: Sequence[Cluster], check: BunchedCheck, outer: int, window: Window
) -> tuple[int, int]:
    lower = upper = 0
    numbered = {group.strand for one in chain for group in one.finding.groups}
    runs = [
        {(first - 1 + step) % outer + 1 for step in range(check.strands)}
        for first in range(1, outer + 1)
    ]
    # a run without any numbered break has no more in it than one that has some
    for wanted in [run for run in runs if run & numbered] or runs[:1]:
        most = sum(
            group.count
            for one in chain
            for group in one.finding.groups
            if group.strand is None or group.strand in wanted or group.strand > outer
        )
        if most <= lower:
            continue

        def certainty(spot: Spot, wanted: set[int] = wanted) -> tuple[bool, bool]:
            strand = spot.group.strand
            inside = strand in wanted
            return inside, inside or strand is None or strand > outer

        counted = count_in_window(sort_out(chain, certainty), window)
        if counted is not None:
            lower, upper = max(lower, counted.lower), max(upper, counted.upper)
    return lower, upper
