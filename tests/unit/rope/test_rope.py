"""A rope's derived values, and what no rope can be."""

import math
from fractions import Fraction
from typing import Any

import pytest

from ropewright.errors import InputError
from ropewright.rope import (
    Certificate,
    Rope,
    StrandNumbers,
    build_construction,
    longest_plausible_lay_mm,
)


def _rope(name: str = "6x36WS", *, core: Any = "steel", **changes: Any) -> Rope:
    facts: dict[str, Any] = {
        "rope_id": "KQ-4 hoist",
        "nominal_diameter_mm": Fraction(22),
        "construction": build_construction(name=name, given=StrandNumbers(core=core)),
        "length_m": 120.0,
        "grade_n_per_mm2": Fraction(1770),
    }
    return Rope(**facts | changes)


def test_check_value_of_a_22_mm_rope() -> None:
    # Derived: 22 mm 6x36 with steel core, grade 1770: 305.0 kN, 1.98 kg/m, 222.6 mm2;
    # tolerance half of the last printed digit.
    rope = _rope()
    force, mass, area = rope.breaking_force(), rope.length_mass(), rope.metallic_area()
    assert force is not None
    assert mass is not None
    assert area is not None
    assert float(force.value) == pytest.approx(305.0, abs=0.05)
    assert float(mass.value) == pytest.approx(1.98, abs=0.005)
    assert float(area.value) == pytest.approx(222.6, abs=0.05)
    assert [one.unit for one in (force, mass, area)] == ["kN", "kg/m", "mm²"]
    assert {one.origin for one in (force, mass, area)} == {"table"}
    assert {one.provenance for one in (force, mass, area)} == {"second-hand"}
    assert "EN 12385-4" in force.source
    assert "class 6x36, steel core" in force.source


def test_the_certificate_wins() -> None:
    certificate = Certificate(
        number="certificate 1 (invented)",
        minimum_breaking_force_kn=Fraction(311),
        grade_n_per_mm2=Fraction(1960),
        mass_kg_per_m=Fraction("2.01"),
        metallic_area_mm2=Fraction(225),
    )
    rope = _rope(certificate=certificate, minimum_breaking_force_kn=Fraction(300))
    force = rope.breaking_force()
    assert force is not None
    assert (force.value, force.origin, force.provenance) == (Fraction(311), "certificate", None)
    assert force.source == "certificate 1 (invented)"
    assert rope.grade == 1960
    assert getattr(rope.length_mass(), "value", None) == Fraction("2.01")
    assert getattr(rope.metallic_area(), "value", None) == 225


def test_a_given_force_wins_over_the_table() -> None:
    force = _rope(minimum_breaking_force_kn=Fraction(300)).breaking_force()
    assert force is not None
    assert (force.value, force.origin) == (Fraction(300), "given numbers")


def test_the_grade_of_a_certificate_serves_the_table() -> None:
    rope = _rope(
        grade_n_per_mm2=None, certificate=Certificate(number="1", grade_n_per_mm2=Fraction(1770))
    )
    assert getattr(rope.breaking_force(), "origin", None) == "table"


@pytest.mark.parametrize(
    "rope",
    [
        _rope(grade_n_per_mm2=None),
        _rope(core=None),
        _rope(core="plastic-coated steel"),
        _rope(core="parallel-closed"),
        _rope("8xK26WS"),
        _rope("18x19S"),
    ],
)
def test_no_force_rather_than_a_guessed_one(rope: Rope) -> None:
    assert rope.breaking_force() is None


def test_rotation_resistant_rope_with_one_listed_core() -> None:
    # From memory: K = 0.360 up to grade 1960; 0.360 * 400 * 1960 / 1000 = 282.24 kN by hand.
    rope = _rope(
        "35(W)x7",
        core=None,
        nominal_diameter_mm=Fraction(20),
        grade_n_per_mm2=Fraction(1960),
    )
    force = rope.breaking_force()
    assert force is not None
    assert (force.value, force.provenance) == (Fraction("282.24"), "memory")
    assert rope.metallic_area() is None


def test_longest_plausible_lay() -> None:
    # From memory: one lay is about 6 to 7.25 d; 7.25 * 20 = 145 mm by hand.
    lay = longest_plausible_lay_mm(_rope(nominal_diameter_mm=Fraction(20)))
    assert (lay.value, lay.unit, lay.provenance) == (Fraction(145), "mm", "memory")


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"rope_id": " "}, "rope_id"),
        ({"nominal_diameter_mm": Fraction(0)}, "nominal_diameter_mm"),
        ({"nominal_diameter_mm": Fraction(-20)}, "nominal_diameter_mm"),
        ({"length_m": 0.0}, "length_m"),
        ({"length_m": -5.0}, "length_m"),
        ({"length_m": math.nan}, "length_m"),
        ({"length_m": math.inf}, "length_m"),
        ({"grade_n_per_mm2": Fraction(0)}, "grade_n_per_mm2"),
        ({"minimum_breaking_force_kn": Fraction(-1)}, "minimum_breaking_force_kn"),
        ({"lay_length_mm": Fraction(0)}, "lay_length_mm"),
        ({"lay_length_mm": Fraction(65)}, "lay_length_mm"),
        ({"lay_length_mm": Fraction(331)}, "lay_length_mm"),
        ({"lay_type": "Lang"}, "lay_type"),
        ({"lay_hand": "up"}, "lay_hand"),
        ({"given_rcn": "9"}, "given_rcn"),
        ({"given_rcn": "23-1"}, "given_rcn"),
    ],
)
def test_what_no_rope_can_be(changes: dict[str, Any], field: str) -> None:
    with pytest.raises(InputError) as caught:
        _rope(**changes)
    assert caught.value.field == field


@pytest.mark.parametrize(
    "changes",
    [
        {"lay_length_mm": Fraction(66)},
        {"lay_length_mm": Fraction(330)},
        {"given_rcn": "09"},
        {"lay_type": "lang", "lay_hand": "left", "plastic": True, "finish": "galvanised"},
    ],
)
def test_what_a_rope_can_be(changes: dict[str, Any]) -> None:
    assert _rope(**changes)


def test_a_certificate_without_zero_sizes() -> None:
    with pytest.raises(InputError) as caught:
        Certificate(number="1", mass_kg_per_m=Fraction(0))
    assert caught.value.field == "mass_kg_per_m"
