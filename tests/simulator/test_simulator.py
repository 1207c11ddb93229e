"""The simulator itself: figures that can be checked with a pocket calculator."""

import math

import pytest

from tests.simulator.drawn_cranes import DOWN, LuffingJib, TrolleyJib
from tests.simulator.rope_simulator import Wheel, Winding, draw


def test_a_rope_over_one_wheel() -> None:
    # By hand: 3 m level, a quarter of a circle of 1 m radius, 5 m down.
    chain = draw(
        [Wheel("A", (3.0, 1.0)), Wheel("wheel", (0.0, 0.0), 1.0, 1)],
        last_direction=DOWN,
        last_run=5.0,
    )
    assert chain.length == pytest.approx(3 + math.pi / 2 + 5, abs=1e-5)
    assert chain.borders("wheel") == pytest.approx((3, 3 + math.pi / 2), abs=1e-5)
    assert chain.at(chain.length) == pytest.approx((-1, -5), abs=1e-9)


def test_a_crossed_rope_between_two_wheels() -> None:
    # By hand: centres 5 m apart, radii 1 and 2 m, crossed: the straight part is 4 m long.
    chain = draw(
        [
            Wheel("A", (0.0, 10.0)),
            Wheel("one", (0.0, 0.0), 1.0, 1),
            Wheel("two", (5.0, 0.0), 2.0, -1),
        ],
        last_direction=0.0,
        last_run=1.0,
    )
    _, leaves_one = chain.borders("one")
    meets_two, _ = chain.borders("two")
    assert meets_two - leaves_one == pytest.approx(4.0, abs=1e-9)


def test_winding_turn_by_turn() -> None:
    # By hand: pitch circle of 1 m: pi metres a turn; second layer 1.2 m.
    drum = Winding(barrel=0.9, rope=0.1, rise=0.1, wraps=[2, 2])
    assert drum.place(1.5 * math.pi) == pytest.approx((1, 2, 0.5), abs=1e-6)
    assert drum.place(2 * math.pi + 0.25 * 1.2 * math.pi) == pytest.approx((2, 1, 0.25), abs=1e-6)
    halves = Winding(barrel=0.9, rope=0.1, rise=0.1, wraps=[1.5, 1.5])
    assert halves.place(1.6 * math.pi) == pytest.approx((2, 1, 0.5 + 0.1 / 1.2), abs=1e-6)


def test_a_point_of_the_rope_stands_still_while_the_trolley_rolls() -> None:
    crane = TrolleyJib(
        falls=2, anchor="jib tip", pinned=False, sheave_height=62.0, hook_below=1.2,
        anchor_x=60.0, root_x=1.5, trolley_r=0.25, block_r=0.25, upper_r=0.25, root_r=0.25,
        to_drum=10.0,
    )  # fmt: skip
    near, far = crane.draw(30.0, 20.0), crane.draw(30.0, 30.0)
    assert near.length == pytest.approx(far.length, abs=1e-6)
    assert near.at(10.0) == pytest.approx(far.at(10.0), abs=1e-6)


def test_the_runs_of_a_luffing_jib_meet_the_wheels_squarely() -> None:
    crane = LuffingJib(
        falls=2, jib=50.0, foot_height=40.0, back=7.0, up=12.0, hook_below=1.0,
        head_r=0.3, a_frame_r=0.4, lead_deg=270.0, to_drum=10.0,
    )  # fmt: skip
    chain = crane.draw(30.0, 40.0)
    start, end = chain.borders("head")
    assert end - start > 0.3 * math.pi / 2  # more than a quarter: it turns down towards the A-frame
