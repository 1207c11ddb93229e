"""Damage of bends: worked by hand on the reference crane, and against a walk bin by bin."""

from dataclasses import replace

import numpy as np
import pytest

from ropewright.errors import InputError
from ropewright.geometry import Contact, Hoist
from ropewright.rope import Rope, StrandNumbers, build_construction
from ropewright.wear import BendCount, Counting, DutyChunk, LoadClasses, bends
from ropewright.wear.catalogue import endurance_rows
from ropewright.wear.damage import (
    PathDamage,
    damage_of,
    later_minus_earlier,
    line_forces_n,
    lines_of,
)
from ropewright.wear.endurance import endurance, reverse_bends, working_cycles
from ropewright.wear.models import (
    MODELS,
    ModelName,
    RopeForModel,
    damage_of_bends,
    damage_of_reverse_bends,
    rope_for_model,
)
from tests.unit.geometry_path.reference import reference_hoist

HOIST = reference_hoist()
COUNTING = Counting(
    classes=LoadClasses(upper_t=(1.0, 2.0, 4.0, 8.0)), bin_m=0.1, jitter_m=0.0, block_t=0.4,
    gap_s=1e6,
)  # fmt: skip
ROPE = RopeForModel(
    rope_mm=20.0, grade_n_per_mm2=1770.0, lay="ordinary", row=endurance_rows()[0],
    own_constants=True,
)  # fmt: skip
DROPS = [58.0, 30, 30, 50, 30, 30, 58]
RADII = [20.0, 20, 45, 45, 45, 20, 20]


def _log(loads: list[float]) -> DutyChunk:
    return DutyChunk(
        time_ms=1_760_000_000_000 + np.arange(7) * 100_000,
        hook_m=60.8 - np.array(DROPS),
        radius_m=np.array(RADII),
        load_t=np.array(loads),
    )


def _count(loads: list[float]) -> BendCount:
    return bends([_log(loads)], HOIST, COUNTING)


def _at(damage: PathDamage, path_m: float) -> float:
    return float(damage.total[int(path_m / damage.bin_m)])


# Bends of the cycle by hand (worked figures of the reference crane): place, all bends, and how
# often the element ran from block sheave to inner trolley sheave or back without a stop.
HAND = [(7.0, 0), (30.0, 2), (43.0, 0), (70.0, 2), (118.0, 2), (172.0, 4), (180.0, 1), (195.0, 0)]


@pytest.mark.parametrize(("path_m", "hand"), HAND)
def test_every_bend_alike_is_the_count(path_m: float, hand: float) -> None:
    found = damage_of(_count([2.0] * 7), HOIST, ROPE, "bends")
    assert _at(found, path_m) == hand
    assert found.full_bend == 1.0
    assert found.full_force_n is None


def test_reverse_bends_count_once_more() -> None:
    """By hand: place 90 m is bent 6 times and runs between unlike sheaves on its way."""
    count = _count([2.0] * 7)
    found = damage_of(count, HOIST, ROPE, "bends")
    bin_at = int(90.0 / 0.1)
    passes = int(count.reverse_bends[:, :, bin_at].sum())
    assert passes > 0
    assert found.total[bin_at] == 6 + passes


def test_the_cube_of_the_force_by_hand() -> None:
    """8 t against 2 t on the same path: 64 times the damage."""
    light = damage_of(_count([2.0] * 7), HOIST, ROPE, "cubic")
    heavy = damage_of(_count([8.0] * 7), HOIST, ROPE, "cubic")
    assert _at(heavy, 30.0) == pytest.approx(64 * _at(light, 30.0))
    assert heavy.full_bend == pytest.approx(64 * light.full_bend)


def test_line_force_by_hand() -> None:
    """4 t on 2 falls with 0.98 a sheave: 4000 * 9.81 / (2 * 0.99) = 19 818 N."""
    assert lines_of(HOIST) == 2
    assert line_forces_n(HOIST, np.array([4.0]))[0] == pytest.approx(19_818, abs=0.5)


