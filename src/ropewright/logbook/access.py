"""Who may come in: accounts, sessions, tokens, failed attempts.  Secrets come in hashed only."""

import json
from collections.abc import Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import Table, bindparam, func, select
from sqlalchemy.exc import IntegrityError

from ropewright.desk.access import Account, Attempts, SessionRow, TokenRow
from ropewright.errors import InputError
from ropewright.logbook.access_tables import ACCOUNTS, ATTEMPTS, SESSIONS, TOKENS
from ropewright.logbook.book import Book
from ropewright.logbook.canon import instant_text, read_instant

#: Names under which attempts failed: beyond so many, those whose wait is over are forgotten.
MOST = 10_000

#: Asked at every request, so they are put together once.
_SESSION = select(SESSIONS).where(SESSIONS.c.token_hash == bindparam("token_hash"))
_ACCOUNT = select(ACCOUNTS).where(ACCOUNTS.c.person_id == bindparam("person_id"))


def _moment(text: str | None) -> datetime | None:
    return None if text is None else read_instant(text)


def _account(row: Any) -> Account:  # noqa: ANN401 - a row of the table
    return Account(
        person_id=row.person_id, login=row.login, name=row.name,
        roles=tuple(json.loads(row.roles)), password_hash=row.password_hash,
        active=bool(row.active), units=row.units, hand=row.hand, theme=row.theme,
    )  # fmt: skip


def _session(row: Any) -> SessionRow:  # noqa: ANN401 - a row of the table
    return SessionRow(
        token_hash=row.token_hash, person_id=row.person_id, csrf=row.csrf,
        made_at=read_instant(row.made_at), seen_at=read_instant(row.seen_at),
    )  # fmt: skip


def _token(row: Any) -> TokenRow:  # noqa: ANN401 - a row of the table
    return TokenRow(
        token_id=row.token_id, token_hash=row.token_hash, person_id=row.person_id,
        name=row.name, purpose=row.purpose, made_at=read_instant(row.made_at),
        revoked_at=_moment(row.revoked_at),
    )  # fmt: skip


