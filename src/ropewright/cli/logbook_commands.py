"""The commands that keep a logbook: make, fill, hand out, check, save."""

from collections.abc import Iterator, Mapping
from datetime import date
from pathlib import Path
from typing import Any

import click

from ropewright.cli.logbook_entries import add_command, erase_command, photo_command
from ropewright.cli.logbook_exchange import export_command, import_command
from ropewright.cli.support import Day, plain_errors
from ropewright.cli.tools import Tools
from ropewright.errors import InputError

_BOOK = click.argument("book", metavar="BOOK")
_PATH = click.Path(path_type=Path)


@click.group()
def logbook() -> None:
    """Keep the record of every rope: nothing in it is ever changed.

    BOOK is a file, or postgresql://user@host/database.
    """


@logbook.command("init")
@_BOOK
@click.pass_obj
@plain_errors
def init_command(tools: Tools, book: str) -> None:
    """Make a new, empty logbook BOOK."""
    click.echo(f"Made. Seal: {tools.logbook.init(book)}")


logbook.add_command(import_command)
logbook.add_command(export_command)
logbook.add_command(add_command)
logbook.add_command(photo_command)
logbook.add_command(erase_command)


@logbook.command("show")
@click.argument("address", metavar="BOOK[#ROPE]")
@click.option("--as-of", type=Day(), metavar="DATE", help="As it stood at the end of this day.")
@click.pass_obj
@plain_errors
def show_command(tools: Tools, address: str, as_of: date | None) -> None:
    """Show where every rope of BOOK stands, or every entry of BOOK#ROPE.

    With --as-of a rope is shown as it stood on that day, by what is known now.
    """
    split = tools.book_and_rope(address)
    if split is None:
        if as_of is not None:
            raise InputError(field="BOOK", expected="BOOK#ROPE beside --as-of", given=address)
        for record in tools.logbook.standing(address):
            click.echo(f"{record['rope']}: {', '.join(_stands(record))}")
        return
    book, rope = split
    if as_of is not None:
        record = tools.logbook.standing_on(book, rope, as_of)
        click.echo(f"{rope} on {as_of.isoformat()}: {', '.join(_stands(record))}")
    for line in tools.logbook.listed(book, rope, as_of=as_of):
        click.echo(line)


def _stands(record: Mapping[str, Any]) -> Iterator[str]:
    yield record["state"]
    yield f"{record['entries']} entries"
    last = record.get("last")
    yield f"last inspection {last['on']} ({last['kind']})" if last else "no inspection finished"
    if last and "next_by" in last:
        yield f"next by {last['next_by']}"
    for name, words in (
        ("holds", "on hold: "), ("overrides", "limit overridden: "), ("orders", "ordered: "),
        ("open_inspections", "inspection open: "),
    ):  # fmt: skip
        if record[name]:
            yield words + ", ".join(record[name])
    taken_off = record.get("taken_off")
    if taken_off:
        yield f"taken off {taken_off['on'] or ''}: {taken_off['why']}"


@logbook.command("verify")
@_BOOK
@click.option("--seal", "seals", multiple=True, metavar="SEAL", help="A seal of an earlier day.")
@click.pass_obj
@plain_errors
def verify_command(tools: Tools, book: str, seals: tuple[str, ...]) -> None:
    """Check the whole BOOK, also against seals printed on earlier reports.

    Without an earlier seal nobody can tell that a book was shortened or rewritten as a whole.
    Exit code: 0 everything holds, 2 something does not.
    """
    checked = tools.logbook.verify(book, seals)
    for problem in checked.problems:
        click.echo(f"does not hold: {problem}")
    checked.must_hold(book)
    click.echo(f"Holds: {checked.entries} entries of {checked.ropes} ropes.")
    compared = f"{checked.seals} earlier seals compared."
    click.echo(compared if seals else "No earlier seal was given: compare one from a report.")
    click.echo(f"Seal: {checked.seal}")


@logbook.command("rebuild")
@_BOOK
@click.pass_obj
@plain_errors
def rebuild_command(tools: Tools, book: str) -> None:
    """Derive where every rope of BOOK stands anew, from its entries."""
    derived = tools.logbook.rebuild(book)
    click.echo(f"{derived.ropes} ropes, {len(derived.changed)} had differed")
    for rope in derived.changed:
        click.echo(f"  {rope}")


@logbook.command("backup")
@_BOOK
@click.argument("out", type=_PATH)
@click.pass_obj
@plain_errors
def backup_command(tools: Tools, book: str, out: Path) -> None:
    """Save BOOK with its photos to the one file OUT, and read it back."""
    click.echo(f"{out}: saved and read back. Seal: {tools.logbook.backup(book, out)}")


@logbook.command("restore")
@click.argument("file", type=_PATH)
@_BOOK
@click.pass_obj
@plain_errors
def restore_command(tools: Tools, file: Path, book: str) -> None:
    """Make BOOK from the backup FILE: same entries, same hashes, checked."""
    click.echo(f"{book}: restored and verified. Seal: {tools.logbook.restore(file, book)}")
