"""What the logbook commands ask of a logbook; the wiring fills it in."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any, Protocol

from ropewright.desk.cards_read import CardsRead
from ropewright.desk.rope_life import RopeLife
from ropewright.inspection import Dossier, Inspection


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

    @property
    def photos(self) -> int:
        """Photos that are new."""

    @property
    def photos_absent(self) -> int:
        """Photos that were not sent along."""

    @property
    def lines(self) -> Sequence[str]:
        """One line for each entry, if that was asked for."""


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

    def add(self, address: str, rope_id: str, what: object, *, on: date | None = None) -> str:
        """Add one entry about a rope; gives its id."""

    def take_in_cards(
        self,
        address: str,
        rope_id: str,
        inspections: Sequence[Inspection],
        *,
        correct: str | None = None,
        origin: str = "old cards",
    ) -> Accounted:
        """Add inspections from old cards or a list of findings to a rope of a book."""

    def import_book(
        self,
        address: str,
        path: Path,
        *,
        quarantine: Path | None = None,
        called: Mapping[str, str] | None = None,
        same: Sequence[str] = (),
        account: bool = False,
    ) -> Moved:
        """Add the entries and photos of an exported book."""

    def export_book(self, address: str, path: Path) -> object:
        """Write the whole book; gives its last seal."""

    def export_table(
        self, address: str, path: Path, ropes: Sequence[str] = (), *, what: str = "findings"
    ) -> int:
        """Write findings, readings or inspections as CSV; gives the number of ropes [-]."""

    def tables(
        self, address: str, ropes: Sequence[str] = ()
    ) -> Mapping[str, tuple[Sequence[str], Sequence[Mapping[str, object]]]]:
        """Findings, readings and inspections, with columns and rows by name."""

    def export_calendar(self, address: str, path: Path) -> int:
        """Write what is due as a calendar; gives the number of items [-]."""

    def export_checker(self, path: Path) -> None:
        """Write the single file that checks an export."""

    def typed_kinds(self) -> Mapping[str, Sequence[str]]:
        """Kinds of entries that can be typed, with their fields."""

    def add_typed(
        self,
        address: str,
        rope_id: str,
        kind: str,
        values: Mapping[str, str],
        *,
        by: str,
        role: str,
        on: date,
    ) -> str:
        """Add one entry that was typed; gives its id."""

    def add_photo(
        self,
        address: str,
        rope_id: str,
        path: Path,
        *,
        finding_id: str,
        inspection_id: str,
        caption: str,
        scale_in_frame: bool | None,
        happened_on: date,
    ) -> str:
        """Put a photo into the book; gives its hash."""

    def erase(self, address: str, what: str, ref: str, *, reason: str) -> None:
        """Erase the data of a person or a photo."""

    def life(self, address: str, rope_id: str, made_on: date) -> RopeLife:
        """The life of a rope, for its card."""

    def listed(self, address: str, rope_id: str, *, as_of: date | None = None) -> Sequence[str]:
        """Every entry of a rope, one line each."""

    def standing(self, address: str) -> Sequence[Mapping[str, Any]]:
        """Where every rope stands."""

    def standing_on(self, address: str, rope_id: str, as_of: date) -> Mapping[str, Any]:
        """Where a rope stood on a day."""

    def verify(self, address: str, seals: Sequence[str] = ()) -> Verified:
        """Check the whole book."""

    def rebuild(self, address: str) -> Derived:
        """Derive where every rope stands anew."""

    def backup(self, address: str, path: Path) -> object:
        """Save the book to one file; gives its last seal."""

    def restore(self, path: Path, address: str) -> object:
        """Make a book from a backup; gives its last seal."""

    def names(self, address: str) -> tuple[str, ...]:
        """Ids of all ropes of a book."""

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


class CardsReader(Protocol):
    """Reads a list of old cards."""

    def __call__(
        self, path: Path, dossier: Dossier, /, *, place_err: str | None, leave_out: bool
    ) -> CardsRead:
        """The inspections, or an error that names row and column."""


class ListReader(Protocol):
    """Reads a list of findings as an inspection."""

    def __call__(
        self, path: Path, dossier: Dossier, /, *, kind: str, on: date, by: str
    ) -> Inspection:
        """The inspection, or an error that names row and column."""


class CaseWriter(Protocol):
    """Writes a rope as a case file."""

    def __call__(self, dossier: Dossier, /, *, folder: Path | None, heading: str) -> str:
        """The text, or an error that names what a case file cannot hold."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BookTools:
    """What comes in and goes out beside the book itself."""

    write_case: CaseWriter
    read_old_cards: CardsReader
    inspection_of_list: ListReader
    sheets_xlsx: Callable[..., bytes]
    rope_card_pdf: Callable[[RopeLife], bytes]
