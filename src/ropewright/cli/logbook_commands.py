"""The commands that keep a logbook: make, fill, hand out, check, save."""

from pathlib import Path

import click

from ropewright.cli.support import plain_errors
from ropewright.cli.tools import Case, Tools
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


@logbook.command("import")
@_BOOK
@click.argument("files", nargs=-1, type=_PATH, metavar="[FILE]...")
@click.option("--demo", multiple=True, metavar="NAME", help="Take in a demo rope (invented data).")
@click.option("--correct", metavar="WHY", help="Correct what the book has otherwise, and say why.")
@click.option("--quarantine", type=_PATH, help="Put an export that does not hold into this folder.")
@click.option("--lines", is_flag=True, help="Account for every single entry.")
@click.pass_obj
@plain_errors
def import_command(
    tools: Tools,
    book: str,
    files: tuple[Path, ...],
    demo: tuple[str, ...],
    correct: str | None,
    quarantine: Path | None,
    lines: bool,
) -> None:
    """Take case files or exported books (.jsonl) into BOOK.

    Each FILE is taken in as a whole or not at all.  The same again is harmless.
    """
    if not files and not demo:
        raise InputError(field="FILE", expected="a case file, an export or --demo NAME", given=None)
    for path in files:
        if path.suffix.lower() == ".jsonl":
            moved = tools.logbook.import_book(book, path, quarantine=quarantine)
            click.echo(f"{path.name}: {moved.taken} entries taken, {moved.already} already there")
            click.echo(f"Its seal: {moved.seal}")
        else:
            case = tools.load_case(path, known_rules=tools.shelf.names())
            _take_in(tools, book, path.name, case, correct, lines=lines)
    for name in demo:
        case = tools.read_case(
            tools.demo_case(name), file=f"{name}.toml", known_rules=tools.shelf.names()
        )
        _take_in(tools, book, f"{name}, invented data", case, correct, lines=lines)


def _take_in(
    tools: Tools, book: str, name: str, case: Case, correct: str | None, *, lines: bool
) -> None:
    for warning in case.warnings:
        click.echo(f"ropewright: look again: {warning}", err=True)
    account = tools.logbook.take_in(book, case.dossier, correct=correct)
    words = f"{len(account.taken)} entries taken, {len(account.already)} already there"
    if account.corrected:
        words += f", {len(account.corrected)} corrected"
    click.echo(f"{name}: rope {case.dossier.rope.rope_id}: {words}")
    if lines:
        for line in account.lines():
            click.echo(f"  {line}")


@logbook.command("export")
@_BOOK
@click.argument("out", type=_PATH)
@click.option("--rope", "ropes", multiple=True, metavar="ROPE", help="Only this rope (.csv).")
@click.pass_obj
@plain_errors
def export_command(tools: Tools, book: str, out: Path, ropes: tuple[str, ...]) -> None:
    """Write BOOK to OUT; its ending says what.

    .jsonl: the whole book with its chain.  .csv: all findings.  .ics: what is due, as a
    calendar.  .py: the single file that checks a .jsonl without ropewright.
    """
    ending = out.suffix.lower()
    if ending == ".jsonl":
        click.echo(f"{out}: the whole book. Seal: {tools.logbook.export_book(book, out)}")
    elif ending == ".csv":
        count = tools.logbook.export_findings(book, out, ropes)
        click.echo(f"{out}: findings of {count} ropes")
    elif ending == ".ics":
        click.echo(f"{out}: {tools.logbook.export_calendar(book, out)} dates")
    elif ending == ".py":
        tools.logbook.export_checker(out)
        click.echo(f"{out}: check an export with: python {out.name} BOOK.jsonl --seal SEAL")
    else:
        raise InputError(
            field="OUT", expected="a file ending in .jsonl, .csv, .ics or .py", given=str(out)
        )


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
