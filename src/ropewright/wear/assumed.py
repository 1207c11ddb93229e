"""What counting and weighing bends take for granted; every figure is our own."""

from typing import Final

from ropewright.inspection import Assumption
from ropewright.wear.assumed_damage import DAMAGE_ASSUMED
from ropewright.wear.believed import BEYOND_M
from ropewright.wear.cleaning import JUMP_M, MOST_LOADS
from ropewright.wear.held import HALF_TURN
from ropewright.wear.loads import DOWN_SHARE
from ropewright.wear.remarks import MOST_BEYOND
from ropewright.wear.settings import (
    BIN_M,
    GAP_S,
    HOOK_SPEED_M_PER_S,
    JITTER_DEG,
    JITTER_M,
    LIFT_SHARE,
    NO_BLOCK_SHARE,
    SLACK_SHARE,
)

ASSUMED: Final[tuple[Assumption, ...]] = (
    Assumption(
        assumption_id="wear-jitter",
        says=f"To-and-fro of a reading up to {JITTER_M:g} m or {JITTER_DEG:g} deg is no movement.",
        effect="leaves out small movements that may be real",
        shows="quality of a duty log; bends",
    ),
    Assumption(
        assumption_id="wear-bins",
        says=f"Bends are counted in bins of {BIN_M:g} m; a bin is met when its middle is passed.",
        effect="moves the edge of a bent section by half a bin at most",
        shows="bends; wear map",
    ),
    Assumption(
        assumption_id="wear-gap",
        says=f"More than {GAP_S:g} s between two samples is a gap; it counts as one direct move.",
        effect="counts the least that can have happened",
        shows="quality of a duty log; bends of unknown load",
    ),
    Assumption(
        assumption_id="wear-jump",
        says=f"A hook reading that moves faster than {HOOK_SPEED_M_PER_S:g} m/s, by "
        f"{JUMP_M:g} m more, has jumped; nothing is counted across.",
        effect="takes a movement away",
        shows="quality of a duty log",
    ),
    Assumption(
        assumption_id="wear-beyond-limits",
        says=f"Readings more than {BEYOND_M:g} m or degree beyond the crane's limits are not "
        "believed.",
        effect="leaves samples out",
        shows="quality of a duty log",
    ),
    Assumption(
        assumption_id="wear-unbelievable-load",
        says=f"A load of more than {MOST_LOADS:g} times the greatest stated one counts as not "
        "known.",
        effect="keeps a fault of the load sensor from weighing like a thousand lifts",
        shows="quality of a duty log; bends of unknown load",
    ),
    Assumption(
        assumption_id="wear-unbelievable-log",
        says=f"A log is refused if more than {MOST_BEYOND:.0%} of its samples lie beyond the "
        "limits, follow a jump or have no position.",
        effect="gives no result instead of a wrong one",
        shows="wear of a rope",
    ),
    Assumption(
        assumption_id="wear-slack",
        says=f"Rope is slack when less than {SLACK_SHARE:.0%} of the block's mass hangs on the "
        "falls while the hook's reading goes down, until the load is back.",
        effect="leaves that time out: nobody knows where the rope lies",
        shows="quality of a duty log",
    ),
    Assumption(
        assumption_id="wear-lift",
        says=f"A lift begins when more than {LIFT_SHARE:.0%} of the greatest load hangs on the "
        f"falls beside the block, and ends below {DOWN_SHARE:.0%} of that; where the block's "
        f"mass is not known, more than {NO_BLOCK_SHARE:.0%} with it.",
        effect="sets the number of lifts and of pick-ups",
        shows="duty; pick-ups",
    ),
    Assumption(
        assumption_id="wear-pick-up-on-the-drum",
        says=f"A pick-up loads {HALF_TURN:g} of a turn of rope on the drum behind its tangent "
        "point.",
        effect="sets how far a pick-up reaches",
        shows="pick-ups",
    ),
    Assumption(
        assumption_id="wear-load-classes",
        says="A load counts as the upper bound of its class, a movement as the heavier of the "
        "loads before and after it.",
        effect="makes damage larger, never smaller",
        shows="bends by load; damage",
    ),
    Assumption(
        assumption_id="wear-round-of-a-lift",
        says="A lift of a list is one closed round: up, across, down, and empty the same way "
        "back; movements between different lifts are not counted.",
        effect="counts the least that can have happened",
        shows="bends from a list of lifts or a description of the duty",
    ),
    Assumption(
        assumption_id="wear-lifts-without-block",
        says="In a list of lifts or a description of the duty a hook block whose mass is not "
        "stated weighs nothing.",
        effect="makes damage smaller; more so for light lifts and the way back",
        shows="damage from a list of lifts or a description of the duty",
    ),
    Assumption(
        assumption_id="wear-first-side",
        says="Rope that hangs between two sheaves when a log begins came from the drum's side.",
        effect="adds or takes one reverse bend per place at most",
        shows="reverse bends",
    ),
    *DAMAGE_ASSUMED,
)
