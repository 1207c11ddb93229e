"""What a forecast says, and what it was made from."""

from dataclasses import dataclass
from datetime import date
from typing import Final, Literal, TypeAlias

from ropewright.forecast.cases import Case
from ropewright.forecast.prior import Prior
from ropewright.forecast.times import Curve

MODEL_VERSION: Final = "1"

State: TypeAlias = Literal[
    "limit reached", "look closer now", "inspect by", "not assessable", "no date"
]
STATES: Final[tuple[State, ...]] = (
    "limit reached", "look closer now", "inspect by", "not assessable", "no date",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Cap:
    """The next inspection is due by ``until`` whatever the forecast says; ``by`` says whose rule.

    It is the rule's, the maker's or the competent person's interval; the earliest one counts.
    """

    until: date
    by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Policy:
    """The chances and times that turn a forecast into a date.

    ``alpha`` [-] is the chance of passing the limit that is taken until the next inspection,
    ``alpha_persons`` [-] where persons are lifted; ``alarm`` [-] is the present chance above
    which there is no date; ``useful_days`` is the shortest interval worth planning for.  ``early``
    [-] and ``late`` [-] are the ends of the band.
    """

    alpha: float = 0.002
    alpha_persons: float = 0.001
    alarm: float = 0.01
    useful_days: float = 30.0
    early: float = 0.05
    late: float = 0.95


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """When the limit will be passed: days from today, ``None`` beyond a hundred years [days]."""

    early_days: float | None
    median_days: float | None
    late_days: float | None
    early: date | None
    median: date | None
    late: date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Forecast:
    """One forecast, with everything that is needed to check it later.

    ``present_chance`` [-] is the chance that a limit is reached today but unseen; ``alpha`` [-]
    the chance taken until the next inspection; ``lead_days`` what the model alone would give
    [days]; ``unseen`` [-] the expected number of unseen breaks; ``doubling`` [-] the median
    doubling time in clock units.
    """

    as_of: date
    state: State
    rows: tuple[Case, ...]
    because: str
    lengthen: str
    decide: tuple[str, ...]
    alpha: float
    next_inspection: date | None = None
    bounded_by: str = ""
    missing: tuple[str, ...] = ()
    present_chance: float | None = None
    lead_days: float | None = None
    band: Band | None = None
    governing: str = ""
    plan_change: bool = False
    order_by: date | None = None
    order_now: bool = False
    unseen: float | None = None
    doubling: float | None = None
    curve: Curve | None = None
    prior: Prior
    policy: Policy
    version: str = MODEL_VERSION

    @property
    def headline(self) -> str:
        """What to do, in one line."""
        if self.state == "limit reached":
            return "limit reached: no forecast"
        if self.state == "look closer now":
            return "inspect closer now: no date"
        if self.next_inspection is None:
            return "next inspection: not assessable"
        return f"next inspection by {self.next_inspection}"

    @property
    def has_date(self) -> bool:
        """Whether a date for the next inspection is given."""
        return self.next_inspection is not None
