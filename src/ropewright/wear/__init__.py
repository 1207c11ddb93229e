"""How a rope wears: bends along it, damage along it, and where a cut would help.

This room knows bends, published endurance formulas and the rules by which damage adds up.  It
refuses to know any rule's limit, any clock and any file: wear gives the shape along the rope,
inspections give the scale.
"""

from ropewright.wear.agreement import Agreement
from ropewright.wear.assumed import ASSUMED
from ropewright.wear.bends import bends
from ropewright.wear.counting import LogCounter
from ropewright.wear.cutting import CutPlan, CutResult, plan_cuts
from ropewright.wear.damage import PathDamage, damage_of
from ropewright.wear.discard_counts import DiscardCount, discard_count
from ropewright.wear.endurance import Endurance
from ropewright.wear.layers import LayerContacts, layer_contacts
from ropewright.wear.lifts import Duty, Lift, bends_of_duty, bends_of_lifts
from ropewright.wear.model import DRUM_A, BendCount, DutyChunk, PickUps
from ropewright.wear.models import MODELS, ModelName, rope_for_model
from ropewright.wear.outlook import Outlook, outlook_from
from ropewright.wear.possible_cuts import cut_limits
from ropewright.wear.profile import Profile
from ropewright.wear.quality import ORIGIN_WORDS, ORIGINS, Origin, QualityReport, Reset
from ropewright.wear.remarks import refuse_unbelievable, remarks
from ropewright.wear.settings import Counting, LoadClasses
from ropewright.wear.stored import count_from_arrays, count_to_arrays
from ropewright.wear.top_sections import WornSection
from ropewright.wear.wear_map import DutyPiece, WearMap

__all__ = [
    "ASSUMED",
    "Agreement",
    "BendCount",
    "Counting",
    "CutPlan",
    "CutResult",
    "DRUM_A",
    "DiscardCount",
    "Duty",
    "DutyChunk",
    "DutyPiece",
    "Endurance",
    "LayerContacts",
    "Lift",
    "LoadClasses",
    "LogCounter",
    "MODELS",
    "ModelName",
    "ORIGINS",
    "ORIGIN_WORDS",
    "Origin",
    "Outlook",
    "PathDamage",
    "PickUps",
    "Profile",
    "QualityReport",
    "Reset",
    "WearMap",
    "WornSection",
    "bends",
    "bends_of_duty",
    "bends_of_lifts",
    "count_from_arrays",
    "count_to_arrays",
    "cut_limits",
    "damage_of",
    "discard_count",
    "layer_contacts",
    "outlook_from",
    "plan_cuts",
    "refuse_unbelievable",
    "remarks",
    "rope_for_model",
]
