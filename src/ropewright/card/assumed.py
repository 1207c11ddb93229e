"""What a field card takes for granted; every figure is our own."""

from fractions import Fraction
from typing import Final

from ropewright.inspection import Assumption

GOOD_FOR_DAYS: Final = 14
"""Days after which a card says that it is old; own choice."""
JOIN_WITHIN_DAYS: Final = 7
"""An unfinished inspection older than this is not offered to be joined; own choice."""
MAP_ERR_M: Final = 0.001
"""Most that reading between the points of a place map may be off, for each axis [m]."""
MOST_POINTS: Final = 513
"""No axis of a place map has more points."""
TAPE_ERR_MM: Final = Fraction(2)
"""How far off a taped offset may be until the strip was laid on [mm]; own choice."""

ASSUMED: Final[tuple[Assumption, ...]] = (
    Assumption(
        assumption_id="card-good-for",
        says=f"A field card is old after {GOOD_FOR_DAYS} days: marks, holds and rules may have "
        "changed.",
        effect="asks for a fresh card; an old one still works",
        shows="field card, phone",
    ),
    Assumption(
        assumption_id="card-map",
        says="Reading between the points of a place map costs less than 5 mm.",
        effect="none on a count; it is far below the ± of a place",
        shows="places on the phone",
    ),
    Assumption(
        assumption_id="card-taped-offset",
        says=f"A taped offset is right to ± {TAPE_ERR_MM} mm until a person says that the strip "
        "was laid on.",
        effect="breaks right at a window's edge are 'count it closely', never 'below'",
        shows="counts on the phone, clusters in the logbook",
    ),
    Assumption(
        assumption_id="card-near",
        says="On the phone a finding lies near a place within 3 m and the errors of both.",
        effect="earlier findings and marks are shown there, and HAND OFF where wires stand out",
        shows="places on the phone",
    ),
    Assumption(
        assumption_id="card-unseen-until",
        says="Accepting that a section was not seen is offered for 31 days; the person who "
        "accepts it sets the day.",
        effect="the day until which it stands",
        shows="end of an inspection on the phone",
    ),
    Assumption(
        assumption_id="card-shift-list",
        says="Before a shift: limits tried, rope seated, falls untwisted, dead end, spooling, "
        "drum, sheaves, hook block; common practice.",
        effect="what the operator is asked; local rule and maker's manual may ask more",
        shows="check before the shift",
    ),
)
