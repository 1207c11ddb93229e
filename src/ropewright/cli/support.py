"""What all commands share: days, errors as plain lines, files, the chosen case."""

import functools
import sys
from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path
from typing import Any, ParamSpec, TypeVar

import click

from ropewright.cli.tools import Case, Tools
from ropewright.errors import InputError, OutputError, RopewrightError
from ropewright.inspection import Dossier

Parameters = ParamSpec("Parameters")
Result = TypeVar("Result")


class Day(click.ParamType[date]):
    """A calendar day typed as 2026-11-10."""

    name = "date"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> date:
        """Read the day, or fail with what is expected and what was given."""
        if isinstance(value, date):
            return value
        try:
            return date.fromisoformat(str(value))
        except ValueError:
            self.fail(f"expected a date like 2026-11-10, given {str(value)!r}", param, ctx)


def plain_errors(command: Callable[Parameters, Result]) -> Callable[Parameters, Result]:
    """Turn our own errors into one line per problem and their exit code."""

    @functools.wraps(command)
    def wrapped(*args: Parameters.args, **kwargs: Parameters.kwargs) -> Result:
        try:
            return command(*args, **kwargs)
        except RopewrightError as problem:
            for line in str(problem).splitlines():
                click.echo(f"ropewright: {line}", err=True)
            sys.exit(problem.exit_code)

    return wrapped


def with_case(command: Callable[Parameters, Result]) -> Callable[Parameters, Result]:
    """Options that say which rope, on which date, by which added rules."""
    for option in (
        click.option("--rules", multiple=True, metavar="+SET", help="Add a rule set or rule file."),
        click.option("--as-of", type=Day(), metavar="DATE", help="Judge as on this date (today)."),
        click.option("--demo", metavar="NAME", help="Use a demo rope instead of a file."),
    ):
        command = option(command)
    return command


def labelled_data(dossier: Dossier, data: Mapping[str, Any]) -> dict[str, Any]:
    """Plain data with the word whether they are invented in front."""
    return {"invented": dossier.invented, **data}


def echo_invented(dossier: Dossier) -> None:
    """Say in front of everything else that the data are invented, where they are."""
    if dossier.invented:
        click.echo("INVENTED DATA, for demonstration only")


def write_file(path: Path, data: bytes) -> None:
    """Write a result, or say why it cannot be written.

    Raises
    ------
    OutputError
        If the file cannot be written.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)
    except OSError as problem:
        raise OutputError(
            f"cannot be written: {problem.strerror}",
            file=str(path),
            hint="choose another place for the file",
        ) from problem


def added_rules(rules: tuple[str, ...]) -> list[str]:
    """Names of added rule sets, without their plus signs.

    Raises
    ------
    InputError
        If the plus sign is missing: rules of the case file cannot be replaced.
    """
    for text in rules:
        if not text.startswith("+") or len(text) < 2:
            raise InputError(
                field="--rules",
                expected="a plus sign and a rule set to add, like +iso-4309-2017",
                given=text,
                hint="rules of the case file always stay: a rule set can only be added",
            )
    return [text[1:] for text in rules]


def rope_in_book(
    tools: Tools, address: str, expected: str = "a rope of a logbook", *, field: str = "BOOK#ROPE"
) -> tuple[str, str]:
    """Book and rope of an address BOOK#ROPE.

    Raises
    ------
    InputError
        If it names no rope of a logbook.
    """
    split = tools.book_and_rope(address)
    if split is None:
        raise InputError(field=field, expected=expected, given=address)
    return split


def read_rope(tools: Tools, file: str | None, demo: str | None) -> tuple[Case, str]:
    """The case that was asked for and the name to show for it.

    Raises
    ------
    InputError
        If neither or both of file and demo rope are given, or the case cannot be read.
    """
    if (file is None) == (demo is None):
        raise InputError(
            field="FILE",
            expected="either a case file or --demo NAME",
            given="neither" if file is None else "both",
            hint=f"demo ropes: {', '.join(tools.demo_names())}",
        )
    known = tools.shelf.names()
    if demo is not None:
        return tools.read_case(tools.demo_case(demo), file=f"{demo}.toml", known_rules=known), demo
    in_book = tools.book_and_rope(file or "")
    if in_book is not None:
        return tools.load_from_book(*in_book), file or ""
    path = Path(file or "")
    return tools.load_case(path, known_rules=known), path.name
