"""What people did at the rope and what they found there.

This room knows findings on the rope and on parts, clusters of broken wires with their own
offsets and strands, passes and coverage by method, what stayed hidden, the exact worst
windows, which evidence counts on a date, and the dossier that holds it all.  It refuses to
know any limit: it counts and measures, and never says whether that is too much.  It reads no
file and no clock.
"""

from ropewright.inspection.coverage import covered, covered_by_all, intersection, unseen
from ropewright.inspection.dossier import (
    CRANE_KINDS,
    EVENT_KINDS,
    MECHANISM_CLASSES,
    Confirmation,
    Crane,
    Dossier,
    Event,
    Installation,
    Mark,
    Permission,
    ReferenceDiameter,
    Release,
    Rigging,
)
from ropewright.inspection.evidence import Evidence, evidence_on
from ropewright.inspection.exposed import Exposures, exposures_on
from ropewright.inspection.findings import (
    BREAK_SITES,
    DAMAGE_WORDS,
    METHODS,
    PART_WORDS,
    BreakGroup,
    BrokenWires,
    Damage,
    DiameterReading,
    MetallicLoss,
    PartFinding,
    RopeFinding,
    Waviness,
)
from ropewright.inspection.inspection import (
    INSPECTION_KINDS,
    ITEM_STATES,
    ITEMS,
    THOROUGH_KINDS,
    Conditions,
    ExaminedItem,
    HiddenSection,
    Inspection,
    Instrument,
    Pass,
    Person,
    UnseenAcceptance,
)
from ropewright.inspection.set_up import (
    HOW_KNOWN,
    SET_UP_MEASURES,
    SET_UP_UNITS,
    SET_UP_WORDS,
    SetUpMeasure,
)
from ropewright.inspection.windows import (
    CountedGroup,
    WorstWindow,
    nanometres,
    worst_window,
    worst_window_of_points,
)

__all__ = [
    "BREAK_SITES",
    "BreakGroup",
    "BrokenWires",
    "CRANE_KINDS",
    "Conditions",
    "Confirmation",
    "CountedGroup",
    "Crane",
    "DAMAGE_WORDS",
    "Damage",
    "DiameterReading",
    "Dossier",
    "EVENT_KINDS",
    "Event",
    "Evidence",
    "ExaminedItem",
    "Exposures",
    "HOW_KNOWN",
    "HiddenSection",
    "INSPECTION_KINDS",
    "ITEMS",
    "ITEM_STATES",
    "Inspection",
    "Installation",
    "Instrument",
    "MECHANISM_CLASSES",
    "METHODS",
    "Mark",
    "MetallicLoss",
    "PART_WORDS",
    "PartFinding",
    "Pass",
    "Permission",
    "Person",
    "ReferenceDiameter",
    "Release",
    "Rigging",
    "RopeFinding",
    "SET_UP_MEASURES",
    "SET_UP_UNITS",
    "SET_UP_WORDS",
    "SetUpMeasure",
    "THOROUGH_KINDS",
    "UnseenAcceptance",
    "Waviness",
    "WorstWindow",
    "covered",
    "covered_by_all",
    "evidence_on",
    "exposures_on",
    "intersection",
    "nanometres",
    "unseen",
    "worst_window",
    "worst_window_of_points",
]