class AccessTables:
    """Who may come into a book.

    Parameters
    ----------
    book
        The open book; the tables lie beside its entries.
    """

    def __init__(self, book: Book) -> None:
        self._book = book

    # --- accounts ---

    def accounts(self) -> Sequence[Account]:
        """All accounts, sorted by login."""
        with self._book.reader() as conn:
            return [_account(row) for row in conn.execute(select(ACCOUNTS).order_by("login"))]

    def account(self, person_id: str) -> Account | None:
        """An account by its person."""
        with self._book.reader() as conn:
            row = conn.execute(select(ACCOUNTS).where(ACCOUNTS.c.person_id == person_id)).first()
        return None if row is None else _account(row)

    def account_by_login(self, login: str) -> Account | None:
        """An account by its login, in any case of letters."""
        name = login.strip().casefold()
        with self._book.reader() as conn:
            row = conn.execute(select(ACCOUNTS).where(ACCOUNTS.c.login == name)).first()
        return None if row is None else _account(row)

    def put_account(self, account: Account) -> None:
        """Add an account or change it.

        Raises
        ------
        InputError
            If another person has this login.
        """
        login = account.login.strip().casefold()
        if not login or len(login) > 100 or not login.isprintable():
            raise InputError(
                field="login", expected="1 to 100 printable characters", given=account.login
            )
        values = {
            "login": login, "name": account.name, "roles": json.dumps(list(account.roles)),
            "password_hash": account.password_hash, "active": account.active,
            "units": account.units, "hand": account.hand, "theme": account.theme,
        }  # fmt: skip
        with self._book.writer() as conn:
            other = select(ACCOUNTS.c.person_id).where(ACCOUNTS.c.login == login)
            holder = conn.execute(other).scalar()
            if holder not in (None, account.person_id):
                raise InputError(field="login", expected="one that nobody has", given=login)
            change = ACCOUNTS.update().where(ACCOUNTS.c.person_id == account.person_id)
            if conn.execute(change.values(**values)).rowcount == 0:
                conn.execute(ACCOUNTS.insert().values(person_id=account.person_id, **values))

    # --- sessions ---

    def add_session(self, row: SessionRow) -> None:
        """Keep a new session."""
        self._insert(
            SESSIONS,
            token_hash=row.token_hash, person_id=row.person_id, csrf=row.csrf,
            made_at=instant_text(row.made_at), seen_at=instant_text(row.seen_at),
        )  # fmt: skip

    def session(self, token_hash: str) -> SessionRow | None:
        """A session by the hash of its secret."""
        with self._book.reader() as conn:
            row = conn.execute(select(SESSIONS).where(SESSIONS.c.token_hash == token_hash)).first()
        return None if row is None else _session(row)

    def session_with_account(self, token_hash: str) -> tuple[SessionRow, Account | None] | None:
        """A session and whose it is, read as one."""
        with self._book.reader() as conn:
            row = conn.execute(_SESSION, {"token_hash": token_hash}).first()
            if row is None:
                return None
            whose = conn.execute(_ACCOUNT, {"person_id": row.person_id}).first()
        return _session(row), None if whose is None else _account(whose)

    def touch_session(self, token_hash: str, seen_at: datetime) -> None:
        """Note that a session was used."""
        change = SESSIONS.update().where(SESSIONS.c.token_hash == token_hash)
        self._run(change.values(seen_at=instant_text(seen_at)))

    def end_session(self, token_hash: str) -> None:
        """End one session."""
        self._run(SESSIONS.delete().where(SESSIONS.c.token_hash == token_hash))

    def end_sessions_of(self, person_id: str) -> None:
        """End every session of a person."""
        self._run(SESSIONS.delete().where(SESSIONS.c.person_id == person_id))

    def end_sessions_before(self, seen_at: datetime) -> None:
        """End sessions that were last used before a moment."""
        self._run(SESSIONS.delete().where(SESSIONS.c.seen_at < instant_text(seen_at)))

    # --- tokens ---

    def add_token(self, row: TokenRow) -> None:
        """Keep a new token."""
        self._insert(
            TOKENS,
            token_id=row.token_id, token_hash=row.token_hash, person_id=row.person_id,
            name=row.name, purpose=row.purpose, made_at=instant_text(row.made_at),
        )  # fmt: skip

    def tokens(self) -> Sequence[TokenRow]:
        """All tokens, newest last."""
        with self._book.reader() as conn:
            return [_token(row) for row in conn.execute(select(TOKENS).order_by("made_at"))]

    def token(self, token_hash: str) -> TokenRow | None:
        """A token by the hash of its secret; a revoked one is none."""
        with self._book.reader() as conn:
            row = conn.execute(select(TOKENS).where(TOKENS.c.token_hash == token_hash)).first()
        return None if row is None or row.revoked_at is not None else _token(row)

    def revoke_token(self, token_id: str, at: datetime) -> bool:
        """Revoke a token; tells whether there was one."""
        change = TOKENS.update().where(TOKENS.c.token_id == token_id)
        return self._run(change.values(revoked_at=instant_text(at))) == 1

    # --- failed attempts ---

    def attempts(self, name_hash: str) -> Attempts:
        """Failed attempts under a name."""
        with self._book.reader() as conn:
            row = conn.execute(select(ATTEMPTS).where(ATTEMPTS.c.name_hash == name_hash)).first()
        if row is None:
            return Attempts(failures=0, wait_until=None)
        return Attempts(failures=row.failures, wait_until=_moment(row.wait_until))

    def put_attempts(self, name_hash: str, attempts: Attempts) -> None:
        """Note failed attempts under a name."""
        until = None if attempts.wait_until is None else instant_text(attempts.wait_until)
        values = {"failures": attempts.failures, "wait_until": until}
        with self._book.writer() as conn:
            change = ATTEMPTS.update().where(ATTEMPTS.c.name_hash == name_hash).values(**values)
            if conn.execute(change).rowcount == 0:
                conn.execute(ATTEMPTS.insert().values(name_hash=name_hash, **values))
                if (conn.execute(select(func.count()).select_from(ATTEMPTS)).scalar() or 0) > MOST:
                    over = instant_text(self._book.now())
                    past = ATTEMPTS.c.wait_until.is_(None) | (ATTEMPTS.c.wait_until < over)
                    conn.execute(ATTEMPTS.delete().where(past))

    def clear_attempts(self, name_hash: str) -> None:
        """Forget failed attempts under a name."""
        self._run(ATTEMPTS.delete().where(ATTEMPTS.c.name_hash == name_hash))

    # --- helpers ---

    def _insert(self, table: Table, **values: object) -> None:
        with self._book.writer() as conn:
            try:
                conn.execute(table.insert().values(**values))
            except IntegrityError as error:
                raise InputError("stands there already", field=table.name) from error

    def _run(self, statement: Any) -> int:  # noqa: ANN401 - any statement that writes
        with self._book.writer() as conn:
            return int(conn.execute(statement).rowcount)
