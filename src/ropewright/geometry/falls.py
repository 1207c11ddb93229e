"""The falls between upper sheaves and hook block, and the lead from there to the drum."""

from dataclasses import dataclass
from typing import Literal, TypeAlias

from ropewright.errors import InputError
from ropewright.geometry.exposure import SheaveKind
from ropewright.geometry.position import check_finite, check_not_negative, check_positive
from ropewright.geometry.reeving import Carrier, Contact, Element, Sense, Span

FirstEnd: TypeAlias = Literal["above", "block"]


def check_falls(falls: int, *, even: bool = False) -> None:
    """Refuse a number of falls that cannot be rigged."""
    if falls < 1 or (even and falls % 2):
        wanted = "an even number, 2 or more" if even else "a whole number, 1 or more"
        raise InputError(field="falls", expected=wanted, given=falls)


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockSheaves:
    """The sheaves that make the falls.

    ``block_mm`` and ``upper_mm`` are the diameters of hook block sheaves and of the sheaves above
    them, to the rope's centre line.  ``block_sense`` and ``upper_sense`` say to which side they
    bend the rope: unlike where the sheaves lie side by side in one plane (the rope runs in an
    S), alike where they share an axis (the rope runs round and round).
    """

    block_mm: float
    upper_mm: float
    block_sense: Sense = 1
    upper_sense: Sense = 1
    groove: SheaveKind = "unknown"

    def __post_init__(self) -> None:
        check_positive("block_mm", self.block_mm)
        check_positive("upper_mm", self.upper_mm)


def falls_between(
    falls: int,
    sheaves: BlockSheaves,
    *,
    first_end: FirstEnd,
    above_on: Carrier,
    last_fall_more_m: float = 0.0,
) -> tuple[Element, ...]:
    """The falls in order from end A, with the sheaves between them but none at either end.

    Parameters
    ----------
    falls
        How many.
    sheaves
        Their sheaves.
    first_end
        Whether the first fall begins above or at the block.
    above_on
        What carries the sheaves above.
    last_fall_more_m
        How much longer the last fall is than the others [m].
    """
    elements: list[Element] = []
    down = first_end == "above"
    for number in range(1, falls + 1):
        more = last_fall_more_m if number == falls else 0.0
        elements.append(Span(name=f"fall {number}", per_drop=1.0, fixed_m=more))
        if number < falls:
            elements.append(_turn(number, falls, sheaves, on="block" if down else above_on))
        down = not down
    return tuple(elements)


def _turn(number: int, falls: int, sheaves: BlockSheaves, *, on: Carrier) -> Contact:
    count = (number + 1) // 2
    if on == "block":
        name = "block sheave" if falls == 2 else f"block sheave {count}"
        diameter, sense = sheaves.block_mm, sheaves.block_sense
    else:
        name = f"upper sheave {count}"
        diameter, sense = sheaves.upper_mm, sheaves.upper_sense
    return Contact(
        name=name,
        pitch_diameter_mm=diameter,
        sense=sense,
        wrap_deg=180.0,
        on=on,
        groove=sheaves.groove,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Lead:
    """What the rope meets between the crane's jib or head and the drum.

    ``sheave_mm`` is the root sheave's diameter to the rope's centre line (none: no such sheave),
    ``wrap_deg`` its wrap; ``to_drum_m`` is the free rope from there to the drum's tangent point.
    ``more`` holds further spans and sheaves between the two, in order.
    """

    to_drum_m: float
    sheave_mm: float | None = None
    wrap_deg: float = 90.0
    sense: Sense = 1
    groove: SheaveKind = "unknown"
    sheave_name: str = "root sheave"
    more: tuple[Element, ...] = ()

    def __post_init__(self) -> None:
        check_not_negative("lead.to_drum_m", self.to_drum_m)
        check_positive("lead.sheave_mm", self.sheave_mm)
        check_finite("lead.wrap_deg", self.wrap_deg)

    @property
    def elements(self) -> tuple[Element, ...]:
        """The lead as spans and contacts in order."""
        last = Span(name="to the drum", fixed_m=self.to_drum_m)
        if self.sheave_mm is None:
            return (*self.more, last)
        sheave = Contact(
            name=self.sheave_name,
            pitch_diameter_mm=self.sheave_mm,
            sense=self.sense,
            wrap_deg=self.wrap_deg,
            groove=self.groove,
        )
        return (sheave, *self.more, last)
