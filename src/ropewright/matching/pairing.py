"""What the matching says: which finding is which, how sure that is, what to ask a person."""

from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

PairKind: TypeAlias = Literal["same", "new", "not found again", "not looked at", "cut off"]
PAIR_KINDS: Final[tuple[PairKind, ...]] = (
    "same", "new", "not found again", "not looked at", "cut off",
)  # fmt: skip

By: TypeAlias = Literal["worked out", "named in the finding", "confirmed", "the record"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Pairing:
    """One finding of the earlier and one of the later inspection, or one that stands alone.

    ``confidence`` [-] is the chance that this is right; ``gap_m`` is how far the two lie apart
    once shift and stretch are taken out.  ``asks`` is a question for a person, if there is one.
    """

    earlier: str | None
    later: str | None
    kind: PairKind
    confidence: float
    by: By = "worked out"
    gap_m: float | None = None
    asks: str = ""


#: From this confidence on a pair counts without a person [-]; own.
SURE: Final = 0.95


def same_findings(pairings: tuple[Pairing, ...], *, least: float = SURE) -> dict[str, str]:
    """Later finding id to earlier finding id, where that is confirmed or sure enough.

    Parameters
    ----------
    pairings
        What the matching says.
    least
        Smallest confidence that counts without a person [-].
    """
    return {
        one.later: one.earlier
        for one in pairings
        if one.kind == "same"
        and one.earlier is not None
        and one.later is not None
        and (one.by != "worked out" or one.confidence >= least)
    }
