"""What the command line does about people: add, list, change, tokens."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime

from ropewright.desk.access import AccessBook, Account, TokenRow
from ropewright.desk.open_book import OpenBook
from ropewright.errors import InputError, UnknownNameError
from ropewright.web.caller import ROLES
from ropewright.web.door import Door, check_password
from ropewright.web.hashing import Argon2Passwords, PasswordKeeper
from ropewright.web.settings import Settings


def check_roles(roles: Sequence[str]) -> tuple[str, ...]:
    """Roles in their order, each once.

    Raises
    ------
    InputError
        If there is none, or one is not known.
    """
    unknown = [one for one in roles if one not in ROLES]
    if unknown or not roles:
        raise InputError(
            field="role", expected="one or more of " + ", ".join(ROLES),
            given=", ".join(unknown) or "none",
        )  # fmt: skip
    return tuple(one for one in ROLES if one in roles)


class PeopleDesk:
    """People and their credentials.

    Parameters
    ----------
    book
        The book that knows the persons.
    access
        Where credentials are kept.
    now
        The clock.
    passwords
        Hashes passwords; Argon2 if not given.
    """

    def __init__(
        self,
        book: OpenBook,
        access: AccessBook,
        now: Callable[[], datetime],
        passwords: PasswordKeeper | None = None,
    ) -> None:
        self._book = book
        self._access = access
        self._passwords = passwords or Argon2Passwords()
        self._door = Door(access, self._passwords, now, Settings())

    def add(self, login: str, name: str, roles: Sequence[str], password: str) -> Account:
        """Add a person with a password.

        Raises
        ------
        InputError
            If the login is taken, a role is not known or the password too short.
        """
        chosen = check_roles(roles)
        check_password(password)
        if self._access.account_by_login(login) is not None:
            raise InputError(field="login", expected="one that nobody has", given=login)
        if not name.strip():
            raise InputError(field="name", expected="a name or a role", given=name)
        person_id = self._book.note_person(name=name.strip(), role=chosen[0])
        if self._access.account(person_id) is not None:
            raise InputError(
                field="name", expected="a name that nobody with this role has", given=name,
                hint="the book tells people apart by name and first role",
            )  # fmt: skip
        account = Account(
            person_id=person_id, login=login, name=name.strip(), roles=chosen,
            password_hash=self._passwords.hash(password),
        )  # fmt: skip
        self._access.put_account(account)
        return self.find(login)

    def all(self) -> Sequence[Account]:
        """Everybody, sorted by login."""
        return self._access.accounts()

    def find(self, login: str) -> Account:
        """A person by login.

        Raises
        ------
        UnknownNameError
            If there is none.
        """
        found = self._access.account_by_login(login)
        if found is None:
            raise UnknownNameError(
                what="a login of this book", given=login,
                known=[one.login for one in self._access.accounts()],
            )  # fmt: skip
        return found

    def set_password(self, login: str, password: str) -> None:
        """Give a person another password; their sessions end."""
        self._door.set_password(self.find(login), password)

    def set_active(self, login: str, *, active: bool) -> None:
        """Let a person in again, or no more; their sessions end."""
        account = self.find(login)
        self._access.put_account(replace(account, active=active))
        self._access.end_sessions_of(account.person_id)

    def set_roles(self, login: str, roles: Sequence[str]) -> None:
        """Give a person other roles."""
        self._access.put_account(replace(self.find(login), roles=check_roles(roles)))

    def new_token(self, login: str, name: str, purpose: str) -> tuple[str, TokenRow]:
        """Make a token; its secret is shown this once."""
        return self._door.new_token(self.find(login).person_id, name, purpose)

    def tokens(self) -> Sequence[TokenRow]:
        """All tokens, newest last."""
        return self._access.tokens()
