"""How many bends a running rope endures: the published endurance formula and what follows.

One bend is straight, bent, straight.  The formula speaks of ropes of its tests: lubricated, on
steel sheaves with a round groove of 0.53 rope diameters, without side deflection.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from ropewright.errors import InputError
from ropewright.rope.table import Provenance
from ropewright.wear.catalogue import BOOK, EnduranceRow, Meaning
from ropewright.wear.factor import (
    LEAST_RATIO,
    LEAST_STRESS,
    MOST_RATIO,
    MOST_STRESS,
    TESTS,
    Factor,
    least_sure,
    within,
)
from ropewright.wear.factors import length_factor, size_factor

Lay: TypeAlias = Literal["ordinary", "lang"]

_REVERSE: Final[dict[Lay, tuple[float, float, float]]] = {
    "ordinary": (9.026, 0.618, 0.424),
    "lang": (3.635, 0.671, 0.499),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Endurance:
    """A number of bends with everything it was made of.

    ``bends`` [bends] is the result, ``exponent`` [-] that of the rope force in it.
    """

    bends: float
    exponent: float
    meaning: Meaning
    rope: str
    factors: tuple[Factor, ...]
    provenance: Provenance
    source: str


def endurance(
    row: EnduranceRow,
    meaning: Meaning,
    *,
    force_n: float,
    rope_mm: float,
    sheave_mm: float,
    grade_n_per_mm2: float,
    length_over_d: float = 60.0,
    factors: Sequence[Factor] = (),
) -> Endurance:
    """Bends that a rope endures on one sheave under one force.

    lg N = b0 + (b1 + b3 lg D/d) (lg S/d² - 0.4 lg R0/1770) + b2 lg D/d + lg f_d + lg f_L + ...

    Parameters
    ----------
    row
        Constants of the rope.
    meaning
        Which number: mean, N10, NA or NA10.
    force_n
        Rope force S [N].
    rope_mm
        Nominal rope diameter d [mm].
    sheave_mm
        Sheave diameter D at the groove bottom [mm].
    grade_n_per_mm2
        Nominal wire strength R0 [N/mm²].
    length_over_d
        Length of rope that sees the full number of bends, in rope diameters [-].
    factors
        Further corrections.

    Raises
    ------
    InputError
        If a value lies outside the range of the tests; names the range.

    Source: Feyrer, Wire Ropes, 2nd edition 2015, equation (3.55); its whole form is from memory,
    its parts are confirmed on pp. 296 and 301.
    Provenance: memory
    """
    for name, value in (("force_n", force_n), ("rope_mm", rope_mm), ("sheave_mm", sheave_mm)):
        if not (math.isfinite(value) and value > 0):
            raise InputError(field=name, expected="a number above zero", given=value)
    within("grade_n_per_mm2", grade_n_per_mm2, 1000, 2500, unit="N/mm²", why="rope grades")
    ratio, stress = sheave_mm / rope_mm, force_n / rope_mm**2
    within("D/d", ratio, LEAST_RATIO, MOST_RATIO, unit="", why=TESTS)
    within("S/d²", stress, LEAST_STRESS, MOST_STRESS, unit="N/mm²", why=TESTS)
    every = (size_factor(rope_mm), length_factor(length_over_d), *factors)
    exponent = row.exponent(ratio)
    bends = bends_at(row, meaning, stress, ratio, grade_n_per_mm2)
    return Endurance(
        bends=bends * math.prod(factor.value for factor in every),
        exponent=exponent,
        meaning=meaning,
        rope=row.rope,
        factors=every,
        provenance=least_sure([row.provenance, *(factor.provenance for factor in every)]),
        source=f"{BOOK}, equation (3.55)",
    )


def bends_at(
    row: EnduranceRow,
    meaning: Meaning,
    stress_n_per_mm2: float,
    ratio: float,
    grade_n_per_mm2: float,
) -> float:
    """Bends by the formula alone, without any factor and without a look at its range.

    Parameters
    ----------
    row
        Constants of the rope.
    meaning
        Which number.
    stress_n_per_mm2
        S/d² [N/mm²].
    ratio
        D/d [-].
    grade_n_per_mm2
        R0 [N/mm²].

    Returns
    -------
    float
        The number [bends].
    """
    load = math.log10(stress_n_per_mm2) - 0.4 * math.log10(grade_n_per_mm2 / 1770)
    lg = row.b0[meaning] + row.exponent(ratio) * load + row.b2 * math.log10(ratio)
    return float(10**lg)


def reverse_bends(simple_bends: float, ratio: float, lay: Lay = "ordinary") -> float:
    """Reverse bends that a rope endures where it endures so many simple ones.

    Parameters
    ----------
    simple_bends
        Simple bends endured [bends].
    ratio
        D/d [-].
    lay
        ordinary or lang.

    Returns
    -------
    float
        Never more than the simple ones [bends].

    Source: Feyrer, Wire Ropes, 2nd edition 2015, equation (3.61), N_rev = a0 N_sim^a1 (D/d)^a2.
    Provenance: memory

    Examples
    --------
    >>> round(reverse_bends(1e5, 25.0), -1)
    43470.0
    """
    if lay not in _REVERSE:
        raise InputError(field="lay", expected="ordinary or lang", given=lay)
    if not simple_bends > 0:
        raise InputError(field="simple_bends", expected="a number above zero", given=simple_bends)
    within("D/d", ratio, LEAST_RATIO, MOST_RATIO, unit="", why=TESTS)
    first, power, by_ratio = _REVERSE[lay]
    return float(min(simple_bends, first * simple_bends**power * ratio**by_ratio))


def rope_force_n(
    mass_kg: float,
    falls: float,
    *,
    guidance: float = 1.0,
    efficiency: float = 1.0,
    sharing: float = 1.0,
    acceleration: float = 1.0,
) -> float:
    """Force in one fall: mass times gravity over the falls, times the factors of the service.

    Parameters
    ----------
    mass_kg
        Mass that hangs on the falls [kg].
    falls
        Falls that carry it [-].
    guidance, efficiency, sharing, acceleration
        f_S1 to f_S4: friction of guides, efficiency of the reeving, unequal share of parallel
        ropes, acceleration [-].

    Returns
    -------
    float
        The force [N].

    Source: Feyrer, Wire Ropes, 2nd edition 2015, example 3.11, p. 313; the meaning of the
    factors, by their order, is from memory.
    Provenance: text

    Examples
    --------
    >>> round(rope_force_n(1450, 6, guidance=1.1, efficiency=1.0, sharing=1.25, acceleration=1.06))
    3455
    """
    return mass_kg * GRAVITY / falls * guidance * efficiency * sharing * acceleration


GRAVITY: Final = 9.81


def working_cycles(parts: Sequence[tuple[float, float]]) -> float:
    """Working cycles that a rope endures: 1/Z is the sum of bends per cycle over bends endured.

    Parameters
    ----------
    parts
        Pairs of bends in one working cycle and bends endured of that kind [-].

    Returns
    -------
    float
        Working cycles Z [cycles].

    Source: Palmgren-Miner rule, as in Feyrer, Wire Ropes, 2nd edition 2015, equations (3.70) and
    (3.92), p. 300.
    Provenance: text

    Examples
    --------
    >>> round(working_cycles([(1, 371_900), (1, 5_990_000)]))
    350160
    """
    used = math.fsum(count / endured for count, endured in parts)
    if not used > 0:
        raise InputError(field="parts", expected="at least one bend in a cycle", given=0)
    return 1 / used


def equivalent_force_ratio(parts: Sequence[tuple[float, float]], exponent: float) -> float:
    """The one force that wears like a collective of forces, over their reference force.

    Parameters
    ----------
    parts
        Pairs of share of the cycles and force over reference force [-].
    exponent
        Exponent of the force in the endurance, below zero [-].

    Returns
    -------
    float
        The ratio k [-].

    Source: Feyrer, Wire Ropes, 2nd edition 2015, equations (3.93) to (3.93c), p. 301; rebuilt
    from the chain of equations.
    Provenance: reconstructed

    Examples
    --------
    >>> p = 0.029 - 1.613 * math.log10(25)
    >>> round(equivalent_force_ratio([(0.4, 1.0), (0.4, 0.6), (0.2, 0.2)], p), 5)
    0.75431
    """
    shares = math.fsum(share for share, _ in parts)
    if not math.isclose(shares, 1.0, abs_tol=1e-9):
        raise InputError(field="parts", expected="shares that sum to 1", given=shares)
    if not exponent < 0:
        raise InputError(field="exponent", expected="an exponent below zero", given=exponent)
    return float(math.fsum(share * ratio**-exponent for share, ratio in parts) ** (-1 / exponent))
