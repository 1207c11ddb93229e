"""The commands of the server: serve a logbook, and the people who may log in."""

import sys
from pathlib import Path

import click

from ropewright.cli.server_tools import ServeWish
from ropewright.cli.support import plain_errors
from ropewright.cli.tools import Tools

_BOOK = click.argument("book", metavar="BOOK")
_PATH = click.Path(path_type=Path)
_ROLE = click.option(
    "--role", "roles", multiple=True, required=True, metavar="ROLE",
    help="operator, inspector, external examiner, planner, lift supervisor, rope fitter or keeper.",
)  # fmt: skip


@click.command()
@_BOOK
@click.option("--host", default="127.0.0.1", show_default=True, help="Where to listen.")
@click.option("--port", default=8470, show_default=True, type=click.IntRange(1, 65535))
@click.option("--tls-cert", type=_PATH, help="Certificate file (PEM), for https.")
@click.option("--tls-key", type=_PATH, help="Its key file (PEM).")
@click.option("--name", "names", multiple=True, metavar="HOST", help="A name it is asked for by.")
@click.option("--single-user", is_flag=True, help="No login; this machine only.")
@click.pass_obj
@plain_errors
def serve(
    tools: Tools,
    book: str,
    host: str,
    port: int,
    tls_cert: Path | None,
    tls_key: Path | None,
    names: tuple[str, ...],
    single_user: bool,
) -> None:
    """Serve the logbook BOOK as pages and to phones, until stopped.

    Without --single-user everybody logs in; add people with 'ropewright people add'.
    """
    wish = ServeWish(
        address=book, host=host, port=port, single_user=single_user, cert=tls_cert,
        key=tls_key, names=names,
    )  # fmt: skip
    scheme = "https" if tls_cert else "http"
    shown = "localhost" if host.startswith("127.") else host
    click.echo(f"Serving {book} at {scheme}://{shown}:{port}/  (stop with Ctrl-C)")
    tools.server.serve(wish, lambda words: click.echo(f"ropewright: {words}", err=True))


@click.group()
def people() -> None:
    """Who may log in to a served logbook, and in which roles."""


def _password() -> str:
    """A password from the prompt, or from the first line of the standard input."""
    if sys.stdin.isatty():
        return str(click.prompt("Password", hide_input=True, confirmation_prompt=True))
    return sys.stdin.readline().rstrip("\r\n")


@people.command("add")
@_BOOK
@click.argument("login")
@click.option("--full-name", metavar="NAME", help="Name as it stands in reports (the login).")
@_ROLE
@click.pass_obj
@plain_errors
def add_command(
    tools: Tools, book: str, login: str, full_name: str | None, roles: tuple[str, ...]
) -> None:
    """Add a person who logs in as LOGIN; the password is asked for, or read from a pipe."""
    with tools.server.people(book) as desk:
        made = desk.add(login, full_name or login, roles, _password())
        click.echo(f"{made.login}: {made.name}, {', '.join(made.roles)}")


@people.command("list")
@_BOOK
@click.pass_obj
@plain_errors
def list_command(tools: Tools, book: str) -> None:
    """List everybody."""
    with tools.server.people(book) as desk:
        for one in desk.all():
            state = "" if one.active else " (may not log in)"
            click.echo(f"{one.login}: {one.name}, {', '.join(one.roles)}{state}")


@people.command("password")
@_BOOK
@click.argument("login")
@click.pass_obj
@plain_errors
def password_command(tools: Tools, book: str, login: str) -> None:
    """Give a person another password; their sessions end."""
    with tools.server.people(book) as desk:
        desk.set_password(login, _password())
        click.echo(f"{login}: changed")


@people.command("roles")
@_BOOK
@click.argument("login")
@_ROLE
@click.pass_obj
@plain_errors
def roles_command(tools: Tools, book: str, login: str, roles: tuple[str, ...]) -> None:
    """Give a person other roles."""
    with tools.server.people(book) as desk:
        desk.set_roles(login, roles)
        click.echo(f"{login}: {', '.join(roles)}")


@people.command("close")
@_BOOK
@click.argument("login")
@click.option("--open", "reopen", is_flag=True, help="Let the person in again.")
@click.pass_obj
@plain_errors
def close_command(tools: Tools, book: str, login: str, reopen: bool) -> None:
    """Let a person in no more; what they wrote stays."""
    with tools.server.people(book) as desk:
        desk.set_active(login, active=reopen)
        click.echo(f"{login}: {'may log in' if reopen else 'may not log in'}")


@people.command("token")
@_BOOK
@click.argument("login")
@click.option("--for", "purpose", type=click.Choice(["api", "calendar"]), default="api")
@click.option("--label", default="", metavar="WORDS", help="What it is for.")
@click.pass_obj
@plain_errors
def token_command(tools: Tools, book: str, login: str, purpose: str, label: str) -> None:
    """Make a token for a program or a calendar; it is printed this once."""
    with tools.server.people(book) as desk:
        secret, _ = desk.new_token(login, label or purpose, purpose)
        click.echo(secret)
