"""How much one bend wears: three published ways, to be chosen between.

Every model gives the damage of one bend under a force on a sheave; the Palmgren-Miner rule adds
it up.  Only shapes along the rope are compared: for all but one kind of rope no model gives a
life in bends.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

import numpy as np
import numpy.typing as npt

from ropewright.errors import InputError
from ropewright.rope import Rope
from ropewright.rope.table import Provenance
from ropewright.wear.catalogue import BOOK, EnduranceRow, Meaning, bend_weights, endurance_rows
from ropewright.wear.endurance import Lay, bends_at, reverse_bends
from ropewright.wear.factor import (
    LEAST_RATIO,
    LEAST_STRESS,
    MOST_RATIO,
    MOST_STRESS,
    TESTS,
    Factor,
    within,
)
from ropewright.wear.factors import length_factor, size_factor

Floats: TypeAlias = npt.NDArray[np.float64]
ModelName: TypeAlias = Literal["bends", "cubic", "endurance"]
REFERENCE_RATIO: Final = 20.0
"""Sheave over rope diameter to which the cubic model refers; it cancels out of every shape."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ModelCard:
    """What a model is, for the reader of a result."""

    name: ModelName
    title: str
    words: str
    source: str
    provenance: Provenance


MODELS: Final[Mapping[ModelName, ModelCard]] = {
    "bends": ModelCard(
        name="bends",
        title="every bend alike",
        words="each bend counts 1, a reverse bend 2, whatever hangs on the hook",
        source="DIN 15020-1, counting of bendings",
        provenance="memory",
    ),
    "cubic": ModelCard(
        name="cubic",
        title="cube of the force",
        words="a bend counts by the cube of rope force and of d/D, a reverse bend twice",
        source="EN 13001-3-2:2014, rope force history; reverse bends as in DIN 15020-1",
        provenance="memory",
    ),
    "endurance": ModelCard(
        name="endurance",
        title="endurance formula",
        words="a bend counts by the bends a rope endures under its force on its sheave",
        source=f"{BOOK}, equations (3.55), (3.61) and (3.70)",
        provenance="memory",
    ),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class RopeForModel:
    """What the models need of a rope: diameter, grade, lay and the constants used.

    ``own_constants`` says that the constants were worked out for this very kind of rope; else
    they lend their exponents only, and no number of bends is given.
    """

    rope_mm: float
    grade_n_per_mm2: float | None
    lay: Lay
    row: EnduranceRow
    own_constants: bool
    meaning: Meaning = "NA10"


def rope_for_model(rope: Rope) -> RopeForModel:
    """What the models need of a rope; the constants are its own or borrowed, and say so."""
    make = rope.construction
    for row in endurance_rows():
        own = make.name in row.constructions and make.core == "fibre" and rope.lay_type == row.lay
        if own:
            break
    else:
        row, own = endurance_rows()[0], False
    return RopeForModel(
        rope_mm=float(rope.nominal_diameter_mm),
        grade_n_per_mm2=None if rope.grade is None else float(rope.grade),
        lay="lang" if rope.lay_type == "lang" else "ordinary",
        row=row,
        own_constants=own,
    )


def damage_of_bends(
    name: ModelName, rope: RopeForModel, forces_n: Floats, sheave_mm: float
) -> Floats:
    """Damage of one simple bend under each of several forces.

    Forces below 50 N/mm² of S/d² count as that in the endurance formula: bending alone wears,
    and its tests go no lower.

    Parameters
    ----------
    name
        The model.
    rope
        The rope.
    forces_n
        Rope forces [N].
    sheave_mm
        Diameter at the groove bottom [mm].

    Returns
    -------
    array
        Damage per bend; for the endurance formula 1 is the end of life [-].

    Raises
    ------
    InputError
        If a value lies outside the range of the model; names the range.
    """
    if name == "bends":
        return np.full(forces_n.shape, bend_weights()["simple"])
    ratio = sheave_mm / rope.rope_mm
    if name == "cubic":
        return np.asarray((forces_n / rope.rope_mm**2 * REFERENCE_RATIO / ratio) ** 3)
    return 1 / _endured(rope, forces_n, ratio)


def damage_of_reverse_bends(
    name: ModelName, rope: RopeForModel, forces_n: Floats, sheave_mm: float
) -> Floats:
    """Damage of one reverse bend: it stands for one of the two simple bends of the pair.

    Parameters
    ----------
    name
        The model.
    rope
        The rope.
    forces_n
        Rope forces [N].
    sheave_mm
        Diameter of the smaller sheave of the pair at the groove bottom [mm].

    Returns
    -------
    array
        Damage per reverse bend [-].
    """
    simple = damage_of_bends(name, rope, forces_n, sheave_mm)
    if name != "endurance":
        return np.asarray(simple * bend_weights()["reverse"])
    ratio = sheave_mm / rope.rope_mm
    return np.array([1 / reverse_bends(float(bends), ratio, rope.lay) for bends in 1 / simple])


def _endured(rope: RopeForModel, forces_n: Floats, ratio: float) -> Floats:
    if rope.grade_n_per_mm2 is None:
        raise InputError(
            field="rope.grade",
            expected="the rope grade in N/mm2, which the endurance formula needs",
            given=None,
        )
    within("D/d", ratio, LEAST_RATIO, MOST_RATIO, unit="", why=TESTS)
    stress = forces_n / rope.rope_mm**2
    if stress.size:
        most = float(stress.max())
        within("S/d²", max(most, LEAST_STRESS), LEAST_STRESS, MOST_STRESS, unit="N/mm²", why=TESTS)
    stress = np.maximum(stress, LEAST_STRESS)
    size = math.prod(factor.value for factor in constant_factors(rope))
    one = bends_at(rope.row, rope.meaning, 1.0, ratio, rope.grade_n_per_mm2) * size
    return np.asarray(one * stress ** rope.row.exponent(ratio))


def constant_factors(rope: RopeForModel) -> tuple[Factor, ...]:
    """The corrections that hold for all bends of a rope: its diameter and a long bent length."""
    return size_factor(rope.rope_mm), length_factor(LONG_BENT_LENGTH)


LONG_BENT_LENGTH: Final = 1000.0
"""Bent length of a hoist rope in rope diameters, for the endurance formula; own assumption."""
