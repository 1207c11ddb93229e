"""Bad geometry gets a message that names the number to change, what is expected, what was given."""

import math
from collections.abc import Callable
from dataclasses import replace

import pytest

from ropewright.errors import InputError
from ropewright.geometry import (
    AT_DRUM,
    BlockSheaves,
    Contact,
    Corrections,
    CranePosition,
    CranePositions,
    Hoist,
    InspectionPoint,
    Lead,
    LevelTrack,
    LuffingJib,
    PathPlace,
    ReadingErrors,
    Reeving,
    SeenAtPoint,
    SeenFromEnd,
    SeenOnDrum,
    Span,
    TelescopicBoom,
    Tolerances,
    Travel,
    bridge_hoist_twin,
    bring_to,
    hoist_by_payout,
    locate,
    luffing_jib_hoist,
    luffing_rope,
    telescopic_hoist,
    trace,
    trolley_jib_hoist,
    trolley_rope,
)
from tests.unit.geometry_path.reference import (
    REFERENCE_TRAVEL,
    SHEAVES,
    TOWER_HEAD,
    reference_drum,
    reference_hoist,
    reference_reeving,
)

FRAME = LevelTrack(sheave_height_m=62.0, hook_below_m=1.2)
JIB = LuffingJib(jib_m=50, foot_height_m=40, a_frame_back_m=7, a_frame_up_m=12)
LEAD = Lead(to_drum_m=10.0)


def _hoist(**changes: object) -> Hoist:
    return replace(reference_hoist(), **changes)  # type: ignore[arg-type]


def _travel(**changes: float) -> Hoist:
    return _hoist(travel=replace(REFERENCE_TRAVEL, **changes))


def _trolley_jib(**changes: object) -> Reeving:
    given: dict[str, object] = {
        "falls": 2, "frame": FRAME, "sheaves": SHEAVES, "lead": LEAD, "root_m": 1.5,
        "anchor_m": 60.0,
    }  # fmt: skip
    return trolley_jib_hoist(**{**given, **changes})  # type: ignore[arg-type]


def _luffing(lead_deg: float = 270.0, **limits: float) -> Hoist:
    reeving = luffing_jib_hoist(
        falls=2, frame=JIB, sheaves=SHEAVES, a_frame_sheave_mm=500, lead_deg=lead_deg, lead=LEAD
    )
    given = {"hook_low_m": 0, "hook_high_m": 40, "jib_min_deg": 15, "jib_max_deg": 80}
    return Hoist(reeving=reeving, travel=Travel(**{**given, **limits}))


def _luffing_rope(pendant_m: float) -> Hoist:
    reeving = luffing_rope(
        falls=4, frame=JIB, pendant_m=pendant_m, sheave_mm=500, lead_deg=270, lead=LEAD
    )
    return Hoist(reeving=reeving, travel=Travel(jib_min_deg=15, jib_max_deg=80))


