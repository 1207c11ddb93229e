"""What persons learnt beside an inspection: comparisons, opened ropes, trials, past forecasts."""

from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Final, Literal, TypeAlias

from ropewright.errors import InputError
from ropewright.geometry import Section

#: What may have become of a finding that was not found again.  None of it lowers a count.
Fate: TypeAlias = Literal["ends removed", "cut away", "other"]
FATES: Final[tuple[Fate, ...]] = ("ends removed", "cut away", "other")
FATE_WORDS: Final[dict[Fate, str]] = {
    "ends removed": "the broken ends were taken off, so nothing can be felt there any more",
    "cut away": "that rope was cut away",
    "other": "see the reason",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """A person held a finding against an earlier one: the same, not the same, or what became of it.

    With both ids the two findings are the ``same``, or they are not.  Without ``later`` the
    earlier finding was not found again and ``fate`` says why; without ``earlier`` the later one
    is new.  It never lowers a count.
    """

    earlier: str | None = None
    later: str | None = None
    same: bool = True
    fate: Fate | None = None
    by: str
    on: date
    reason: str = ""

    def __post_init__(self) -> None:
        """Refuse a comparison of nothing, and an answer without its reason."""
        if self.earlier is None and self.later is None:
            raise InputError(
                field="earlier", expected="the id of a finding, here or in later", given=None
            )
        if self.earlier == self.later:
            raise InputError(
                field="later", expected="another finding than the earlier one", given=self.later
            )
        if self.fate is not None and (self.later is not None or self.earlier is None):
            raise InputError(
                field="fate", expected="no fate where both findings are named", given=self.fate,
                hint="it says what became of an earlier finding that was not found again",
            )  # fmt: skip
        if self.earlier is not None and self.later is None and self.fate is None:
            raise InputError(field="fate", expected=f"one of {', '.join(FATES)}", given=None)
        if not self.same and (self.earlier is None or self.later is None):
            raise InputError(
                field="same", expected="both findings, to say they are not the same", given=False
            )
        if self.fate == "other" and not self.reason.strip():
            raise InputError(field="reason", expected="why, in words", given=self.reason)

    @property
    def words(self) -> str:
        """The answer in words, with who gave it."""
        said = f"{self.by} on {self.on.isoformat()}"
        if self.fate is not None:
            told = self.reason if self.fate == "other" else FATE_WORDS[self.fate]
        elif self.earlier is None:
            told = "new"
        else:
            told = "the same as before" if self.same else "not the same as before"
        return f"{told} ({said})"


@dataclass(frozen=True, slots=True, kw_only=True)
class InnerCount:
    """A rope was opened after its life: what was really broken inside.

    ``outer_broken`` [-] and ``inner_broken`` [-] are broken wires over ``over_mm`` [mm].
    """

    section: Section
    over_mm: Fraction
    outer_broken: int
    inner_broken: int
    sample: str = ""
    remark: str = ""
    on: date | None = None

    def __post_init__(self) -> None:
        """Refuse negative counts and a length that is none."""
        for name in ("outer_broken", "inner_broken"):
            if getattr(self, name) < 0:
                raise InputError(
                    field=name, expected="a count of at least 0", given=getattr(self, name)
                )
        if self.over_mm <= 0:
            raise InputError(field="over_mm", expected="a length above 0", given=self.over_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """One rope, one day: an eye pass with marks, then a hand pass over the same rope.

    ``both`` [-] were found by eye and felt again, ``eye_only`` [-] not felt, ``feel_only`` [-]
    not seen.
    """

    both: int
    eye_only: int
    feel_only: int
    by: str = ""
    on: date | None = None
    remark: str = ""

    def __post_init__(self) -> None:
        """Refuse negative counts."""
        for name in ("both", "eye_only", "feel_only"):
            if getattr(self, name) < 0:
                raise InputError(
                    field=name, expected="a count of at least 0", given=getattr(self, name)
                )


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredForecast:
    """A forecast as it was given, kept so that it can be held against what came.

    ``chance_now`` [-] is the stated chance that the limit was reached already, ``chance`` [-]
    that it would be passed by ``until``, ``alpha`` [-] the chance taken; ``limit`` [-] broken
    wires in ``window_d`` [-] rope diameters was the limit; ``life_days`` [days] the usual life.
    """

    made_on: date
    state: str
    until: date | None = None
    order_by: date | None = None
    chance_now: Fraction | None = None
    chance: Fraction | None = None
    alpha: Fraction
    limit: int
    window_d: Fraction
    governing: str = ""
    bounded_by: str = ""
    life_days: Fraction
    life_from: str = ""
    model: str
    priors: str
    software: str = ""
    by: str = ""

    def __post_init__(self) -> None:
        """Refuse what is no chance, and a date before the forecast."""
        for name in ("chance_now", "chance", "alpha"):
            value = getattr(self, name)
            if value is not None and not 0 <= value <= 1:
                raise InputError(field=name, expected="a chance from 0 to 1", given=value)
        if self.limit < 1:
            raise InputError(field="limit", expected="at least 1 broken wire", given=self.limit)
        for name in ("window_d", "life_days"):
            if getattr(self, name) <= 0:
                raise InputError(field=name, expected="a number above 0", given=getattr(self, name))
        if self.until is not None and self.until < self.made_on:
            raise InputError(
                field="until", expected=f"a day from {self.made_on} on", given=self.until
            )
