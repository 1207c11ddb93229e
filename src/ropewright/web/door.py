"""Logging in, staying in, getting out; and waiting longer after each wrong password."""

import base64
import hashlib
import secrets
import uuid
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Final

from ropewright.desk.access import AccessBook, Account, Attempts, SessionRow, TokenRow
from ropewright.errors import InputError
from ropewright.web.caller import ROLES, Caller
from ropewright.web.hashing import (
    LEAST_LETTERS,
    MOST_LETTERS,
    PasswordKeeper,
    hashed,
    new_secret,
    same,
)
from ropewright.web.settings import Settings

#: So many wrong passwords in a row cost nothing; each further one doubles the wait.
FREE_FAILURES: Final = 4
FIRST_WAIT_S: Final = 15
LONGEST_WAIT_S: Final = 3600
#: A session is noted as used at most this often [s].
TOUCH_S: Final = 300

LOCAL_LOGIN: Final = "this machine"
PURPOSES: Final = ("api", "calendar")


class RefusedLogin(Exception):  # noqa: N818 - it is an answer, not a fault
    """Name and password do not go together, or it is too early to try again.

    ``wait_s`` [s] is how long the next attempt waits; the words are the same for a name that
    nobody has.
    """

    def __init__(self, wait_s: int) -> None:
        super().__init__(wait_s)
        self.wait_s = wait_s


class Door:
    """Lets people in and knows them again.

    Parameters
    ----------
    access
        Where accounts and sessions are kept.
    passwords
        Compares passwords.
    now
        The clock.
    settings
        How long sessions last, and whether there is a login at all.
    """

    def __init__(
        self,
        access: AccessBook,
        passwords: PasswordKeeper,
        now: Callable[[], datetime],
        settings: Settings,
    ) -> None:
        self._access = access
        self.passwords = passwords
        self._now = now
        self._settings = settings
        self._local: Caller | None = None
        self._local_csrf = new_secret()

    # --- with a password ---

    def log_in(self, login: str, password: str) -> str:
        """Check name and password; gives the secret of a new session.

        Raises
        ------
        RefusedLogin
            If they do not go together, or the wait is not over.
        """
        account = self._checked(login, password)
        secret, now = new_secret(), self._now()
        self._access.end_sessions_before(now - timedelta(seconds=self._settings.idle_s))
        self._access.add_session(
            SessionRow(
                token_hash=hashed(secret), person_id=account.person_id, csrf=new_secret(),
                made_at=now, seen_at=now,
            )
        )  # fmt: skip
        return secret

    def prove(self, caller: Caller, password: str) -> None:
        """Check the password of somebody who is in already, for a signature.

        Raises
        ------
        RefusedLogin
            If it is wrong, or the wait is not over.
        """
        if caller.single_user:
            return
        if self._checked(caller.login, password).person_id != caller.person_id:
            raise RefusedLogin(0)

    def _checked(self, login: str, password: str) -> Account:
        name = login.strip().casefold()[:200]
        key = hashlib.sha256(name.encode()).hexdigest()
        now = self._now()
        before = self._access.attempts(key)
        if before.wait_until is not None and before.wait_until > now:
            raise RefusedLogin(_seconds(before.wait_until - now))
        account = self._access.account_by_login(name) if name else None
        known = "" if account is None or not account.active else account.password_hash
        if self.passwords.verify(known, password[:MOST_LETTERS]) and account is not None:
            if before.failures:
                self._access.clear_attempts(key)
            return account
        failures = before.failures + 1
        wait_s = 0
        if failures > FREE_FAILURES:
            wait_s = min(LONGEST_WAIT_S, FIRST_WAIT_S * 2 ** min(failures - FREE_FAILURES - 1, 20))
        until = now + timedelta(seconds=wait_s) if wait_s else None
        self._access.put_attempts(key, Attempts(failures=failures, wait_until=until))
        raise RefusedLogin(wait_s)

    # --- without one ---

    def of_cookie(self, secret: str) -> Caller | None:
        """Who a session belongs to; ``None`` if it is none, or ended."""
        key = hashed(secret)
        found = self._access.session_with_account(key)
        if found is None:
            return None
        row, account = found
        now = self._now()
        idle, age = now - row.seen_at, now - row.made_at
        if (
            idle.total_seconds() > self._settings.idle_s
            or age.total_seconds() > self._settings.absolute_s
        ):
            self._access.end_session(key)
            return None
        if account is None or not account.active:
            return None
        if idle.total_seconds() > TOUCH_S:
            self._access.touch_session(key, now)
        return replace(caller_of(account), via="cookie", csrf=row.csrf)

    def of_token(self, secret: str, purpose: str) -> Caller | None:
        """Who a token belongs to; ``None`` if it is none, revoked, or for something else."""
        row = self._access.token(hashed(secret))
        if row is None or row.purpose != purpose:
            return None
        account = self._access.account(row.person_id)
        return None if account is None or not account.active else caller_of(account)

    def local(self) -> Caller:
        """The one person of single-user mode, who has every role."""
        if self._local is None:
            account = self._access.account_by_login(LOCAL_LOGIN)
            if account is None:
                raise InputError("single-user mode was not prepared", field="--single-user")
            self._local = replace(
                caller_of(account), via="single user", csrf=self._local_csrf, roles=ROLES
            )
        return self._local

    def readers(self) -> list[Caller]:
        """One of everybody for whom pages look alike: by their units, and what they may do."""
        if self._settings.single_user:
            return [self.local()]
        accounts = [one for one in self._access.accounts() if one.active]
        alike = {(one.units, frozenset(one.roles)): one for one in accounts}
        return [caller_of(one) for one in alike.values()]

    def log_out(self, secret: str) -> None:
        """End a session."""
        self._access.end_session(hashed(secret))

    def forget_local(self) -> None:
        """Read the one person of single-user mode anew, after their choices changed."""
        self._local = None

    # --- for the keeper ---

    def set_password(self, account: Account, password: str) -> Account:
        """Give an account another password and end its sessions.

        Raises
        ------
        InputError
            If it is too short.
        """
        check_password(password)
        changed = replace(account, password_hash=self.passwords.hash(password))
        self._access.put_account(changed)
        self._access.end_sessions_of(account.person_id)
        return changed

    def new_token(self, person_id: str, name: str, purpose: str) -> tuple[str, TokenRow]:
        """Make a token; its secret is shown this once."""
        if purpose not in PURPOSES:
            raise InputError(field="purpose", expected=" or ".join(PURPOSES), given=purpose)
        secret = new_secret()
        row = TokenRow(
            token_id=str(uuid.uuid4()), token_hash=hashed(secret), person_id=person_id,
            name=name.strip()[:100] or "no name", purpose=purpose, made_at=self._now(),
        )  # fmt: skip
        self._access.add_token(row)
        return secret, row


