"""Single entries typed into a logbook, photos put into it, and what has to be erased."""

from datetime import date
from pathlib import Path

import click

from ropewright.cli.support import Day, plain_errors, rope_in_book
from ropewright.cli.tools import Tools
from ropewright.errors import InputError

_PATH = click.Path(path_type=Path)


@click.command("add")
@click.argument("address", metavar="BOOK#ROPE")
@click.argument("kind", required=False, metavar="KIND")
@click.argument("values", nargs=-1, metavar="[KEY=VALUE]...")
@click.option("--by", default="", metavar="WHO", help="Who did it, by role or name.")
@click.option("--role", default="keeper", show_default=True, metavar="ROLE", help="In which role.")
@click.option("--on", "as_of", type=Day(), metavar="DATE", help="The day it happened (today).")
@click.pass_obj
@plain_errors
def add_command(
    tools: Tools,
    address: str,
    kind: str | None,
    values: tuple[str, ...],
    by: str,
    role: str,
    as_of: date | None,
) -> None:
    """Add one entry of a KIND to a rope: lubrication, re-spool, hold, release, spare stored ...

    Without a KIND it lists the kinds with their fields.
    """
    book, rope = rope_in_book(tools, address)
    if kind is None:
        for name, known in tools.logbook.typed_kinds().items():
            click.echo(f"{name}: {', '.join(known)}")
        return
    if not by.strip():
        raise InputError(field="--by", expected="who did it, by role or name", given=by)
    said = dict(_pair(text) for text in values)
    day = as_of or tools.today()
    entry = tools.logbook.add_typed(book, rope, kind, said, by=by, role=role, on=day)
    click.echo(f"{kind} of {day.isoformat()}: {entry}")


def _pair(text: str) -> tuple[str, str]:
    name, mark, value = (part.strip() for part in text.partition("="))
    if not mark or not value:
        raise InputError(field="KEY=VALUE", expected="a field and what it is", given=text)
    return name.replace(" ", "_"), value


@click.command("photo")
@click.argument("address", metavar="BOOK#ROPE")
@click.argument("file", type=_PATH)
@click.option("--finding", default="", metavar="ID", help="The finding it shows.")
@click.option("--inspection", default="", metavar="ID", help="The inspection it belongs to.")
@click.option("--caption", default="", metavar="TEXT", help="What it shows.")
@click.option("--scale/--no-scale", default=None, help="A scale or gauge is in the frame.")
@click.option("--on", "as_of", type=Day(), metavar="DATE", help="The day (today).")
@click.pass_obj
@plain_errors
def photo_command(
    tools: Tools,
    address: str,
    file: Path,
    finding: str,
    inspection: str,
    caption: str,
    scale: bool | None,
    as_of: date | None,
) -> None:
    """Put a photo into the book: the original bit for bit, shown only without its location."""
    book, rope = rope_in_book(tools, address)
    sha256 = tools.logbook.add_photo(
        book, rope, file, finding_id=finding, inspection_id=inspection, caption=caption,
        scale_in_frame=scale, happened_on=as_of or tools.today(),
    )  # fmt: skip
    click.echo(f"{file.name}: kept as {sha256}")


@click.command("erase")
@click.argument("book", metavar="BOOK")
@click.argument("what", type=click.Choice(["person", "photo"]))
@click.argument("ref", metavar="ID|HASH")
@click.option("--reason", required=True, metavar="WHY", help="Why; it stays in the book.")
@click.pass_obj
@plain_errors
def erase_command(tools: Tools, book: str, what: str, ref: str, reason: str) -> None:
    """Erase the data of a person or a photo; an entry says that it was done, and why.

    Backups and exports made before still hold it.
    """
    tools.logbook.erase(book, what, ref, reason=reason)
    click.echo(f"{what} {ref}: erased; the chain still holds")
