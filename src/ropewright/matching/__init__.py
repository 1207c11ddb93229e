"""Whether a finding is the same as last time.

This room knows how places of two inspections differ by a shift and a stretch, how to pair
findings one to one, how sure each pair is, and when to ask a person.  Cuts and turns come from
the rope's history.  It refuses to judge: a finding that vanished is a question, never a lower
count.  It reads no file and no clock, and knows no rule and no forecast.
"""

from ropewright.matching.alignment import Alignment, MarkSeen
from ropewright.matching.assumed import ASSUMED
from ropewright.matching.following import follow, same_through
from ropewright.matching.matching import align, marks_seen, match
from ropewright.matching.pairing import PAIR_KINDS, Pairing, same_findings

__all__ = [
    "ASSUMED",
    "Alignment",
    "MarkSeen",
    "PAIR_KINDS",
    "Pairing",
    "align",
    "follow",
    "marks_seen",
    "match",
    "same_findings",
    "same_through",
]
