"""Corrections of the number of bends a rope endures, each with its source and its range."""

from typing import Final, Literal, TypeAlias

import numpy as np

from ropewright.errors import InputError
from ropewright.wear.catalogue import BOOK, GrooveShape, core_rows, groove_rows
from ropewright.wear.factor import (
    LEAST_RATIO,
    LEAST_STRESS,
    MOST_RATIO,
    MOST_STRESS,
    TESTS,
    Factor,
    within,
)

Lubrication: TypeAlias = Literal["well", "none"]
Twisted: TypeAlias = Literal["fibre core", "steel core", "spiral round strand"]

_TABLE_314A: Final = f"{BOOK}, table 3.14a, p. 296"
_TABLE_315: Final = f"{BOOK}, table 3.15, p. 297"


def size_factor(rope_mm: float) -> Factor:
    """Thicker ropes endure fewer bends: f_d = 0.52 / (-0.48 + (d/16)^0.3).

    Parameters
    ----------
    rope_mm
        Nominal rope diameter d [mm].

    Raises
    ------
    InputError
        Outside its range; names it.

    Source: Feyrer, Wire Ropes, 2nd edition 2015, table 3.14a, p. 296; a minus sign is rebuilt so
    that the factor is 1 at 16 mm.
    Provenance: reconstructed

    Examples
    --------
    >>> round(size_factor(20.0).value, 3)
    0.883
    """
    within("rope_mm", rope_mm, 3, 60, unit="mm", why=TESTS)
    return Factor(
        name="rope diameter",
        value=0.52 / (-0.48 + (rope_mm / 16) ** 0.3),
        provenance="reconstructed",
        source=_TABLE_314A,
        note="a sign is rebuilt",
    )


def length_factor(length_over_d: float) -> Factor:
    """Where more rope is bent, the weakest place is weaker: f_L, 1 at 60 d.

    Parameters
    ----------
    length_over_d
        Length of rope that sees the full number of bends, in rope diameters [-].

    Raises
    ------
    InputError
        Outside its range; names it.

    Source: Feyrer, Wire Ropes, 2nd edition 2015, table 3.14a, p. 296; signs rebuilt so that the
    factor is 1 at 60 d and falls with the length.
    Provenance: reconstructed

    Examples
    --------
    >>> round(length_factor(100.0).value, 3)
    0.954
    """
    within(
        "length_over_d", length_over_d, 5, 1e6, unit="rope diameters",
        why="what the factor is useful for",
    )  # fmt: skip
    return Factor(
        name="bent length",
        value=1.49 / (2.49 - ((length_over_d - 2.5) / 57.5) ** -0.14),
        provenance="reconstructed",
        source=_TABLE_314A,
        note="signs are rebuilt",
    )


def core_factor(core: str, strands: int) -> Factor:
    """What core and number of outer strands do; 1 for eight strands on fibre.

    Parameters
    ----------
    core
        fibre, independent steel, steel laid in one operation, steel covered with polymer, or
        steel wrapped in fibre.
    strands
        Outer strands, 6 or 8.

    Raises
    ------
    InputError
        Outside its range; names it.

    Source: Feyrer, Wire Ropes, 2nd edition 2015, table 3.14a, p. 296 (Wolf 1987).
    Provenance: text
    """
    for row in core_rows():
        if row.of == core and row.measure == strands:
            return Factor(
                name="core and strands",
                value=row.factor,
                provenance=row.provenance,
                source=_TABLE_314A,
            )
    raise InputError(
        field="core",
        expected="6 or 8 outer strands on one of: "
        + ", ".join(dict.fromkeys(row.of for row in core_rows())),
        given=f"{strands} strands, {core}",
    )


def lubrication_factor(state: Lubrication) -> Factor:
    """A rope without lubricant endures a fifth of the bends.

    Source: Feyrer, Wire Ropes, 2nd edition 2015, table 3.15, p. 297 (Müller 1966).
    Provenance: text
    """
    if state not in ("well", "none"):
        raise InputError(field="lubrication", expected="well or none", given=state)
    return Factor(
        name="lubrication",
        value=1.0 if state == "well" else 0.2,
        provenance="text",
        source=_TABLE_315,
    )


def fleet_factor(fleet_deg: float, ratio: float) -> Factor:
    """Side deflection costs bends: 1 - (0.00863 + 0.00243 D/d) θ - 0.00103 θ².

    Parameters
    ----------
    fleet_deg
        Fleet angle θ [deg].
    ratio
        Sheave over rope diameter D/d [-].

    Raises
    ------
    InputError
        Outside its range; names it.

    Source: Feyrer, Wire Ropes, 2nd edition 2015, table 3.15, p. 297 (Schönherr 2005, Neumann
    1987); signs rebuilt: the factor can only fall with the angle.
    Provenance: reconstructed

    Examples
    --------
    >>> round(fleet_factor(4.0, 18.0).value, 3)
    0.774
    """
    within("fleet_deg", fleet_deg, 0, 4, unit="deg", why="the angles for which it was worked out")
    within("ratio", ratio, LEAST_RATIO, MOST_RATIO, unit="", why=TESTS)
    return Factor(
        name="fleet angle",
        value=1 - (0.00863 + 0.00243 * ratio) * fleet_deg - 0.00103 * fleet_deg**2,
        provenance="reconstructed",
        source=_TABLE_315,
        note="signs are rebuilt",
    )


