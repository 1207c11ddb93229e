"""How far the diameter of new rope may lie from nominal, and how far its readings may differ.

The figures and the tolerance are put side by side here; whether a rope keeps it is for a rule.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from ropewright.errors import InputError, UnknownNameError
from ropewright.formulas import deviation_from_nominal_percent, spread_of_readings_percent
from ropewright.rope.catalogue import ToleranceRow, tolerance_table
from ropewright.rope.table import Provenance


@dataclass(frozen=True, slots=True, kw_only=True)
class DiameterTolerance:
    """Tolerance of a new, unloaded rope of one nominal diameter.

    ``largest_spread_percent`` is the largest difference between readings as a share of nominal;
    none where the standard prints none.
    """

    standard: str
    nominal_diameter_mm: Fraction
    low_percent: Fraction
    high_percent: Fraction
    smallest_mm: Fraction
    largest_mm: Fraction
    largest_spread_percent: Fraction | None
    provenance: Provenance


@dataclass(frozen=True, slots=True, kw_only=True)
class NewRopeReadings:
    """What readings on a new rope say, beside its tolerance: mean, deviation and spread."""

    mean_mm: Fraction
    deviation_percent: Fraction
    spread_percent: Fraction
    tolerance: DiameterTolerance


def tolerance_standards() -> tuple[str, ...]:
    """Names of the standards whose tolerances are listed."""
    return tuple(dict.fromkeys(row.standard for row in tolerance_table()))


def diameter_tolerance(
    nominal_diameter_mm: Fraction, *, standard: str, fibre_centre_strands: bool = False
) -> DiameterTolerance:
    """Return the tolerance for a nominal diameter.

    Parameters
    ----------
    nominal_diameter_mm
        Diameter that designates the rope [mm].
    standard
        One of `tolerance_standards`, such as ``EN 12385-4``; there is no default.
    fibre_centre_strands
        Whether the strands, not only the rope, have a fibre in their middle.

    Raises
    ------
    UnknownNameError
        If the standard is not listed.
    InputError
        If the standard has no tolerance for so thin a rope.

    Source: EN 12385-4 and others, as restated on trade pages.
    Provenance: second-hand

    Examples
    --------
    >>> found = diameter_tolerance(Fraction(20), standard="EN 12385-4")
    >>> found.smallest_mm, found.largest_mm, found.largest_spread_percent
    (Fraction(20, 1), Fraction(21, 1), Fraction(4, 1))
    """
    standards = tolerance_standards()
    if standard not in standards:
        raise UnknownNameError(
            what="a standard with diameter tolerances",
            given=standard,
            known=standards,
            field="standard",
        )
    row = _row(nominal_diameter_mm, standard)
    share = nominal_diameter_mm / 100
    return DiameterTolerance(
        standard=standard,
        nominal_diameter_mm=nominal_diameter_mm,
        low_percent=row.low_percent,
        high_percent=row.high_percent,
        smallest_mm=nominal_diameter_mm + row.low_percent * share,
        largest_mm=nominal_diameter_mm + row.high_percent * share,
        largest_spread_percent=(
            row.spread_fibre_percent if fibre_centre_strands else row.spread_wire_percent
        ),
        provenance=row.provenance,
    )


def _row(nominal_diameter_mm: Fraction, standard: str) -> ToleranceRow:
    if nominal_diameter_mm > 0:
        for row in tolerance_table():
            if row.standard == standard and row.covers(nominal_diameter_mm):
                return row
    raise InputError(
        field="nominal_diameter_mm",
        expected=f"a diameter that {standard} has a tolerance for",
        given=f"{float(nominal_diameter_mm):g} mm",
    )


def read_new_rope(
    readings_mm: Sequence[Fraction],
    *,
    nominal_diameter_mm: Fraction,
    standard: str,
    fibre_centre_strands: bool = False,
) -> NewRopeReadings:
    """Put the readings on a new rope beside its tolerance.

    Parameters
    ----------
    readings_mm
        Readings over the crowns: two at right angles at each of two places a metre or more
        apart, in any order [mm].
    nominal_diameter_mm
        Diameter that designates the rope [mm].
    standard, fibre_centre_strands
        As for `diameter_tolerance`.

    Raises
    ------
    InputError
        If there are fewer than four readings, one is not above zero, or the standard has no
        tolerance for this diameter.

    Source: EN 12385-1, measurement of the rope diameter, as restated on a trade page.
    Provenance: second-hand
    """
    if len(readings_mm) < 4:
        raise InputError(
            field="readings_mm",
            expected="four readings or more, two at right angles at each of two places",
            given=len(readings_mm),
        )
    tolerance = diameter_tolerance(
        nominal_diameter_mm, standard=standard, fibre_centre_strands=fibre_centre_strands
    )
    return NewRopeReadings(
        mean_mm=sum(readings_mm, Fraction(0)) / len(readings_mm),
        deviation_percent=deviation_from_nominal_percent(
            readings_mm=readings_mm, nominal_diameter_mm=nominal_diameter_mm
        ),
        spread_percent=spread_of_readings_percent(
            readings_mm=readings_mm, nominal_diameter_mm=nominal_diameter_mm
        ),
        tolerance=tolerance,
    )