# (what is done, the field that is named, words that must be in what is expected, what was given)
CASES: dict[str, tuple[Callable[[], object], str, str, str]] = {
    # limits
    "hook below the ground": (
        lambda: _travel(hook_low_m=-2), "hook_low_m", "at least ground_m, 0", "-2"),
    "limits the wrong way round": (
        lambda: _travel(hook_high_m=-1), "hook_high_m", "at least hook_low_m, 0", "-1"),
    "only one limit": (
        lambda: Travel(hook_low_m=0), "hook_high_m", "the hook height in metres", "nothing"),
    "a limit that is no number": (
        lambda: _travel(radius_max_m=float("nan")), "radius_max_m", "radius", "nan"),
    "negative radius": (
        lambda: _travel(radius_min_m=-1), "radius_min_m", "at least 0", "-1"),
    "jib beyond upright": (
        lambda: _luffing(jib_max_deg=95), "jib_max_deg", "at most 90", "95"),
    # the limits against the crane
    "jib shorter than the trolley's position": (
        lambda: _travel(radius_max_m=62), "radius_max_m", "at most 60", "62"),
    "trolley inside the root sheave": (
        lambda: _travel(radius_min_m=1), "radius_min_m", "at least 1.5", "1"),
    "hook above the sheaves": (
        lambda: _travel(hook_high_m=63), "hook_high_m", "at most 60.8", "63"),
    "hook above the raised jib": (
        lambda: _luffing(hook_high_m=95), "hook_high_m", "at most 89.2", "95"),
    "pendants longer than the luffing rope has room for": (
        lambda: _luffing_rope(60.0), "span 'fall 1'.fixed_m", "at least -40.4", "-60"),
    "rope that would have to run through the A-frame's sheave": (
        lambda: _luffing(lead_deg=200), "sheave 'A-frame sheave'.wrap_deg", "from 0", "-47"),
    # rope and drum
    "too little rope for the travel": (
        lambda: _hoist(rope_m=150.0), "rope_m", "at least 195.671", "150"),
    "no rope": (lambda: _hoist(rope_m=0.0), "rope_m", "above zero", "0.0"),
    "too little room on the drum": (
        lambda: _hoist(drum=reference_drum(layers=2)), "drum.wraps", "129.329 m", "91.265 m"),
    # parts
    "negative jib": (
        lambda: LuffingJib(jib_m=-50, foot_height_m=1, a_frame_back_m=1, a_frame_up_m=1),
        "jib_m", "above zero", "-50"),
    "tie beyond the jib": (
        lambda: replace(JIB, tie_at_m=51.0), "tie_at_m", "at most jib_m, 50", "51"),
    "negative sheave": (
        lambda: BlockSheaves(block_mm=-1, upper_mm=500), "block_mm", "above zero", "-1"),
    "sheave of no size": (
        lambda: Contact(name="x", pitch_diameter_mm=0),
        "sheave 'x'.pitch_diameter_mm", "above zero", "0"),
    "sense that is none": (
        lambda: Contact(name="x", pitch_diameter_mm=1, sense=0),  # type: ignore[arg-type]
        "sheave 'x'.sense", "1 or -1", "0"),
    "negative lead": (lambda: Lead(to_drum_m=-1), "lead.to_drum_m", "zero or more", "-1"),
    "span of no number": (
        lambda: Span(name="x", fixed_m=float("inf")), "span 'x'.fixed_m", "finite", "inf"),
    "two sheaves of one name": (
        lambda: Reeving(name="r", frame=FRAME, elements=(
            Span(name="s"), Contact(name="x", pitch_diameter_mm=1),
            Contact(name="x", pitch_diameter_mm=1))),
        "elements", "another name", "x"),
    "a path without rope": (
        lambda: Reeving(name="r", frame=FRAME, elements=()), "elements", "span", "nothing"),
    # builders
    "three falls on a trolley": (lambda: _trolley_jib(falls=3), "falls", "2 or 4", "3"),
    "no place for the anchor": (
        lambda: _trolley_jib(anchor_m=None), "anchor_m", "jib tip", "nothing"),
    "an anchor that is none": (
        lambda: _trolley_jib(anchor="sky"), "anchor", "jib tip, trolley, jib foot", "sky"),
    "root sheave behind the mast": (lambda: _trolley_jib(root_m=-1), "root_m", "zero", "-1"),
    "winch beyond the jib's end": (
        lambda: trolley_rope(rope="outer", end_sheave_m=60, winch_m=61, sheave_mm=300),
        "winch_m", "inside end_sheave_m, 60", "61"),
    "no falls": (
        lambda: telescopic_hoist(
            falls=0, frame=TelescopicBoom(foot_height_m=2), sheaves=SHEAVES, lead=LEAD),
        "falls", "1 or more", "0"),
    "odd falls on a twin drum": (
        lambda: bridge_hoist_twin(falls=3, frame=FRAME, sheaves=SHEAVES, equaliser_mm=240),
        "falls", "even", "3"),
    "twin drum without the rope's length": (
        lambda: trace(Hoist(
            reeving=bridge_hoist_twin(falls=4, frame=FRAME, sheaves=SHEAVES, equaliser_mm=240),
            travel=Travel()), CranePositions.of(hook_m=1.0)),
        "rope_m", "on the drum too", "nothing"),
    "payout with no falls": (
        lambda: hoist_by_payout(falls=0, hook_low_m=0, hook_high_m=50), "falls", "above zero", "0"),
    "payout with too little rope": (
        lambda: hoist_by_payout(falls=2, hook_low_m=0, hook_high_m=50, rope_m=90),
        "rope_m", "at least", "90"),
    "payout with less rope outside than the lead takes": (
        lambda: hoist_by_payout(
            falls=2, hook_low_m=0, hook_high_m=50, out_at_top_m=5.0, lead=Lead(to_drum_m=14)),
        "out_at_top_m", "at least", "5"),
    # what is asked
    "a sheave that is not there": (
        lambda: trace_point("tip sheave"), "at", "a sheave of this path", "tip sheave"),
    "a point behind end A": (
        lambda: InspectionPoint(name="x", at="end A"), "point.side", "'after' at end A", "before"),
    "a negative offset": (
        lambda: InspectionPoint(name="x", at="drum", offset_m=-1), "point.offset_m", "zero", "-1"),
    "a crane position that is no number": (
        lambda: CranePosition(hook_m=float("nan")), "hook_m", "hook height", "nan"),
    "negative drum turns": (
        lambda: CranePosition(drum_turns=-1), "drum_turns", "zero or more", "-1"),
    "no crane position at all": (
        CranePositions.of, "positions", "at least one axis", "nothing"),
    "an axis that is none": (
        lambda: CranePositions.of(slew_deg=1.0), "slew_deg", "hook_m, radius_m", "slew_deg"),
    "lists of unlike length": (
        lambda: CranePositions.of(hook_m=[1, 2, 3], radius_m=[1, 2]), "positions", "one length",
        "hook_m"),
    "radius beyond the jib": (
        lambda: trace(_luffing(), CranePositions.of(hook_m=1.0, radius_m=51.0)),
        "radius_m", "at most 50", "51"),
    "hook seen below the ground": (
        lambda: _locate(CranePosition(hook_m=-3.0)), "position.hook_m", "at least 0", "-3"),
    "trolley seen beyond the jib's tip": (
        lambda: _locate(CranePosition(hook_m=3.0, radius_m=65.0)),
        "position.radius_m", "at most 60", "65"),
    "hook seen above the sheaves": (
        lambda: _locate(CranePosition(hook_m=63.0)), "position.hook_m", "at most 60.8", "63"),
    "more turns than the drum holds": (
        lambda: _locate(CranePosition(drum_turns=999.0)), "drum_turns", "0 to 168", "999"),
    "turns that put the hook under the ground": (
        lambda: _locate(CranePosition(drum_turns=1.0)),
        "position.drum_turns", "at least 0, the ground", "1 turns: -3.9 m"),
    "a radius that the jib's angle contradicts": (
        lambda: locate(SeenAtPoint(point=AT_DRUM, position=CranePosition(
            hook_m=5.0, jib_deg=60.0, radius_m=35.0)), _luffing()),
        "position.radius_m", "about 25.0", "35"),
    "a limit switch that would let the block through": (
        lambda: _travel(drop_min_m=-1.0), "drop_min_m", "zero or more", "-1"),
    "an upper limit above what its switch lets the hook": (
        lambda: _travel(drop_min_m=2.0), "hook_high_m", "at most 58.8", "60"),
    "negative tape": (
        lambda: SeenFromEnd(end="A", tape_m=-1), "tape_m", "zero or more", "-1"),
    "part of turn above one": (
        lambda: SeenOnDrum(layer=1, wrap=1, part=1.2), "part", "from 0 to 1", "1.2"),
    "counted from nowhere": (
        lambda: SeenOnDrum(layer=1, wrap=1, counted_from="left"),  # type: ignore[arg-type]
        "counted_from", "rope order, clamp, far", "left"),
    "negative tolerance": (
        lambda: Tolerances(hook_zero_m=-1), "tolerances.hook_zero_m", "zero or more", "-1"),
    "negative reading error": (
        lambda: ReadingErrors(hook_m=-1), "readings.hook_m", "zero or more", "-1"),
    "a correction that is no number": (
        lambda: Corrections(rope_m=float("nan")), "corrections.rope_m", "finite", "nan"),
}  # fmt: skip


