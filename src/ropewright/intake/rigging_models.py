"""The tables of a case file that say how the rope is rigged, as strict models."""

from datetime import date
from typing import Annotated, Literal, TypeAlias

from pydantic import Field

from ropewright.geometry import Carrier
from ropewright.inspection.rigged import (
    AnchorAt,
    Bend,
    BlockMake,
    EndAOn,
    HangsFrom,
    PathKind,
    SheavesLie,
    TrolleyRope,
)
from ropewright.intake.models import Name, Strict, Text, key, needed, tables
from ropewright.intake.quantities import Length, PlusMinus, Share, Speed
from ropewright.intake.reading_models import ReadingErrorModel, ReadingModel, ToleranceModel
from ropewright.intake.signed_quantities import Angle, Height

Wraps: TypeAlias = Annotated[float, Field(gt=0, le=1000)]
Times: TypeAlias = Annotated[float, Field(ge=-100, le=100)]


class PartModel(Strict):
    """One piece of a path told piece by piece, from end A on: a span, or a sheave."""

    span: Name | None = key("name of a span of free rope", example="fall 1")
    sheave: Name | None = key("instead of span: name of a sheave", example="block sheave")
    fixed: Height | None = key("span: the part of its length that never changes", example="4 m")
    per_drop: Times | None = key(
        "span: metres of it per metre from the sheaves above down to the block", example=1
    )
    per_radius: Times | None = key("span: metres of it per metre of radius", example=-1)
    per_boom: Times | None = key("span: metres of it per metre of boom", example=1)
    per_luff: Times | None = key("span: metres of it per metre from the jib to the A-frame")
    diameter: Length | None = key("sheave: its diameter at the groove bottom", example="400 mm")
    wrap: Angle | None = key("sheave: its wrap; 180 deg if not said", example="90 deg")
    wrap_per_jib: Times | None = key("sheave: degrees of wrap per degree of jib or boom")
    wrap_per_luff: Times | None = key(
        "sheave: degrees of wrap per degree of the direction from the jib to the A-frame"
    )
    bend: Bend | None = key("sheave: how it bends the rope, compared with the sheave before it")
    on: Carrier | None = key("sheave: what carries it; the crane if not said")
    groove: Literal["steel", "plastic"] | None = key("sheave: what its groove is made of")
    turns: bool | None = key("sheave: false if it hardly turns, like an equaliser")


class ReevingModel(Strict):
    """The path of the rope from end A to the drum. Sheaves are measured at the groove bottom."""

    kind: PathKind | None = key("what kind of path it is")
    anchor: AnchorAt | None = key("trolley-jib crane: where end A is fastened; the tip if not said")
    anchor_radius: Length | None = key("radius of end A's fitting", example="60 m")
    block: BlockMake | None = key("trolley-jib crane: a block in one part or in two")
    sheaves_lie: SheavesLie | None = key("how the sheaves of the falls lie to each other")
    upper_height: Height | None = key(
        "height of the upper sheaves' centres above the zero of the hook height", example="62 m"
    )
    hook_below: Length | None = key(
        "from the centre of the block's sheaves down to the hook", example="1.2 m"
    )
    upper_sheave: Length | None = key("diameter of the sheaves above the block", example="500 mm")
    block_sheave: Length | None = key("diameter of the block's sheaves", example="500 mm")
    root_sheave: Length | None = key("diameter of the sheave next to the drum", example="500 mm")
    root_radius: Length | None = key("radius at which that sheave stands", example="1.5 m")
    root_wrap: Angle | None = key("wrap on that sheave; 90 deg if not said", example="90 deg")
    to_drum: Length | None = key("free rope from the last sheave to the drum", example="14 m")
    trolley_half: Length | None = key("from the hook's line to a trolley sheave", example="0.4 m")
    jib_length: Length | None = key("from the foot pin to the centre of the head sheave")
    foot_height: Height | None = key("height of the foot pin above the zero of the hook height")
    foot_radius: Height | None = key("radius of the foot pin; behind the slewing axis: negative")
    a_frame_back: Height | None = key("how far the A-frame's sheave lies behind the foot pin")
    a_frame_up: Length | None = key("how far it lies above the foot pin")
    a_frame_sheave: Length | None = key("its diameter", example="560 mm")
    lead_angle: Angle | None = key(
        "direction of the rope from there to the drum, from 'along the jib' over 'up'; "
        "straight down, 270 deg, if not said",
        example="270 deg",
    )
    pendant: Length | None = key("luffing rope: length of the pendants to its block")
    tie_at: Length | None = key("luffing rope: where along the jib the pendants are fitted")
    beyond_boom: Height | None = key("telescopic crane: by how much its rope is longer than it")
    equaliser_sheave: Length | None = key("bridge crane: diameter of the equaliser sheave")
    drum_up: Height | None = key("bridge crane: how far the drum lies above the upper sheaves")
    trolley_rope: TrolleyRope | None = key("trolley rope: the inner or the outer one")
    end_sheave_radius: Length | None = key("trolley rope: radius of the sheave at the jib's end")
    end_sheave: Length | None = key("trolley rope: its diameter")
    winch_radius: Length | None = key("trolley rope: radius at which the winch stands")
    root_bend: Bend | None = key(
        "how the root sheave bends the rope, compared with the sheave before it"
    )
    drum_bend: Bend | None = key("how the drum bends the rope, compared with the sheave before it")
    hangs_from: HangsFrom | None = key(
        "spans and sheaves: what the sheaves above the block are on; level if not said"
    )
    end_a: EndAOn | None = key("spans and sheaves: end A in a fitting, or on a twin drum")
    end_a_on: Carrier | None = key("spans and sheaves: what carries end A; the crane if not said")
    part: list[PartModel] = tables("spans and sheaves: the path piece by piece, from end A on")
    out_at_top: Length | None = key(
        "rope from end A to the drum with the hook at its highest", example="82 m"
    )
    out_at_top_err: PlusMinus | None = key("how far off that may be; 0.5 m if not said")


