"""People and the server on the command line."""

import socket
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from ropewright.cli.app import cli
from ropewright.logbook import create_book
from ropewright.wiring import tools


@pytest.fixture
def book(tmp_path: Path) -> str:
    path = tmp_path / "site.book"
    create_book(path).close()
    return str(path)


def run(*words: str, typed: str = "") -> Result:
    return CliRunner().invoke(cli, list(words), input=typed, obj=tools())


def test_people_are_added_listed_changed_and_closed(book: str) -> None:
    made = run(
        "people", "add", book, "Mira", "--full-name", "rope inspector", "--role", "inspector",
        typed="a long password\n",
    )  # fmt: skip
    assert (made.exit_code, made.output) == (0, "mira: rope inspector, inspector\n")
    assert run("people", "roles", book, "mira", "--role", "keeper").exit_code == 0
    assert run("people", "password", book, "mira", typed="another password\n").exit_code == 0
    assert run("people", "close", book, "mira").exit_code == 0
    assert run("people", "list", book).output == ("mira: rope inspector, keeper (may not log in)\n")
    token = run("people", "token", book, "mira", "--for", "calendar").output.strip()
    assert len(token) == 43  # 32 bytes of chance in base64 without padding, by hand


@pytest.mark.parametrize(
    ("words", "typed", "said"),
    [
        (("add", "mira", "--role", "boss"), "a long password\n", "role: expected"),
        (("add", "mira", "--role", "keeper"), "short\n", "password: expected 10"),
        (("password", "nobody"), "a long password\n", "a login of this book"),
    ],
)
def test_what_is_wrong_is_said_in_one_line(
    words: tuple[str, ...], typed: str, said: str, book: str
) -> None:
    action, login, *more = words
    result = run("people", action, book, login, *more, typed=typed)
    assert result.exit_code == 2
    assert said in result.output
    assert typed.strip() not in result.output


def test_a_login_is_given_once(book: str) -> None:
    words = ("people", "add", book, "mira", "--role", "keeper")
    assert run(*words, typed="a long password\n").exit_code == 0
    again = run(*words, typed="a long password\n")
    assert again.exit_code == 2
    assert "nobody has" in again.output


def test_server_refuses_what_would_be_open_to_everybody(book: str) -> None:
    result = run("serve", book, "--single-user", "--host", "0.0.0.0")
    assert result.exit_code == 2
    assert "--single-user" in result.output
    half = run("serve", book, "--tls-cert", "cert.pem")
    assert half.exit_code == 2
    assert "both or none" in half.output
    assert run("serve", "no.book", "--single-user").exit_code == 2


def test_port_that_is_taken_is_said_in_one_line(book: str) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = str(taken.getsockname()[1])
        result = run("serve", book, "--single-user", "--port", port)
    assert result.exit_code == 4
    assert "cannot listen there" in result.output
