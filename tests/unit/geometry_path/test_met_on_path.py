"""What the path surely meets, against a slow look at many crane positions, one place at a time.

Kind of every expected figure: by a second formulation (each claim is looked up in the traced
path of a dense net of crane positions), unless marked otherwise.
"""

import itertools
from dataclasses import replace

import numpy as np
import pytest

from ropewright.geometry import (
    CranePositions,
    Hoist,
    Section,
    Tolerances,
    exposure_over,
    met_on_path,
    path_zones,
    trace,
)
from ropewright.geometry.checks import reachable
from ropewright.inspection import hoist_on
from tests.unit.plan.cranes import CRANES, DAY

KINDS = [kind for kind in CRANES if not hoist_on(CRANES[kind](), DAY).by_payout]
_EXACT = Tolerances(
    hook_zero_m=0.0, anchor_side_m=0.0, lead_m=0.0, rope_m=0.0, barrel_mm=0.0, rise_mm=0.0,
    wraps=0.0,
)  # fmt: skip


def hoist_of(kind: str) -> Hoist:
    return hoist_on(CRANES[kind](), DAY).hoist


def dense(hoist: Hoist) -> CranePositions:
    """Every crane position of a net much finer than the one looked at, those reached alone."""
    nodes = {1: 401, 2: 41, 3: 17}[len(hoist.reeving.axes)]
    net = hoist.travel.grid(hoist.reeving.axes, nodes)
    measures, known = hoist.reeving.frame.measures(net)
    mask = reachable(hoist.reeving, hoist.travel, measures, known)
    return CranePositions.of(**{axis: getattr(net, axis)[mask] for axis in hoist.reeving.axes})


def slow_look(hoist: Hoist, place: float) -> dict[str, object]:
    """What one place of the path meets at all crane positions of a net."""
    found = trace(hoist, dense(hoist))
    on_drum = (found.out_m <= place) | (found.base_m > place)
    over = []
    for number, contact in enumerate(hoist.reeving.contacts):
        before, after = found.start_m[number] > place, found.end_m[number] < place
        # it lies on the sheave, or has gone from one side of it to the other
        if not (before | after).all() or (before.any() and after.any()):
            over.append(contact)
    return {
        "ever on drum": bool(on_drum.any()),
        "spools": bool(on_drum.any() and not on_drum.all()),
        "sheaves": [one.name for one in over],
        "bends": bool(on_drum.any() and not on_drum.all()) or any(one.turns for one in over),
    }


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("margin_m", [0.0, 0.5])
def test_nothing_is_claimed_that_a_slow_look_does_not_find(kind: str, margin_m: float) -> None:
    hoist = replace(hoist_of(kind), tolerances=_EXACT, spread=None)
    met = met_on_path(hoist, layers="single", sheaves="steel", margin_m=margin_m)
    assert met
    assert met[0].section.from_m == 0.0
    assert met[-1].section.to_m == pytest.approx(hoist.rope_length_m())
    for one, other in itertools.pairwise(met):
        assert one.section.to_m == other.section.from_m
    claimed = 0
    for one in met:
        for share in (0.03, 0.5, 0.97):
            place = one.section.from_m + share * one.section.length_m
            seen = slow_look(hoist, place)
            if one.exposure.drum == "single":
                assert seen["spools"], (place, seen)
            if one.exposure.drum == "none":
                assert not seen["ever on drum"], (place, seen)
            if one.exposure.sheaves == "none":
                assert not seen["sheaves"], (place, seen)
            if one.exposure.bends is not None:
                assert one.exposure.bends is seen["bends"], (place, seen)
                claimed += 1
    assert claimed > 3


@pytest.mark.parametrize("kind", KINDS)
def test_a_wider_error_never_claims_more(kind: str) -> None:
    """What the stricter reading of a rule hangs on is only ever lost with a wider ±."""
    hoist = hoist_of(kind)
    narrow = met_on_path(hoist, layers="multi", sheaves="plastic", margin_m=0.2)
    for margin_m in (0.4, 1.5, 40.0):
        wide = met_on_path(hoist, layers="multi", sheaves="plastic", margin_m=margin_m)
        for place in np.linspace(0.0, hoist.rope_length_m(), 301):
            here = Section(float(place), float(place))
            was, now = exposure_over(here, narrow), exposure_over(here, wide)
            assert now.drum in (was.drum, "unknown")
            assert now.bends in (was.bends, None)
            assert not (was.sheaves == "plastic" and now.sheaves == "none")
            assert was.crossover or not now.crossover


@pytest.mark.parametrize("kind", ["trolley-jib", "luffing-jib"])
def test_crossovers_are_claimed_only_inside_the_drum_s_own_zones(kind: str) -> None:
    exact = replace(hoist_of(kind), tolerances=_EXACT, spread=None)
    zones = [one.section for one in path_zones(exact)]
    met = met_on_path(exact, layers="multi", margin_m=0.01)
    inside = [one.section for one in met if one.exposure.crossover]
    assert inside
    assert all(any(zone.contains(one) for zone in zones) for one in inside)
    assert not any(one.exposure.crossover is False for one in met)
    single = met_on_path(exact, layers="single", margin_m=0.01)
    assert not any(one.exposure.crossover for one in single)


def test_with_payout_alone_or_without_its_length_nothing_is_claimed() -> None:
    alone = [one for one in CRANES if one not in KINDS]
    for kind in alone:
        assert met_on_path(hoist_of(kind)) == ()
    hoist = replace(hoist_of(KINDS[0]), rope_m=None, drum=None)
    assert met_on_path(hoist, layers="multi", sheaves="steel") == ()


def test_sheaves_of_unknown_make_stay_unknown() -> None:
    met = met_on_path(hoist_of("trolley-jib"), layers="multi")
    assert {one.exposure.sheaves for one in met} <= {"unknown", "none", "steel"}
    assert exposure_over(met[1].section, met).sheaves != "none"
    assert "unknown" in {one.exposure.sheaves for one in met}
