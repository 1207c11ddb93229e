"""Random riggings: the same plain numbers once as a drawn crane and once as a hoist of the tool."""

from collections.abc import Callable
from dataclasses import dataclass, field

from hypothesis import strategies as st

from ropewright.geometry import (
    ANCHORS,
    BlockSheaves,
    CranePosition,
    Drum,
    Hoist,
    InspectionPoint,
    Lead,
    LevelTrack,
    LuffingJib,
    Reeving,
    TelescopicBoom,
    Travel,
    bridge_hoist_twin,
    luffing_jib_hoist,
    luffing_rope,
    telescopic_hoist,
    trolley_jib_hoist,
)
from tests.simulator import drawn_cranes as drawn
from tests.simulator.rope_simulator import Chain, Winding, Xy


@dataclass
class Standing:
    """A person: the point as the tool knows it, and where that is in the drawing."""

    point: InspectionPoint
    run: str
    where: Callable[[CranePosition], Xy]


@dataclass
class Rigging:
    """One rigging, both ways."""

    hoist: Hoist
    draw: Callable[[CranePosition], Chain]
    winding: Winding
    people: list[Standing] = field(default_factory=list)

    @property
    def rope_m(self) -> float:
        assert self.hoist.rope_m is not None
        return self.hoist.rope_m


def size(low: float, high: float) -> st.SearchStrategy[float]:
    return st.integers(round(low * 1000), round(high * 1000)).map(lambda mm: mm / 1000)


def _of(value: float | None) -> float:
    assert value is not None
    return value


def _with_rope(
    reeving: Reeving, travel: Travel, draw: Callable[[CranePosition], Chain], dead_m: float
) -> tuple[Hoist, Winding]:
    """Choose a rope that leaves dead wraps at the farthest corner, and a drum that holds it."""
    corners = travel.grid(reeving.axes, 2)
    positions = [corners.at(number) for number in range(len(corners))]
    longest = max(draw(position).length for position in positions)
    rope_m = round(longest + dead_m, 2)
    winding = Winding(barrel=0.48, rope=0.0204, rise=0.0184, wraps=[27.5, 28, 27.5, 28] * 4)
    drum = Drum(
        barrel_mm=480, rope_mm=20.4, rise_mm=18.4, wraps=(27.5, 28.0, 27.5, 28.0) * 4, pitch_mm=20.9
    )
    return Hoist(reeving=reeving, travel=travel, rope_m=rope_m, drum=drum), winding


def _at_drum(draw: Callable[[CranePosition], Chain], off: float) -> Standing:
    """Put a person beside the last run, so far from where it meets the drum."""

    def where(at: CranePosition) -> Xy:
        chain = draw(at)
        return chain.at(chain.length - off)

    point = InspectionPoint(name="at the drum", at="drum", side="before", offset_m=off)
    return Standing(point=point, run="last", where=where)


def _behind_head(crane: drawn.LuffingJib, off: float) -> Standing:
    """Put a person behind the sheave at the jib's head, on the run to the A-frame."""

    def where(at: CranePosition) -> Xy:
        chain = crane.draw(_of(at.hook_m), _of(at.jib_deg))
        return chain.at(chain.borders("head")[1] + off)

    point = InspectionPoint(
        name="behind the head", at="jib head sheave", side="after", offset_m=off
    )
    return Standing(point=point, run=f"run {crane.falls}", where=where)


