"""What a list of old paper cards gives, whoever reads it."""

from collections.abc import Sequence
from typing import Protocol

from ropewright.errors import InputError
from ropewright.inspection import Inspection


class CardsRead(Protocol):
    """Inspections that old cards make, with an account of every line."""

    @property
    def inspections(self) -> Sequence[Inspection]:
        """The inspections."""

    @property
    def lines(self) -> Sequence[object]:
        """One line for each row of the list."""

    @property
    def errors(self) -> Sequence[InputError]:
        """What was left out."""
