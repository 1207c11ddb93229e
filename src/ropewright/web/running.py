"""Running the server: what is said at the start, and what is refused."""

import contextlib
import gc
import logging
import socket
import ssl
import sys
from pathlib import Path
from typing import Final

import uvicorn

from ropewright.desk.access import Account
from ropewright.errors import InputError, OutputError
from ropewright.web.app import create_app
from ropewright.web.caller import ROLES
from ropewright.web.door import LOCAL_LOGIN
from ropewright.web.settings import Settings, is_loopback
from ropewright.web.tools import WebTools

#: So many new objects make Python look for what can go [-]; its own figure is made for less.
_NEW_OBJECTS: Final = 20_000


def prepare_local(tools: WebTools) -> None:
    """See to it that single-user mode has its one person."""
    if tools.access.account_by_login(LOCAL_LOGIN) is None:
        person_id = tools.book.note_person(name="the person at this machine", role="keeper")
        tools.access.put_account(
            Account(
                person_id=person_id, login=LOCAL_LOGIN, name="This machine", roles=ROLES,
                active=False,
            )
        )  # fmt: skip


def check_tls(cert: Path | None, key: Path | None) -> bool:
    """Whether there is TLS; half of it is refused.

    Raises
    ------
    InputError
        If only one of certificate and key is given, or they do not go together.
    """
    if cert is None and key is None:
        return False
    if cert is None or key is None:
        raise InputError(
            field="--tls-cert and --tls-key", expected="both or none",
            given="only one of them",
        )  # fmt: skip
    try:
        ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER).load_cert_chain(cert, key)
    except (OSError, ssl.SSLError) as error:
        raise InputError(
            f"certificate and key cannot be used: {error}", field="--tls-cert", given=str(cert)
        ) from error
    return True


def warnings_for(tools: WebTools, settings: Settings) -> list[str]:
    """What whoever starts the server should know."""
    said = []
    if not is_loopback(settings.host) and not settings.tls:
        said.append(
            "other machines can reach this server without TLS: passwords can be read on the "
            "way, and phones will not install the field app. Give --tls-cert and --tls-key "
            "(docs/server.md)."
        )
    people = [one for one in tools.access.accounts() if one.password_hash and one.active]
    if not settings.single_user and not people:
        said.append(
            "nobody can log in yet: add a person with 'ropewright people add', or start with "
            "--single-user."
        )
    return said


def run_server(
    tools: WebTools, settings: Settings, *, cert: Path | None = None, key: Path | None = None
) -> None:
    """Serve until stopped.

    Parameters
    ----------
    tools
        What was wired.
    settings
        How to run.
    cert, key
        Files of certificate and key, if TLS is wanted.
    """
    if settings.single_user:
        prepare_local(tools)
    logging.getLogger("ropewright.web").setLevel(logging.INFO)
    config = uvicorn.Config(
        create_app(tools, settings, warm=True),
        host=settings.host,
        port=settings.port,
        ssl_certfile=cert,
        ssl_keyfile=key,
        server_header=False,
        access_log=False,
        log_level="warning",
    )
    # While a rope is judged in the background, whoever waits for a page gets the interpreter back
    # after a thousandth of a second rather than after five.
    sys.setswitchinterval(0.001)
    # Python tidies up while everybody waits: rarely, and not through what was loaded, which
    # stays as long as the server.
    gc.collect()
    gc.freeze()
    gc.set_threshold(_NEW_OBJECTS, 10, 10)
    server = uvicorn.Server(config)
    with contextlib.suppress(KeyboardInterrupt), listening(settings) as door:
        server.run(sockets=[door])


def listening(settings: Settings) -> socket.socket:
    """The place where the server listens.

    Raises
    ------
    OutputError
        If another program has it, or there is no such place here.
    """
    family = socket.AF_INET6 if ":" in settings.host else socket.AF_INET
    try:
        return socket.create_server((settings.host.strip("[]"), settings.port), family=family)
    except OSError as error:
        raise OutputError(
            f"cannot listen there: {error.strerror or error}",
            field="--host and --port", given=f"{settings.host}, port {settings.port}",
            hint="choose another --port, or stop what listens there",
        ) from error  # fmt: skip
