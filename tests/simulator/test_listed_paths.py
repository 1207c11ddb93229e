"""Paths told piece by piece, against the drawn rope, and against the kinds that are built in."""

import math
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ropewright.geometry import (
    Contact,
    CranePositions,
    Hoist,
    LevelTrack,
    LuffingJib,
    Span,
    TelescopicBoom,
    Travel,
    trace,
)
from ropewright.inspection import PathPart, ReevingFacts, hoist_on
from ropewright.inspection.free_path import listed_path
from ropewright.intake import load_case
from tests.simulator.riggings import (
    Rigging,
    luffing_jibs,
    luffing_ropes,
    size,
    telescopics,
    trolley_jibs,
)
from tests.simulator.rope_simulator import Chain, Wheel, draw

MM = 1e-3
EXAMPLE = Path(__file__).parents[2] / "examples" / "shaft-hoist-spans.toml"
DOWN, IN = -math.pi / 2, math.pi


@dataclass
class ShaftHoist:
    """Two falls down a shaft, over a head frame, down a back leg, under a foot sheave to a drum."""

    top: float
    below: float
    along: float
    leg: float
    to_drum: float
    r: float

    def draw(self, hook: float) -> Chain:
        """All wheels in one plane; x to the right, y upwards from the shaft's bank."""
        r, block_y = self.r, hook + self.below
        wheels = [
            Wheel("A", (r, self.top)),
            Wheel("block", (0.0, block_y), r, -1),
            Wheel("head", (-2 * r, self.top), r, 1),
            Wheel("back leg", (-2 * r - self.along, self.top), r, 1),
            Wheel("foot", (-4 * r - self.along, self.top - self.leg), r, -1),
        ]
        return draw(wheels, last_direction=IN, last_run=self.to_drum)

    @property
    def parts(self) -> tuple[PathPart, ...]:
        groove_mm = 2000 * self.r - 16
        return (
            PathPart(kind="span", name="fall 1", per_drop=1),
            PathPart(kind="sheave", name="block", diameter_mm=groove_mm, on="block"),
            PathPart(kind="span", name="fall 2", per_drop=1),
            PathPart(kind="sheave", name="head", diameter_mm=groove_mm, wrap_deg=90,
                     bend="other way"),
            PathPart(kind="span", name="along", fixed_m=self.along),
            PathPart(kind="sheave", name="back leg", diameter_mm=groove_mm, wrap_deg=90),
            PathPart(kind="span", name="leg", fixed_m=self.leg),
            PathPart(kind="sheave", name="foot", diameter_mm=groove_mm, wrap_deg=90,
                     bend="other way"),
            PathPart(kind="span", name="to the drum", fixed_m=self.to_drum),
        )  # fmt: skip


HOISTS = st.builds(
    ShaftHoist,
    top=size(6, 20),
    below=size(0.3, 1.5),
    along=size(2, 9),
    leg=size(3, 5.5),
    to_drum=size(2, 9),
    r=size(0.1, 0.4),
)


def agrees(hoist: Hoist, chain: Chain, hook: float) -> None:
    """Every contact's beginning and end, and the rope outside, to a millimetre."""
    found = trace(hoist, CranePositions.of(hook_m=hook))
    wheels = [name for name in dict.fromkeys(chain.on) if not name.startswith("run")]
    for number, wheel in enumerate(wheels[1:]):
        start, end = chain.borders(wheel)
        assert float(found.start_m[number, 0]) == pytest.approx(start, abs=MM), wheel
        assert float(found.end_m[number, 0]) == pytest.approx(end, abs=MM), wheel
    assert float(found.out_m[0]) == pytest.approx(chain.length, abs=MM)


@settings(max_examples=40, deadline=None)
@given(crane=HOISTS, depth=size(0.5, 80))
def test_a_listed_path_lies_where_the_drawn_rope_lies(crane: ShaftHoist, depth: float) -> None:
    # By a slow program of our own (rope_simulator.py).
    facts = ReevingFacts(
        kind="spans and sheaves", upper_height_m=crane.top, hook_below_m=crane.below,
        parts=crane.parts,
    )  # fmt: skip
    reeving = listed_path(facts, rope_mm=16.0, falls=2, groove="steel")
    high = crane.top - crane.below - 0.5
    travel = Travel(hook_low_m=high - 85, hook_high_m=high, ground_m=high - 90)
    hoist = Hoist(reeving=reeving, travel=travel)
    agrees(hoist, crane.draw(high - depth), high - depth)
    senses = [one.sense for one in reeving.contacts]
    assert senses == [1, -1, -1, 1]  # by hand: the drawn senses -1, 1, 1, -1, seen from behind


