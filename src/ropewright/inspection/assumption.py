"""What is taken for granted where nothing published speaks: one row of a register."""

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumption:
    """One row of the register: what is assumed, what it does, where it shows.

    Each room lists its own rows; every row is our own and leans to safety.
    """

    assumption_id: str
    says: str
    effect: str
    shows: str


#: What the geometry takes for granted of a set-up's numbers and of readings.
PLACE_ASSUMPTIONS: Final[tuple[Assumption, ...]] = (
    Assumption(
        assumption_id="place-set-up",
        says="The set-up's numbers may be off by: zero of the hook height ± 0.3 m, rope from end "
        "A to the first sheave ± 0.3 m, from the last fall to the drum ± 0.5 m, rope length ± "
        "0.5 %, barrel ± 2 mm, layer rise ± 5 % of the rope's diameter, wraps of a layer ± 0.25.",
        effect="sets the ± that all places of a pass share; [rigging.tolerance] replaces it",
        shows="every place worked out from the crane's position or the drum",
    ),
    Assumption(
        assumption_id="place-reading",
        says="A reading may be off by: hook, radius, boom and where the eye was ± 0.1 m each, an "
        "angle ± 0.1 degree, drum turns and part of a turn ± 0.05, a tape ± 20 mm and 0.1 %, wraps "
        "counted ± 0.1 turn, the moment a layer is full ± 0.25 turn.",
        effect="sets the ± of the single reading; [rigging.reading_error] replaces it, count_err "
        "that of a count",
        shows="every place worked out from a reading",
    ),
    Assumption(
        assumption_id="place-contradiction",
        says="A calibration reading that lies more than twice its own ± from what the set-up and "
        "the other readings say contradicts them.",
        effect="such a reading is refused and named, never averaged in",
        shows="calibration of the rope's path",
    ),
    Assumption(
        assumption_id="place-payout",
        says="Where only falls and hook heights are known, between 0 and 100 m of rope lie outside "
        "with the hook at its highest.",
        effect="widens the ± from end A; distances between places stay right",
        shows="places and plans by payout",
    ),
    Assumption(
        assumption_id="place-exposure",
        says="What a section meets by the path holds only where it is 0.5 m farther from any "
        "border than the path's own ±; dead wraps neither spool nor bend again.",
        effect="between the borders it is unknown and has the stricter limit",
        shows="drum, sheaves and bends of a section that the case file does not state",
    ),
    Assumption(
        assumption_id="place-stretch",
        says="Stretch of the rope, the bending of the jib and the shift of the drum's tangent "
        "point from layer to layer are not worked out; the ± of the set-up covers them.",
        effect="none below about 1 m; a mark beside the damage is always better",
        shows="every place worked out from the crane's position",
    ),
)