def _locate(position: CranePosition) -> None:
    locate(SeenAtPoint(point=TOWER_HEAD, position=position), reference_hoist())


def trace_point(at: str) -> None:
    bring_to(PathPlace(at_m=1.0), InspectionPoint(name="x", at=at), reference_hoist())


@pytest.mark.parametrize("case", CASES)
def test_the_number_to_change_is_named(case: str) -> None:
    do, field, expected, given = CASES[case]
    with pytest.raises(InputError) as caught:
        do()
    error = caught.value
    assert error.field == field
    assert expected in str(error.expected)
    assert given in str(error.given)


def test_the_message_says_where_it_happens() -> None:
    with pytest.raises(InputError) as caught:
        _travel(radius_max_m=62)
    assert "from the jib tip" in str(caught.value)
    assert "radius 62 m" in str(caught.value)


def test_limits_that_just_fit_are_taken() -> None:
    _travel(radius_max_m=60.0, hook_high_m=60.8, radius_min_m=1.5)
    _hoist(rope_m=195.6709)  # by hand: 74.0708 + 2 * 60.8 = 195.6708 m outside


def test_limit_switches_may_have_been_bridged() -> None:
    """A reading beyond a limit switch, or off by the zero's error, is taken."""
    for hook in (60.5, 61.0, -0.2):
        _locate(CranePosition(hook_m=hook))


def test_a_luffing_jib_reaches_its_highest_hook_only_when_raised() -> None:
    hoist = _luffing(hook_high_m=80.0, drop_min_m=2.0)
    # By hand: head at 40 + 50 sin 15 = 52.94 m; the switch stops the hook 2 m below it.
    seen = SeenAtPoint(point=AT_DRUM, position=CranePosition(hook_m=50.0, jib_deg=15.0))
    place = locate(seen, hoist)
    higher = PathPlace(at_m=place.at_m - 4.0)  # 2 m of hook on 2 falls
    why = bring_to(higher, AT_DRUM, hoist, held=CranePosition(jib_deg=15.0)).unreachable
    assert why is not None
    assert why.reason == "above the upper limit"
    assert "hook at 52.0 m; it stops at 50.9 m" in why.text
    found = bring_to(higher, AT_DRUM, hoist)
    assert found.ways
    for way in found.ways:
        for at in (way.start, way.end):
            assert at.jib_deg is not None
            assert at.hook_m is not None
            head = 40 + 50 * math.sin(math.radians(at.jib_deg))
            assert at.hook_m <= head - 2.0 + 1e-6


def test_without_limits_nothing_can_be_checked() -> None:
    hoist = Hoist(reeving=reference_reeving(), travel=Travel())
    assert hoist.reeving.axes == ("hook_m", "radius_m")
