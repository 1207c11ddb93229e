"""The command that hands out the invented site: its list, its case files, its logbook."""

from collections.abc import Iterator
from pathlib import Path

import click
from rich.console import Console
from rich.table import Table

from ropewright.cli.demo_tools import SiteRope
from ropewright.cli.support import plain_errors, write_file
from ropewright.cli.tools import Tools
from ropewright.desk.filling import WholeRope, fill_book
from ropewright.errors import InputError, UnknownNameError

_PATH = click.Path(path_type=Path)


@click.command()
@click.argument("name", required=False)
@click.option("--seed", type=int, metavar="N", help="The same stories with other figures.")
@click.option("--book", metavar="BOOK", help="Make a new logbook of the whole site.")
@click.option(
    "--out", type=_PATH, metavar="FOLDER", help="Write case files, pictures, lifts there."
)
@click.pass_obj
@plain_errors
def demo(
    tools: Tools, name: str | None, seed: int | None, book: str | None, out: Path | None
) -> None:
    """List the ropes of the invented site, or print one as a case file to start from.

    With --book the whole site becomes a logbook; with --out one rope, or all, become files.
    Everything is invented; the same seed gives the same site.
    """
    number = tools.demo.usual_seed if seed is None else seed
    if book is not None:
        if name is not None or out is not None:
            raise InputError(
                field="--book", expected="alone: it takes in the whole site",
                given=name or f"--out {out}",
            )  # fmt: skip
        _make_book(tools, book, number)
    elif out is not None:
        _write_files(tools, _chosen(tools, name), number, out)
    elif name is not None:
        click.echo(tools.demo.case(_chosen(tools, name)[0].name, number), nl=False)
    else:
        _list(tools)


def _chosen(tools: Tools, name: str | None) -> list[SiteRope]:
    if name is None:
        return list(tools.demo.site)
    wanted = " ".join(name.split()).casefold()
    for rope in tools.demo.site:
        if wanted in (rope.name.casefold(), rope.rope_id.casefold()):
            return [rope]
    raise UnknownNameError(
        what="a rope of the demo site", field="NAME", given=name,
        known=[rope.name for rope in tools.demo.site],
    )  # fmt: skip


def _list(tools: Tools) -> None:
    console = Console(highlight=False)
    table = Table(show_header=True, box=None, pad_edge=False, header_style="bold")
    table.add_column("name", no_wrap=True)
    table.add_column("what it teaches")
    for rope in tools.demo.site:
        table.add_row(rope.name, rope.teaches)
    console.print("Kestrel Quay: invented data, for demonstration only")
    console.print(table)
    day = tools.demo.day.isoformat()
    console.print(f"Look at it as on {day}: ropewright assess --demo KQ-1 --as-of {day}")


def _write_files(tools: Tools, ropes: list[SiteRope], seed: int, folder: Path) -> None:
    for rope in ropes:
        write_file(folder / f"{rope.name}.toml", tools.demo.case(rope.name, seed).encode())
        pictures = tools.demo.photos(rope.name, seed)
        for picture in pictures:
            write_file(folder / picture.name, picture.data)
        made = [_count(len(pictures), "picture")] if pictures else []
        for file, lifts in tools.demo.lifts(rope.name, seed).items():
            write_file(folder / file, lifts.encode())
            made.append(file)
        click.echo(", ".join([f"{folder / rope.name}.toml", *made, "invented data"]))


def _count(number: int, one: str, many: str = "") -> str:
    return f"{number} {one if number == 1 else many or one + 's'}"


def _make_book(tools: Tools, address: str, seed: int) -> None:
    with tools.demo.new_book(address) as book:
        for filled in fill_book(book, _lives(tools, seed)):
            click.echo(
                f"{filled.rope_id}: {_count(filled.entries, 'entry', 'entries')}, "
                f"{_count(filled.notes, 'note')}, {_count(filled.pictures, 'picture')}"
            )
        click.echo(f"Kestrel Quay, seed {seed}, invented data. Seal: {book.seal()}")
    click.echo(f"Open it: ropewright serve {address} --single-user")


def _lives(tools: Tools, seed: int) -> Iterator[WholeRope]:
    for rope in tools.demo.site:
        case = tools.read_case(
            tools.demo.case(rope.name, seed),
            file=f"{rope.name}.toml",
            known_rules=tools.shelf.names(),
        )
        yield WholeRope(
            dossier=case.dossier,
            notes=tools.demo.notes(rope.name),
            pictures=tools.demo.photos(rope.name, seed),
        )
