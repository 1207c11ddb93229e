"""What is known of the rope's path, its drum, its travel and the places to stand; all optional.

These are the numbers as a person states them.  `hoist_on` makes the path model of a day from
them, and says which number is missing when an answer needs it.
"""

from dataclasses import dataclass
from datetime import date
from typing import Final, Literal, TypeAlias

from ropewright.errors import InputError
from ropewright.geometry import Carrier, CranePosition, InspectionPoint
from ropewright.geometry.exposure import SheaveKind

PathKind: TypeAlias = Literal[
    "trolley-jib hoist",
    "trolley rope",
    "luffing-jib hoist",
    "luffing rope",
    "telescopic hoist",
    "bridge hoist, twin drum",
    "bridge hoist, single drum",
    "spans and sheaves",
]
PATH_KINDS: Final[tuple[PathKind, ...]] = (
    "trolley-jib hoist", "trolley rope", "luffing-jib hoist", "luffing rope",
    "telescopic hoist", "bridge hoist, twin drum", "bridge hoist, single drum",
    "spans and sheaves",
)  # fmt: skip

AnchorAt: TypeAlias = Literal["jib tip", "trolley", "jib foot"]
BlockMake: TypeAlias = Literal["single", "convertible"]
SheavesLie: TypeAlias = Literal["in one plane", "on one axis"]
TrolleyRope: TypeAlias = Literal["inner", "outer"]
Bend: TypeAlias = Literal["same way", "other way"]
"""How a sheave or the drum bends the rope, compared with the sheave before it."""
HangsFrom: TypeAlias = Literal["level", "luffing jib", "telescopic boom"]
EndAOn: TypeAlias = Literal["fitting", "drum"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PathPart:
    """One piece of a path told piece by piece, from end A on: a span or a sheave.

    A span is ``fixed_m`` long and grows with the crane's measures: ``per_drop`` [-] metres per
    metre from the sheaves above down to the block, ``per_radius`` [-] per metre of radius,
    ``per_boom`` [-] per metre of boom, ``per_tie`` [-] per metre from the jib to the A-frame.  A
    sheave has its diameter at the groove bottom and its wrap [deg], which may change by
    ``wrap_per_jib`` [-] and ``wrap_per_tie`` [-] degrees per degree.
    """

    kind: Literal["span", "sheave"]
    name: str
    fixed_m: float = 0.0
    per_drop: float = 0.0
    per_radius: float = 0.0
    per_boom: float = 0.0
    per_tie: float = 0.0
    diameter_mm: float | None = None
    wrap_deg: float = 180.0
    wrap_per_jib: float = 0.0
    wrap_per_tie: float = 0.0
    bend: Bend | None = None
    on: Carrier = "crane"
    groove: SheaveKind = "unknown"
    turns: bool = True

    def __post_init__(self) -> None:
        if self.kind == "sheave" and self.diameter_mm is None:
            raise InputError(
                field="diameter", expected="its diameter at the groove bottom", given=None
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class ReevingFacts:
    """The rope's path; sheave diameters are at the groove bottom.

    ``root_m`` is the radius of the root sheave, ``upper_height_m`` the height of the upper
    sheaves' centres above the zero of the hook readings, ``out_at_top_m`` the rope between end A
    and the drum with the hook at its highest.  ``root_bend`` and ``drum_bend`` tell a reverse
    bend; ``parts`` is the path of a hoist told piece by piece.
    """

    kind: PathKind | None = None
    anchor: AnchorAt | None = None
    anchor_m: float | None = None
    block: BlockMake | None = None
    sheaves_lie: SheavesLie | None = None
    upper_height_m: float | None = None
    hook_below_m: float | None = None
    upper_sheave_mm: float | None = None
    block_sheave_mm: float | None = None
    root_sheave_mm: float | None = None
    root_m: float | None = None
    root_wrap_deg: float | None = None
    to_drum_m: float | None = None
    trolley_half_m: float | None = None
    jib_m: float | None = None
    foot_height_m: float | None = None
    foot_radius_m: float | None = None
    a_frame_back_m: float | None = None
    a_frame_up_m: float | None = None
    a_frame_sheave_mm: float | None = None
    lead_deg: float | None = None
    pendant_m: float | None = None
    tie_at_m: float | None = None
    beyond_boom_m: float | None = None
    equaliser_mm: float | None = None
    drum_up_m: float | None = None
    trolley_rope: TrolleyRope | None = None
    end_sheave_m: float | None = None
    end_sheave_mm: float | None = None
    winch_m: float | None = None
    hangs_from: HangsFrom | None = None
    end_a: EndAOn | None = None
    end_a_on: Carrier | None = None
    root_bend: Bend | None = None
    drum_bend: Bend | None = None
    parts: tuple[PathPart, ...] = ()
    out_at_top_m: float | None = None
    out_at_top_err_m: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DrumFacts:
    """The drum beyond barrel, grooving and wraps per layer, which stand with the rigging.

    ``wraps`` [wraps] gives every layer its own number; ``crossover_share`` [-] is the part of a
    turn that lies in crossovers.  The two flange names are what people call them.
    """

    pitch_mm: float | None = None
    width_mm: float | None = None
    flange_mm: float | None = None
    layers: int | None = None
    wraps: tuple[float, ...] = ()
    layer_rise_mm: float | None = None
    crossover_share: float | None = None
    crossovers: int | None = None
    clamp_flange: str = ""
    far_flange: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TravelFacts:
    """How far trolley, jib and boom go, the ground, and the slowest hook speed."""

    radius_min_m: float | None = None
    radius_max_m: float | None = None
    jib_min_deg: float | None = None
    jib_max_deg: float | None = None
    boom_min_m: float | None = None
    boom_max_m: float | None = None
    boom_min_deg: float | None = None
    boom_max_deg: float | None = None
    ground_m: float | None = None
    room_above_m: float | None = None
    creep_m_per_s: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkPlace:
    """A place where a person can be: at one point of the path, or along a whole span of it.

    ``point`` is tied to a sheave, end A or the drum; ``along`` names a span that a person can
    walk along while nothing moves.  ``by_hand`` says whether a hand gets at the rope there.
    """

    name: str
    point: InspectionPoint | None = None
    along: str = ""
    by_hand: bool = False
    remark: str = ""


ReadingKind: TypeAlias = Literal["wraps counted", "layer full", "mark passed"]
READING_KINDS: Final[tuple[ReadingKind, ...]] = ("wraps counted", "layer full", "mark passed")


@dataclass(frozen=True, slots=True, kw_only=True)
class CalibrationReading:
    """Something seen at the crane that tells how far its stated numbers are off.

    With the crane at ``position``: so many ``wraps`` [wraps] counted on the fullest ``layer``
    (± ``err_turns`` [turns]), the moment a layer is full and the rope climbs, or a mark passing
    a place where a person stands.  The mark is one of the rope's, by name, or one at
    ``taped_m`` from end A's fitting.
    """

    name: str
    kind: ReadingKind
    on: date
    position: CranePosition
    layer: int | None = None
    wraps: float | None = None
    err_turns: float | None = None
    point: str = ""
    mark: str = ""
    taped_m: float | None = None
    taped_err_m: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ToleranceFacts:
    """How far the set-up's numbers may be off, where somebody knows better than we assume.

    Each is a ± with about 95 % certainty; ``wraps`` [wraps] holds for every layer.
    """

    hook_zero_m: float | None = None
    anchor_side_m: float | None = None
    lead_m: float | None = None
    rope_m: float | None = None
    barrel_mm: float | None = None
    rise_mm: float | None = None
    wraps: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingErrorFacts:
    """How far a single reading may be off, where somebody knows better than we assume.

    Each is a ± with about 95 % certainty; ``drum_turns`` [turns] and ``part_of_turn`` [turns]
    count turns, ``tape_share`` [-] is the part of a tape's error that grows with its length.
    """

    hook_m: float | None = None
    radius_m: float | None = None
    jib_deg: float | None = None
    boom_m: float | None = None
    boom_deg: float | None = None
    drum_turns: float | None = None
    point_m: float | None = None
    part_of_turn: float | None = None
    tape_m: float | None = None
    tape_share: float | None = None
