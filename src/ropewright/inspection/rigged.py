"""What is known of the rope's path, its drum, its travel and the places to stand; all optional.

These are the numbers as a person states them.  `hoist_on` makes the path model of a day from
them, and says which number is missing when an answer needs it.
"""

from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from ropewright.geometry import InspectionPoint

PathKind: TypeAlias = Literal[
    "trolley-jib hoist",
    "trolley rope",
    "luffing-jib hoist",
    "luffing rope",
    "telescopic hoist",
    "bridge hoist, twin drum",
    "bridge hoist, single drum",
]
PATH_KINDS: Final[tuple[PathKind, ...]] = (
    "trolley-jib hoist", "trolley rope", "luffing-jib hoist", "luffing rope",
    "telescopic hoist", "bridge hoist, twin drum", "bridge hoist, single drum",
)  # fmt: skip

AnchorAt: TypeAlias = Literal["jib tip", "trolley", "jib foot"]
BlockMake: TypeAlias = Literal["single", "convertible"]
SheavesLie: TypeAlias = Literal["in one plane", "on one axis"]
TrolleyRope: TypeAlias = Literal["inner", "outer"]


@dataclass(frozen=True, slots=True, kw_only=True)
class ReevingFacts:
    """The rope's path; sheave diameters are at the groove bottom.

    ``root_m`` is the radius of the root sheave, ``upper_height_m`` the height of the upper
    sheaves' centres above the zero of the hook readings, ``out_at_top_m`` the rope between end A
    and the drum with the hook at its highest.
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
