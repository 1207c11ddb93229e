"""One number that an answer rests on, with where it comes from."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from ropewright.errors import InputError
from ropewright.rope.table import Provenance

#: From the surest to the least sure; an answer is as sure as the least sure number in it.
SURENESS: Final[tuple[Provenance, ...]] = (
    "text", "derived", "second-hand", "reconstructed", "own", "memory",
)  # fmt: skip

# The range of the tests behind the endurance formula: S/d² in N/mm², and D/d; from memory.
LEAST_STRESS: Final = 50.0
MOST_STRESS: Final = 500.0
LEAST_RATIO: Final = 10.0
MOST_RATIO: Final = 63.0
TESTS: Final = "the tests behind the formula (from memory)"


@dataclass(frozen=True, slots=True, kw_only=True)
class Factor:
    """A factor ``value`` [-] that multiplies a number of bends, with its source."""

    name: str
    value: float
    provenance: Provenance
    source: str
    note: str = ""


def least_sure(provenances: Iterable[Provenance]) -> Provenance:
    """The least sure of several provenances; ``own`` where there is none."""
    return max(provenances, key=SURENESS.index, default="own")


def within(field: str, value: float, low: float, high: float, *, unit: str, why: str) -> None:
    """Refuse a value outside the range for which a formula was made.

    Parameters
    ----------
    field
        What it is.
    value, low, high
        The value and its range, ends included [-].
    unit
        Its unit, for the message.
    why
        What the range rests on.

    Raises
    ------
    InputError
        Naming the range.
    """
    if not low <= value <= high:
        unit = f" {unit}" if unit else ""
        raise InputError(
            field=field,
            expected=f"from {low:g} to {high:g}{unit}, the range of {why}",
            given=f"{value:g}{unit}",
        )
