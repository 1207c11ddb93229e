"""How a log is counted: classes of load, width of bins, what is jitter, gap, jump and slack."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from ropewright.errors import InputError

MOST_CLASSES: Final = 200
MOST_LOAD_T: Final = 10_000.0
"""No hoist lifts more; a load above it is a unit gone wrong; own assumption."""

# Usual values, all of them own assumptions; each is in the register.
BIN_M: Final = 0.1
JITTER_M: Final = 0.02
JITTER_DEG: Final = 0.02
GAP_S: Final = 60.0
HOOK_SPEED_M_PER_S: Final = 5.0
SLACK_SHARE: Final = 0.5
LIFT_SHARE: Final = 0.05
NO_BLOCK_SHARE: Final = 0.25


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadClasses:
    """Classes of load on the falls; a load counts as its class' upper bound.

    ``upper_t`` [t] are the upper bounds, rising; a load on a bound belongs below it.  After these
    come two more classes: above the last bound, and load not known.
    """

    upper_t: tuple[float, ...]

    def __post_init__(self) -> None:
        """Refuse bounds that do not rise from above zero."""
        edges = np.array((0.0, *self.upper_t))
        if edges.size < 2 or not np.isfinite(edges).all() or (np.diff(edges) <= 0).any():
            raise InputError(
                field="load_classes", expected="rising loads above zero", given=self.upper_t
            )
        if self.upper_t[-1] > MOST_LOAD_T:
            raise InputError(
                field="greatest load",
                expected=f"at most {MOST_LOAD_T:g} t, as no crane lifts more",
                given=f"{self.upper_t[-1]:g} t",
                hint="look at the unit of the loads",
            )
        if len(self.upper_t) > MOST_CLASSES:
            raise InputError(
                field="load_classes",
                expected=f"at most {MOST_CLASSES} classes",
                given=len(self.upper_t),
            )

    @classmethod
    def even(cls, most_t: float, *, classes: int = 20) -> "LoadClasses":
        """Classes of one width up to the greatest load.

        Parameters
        ----------
        most_t
            The greatest load, hook block included [t].
        classes
            How many.
        """
        if not (np.isfinite(most_t) and most_t > 0 and classes >= 1):
            raise InputError(field="load_classes", expected="a load above zero", given=most_t)
        return cls(upper_t=tuple(most_t * (number + 1) / classes for number in range(classes)))

    @property
    def count(self) -> int:
        """How many classes there are, the two extra ones included."""
        return len(self.upper_t) + 2

    @property
    def unknown(self) -> int:
        """Number of the class for loads that are not known."""
        return len(self.upper_t) + 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Counting:
    """How a log is counted; every default is an own assumption.

    ``bin_m`` is the width of the bins.  ``jitter_m`` is the size of to-and-fro in the hook's
    and trolley's reading that does not count as movement (half of it at the very beginning),
    ``jitter_deg`` that of an angle.
    ``gap_s`` is the longest time between two samples over which the crane is taken to have moved
    straight on.  ``hook_speed_m_per_s`` is faster than any hook: readings that move faster have
    jumped.  ``block_t`` [t] is the hook block's mass, without which slack rope cannot be seen;
    rope is slack when less than ``slack_share`` [-] of it hangs on the falls while rope is paid
    out.  A lift begins when more than ``lift_share`` [-] of the greatest class' bound hangs on
    the falls beside the block; if that is not known, a quarter of the greatest load, block
    included; or ``lifted_from_t`` [t] if given, block included.
    """

    classes: LoadClasses
    bin_m: float = BIN_M
    jitter_m: float = JITTER_M
    jitter_deg: float = JITTER_DEG
    gap_s: float = GAP_S
    hook_speed_m_per_s: float = HOOK_SPEED_M_PER_S
    block_t: float | None = None
    slack_share: float = SLACK_SHARE
    lift_share: float = LIFT_SHARE
    lifted_from_t: float | None = None

    def __post_init__(self) -> None:
        """Refuse widths, times and shares that make no sense."""
        if not (0.05 <= self.bin_m <= 10 and _whole(self.bin_m * TENTHS_PER_M / 2)):
            raise InputError(
                field="bin_m",
                expected="from 0.05 to 10 m, in steps of 0.2 mm",
                given=self.bin_m,
            )
        for name, least in (
            ("jitter_m", 0.0),
            ("jitter_deg", 0.0),
            ("gap_s", 1e-3),
            ("hook_speed_m_per_s", 1e-3),
        ):
            value = getattr(self, name)
            if not (np.isfinite(value) and value >= least):
                raise InputError(field=name, expected=f"at least {least:g}", given=value)
        for name in ("slack_share", "lift_share"):
            if not 0 < getattr(self, name) < 1:
                raise InputError(
                    field=name, expected="a share between 0 and 1", given=getattr(self, name)
                )
        for name in ("block_t", "lifted_from_t"):
            value = getattr(self, name)
            if value is not None and not (np.isfinite(value) and value > 0):
                raise InputError(field=name, expected="a mass above zero", given=value)

    @property
    def loaded_above_t(self) -> float:
        """Load on the falls above which something is lifted [t]."""
        if self.lifted_from_t is not None:
            return self.lifted_from_t
        if self.block_t is None:
            return NO_BLOCK_SHARE * self.classes.upper_t[-1]
        return self.block_t + self.lift_share * self.classes.upper_t[-1]

    @property
    def slack_below_t(self) -> float | None:
        """Load on the falls below which paying out makes slack rope; none if not known [t]."""
        return None if self.block_t is None else self.slack_share * self.block_t


TENTHS_PER_M: Final = 10_000
"""Places are whole tenths of a millimetre while bends are counted."""


def _whole(value: float) -> bool:
    return abs(value - round(value)) < 1e-6
