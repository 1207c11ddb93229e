"""What entries of the book itself hold: persons, what was erased, corrections, other books."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any, Literal

from ropewright.errors import InputError


@dataclass(frozen=True, slots=True, kw_only=True)
class PersonNoted:
    """What is known of a person is kept apart; ``seal`` is its salted hash."""

    person: str
    seal: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Erased:
    """What was kept of a person, or a photo, is gone; this says that and why."""

    what: Literal["person", "photo"]
    ref: str
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Correction:
    """An earlier entry holds other content from now on, or none (``payload`` is ``None``).

    The earlier entry stays where it is and stays readable.
    """

    corrects: str
    reason: str
    payload: Mapping[str, Any] | None = None
    happened_on: date | None = None

    def __post_init__(self) -> None:
        if not self.reason.strip():
            raise InputError(field="reason", expected="why it is corrected", given=self.reason)


@dataclass(frozen=True, slots=True, kw_only=True)
class BookTakenIn:
    """The entries of another book follow; ``seal`` is that book's last one.

    ``called`` gives the new names of ropes that were called otherwise there.
    """

    book_id: str
    seal: str
    entries: int
    called: Mapping[str, str] = field(default_factory=dict)
