"""Readings at the crane in a dossier: what they do to places, and which are refused."""

import math
from dataclasses import replace
from datetime import date

import pytest

from ropewright.errors import InputError
from ropewright.geometry import (
    AT_DRUM,
    CranePosition,
    MarkPassed,
    PathPlace,
    SeenAtPoint,
    Tolerances,
    WrapsCounted,
    calibrate,
    locate,
)
from ropewright.inspection import CalibrationReading, Dossier, ToleranceFacts, hoist_on
from ropewright.inspection.rigged import ReadingErrorFacts
from ropewright.rope import Cut, RopeHistory
from tests.unit.plan.cranes import DAY, trolley_jib

EARLY = date(2025, 6, 1)
HEAD = "tower head"
RADIUS = 20.0


def wraps(count: float, *, name: str = "wraps", on: date = EARLY) -> CalibrationReading:
    at = CranePosition(hook_m=0.0, radius_m=RADIUS)
    return CalibrationReading(
        name=name, kind="wraps counted", on=on, position=at, layer=1, wraps=count
    )


def mark(taped_m: float, *, hook_m: float = 20.0) -> CalibrationReading:
    at = CranePosition(hook_m=hook_m, radius_m=RADIUS)
    return CalibrationReading(
        name="tape mark", kind="mark passed", on=EARLY, position=at, point=HEAD, taped_m=taped_m
    )


def with_readings(*readings: CalibrationReading, base: Dossier | None = None) -> Dossier:
    dossier = trolley_jib() if base is None else base
    return replace(dossier, rigging=(replace(dossier.rigging[0], readings=readings),))


def turn_m() -> float:
    return hoist_on(trolley_jib(), DAY).drum().turn_m[0]


def wound_turns() -> float:
    """Turns on layer 1 with the hook down, by the crane's stated numbers."""
    rigged = hoist_on(trolley_jib(), DAY)
    seen = SeenAtPoint(point=AT_DRUM, position=CranePosition(hook_m=0.0, radius_m=RADIUS))
    return (170 - locate(seen, rigged.hoist).at_m) / rigged.drum().turn_m[0]


def at_head(dossier: Dossier, hook_m: float = 20.0) -> PathPlace:
    rigged = hoist_on(dossier, DAY)
    point = next(one.point for one in rigged.rigging.points if one.name == HEAD)
    assert point is not None
    at = CranePosition(hook_m=hook_m, radius_m=RADIUS)
    return locate(SeenAtPoint(point=point, position=at), rigged.hoist)


def test_readings_do_what_the_geometry_does_with_the_same_observations() -> None:
    # Other program: the geometry's own fit, itself tested against a plain search.
    plain = hoist_on(trolley_jib(), DAY)
    said = at_head(trolley_jib()).at_m + 0.2
    dossier = with_readings(wraps(wound_turns() + 0.3), mark(said))
    point = next(one.point for one in plain.rigging.points if one.name == HEAD)
    assert point is not None
    fitted = calibrate(
        plain.hoist,
        [
            WrapsCounted(
                name="wraps", position=CranePosition(hook_m=0.0, radius_m=RADIUS), layer=1,
                wraps=wound_turns() + 0.3,
            ),
            MarkPassed(
                name="tape mark", position=CranePosition(hook_m=20.0, radius_m=RADIUS),
                point=point, mark=PathPlace(at_m=said, abs_err_m=0.02 + 0.001 * said),
            ),
        ],
    )  # fmt: skip
    rigged = hoist_on(dossier, DAY)
    assert rigged.hoist.corrections == fitted.hoist.corrections
    assert rigged.calibration is not None
    assert rigged.calibration.left == fitted.residuals
    assert rigged.calibration.last_on == EARLY


def test_a_reading_moves_places_towards_what_was_seen_and_narrows_their_error() -> None:
    before = at_head(trolley_jib())
    after = at_head(with_readings(mark(before.at_m + 0.3)))
    assert before.at_m < after.at_m < before.at_m + 0.3
    assert after.abs_err_m < before.abs_err_m


def test_a_later_reading_is_not_known_yet() -> None:
    dossier = with_readings(wraps(wound_turns() + 0.3, on=date(2026, 12, 1)))
    assert hoist_on(dossier, DAY).calibration is None


