"""The kernel against the simulator on random riggings: 1 mm, and the way the rope runs.

Every expected figure is of the kind 'by a slow program of our own' (rope_simulator.py).
"""

import math

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from ropewright.geometry import (
    AT_DRUM,
    CranePosition,
    CranePositions,
    SeenAtPoint,
    away_from_nip,
    bring_to,
    drum_wraps,
    locate,
    on_drum,
    trace,
)
from tests.simulator.riggings import (
    Rigging,
    TwinRigging,
    luffing_jibs,
    luffing_ropes,
    telescopics,
    trolley_jibs,
    twin_drums,
)

MM = 1e-3
SHARES = st.lists(st.floats(0, 1), min_size=3, max_size=3)
RANDOM = settings(max_examples=25, suppress_health_check=[HealthCheck.too_slow])


def position(rigging: Rigging, shares: list[float]) -> CranePosition:
    """Return a crane position inside the limits."""
    values = {}
    for axis, share in zip(rigging.hoist.reeving.axes, shares, strict=False):
        low, high = rigging.hoist.travel.range_of(axis) or (0.0, 0.0)
        values[axis] = low + share * (high - low)
    return CranePosition(**values)


def check_path(rigging: Rigging, at: CranePosition) -> None:
    """Compare every contact, the rope outside, and the place on the drum."""
    chain = rigging.draw(at)
    path = trace(rigging.hoist, CranePositions.one(at))
    wheels = [name for name in dict.fromkeys(chain.on) if not name.startswith("run")]
    wheels.remove("A")
    assert len(wheels) == len(path.contacts)
    for number, wheel in enumerate(wheels):
        start, end = chain.borders(wheel)
        assert float(path.start_m[number, 0]) == pytest.approx(start, abs=MM), wheel
        assert float(path.end_m[number, 0]) == pytest.approx(end, abs=MM), wheel
    assert float(path.out_m[0]) == pytest.approx(chain.length, abs=MM)
    assert path.on_drum_m is not None
    layer, wrap, part = rigging.winding.place(rigging.rope_m - chain.length)
    found = drum_wraps(rigging.hoist.wound_drum(), path.on_drum_m)
    turns = (int(found.layer[0]), int(found.wrap[0]) + float(found.part[0]))
    off = abs(math.remainder(turns[1] - wrap - part, 1.0)) * 3.0  # a turn is under 3 m
    assert off < MM
    if 0.01 < part < 0.49 or 0.51 < part < 0.99:  # not where a rounding error changes the count
        assert (int(found.layer[0]), int(found.wrap[0])) == (layer, wrap)


@RANDOM
@given(trolley_jibs(), SHARES)
def test_trolley_jib(rigging: Rigging, shares: list[float]) -> None:
    check_path(rigging, position(rigging, shares))


@RANDOM
@given(luffing_jibs(), SHARES)
def test_luffing_jib(rigging: Rigging, shares: list[float]) -> None:
    check_path(rigging, position(rigging, shares))


@RANDOM
@given(luffing_ropes(), SHARES)
def test_luffing_rope(rigging: Rigging, shares: list[float]) -> None:
    check_path(rigging, position(rigging, shares))


@RANDOM
@given(telescopics(), SHARES)
def test_telescopic(rigging: Rigging, shares: list[float]) -> None:
    check_path(rigging, position(rigging, shares))


@RANDOM
@given(twin_drums(), st.floats(0, 1))
def test_twin_drum(rigging: TwinRigging, share: float) -> None:
    low, high = rigging.hoist.travel.range_of("hook_m") or (0.0, 0.0)
    hook = low + share * (high - low)
    chain = rigging.crane.draw_half(hook)
    path = trace(rigging.hoist, CranePositions.of(hook_m=hook))
    rope_m = rigging.hoist.rope_m
    assert rope_m is not None
    assert path.on_drum_m is not None
    wound = rope_m / 2 - chain.length
    assert float(path.on_drum_m[0]) == pytest.approx(wound, abs=MM)
    assert float(path.base_m[0]) == pytest.approx(wound, abs=MM)
    wheels = [name for name in dict.fromkeys(chain.on) if name.startswith("wheel")]
    last = len(path.contacts) - 1
    for number, wheel in enumerate(wheels):
        start, end = chain.borders(wheel)
        assert float(path.start_m[number, 0]) == pytest.approx(wound + start, abs=MM)
        assert float(path.end_m[number, 0]) == pytest.approx(wound + end, abs=MM)
        mirrored = rope_m - wound - end
        assert float(path.start_m[last - number, 0]) == pytest.approx(mirrored, abs=MM)
    middle = path.contacts.index("equaliser")
    assert float(path.start_m[middle, 0] + path.end_m[middle, 0]) == pytest.approx(rope_m, abs=MM)


@RANDOM
@given(trolley_jibs(), SHARES)
def test_what_is_in_front_of_a_person(rigging: Rigging, shares: list[float]) -> None:
    at = position(rigging, shares)
    chain = rigging.draw(at)
    for person in rigging.people:
        if "trolley" in person.point.name and _of(at.hook_m) > _highest_for(rigging):
            continue  # the block hangs above the person
        seen = chain.in_front_of(person.where(at), person.run)
        place = locate(SeenAtPoint(point=person.point, position=at), rigging.hoist)
        assert place.at_m == pytest.approx(seen, abs=MM)


def _of(value: float | None) -> float:
    assert value is not None
    return value


def _highest_for(rigging: Rigging) -> float:
    return _of(rigging.hoist.travel.hook_high_m) - 3.0


