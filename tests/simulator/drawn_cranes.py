"""Cranes drawn wheel by wheel in a plane, from plain numbers; nothing of the tool is used.

x runs outwards along the jib, y upwards; the zero of the hook heights is y = 0.
"""

import math
from dataclasses import dataclass

from tests.simulator.rope_simulator import Chain, Wheel, draw

UP, DOWN, IN, OUT = math.pi / 2, -math.pi / 2, math.pi, 0.0


@dataclass
class TrolleyJib:
    """All wheels of a trolley-jib crane lie side by side in the plane of the jib."""

    falls: int
    anchor: str  # 'jib tip', 'trolley', 'jib foot'
    pinned: bool  # the upper sheave is in the block
    sheave_height: float
    hook_below: float
    anchor_x: float
    root_x: float
    trolley_r: float
    block_r: float
    upper_r: float
    root_r: float
    to_drum: float

    @property
    def half(self) -> float:
        """Return how far the outer and inner trolley sheaves are from the hook's line."""
        if self.falls == 2 and not self.pinned:
            return self.trolley_r + self.block_r
        return self.trolley_r + 2 * self.block_r + self.upper_r

    def wheels(self, hook: float, radius: float) -> list[Wheel]:
        top, below = self.sheave_height, hook + self.hook_below
        reach = self.half
        outer = Wheel("outer", (radius + reach, top), self.trolley_r, 1)
        inner = Wheel("inner", (radius - reach, top), self.trolley_r, 1)
        root = Wheel("root", (self.root_x, top + self.trolley_r - self.root_r), self.root_r, 1)
        if self.falls == 2 and not self.pinned:
            middle = [Wheel("block", (radius, below), self.block_r, -1)]
        else:
            upper_y = below if self.pinned else top
            aside = self.upper_r + self.block_r
            middle = [
                Wheel("block 1", (radius + aside, below), self.block_r, -1),
                Wheel("upper", (radius, upper_y), self.upper_r, 1),
                Wheel("block 2", (radius - aside, below), self.block_r, -1),
            ]
        if self.anchor == "jib tip":
            first = [Wheel("A", (self.anchor_x, top + self.trolley_r)), outer]
        elif self.anchor == "jib foot":
            # The rope comes from the foot, over the outer sheave, and down on its far side.
            outer.sense, outer.centre = -1, (radius + reach - 2 * self.trolley_r, top)
            first = [Wheel("A", (self.anchor_x, top + self.trolley_r)), outer]
        else:
            first = [Wheel("A", (radius + reach - self.trolley_r, top))]
        return [*first, *middle, inner, root]

    def draw(self, hook: float, radius: float, coarse: float = 1.0) -> Chain:
        wheels = self.wheels(hook, radius)
        names = [wheel.name for wheel in wheels]
        closed = {}
        if self.pinned:
            closed = {names.index("block 1"): UP, names.index("upper"): DOWN}
        return draw(
            wheels,
            directions=closed,
            last_direction=DOWN,
            last_run=self.to_drum,
            coarse=coarse,
        )


@dataclass
class LuffingJib:
    """Head sheave and A-frame sheave in the plane; block and head sheaves of one diameter."""

    falls: int
    jib: float
    foot_height: float
    back: float
    up: float
    hook_below: float
    head_r: float
    a_frame_r: float
    lead_deg: float
    to_drum: float

    def draw(self, hook: float, jib_deg: float) -> Chain:
        angle = math.radians(jib_deg)
        head = (self.jib * math.cos(angle), self.foot_height + self.jib * math.sin(angle))
        wheels = falls_in_one_plane(self.falls, head, hook + self.hook_below, self.head_r)
        a_frame = Wheel("A-frame", (-self.back, self.foot_height + self.up), self.a_frame_r, 1)
        return draw(
            [*wheels, a_frame],
            last_direction=math.radians(self.lead_deg),
            last_run=self.to_drum,
        )


def falls_in_one_plane(
    falls: int, head: tuple[float, float], block_y: float, radius: float
) -> list[Wheel]:
    """Return wheels on two axes, seen from the side: the rope goes round and round to the left."""
    x, top = head
    fastened_at_block = falls % 2 == 1
    wheels = [
        Wheel("A", (x + radius, block_y)) if fastened_at_block else Wheel("A", (x - radius, top))
    ]
    at_block = not fastened_at_block
    for number in range(1, falls):
        name = f"block {number}" if at_block else f"upper {number}"
        wheels.append(Wheel(name, (x, block_y if at_block else top), radius, 1))
        at_block = not at_block
    wheels.append(Wheel("head", head, radius, 1))
    return wheels


@dataclass
class LuffingRope:
    """Falls between an A-frame and a block on pendants, drawn along the line that joins them."""

    falls: int
    jib: float
    back: float
    up: float
    tie_at: float
    pendant: float
    radius: float
    lead_deg: float
    to_drum: float

    def draw(self, jib_deg: float) -> Chain:
        angle = math.radians(jib_deg)
        tie = (self.tie_at * math.cos(angle), self.tie_at * math.sin(angle))
        a_frame = (-self.back, self.up)
        towards = math.atan2(a_frame[1] - tie[1], a_frame[0] - tie[0])
        block = (
            tie[0] + self.pendant * math.cos(towards),
            tie[1] + self.pendant * math.sin(towards),
        )
        # Left of the line lies the run away from the A-frame, right of it the run towards it.
        left, right = towards + math.pi / 2, towards - math.pi / 2
        odd = self.falls % 2 == 1
        side, foot = (right, block) if odd else (left, a_frame)
        wheels = [
            Wheel(
                "A",
                (
                    foot[0] + self.radius * math.cos(side),
                    foot[1] + self.radius * math.sin(side),
                ),
            )
        ]
        at_block = not odd
        for number in range(1, self.falls):
            centre = block if at_block else a_frame
            wheels.append(Wheel(f"wheel {number}", centre, self.radius, 1))
            at_block = not at_block
        wheels.append(Wheel("A-frame", a_frame, self.radius, 1))
        return draw(wheels, last_direction=math.radians(self.lead_deg), last_run=self.to_drum)


@dataclass
class Telescopic:
    """Falls on two axes at the boom head, then along the boom."""

    falls: int
    foot_x: float
    foot_height: float
    hook_below: float
    radius: float
    beyond_boom: float
    to_drum: float

    def draw(self, hook: float, boom: float, boom_deg: float) -> Chain:
        angle = math.radians(boom_deg)
        head = (
            self.foot_x + boom * math.cos(angle),
            self.foot_height + boom * math.sin(angle),
        )
        wheels = falls_in_one_plane(self.falls, head, hook + self.hook_below, self.radius)
        return draw(
            wheels,
            last_direction=math.pi + angle,
            last_run=boom + self.beyond_boom + self.to_drum,
        )


@dataclass
class TwinDrum:
    """One half of a twin drum's rope, from the equaliser's middle to the drum."""

    falls: int
    sheave_height: float
    hook_below: float
    radius: float
    drum_up: float

    def draw_half(self, hook: float) -> Chain:
        """Draw from the drum's tangent point down and up to the middle of the equaliser."""
        top, below, r = self.sheave_height, hook + self.hook_below, self.radius
        wheels = [Wheel("A", (-r, top + self.drum_up))]
        at_block = True
        for number in range(1, self.falls // 2):
            wheels.append(Wheel(f"wheel {number}", (0.0, below if at_block else top), r, 1))
            at_block = not at_block
        wheels.append(Wheel("equaliser", (0.0, below if at_block else top), r, 1))
        # Half way round the equaliser the rope runs level.
        return draw(wheels, last_direction=OUT if at_block else IN)