@pytest.mark.parametrize("hook", [-45.0, -31.8, -12.0, 0.0, 5.0])
def test_the_example_of_a_shaft_hoist_lies_where_it_is_drawn(hook: float) -> None:
    dossier = load_case(EXAMPLE).dossier
    rigging = dossier.rigging[0]
    rigged = hoist_on(dossier, date(2026, 2, 2))  # the day before its readings
    assert rigged.calibration is None
    crane = ShaftHoist(top=9, below=0.8, along=6, leg=8, to_drum=5, r=0.208)
    agrees(rigged.hoist, crane.draw(hook), hook)
    assert rigging.falls == rigged.hoist.reeving.falls


def test_the_examples_readings_agree_with_its_numbers() -> None:
    rigged = hoist_on(load_case(EXAMPLE).dossier, date(2026, 11, 10))
    assert rigged.calibration is not None
    assert len(rigged.calibration.left) == 3
    for one in rigged.calibration.left:
        assert abs(one.residual_m) < one.err_m, one.name


def as_parts(rigging: Rigging) -> tuple[PathPart, ...]:
    """A built-in path written out piece by piece, its bends told from sheave to sheave."""
    parts: list[PathPart] = []
    before = None
    for element in rigging.hoist.reeving.elements:
        if isinstance(element, Span):
            parts.append(
                PathPart(
                    kind="span",
                    name=element.name,
                    fixed_m=element.fixed_m,
                    per_drop=element.per_drop,
                    per_radius=element.per_radius,
                    per_boom=element.per_boom,
                    per_tie=element.per_tie,
                )
            )
        elif isinstance(element, Contact):
            other = before is not None and before != element.sense
            parts.append(
                PathPart(
                    kind="sheave",
                    name=element.name,
                    diameter_mm=element.pitch_diameter_mm - 20.0,
                    wrap_deg=element.wrap_deg,
                    wrap_per_jib=element.wrap_per_jib,
                    wrap_per_tie=element.wrap_per_tie,
                    bend="other way" if other else "same way",
                    on=element.on,
                    turns=element.turns,
                )
            )
            before = element.sense
    return tuple(parts)


def frame_facts(rigging: Rigging) -> dict[str, object]:
    frame = rigging.hoist.reeving.frame
    if isinstance(frame, LevelTrack):
        return {"upper_height_m": frame.sheave_height_m, "hook_below_m": frame.hook_below_m}
    if isinstance(frame, TelescopicBoom):
        return {
            "hangs_from": "telescopic boom", "foot_height_m": frame.foot_height_m,
            "foot_radius_m": frame.foot_radius_m, "hook_below_m": frame.hook_below_m,
        }  # fmt: skip
    assert isinstance(frame, LuffingJib)
    return {
        "hangs_from": "luffing jib", "jib_m": frame.jib_m, "foot_height_m": frame.foot_height_m,
        "foot_radius_m": frame.foot_radius_m, "a_frame_back_m": frame.a_frame_back_m,
        "a_frame_up_m": frame.a_frame_up_m, "hook_below_m": frame.hook_below_m,
        "tie_at_m": frame.tie_at_m,
    }  # fmt: skip


@settings(max_examples=25, deadline=None)
@given(rigging=st.one_of(trolley_jibs(), telescopics(), luffing_ropes(), luffing_jibs()))
def test_built_in_kinds_can_be_told_piece_by_piece(rigging: Rigging) -> None:
    # Other formulation: the builders of the kinds, themselves held against the simulator.
    built = rigging.hoist
    offset = getattr(built.reeving.frame, "tie_offset_m", 0.0)
    facts = ReevingFacts(parts=as_parts(rigging), **frame_facts(rigging))  # type: ignore[arg-type]
    told = listed_path(facts, rope_mm=20.0, falls=None, groove=None)
    grid = built.travel.grid(built.reeving.axes, 3)
    one, other = trace(built, grid), trace(Hoist(reeving=told, travel=built.travel), grid)
    # Sheaves of unlike size at jib and A-frame set the run between them off its centres: by hand,
    # at 35 m or more the run is shorter by offset²/70 and turned by offset/35, on sheaves of 0.4 m.
    slack = MM + offset**2 / 70 + 2 * 0.4 * abs(offset) / 35
    assert one.contacts == other.contacts
    assert abs(one.out_m - other.out_m).max() < slack
    assert abs(one.start_m - other.start_m).max() < slack
    assert list(other.senses) in (list(one.senses), [-sense for sense in one.senses])
