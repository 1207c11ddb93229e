"""What damage, its comparison with findings and cuts take for granted; every figure is our own."""

from typing import Final

from ropewright.inspection import Assumption
from ropewright.wear.agreement import LEAST_PLACES, SHORT_ROPE_M, STEP_M
from ropewright.wear.cutting import GOOD_ENOUGH, LEAST_GAIN
from ropewright.wear.damage import SHEAVE_EFFICIENCY
from ropewright.wear.drum_wear import STRESS_WITHOUT_LOAD
from ropewright.wear.factor import LEAST_STRESS
from ropewright.wear.models import LONG_BENT_LENGTH
from ropewright.wear.possible_cuts import CUT_STEP_M, DEAD_WRAPS, FINE_TO_M, LEAST_CUT_M
from ropewright.wear.top_sections import SAME_PLACE, WORTH_NAMING

DAMAGE_ASSUMED: Final[tuple[Assumption, ...]] = (
    Assumption(
        assumption_id="wear-crossovers",
        says="The loss of life that was measured for whole drums with several layers happens in "
        "crossovers and layer changes, to the wrap below as much as to the one above; without a "
        f"known force it is taken at S/d² of {STRESS_WITHOUT_LOAD:g} N/mm².",
        effect="decides much of the map on drums with several layers",
        shows="wear map; most worn sections; where to cut",
    ),
    Assumption(
        assumption_id="wear-reverse-bend",
        says="A reverse bend takes the place of one of the two simple bends of its pair.",
        effect="adds damage where sheaves bend the rope both ways",
        shows="wear map",
    ),
    Assumption(
        assumption_id="wear-unknown-load",
        says="A bend of unknown load counts under the greatest load of the log.",
        effect="makes damage larger, never smaller; its share is shown",
        shows="wear map",
    ),
    Assumption(
        assumption_id="wear-light-load",
        says=f"Forces below {LEAST_STRESS:g} N/mm² of S/d² count as that in the endurance formula.",
        effect="makes damage larger, never smaller; its share is shown",
        shows="wear map by the endurance formula",
    ),
    Assumption(
        assumption_id="wear-drum-diameter",
        says="A drum of unknown diameter bends the rope like the smallest sheave.",
        effect="sets what the drum's bends weigh beside those of the sheaves",
        shows="wear map; where the drum is not known the map lacks its crossovers as well",
    ),
    Assumption(
        assumption_id="wear-rope-force",
        says=f"All sheaves bend the rope under the force of the line to the drum, lifting, with "
        f"{SHEAVE_EFFICIENCY:g} per sheave; the bent length of a hoist rope is "
        f"{LONG_BENT_LENGTH:g} d.",
        effect="makes damage larger, never smaller; the second is the same for every place",
        shows="wear map",
    ),
    Assumption(
        assumption_id="wear-constants-lent",
        says="For other ropes than 8x19 with a fibre core, ordinary lay, the endurance formula is "
        "used with that rope's constants.",
        effect="gives a shape along the rope and no life in bends",
        shows="wear map by the endurance formula",
    ),
    Assumption(
        assumption_id="wear-most-worn",
        says=f"Metres beside a peak belong to its section down to {SAME_PLACE:.0%} of it; sections "
        f"below {WORTH_NAMING:.0%} of the worst metre are not named.",
        effect="sets where to look first, not where to look",
        shows="most worn sections in wear, plan and rope chart",
    ),
    Assumption(
        assumption_id="wear-agreement",
        says=f"Map and findings are compared in steps of {STEP_M:g} m, of half of that on ropes "
        f"under {SHORT_ROPE_M:g} m; fewer than {LEAST_PLACES} places with broken wires are not "
        "assessable.",
        effect="no agreement is claimed from little",
        shows="agreement of wear and findings",
    ),
    Assumption(
        assumption_id="wear-cuts",
        says=f"{DEAD_WRAPS:g} wraps stay on the drum at least; cuts are weighed from "
        f"{LEAST_CUT_M:g} m in steps of {CUT_STEP_M:g} m, five times that beyond {FINE_TO_M:g} m; "
        f"a gain below {LEAST_GAIN:.0%} of the period is none, and the shortest cut with "
        f"{GOOD_ENOUGH:.0%} of the best gain is put forward.",
        effect="sets which cut is proposed; a competent person decides",
        shows="where to cut",
    ),
    Assumption(
        assumption_id="wear-same-duty",
        says="The next period's duty is that of the log; before its first day, too.",
        effect="moves dates either way",
        shows="where to cut; the forecast's clock",
    ),
)
