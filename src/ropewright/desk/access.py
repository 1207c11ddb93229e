"""The port to who may come in: people with credentials, sessions, tokens, failed attempts."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Protocol


@dataclass(frozen=True, slots=True, kw_only=True)
class Account:
    """A person who may log in.  ``password_hash`` is empty until a password was set."""

    person_id: str
    login: str
    name: str
    roles: tuple[str, ...]
    password_hash: str = ""
    active: bool = True
    units: str = "metric"
    hand: str = "right"
    theme: str = "auto"


@dataclass(frozen=True, slots=True, kw_only=True)
class SessionRow:
    """A session as it is kept: the hash of its secret, never the secret."""

    token_hash: str
    person_id: str
    csrf: str
    made_at: datetime
    seen_at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class TokenRow:
    """A token for a program or a calendar; ``purpose`` bounds what it opens."""

    token_id: str
    token_hash: str
    person_id: str
    name: str
    purpose: str
    made_at: datetime
    revoked_at: datetime | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Attempts:
    """Failed attempts under one name, known or not, and until when the next one waits."""

    failures: int
    wait_until: datetime | None


class AccessBook(Protocol):
    """Keeps who may come in; never the secrets themselves, only their hashes."""

    def accounts(self) -> Sequence[Account]:
        """All accounts, sorted by login."""

    def account(self, person_id: str) -> Account | None:
        """An account by its person."""

    def account_by_login(self, login: str) -> Account | None:
        """An account by its login, in any case of letters."""

    def put_account(self, account: Account) -> None:
        """Add an account or change it; a login that another person has is an input error."""

    def add_session(self, row: SessionRow) -> None:
        """Keep a new session."""

    def session(self, token_hash: str) -> SessionRow | None:
        """A session by the hash of its secret."""

    def session_with_account(self, token_hash: str) -> tuple[SessionRow, Account | None] | None:
        """A session and whose it is, read as one."""

    def touch_session(self, token_hash: str, seen_at: datetime) -> None:
        """Note that a session was used."""

    def end_session(self, token_hash: str) -> None:
        """End one session."""

    def end_sessions_of(self, person_id: str) -> None:
        """End every session of a person."""

    def end_sessions_before(self, seen_at: datetime) -> None:
        """End sessions that were last used before a moment."""

    def add_token(self, row: TokenRow) -> None:
        """Keep a new token."""

    def tokens(self) -> Sequence[TokenRow]:
        """All tokens, newest last."""

    def token(self, token_hash: str) -> TokenRow | None:
        """A token by the hash of its secret; a revoked one is none."""

    def revoke_token(self, token_id: str, at: datetime) -> bool:
        """Revoke a token; tells whether there was one."""

    def attempts(self, name_hash: str) -> Attempts:
        """Failed attempts under a name."""

    def put_attempts(self, name_hash: str, attempts: Attempts) -> None:
        """Note failed attempts under a name."""

    def clear_attempts(self, name_hash: str) -> None:
        """Forget failed attempts under a name."""