class DrumModel(Strict):
    """More of the drum; barrel, grooving and wraps of a layer stand with the rigging."""

    pitch: Length | None = key("groove pitch", example="20.9 mm")
    width: Length | None = key("width between the flanges", example="800 mm")
    flange_diameter: Length | None = key("diameter of the flanges", example="760 mm")
    layers: Annotated[int, Field(ge=1, le=20)] | None = key("number of layers", example=5)
    wraps: list[Wraps] | None = key("wraps of each layer, if they differ", example=[[38, 37.5]])
    layer_rise: Length | None = key("what each layer adds to the radius", example="18.4 mm")
    crossover_share: Share | None = key("part of a turn that lies in crossovers", example="25 %")
    crossovers: Literal[1, 2] | None = key("crossovers per turn", example=2)
    clamp_flange: Name | None = key("what the flange at the clamp is called", example="motor side")
    far_flange: Name | None = key("what the other flange is called", example="gearbox side")


class TravelModel(Strict):
    """How far trolley, jib and boom go; the hook's limits stand with the rigging."""

    radius_min: Length | None = key(
        "smallest radius, of the trolley or of a luffing jib", example="2.5 m"
    )
    radius_max: Length | None = key("largest radius", example="58 m")
    jib_min: Angle | None = key("the jib's smallest angle", example="20 deg")
    jib_max: Angle | None = key("the jib's largest angle", example="82 deg")
    boom_min: Length | None = key("the boom's shortest length", example="11 m")
    boom_max: Length | None = key("the boom's greatest length", example="42 m")
    boom_angle_min: Angle | None = key("the boom's smallest angle", example="20 deg")
    boom_angle_max: Angle | None = key("the boom's largest angle", example="82 deg")
    ground: Height | None = key("the lowest place that the hook can get to", example="-3 m")
    room_above: Length | None = key(
        "how near the upper limit switch lets the block's sheaves come to those above",
        example="1.5 m",
    )
    creep_speed: Speed | None = key("the slowest hook speed", example="2.4 m/min")


class WorkPlaceModel(Strict):
    """A place where a person can be: at one point of the path, or along a span of it."""

    name: Name = needed("what the place is called", example="tower head")
    at: Name | None = key(
        "the sheave it lies at, 'end A' or 'drum'; twin drum: 'drum A' too", example="root sheave"
    )
    side: Literal["before", "after"] | None = key(
        "on which side of it, seen from end A; before if not said"
    )
    offset: Length | None = key("how far along the rope from there", example="1.5 m")
    along: Name | None = key(
        "instead of at: the span that a person can walk along while nothing moves",
        example="along the jib",
    )
    by_hand: bool | None = key("true if a hand gets at the rope there")
    remark: Text | None = key("how to get there, guards, anything else")


class RiggingModel(Strict):
    """Dated set-up of the rope's path."""

    valid_from: date = needed("the date from which this set-up holds, such as 2026-11-09")
    falls: Annotated[int, Field(ge=1, le=64)] | None = key("number of falls", example=2)
    drum_layers: Literal["single", "multi"] | None = key("one layer on the drum or several")
    drum_grooving: Literal["smooth", "helical", "parallel"] | None = key("the drum's grooving")
    drum_diameter: Length | None = key("barrel diameter at the groove bottom", example="480 mm")
    wraps_per_layer: Wraps | None = key("wraps in one layer")
    dead_wraps: Annotated[float, Field(ge=0, le=1000)] | None = key(
        "wraps left on the drum at the lowest hook position"
    )
    sheaves: Literal["steel", "plastic"] | None = key("what the sheaves are made of")
    sheave_diameter: Length | None = key("smallest sheave diameter", example="500 mm")
    hook_low: Height | None = key(
        "lowest hook height above the zero; below it: negative", example="0 m"
    )
    hook_high: Height | None = key("highest hook height above the zero", example="61 m")
    remark: Text | None = key("anything else")
    reeving: ReevingModel | None = key("the path of the rope from end A to the drum")
    drum: DrumModel | None = key("more of the drum")
    travel: TravelModel | None = key("how far trolley, jib and boom go")
    point: list[WorkPlaceModel] = tables("places where a person can be")
    reading: list[ReadingModel] = tables("readings at the crane that its numbers are fitted to")
    tolerance: ToleranceModel | None = key("how far the numbers of the set-up may be off")
    reading_error: ReadingErrorModel | None = key("how far a single reading may be off")
