"""One length of wire rope: its papers, its make, and the values that follow from them."""

import math
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Final, Literal, TypeAlias, get_args

from ropewright.errors import InputError
from ropewright.formulas import (
    length_mass_kg_per_m,
    metallic_area_mm2,
    minimum_breaking_force_kn,
)
from ropewright.rope.catalogue import FACTORS_SOURCE, FactorsRow, find_factors
from ropewright.rope.construction import Construction, is_rotation_resistant_category
from ropewright.rope.table import Provenance

LayType: TypeAlias = Literal["ordinary", "lang"]
LAY_TYPES: Final[tuple[LayType, ...]] = get_args(LayType)
LayHand: TypeAlias = Literal["right", "left"]
LAY_HANDS: Final[tuple[LayHand, ...]] = get_args(LayHand)

LONGEST_PLAUSIBLE_LAY_DIAMETERS: Final = Fraction("7.25")
_SHORTEST_TYPED_LAY_DIAMETERS: Final = 3
_LONGEST_TYPED_LAY_DIAMETERS: Final = 15
_FACTOR_CORES: Final = {"fibre": "fibre", "steel": "steel"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Derived:
    """A value that is not measured on the rope, with where it comes from.

    ``value`` [-] is in the unit that ``unit`` names; ``origin`` is ``certificate``,
    ``given numbers`` or ``table``; ``provenance`` is there if it was published.
    """

    value: Fraction
    unit: str
    origin: Literal["certificate", "given numbers", "table"]
    source: str
    provenance: Provenance | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Certificate:
    """What the rope's certificate says; the make it states goes into the construction."""

    number: str
    issued_on: date | None = None
    minimum_breaking_force_kn: Fraction | None = None
    grade_n_per_mm2: Fraction | None = None
    mass_kg_per_m: Fraction | None = None
    metallic_area_mm2: Fraction | None = None

    def __post_init__(self) -> None:
        """Refuse a size of zero or less."""
        for field in (
            "minimum_breaking_force_kn",
            "grade_n_per_mm2",
            "mass_kg_per_m",
            "metallic_area_mm2",
        ):
            _above_zero(field, getattr(self, field))


@dataclass(frozen=True, slots=True, kw_only=True)
class Rope:
    """One length of wire rope as it was first installed.

    ``nominal_diameter_mm`` designates the rope; ``length_m`` is its length as first installed;
    ``lay_length_mm`` is a lay length measured on this rope; ``plastic`` says whether plastic
    covers or fills the core; ``given_rcn`` is a rope category number read on certificate or
    data sheet, which wins over the one worked out from the construction.
    """

    rope_id: str
    nominal_diameter_mm: Fraction
    construction: Construction
    length_m: float
    lay_type: LayType | None = None
    lay_hand: LayHand | None = None
    lay_length_mm: Fraction | None = None
    grade_n_per_mm2: Fraction | None = None
    minimum_breaking_force_kn: Fraction | None = None
    finish: str = ""
    plastic: bool | None = None
    certificate: Certificate | None = None
    given_rcn: str | None = None

    def __post_init__(self) -> None:
        """Refuse what no rope can be."""
        if not self.rope_id.strip():
            raise InputError(field="rope_id", expected="a name for the rope", given=self.rope_id)
        if not (math.isfinite(self.length_m) and self.length_m > 0):
            raise InputError(field="length_m", expected="a length above zero", given=self.length_m)
        for field in (
            "nominal_diameter_mm",
            "lay_length_mm",
            "grade_n_per_mm2",
            "minimum_breaking_force_kn",
        ):
            _above_zero(field, getattr(self, field))
        self._check_words()
        self._check_lay_length()

    def _check_words(self) -> None:
        for field, allowed in (("lay_type", LAY_TYPES), ("lay_hand", LAY_HANDS)):
            value = getattr(self, field)
            if value is not None and value not in allowed:
                raise InputError(field=field, expected="one of " + ", ".join(allowed), given=value)
        if self.given_rcn is not None:
            self._check_category_number(self.given_rcn)

    def _check_category_number(self, given_rcn: str) -> None:
        by_number = is_rotation_resistant_category(given_rcn, field="given_rcn")
        known = self.construction.rotation_resistant
        if known is not None and known != by_number:
            kind = "rotation-resistant" if known else "not rotation-resistant"
            raise InputError(
                field="given_rcn",
                expected=f"the category number of a rope that is {kind}",
                given=given_rcn,
                hint="01 to 13 are other ropes, 21 to 31 rotation-resistant ones",
            )

    def _check_lay_length(self) -> None:
        if self.lay_length_mm is None:
            return
        ratio = self.lay_length_mm / self.nominal_diameter_mm
        if not _SHORTEST_TYPED_LAY_DIAMETERS <= ratio <= _LONGEST_TYPED_LAY_DIAMETERS:
            raise InputError(
                field="lay_length_mm",
                expected=f"a lay length of {_SHORTEST_TYPED_LAY_DIAMETERS} to "
                f"{_LONGEST_TYPED_LAY_DIAMETERS} rope diameters",
                given=f"{float(self.lay_length_mm):g} mm, {float(ratio):.2f} diameters",
                hint="the lay length is one full turn of a strand round the rope, "
                "usually 6 to 7.25 diameters",
            )

    @property
    def grade(self) -> Fraction | None:
        """Rope grade [N/mm²], by certificate or else as given."""
        by_certificate = self.certificate.grade_n_per_mm2 if self.certificate else None
        return self.grade_n_per_mm2 if by_certificate is None else by_certificate

    def breaking_force(self) -> Derived | None:
        """Minimum breaking force [kN]: by certificate, as given, or from the table of factors.

        None where no paper states it and the table has no factor for this make, core and grade.
        """
        stated = self._stated(
            self.certificate.minimum_breaking_force_kn if self.certificate else None,
            self.minimum_breaking_force_kn,
            unit="kN",
        )
        factors = self._factors()
        if stated is not None or factors is None or self.grade is None:
            return stated
        value = minimum_breaking_force_kn(
            nominal_diameter_mm=self.nominal_diameter_mm,
            breaking_force_factor=factors.breaking_force_factor,
            rope_grade_n_per_mm2=self.grade,
        )
        return _from_table(value, "kN", factors)

    def length_mass(self) -> Derived | None:
        """Mass of a metre [kg/m]: by certificate or from the table of factors, else none."""
        on_paper = self.certificate.mass_kg_per_m if self.certificate else None
        stated = self._stated(on_paper, None, unit="kg/m")
        factors = self._factors()
        if stated is not None or factors is None or factors.mass_factor is None:
            return stated
        value = length_mass_kg_per_m(
            nominal_diameter_mm=self.nominal_diameter_mm, mass_factor=factors.mass_factor
        )
        return _from_table(value, "kg/m", factors)

    def metallic_area(self) -> Derived | None:
        """Metallic cross-section [mm²]: by certificate or from the table of factors, else none."""
        on_paper = self.certificate.metallic_area_mm2 if self.certificate else None
        stated = self._stated(on_paper, None, unit="mm²")
        factors = self._factors()
        if stated is not None or factors is None or factors.area_factor is None:
            return stated
        value = metallic_area_mm2(
            nominal_diameter_mm=self.nominal_diameter_mm, area_factor=factors.area_factor
        )
        return _from_table(value, "mm²", factors)

    def _stated(
        self, certificate: Fraction | None, given: Fraction | None, *, unit: str
    ) -> Derived | None:
        if certificate is not None and self.certificate is not None:
            number = self.certificate.number.removeprefix("certificate ")  # the word once
            return Derived(
                value=certificate,
                unit=unit,
                origin="certificate",
                source=f"certificate {number}".strip(),
                provenance=None,
            )
        if given is None:
            return None
        return Derived(
            value=given, unit=unit, origin="given numbers", source="as given", provenance=None
        )

    def _factors(self) -> FactorsRow | None:
        construction = self.construction
        if construction.factors_class is None:
            return None
        core = construction.core
        if core is not None and core not in _FACTOR_CORES:
            return None
        return find_factors(construction.factors_class, core, self.grade)


def longest_plausible_lay_mm(rope: Rope) -> Derived:
    """Longest lay length to reckon with while nobody has measured it: 7.25 d [mm].

    A break count over this length is at least the count over the true lay, so a rope whose lay
    is not known is judged on the strict side.

    Source: usual lay lengths of 6 to 7.25 rope diameters; no published table was seen.
    Provenance: memory

    Parameters
    ----------
    rope
        The rope.
    """
    return Derived(
        value=LONGEST_PLAUSIBLE_LAY_DIAMETERS * rope.nominal_diameter_mm,
        unit="mm",
        origin="table",
        source="usual lay lengths of 6 to 7.25 rope diameters",
        provenance="memory",
    )


def _from_table(value: Fraction, unit: str, factors: FactorsRow) -> Derived:
    return Derived(
        value=value,
        unit=unit,
        origin="table",
        source=f"{FACTORS_SOURCE}, class {factors.factors_class}, {factors.core} core",
        provenance=factors.provenance,
    )


def _above_zero(field: str, value: Fraction | None) -> None:
    if value is not None and value <= 0:
        raise InputError(field=field, expected="a value above zero", given=value)