@pytest.mark.parametrize(
    ("falls", "efficiency"),
    [(2, 0.990), (3, 0.980), (4, 0.970), (5, 0.961), (6, 0.951), (8, 0.933), (10, 0.915),
     (12, 0.897)],
)  # fmt: skip
def test_efficiency_of_a_reeving(falls: int, efficiency: float) -> None:
    """Worked figures for 0.98 a sheave."""
    span = replace(HOIST.reeving.spans[0], per_drop=float(falls), per_radius=0.0)
    reeving = replace(HOIST.reeving, elements=(span,))
    hoist = Hoist(reeving=reeving, travel=HOIST.travel)
    force = line_forces_n(hoist, np.array([1.0]))[0]
    assert 9810 / falls / force == pytest.approx(efficiency, abs=0.0005)


def test_endurance_damage_is_one_over_bends_endured() -> None:
    forces = np.array([40_000.0, 80_000.0])
    found = damage_of_bends("endurance", ROPE, forces, 500.0)
    for force, damage in zip(forces, found, strict=True):
        alone = endurance(
            ROPE.row, "NA10", force_n=float(force), rope_mm=20, sheave_mm=500,
            grade_n_per_mm2=1770, length_over_d=1000,
        )  # fmt: skip
        assert damage == pytest.approx(1 / alone.bends)
        both = damage_of_reverse_bends("endurance", ROPE, np.array([force]), 500.0)
        assert both[0] == pytest.approx(1 / reverse_bends(alone.bends, 25.0))


def test_palmgren_miner_over_a_log_is_the_published_sum() -> None:
    """Second formulation: equation (3.92) for the bends of one place over the cycles done."""
    rope = replace(ROPE, rope_mm=12.0)
    count = _count([4.0] * 7)
    found = damage_of(count, HOIST, rope, "endurance")
    force = float(line_forces_n(HOIST, np.array([4.0]))[0])
    at = int(30.0 / 0.1)
    size = HOIST.reeving.contacts[0].pitch_diameter_mm - 20.4
    alone = endurance(
        rope.row, "NA10", force_n=force, rope_mm=12, sheave_mm=size, grade_n_per_mm2=1770,
        length_over_d=1000,
    )  # fmt: skip
    assert 1 / found.total[at] == pytest.approx(working_cycles([(2, alone.bends)]))


def test_light_loads_count_as_at_the_least_stress_of_the_tests() -> None:
    low, least = damage_of_bends("endurance", ROPE, np.array([2_000.0, 50 * 400.0]), 500.0)
    assert low == least
    found = damage_of(_count([0.4] * 7), HOIST, ROPE, "endurance")
    assert found.light_share == 1.0


@pytest.mark.parametrize(
    ("force", "sheave", "words"),
    [(210_000.0, 500.0, "from 50 to 500"), (40_000.0, 190.0, "from 10 to 63")],
)
def test_the_endurance_model_refuses_what_it_was_not_made_for(
    force: float, sheave: float, words: str
) -> None:
    with pytest.raises(InputError, match=words):
        damage_of_bends("endurance", ROPE, np.array([force]), sheave)
    with pytest.raises(InputError, match=r"rope\.grade"):
        damage_of_bends("endurance", replace(ROPE, grade_n_per_mm2=None), np.array([4e4]), 500.0)


def test_unknown_loads_count_as_the_greatest_and_say_so() -> None:
    loads = [2.0, 2.0, 2.0, float("nan"), float("nan"), 2.0, 2.0]
    count = _count(loads)
    found = damage_of(count, HOIST, ROPE, "cubic")
    whole = damage_of(_count([2.0] * 7), HOIST, ROPE, "cubic")
    assert 0 < found.unknown_share < 1
    assert found.total == pytest.approx(whole.total)
    with pytest.raises(InputError, match="bends"):
        damage_of(_count([float("nan")] * 7), HOIST, ROPE, "cubic")
    alike = damage_of(_count([float("nan")] * 7), HOIST, ROPE, "bends")
    assert alike.total == pytest.approx(damage_of(count, HOIST, ROPE, "bends").total)