@st.composite
def trolley_jibs(choose: st.DrawFn) -> Rigging:
    """Trolley-jib cranes: 2 and 4 falls, every anchor, the convertible block in both states."""
    falls, pinned = choose(st.sampled_from([(2, False), (2, True), (4, False)]))
    anchor = choose(st.sampled_from(ANCHORS))
    upper_r, block_r, trolley_r = (choose(size(0.15, 0.4)) for _ in range(3))
    if not pinned and falls == 4:
        upper_r = trolley_r  # the tool takes all sheaves above as one size
    if pinned:
        trolley_r = upper_r
    crane = drawn.TrolleyJib(
        falls=falls,
        anchor=anchor,
        pinned=pinned,
        sheave_height=choose(size(30, 80)),
        hook_below=choose(size(0.5, 2.0)),
        anchor_x=choose(size(55, 70)) if anchor == "jib tip" else choose(size(0.5, 1.0)),
        root_x=choose(size(1.0, 1.5)),
        trolley_r=trolley_r,
        block_r=block_r,
        upper_r=upper_r,
        root_r=choose(size(0.15, 0.4)),
        to_drum=choose(size(5, 15)),
    )
    half = crane.half
    reeving = trolley_jib_hoist(
        falls=falls,
        frame=LevelTrack(sheave_height_m=crane.sheave_height, hook_below_m=crane.hook_below),
        sheaves=BlockSheaves(
            block_mm=2000 * block_r, upper_mm=2000 * trolley_r, block_sense=-1, upper_sense=1
        ),
        lead=Lead(to_drum_m=crane.to_drum, sheave_mm=2000 * crane.root_r),
        root_m=crane.root_x,
        anchor=anchor,
        anchor_m=crane.anchor_x,
        block="convertible" if pinned else "single",
        trolley_half_m=half,
        outer_half_m=half - 2 * trolley_r if anchor == "jib foot" else half,
    )
    travel = Travel(
        hook_low_m=choose(size(0, 3)),
        hook_high_m=crane.sheave_height - crane.hook_below - choose(size(1, 3)),
        radius_min_m=crane.root_x + half + 1,
        radius_max_m=50.0,
    )

    def draw(at: CranePosition) -> Chain:
        return crane.draw(_of(at.hook_m), _of(at.radius_m))

    hoist, winding = _with_rope(reeving, travel, draw, choose(size(4, 12)))
    off, above = choose(size(0.05, 0.9)), choose(size(0.5, 2.0))
    top = crane.sheave_height
    runs = len(crane.wheels(10.0, 30.0)) - 1
    people = [
        Standing(
            InspectionPoint(name="tower head", at="root sheave", side="before", offset_m=off),
            f"run {runs - 1}",
            lambda _: (crane.root_x + off, top + crane.trolley_r),
        ),
        Standing(
            InspectionPoint(name="at the drum", at="drum", side="before", offset_m=off),
            f"run {runs}",
            lambda _: (
                crane.root_x - crane.root_r,
                top + crane.trolley_r - crane.root_r - crane.to_drum + off,
            ),
        ),
        Standing(
            InspectionPoint(
                name="under the trolley", at="inner trolley sheave", side="before", offset_m=above
            ),
            f"run {runs - 2}",
            lambda at: (_of(at.radius_m) - half + crane.trolley_r, top - above),
        ),
    ]
    return Rigging(hoist=hoist, draw=draw, winding=winding, people=people)


@st.composite
def luffing_jibs(choose: st.DrawFn) -> Rigging:
    """Luffing-jib cranes with 1, 2 or 4 falls; head and A-frame sheaves of unlike size."""
    crane = drawn.LuffingJib(
        falls=choose(st.sampled_from([1, 2, 4])),
        jib=choose(size(35, 60)),
        foot_height=choose(size(30, 60)),
        back=choose(size(4, 9)),
        up=choose(size(9, 14)),
        hook_below=choose(size(0.5, 2)),
        head_r=choose(size(0.2, 0.4)),
        a_frame_r=choose(size(0.2, 0.4)),
        lead_deg=choose(size(265, 290)),
        to_drum=choose(size(5, 15)),
    )
    sheaves = BlockSheaves(block_mm=2000 * crane.head_r, upper_mm=2000 * crane.head_r)
    reeving = luffing_jib_hoist(
        falls=crane.falls,
        frame=LuffingJib(
            jib_m=crane.jib,
            foot_height_m=crane.foot_height,
            a_frame_back_m=crane.back,
            a_frame_up_m=crane.up,
            hook_below_m=crane.hook_below,
        ),
        sheaves=sheaves,
        a_frame_sheave_mm=2000 * crane.a_frame_r,
        lead_deg=crane.lead_deg,
        lead=Lead(to_drum_m=crane.to_drum),
    )
    travel = Travel(
        hook_low_m=0.0, hook_high_m=crane.foot_height, jib_min_deg=15.0, jib_max_deg=75.0
    )

    def draw(at: CranePosition) -> Chain:
        return crane.draw(_of(at.hook_m), _of(at.jib_deg))

    hoist, winding = _with_rope(reeving, travel, draw, choose(size(4, 12)))
    return Rigging(
        hoist=hoist,
        draw=draw,
        winding=winding,
        people=[_at_drum(draw, choose(size(0.2, 3))), _behind_head(crane, choose(size(0.5, 3)))],
    )


