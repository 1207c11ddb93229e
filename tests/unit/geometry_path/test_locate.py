"""From a sighting to a place, with its two errors, by each of the four ways."""

import math
from dataclasses import replace

import pytest

from ropewright.errors import InputError
from ropewright.geometry import (
    AT_DRUM,
    CranePosition,
    Hoist,
    InspectionPoint,
    LevelTrack,
    PathPlace,
    ReadingErrors,
    Reeving,
    SeenAtPoint,
    SeenFromEnd,
    SeenFromMark,
    SeenOnDrum,
    Span,
    Tolerances,
    Travel,
    locate,
    on_drum,
    on_drum_now,
)
from tests.unit.geometry_path.reference import TOWER_HEAD, reference_drum, reference_hoist


def _seen(hook: float, point: InspectionPoint = TOWER_HEAD) -> SeenAtPoint:
    return SeenAtPoint(point=point, position=CranePosition(hook_m=hook))


def test_a_snag_at_the_tower_head() -> None:
    # By hand: (60 - 1.5) + 2 (60.8 - 23.4) + 2 pi 0.25 - 2 m before the root sheave.
    place = locate(_seen(23.4), reference_hoist())
    assert place.at_m == pytest.approx(58.5 + 2 * 37.4 + math.pi / 2 - 2)
    wound = on_drum(place, reference_hoist())
    # By hand: 205 - 132.871 = 72.129 m from the clamp; 28.112 m into layer 2 at 1.6874 m a wrap.
    assert (wound.layer, wound.wrap) == (2, 17)
    assert wound.part == pytest.approx(16.6597 - 16, abs=1e-3)
    assert (wound.wrap_from_clamp, wound.wrap_from_far) == (12, 17)


def test_its_errors() -> None:
    # By hand: shared: 2 falls x 0.3 m zero, 0.3 m before the falls, 0.5 m behind them;
    # of the reading: 2 x 0.1 m hook, 0.1 m hand.
    place = locate(_seen(23.4), reference_hoist())
    assert place.abs_err_m == pytest.approx(math.hypot(0.6, 0.3, 0.5), rel=1e-6)
    assert place.rel_err_m == pytest.approx(math.hypot(0.2, 0.1), rel=1e-6)


def test_the_radius_is_asked_for_only_where_it_matters() -> None:
    hoist = reference_hoist()
    at_trolley = InspectionPoint(
        name="under the trolley", at="inner trolley sheave", side="before", offset_m=2.0
    )
    locate(_seen(23.4), hoist)
    with pytest.raises(InputError) as caught:
        locate(_seen(23.4, at_trolley), hoist)
    assert caught.value.field == "position.radius_m"
    with pytest.raises(InputError, match="hook"):
        locate(SeenAtPoint(point=TOWER_HEAD, position=CranePosition(radius_m=20.0)), hoist)


def test_drum_turns_stand_for_the_hook_height() -> None:
    hoist = reference_hoist()
    by_hook = locate(_seen(23.4), hoist)
    out = 58.5 + 2 * 37.4 + math.pi / 2 + 14
    # By hand: 28 wraps on layer 1, the rest on layer 2.
    turns = 28 + (205 - out - 44.01748) / 1.687412
    by_turns = locate(
        SeenAtPoint(point=TOWER_HEAD, position=CranePosition(drum_turns=turns)), hoist
    )
    assert by_turns.at_m == pytest.approx(by_hook.at_m, abs=1e-4)
    with pytest.raises(InputError):
        locate(
            SeenAtPoint(point=TOWER_HEAD, position=CranePosition(drum_turns=1.0, hook_m=2.0)),
            hoist,
        )


def test_a_block_that_hangs_above_the_person() -> None:
    point = InspectionPoint(name="ladder", at="inner trolley sheave", side="before", offset_m=30.0)
    seen = SeenAtPoint(point=point, position=CranePosition(hook_m=50.0, radius_m=30.0))
    with pytest.raises(InputError, match="block sheave"):
        locate(seen, reference_hoist())


def test_read_off_the_drum() -> None:
    hoist = reference_hoist()
    # By hand: 4th wrap of layer 2 counted from the far flange is the 4th in rope order.
    place = locate(SeenOnDrum(layer=2, wrap=4, part=0.25, counted_from="far"), hoist)
    assert place.at_m == pytest.approx(205 - 44.01748 - 3.25 * 1.687412, abs=1e-4)
    assert place.rel_err_m == pytest.approx(0.05 * 1.687412, abs=1e-5)
    unread = locate(SeenOnDrum(layer=2, wrap=4), hoist)
    assert unread.at_m == pytest.approx(205 - 44.01748 - 3.5 * 1.687412, abs=1e-4)
    assert unread.rel_err_m == pytest.approx(0.5 * 1.687412, abs=1e-5)


