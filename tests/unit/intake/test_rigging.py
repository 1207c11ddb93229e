"""Rigging in a case file: readings, stated errors, paths told piece by piece, odd heights."""

import math
from datetime import date
from pathlib import Path

import pytest

from ropewright.errors import RopewrightError
from ropewright.inspection import hoist_on
from ropewright.intake import read_case
from tests.unit.plan.cranes import DAY, LUFFING, TWIN, crane

EXAMPLE = Path(__file__).parents[3] / "examples" / "shaft-hoist-spans.toml"
TEXT = EXAMPLE.read_text(encoding="utf-8")


def refused(was: str, becomes: str) -> str:
    """The complaint about the example with something changed."""
    assert TEXT.count(was) >= 1, was
    with pytest.raises(RopewrightError) as caught:
        read_case(TEXT.replace(was, becomes, 1), file="case.toml")
    return str(caught.value)


@pytest.mark.parametrize(
    ("was", "becomes", "expected"),
    [
        ('kind = "wraps counted"', 'kind = "wraps guessed"', "rigging[1].reading[1].kind"),
        ("wraps = 10.0\n", "", "rigging[1].reading[1].wraps: expected the wraps counted"),
        ("wraps = 10.0", "wraps = 14.0", "'wraps with the hook down' contradicts"),
        ("wraps = 10.0", 'mark = "green"', "rigging[1].reading[1].wraps"),
        ("layer = 1\nwraps", "layer = 7\nwraps", "'wraps with the hook down'.layer"),
        (
            'point = "foot of the back leg"\ntaped',
            'point = "roof"\ntaped',
            "'tape mark at the foot'.point",
        ),
        ('taped = "73.6 m"\n', "", "reading[3].mark: expected the mark's name; or taped"),
        (
            'taped = "73.6 m"\n',
            'taped = "73.6 m"\nmark = "green"\n',
            "mark or taped, not both",
        ),
        ("on = 2026-02-03\nhook", "on = 2025-02-03\nhook", "expected a day from 2026-02-02 on"),
        ('name = "layer 1 full"', 'name = "wraps with the hook down"', "another name for each"),
        ('hook = "-20 m"', 'hook = "-80 m"', "'tape mark at the foot'.hook"),
        ('rope_length = "± 0.2 m"', 'rope_length = "a bit"', "rigging[1].tolerance.rope_length"),
        ("falls = 2", "falls = 4", "expected 2, what per_drop of all spans adds up to"),
        ('span = "fall 2"', 'span = "fall 1"', "reeving.part[3].span: expected another name"),
        ('sheave = "head sheave"', 'span = "head"', "no such key for a span"),
        (
            'sheave = "block sheave"\ndiameter = "400 mm"\n',
            'sheave = "block sheave"\n',
            "part[2].diameter: expected its diameter",
        ),
        ('kind = "spans and sheaves"', 'kind = "telescopic hoist"', "parts of the path are listed"),
        ('hook_low = "-45 m"', 'hook_low = "-90 m"', "rigging"),
        ('at = "foot sheave"', 'at = "drum A"', "expected a place on this path"),
    ],
)
def test_what_cannot_be_is_refused_by_its_key(was: str, becomes: str, expected: str) -> None:
    said = refused(was, becomes)
    assert expected in said, said
    assert "Traceback" not in said


def test_heights_below_the_zero_are_read_and_worked_with() -> None:
    dossier = read_case(TEXT, file="case.toml").dossier
    rigging = dossier.rigging[0]
    assert (rigging.hook_low_m, rigging.hook_high_m) == (-45.0, 5.0)
    assert hoist_on(dossier, DAY).hoist.travel.ground_m == -46.0


def test_a_pit_needs_no_ground_said() -> None:
    """The lowest hook height below zero is itself the lowest place known."""
    dossier = read_case(TEXT.replace('ground = "-46 m"\n', ""), file="case.toml").dossier
    assert hoist_on(dossier, DAY).hoist.travel.ground_m == -45.0


def test_limits_of_a_luffing_jib_may_be_radii() -> None:
    by_radius = LUFFING.replace('jib_min = "20 deg"', 'radius_min = "9 m"').replace(
        'jib_max = "80 deg"', 'radius_max = "46 m"'
    )
    travel = hoist_on(crane(by_radius, falls=1, high="86 m", length="190 m"), DAY).hoist.travel
    # By hand: a jib of 50 m reaches 46 m at acos(46/50) and 9 m at acos(9/50).
    assert travel.jib_min_deg == pytest.approx(math.degrees(math.acos(46 / 50)), abs=1e-9)
    assert travel.jib_max_deg == pytest.approx(math.degrees(math.acos(9 / 50)), abs=1e-9)


def test_a_radius_beyond_the_jib_is_refused_by_its_key() -> None:
    by_radius = LUFFING.replace('jib_min = "20 deg"', 'radius_min = "9 m"').replace(
        'jib_max = "80 deg"', 'radius_max = "60 m"'
    )
    with pytest.raises(RopewrightError, match=r"travel\.radius_max"):
        crane(by_radius, falls=1, high="86 m", length="190 m")


def test_a_place_may_lie_at_the_first_half_of_a_twin_drum() -> None:
    at_a = TWIN.replace('at = "drum"', 'at = "drum A"')
    dossier = crane(at_a, falls=4, high="8 m", layers="single", length="60 m")
    (place,) = hoist_on(dossier, DAY).rigging.points
    assert place.point is not None
    assert (place.point.at, place.point.side) == ("drum A", "after")


def test_readings_hold_from_their_day_on() -> None:
    dossier = read_case(TEXT, file="case.toml").dossier
    assert hoist_on(dossier, date(2026, 2, 2)).calibration is None
    assert hoist_on(dossier, date(2026, 2, 3)).calibration is not None


def test_the_manuals_readings_fit_the_demo_rope() -> None:
    """What the manual shows as an example must read, and agree with the demo's numbers."""
    from ropewright.demo import demo_case

    manual = EXAMPLE.parents[1] / "docs" / "places-and-plan.md"
    shown = manual.read_text(encoding="utf-8").split("```toml\n")[1].split("```")[0]
    text = demo_case("KQ-1")
    assert "[[rigging.reading]]" in shown
    if "[[rigging.reading]]" in text:
        return
    with_readings = text.replace("\n[rope]\n", f"\n{shown}\n[rope]\n", 1)
    rigged = hoist_on(read_case(with_readings, file="KQ-1.toml").dossier, DAY)
    assert rigged.calibration is not None
    assert len(rigged.calibration.left) == 3
