"""A finding through all inspections of a rope: chains of pairs."""

from collections.abc import Sequence
from itertools import pairwise

from ropewright.inspection import Comparison, Inspection, Mark
from ropewright.matching.alignment import MarkSeen
from ropewright.matching.matching import match
from ropewright.matching.pairing import SURE, Pairing, same_findings
from ropewright.rope import RopeHistory


def follow(
    inspections: Sequence[Inspection],
    marks: Sequence[Mark | MarkSeen],
    history: RopeHistory,
    *,
    decisions: Sequence[Comparison] = (),
) -> tuple[Pairing, ...]:
    """Match every inspection that has findings with the one before it.

    Returns
    -------
    tuple of Pairing
        All pairings, oldest first.
    """
    past = sorted(
        (one for one in inspections if one.findings or one.is_thorough), key=lambda one: one.on
    )
    found: list[Pairing] = []
    for before, after in pairwise(past):
        found += match(before, after, marks, history, decisions=decisions)
    return tuple(found)


def same_through(pairings: Sequence[Pairing], *, least: float = SURE) -> dict[str, str]:
    """Later finding id to earlier finding id over all pairings.

    Parameters
    ----------
    pairings
        All pairings of a rope.
    least
        Smallest confidence that counts without a person [-].
    """
    return same_findings(tuple(pairings), least=least)
