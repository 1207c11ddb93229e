"""The order sheet of a new rope: every field with its value, where that comes from, or an ask."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from typing import Final, Literal, TypeAlias

from ropewright.units import as_plain_data

Known: TypeAlias = Literal["known", "worked out", "estimate", "stated", "to be filled in"]
TO_FILL: Final = "to be filled in"

OrderValue: TypeAlias = str | bool | int | float | Fraction | date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderField:
    """One field of an order.

    ``value`` [-] is what goes into the record, in the unit its key names, ``shown`` what a person
    reads, ``source`` where it comes from, ``steps`` how it was worked out, line by line, ``look``
    what to look at again.
    """

    key: str
    words: str
    value: OrderValue = None
    shown: str = ""
    how: Known = TO_FILL
    source: str = ""
    steps: tuple[str, ...] = ()
    look: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderWish:
    """What a person states for an order beyond what is known of the rope.

    ``crops_m`` [m] is rope kept for shortening in the rope's life, ``ends_m`` [m] rope that lies
    in clamp, sockets and seizings; ``lead_weeks`` [-] the maker's delivery time in weeks.
    ``stated`` [-] holds fields as the person states them, by key, in the unit the key names.
    """

    crops_m: float | None = None
    ends_m: float | None = None
    lead_weeks: Fraction | None = None
    needed_by: date | None = None
    stated: Mapping[str, OrderValue] = field(default_factory=dict)
    stated_by: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderSheet:
    """An order sheet; a second person checks it before it goes out."""

    rope_id: str
    crane: str
    hoist: str
    site: str
    made_on: date
    fields: tuple[OrderField, ...]
    invented: bool = False

    @property
    def to_fill(self) -> tuple[OrderField, ...]:
        """Fields that nobody has stated yet."""
        return tuple(one for one in self.fields if one.how == TO_FILL)

    @property
    def to_look_at(self) -> tuple[OrderField, ...]:
        """Fields with something to look at again."""
        return tuple(one for one in self.fields if one.look)

    def get(self, key: str) -> OrderField:
        """The field with a key; a key that is not there is a KeyError."""
        return {one.key: one for one in self.fields}[key]


#: Said on every order sheet.
ORDER_CAUTIONS: Final = (
    "The crane's manual decides what rope belongs on it: hold every field against it.",
    "The length is worked out from the crane as it is rigged, not from the rope that is on it.",
    "A second person, not the one who made the order, checks it before it goes out.",
    "On delivery hold certificate and reel tag against this order before anything is unwound.",
)


def order_as_data(sheet: OrderSheet) -> dict[str, object]:
    """The sheet as plain data for JSON."""
    return {
        "order": 1,
        "rope": sheet.rope_id,
        "crane": sheet.crane,
        "hoist": sheet.hoist,
        "site": sheet.site,
        "made_on": sheet.made_on.isoformat(),
        "invented": sheet.invented,
        "fields": [as_plain_data(one) for one in sheet.fields],
        "to_be_filled_in": [one.key for one in sheet.to_fill],
        "cautions": list(ORDER_CAUTIONS),
    }
