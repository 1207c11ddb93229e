"""Places on the drum: there and back, counted from either flange, zones, measures, refusals."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ropewright.errors import InputError
from ropewright.geometry import (
    Drum,
    drum_figures,
    drum_from,
    drum_metres,
    drum_wraps,
    drum_zones,
    in_crossover,
    in_layer_change,
    wrap_from_flange,
)
from tests.unit.geometry_path.reference import reference_drum

WRAPS = st.integers(4, 90).map(lambda halves: halves / 2)


@st.composite
def drums(choose: st.DrawFn) -> Drum:
    rope = choose(st.integers(8, 40))
    return Drum(
        barrel_mm=choose(st.integers(15 * rope, 30 * rope)),
        rope_mm=rope,
        rise_mm=choose(st.integers(80, 100)) / 100 * rope,
        wraps=tuple(choose(st.lists(WRAPS, min_size=1, max_size=7))),
        extra_wraps=choose(st.integers(-5, 5)) / 10,
        grooving=choose(st.sampled_from(["smooth", "helical", "parallel"])),
    )


@given(drums(), st.lists(st.floats(0, 1), min_size=1, max_size=50))
def test_there_and_back(drum: Drum, shares: list[float]) -> None:
    metres = np.array(shares) * drum.capacity_m
    found = drum_wraps(drum, metres)
    back = drum_metres(drum, layer=found.layer, wrap=found.wrap, part=found.part)
    assert back == pytest.approx(metres, abs=1e-9)
    assert ((found.part >= 0) & (found.part <= 1)).all()


@given(drums(), st.floats(0, 1))
def test_turns_and_metres(drum: Drum, share: float) -> None:
    metres = np.array([share * drum.capacity_m])
    assert drum.metres_at_turns(drum.turns_at(metres)) == pytest.approx(metres, abs=1e-9)


@given(drums(), st.floats(0, 1))
def test_wound_on_turn_by_turn(drum: Drum, share: float) -> None:
    """A second way: take away one turn after the other."""
    left = metres = share * drum.capacity_m
    layer, turn = 0, 0
    while True:
        held = drum.wraps[layer]
        one = math.pi * (drum.barrel_mm + drum.rope_mm + 2 * layer * drum.rise_mm) / 1000
        one *= (held + drum.extra_wraps) / held
        piece = min(1.0, held - turn) * one
        if left < piece or (layer + 1 == len(drum.wraps) and turn + 1 >= held):
            break
        left -= piece
        turn += 1
        if turn >= held:
            layer, turn = layer + 1, 0
    found = drum_wraps(drum, metres)
    if 1e-9 < left < piece - 1e-9:
        assert (int(found.layer[0]), int(found.wrap[0])) == (layer + 1, turn + 1)


def test_from_either_flange() -> None:
    # By hand: odd layers run away from the clamp's flange, even ones back.
    drum = reference_drum()
    assert wrap_from_flange(drum, layer=1, wrap=4, flange="clamp") == 4
    assert wrap_from_flange(drum, layer=1, wrap=4, flange="far") == 25
    assert wrap_from_flange(drum, layer=2, wrap=4, flange="clamp") == 25
    assert wrap_from_flange(drum, layer=2, wrap=4, flange="far") == 4


def test_layers_of_half_wraps_go_on_where_the_last_one_ended() -> None:
    # By hand: 2.5 wraps a layer; the second layer starts at half a turn.
    drum = Drum(barrel_mm=480, rope_mm=20, rise_mm=18, wraps=(2.5, 2.5))
    start = drum.layer_ends_m[0]
    found = drum_wraps(drum, [start + 0.25 * drum.turn_m[1], start + 0.75 * drum.turn_m[1]])
    assert found.wrap.tolist() == [1, 1]
    assert found.part == pytest.approx([0.75, 0.25])


def test_zones_of_the_reference_drum() -> None:
    drum = reference_drum()
    zones = drum_zones(drum, on_drum_m=100.0)
    changes = [zone for zone in zones if zone.kind == "layer change"]
    # By hand: half a turn on either side of 44.017 and 91.265 m.
    assert [(zone.from_m, zone.to_m) for zone in changes] == [
        pytest.approx((44.0175 - 0.786, 44.0175 + 0.8437), abs=5e-4),
        pytest.approx((91.265 - 0.8437, 91.265 + 0.9014), abs=5e-4),
    ]
    crossed = sum(zone.to_m - zone.from_m for zone in zones if zone.kind == "crossover")
    # By hand: a quarter of every turn.
    assert crossed == pytest.approx(25.0, abs=0.2)
    first = next(zone for zone in zones if zone.kind == "crossover")
    assert (first.from_m, first.to_m) == pytest.approx(
        (0.375 * drum.turn_m[0], 0.5 * drum.turn_m[0])
    )


@given(st.floats(0, 1))
def test_zones_and_flags_say_the_same(share: float) -> None:
    drum = Drum(barrel_mm=480, rope_mm=20, rise_mm=18, wraps=(5.5, 5.0, 5.5), grooving="parallel")
    metres = share * drum.capacity_m
    inside = {
        zone.kind for zone in drum_zones(drum) if zone.from_m + 1e-9 < metres < zone.to_m - 1e-9
    }
    near = any(
        abs(metres - edge) < 1e-6 for zone in drum_zones(drum) for edge in (zone.from_m, zone.to_m)
    )
    if not near:
        assert bool(in_crossover(drum, metres)[0]) == ("crossover" in inside)
        assert bool(in_layer_change(drum, metres)[0]) == ("layer change" in inside)


def test_a_helical_drum_crosses_somewhere_on_every_upper_layer() -> None:
    drum = Drum(barrel_mm=480, rope_mm=20, rise_mm=18, wraps=(10.0, 10.0), grooving="helical")
    kinds = [(zone.kind, zone.layer) for zone in drum_zones(drum)]
    assert ("crossover somewhere", 2) in kinds
    assert ("crossover somewhere", 1) not in kinds


def test_a_single_layer_has_no_zones() -> None:
    assert drum_zones(Drum(barrel_mm=300, rope_mm=13, wraps=(30.0,), grooving="helical")) == ()


def test_measures() -> None:
    drum = drum_from(
        barrel_mm=480, rope_mm=20.4, wraps=28, layers=5, rise_mm=18.36, pitch_mm=20.9,
        grooving="parallel", flange_mm=760,
    )  # fmt: skip
    figures = drum_figures(drum)
    # By hand: top of layer 5 is 480 + 2 * 20.4 + 8 * 18.36 = 667.68; (760 - 667.68) / 2.
    assert figures.freeboard_mm == pytest.approx(46.16)
    assert figures.freeboard_ropes == pytest.approx(46.16 / 20.4)
    assert figures.barrel_ratio == pytest.approx(480 / 20.4)
    assert figures.pitch_circle_ratio == pytest.approx(500.4 / 20.4)
    assert figures.pitch_ratio == pytest.approx(20.9 / 20.4)
    assert figures.pitch_gap_mm == pytest.approx(0.5)
    assert figures.helix_deg is None
    assert drum_figures(drum, layers_used=3).freeboard_mm == pytest.approx(46.16 + 2 * 18.36)


def test_as_many_layers_as_the_rope_needs() -> None:
    # By hand: 28 wraps of the reference drum hold 44.0, 91.3, 141.7 m.
    drum = drum_from(barrel_mm=480, rope_mm=20.4, wraps=28, rise_mm=18.36, rope_m=100.0)
    assert drum.layers == 3


REFUSED = [
    ({"barrel_mm": -480}, "drum.barrel_mm"),
    ({"rope_mm": 0}, "drum.rope_mm"),
    ({"wraps": 0}, "drum.wraps"),
    ({"wraps": None}, "drum.wraps"),
    ({"wraps": None, "width_mm": 15}, "drum.width_mm"),
    ({"pitch_mm": 45}, "drum.pitch_mm"),
    ({"pitch_mm": 10}, "drum.pitch_mm"),
    ({"rise_mm": 30}, "drum.rise_mm"),
    ({"rise_mm": float("nan")}, "drum.rise_mm"),
    ({"layers": None}, "drum.layers"),
    ({"layers": 0}, "drum.layers"),
    ({"layers": None, "rope_m": 99_000}, "rope_m"),
    ({"flange_mm": 470}, "drum.flange_mm"),
    ({"crossover_share": 1.5}, "drum.crossover_share"),
    ({"grooving": "square"}, "drum.grooving"),
]


@pytest.mark.parametrize(("change", "field"), REFUSED)
def test_impossible_drums_name_the_number(change: dict[str, object], field: str) -> None:
    numbers: dict[str, object] = {
        "barrel_mm": 480, "rope_mm": 20.4, "wraps": 28, "layers": 5, "pitch_mm": 20.9,
    }  # fmt: skip
    with pytest.raises(InputError) as caught:
        drum_from(**{**numbers, **change})  # type: ignore[arg-type]
    assert caught.value.field == field
    assert caught.value.expected
    assert caught.value.given is not None


@pytest.mark.parametrize(
    ("layer", "wrap", "part", "field"),
    [(0, 1, 0.0, "layer"), (6, 1, 0.0, "layer"), (1, 29, 0.0, "wrap"), (1, 0, 0.0, "wrap"),
     (1, 1, 1.5, "part")],
)  # fmt: skip
def test_places_that_the_drum_has_not(layer: int, wrap: int, part: float, field: str) -> None:
    with pytest.raises(InputError) as caught:
        drum_metres(reference_drum(), layer=layer, wrap=wrap, part=part)
    assert caught.value.field == field


@pytest.mark.parametrize("metres", [-0.1, 252.5, float("nan")])
def test_rope_that_is_not_on_the_drum(metres: float) -> None:
    with pytest.raises(InputError) as caught:
        drum_wraps(reference_drum(), [1.0, metres])
    assert caught.value.field == "drum_m"
