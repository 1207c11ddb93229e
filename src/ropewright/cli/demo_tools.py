"""What the demo command is given to work with; the wiring fills it in."""

from collections.abc import Callable, Mapping, Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass
from datetime import date
from typing import Protocol

from ropewright.desk.filling import Note, Picture
from ropewright.desk.open_book import OpenBook


class SiteRope(Protocol):
    """A rope of the invented site."""

    @property
    def name(self) -> str:
        """What it is asked for by."""

    @property
    def rope_id(self) -> str:
        """The id in its case file."""

    @property
    def teaches(self) -> str:
        """Why it is there, in a few words."""


class NamedPicture(Picture, Protocol):
    """A picture with the file name that findings call it by."""

    @property
    def name(self) -> str:
        """Its file name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DemoTools:
    """The invented site, and how an empty logbook is opened for it."""

    usual_seed: int
    day: date
    site: Sequence[SiteRope]
    case: Callable[[str, int], str]
    photos: Callable[[str, int], Sequence[NamedPicture]]
    notes: Callable[[str], Sequence[Note]]
    lifts: Callable[[str, int], Mapping[str, str]]
    new_book: Callable[[str], AbstractContextManager[OpenBook]]
