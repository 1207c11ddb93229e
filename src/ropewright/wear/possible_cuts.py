"""Every cut and turn within dead wraps and hook reach, and what each makes of the rope."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from ropewright.errors import InputError
from ropewright.geometry import Drum, Hoist, least_and_most_wound_m
from ropewright.geometry.drum import corrected_drum
from ropewright.geometry.hoist import RISE_SHARE
from ropewright.rope import PathMap

Way: TypeAlias = Literal["cut at end A", "cut at the drum", "turn", "turn and cut at the drum"]
WAYS: Final[tuple[Way, ...]] = (
    "cut at end A", "cut at the drum", "turn", "turn and cut at the drum",
)  # fmt: skip

LEAST_CUT_M: Final = 0.2
CUT_STEP_M: Final = 0.05
FINE_TO_M: Final = 3.0
DEAD_WRAPS: Final = 3.0
"""Wraps that stay on the drum with the hook at its lowest, unless a rule asks more; own choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutLimits:
    """How much rope may go: ``spare_m`` beyond the dead wraps with the hook at its lowest.

    ``least_on_drum_m`` is the rope on the drum then, ``dead_wraps`` [wraps] what must stay of it.
    """

    spare_m: float
    least_on_drum_m: float
    dead_wraps: float


def cut_limits(hoist: Hoist, dead_wraps: float | None = None) -> CutLimits:
    """How much rope may be cut off within dead wraps and hook reach.

    Parameters
    ----------
    hoist
        The hoist as it is now.
    dead_wraps
        Wraps that must stay on the drum; at least three [wraps].
    """
    wraps = max(DEAD_WRAPS, dead_wraps or 0.0)
    least, _ = least_and_most_wound_m(hoist)
    turn = hoist.wound_drum().turn_m[0]
    return CutLimits(
        spare_m=max(0.0, least - wraps * turn), least_on_drum_m=least, dead_wraps=wraps
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """A possible cut: how much at end A and at the drum, and whether the rope is turned first."""

    way: Way
    at_a_m: float = 0.0
    at_drum_m: float = 0.0
    turn: bool = False

    @property
    def length_m(self) -> float:
        """Rope cut off [m]."""
        return self.at_a_m + self.at_drum_m


def after(now: PathMap, cut: Cut) -> PathMap:
    """How rope and path belong together once a cut is made."""
    turned = now.turned != cut.turn
    low, high = cut.at_a_m, cut.at_drum_m
    if turned:
        low, high = high, low
    return PathMap(
        first_rope_m=now.first_rope_m + low, last_rope_m=now.last_rope_m - high, turned=turned
    )


def possible_cuts(limits: CutLimits, *, step_m: float = CUT_STEP_M) -> Iterator[Cut]:
    """Every cut at either end within the limits, in steps, and end for end with and without.

    Parameters
    ----------
    limits
        How much rope may go.
    step_m
        Step between two lengths up to 3 m; beyond it is five times as long [m].
    """
    if not step_m > 0:
        raise InputError(field="step_m", expected="a length above zero", given=step_m)
    lengths: list[float] = []
    length = LEAST_CUT_M
    while length <= limits.spare_m + 1e-9:
        lengths.append(length)
        length += step_m if length < FINE_TO_M - 1e-9 else 5 * step_m
    yield from (Cut(way="cut at end A", at_a_m=length) for length in lengths)
    yield from (Cut(way="cut at the drum", at_drum_m=length) for length in lengths)
    yield Cut(way="turn", turn=True)
    yield from (
        Cut(way="turn and cut at the drum", at_drum_m=length, turn=True) for length in lengths
    )


def drum_shapes(drum: Drum, *, barrel_mm: float, wraps: float) -> tuple[Drum, ...]:
    """The drum with each of its measures off by its usual ±, one at a time.

    Parameters
    ----------
    drum
        The drum.
    barrel_mm
        ± of the barrel's diameter [mm].
    wraps
        ± of the wraps of a layer [wraps].
    """
    rise = RISE_SHARE * drum.rope_mm
    return tuple(
        corrected_drum(drum, barrel_mm=sign * barrel_mm * by[0], rise_mm=sign * rise * by[1],
                       wraps=sign * wraps * by[2])
        for by in ((1, 0, 0), (0, 1, 0), (0, 0, 1))
        for sign in (-1, 1)
    )  # fmt: skip