def test_upper_layers_are_less_sure() -> None:
    hoist = replace(reference_hoist(), rope_m=270.0, drum=reference_drum(layers=8))
    errs = [
        locate(SeenOnDrum(layer=layer, wrap=10, part=0.0), hoist).abs_err_m for layer in range(1, 6)
    ]
    # The clamp's end is sure but for the rope's length; each layer adds barrel, rise and wraps.
    assert errs[2:] == sorted(errs[2:])
    fixed = replace(
        hoist, tolerances=Tolerances(rope_m=0.0, barrel_mm=0.0, wraps=0.0, rise_mm=0.204)
    )
    # By hand: 1 % of d on the rise moves the end of layer 5 by 0.36 m.
    end = locate(SeenOnDrum(layer=5, wrap=28, part=1.0), fixed)
    assert end.abs_err_m == pytest.approx(0.36, abs=0.005)


def test_from_a_mark() -> None:
    mark = PathPlace(at_m=100.0, abs_err_m=0.8, rel_err_m=0.03)
    place = locate(SeenFromMark(mark=mark, offset_m=-2.1), reference_hoist())
    assert place.at_m == pytest.approx(97.9)
    assert place.abs_err_m == pytest.approx(0.8)
    assert place.rel_err_m == pytest.approx(math.hypot(0.03, 0.02 + 0.0021))


def test_by_tape_from_either_end() -> None:
    hoist = reference_hoist()
    from_a = locate(SeenFromEnd(end="A", tape_m=12.5), hoist)
    assert (from_a.at_m, from_a.rel_err_m) == pytest.approx((12.5, 0.02))
    assert from_a.abs_err_m == pytest.approx(0.0125)
    from_b = locate(SeenFromEnd(end="B", tape_m=12.5), hoist)
    assert from_b.at_m == pytest.approx(192.5)
    assert from_b.abs_err_m == pytest.approx(math.hypot(0.005 * 205, 0.0125), rel=1e-6)


def test_readings_said_to_be_better_are_taken_so() -> None:
    fine = replace(reference_hoist(), readings=ReadingErrors(hook_m=0.01, point_m=0.0))
    assert locate(_seen(23.4), fine).rel_err_m == pytest.approx(0.02)


def test_a_place_that_is_not_on_the_rope() -> None:
    with pytest.raises(InputError, match="on the rope"):
        locate(SeenFromEnd(end="A", tape_m=300.0), reference_hoist())
    with pytest.raises(InputError, match="not on a drum"):
        locate(SeenOnDrum(layer=1, wrap=1, side="A"), reference_hoist())


def test_drum_places_ask_for_rope_and_drum() -> None:
    bare = Hoist(reeving=reference_hoist().reeving, travel=reference_hoist().travel)
    with pytest.raises(InputError) as caught:
        locate(SeenOnDrum(layer=1, wrap=1), bare)
    assert caught.value.field == "drum"
    with pytest.raises(InputError) as caught:
        on_drum(PathPlace(at_m=10.0), bare)
    assert caught.value.field == "rope_m"


def test_on_the_drum_now() -> None:
    hoist = reference_hoist()
    place = PathPlace(at_m=150.0)
    # By hand: outside are 74.07 + 2 (60.8 - z); 150 m are off the drum below z = 22.8.
    assert on_drum_now(place, hoist, CranePosition(hook_m=30.0))
    assert not on_drum_now(place, hoist, CranePosition(hook_m=10.0))


def test_a_free_list_of_spans() -> None:
    """Any path can be given piece by piece."""
    reeving = Reeving(
        name="auxiliary hoist",
        frame=LevelTrack(sheave_height_m=20.0),
        elements=(Span(name="fall", per_drop=1.0), Span(name="to the drum", fixed_m=7.0)),
    )
    hoist = Hoist(reeving=reeving, travel=Travel(hook_low_m=0.0, hook_high_m=18.0))
    # By hand: 20 - 5 + 7 m outside.
    assert locate(_seen(5.0, AT_DRUM), hoist).at_m == pytest.approx(22.0)
