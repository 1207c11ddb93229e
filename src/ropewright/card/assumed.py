"""What a field card takes for granted; every figure is our own."""

from typing import Final

GOOD_FOR_DAYS: Final = 14
"""Days after which a card says that it is old; own choice."""
JOIN_WITHIN_DAYS: Final = 7
"""An unfinished inspection older than this is not offered to be joined; own choice."""
MAP_ERR_M: Final = 0.001
"""Most that reading between the points of a place map may be off, for each axis [m]."""
MOST_POINTS: Final = 513
"""No axis of a place map has more points."""

CARD_ASSUMED: Final[tuple[str, ...]] = (
    f"A card is old after {GOOD_FOR_DAYS} days: marks, holds and rules may have changed.",
    "Reading between the points of a place map costs less than 5 mm.",
)
