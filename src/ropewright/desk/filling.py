"""Filling a new logbook with whole ropes: their dossier, what else was noted, their pictures."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, Protocol

from ropewright.desk.open_book import Draft, OpenBook
from ropewright.errors import InputError
from ropewright.inspection import Dossier


class Note(Protocol):
    """Something for the logbook that no case file has a place for."""

    @property
    def entry_id(self) -> str:
        """Its id."""

    @property
    def kind(self) -> str:
        """A kind of entry."""

    @property
    def at(self) -> datetime:
        """When it happened."""

    @property
    def person(self) -> str:
        """Who wrote it, in words."""

    @property
    def role(self) -> str:
        """In which role."""

    def with_person(self, person_id: str) -> Mapping[str, Any]:
        """Its content, with the person's id where it is asked for."""


class Picture(Protocol):
    """A picture of a finding."""

    @property
    def entry_id(self) -> str:
        """The id of its entry."""

    @property
    def inspection_id(self) -> str:
        """The inspection it belongs to."""

    @property
    def finding_id(self) -> str:
        """The finding it shows."""

    @property
    def on(self) -> date:
        """The day it was taken."""

    @property
    def caption(self) -> str:
        """What it shows, in words."""

    @property
    def data(self) -> bytes:
        """The picture itself, PNG or JPEG."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WholeRope:
    """Everything that goes into a logbook of one rope."""

    dossier: Dossier
    notes: Sequence[Note] = ()
    pictures: Sequence[Picture] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Filled:
    """What was written of one rope: how many entries of each sort [-]."""

    rope_id: str
    entries: int
    notes: int
    pictures: int


def fill_book(book: OpenBook, lives: Iterable[WholeRope]) -> Iterator[Filled]:
    """Write whole ropes into a logbook by the one path that everything takes.

    Parameters
    ----------
    book
        An open book.
    lives
        The ropes; each is written before the next one is asked for.

    Raises
    ------
    InputError
        If the book refuses a note; the reason is the book's.
    """
    for life in lives:
        rope_id = life.dossier.rope.rope_id
        lines = book.take_in(life.dossier)
        _take_notes(book, rope_id, life.notes)
        for picture in life.pictures:
            book.add_photo(
                picture.data,
                rope_id=rope_id,
                finding_id=picture.finding_id,
                inspection_id=picture.inspection_id,
                entry_id=picture.entry_id,
                person="",
                role="",
                happened_on=picture.on,
                caption=picture.caption,
            )
        yield Filled(
            rope_id=rope_id,
            entries=len(lines),
            notes=len(life.notes),
            pictures=len(life.pictures),
        )


def _take_notes(book: OpenBook, rope_id: str, notes: Sequence[Note]) -> None:
    drafts = []
    for note in notes:
        person = book.note_person(name=note.person, role=note.role)
        drafts.append(
            Draft(
                entry_id=note.entry_id,
                kind=note.kind,
                rope_id=rope_id,
                payload=note.with_person(person),
                happened_on=note.at.date(),
                happened_at=note.at,
                typed_at=note.at,
                person=person,
                role=note.role,
            )
        )
    for note, taken in zip(notes, book.take(drafts), strict=True):
        if taken.state == "refused":
            raise InputError(
                field=f"{note.kind} of {note.at.date().isoformat()}",
                expected="an entry that the book takes",
                given=taken.reason,
            )