@RANDOM
@given(trolley_jibs(), SHARES)
def test_brought_back_in_front_of_the_person(rigging: Rigging, shares: list[float]) -> None:
    at = position(rigging, shares)
    for person in rigging.people:
        if "trolley" in person.point.name and _of(at.hook_m) > _highest_for(rigging):
            continue
        place = locate(SeenAtPoint(point=person.point, position=at), rigging.hoist)
        found = bring_to(place, person.point, rigging.hoist, held=None)
        assert found.ways, found.unreachable
        for way in found.ways:
            for end in (way.start, way.end, *way.between[:2]):
                radius = _of(at.radius_m) if end.radius_m is None else end.radius_m
                there = CranePosition(hook_m=end.hook_m, radius_m=radius)
                if "trolley" in person.point.name and _of(end.hook_m) > _highest_for(rigging):
                    continue
                chain = rigging.draw(there)
                seen = chain.in_front_of(person.where(there), person.run)
                assert seen == pytest.approx(place.at_m, abs=MM)
        held = bring_to(
            place, person.point, rigging.hoist, held=CranePosition(radius_m=at.radius_m)
        )
        (only,) = held.ways
        assert only.start.hook_m == pytest.approx(_of(at.hook_m), abs=MM)


@RANDOM
@given(st.one_of(luffing_jibs(), telescopics()), SHARES)
def test_brought_back_at_the_drum(rigging: Rigging, shares: list[float]) -> None:
    """Other axes held, the hook comes back to where it was."""
    at = position(rigging, shares)
    place = locate(SeenAtPoint(point=AT_DRUM, position=at), rigging.hoist)
    held = CranePosition(jib_deg=at.jib_deg, boom_m=at.boom_m, boom_deg=at.boom_deg)
    (way,) = bring_to(place, AT_DRUM, rigging.hoist, held=held).ways
    assert way.start.hook_m == pytest.approx(_of(at.hook_m), abs=MM)


@settings(RANDOM, max_examples=12)
@given(st.one_of(luffing_jibs(), trolley_jibs()), SHARES)
def test_every_position_of_a_way_brings_the_place(rigging: Rigging, shares: list[float]) -> None:
    at = position(rigging, shares)
    place = locate(SeenAtPoint(point=AT_DRUM, position=at), rigging.hoist)
    found = bring_to(place, AT_DRUM, rigging.hoist)
    assert found.ways
    for way in found.ways:
        for there in (way.start, way.end, *way.between):
            radius = at.radius_m if there.radius_m is None else there.radius_m
            full = CranePosition(hook_m=there.hook_m, radius_m=radius, jib_deg=there.jib_deg)
            assert rigging.draw(full).length == pytest.approx(place.at_m, abs=MM)


@RANDOM
@given(trolley_jibs(), SHARES)
def test_the_rope_runs_away_from_the_nearest_nip(rigging: Rigging, shares: list[float]) -> None:
    """Move the drawn rope by a centimetre of hook and look where the rope in hand has gone."""
    at = position(rigging, shares)
    low, high = rigging.hoist.travel.range_of("hook_m") or (0.0, 0.0)
    step = 0.01 if _of(at.hook_m) < (low + high) / 2 else -0.01
    moved = CranePosition(hook_m=_of(at.hook_m) + step, radius_m=at.radius_m)
    before, after = rigging.draw(at), rigging.draw(moved)
    for person in rigging.people[:2]:
        answer = away_from_nip(rigging.hoist, person.point, at, moved)
        seen = before.in_front_of(person.where(at), person.run)
        wheel = "root" if person.point.at == "root sheave" else None
        nip = before.at(before.borders(wheel)[0]) if wheel else before.points[-1]
        if answer.motion is None:
            assert answer.why_none == "the nearest nip changes on the way"
            continue
        gained = math.dist(after.at(min(seen, after.length)), nip) - math.dist(
            before.at(min(seen, before.length)), nip
        )
        if seen > after.length:  # it has run onto the drum
            gained = -abs(step)
        assert answer.nearest in {"root sheave", "drum"}
        away = answer.motion == ("hook up" if step > 0 else "hook down")
        if (answer.nearest == "drum") == (wheel is None):
            assert (gained > 0) == away
        assert answer.rope_per_axis == pytest.approx(rigging.hoist.reeving.falls, abs=1e-6)
        assert answer.nearest_m is not None
        assert answer.nearest_m <= person.point.offset_m + 1e-9


@RANDOM
@given(trolley_jibs(), SHARES)
def test_from_the_drum_and_back(rigging: Rigging, shares: list[float]) -> None:
    from ropewright.geometry import SeenOnDrum

    place = locate(SeenAtPoint(point=AT_DRUM, position=position(rigging, shares)), rigging.hoist)
    wound = on_drum(place, rigging.hoist)
    for counted, wrap in (
        ("rope order", wound.wrap),
        ("clamp", wound.wrap_from_clamp),
        ("far", wound.wrap_from_far),
    ):
        seen = SeenOnDrum(
            layer=wound.layer,
            wrap=wrap,
            part=wound.part,
            counted_from=counted,  # type: ignore[arg-type]
        )
        assert locate(seen, rigging.hoist).at_m == pytest.approx(place.at_m, abs=1e-6)


def test_many_positions_are_traced_as_single_ones() -> None:
    """The vectorised kernel gives the same numbers as one position at a time."""
    from benchmarks.geometry_bench import HOISTS, positions

    for make in HOISTS.values():
        hoist = make()
        at = positions(hoist, 50)
        path = trace(hoist, at)
        for number in range(50):
            one = trace(hoist, CranePositions.one(at.at(number)))
            np.testing.assert_array_equal(path.start_m[:, number], one.start_m[:, 0])
            np.testing.assert_array_equal(path.out_m[number], one.out_m[0])
