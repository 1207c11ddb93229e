"""The plan of an inspection: what to see from where, how, in which order, and what stays unseen.

This room knows places to stand and what each sees for which travel, the fewest passes that cover
the rope, the direction in which rope may run at a hand, where published lists expect damage, and
the order of the work with its cautions.  It takes places from the geometry and lists from the
rules.  It refuses to know how long a rope will last, clocks, files and screens; and it never
says that a way of working is allowed: local rule, maker's manual and competent person come first.
"""

from ropewright.plan.again import look_again, on_path
from ropewright.plan.as_data import plan_as_data
from ropewright.plan.assumed import ASSUMED
from ropewright.plan.cover import Choice, smallest_cover
from ropewright.plan.model import (
    Direction,
    HandsOff,
    InspectionPlan,
    Listed,
    LookAgain,
    PlannedPass,
    Reach,
    TroubleSpot,
    Unseen,
    View,
    WorkStep,
)
from ropewright.plan.order import FIRST
from ropewright.plan.passes import known_hands_off
from ropewright.plan.planning import plan_inspection
from ropewright.plan.reach import reaches_of
from ropewright.plan.safe import NO_DIRECTION, direction_at
from ropewright.plan.sheet import (
    AT_REST,
    PlanSheet,
    SheetFind,
    SheetGap,
    SheetPass,
    off_words,
    plan_sheet,
)
from ropewright.plan.travel import in_rope, position_words
from ropewright.plan.views import places_of

__all__ = [
    "ASSUMED",
    "AT_REST",
    "Choice",
    "Direction",
    "FIRST",
    "HandsOff",
    "InspectionPlan",
    "Listed",
    "LookAgain",
    "NO_DIRECTION",
    "PlanSheet",
    "PlannedPass",
    "Reach",
    "SheetFind",
    "SheetGap",
    "SheetPass",
    "TroubleSpot",
    "Unseen",
    "View",
    "WorkStep",
    "direction_at",
    "in_rope",
    "known_hands_off",
    "look_again",
    "off_words",
    "on_path",
    "places_of",
    "plan_as_data",
    "plan_inspection",
    "plan_sheet",
    "position_words",
    "reaches_of",
    "smallest_cover",
]
