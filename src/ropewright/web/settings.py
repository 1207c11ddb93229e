"""How the server runs: where it listens, who it lets in without a login, how long sessions last."""

import ipaddress
from dataclasses import dataclass
from typing import Final

from ropewright.errors import InputError

DEFAULT_PORT: Final = 8470
IDLE_S: Final = 12 * 3600
ABSOLUTE_S: Final = 7 * 24 * 3600


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """One running server.

    ``idle_s`` [s] and ``absolute_s`` [s] end a session that is not used, or is old.
    ``names`` are further host names under which the server may be asked for.
    """

    host: str = "127.0.0.1"
    port: int = DEFAULT_PORT
    single_user: bool = False
    tls: bool = False
    names: tuple[str, ...] = ()
    idle_s: int = IDLE_S
    absolute_s: int = ABSOLUTE_S

    def __post_init__(self) -> None:
        if self.single_user and not is_loopback(self.host):
            raise InputError(
                field="--host",
                expected="this machine only (127.0.0.1) with --single-user, which has no login",
                given=self.host,
                hint="add people and passwords, then leave --single-user out",
            )


def is_loopback(host: str) -> bool:
    """Whether a host can be reached from this machine only."""
    if host.casefold() == "localhost":
        return True
    try:
        return ipaddress.ip_address(host.strip("[]")).is_loopback
    except ValueError:
        return False