def test_an_equaliser_that_does_not_turn_wears_nothing() -> None:
    elements = tuple(
        replace(one, turns=False)
        if isinstance(one, Contact) and one.name == "outer trolley sheave"
        else one
        for one in HOIST.reeving.elements
    )
    hoist = replace(HOIST, reeving=replace(HOIST.reeving, elements=elements))
    count = bends([_log([2.0] * 7)], hoist, COUNTING)
    assert _at(damage_of(count, hoist, ROPE, "bends"), 30.0) == 0


def test_a_groove_too_wide_costs_life_in_the_formula() -> None:
    wide = tuple(
        replace(one, groove_radius_mm=12.0) if isinstance(one, Contact) else one
        for one in HOIST.reeving.elements
    )
    hoist = replace(HOIST, reeving=replace(HOIST.reeving, elements=wide))
    count = bends([_log([8.0] * 7)], hoist, COUNTING)
    before = damage_of(count, HOIST, ROPE, "endurance")
    after = damage_of(count, hoist, ROPE, "endurance")
    assert _at(after, 30.0) == pytest.approx(_at(before, 30.0) / 0.66)  # printed: 0.60 d
    assert {factor.name for factor in after.factors} == {"round groove"}


def test_what_was_added_between_two_counts() -> None:
    first, both = _count([2.0] * 7), _count([2.0] * 7) + _count([8.0] * 7)
    later = damage_of(both, HOIST, ROPE, "cubic")
    added = later_minus_earlier(later, damage_of(first, HOIST, ROPE, "cubic"))
    alone = damage_of(_count([8.0] * 7), HOIST, ROPE, "cubic")
    assert added.total == pytest.approx(alone.total)
    assert added.bends == alone.bends


def test_a_log_without_movement_is_refused() -> None:
    still = DutyChunk(
        time_ms=np.arange(3) * 1000,
        hook_m=np.full(3, 20.0),
        radius_m=np.full(3, 30.0),
        load_t=np.full(3, 1.0),
    )
    with pytest.raises(InputError, match="moves"):
        damage_of(bends([still], HOIST, COUNTING), HOIST, ROPE, "bends")


def test_constants_belong_to_one_kind_of_rope_and_are_lent_to_others() -> None:
    def rope(name: str, core: str | None, lay: str | None) -> Rope:
        given = None if core is None else StrandNumbers(core=core)  # type: ignore[arg-type]
        return Rope(
            rope_id="r",
            nominal_diameter_mm=16,  # type: ignore[arg-type]
            construction=build_construction(name=name, given=given),
            length_m=100.0,
            lay_type=lay,  # type: ignore[arg-type]
        )

    assert rope_for_model(rope("8x19S", "fibre", "ordinary")).own_constants
    assert not rope_for_model(rope("8x19S", None, "ordinary")).own_constants
    assert not rope_for_model(rope("35(W)x7", None, "ordinary")).own_constants
    assert rope_for_model(rope("6x36WS", "steel", "lang")).lay == "lang"


@pytest.mark.parametrize("name", sorted(MODELS))
def test_worse_is_never_milder(name: ModelName) -> None:
    """More force, a smaller sheave, or bending both ways never wears less."""
    forces = np.array([25_000.0, 50_000.0, 100_000.0])
    base = damage_of_bends(name, ROPE, forces, 500.0)
    assert (np.diff(base) >= 0).all()
    assert (damage_of_bends(name, ROPE, forces, 400.0) >= base).all()
    assert (damage_of_reverse_bends(name, ROPE, forces, 500.0) >= base).all()
    assert MODELS[name].provenance == "memory"  # until somebody has read the book
