"""Crane positions, travel and the piecewise kernel."""

import numpy as np
import pytest

from ropewright.errors import InputError
from ropewright.geometry import (
    CranePosition,
    CranePositions,
    Lead,
    LevelTrack,
    Span,
    Travel,
    bridge_hoist_twin,
    trace,
    trace_in_chunks,
    trolley_jib_hoist,
)
from tests.unit.geometry_path.reference import (
    REFERENCE_TRAVEL,
    SHEAVES,
    reference_hoist,
    reference_reeving,
)

FRAME = LevelTrack(sheave_height_m=62.0, hook_below_m=1.2)


def test_single_numbers_hold_for_all() -> None:
    at = CranePositions.of(hook_m=[1.0, 2.0, 3.0], radius_m=20.0)
    assert len(at) == 3
    assert at.at(2) == CranePosition(hook_m=3.0, radius_m=20.0)
    assert len(at.part(slice(1, 3))) == 2


def test_many_from_single_ones() -> None:
    at = CranePositions.many([CranePosition(hook_m=1.0), CranePosition(hook_m=2.0)])
    assert at.hook_m is not None
    assert at.hook_m.tolist() == [1.0, 2.0]
    with pytest.raises(InputError) as caught:
        CranePositions.many([CranePosition(hook_m=1.0), CranePosition(radius_m=2.0)])
    assert caught.value.field == "hook_m"


def test_a_grid_has_all_corners() -> None:
    grid = REFERENCE_TRAVEL.grid(("hook_m", "radius_m"), 3)
    corners = {(grid.at(n).hook_m, grid.at(n).radius_m) for n in range(len(grid))}
    assert len(grid) == 9
    assert {(0.0, 2.0), (60.0, 58.0), (30.0, 30.0)} <= corners
    with pytest.raises(InputError) as caught:
        REFERENCE_TRAVEL.grid(("jib_deg",), 3)
    assert caught.value.field == "jib_min_deg"


def test_a_pit_is_below_the_ground() -> None:
    assert Travel(hook_low_m=-12.0, hook_high_m=40.0, ground_m=-12.0).range_of("hook_m") == (
        -12,
        40,
    )


def test_what_is_not_known_is_not_a_number() -> None:
    path = trace(reference_hoist(), CranePositions.of(hook_m=[10.0, 20.0]))
    named = dict(zip(path.contacts, path.start_m, strict=True))
    assert np.isnan(named["outer trolley sheave"]).all()
    assert np.isnan(named["inner trolley sheave"]).all()
    assert not np.isnan(named["root sheave"]).any()
    assert not np.isnan(path.out_m).any()


def test_piece_by_piece_is_the_same() -> None:
    hoist = reference_hoist()
    chance = np.random.default_rng(1)
    at = CranePositions.of(hook_m=chance.uniform(0, 60, 1000), radius_m=chance.uniform(2, 58, 1000))
    whole = trace(hoist, at)
    for rows, piece in trace_in_chunks(hoist, at, size=300):
        np.testing.assert_array_equal(piece.start_m, whole.start_m[:, rows])
        np.testing.assert_array_equal(piece.out_m, whole.out_m[rows])


def test_senses_of_neighbours() -> None:
    # Published and derived (geometry of trolley jibs): bends at trolley and at hook sheaves are
    # opposite in sense; a convertible block on 2 falls makes three close bends of changing sense.
    plain = [contact.sense for contact in reference_reeving().contacts]
    assert plain == [1, -1, 1, 1]
    pinned = trolley_jib_hoist(
        falls=2,
        frame=FRAME,
        sheaves=SHEAVES,
        lead=Lead(to_drum_m=10.0),
        root_m=1.5,
        anchor_m=60.0,
        block="convertible",
    )
    in_block = [contact.sense for contact in pinned.contacts if contact.on == "block"]
    assert in_block == [-1, 1, -1]
    closed = [span for span in pinned.spans if span == Span(name=span.name)]
    assert len(closed) == 2
    # By hand: two falls, but two half circles more than the plain block.
    assert pinned.falls == 2


def test_a_rope_from_the_jib_foot_turns_down_on_the_far_side() -> None:
    # By hand: outwards, then down: to the right; round the block from the outside: to the right.
    reeving = trolley_jib_hoist(
        falls=2, frame=FRAME, sheaves=SHEAVES, lead=Lead(to_drum_m=10.0, sheave_mm=500),
        root_m=1.5, anchor="jib foot", anchor_m=1.5,
    )  # fmt: skip
    assert [contact.sense for contact in reeving.contacts] == [-1, -1, 1, 1]


@pytest.mark.parametrize(("falls", "where"), [(2, "block"), (4, "crane"), (6, "block")])
def test_where_the_equaliser_is(falls: int, where: str) -> None:
    reeving = bridge_hoist_twin(falls=falls, frame=FRAME, sheaves=SHEAVES, equaliser_mm=240)
    equaliser = reeving.contact("equaliser")
    assert equaliser.on == where
    assert not equaliser.turns
