"""Factors of EN 12385-4 in their equations."""

import math
from fractions import Fraction
from typing import Any

import pytest

from ropewright.errors import InputError
from ropewright.formulas import (
    fill_factor,
    length_mass_kg_per_m,
    metallic_area_mm2,
    minimum_breaking_force_kn,
)

# Derived: 22 mm 6x36 with steel core, grade 1770; tolerance half of the last printed digit.
FORCE_KN, MASS_KG_PER_M, AREA_MM2 = 305.0, 1.98, 222.6


def test_check_value_of_a_22_mm_rope() -> None:
    force_kn = minimum_breaking_force_kn(
        nominal_diameter_mm=Fraction(22),
        breaking_force_factor=Fraction("0.356"),
        rope_grade_n_per_mm2=Fraction(1770),
    )
    mass = length_mass_kg_per_m(nominal_diameter_mm=Fraction(22), mass_factor=Fraction("0.409"))
    area = metallic_area_mm2(nominal_diameter_mm=Fraction(22), area_factor=Fraction("0.460"))
    assert float(force_kn) == pytest.approx(FORCE_KN, abs=0.05)
    assert float(mass) == pytest.approx(MASS_KG_PER_M, abs=0.005)
    assert float(area) == pytest.approx(AREA_MM2, abs=0.05)


def test_exact_by_hand() -> None:
    # By hand: 0.356 * 484 * 1770 / 1000 = 304.97808; 0.409 * 484 / 100 = 1.97956; 0.46 * 484.
    assert minimum_breaking_force_kn(
        nominal_diameter_mm=Fraction(22),
        breaking_force_factor=Fraction("0.356"),
        rope_grade_n_per_mm2=Fraction(1770),
    ) == Fraction("304.97808")
    assert length_mass_kg_per_m(
        nominal_diameter_mm=Fraction(22), mass_factor=Fraction("0.409")
    ) == Fraction("1.97956")
    assert metallic_area_mm2(
        nominal_diameter_mm=Fraction(22), area_factor=Fraction("0.460")
    ) == Fraction("222.64")


def test_fill_factor_of_a_solid_bar_is_one() -> None:
    # By hand: C = pi/4 is a full circle.
    assert fill_factor(area_factor=Fraction(math.pi / 4)) == pytest.approx(1, abs=1e-15)


GOOD: dict[str, Any] = {
    "nominal_diameter_mm": Fraction(22),
    "breaking_force_factor": Fraction("0.356"),
    "rope_grade_n_per_mm2": Fraction(1770),
    "area_factor": Fraction("0.46"),
    "mass_factor": Fraction("0.409"),
}


@pytest.mark.parametrize("bad", [Fraction(0), Fraction(-1)])
@pytest.mark.parametrize(
    ("formula", "name"),
    [
        (minimum_breaking_force_kn, "nominal_diameter_mm"),
        (minimum_breaking_force_kn, "breaking_force_factor"),
        (minimum_breaking_force_kn, "rope_grade_n_per_mm2"),
        (metallic_area_mm2, "nominal_diameter_mm"),
        (metallic_area_mm2, "area_factor"),
        (length_mass_kg_per_m, "nominal_diameter_mm"),
        (length_mass_kg_per_m, "mass_factor"),
        (fill_factor, "area_factor"),
    ],
)
def test_sizes_are_above_zero(formula: Any, name: str, bad: Fraction) -> None:
    wanted = {key: GOOD[key] for key in formula.__annotations__ if key in GOOD}
    with pytest.raises(InputError, match="above zero") as caught:
        formula(**wanted | {name: bad})
    assert caught.value.field == name
