"""What a forecast is made from: zones of rope with their looks and breaks, and limits."""

import math
from dataclasses import dataclass
from datetime import date
from typing import Final

from ropewright.errors import InputError
from ropewright.forecast.prior import counts_breaks
from ropewright.geometry import Section
from ropewright.inspection.findings import Method

#: The window in which breaks are reckoned inside the model, in rope diameters [-].
UNIT_D: Final = 6.0

_TOUCH = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """``count`` broken wires within ``window_d`` [-] rope diameters mean discard."""

    count: int
    window_d: float
    name: str = ""

    def __post_init__(self) -> None:
        """Refuse a limit that every rope has reached, or a window without length."""
        if self.count < 1:
            raise InputError(field="limit", expected="at least 1 broken wire", given=self.count)
        if not (math.isfinite(self.window_d) and self.window_d > 0):
            raise InputError(field="window", expected="a length above 0", given=self.window_d)

    @property
    def words(self) -> str:
        """The limit in words."""
        return self.name or f"{self.count} broken wires in {self.window_d:g} d"


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """One pass over a zone: the reading ``clock`` [-], the method, what was newly found.

    ``on`` is the day of it, where one is known.
    """

    clock: float
    method: Method
    new: int = 0
    on: date | None = None

    def __post_init__(self) -> None:
        """Refuse a look before fitting, a method that cannot count, a negative count."""
        if not (math.isfinite(self.clock) and self.clock >= 0):
            raise InputError(field="clock", expected="a reading of at least 0", given=self.clock)
        if not counts_breaks(self.method):
            raise InputError(
                field="method", expected="a way of looking that counts breaks", given=self.method
            )
        if self.new < 0:
            raise InputError(
                field="new", expected="a count of at least 0", given=self.new,
                hint="breaks do not heal: a lower count is a question, not a look",
            )  # fmt: skip
        if self.new > 0 and self.clock <= 0:
            raise InputError(
                field="clock", expected="a reading above 0 for a broken wire", given=self.clock
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Zone:
    """A zone of rope with one bending exposure: its looks in order, its known breaks.

    ``length_d`` [-] and ``places_d`` [-] are in rope diameters, places measured from the zone's
    start.  Without places all known breaks count as lying in one window.  ``gone``: the zone was
    cut off; what it taught stays, but nothing can break there any more.  Zones that share
    ``exposure`` share their life.  ``marked``: new breaks were told from old ones.  ``section``
    is where it lies on the rope, from its first to its last break.
    """

    name: str
    looks: tuple[Look, ...] = ()
    length_d: float = UNIT_D
    places_d: tuple[float, ...] | None = None
    exposure: str = ""
    marked: bool = True
    gone: bool = False
    section: Section | None = None

    def __post_init__(self) -> None:
        """Refuse looks out of order and places beyond the zone."""
        clocks = [look.clock for look in self.looks]
        if clocks != sorted(clocks):
            raise InputError(field="looks", expected="looks in order of time", given=clocks)
        if not (math.isfinite(self.length_d) and self.length_d > 0):
            raise InputError(field="length", expected="a length above 0", given=self.length_d)
        for place in self.places_d or ():
            if not -_TOUCH <= place <= self.length_d + _TOUCH:
                raise InputError(
                    field="places", expected=f"places from 0 to {self.length_d:g} d", given=place
                )
        if self.places_d is not None and len(self.places_d) != self.known:
            raise InputError(
                field="places",
                expected=f"a place for each of the {self.known} known breaks",
                given=len(self.places_d),
            )

    @property
    def known(self) -> int:
        """Broken wires found so far."""
        return sum(look.new for look in self.looks)

    def overlaps(self, other: "Zone") -> bool:
        """Whether both lie on the rope, and touch there."""
        if self.section is None or other.section is None:
            return False
        return self.section.overlaps(other.section)

    @property
    def windows(self) -> float:
        """Length of the zone in windows of 6 d, at least one [-]."""
        return max(1.0, self.length_d / UNIT_D)

    def most_in(self, window_d: float) -> int:
        """Most known breaks in any closed window of ``window_d`` [-] rope diameters."""
        if self.places_d is None:
            return self.known
        places = sorted(self.places_d)
        return max(
            (
                sum(1 for place in places if start <= place <= start + window_d + _TOUCH)
                for start in places
            ),
            default=0,
        )
