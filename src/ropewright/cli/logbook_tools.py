"""What the logbook commands ask of a logbook; the wiring fills it in."""

from collections.abc import Sequence
from pathlib import Path
from typing import Protocol

from ropewright.inspection import Dossier


class Accounted(Protocol):
    """What became of a rope that was taken in."""

    @property
    def taken(self) -> Sequence[object]:
        """Entries that are new."""

    @property
    def already(self) -> Sequence[object]:
        """Entries that stood there already."""

    @property
    def corrected(self) -> Sequence[object]:
        """Entries that were corrected."""

    def lines(self) -> Sequence[str]:
        """One line for each entry."""


class Moved(Protocol):
    """What became of another book that was taken in."""

    @property
    def seal(self) -> object:
        """Its last seal."""

    @property
    def taken(self) -> int:
        """Entries that are new."""

    @property
    def already(self) -> int:
        """Entries that stood there already."""


class Verified(Protocol):
    """What verifying a book found."""

    @property
    def seal(self) -> object:
        """The seal of the book as it is."""

    @property
    def entries(self) -> int:
        """Number of entries."""

    @property
    def ropes(self) -> int:
        """Number of ropes."""

    @property
    def seals(self) -> int:
        """Number of earlier seals that were compared."""

    @property
    def problems(self) -> Sequence[object]:
        """Everything that does not hold."""

    def must_hold(self, file: str | None = None) -> None:
        """Raise an error if anything does not hold."""


class Derived(Protocol):
    """What deriving the standing anew found."""

    @property
    def ropes(self) -> int:
        """Number of ropes."""

    @property
    def changed(self) -> Sequence[str]:
        """Ropes whose standing had differed."""


class LogbookTools(Protocol):
    """What the commands ask of a logbook."""

    def init(self, address: str) -> object:
        """Make a new book; gives its first seal."""

    def take_in(self, address: str, dossier: Dossier, *, correct: str | None = None) -> Accounted:
        """Take a rope into a book."""

    def import_book(self, address: str, path: Path, *, quarantine: Path | None = None) -> Moved:
        """Add the entries of an exported book."""

    def export_book(self, address: str, path: Path) -> object:
        """Write the whole book; gives its last seal."""

    def export_findings(self, address: str, path: Path, ropes: Sequence[str] = ()) -> int:
        """Write findings as CSV; gives the number of ropes [-]."""

    def export_calendar(self, address: str, path: Path) -> int:
        """Write what is due as a calendar; gives the number of items [-]."""

    def export_checker(self, path: Path) -> None:
        """Write the single file that checks an export."""

    def verify(self, address: str, seals: Sequence[str] = ()) -> Verified:
        """Check the whole book."""

    def rebuild(self, address: str) -> Derived:
        """Derive where every rope stands anew."""

    def backup(self, address: str, path: Path) -> object:
        """Save the book to one file; gives its last seal."""

    def restore(self, path: Path, address: str) -> object:
        """Make a book from a backup; gives its last seal."""

    def load(self, address: str, rope_id: str) -> "BookedCase":
        """A rope of a book, in the shape a case file has once it was read."""


class BookedCase(Protocol):
    """A rope as a book has it."""

    @property
    def dossier(self) -> Dossier:
        """Everything known of the rope."""

    @property
    def sha256(self) -> str:
        """Last hash of the rope's chain, as hex digits."""

    @property
    def warnings(self) -> Sequence[str]:
        """What looks odd but could be read."""
