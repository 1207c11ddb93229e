"""Secrets: made by chance, kept as hashes; passwords by Argon2."""

import hashlib
import secrets
import threading
from typing import Final, Protocol

import argon2

#: So many passwords are compared at once: each takes 64 MiB for its time, asked for by anybody.
AT_ONCE: Final = 2
#: Shorter passwords are refused; longer ones are always taken.
LEAST_LETTERS: Final = 10
MOST_LETTERS: Final = 1000


class PasswordKeeper(Protocol):
    """Hashes passwords and compares them."""

    def hash(self, password: str, /) -> str:
        """A hash that holds its own salt and cost."""

    def verify(self, password_hash: str, password: str, /) -> bool:
        """Whether a password fits a hash."""


class Argon2Passwords:
    """Passwords by Argon2id with the library's recommended costs."""

    def __init__(self, hasher: argon2.PasswordHasher | None = None) -> None:
        self._hasher = hasher or argon2.PasswordHasher()
        self._turn = threading.BoundedSemaphore(AT_ONCE)
        self._nobody = self._hasher.hash(secrets.token_urlsafe(16))

    def hash(self, password: str, /) -> str:
        """A hash that holds its own salt and cost."""
        with self._turn:
            return self._hasher.hash(password)

    def verify(self, password_hash: str, password: str, /) -> bool:
        """Whether a password fits; without a hash it takes as long and never fits."""
        try:
            with self._turn:
                self._hasher.verify(password_hash or self._nobody, password)
        except (argon2.exceptions.VerificationError, argon2.exceptions.InvalidHashError):
            return False
        return bool(password_hash)


def new_secret() -> str:
    """A secret of 256 bits that nobody can guess."""
    return secrets.token_urlsafe(32)


def hashed(secret: str) -> str:
    """The hash of a secret, as it is kept; needs no salt, because the secret is chance."""
    return hashlib.sha256(secret.encode()).hexdigest()


def same(one: str, other: str) -> bool:
    """Whether two secrets are the same, in the same time for any two."""
    return secrets.compare_digest(one.encode(), other.encode())
