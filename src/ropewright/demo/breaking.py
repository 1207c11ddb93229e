"""How wires break at one worn place: this room's own model, which nothing else uses.

Many outer wires run over the same spot.  Each has a life of its own, drawn from one narrow
distribution, as wires of one rope are drawn, laid and loaded alike.  A broken wire hands its
load to the others of its strand nearby, and a little of it to the other strands: their lives run
faster from then on.  So the first break comes late, and the next ones soon.
"""

import random
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class WornPlace:
    """A worn place of a rope.

    ``wires`` [-] is how many outer wires can break there, in ``strands`` [-] strands;
    ``spread_mm`` [mm] how far along the rope; ``evenness`` [-] how alike their lives are (large:
    alike); ``share_near`` [-] and ``share_far`` [-] by how much each broken wire speeds up those
    of its own strand within ``near_mm`` [mm], and all others; ``findable`` [-] the part of the
    broken ends that stand out enough to be found.
    """

    wires: int
    strands: int
    spread_mm: float
    near_mm: float
    evenness: float
    share_near: float = 0.6
    share_far: float = 0.02
    findable: float = 0.75


@dataclass(frozen=True, slots=True, kw_only=True)
class Break:
    """One broken wire: at which ``life`` [-] (1: the place's first break), where, in which strand.

    ``along_mm`` [mm] counts from the middle of the worn place; ``stands_out`` says whether a
    hand can find it.
    """

    life: float
    along_mm: float
    strand: int
    stands_out: bool


@dataclass(slots=True)
class _Wire:
    along_mm: float
    strand: int
    left: float
    rate: float = 1.0


def breaks_at(place: WornPlace, count: int, chance: random.Random) -> tuple[Break, ...]:
    """The first ``count`` [-] broken wires of a worn place, in the order in which they break."""
    whole = [
        _Wire(
            along_mm=chance.gauss(0.0, place.spread_mm),
            strand=chance.randint(1, place.strands),
            left=chance.weibullvariate(1.0, place.evenness),
        )
        for _ in range(place.wires)
    ]
    passed = first = 0.0
    made: list[Break] = []
    for _ in range(min(count, place.wires)):
        weakest = min(whole, key=lambda wire: wire.left / wire.rate)
        step = weakest.left / weakest.rate
        passed += step
        first = first or passed
        whole.remove(weakest)
        for wire in whole:
            wire.left -= step * wire.rate
            near = abs(wire.along_mm - weakest.along_mm) <= place.near_mm
            wire.rate += place.share_near if near and wire.strand == weakest.strand else 0.0
            wire.rate += place.share_far
        made.append(
            Break(
                life=passed / first,
                along_mm=weakest.along_mm,
                strand=weakest.strand,
                stands_out=chance.random() < place.findable,
            )
        )
    return tuple(made)


def most_within(breaks: Sequence[Break], length_mm: float) -> int:
    """How many breaks lie within ``length_mm`` [mm] at most, both ends included [-]."""
    places = sorted(one.along_mm for one in breaks)
    return max(
        (sum(start <= place <= start + length_mm for place in places) for start in places),
        default=0,
    )


def most_in_a_strand(breaks: Sequence[Break]) -> int:
    """How many of the breaks lie in one strand at most [-]."""
    strands = [one.strand for one in breaks]
    return max((strands.count(strand) for strand in strands), default=0)


def cluster_lines(breaks: Sequence[Break], *, first_mm: float, protruding: bool = False) -> str:
    """The offsets of breaks, taped from ``first_mm`` [mm], as a list of the case file."""
    rows = []
    for one in sorted(breaks, key=lambda one: one.along_mm):
        stands = ", protruding = true" if protruding and one.stands_out else ""
        offset = round(one.along_mm - first_mm)
        rows.append(f'    {{ at = "{offset} mm", strand = {one.strand}, site = "crown"{stands} }},')
    return "breaks = [\n" + "\n".join(rows) + "\n]"
