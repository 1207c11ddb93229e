"""The kernel against the simulator on random riggings: 1 mm, and the way the rope runs.

Every expected figure is of the kind 'by a slow program of our own' (rope_simulator.py).
"""

import math
from collections.abc import Callable, Sequence
from typing import Any, get_args

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from benchmarks.geometry_bench import HOISTS, positions
from ropewright.geometry import (
    AT_DRUM,
    Axis,
    CranePosition,
    CranePositions,
    SeenAtPoint,
    SeenOnDrum,
    away_from_nip,
    bring_to,
    drum_wraps,
    locate,
    on_drum,
    trace,
)
from ropewright.geometry.sighting import CountedFrom
from tests.simulator.riggings import (
    Rigging,
    Standing,
    TwinRigging,
    luffing_jibs,
    luffing_ropes,
    telescopics,
    trolley_jibs,
    twin_drums,
)
from tests.simulator.rope_simulator import Chain

MM = 1e-3
SHARES = st.lists(st.floats(0, 1), min_size=3, max_size=3)
ANY = st.one_of(trolley_jibs(), luffing_jibs(), luffing_ropes(), telescopics())

Check = Callable[[Any, list[float]], None]


def _of(value: float | None) -> float:
    assert value is not None
    return value


def _position(rigging: Rigging, shares: Sequence[float]) -> CranePosition:
    """Return a crane position inside the limits."""
    values: dict[Axis, float] = {}
    for axis, share in zip(rigging.hoist.reeving.axes, shares, strict=False):
        low, high = rigging.hoist.travel.range_of(axis) or (0.0, 0.0)
        values[axis] = low + share * (high - low)
    return CranePosition(**values)


def _wheels(chain: Chain) -> list[str]:
    names = [name for name in dict.fromkeys(chain.on) if not name.startswith("run")]
    names.remove("A")
    return names


def _sees_rope(rigging: Rigging, person: Standing, at: CranePosition) -> bool:
    """Tell whether the block hangs below a person who stands under the trolley."""
    if person.point.name != "under the trolley":
        return True
    return _of(at.hook_m) <= _of(rigging.hoist.travel.hook_high_m) - 3.0


# --- What is compared ---------------------------------------------------------------------------


def check_path(rigging: Rigging, shares: list[float]) -> None:
    """Every contact, the rope outside, and the place on the drum."""
    at = _position(rigging, shares)
    chain = rigging.draw(at)
    path = trace(rigging.hoist, CranePositions.one(at))
    wheels = _wheels(chain)
    assert len(wheels) == len(path.contacts)
    for number, wheel in enumerate(wheels):
        start, end = chain.borders(wheel)
        assert float(path.start_m[number, 0]) == pytest.approx(start, abs=MM), wheel
        assert float(path.end_m[number, 0]) == pytest.approx(end, abs=MM), wheel
    assert float(path.out_m[0]) == pytest.approx(chain.length, abs=MM)
    assert path.on_drum_m is not None
    layer, wrap, part = rigging.winding.place(rigging.rope_m - chain.length)
    found = drum_wraps(rigging.hoist.wound_drum(), path.on_drum_m)
    off = abs(math.remainder(float(found.part[0]) - part, 1.0)) * 3.0  # a turn is under 3 m
    assert off < MM
    if 0.01 < part < 0.49 or 0.51 < part < 0.99:  # not where a rounding error changes the count
        assert (int(found.layer[0]), int(found.wrap[0])) == (layer, wrap)


