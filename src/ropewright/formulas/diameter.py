"""What caliper readings say about a rope's diameter."""

from collections.abc import Sequence
from fractions import Fraction

from ropewright.errors import InputError
from ropewright.formulas._checks import _positive


def mean_diameter_mm(*, first_mm: Fraction, second_mm: Fraction) -> Fraction:
    """Measured diameter: the mean of two readings at right angles.

    Parameters
    ----------
    first_mm, second_mm
        Readings over the crowns at one place, at right angles to each other [mm].

    Returns
    -------
    Fraction
        d_m, the measured diameter [mm].

    Raises
    ------
    InputError
        If a reading is not above zero.

    Source: ISO 4309:2017, clause 3, definition of the measured (actual) diameter.
    Provenance: text

    Examples
    --------
    >>> from fractions import Fraction as F
    >>> float(mean_diameter_mm(first_mm=F("20.4"), second_mm=F("20.1")))
    20.25
    """
    _positive(first_mm=first_mm, second_mm=second_mm)
    return (first_mm + second_mm) / 2


def uniform_decrease_percent(
    *,
    reference_diameter_mm: Fraction,
    measured_diameter_mm: Fraction,
    nominal_diameter_mm: Fraction,
) -> Fraction:
    """Uniform decrease in diameter, (d_ref - d_m) / d × 100; below zero if the rope has grown.

    Parameters
    ----------
    reference_diameter_mm
        d_ref, measured on a length that does not bend, straight after running in [mm].
    measured_diameter_mm
        d_m, the measured diameter at the place [mm].
    nominal_diameter_mm
        d, the diameter that designates the rope [mm]: the decrease is a share of this one.

    Returns
    -------
    Fraction
        The decrease [%].

    Raises
    ------
    InputError
        If a diameter is not above zero.

    Source: ISO 4309:2017, clause 6.3.1.
    Provenance: memory (equation and clause number)

    Examples
    --------
    The example in that clause, a 40 mm rope:

    >>> from fractions import Fraction as F
    >>> decrease = uniform_decrease_percent(
    ...     reference_diameter_mm=F("41.2"),
    ...     measured_diameter_mm=F("39.5"),
    ...     nominal_diameter_mm=F(40),
    ... )
    >>> decrease == F("4.25")
    True
    """
    _positive(
        reference_diameter_mm=reference_diameter_mm,
        measured_diameter_mm=measured_diameter_mm,
        nominal_diameter_mm=nominal_diameter_mm,
    )
    return (reference_diameter_mm - measured_diameter_mm) / nominal_diameter_mm * 100


def diameter_at_decrease_mm(
    *,
    reference_diameter_mm: Fraction,
    nominal_diameter_mm: Fraction,
    decrease_percent: Fraction,
) -> Fraction:
    """Diameter at which a decrease is reached, d_ref - p d / 100.

    Parameters
    ----------
    reference_diameter_mm
        d_ref, measured on a length that does not bend, straight after running in [mm].
    nominal_diameter_mm
        d, the diameter that designates the rope [mm].
    decrease_percent
        p, the decrease as a share of the nominal diameter [%].

    Returns
    -------
    Fraction
        The measured diameter that means this decrease [mm].

    Raises
    ------
    InputError
        If a diameter is not above zero.

    Source: ISO 4309:2017, clause 6.3.1, its equation solved for the measured diameter.
    Provenance: derived

    Examples
    --------
    >>> from fractions import Fraction as F
    >>> size = diameter_at_decrease_mm(
    ...     reference_diameter_mm=F("41.2"),
    ...     nominal_diameter_mm=F(40),
    ...     decrease_percent=F("7.5"),
    ... )
    >>> float(size)
    38.2
    """
    _positive(reference_diameter_mm=reference_diameter_mm, nominal_diameter_mm=nominal_diameter_mm)
    return reference_diameter_mm - decrease_percent * nominal_diameter_mm / 100


def ovality_percent(
    *, first_mm: Fraction, second_mm: Fraction, nominal_diameter_mm: Fraction
) -> Fraction:
    """Ovality of one place: difference of two readings at right angles, as a share of d.

    Parameters
    ----------
    first_mm, second_mm
        Readings over the crowns at one place, at right angles to each other [mm].
    nominal_diameter_mm
        d, the diameter that designates the rope [mm].

    Returns
    -------
    Fraction
        The difference without its sign [%].

    Raises
    ------
    InputError
        If a reading or the diameter is not above zero.

    Source: EN 12385-1, difference between diameter readings, as restated on a trade page.
    Provenance: second-hand

    Examples
    --------
    >>> from fractions import Fraction as F
    >>> float(ovality_percent(first_mm=F("20.4"), second_mm=F(20), nominal_diameter_mm=F(20)))
    2.0
    """
    return spread_of_readings_percent(
        readings_mm=(first_mm, second_mm), nominal_diameter_mm=nominal_diameter_mm
    )


def spread_of_readings_percent(
    *, readings_mm: Sequence[Fraction], nominal_diameter_mm: Fraction
) -> Fraction:
    """Largest difference between diameter readings of a rope, as a share of d.

    Parameters
    ----------
    readings_mm
        Two or more readings, in any order [mm].
    nominal_diameter_mm
        d, the diameter that designates the rope [mm].

    Returns
    -------
    Fraction
        Largest minus smallest reading [%].

    Raises
    ------
    InputError
        If there are fewer than two readings, or one is not above zero.

    Source: EN 12385-1, difference between diameter readings, as restated on a trade page.
    Provenance: second-hand

    Examples
    --------
    >>> from fractions import Fraction as F
    >>> readings = [F("20.4"), F("20.2"), F("20.6"), F("20.3")]
    >>> float(spread_of_readings_percent(readings_mm=readings, nominal_diameter_mm=F(20)))
    2.0
    """
    if len(readings_mm) < 2:
        raise InputError(
            field="readings_mm", expected="two or more readings", given=len(readings_mm)
        )
    _positive(nominal_diameter_mm=nominal_diameter_mm)
    for number, reading in enumerate(readings_mm):
        _positive(**{f"readings_mm[{number}]": reading})
    return (max(readings_mm) - min(readings_mm)) / nominal_diameter_mm * 100


def deviation_from_nominal_percent(
    *, readings_mm: Sequence[Fraction], nominal_diameter_mm: Fraction
) -> Fraction:
    """How far the mean of the readings on a new rope lies above its nominal diameter.

    Parameters
    ----------
    readings_mm
        Readings over the crowns; two at right angles at each of two places or more [mm].
    nominal_diameter_mm
        d, the diameter that designates the rope [mm].

    Returns
    -------
    Fraction
        Mean minus nominal diameter, below zero for a thin rope [%].

    Raises
    ------
    InputError
        If there is no reading, or one is not above zero.

    Source: EN 12385-1, measurement of the rope diameter, as restated on a trade page.
    Provenance: second-hand

    Examples
    --------
    >>> from fractions import Fraction as F
    >>> readings = [F("20.4"), F("20.2"), F("20.6"), F("20.4")]
    >>> float(deviation_from_nominal_percent(readings_mm=readings, nominal_diameter_mm=F(20)))
    2.0
    """
    if not readings_mm:
        raise InputError(field="readings_mm", expected="at least one reading", given=None)
    _positive(nominal_diameter_mm=nominal_diameter_mm)
    for number, reading in enumerate(readings_mm):
        _positive(**{f"readings_mm[{number}]": reading})
    mean = sum(readings_mm, Fraction(0)) / len(readings_mm)
    return (mean - nominal_diameter_mm) / nominal_diameter_mm * 100
