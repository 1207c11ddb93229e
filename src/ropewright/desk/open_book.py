"""The port to a logbook that is open: what pages and phones ask of it, in plain data."""

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, Literal, Protocol, TypeAlias

from ropewright.desk.installing import FittingGuide
from ropewright.inspection import Dossier, Inspection

TakeState: TypeAlias = Literal["taken", "known", "refused"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """An entry as it was handed in; nothing of it is trusted yet.

    ``payload`` is plain data or its text.  ``person`` and ``role`` say whose hand made it;
    ``clock_off_s`` [s] is how far the device's clock was ahead of the book's.
    """

    entry_id: str
    kind: str
    rope_id: str = ""
    payload: Any = None
    happened_on: date | None = None
    happened_at: datetime | None = None
    typed_at: datetime | None = None
    clock_off_s: int | None = None
    person: str = ""
    role: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """What became of one entry that was handed in."""

    entry_id: str
    state: TakeState
    reason: str = ""
    field: str = ""
    sequence: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BookMoved:
    """What became of another book: entries [-] added, there already, photos; line by line.

    ``photos_absent`` [-] photos are spoken of and were not sent along; ``seal`` is its last one.
    """

    seal: str
    taken: int
    already: int
    photos: int
    photos_absent: int
    lines: Sequence[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One entry as it stands in the book, with what the book added."""

    sequence: int
    rope_sequence: int
    entry_id: str
    rope_id: str
    kind: str
    says: str
    payload: Mapping[str, Any]
    happened_on: date | None
    happened_at: datetime | None
    typed_at: datetime | None
    clock_off_s: int | None
    arrived_at: datetime
    by: tuple[tuple[str, str], ...]
    book_hash: str
    rope_hash: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """Where a rope stands: the short record, and the number of its newest entry [-].

    ``people`` is another one as soon as a person is noted or erased: names come from there.
    """

    rope_id: str
    sequence: int
    record: Mapping[str, Any]
    people: tuple[int, int] = (0, 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """What verifying the book found."""

    seal: str
    entries: int
    ropes: int
    seals: int
    problems: tuple[str, ...]


class OpenBook(Protocol):
    """A logbook that stays open while pages are served; each call is one transaction."""

    @property
    def book_id(self) -> str:
        """Which book this is."""

    @property
    def address(self) -> str:
        """Where it is, as it may be shown."""

    def newest(self) -> int:
        """Number of the newest entry [-]: whoever knows it knows whether anything changed."""

    def seal(self) -> str:
        """The seal of the book as it is."""

    def stands(self) -> Sequence[Stand]:
        """Where every rope stands, sorted by rope."""

    def stand(self, rope_id: str) -> Stand:
        """Where one rope stands; an unknown rope is an error that names near ones."""

    def dossier(self, rope_id: str) -> Dossier:
        """Everything known of a rope."""

    def rope_head(self, rope_id: str) -> str:
        """The last hash of a rope's chain."""

    def lines(
        self,
        rope_id: str | None = None,
        *,
        kinds: Collection[str] = (),
        newest_first: bool = True,
        most: int = 500,
        before: int | None = None,
        days: tuple[date | None, date | None] = (None, None),
    ) -> Sequence[Line]:
        """Entries of a rope, of the book itself (empty text) or of everything (``None``).

        Parameters
        ----------
        rope_id
            The rope.
        kinds
            Only these kinds of entries; all if none is named.
        newest_first
            The other way round if false.
        most
            At most so many [-].
        before
            Only entries with a lower number [-]: the rope's own, or the book's for everything.
        days
            Only what happened from the first to the last of these days; what has no day of its
            own goes by the day on which it arrived.
        """

    def kinds(self, rope_id: str | None = None) -> Mapping[str, int]:
        """How many entries of each kind [-] a rope has, or the whole book (``None``)."""

    def line(self, entry_id: str) -> Line | None:
        """One entry by its id."""

    def names(self) -> Mapping[str, str]:
        """Every known person as one line of text, by id."""

    def take(
        self,
        drafts: Sequence[Draft],
        *,
        trial: Callable[[Dossier], object] | None = None,
    ) -> Sequence[Taken]:
        """Take in what can be taken; one refused entry never holds up the others.

        Parameters
        ----------
        drafts
            As handed in.
        trial
            Tried on the rope with the new entries; if it works without them and fails with
            them, they are refused.
        """

    def note_person(self, *, name: str, role: str) -> str:
        """Make a person known to the book; gives the id."""

    def add_photo(
        self,
        data: bytes,
        *,
        rope_id: str,
        finding_id: str,
        inspection_id: str,
        entry_id: str,
        person: str,
        role: str,
        happened_on: date | None = None,
        caption: str = "",
    ) -> str:
        """Keep a photo and add its entry; gives its hash."""

    def photo(self, sha256: str) -> bytes:
        """The copy of a photo without its location."""

    def keep_report(self, data: bytes) -> str:
        """Keep a report frozen as it was signed; gives its hash."""

    def report(self, sha256: str) -> bytes:
        """A report that was kept."""

    def check(self, seals: Iterable[str] = ()) -> Check:
        """Verify the whole book, also against earlier seals."""

    def take_in(self, dossier: Dossier, *, correct: str | None = None) -> Sequence[str]:
        """Take a rope into the book; gives one line for each entry."""

    def take_in_book(
        self, name: str, data: bytes, *, called: Mapping[str, str], same: Collection[str]
    ) -> BookMoved:
        """Take another book in, by the name of its file; ``called`` are new names of ropes."""

    def take_in_cards(
        self, rope_id: str, inspections: Sequence[Inspection], *, correct: str | None = None
    ) -> Sequence[str]:
        """Add inspections of old cards to a rope; gives one line for each entry."""

    def fitting(self, rope_id: str) -> FittingGuide:
        """What is done of fitting a rope, and what comes next."""

    def kept_glances(self) -> Mapping[str, tuple[str, str]]:
        """What was kept of each rope: what it was made from, and its text."""

    def keep_glances(self, made: Mapping[str, tuple[str, str]]) -> None:
        """Keep what was judged of ropes, in place of what was kept before."""

    def close(self) -> None:
        """Let go of the database."""