def check_twin(rigging: TwinRigging, shares: list[float]) -> None:
    """The twin drum: both halves mirror each other about the equaliser."""
    low, high = rigging.hoist.travel.range_of("hook_m") or (0.0, 0.0)
    hook = low + shares[0] * (high - low)
    chain = rigging.crane.draw_half(hook)
    path = trace(rigging.hoist, CranePositions.of(hook_m=hook))
    rope_m = _of(rigging.hoist.rope_m)
    assert path.on_drum_m is not None
    wound = rope_m / 2 - chain.length
    assert float(path.on_drum_m[0]) == pytest.approx(wound, abs=MM)
    assert float(path.base_m[0]) == pytest.approx(wound, abs=MM)
    last = len(path.contacts) - 1
    for number, wheel in enumerate(_wheels(chain)[:-1]):
        start, end = chain.borders(wheel)
        assert float(path.start_m[number, 0]) == pytest.approx(wound + start, abs=MM)
        assert float(path.end_m[number, 0]) == pytest.approx(wound + end, abs=MM)
        mirrored = rope_m - wound - end
        assert float(path.start_m[last - number, 0]) == pytest.approx(mirrored, abs=MM)
    middle = path.contacts.index("equaliser")
    assert float(path.start_m[middle, 0] + path.end_m[middle, 0]) == pytest.approx(rope_m, abs=MM)


def check_in_front(rigging: Rigging, shares: list[float]) -> None:
    """Which point of the rope is in front of a person who stands somewhere in space."""
    at = _position(rigging, shares)
    chain = rigging.draw(at)
    for person in rigging.people:
        if _sees_rope(rigging, person, at):
            seen = chain.in_front_of(person.where(at), person.run)
            place = locate(SeenAtPoint(point=person.point, position=at), rigging.hoist)
            assert place.at_m == pytest.approx(seen, abs=MM)


def check_brought_back(rigging: Rigging, shares: list[float]) -> None:
    """With other axes held the hook comes back; every way found brings the place."""
    at = _position(rigging, shares)
    for person in rigging.people:
        if not _sees_rope(rigging, person, at) or "hook_m" not in rigging.hoist.reeving.axes:
            continue
        place = locate(SeenAtPoint(point=person.point, position=at), rigging.hoist)
        others = CranePosition(
            radius_m=at.radius_m, jib_deg=at.jib_deg, boom_m=at.boom_m, boom_deg=at.boom_deg
        )
        (only,) = bring_to(place, person.point, rigging.hoist, held=others).ways
        assert only.start.hook_m == pytest.approx(_of(at.hook_m), abs=MM)


def check_every_way(rigging: Rigging, shares: list[float]) -> None:
    """Nothing held: at each position of each way found, the drawn rope shows the place."""
    at = _position(rigging, shares)
    for person in rigging.people:
        if not _sees_rope(rigging, person, at):
            continue
        place = locate(SeenAtPoint(point=person.point, position=at), rigging.hoist)
        found = bring_to(place, person.point, rigging.hoist)
        assert found.ways, found.unreachable
        for way in found.ways:
            for there in (way.start, way.end, *way.between[::3]):
                values = {
                    axis: there.value(axis) if there.value(axis) is not None else at.value(axis)
                    for axis in get_args(Axis)
                }
                full = CranePosition(**values)
                if _sees_rope(rigging, person, full):
                    seen = rigging.draw(full).in_front_of(person.where(full), person.run)
                    assert seen == pytest.approx(place.at_m, abs=MM)


def check_direction(rigging: Rigging, shares: list[float]) -> None:
    """Move the drawn rope a little and look where the piece in hand has gone."""
    at = _position(rigging, shares)
    axis: Axis = rigging.hoist.reeving.axes[0]
    low, high = rigging.hoist.travel.range_of(axis) or (0.0, 0.0)
    here = _of(at.value(axis))
    step = 0.01 if here < (low + high) / 2 else -0.01
    values = {name: at.value(name) for name in get_args(Axis)}
    moved = CranePosition(**{**values, axis: here + step})
    before, after = rigging.draw(at), rigging.draw(moved)
    for person in rigging.people:
        if not (_sees_rope(rigging, person, at) and _sees_rope(rigging, person, moved)):
            continue
        answer = away_from_nip(rigging.hoist, person.point, at, moved)
        seen = before.in_front_of(person.where(at), person.run)
        if answer.motion is None:
            assert answer.why_none in {
                "the nearest nip changes on the way", "the nearest nip comes along behind",
            }  # fmt: skip
            continue
        gained = _distance(after, seen, answer.nearest) - _distance(before, seen, answer.nearest)
        rising = answer.motion in {"hook up", "jib up"}
        assert (gained > 0) == (rising == (step > 0)), (answer, gained)
        assert abs(gained) == pytest.approx(answer.rope_per_axis * 0.01, rel=0.05)
        least = min(_distance(before, seen, answer.nearest), _distance(before, seen, answer.ahead))
        assert _of(answer.nearest_m) == pytest.approx(least, abs=0.02 * answer.rope_per_axis + MM)


