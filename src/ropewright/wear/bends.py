"""Bends along the rope from a duty log."""

from collections.abc import Iterable
from concurrent.futures import ThreadPoolExecutor

from ropewright.errors import InputError
from ropewright.geometry import Hoist
from ropewright.wear.counting import LogCounter
from ropewright.wear.model import BendCount, DutyChunk
from ropewright.wear.quality import QualityReport
from ropewright.wear.remarks import refuse_unbelievable
from ropewright.wear.settings import Counting


def bends(log: Iterable[DutyChunk], hoist: Hoist, counting: Counting) -> BendCount:
    """Bends, reverse bends, winding on, pick-ups and rest along the path of one rigging.

    Loading elements and sequence follow Feyrer, Wire Ropes, 2nd edition 2015, p. 288: one bend
    is straight, bent, straight; a reverse bend is an element's run from one sheave straight on
    to a neighbour that bends it the other way.  That the drum adds one half when rope is wound
    on and one half when it is wound off is common usage (provenance: memory).

    Parameters
    ----------
    log
        Pieces of the log in order; how it is cut into pieces does not change the count.
    hoist
        The path model of the rigging that was in use.
    counting
        How to count.

    Raises
    ------
    InputError
        If the log lacks a reading that the path depends on, or most of it cannot be believed.
    """
    with ThreadPoolExecutor(max_workers=1) as helper:
        counter = LogCounter(hoist, counting, helper)
        for chunk in log:
            counter.take(chunk)
        count = counter.count()
    if count.first_ms is None:
        raise InputError(
            field="log",
            expected="at least one sample that can be used",
            given=_why_none(count.quality),
        )
    refuse_unbelievable(count.quality)
    return count


def _why_none(quality: QualityReport) -> str:
    """Say what became of the samples, if none could be used."""
    reasons = {
        "without a reading": quality.blank,
        "beyond the crane's travel": quality.beyond_travel,
        "with other falls than the rigging": quality.falls_unlike,
        "going back in time": quality.repeated + quality.backward,
    }
    said = [f"{count} {words}" for words, count in reasons.items() if count]
    return ", ".join([f"{quality.samples} samples", *said])
