"""What a plan takes for granted; every figure is our own and leans to safety."""

from typing import Final

from ropewright.inspection import Assumption

ROPE_M_PER_S: Final = 0.25
"""Rope speed past a person where no creep speed is stated; common practice, own choice."""
WALK_M_PER_S: Final = 0.1
"""How fast a person goes along rope at rest, looking all round it; own choice."""
AHEAD_LEAST_M: Final = 2.0
"""Least rope to the next nip ahead of a hand; own choice."""
NEAREST_LEAST_M: Final = 1.0
"""Least rope between a hand and the nearest nip behind it; own choice."""
END_M: Final = 2.0
"""Rope at an end that is looked at by itself; own choice."""
SLIVER_M: Final = 0.05
"""A gap in the coverage shorter than this is taken for closed; own choice."""
WORTH_M: Final = 0.5
"""A pass is not made for less rope than this: it is listed as unseen instead; own choice."""

ASSUMED: Final[tuple[Assumption, ...]] = (
    Assumption(
        assumption_id="plan-rope-speed",
        says=f"Rope runs past a person at {ROPE_M_PER_S:g} m/s or slower; at creep speed if that "
        "is stated.",
        effect="sets the minutes",
        shows="passes of a plan",
    ),
    Assumption(
        assumption_id="plan-walking",
        says=f"A person goes along rope at rest at {WALK_M_PER_S:g} m/s.",
        effect="sets the minutes",
        shows="passes of a plan from a walkway",
    ),
    Assumption(
        assumption_id="plan-distance-to-nip",
        says=f"No hand on running rope with less than {AHEAD_LEAST_M:g} m to the next nip ahead or "
        f"{NEAREST_LEAST_M:g} m to the nearest one behind.",
        effect="takes feel passes away, never adds one",
        shows="directions of a plan, of 'where --bring' and of the field card",
    ),
    Assumption(
        assumption_id="plan-least-section",
        says=f"No pass is planned for less than {WORTH_M:g} m of rope: it counts as not covered.",
        effect="adds a line to what is not covered",
        shows="what a plan does not cover",
    ),
    Assumption(
        assumption_id="plan-protruding",
        says="Broken wires count as protruding unless the finding says they are not.",
        effect="takes the hand off the rope there",
        shows="HAND OFF lines of a plan and of 'where --bring'",
    ),
    Assumption(
        assumption_id="plan-dead-wraps",
        says="Up to 3 dead wraps more than stated are taken for rope in hand, and half a wrap "
        "fewer for rounding.",
        effect="beyond that, and beyond the ±, the plan asks to count them",
        shows="'Look again' line of a plan, step 'Lower the block'",
    ),
    Assumption(
        assumption_id="plan-lowered-arm",
        says="Nobody goes along rope on a jib or boom unless it is at its lowest angle and drawn "
        "in.",
        effect="takes views from a walkway away, never adds one",
        shows="passes of a plan from a walkway on a luffing jib or a boom",
    ),
    Assumption(
        assumption_id="plan-ends",
        says=f"The last {END_M:g} m at each end are looked at by themselves.",
        effect="adds a place to look at",
        shows="where a plan expects damage",
    ),
)