def check_password(password: str) -> None:
    """Refuse a password that is too short.

    Raises
    ------
    InputError
        If it is; the password is not repeated.
    """
    if not LEAST_LETTERS <= len(password) <= MOST_LETTERS:
        raise InputError(
            field="password", expected=f"{LEAST_LETTERS} to {MOST_LETTERS} letters",
            given=f"{len(password)} letters",
        )  # fmt: skip


def form_token(caller: Caller) -> str:
    """What forms of one answer bring along: the session's secret under a pad of chance.

    Answers are sent compressed; a text that stayed the same could be guessed by their length.
    """
    secret = caller.csrf.encode()
    if not secret:
        return ""
    pad = secrets.token_bytes(len(secret))
    return base64.urlsafe_b64encode(pad + _under(pad, secret)).decode()


def check_form_token(caller: Caller, given: str) -> bool:
    """Whether a form was made for this session."""
    secret = caller.csrf.encode()
    try:
        data = base64.b64decode(given, altchars=b"-_", validate=True)
    except ValueError:
        return False
    if not secret or len(data) != 2 * len(secret):
        return False
    under = _under(data[: len(secret)], data[len(secret) :])
    return same(under.decode("latin-1"), caller.csrf)


def _under(pad: bytes, text: bytes) -> bytes:
    return bytes(one ^ other for one, other in zip(pad, text, strict=True))


def caller_of(account: Account) -> Caller:
    """A caller from an account."""
    return Caller(
        person_id=account.person_id, name=account.name, roles=account.roles, via="token",
        login=account.login, units=account.units, hand=account.hand, theme=account.theme,
    )  # fmt: skip


def _seconds(span: timedelta) -> int:
    return max(1, int(span.total_seconds()) + 1)
