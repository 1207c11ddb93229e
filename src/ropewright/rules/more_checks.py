"""Checks beside the wear of the wires: metal lost, figures of the set-up, rules without a number.

They are plain data, as those of ``model`` are; what they do stands in ``checks``.
"""

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from ropewright.rules.ruling import Comparison
from ropewright.rules.tables import Table


@dataclass(frozen=True, slots=True, kw_only=True)
class MetallicLossCheck:
    """Metal or strength lost by a magnetic rope test, over a length, in percent.

    ``bands`` is a printed table of severity; ``column`` is the one of this window.
    ``limit_percent`` [%] stands alone where only the last step is printed.
    """

    of: Literal["metallic area", "breaking force"]
    compare: Comparison
    window: str | None = None
    limit_percent: Fraction | None = None
    bands: Table | None = None
    column: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class NoLimitCheck:
    """Findings that the rule names or may mean, but for which it gives no number.

    They are the competent person's to decide, unless another chosen rule has a number.
    """

    findings: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SetUpCheck:
    """A figure of the set-up against a least or greatest value, or against words.

    ``least`` [-] and ``most`` [-] are numbers in ``unit``, where ``d`` is nominal rope
    diameters.  ``table`` holds the least values by mechanism class in ``column``;
    rotation-resistant ropes may be asked for those of a class further up.  ``words`` are those
    that keep to the rule.  ``against`` compares with a fact of the rope instead.
    """

    measure: str
    unit: str = ""
    least: Fraction | None = None
    most: Fraction | None = None
    words: tuple[str, ...] = ()
    table: Table | None = None
    column: str = ""
    rotation_resistant_classes_up: int = 0
    against: Literal["lay hand"] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class GrowthCheck:
    """A count that doubled between two inspections, or a first cluster.

    ``first`` [-] broken wires within ``window`` where none was known are a first cluster; a
    doubling counts if at least ``doubled_by`` [-] are new.
    """

    first: int
    window: str
    doubled_by: int


@dataclass(frozen=True, slots=True, kw_only=True)
class UnjudgedCheck:
    """Damage of a kind that is named, in a form or grade for which no clause gives anything."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredWithinCheck:
    """Diameters measured at some places, or a magnetic rope test made, within some months."""

    months: int
    places: int
