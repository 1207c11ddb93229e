"""What the matching says: which finding is which, how sure that is, what to ask a person."""

from dataclasses import dataclass
from datetime import date
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Decision:
    """A person confirms or overrules: the two findings are the same, or they are not.

    Without ``later`` the earlier finding was looked for and is truly not there any more; without
    ``earlier`` the later finding is new.  With ``same`` false the pair is only ruled out.
    """

    earlier: str | None
    later: str | None
    same: bool
    by: str
    on: date
    reason: str = ""


def same_findings(pairings: tuple[Pairing, ...], *, least: float = 0.95) -> dict[str, str]:
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
