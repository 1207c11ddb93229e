"""What a duty log was like: how much of it could be counted, what was odd, and what was done."""

from dataclasses import dataclass, field, fields
from typing import Final, Literal, Self, TypeAlias

Origin: TypeAlias = Literal["log", "lift list", "duty description", "several"]

#: Origins from the best evidence to the weakest; 'several' holds more than one kind.
ORIGINS: Final[tuple[Origin, ...]] = ("log", "lift list", "duty description", "several")

ORIGIN_WORDS: Final[dict[Origin, str]] = {
    "log": "counted from the crane's duty log",
    "lift list": "counted from a list of lifts, paths between taken as direct",
    "duty description": "worked out from a description of the duty, nothing recorded",
    "several": "counted from records of different kinds",
}

RESETS_KEPT: Final = 50
"""How many resets are kept with their moment; all are counted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reset:
    """A reading that jumped farther than the crane can have moved.

    ``at_ms`` [ms] counts from 1970, UTC; ``by_m`` says how far the hook's reading jumped.
    """

    at_ms: int
    by_m: float


_NO_SUMS: Final = frozenset(
    ("reset_list", "small_moves_m", "slack_known", "unlike_first_ms", "unlike_last_ms")
)


@dataclass(frozen=True, slots=True, kw_only=True)
class QualityReport:
    """How much of a log could be counted, and what was done with the rest.

    Counts are samples, times are sums over the log.  ``covered_ms`` is the time over which the
    crane's position is known, ``moving_ms`` the part of it in which rope moved; ``gap_ms``,
    ``slack_ms`` and ``invalid_ms`` are time without usable places.  A gap or a slack spell is
    bridged by one direct move, so what is counted there is the least that can have happened; a
    reset is not bridged.  ``small_moves_m`` is the size of to-and-fro [m] that was left out as
    jitter.  ``slack_known`` tells whether slack rope could be seen at all.  Samples on other falls
    than the rigging has lie between ``unlike_first_ms`` and ``unlike_last_ms`` [ms], since 1970,
    UTC; none where there are none.
    """

    samples: int = 0
    covered_ms: int = 0
    moving_ms: int = 0
    gaps: int = 0
    gap_ms: int = 0
    repeated: int = 0
    backward: int = 0
    blank: int = 0
    beyond_travel: int = 0
    load_unknown: int = 0
    slack_spells: int = 0
    slack_ms: int = 0
    invalid_ms: int = 0
    resets: int = 0
    reset_list: tuple[Reset, ...] = field(default=())
    falls_unlike: int = 0
    unlike_first_ms: int | None = None
    unlike_last_ms: int | None = None
    small_moves_m: float = 0.0
    slack_known: bool = False

    def __add__(self, other: "QualityReport") -> "QualityReport":
        if not self.samples:
            return other
        if not other.samples:
            return self
        sums = {
            one.name: getattr(self, one.name) + getattr(other, one.name)
            for one in fields(self)
            if one.name not in _NO_SUMS
        }
        listed = sorted((*self.reset_list, *other.reset_list), key=lambda one: one.at_ms)
        return QualityReport(
            **sums,
            unlike_first_ms=min(_known(self.unlike_first_ms, other.unlike_first_ms), default=None),
            unlike_last_ms=max(_known(self.unlike_last_ms, other.unlike_last_ms), default=None),
            reset_list=tuple(listed[:RESETS_KEPT]),
            small_moves_m=max(self.small_moves_m, other.small_moves_m),
            slack_known=self.slack_known and other.slack_known,
        )

    @property
    def lost_ms(self) -> int:
        """Time without usable places [ms]."""
        return self.gap_ms + self.slack_ms + self.invalid_ms

    @property
    def lost_share(self) -> float:
        """Share of the log's time without usable places [-]."""
        whole = self.covered_ms + self.lost_ms
        return self.lost_ms / whole if whole else 0.0

    @classmethod
    def nothing(cls) -> Self:
        """The report of no log at all."""
        return cls()


def _known(*moments_ms: int | None) -> list[int]:
    return [one for one in moments_ms if one is not None]