@st.composite
def luffing_ropes(choose: st.DrawFn) -> Rigging:
    """Luffing ropes of 1 to 6 falls."""
    rope = drawn.LuffingRope(
        falls=choose(st.integers(1, 6)),
        jib=50.0,
        back=choose(size(4, 9)),
        up=choose(size(9, 14)),
        tie_at=choose(size(40, 50)),
        pendant=choose(size(5, 20)),
        radius=choose(size(0.2, 0.4)),
        lead_deg=choose(size(265, 290)),
        to_drum=choose(size(5, 15)),
    )
    reeving = luffing_rope(
        falls=rope.falls,
        frame=LuffingJib(
            jib_m=rope.jib, foot_height_m=40.0, a_frame_back_m=rope.back, a_frame_up_m=rope.up
        ),
        pendant_m=rope.pendant,
        sheave_mm=2000 * rope.radius,
        lead_deg=rope.lead_deg,
        lead=Lead(to_drum_m=rope.to_drum),
        tie_at_m=rope.tie_at,
    )
    travel = Travel(jib_min_deg=15.0, jib_max_deg=75.0)

    def draw(at: CranePosition) -> Chain:
        return rope.draw(_of(at.jib_deg))

    hoist, winding = _with_rope(reeving, travel, draw, choose(size(4, 12)))
    return Rigging(
        hoist=hoist, draw=draw, winding=winding, people=[_at_drum(draw, choose(size(0.2, 3)))]
    )


@st.composite
def telescopics(choose: st.DrawFn) -> Rigging:
    """Telescopic cranes of 1 to 9 falls, odd ones anchored at the block."""
    crane = drawn.Telescopic(
        falls=choose(st.integers(1, 9)),
        foot_x=choose(size(-3, 0)),
        foot_height=choose(size(1.5, 3)),
        hook_below=choose(size(0.5, 1.5)),
        radius=choose(size(0.15, 0.3)),
        beyond_boom=choose(size(-1, 1)),
        to_drum=choose(size(1, 3)),
    )
    reeving = telescopic_hoist(
        falls=crane.falls,
        frame=TelescopicBoom(
            foot_height_m=crane.foot_height,
            foot_radius_m=crane.foot_x,
            hook_below_m=crane.hook_below,
        ),
        sheaves=BlockSheaves(block_mm=2000 * crane.radius, upper_mm=2000 * crane.radius),
        lead=Lead(to_drum_m=crane.to_drum),
        beyond_boom_m=crane.beyond_boom,
    )
    travel = Travel(
        hook_low_m=0.0, hook_high_m=4.0, boom_min_m=10.0, boom_max_m=30.0,
        boom_min_deg=40.0, boom_max_deg=80.0,
    )  # fmt: skip

    def draw(at: CranePosition) -> Chain:
        return crane.draw(_of(at.hook_m), _of(at.boom_m), _of(at.boom_deg))

    hoist, winding = _with_rope(reeving, travel, draw, choose(size(4, 12)))
    return Rigging(
        hoist=hoist, draw=draw, winding=winding, people=[_at_drum(draw, choose(size(0.2, 3)))]
    )


@dataclass
class TwinRigging:
    """A twin drum: the half rope is drawn, the other half is its mirror image."""

    hoist: Hoist
    crane: drawn.TwinDrum


@st.composite
def twin_drums(choose: st.DrawFn) -> TwinRigging:
    """Bridge cranes with twin drum, 2 to 8 falls; the equaliser above or in the block."""
    crane = drawn.TwinDrum(
        falls=2 * choose(st.integers(1, 4)),
        sheave_height=choose(size(8, 20)),
        hook_below=choose(size(0.3, 1)),
        radius=choose(size(0.1, 0.3)),
        drum_up=choose(size(-0.5, 0.5)),
    )
    diameter = 2000 * crane.radius
    reeving = bridge_hoist_twin(
        falls=crane.falls,
        frame=LevelTrack(sheave_height_m=crane.sheave_height, hook_below_m=crane.hook_below),
        sheaves=BlockSheaves(block_mm=diameter, upper_mm=diameter),
        equaliser_mm=diameter,
        drum_up_m=crane.drum_up,
    )
    travel = Travel(
        hook_low_m=0.0, hook_high_m=crane.sheave_height - crane.hook_below - choose(size(1, 2))
    )
    rope_m = round(2 * crane.draw_half(0.0).length + 2 * choose(size(2, 6)), 2)
    drum = Drum(barrel_mm=300, rope_mm=13.3, wraps=(200.0,))
    return TwinRigging(
        hoist=Hoist(reeving=reeving, travel=travel, rope_m=rope_m, drum=drum), crane=crane
    )
