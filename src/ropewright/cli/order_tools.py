"""What the commands for a new rope ask of the logbook and of paper; the wiring fills it in."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Any, Protocol

from ropewright.desk import FittingGuide, OrderSheet


class OrderKept(Protocol):
    """An order as the book has it."""

    @property
    def order(self) -> Any:  # noqa: ANN401 - the logbook's own type, read by field name
        """Its fields."""

    @property
    def made_on(self) -> date | None:
        """The day it was made."""

    @property
    def ordered_by(self) -> str:
        """Who made it."""

    @property
    def checked_by(self) -> str:
        """Who checked it, empty if nobody."""

    @property
    def agrees(self) -> bool | None:
        """What the second person said."""


class OrderBook(Protocol):
    """Orders in a logbook."""

    def keep_order(
        self,
        address: str,
        rope_id: str,
        values: Mapping[str, Any],
        *,
        order_id: str,
        by: str,
        on: date,
        to_fill: Sequence[str],
        length_steps: Sequence[str],
    ) -> None:
        """Keep an order."""

    def check_order(
        self,
        address: str,
        rope_id: str,
        order_id: str,
        *,
        by: str,
        on: date,
        agrees: bool,
        remark: str,
    ) -> None:
        """A second person went over it."""

    def orders(self, address: str, rope_id: str) -> Sequence[OrderKept]:
        """Orders of a rope, oldest first."""


class FittingBook(Protocol):
    """The fitting of a rope in a logbook."""

    def fitting(self, address: str, rope_id: str) -> FittingGuide:
        """What is done and what comes next."""

    def begin_fitting(
        self, address: str, rope_id: str, *, by: str, on: date, order_of: str, order_id: str
    ) -> None:
        """Begin to fit a rope."""

    def say_step(
        self,
        address: str,
        rope_id: str,
        step: str,
        *,
        by: str,
        on: date,
        done: bool,
        values: Mapping[str, str],
        remark: str,
    ) -> None:
        """A step is done or not right."""

    def record_reference(
        self,
        address: str,
        rope_id: str,
        *,
        by: str,
        on: date,
        places: Sequence[tuple[float, tuple[Fraction, Fraction]]],
        tension: str,
        lay_length_mm: Fraction | None,
        instrument: str | None,
    ) -> None:
        """Keep the reference measurement.

        ``places`` [m, mm] are rope positions with two readings each; ``lay_length_mm`` [mm].
        """

    def release_fitting(self, address: str, rope_id: str, *, by: str, on: date) -> None:
        """Let the rope into service, by name."""


class OrderPrinter(Protocol):
    """Sets an order sheet."""

    def __call__(self, sheet: OrderSheet, /, *, order_id: str, ordered_by: str) -> bytes:
        """A PDF."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RopeChangeTools:
    """What ordering and fitting a rope needs beside the case."""

    orders: OrderBook
    fitting: FittingBook
    order_pdf: OrderPrinter
