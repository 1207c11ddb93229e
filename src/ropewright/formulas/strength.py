"""What a rope of known make weighs, holds and contains: the factors of EN 12385-4."""

import math
from fractions import Fraction

from ropewright.formulas._checks import _positive


def minimum_breaking_force_kn(
    *,
    nominal_diameter_mm: Fraction,
    breaking_force_factor: Fraction,
    rope_grade_n_per_mm2: Fraction,
) -> Fraction:
    """Minimum breaking force F_min = K d² R_r / 1000.

    Parameters
    ----------
    nominal_diameter_mm
        d, the diameter that designates the rope [mm].
    breaking_force_factor
        K, the minimum breaking force factor of the class [-].
    rope_grade_n_per_mm2
        R_r, the rope grade [N/mm²].

    Returns
    -------
    Fraction
        F_min [kN].

    Raises
    ------
    InputError
        If a value is not above zero.

    Source: EN 12385-4, minimum breaking force, as restated in Feyrer, Wire Ropes, table 1.9.
    Provenance: second-hand

    Examples
    --------
    22 mm 6x36 with steel core, grade 1770:

    >>> from fractions import Fraction as F
    >>> force = minimum_breaking_force_kn(
    ...     nominal_diameter_mm=F(22),
    ...     breaking_force_factor=F("0.356"),
    ...     rope_grade_n_per_mm2=F(1770),
    ... )
    >>> round(float(force), 1)
    305.0
    """
    _positive(
        nominal_diameter_mm=nominal_diameter_mm,
        breaking_force_factor=breaking_force_factor,
        rope_grade_n_per_mm2=rope_grade_n_per_mm2,
    )
    return breaking_force_factor * nominal_diameter_mm**2 * rope_grade_n_per_mm2 / 1000


def metallic_area_mm2(*, nominal_diameter_mm: Fraction, area_factor: Fraction) -> Fraction:
    """Nominal metallic cross-section A = C d².

    Parameters
    ----------
    nominal_diameter_mm
        d, the diameter that designates the rope [mm].
    area_factor
        C, the metallic area factor of the class [-].

    Returns
    -------
    Fraction
        A [mm²].

    Raises
    ------
    InputError
        If a value is not above zero.

    Source: EN 12385-4, nominal metallic area, as restated in Feyrer, Wire Ropes, table 1.9.
    Provenance: second-hand

    Examples
    --------
    >>> from fractions import Fraction as F
    >>> float(metallic_area_mm2(nominal_diameter_mm=F(22), area_factor=F("0.460")))
    222.64
    """
    _positive(nominal_diameter_mm=nominal_diameter_mm, area_factor=area_factor)
    return area_factor * nominal_diameter_mm**2


def length_mass_kg_per_m(*, nominal_diameter_mm: Fraction, mass_factor: Fraction) -> Fraction:
    """Nominal mass of a metre of rope M = W d² / 100.

    Parameters
    ----------
    nominal_diameter_mm
        d, the diameter that designates the rope [mm].
    mass_factor
        W, the length mass factor of the class, in kilograms per 100 m and mm² [-].

    Returns
    -------
    Fraction
        M [kg/m].

    Raises
    ------
    InputError
        If a value is not above zero.

    Source: EN 12385-4, nominal length mass, as restated in Feyrer, Wire Ropes, table 1.9.
    Provenance: second-hand

    Examples
    --------
    >>> from fractions import Fraction as F
    >>> float(length_mass_kg_per_m(nominal_diameter_mm=F(22), mass_factor=F("0.409")))
    1.97956
    """
    _positive(nominal_diameter_mm=nominal_diameter_mm, mass_factor=mass_factor)
    return mass_factor * nominal_diameter_mm**2 / 100


def fill_factor(*, area_factor: Fraction) -> float:
    """Share of the circle round the rope that is metal, f = 4 C / π.

    Parameters
    ----------
    area_factor
        C, the metallic area factor of the class [-].

    Returns
    -------
    float
        f [-].

    Raises
    ------
    InputError
        If the factor is not above zero.

    Source: EN 12385-4, metallic area factor (Feyrer, Wire Ropes, table 1.9), over a full circle.
    Provenance: derived

    Examples
    --------
    >>> from fractions import Fraction as F
    >>> round(fill_factor(area_factor=F("0.460")), 3)
    0.586
    """
    _positive(area_factor=area_factor)
    return 4 * float(area_factor) / math.pi
