"""What the order sheet takes for granted: rows of the register."""

from typing import Final

from ropewright.desk.ordering_length import (
    REEL_BARREL_D,
    REEL_MARGIN_D,
    REEL_WIDTH_D,
    SLACK_M,
    SLACK_SHARE,
)
from ropewright.inspection import Assumption

ORDER_ASSUMPTIONS: Final[tuple[Assumption, ...]] = (
    Assumption(
        assumption_id="order-reel",
        says=f"A reel is taken to have a barrel of {REEL_BARREL_D} rope diameters, "
        f"{REEL_WIDTH_D} between its flanges, and {REEL_MARGIN_D} of each flange left free.",
        effect="gives a rough flange size to plan lifting and transport with; it is marked an "
        "estimate, the maker says what the reel is",
        shows="reel size on the order sheet",
    ),
    Assumption(
        assumption_id="order-length-band",
        says=f"A length worked out within {SLACK_M:g} m or {100 * SLACK_SHARE:g} % (the larger) "
        "of what was first fitted is not asked about.",
        effect="beyond it the sheet says to find out why; the length itself stays as worked out",
        shows="length on the order sheet",
    ),
)
