"""The commands that keep a logbook: make, fill, hand out, check, save."""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Protocol

import click

from ropewright.cli.support import plain_errors
from ropewright.cli.tools import Case, CaseLoader, CaseReader
from ropewright.desk import RuleShelf
from ropewright.errors import InputError
from ropewright.inspection import Dossier


class Accounted(Protocol):
    """What became of a rope that was taken in."""

    @property
    def taken(self) -> Sequence[object]:
        """Entries that are new."""

    @property
    def already(self) -> Sequence[object]:
        """Entries that stood there already."""

    @property
    def corrected(self) -> Sequence[object]:
        """Entries that were corrected."""

    def lines(self) -> Sequence[str]:
        """One line for each entry."""


class Moved(Protocol):
    """What became of another book that was taken in."""

    @property
    def seal(self) -> object:
        """Its last seal."""

    @property
    def taken(self) -> int:
        """Entries that are new."""

    @property
    def already(self) -> int:
        """Entries that stood there already."""


class Verified(Protocol):
    """What verifying a book found."""

    @property
    def seal(self) -> object:
        """The seal of the book as it is."""

    @property
    def entries(self) -> int:
        """Number of entries."""

    @property
    def ropes(self) -> int:
        """Number of ropes."""

    @property
    def seals(self) -> int:
        """Number of earlier seals that were compared."""

    @property
    def problems(self) -> Sequence[object]:
        """Everything that does not hold."""

    def must_hold(self, file: str | None = None) -> None:
        """Raise an error if anything does not hold."""


class Derived(Protocol):
    """What deriving the standing anew found."""

    @property
    def ropes(self) -> int:
        """Number of ropes."""

    @property
    def changed(self) -> Sequence[str]:
        """Ropes whose standing had differed."""


class LogbookTools(Protocol):
    """What the commands ask of a logbook."""

    def init(self, address: str) -> object:
        """Make a new book; gives its first seal."""

    def take_in(self, address: str, dossier: Dossier, *, correct: str | None = None) -> Accounted:
        """Take a rope into a book."""

    def import_book(self, address: str, path: Path, *, quarantine: Path | None = None) -> Moved:
        """Add the entries of an exported book."""

    def export_book(self, address: str, path: Path) -> object:
        """Write the whole book; gives its last seal."""

    def export_findings(self, address: str, path: Path, ropes: Sequence[str] = ()) -> int:
        """Write findings as CSV; gives the number of ropes [-]."""

    def export_calendar(self, address: str, path: Path) -> int:
        """Write what is due as a calendar; gives the number of items [-]."""

    def export_checker(self, path: Path) -> None:
        """Write the single file that checks an export."""

    def verify(self, address: str, seals: Sequence[str] = ()) -> Verified:
        """Check the whole book."""

    def rebuild(self, address: str) -> Derived:
        """Derive where every rope stands anew."""

    def backup(self, address: str, path: Path) -> object:
        """Save the book to one file; gives its last seal."""

    def restore(self, path: Path, address: str) -> object:
        """Make a book from a backup; gives its last seal."""


class Tools(Protocol):
    """What these commands are given to work with."""

    @property
    def logbook(self) -> LogbookTools:
        """Everything done with a logbook."""

    @property
    def shelf(self) -> RuleShelf:
        """Where rule sets come from."""

    @property
    def load_case(self) -> CaseLoader:
        """Reads a case file."""

    @property
    def read_case(self) -> CaseReader:
        """Reads the text of a case file."""

    @property
    def demo_case(self) -> Callable[[str], str]:
        """Text of a demo rope."""


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
