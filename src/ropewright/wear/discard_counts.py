"""Broken wires at the end of a rope's life by test results: a second opinion, never a limit.

These numbers come from fatigue tests and differ from those of the rules.  They stand beside the
rules' rulings and replace none of them.
"""

import math
from dataclasses import dataclass
from typing import Final

from ropewright.errors import InputError
from ropewright.rope import Rope
from ropewright.rope.table import Provenance
from ropewright.wear.catalogue import BOOK, DiscardRow, discard_rows
from ropewright.wear.factor import (
    LEAST_RATIO,
    LEAST_STRESS,
    MOST_RATIO,
    MOST_STRESS,
    TESTS,
    within,
)

_SOURCE: Final = f"{BOOK}, equations (3.83) and (3.84), table 3.18, p. 304"
_REVERSE_STRESS: Final = 50.0
_SIX_STRANDS: Final = 0.75


@dataclass(frozen=True, slots=True, kw_only=True)
class DiscardCount:
    """Broken wires on 30 d and on 6 d at which tests ended the rope's life.

    ``on_30d`` [-] and ``on_6d`` [-] are all breaks, ``visible_30d`` [-] and ``visible_6d`` [-]
    those that can be seen from outside.
    """

    on_30d: float
    on_6d: float
    visible_30d: float
    visible_6d: float
    rope: str
    provenance: Provenance
    source: str
    notes: tuple[str, ...]


def discard_count(
    row: DiscardRow,
    *,
    stress_n_per_mm2: float,
    ratio: float,
    reverse: bool = False,
    six_strands: bool = False,
) -> DiscardCount:
    """Broken wires at the end of life: B_A30 = g0 - g1 s² - g2 r² - g3 s² r², B_A6 half of it.

    s is S/d², r is d/D.

    Parameters
    ----------
    row
        Constants of the rope.
    stress_n_per_mm2
        Rope force over the square of the diameter S/d² [N/mm²].
    ratio
        Sheave over rope diameter D/d [-].
    reverse
        Whether the rope bends both ways; 50 N/mm² are then added.
    six_strands
        Whether the rope has six strands; three quarters of the number hold then.

    Raises
    ------
    InputError
        If a value lies outside the range of the tests; names the range.

    Source: Feyrer, Wire Ropes, 2nd edition 2015, equations (3.83) and (3.84), table 3.18, p. 304.
    Provenance: reconstructed
    """
    within("S/d²", stress_n_per_mm2, LEAST_STRESS, MOST_STRESS, unit="N/mm²", why=TESTS)
    within("D/d", ratio, LEAST_RATIO, MOST_RATIO, unit="", why=TESTS)
    stress = stress_n_per_mm2 + (_REVERSE_STRESS if reverse else 0.0)
    part = 1 / ratio**2
    on_30d = row.g0 - row.g1 * stress**2 - row.g2 * part - row.g3 * stress**2 * part
    on_30d *= _SIX_STRANDS if six_strands else 1.0
    notes = [row.note]
    if reverse:
        notes.append("reverse bends: 50 N/mm² added to S/d²")
    if six_strands:
        notes.append("six strands: three quarters of the number for eight")
    if on_30d < 0:
        notes.append("below zero: under this force the rope breaks before breaks can be counted")
    on_30d = max(on_30d, 0.0)
    shown = 0.5 if row.half_visible else 1.0
    if row.half_visible:
        notes.append("half of it from outside, only where fatigue tests of that rope confirm it")
    return DiscardCount(
        on_30d=on_30d,
        on_6d=on_30d / 2,
        visible_30d=on_30d * shown,
        visible_6d=on_30d / 2 * shown,
        rope=row.rope,
        provenance=row.provenance,
        source=_SOURCE,
        notes=tuple(notes),
    )


def discard_limiting_force_n(
    row: DiscardRow, *, rope_mm: float, ratio: float, least_breaks: float
) -> float:
    """Greatest force under which at least so many breaks show before the end of life.

    Parameters
    ----------
    row
        Constants of the rope.
    rope_mm
        Nominal rope diameter d [mm].
    ratio
        Sheave over rope diameter D/d [-].
    least_breaks
        Breaks on 30 d that must show [-].

    Returns
    -------
    float
        S_G [N].

    Raises
    ------
    InputError
        If no force allows so many.

    Source: Feyrer, Wire Ropes, 2nd edition 2015, equation (3.94), p. 304.
    Provenance: reconstructed
    """
    within("D/d", ratio, LEAST_RATIO, MOST_RATIO, unit="", why=TESTS)
    part = 1 / ratio**2
    left = row.g0 - row.g2 * part - least_breaks
    if left <= 0:
        raise InputError(
            field="least_breaks",
            expected=f"less than {row.g0 - row.g2 * part:.1f}, what this rope shows without load",
            given=least_breaks,
        )
    return float(rope_mm**2 * math.sqrt(left / (row.g1 + row.g3 * part)))


def row_for(rope: Rope) -> tuple[DiscardRow, bool] | None:
    """The constants for a rope and whether its six strands call for the smaller number.

    None where no published constants fit: compacted ropes, Lang lay, other makes, or a core
    nobody stated.
    """
    make = rope.construction
    if make.compacted is not False or rope.lay_type == "lang" or make.factors_class is None:
        return None
    if make.factors_class in ("18x7", "34x7"):
        found = [row for row in discard_rows() if row.factors_class == make.factors_class]
        return (found[0], False)
    wanted = make.factors_class.replace("6x", "8x")
    for row in discard_rows():
        if row.factors_class == wanted and row.core == make.core:
            return row, make.outer_strands == 6
    return None
