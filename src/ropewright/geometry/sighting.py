"""What a person reports: where on the rope something was seen or felt, in four ways."""

from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from ropewright.errors import InputError
from ropewright.geometry.drum import Flange
from ropewright.geometry.place import PathPlace
from ropewright.geometry.points import InspectionPoint
from ropewright.geometry.position import CranePosition, check_finite, check_not_negative

CountedFrom: TypeAlias = Literal["rope order", "clamp", "far"]
DrumSide: TypeAlias = Literal["A", "B"]
End: TypeAlias = Literal["A", "B"]

COUNTED_FROM: Final[tuple[CountedFrom, ...]] = ("rope order", "clamp", "far")


@dataclass(frozen=True, slots=True, kw_only=True)
class SeenAtPoint:
    """At an inspection point, with the crane at a position."""

    point: InspectionPoint
    position: CranePosition


@dataclass(frozen=True, slots=True, kw_only=True)
class SeenOnDrum:
    """On the drum: layer, wrap and part of turn.

    ``counted_from`` says whether the wrap is counted in rope order or from a flange; ``part``
    [turns] is the part of a turn from the clamp's line, none if nobody looked.  ``side`` tells
    the two halves of a twin drum apart.
    """

    layer: int
    wrap: int
    part: float | None = None
    counted_from: CountedFrom = "rope order"
    side: DrumSide = "B"

    def __post_init__(self) -> None:
        if self.counted_from not in COUNTED_FROM:
            raise InputError(
                field="counted_from",
                expected=f"one of {', '.join(COUNTED_FROM)}",
                given=self.counted_from,
            )
        if self.part is not None and not 0 <= self.part <= 1:
            raise InputError(field="part", expected="a part of turn from 0 to 1", given=self.part)

    @property
    def flange(self) -> Flange | None:
        """The flange the wrap is counted from, if any."""
        return None if self.counted_from == "rope order" else self.counted_from


@dataclass(frozen=True, slots=True, kw_only=True)
class SeenFromMark:
    """So far from a mark: ``offset_m`` towards end B, negative towards end A."""

    mark: PathPlace
    offset_m: float

    def __post_init__(self) -> None:
        check_finite("offset_m", self.offset_m)


@dataclass(frozen=True, slots=True, kw_only=True)
class SeenFromEnd:
    """By tape from where the rope leaves end A's fitting, or from the drum clamp at end B."""

    end: End
    tape_m: float

    def __post_init__(self) -> None:
        check_not_negative("tape_m", self.tape_m)


Sighting: TypeAlias = SeenAtPoint | SeenOnDrum | SeenFromMark | SeenFromEnd