def groove_factor(shape: GrooveShape, measure: float) -> Factor:
    """What the shape of a steel groove does, between the printed figures by a straight line.

    Parameters
    ----------
    shape
        round, undercut or V.
    measure
        Groove radius over rope diameter for a round groove, else the groove's angle in
        degrees [-].

    Raises
    ------
    InputError
        Outside its range; names it.

    Source: Feyrer, Wire Ropes, 2nd edition 2015, table 3.15, p. 297 (Holeschak 1987).
    Provenance: text

    Examples
    --------
    >>> groove_factor("round", 0.60).value
    0.66
    """
    rows = [row for row in groove_rows() if row.of == shape]
    if not rows:
        raise InputError(field="groove", expected="round, undercut or V", given=shape)
    at = [row.measure for row in rows]
    unit = "groove radius over rope diameter" if shape == "round" else "deg"
    within(f"{shape} groove", measure, at[0], at[-1], unit=unit, why="the printed figures")
    value = float(np.interp(measure, at, [row.factor for row in rows]))
    printed = measure in at
    return Factor(
        name=f"{shape} groove",
        value=value,
        provenance="text" if printed else "derived",
        source=_TABLE_315,
        note="" if printed else "between printed figures",
    )


def plastic_groove_factor(stress_n_per_mm2: float, ratio: float) -> Factor:
    """A round plastic groove lengthens life, and hides breaks: they start inside.

    Parameters
    ----------
    stress_n_per_mm2
        Rope force over the square of the diameter S/d² [N/mm²].
    ratio
        Sheave over rope diameter D/d [-].

    Raises
    ------
    InputError
        Outside its range; names it.

    Source: Feyrer, Wire Ropes, 2nd edition 2015, table 3.15, p. 297; fraction, square and a sign
    rebuilt from scattered text.
    Provenance: reconstructed

    Examples
    --------
    >>> round(plastic_groove_factor(100.0, 25.0).value, 3)
    1.822
    """
    part = stress_n_per_mm2 / ratio
    within("S/d² over D/d", part, 1, 7.8, unit="N/mm²", why="a rising factor")
    return Factor(
        name="plastic groove",
        value=0.75 + 0.36 * part - 0.023 * part**2,
        provenance="reconstructed",
        source=_TABLE_315,
        note="never together with counts of visible breaks: on plastic they start inside",
    )


def multi_layer_factor(stress_n_per_mm2: float) -> Factor:
    """Spooling on several layers leaves a small part of the life: -0.005 + 0.00085 S/d².

    The sign of 0.005 could not be read; the shorter life is taken.

    Parameters
    ----------
    stress_n_per_mm2
        Rope force over the square of the diameter S/d² [N/mm²].

    Raises
    ------
    InputError
        Outside its range; names it.

    Source: Feyrer, Wire Ropes, 2nd edition 2015, table 3.15, p. 297 (Briem 2002; Weiskopf 2005,
    2007); one sign could not be read.
    Provenance: reconstructed

    Examples
    --------
    >>> round(multi_layer_factor(100.0).value, 3)
    0.08
    """
    within("S/d²", stress_n_per_mm2, LEAST_STRESS, MOST_STRESS, unit="N/mm²", why=TESTS)
    return Factor(
        name="several layers on the drum",
        value=-0.005 + 0.00085 * stress_n_per_mm2,
        provenance="reconstructed",
        source=_TABLE_315,
        note="the sign of 0.005 could not be read; the shorter life is taken",
    )


_TWIST: Final[dict[Twisted, tuple[float, float]]] = {
    "fibre core": (5.6e-8, 1080),
    "steel core": (2.5e-7, 1080),
    "spiral round strand": (1.7e-5, 180),
}


def twist_factor(rope: Twisted, twist_deg: float) -> Factor:
    """A rope twisted in service endures fewer bends; the square term alone.

    Parameters
    ----------
    rope
        fibre core, steel core or spiral round strand.
    twist_deg
        Twist on 100 rope diameters [deg].

    Raises
    ------
    InputError
        Outside its range; names it.

    Source: Feyrer, Wire Ropes, 2nd edition 2015, table 3.15, p. 297 (Weber 2013); the linear
    term's sign is lost and the term left out.
    Provenance: reconstructed

    Examples
    --------
    >>> round(twist_factor("steel core", 1080.0).value, 2)
    0.51
    """
    if rope not in _TWIST:
        raise InputError(field="rope", expected="one of " + ", ".join(_TWIST), given=rope)
    square, most = _TWIST[rope]
    within("twist_deg", abs(twist_deg), 0, most, unit="deg on 100 d", why="the tests")
    return Factor(
        name="twist",
        value=float(10 ** (-square * twist_deg**2)),
        provenance="reconstructed",
        source=_TABLE_315,
        note="the linear term is left out: its sign is lost",
    )
