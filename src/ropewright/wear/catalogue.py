"""The room's tables of published wear constants, read strictly from its own data files.

``endurance.csv``: constants of the endurance formula for the one rope for which a set is known
at all, from memory.  ``cores.csv`` and ``grooves.csv``: correction factors as printed.
``discard.csv``: constants of the discard number of wire breaks.  ``bend_weights.csv``: how the
classic European rules weigh a bend.  Every row carries its provenance; where no trustworthy
constants are known there is no row.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Final, Literal, TypeAlias, cast, get_args

from ropewright.rope.table import Provenance, table_lines

Meaning: TypeAlias = Literal["mean", "N10", "NA", "NA10"]
GrooveShape: TypeAlias = Literal["round", "undercut", "V"]
BendKind: TypeAlias = Literal["simple", "reverse", "drum", "still"]
BEND_KINDS: Final[tuple[BendKind, ...]] = get_args(BendKind)

BOOK: Final = "Feyrer, Wire Ropes, 2nd edition 2015"


@dataclass(frozen=True, slots=True, kw_only=True)
class EnduranceRow:
    """Constants b0 to b3 of the endurance formula for one kind of rope.

    ``b0`` [-] has one value per meaning: mean breaking number, 10 % breaking number, mean and
    10 % discard number.  ``b1`` [-], ``b2`` [-] and ``b3`` [-] are common to the four.
    """

    rope: str
    constructions: tuple[str, ...]
    lay: str
    b0: Mapping[Meaning, float]
    b1: float
    b2: float
    b3: float
    provenance: Provenance
    note: str

    def exponent(self, ratio: float) -> float:
        """Exponent of the rope force at a ``ratio`` [-] of sheave to rope diameter [-].

        Source: Feyrer, Wire Ropes, 2nd edition 2015, equation (3.93b), p. 301.
        Provenance: text
        """
        return self.b1 + self.b3 * math.log10(ratio)


@dataclass(frozen=True, slots=True, kw_only=True)
class DiscardRow:
    """Constants of the discard number of wire breaks for one kind of rope.

    They are ``g0`` [-], ``g1`` [-], ``g2`` [-] and ``g3`` [-] as printed; ``half_visible`` says
    that only half of the number shows from outside.
    """

    rope: str
    factors_class: str
    core: str
    g0: float
    g1: float
    g2: float
    g3: float
    half_visible: bool
    provenance: Provenance
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedFactor:
    """One printed correction: ``measure`` [-] in its table's own unit, ``factor`` [-]."""

    of: str
    measure: float
    factor: float
    provenance: Provenance


def _own(file: str) -> str:
    return resources.files("ropewright.wear").joinpath("data", file).read_text(encoding="utf-8")


def read_endurance(text: str, *, file: str) -> tuple[EnduranceRow, ...]:
    """Read a table of endurance constants; TableError names file, line and column."""
    columns = "rope constructions lay b0_mean b0_n10 b0_na b0_na10 b1 b2 b3 provenance note"
    return tuple(
        EnduranceRow(
            rope=line.text("rope"),
            constructions=tuple(line.text("constructions").split()),
            lay=line.text("lay"),
            b0={
                "mean": float(line.number("b0_mean")),
                "N10": float(line.number("b0_n10")),
                "NA": float(line.number("b0_na")),
                "NA10": float(line.number("b0_na10")),
            },
            b1=float(line.number("b1")),
            b2=float(line.number("b2")),
            b3=float(line.number("b3")),
            provenance=line.provenance("provenance"),
            note=line.text("note"),
        )
        for line in table_lines(text, file=file, columns=columns)
    )


def read_discard(text: str, *, file: str) -> tuple[DiscardRow, ...]:
    """Read a table of discard constants; TableError names file, line and column."""
    columns = "rope factors_class core g0 g1 g2 g3 half_visible provenance note"
    return tuple(
        DiscardRow(
            rope=line.text("rope"),
            factors_class=line.text("factors_class"),
            core=line.text("core", empty=True),
            g0=float(line.number("g0")),
            g1=float(line.number("g1")),
            g2=float(line.number("g2")),
            g3=float(line.number("g3")),
            half_visible=line.flag("half_visible"),
            provenance=line.provenance("provenance"),
            note=line.text("note"),
        )
        for line in table_lines(text, file=file, columns=columns)
    )


def _factors(file: str, of: str, measure: str, factor: str) -> tuple[PrintedFactor, ...]:
    lines = table_lines(_own(file), file=file, columns=f"{of} {measure} {factor} provenance")
    return tuple(
        PrintedFactor(
            of=line.text(of),
            measure=float(line.number(measure)),
            factor=float(line.number(factor)),
            provenance=line.provenance("provenance"),
        )
        for line in lines
    )


@cache
def endurance_rows() -> tuple[EnduranceRow, ...]:
    """All kinds of rope with constants of the endurance formula."""
    return read_endurance(_own("endurance.csv"), file="endurance.csv")


@cache
def discard_rows() -> tuple[DiscardRow, ...]:
    """All kinds of rope with constants of the discard number."""
    return read_discard(_own("discard.csv"), file="discard.csv")


@cache
def core_rows() -> tuple[PrintedFactor, ...]:
    """Factors for the core; the measure is the number of outer strands."""
    return _factors("cores.csv", "core", "strands", "factor")


@cache
def groove_rows() -> tuple[PrintedFactor, ...]:
    """Factors for the groove; the measure is groove radius over rope diameter, or degrees."""
    return _factors("grooves.csv", "shape", "measure", "factor")


@cache
def bend_weights() -> Mapping[BendKind, float]:
    """How much a bend of each kind weighs beside a simple one [-].

    Source: DIN 15020-1, counting of bendings over a full lift: drum 1, sheave of the same sense
    2, reverse bend 4, equalising sheave 0; a full lift passes each sheave twice.
    Provenance: memory
    """
    lines = table_lines(
        _own("bend_weights.csv"), file="bend_weights.csv", columns="kind weight provenance"
    )
    return {
        cast(BendKind, line.word("kind", BEND_KINDS)): float(line.number("weight"))
        for line in lines
    }