def test_a_reading_before_a_cut_says_the_same_as_one_after_it_with_fewer_wraps() -> None:
    """Two wraps' length is cut at the drum: what lay on the drum before was so much more."""
    cut_m = 2 * turn_m()
    base = trolley_jib()
    steps = (Cut(on=date(2025, 9, 1), end="B", length_m=cut_m),)
    exact = replace(base.rigging[0], tolerance=ToleranceFacts(barrel_mm=0.0, wraps=0.0))
    history = RopeHistory(original_length_m=170.0, steps=steps)
    cut = replace(base, history=history, rigging=(exact,))
    before = with_readings(wraps(wound_turns() + 0.3), base=cut)
    after = with_readings(wraps(wound_turns() + 0.3 - 2, on=date(2025, 10, 1)), base=cut)
    one, other = hoist_on(before, DAY).calibration, hoist_on(after, DAY).calibration
    assert one is not None
    assert other is not None
    # By hand: with the drum exact, two wraps are the cut's length, so the two readings are one.
    assert one.left[0].residual_m == pytest.approx(other.left[0].residual_m, abs=1e-9)
    for number, same in zip(one.found, other.found, strict=True):
        assert number.correction == pytest.approx(same.correction, abs=1e-9)


def test_a_contradiction_is_refused_and_named() -> None:
    with pytest.raises(InputError) as caught:
        hoist_on(with_readings(wraps(wound_turns() + 4, name="wraps of May")), DAY)
    assert caught.value.field == "rigging.reading 'wraps of May'"
    assert "contradicts the numbers as typed" in str(caught.value)


@pytest.mark.parametrize(
    ("reading", "field", "words"),
    [
        (replace(wraps(5), layer=9), "rigging.reading 'wraps'.layer", "from 1 to"),
        (replace(wraps(5), wraps=200), "rigging.reading 'wraps'.wraps", "at most about 30"),
        (
            replace(mark(50), point="roof"),
            "rigging.reading 'tape mark'.point",
            "a place to look from",
        ),
        (
            replace(mark(50), taped_m=None, mark="blue"),
            "rigging.reading 'tape mark'.mark",
            "a mark of this rope",
        ),
        (
            mark(50, hook_m=-9.0),
            "rigging.reading 'tape mark'.hook",
            "at least 0, the ground",
        ),
    ],
)
def test_what_cannot_be_is_refused_by_its_key(
    reading: CalibrationReading, field: str, words: str
) -> None:
    with pytest.raises(InputError) as caught:
        hoist_on(with_readings(reading), DAY)
    assert caught.value.field == field
    assert words in str(caught.value)


def test_stated_errors_replace_our_own() -> None:
    dossier = trolley_jib()
    rigging = replace(
        dossier.rigging[0],
        tolerance=ToleranceFacts(hook_zero_m=0.05, rope_m=0.1),
        reading_error=ReadingErrorFacts(hook_m=0.02, point_m=0.03),
    )
    hoist = hoist_on(replace(dossier, rigging=(rigging,)), DAY).hoist
    ours = Tolerances()
    assert hoist.tolerances == replace(ours, hook_zero_m=0.05, rope_m=0.1)
    assert (hoist.readings.hook_m, hoist.readings.point_m) == (0.02, 0.03)
    assert hoist.readings.radius_m == 0.1
    place = at_head(replace(dossier, rigging=(rigging,)))
    # By hand: two falls of hook reading, and where the hand was.
    assert place.rel_err_m == pytest.approx(math.hypot(2 * 0.02, 0.03), rel=1e-6)


def test_a_payout_hoist_is_calibrated_too() -> None:
    """Falls and two hook heights alone: one taped mark at the drum tells where end A is."""
    from tests.unit.plan.cranes import by_payout

    plain = by_payout()
    at = CranePosition(hook_m=20.0)
    reading = CalibrationReading(
        name="mark", kind="mark passed", on=EARLY, position=at, point="drum", taped_m=90.0,
        taped_err_m=0.1,
    )  # fmt: skip
    dossier = replace(plain, rigging=(replace(plain.rigging[0], readings=(reading,)),))
    rigged = hoist_on(dossier, DAY)
    place = locate(SeenAtPoint(point=AT_DRUM, position=at), rigged.hoist)
    assert place.at_m == pytest.approx(90.0, abs=0.05)
    assert place.abs_err_m < 0.5
    # By hand: 10 m of hook on two falls are 20 m of rope.
    higher = SeenAtPoint(point=AT_DRUM, position=CranePosition(hook_m=30.0))
    assert locate(higher, rigged.hoist).at_m == pytest.approx(place.at_m - 20.0, abs=1e-6)
