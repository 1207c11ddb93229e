"""What the commands for the server ask of it; the wiring fills it in."""

from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol


class Person(Protocol):
    """A person who may log in."""

    @property
    def login(self) -> str:
        """What they type."""

    @property
    def name(self) -> str:
        """Who they are."""

    @property
    def roles(self) -> Sequence[str]:
        """What they may do."""

    @property
    def active(self) -> bool:
        """Whether they may still come in."""


class PeopleTools(Protocol):
    """People of one book."""

    def add(self, login: str, name: str, roles: Sequence[str], password: str) -> Person:
        """Add a person with a password."""

    def all(self) -> Sequence[Person]:
        """Everybody."""

    def set_password(self, login: str, password: str) -> None:
        """Give a person another password."""

    def set_active(self, login: str, *, active: bool) -> None:
        """Let a person in again, or no more."""

    def set_roles(self, login: str, roles: Sequence[str]) -> None:
        """Give a person other roles."""

    def new_token(self, login: str, name: str, purpose: str) -> tuple[str, object]:
        """Make a token; its secret comes first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ServeWish:
    """How a book is to be served."""

    address: str
    host: str
    port: int
    single_user: bool
    cert: Path | None = None
    key: Path | None = None
    names: tuple[str, ...] = ()


class ServerTools(Protocol):
    """The server, and the people it lets in."""

    def serve(self, wish: ServeWish, tell: Callable[[str], None], /) -> None:
        """Serve a book until stopped; ``tell`` says what to know at the start."""

    def people(self, address: str, /) -> AbstractContextManager[PeopleTools]:
        """People of a book."""