WHEEL_OF = {
    "root sheave": "root", "inner trolley sheave": "inner", "jib head sheave": "head",
    "A-frame sheave": "A-frame", "boom head sheave": "head",
}  # fmt: skip


def _distance(chain: Chain, metres: float, contact: str | None) -> float:
    """Return how far a piece of rope is from where the rope meets a wheel or the drum."""
    if contact == "drum":
        return chain.length - metres
    name = str(contact)
    wheel = WHEEL_OF.get(name) or _wheels(chain)[-2]
    start, end = chain.borders(wheel)
    return start - metres if metres <= start else metres - end


CASES: dict[str, tuple[st.SearchStrategy[Any], Check]] = {
    "path of a trolley jib": (trolley_jibs(), check_path),
    "path of a luffing jib": (luffing_jibs(), check_path),
    "path of a luffing rope": (luffing_ropes(), check_path),
    "path of a telescopic crane": (telescopics(), check_path),
    "path of a twin drum": (twin_drums(), check_twin),
    "in front of a person": (ANY, check_in_front),
    "brought back": (ANY, check_brought_back),
    "every way": (st.one_of(trolley_jibs(), luffing_jibs(), luffing_ropes()), check_every_way),
    "direction": (ANY, check_direction),
}


def _run(case: str, examples: int) -> None:
    strategy, check = CASES[case]
    limits = settings(
        max_examples=examples,
        suppress_health_check=[HealthCheck.too_slow, HealthCheck.nested_given],
    )
    limits(given(strategy, SHARES)(check))()


@pytest.mark.parametrize("case", CASES)
def test_the_kernel_agrees(case: str) -> None:
    _run(case, examples=8 if case == "every way" else 25)


@pytest.mark.proof
@pytest.mark.parametrize("case", CASES)
def test_the_kernel_agrees_on_many(case: str) -> None:
    _run(case, examples=100 if case == "every way" else 1000)


@settings(max_examples=40)
@given(trolley_jibs(), SHARES)
def test_from_the_drum_and_back(rigging: Rigging, shares: list[float]) -> None:
    """A place read off the drum, however it was counted, is the place it was."""
    at = _position(rigging, shares)
    place = locate(SeenAtPoint(point=AT_DRUM, position=at), rigging.hoist)
    wound = on_drum(place, rigging.hoist)
    counts: dict[CountedFrom, int] = {
        "rope order": wound.wrap, "clamp": wound.wrap_from_clamp, "far": wound.wrap_from_far,
    }  # fmt: skip
    for counted, wrap in counts.items():
        seen = SeenOnDrum(layer=wound.layer, wrap=wrap, part=wound.part, counted_from=counted)
        assert locate(seen, rigging.hoist).at_m == pytest.approx(place.at_m, abs=1e-6)


@pytest.mark.parametrize("name", HOISTS)
def test_many_positions_are_traced_as_single_ones(name: str) -> None:
    hoist = HOISTS[name]()
    at = positions(hoist, 50)
    path = trace(hoist, at)
    for number in range(50):
        one = trace(hoist, CranePositions.one(at.at(number)))
        np.testing.assert_array_equal(path.start_m[:, number], one.start_m[:, 0])
        np.testing.assert_array_equal(path.out_m[number], one.out_m[0])
