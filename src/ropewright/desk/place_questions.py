"""What is asked of places on the rope, and what comes back."""

from dataclasses import dataclass
from datetime import date
from typing import TypeAlias

from ropewright.geometry import CranePosition, Help, PathPlace, PlaceOnDrum, RopePlace
from ropewright.geometry.sighting import DrumSide, End
from ropewright.inspection import Asked, ReadingsFit
from ropewright.plan import Reach


@dataclass(frozen=True, slots=True, kw_only=True)
class AtPoint:
    """Seen at a named point with the crane at a position."""

    point: str
    position: CranePosition


@dataclass(frozen=True, slots=True, kw_only=True)
class OnDrum:
    """Seen on the drum; ``part`` [turns] is counted from the clamp's line."""

    layer: int
    wrap: int
    counted_from: str
    part: float | None = None
    side: DrumSide = "B"


@dataclass(frozen=True, slots=True, kw_only=True)
class FromMark:
    """So far beyond a named mark, away from end A; before it: negative [m]."""

    mark: str
    offset_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FromEnd:
    """By tape from an end: end A's fitting, or the drum clamp at end B."""

    end: End
    tape_m: float


Question: TypeAlias = AtPoint | OnDrum | FromMark | FromEnd


@dataclass(frozen=True, slots=True, kw_only=True)
class Near:
    """A mark or a finding near a place: so far beyond it, away from end A [m]."""

    name: str
    beyond_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Whereabouts:
    """A place on the rope: path and rope position with their ±, and where it lies on the drum.

    ``zones`` says what the rope meets there on the drum; ``helps`` are the measurements that
    would narrow the ± most, ``asked`` the numbers that would give more, and for what;
    ``calibration`` is what readings at the crane made of the stated numbers.
    """

    asked_as: str
    on: date
    by_payout: bool
    path: PathPlace
    rope: RopePlace
    drum: PlaceOnDrum | None
    flanges: tuple[str, str]
    zones: tuple[str, ...]
    near: tuple[Near, ...]
    helps: tuple[Help, ...]
    asked: tuple[Asked, ...]
    calibration: ReadingsFit | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BroughtBack:
    """How a place comes in front of a person, and where it cannot, with the reason.

    ``cautions`` names what is known to stand out of the rope there.
    """

    asked_as: str
    on: date
    by_payout: bool
    path: PathPlace
    rope_m: float
    reaches: tuple[Reach, ...]
    not_reached: tuple[str, ...]
    asked: tuple[Asked, ...]
    cautions: tuple[str, ...] = ()
