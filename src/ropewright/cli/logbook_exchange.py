"""What goes into a logbook and what comes out of it, on the command line."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import click

from ropewright.cli.logbook_tools import Accounted
from ropewright.cli.support import Day, plain_errors, rope_in_book, write_file
from ropewright.cli.tools import Case, Tools
from ropewright.errors import InputError
from ropewright.inspection import Dossier

_PATH = click.Path(path_type=Path)
_BOOKS = (".jsonl", ".zip")
_CARDS = (".csv", ".xlsx")
_ENDINGS = ".jsonl, .zip, .csv, .xlsx, .ics or .py; with BOOK#ROPE also .toml, .pdf"


@click.command("import")
@click.argument("book", metavar="BOOK")
@click.argument("files", nargs=-1, type=_PATH, metavar="[FILE]...")
@click.option("--demo", multiple=True, metavar="NAME", help="Take in a demo rope (invented data).")
@click.option("--correct", metavar="WHY", help="Correct what the book has otherwise, and say why.")
@click.option("--as", "called", multiple=True, metavar="[OLD=]NEW", help="Call a rope NEW here.")
@click.option("--same", multiple=True, metavar="ROPE", help="It is the rope of that name here.")
@click.option("--place-err", metavar="± LENGTH", help="Old cards: how far off a place may be.")
@click.option("--findings", metavar="KIND", help="A list of findings of an inspection, which KIND.")
@click.option("--on", "found_on", type=Day(), metavar="DATE", help="With --findings: its day.")
@click.option("--by", default="", metavar="WHO", help="With --findings: who looked.")
@click.option("--leave-out", is_flag=True, help="Old cards: leave out lines that cannot be read.")
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
    called: tuple[str, ...],
    same: tuple[str, ...],
    place_err: str | None,
    findings: str | None,
    found_on: date | None,
    by: str,
    leave_out: bool,
    quarantine: Path | None,
    lines: bool,
) -> None:
    """Take case files (.toml) or exported books (.jsonl, .zip) into BOOK.

    A list of old paper cards (.csv, .xlsx) goes into one rope: BOOK#ROPE; so does a list of the
    findings of one inspection, with --findings KIND --on DATE.  Each FILE is taken in as a whole
    or not at all.  The same again is harmless.
    """
    if not files and not demo:
        raise InputError(field="FILE", expected="a case file, an export or --demo NAME", given=None)
    names = dict(_name(text) for text in called)
    for path in files:
        ending = path.suffix.lower()
        if ending in _BOOKS:
            _take_book(tools, book, path, names, same, quarantine, lines=lines)
        elif ending in _CARDS and findings is not None:
            _take_list(tools, book, path, findings, found_on, by, correct)
        elif ending in _CARDS:
            _take_cards(tools, book, path, place_err, correct, leave_out=leave_out)
        else:
            case = tools.load_case(path, known_rules=tools.shelf.names())
            _take_in(tools, book, path.name, _called(case, names), case, correct, lines=lines)
    for name in demo:
        case = tools.read_case(
            tools.demo_case(name), file=f"{name}.toml", known_rules=tools.shelf.names()
        )
        dossier = _called(case, names)
        _take_in(tools, book, f"{name}, invented data", dossier, case, correct, lines=lines)


def _name(text: str) -> tuple[str, str]:
    """The old and the new name of ``OLD=NEW``; a new name alone is for the rope of a case file."""
    old, mark, new = text.rpartition("=")
    if not new.strip() or (mark and not old.strip()):
        raise InputError(field="--as", expected="NEW, or OLD=NEW for a book", given=text)
    return old.strip(), new.strip()


def _called(case: Case, names: dict[str, str]) -> Dossier:
    """The dossier of a case file under its rope's name here."""
    rope = case.dossier.rope
    name = names.get(rope.rope_id, names.get("", rope.rope_id))
    return replace(case.dossier, rope=replace(rope, rope_id=name))


def _take_in(
    tools: Tools,
    book: str,
    name: str,
    dossier: Dossier,
    case: Case,
    correct: str | None,
    *,
    lines: bool,
) -> None:
    for warning in case.warnings:
        click.echo(f"ropewright: look again: {warning}", err=True)
    account = tools.logbook.take_in(book, dossier, correct=correct)
    click.echo(f"{name}: rope {dossier.rope.rope_id}: {_counted(account)}")
    if lines:
        for line in account.lines():
            click.echo(f"  {line}")


def _counted(account: Accounted) -> str:
    words = f"{len(account.taken)} entries taken, {len(account.already)} already there"
    if account.corrected:
        words += f", {len(account.corrected)} corrected"
    return words


def _take_book(
    tools: Tools,
    book: str,
    path: Path,
    names: dict[str, str],
    same: tuple[str, ...],
    quarantine: Path | None,
    *,
    lines: bool,
) -> None:
    if "" in names:
        raise InputError(
            field="--as", expected="OLD=NEW, as a book has many ropes", given=names[""]
        )
    moved = tools.logbook.import_book(
        book, path, quarantine=quarantine, called=names, same=same, account=lines
    )
    photos = f", {moved.photos} photos" if moved.photos else ""
    click.echo(f"{path.name}: {moved.taken} entries{photos} taken, {moved.already} already there")
    if moved.photos_absent:
        click.echo(
            f"{moved.photos_absent} photos were not sent along; take the file in again with its "
            "folder of photos beside it"
        )
    for line in moved.lines:
        click.echo(f"  {line}")
    click.echo(f"Its seal: {moved.seal}")


def _take_cards(
    tools: Tools,
    address: str,
    path: Path,
    place_err: str | None,
    correct: str | None,
    *,
    leave_out: bool,
) -> None:
    book, rope = _book_and_rope(tools, address, "a rope of the book that the cards belong to")
    dossier = tools.load_from_book(book, rope).dossier
    cards = tools.book_tools.read_old_cards(path, dossier, place_err=place_err, leave_out=leave_out)
    account = tools.logbook.take_in_cards(book, rope, cards.inspections, correct=correct)
    click.echo(f"{path.name}: rope {rope}: {len(cards.inspections)} cards, {_counted(account)}")
    for line in cards.lines:
        click.echo(f"  {line}")
    click.echo("Nothing counts as seen that the cards do not say was seen.")


def _take_list(
    tools: Tools,
    address: str,
    path: Path,
    kind: str,
    on: date | None,
    by: str,
    correct: str | None,
) -> None:
    book, rope = _book_and_rope(tools, address, "a rope of the book that the findings belong to")
    if on is None:
        raise InputError(field="--on", expected="the day of the inspection", given=None)
    dossier = tools.load_from_book(book, rope).dossier
    one = tools.book_tools.inspection_of_list(path, dossier, kind=kind, on=on, by=by)
    account = tools.logbook.take_in_cards(
        book, rope, [one], correct=correct, origin=f"findings list {path.name}"
    )
    click.echo(f"{path.name}: rope {rope}: {len(one.findings)} findings, {_counted(account)}")
    click.echo("Nothing counts as seen: a list of findings does not say what was looked over.")


def _book_and_rope(tools: Tools, address: str, what: str) -> tuple[str, str]:
    return rope_in_book(tools, address, f"BOOK#ROPE: {what}", field="BOOK")


# --- Out --------------------------------------------------------------------------------------


@click.command("export")
@click.argument("book", metavar="BOOK")
@click.argument("out", type=_PATH, required=False)
@click.option("--case", "case_file", type=_PATH, help="Write BOOK#ROPE as a case file (.toml).")
@click.option("--rope", "ropes", multiple=True, metavar="ROPE", help="Only this rope (tables).")
@click.option(
    "--what", default="findings", show_default=True, metavar="TABLE",
    help="Which table a .csv holds: findings, readings or inspections.",
)  # fmt: skip
@click.pass_obj
@plain_errors
def export_command(
    tools: Tools,
    book: str,
    out: Path | None,
    case_file: Path | None,
    ropes: tuple[str, ...],
    what: str,
) -> None:
    """Write BOOK to OUT; its ending says what.

    .jsonl: the whole book with its chain, photos in a folder beside it.  .zip: the same in one
    file.  .csv, .xlsx: findings, readings, inspections.  .ics: what is due, as a calendar.
    .py: the single file that checks a .jsonl or .zip without ropewright.  For one rope,
    BOOK#ROPE: .toml: a case file that reads back as the same rope; .pdf: its card, one page.
    """
    split = tools.book_and_rope(book)
    if case_file is not None:
        _export_case(tools, book, case_file)
    if out is None:
        if case_file is None:
            raise InputError(field="OUT", expected=f"a file ending in {_ENDINGS}", given=None)
        return
    ending = out.suffix.lower()
    if split is not None and ending not in (".csv", ".xlsx", ".toml", ".pdf"):
        raise InputError(
            field="BOOK", expected=f"a book without #ROPE for {ending or 'this file'}", given=book
        )
    if split is not None:
        ropes = (*ropes, split[1])
    _export(tools, book, split[0] if split else book, out, ropes, what)


def _export(
    tools: Tools, address: str, book: str, out: Path, ropes: tuple[str, ...], what: str
) -> None:
    ending = out.suffix.lower()
    if ending == ".jsonl":
        click.echo(f"{out}: the whole book. Seal: {tools.logbook.export_book(book, out)}")
        photos = out.with_name(out.name + ".photos")
        if photos.is_dir():
            click.echo(f"{photos}: its photos, bit for bit")
    elif ending == ".zip":
        click.echo(f"{out}: book and photos, read back. Seal: {tools.logbook.backup(book, out)}")
    elif ending == ".csv":
        count = tools.logbook.export_table(book, out, ropes, what=what)
        click.echo(f"{out}: {what} of {count} ropes")
    elif ending == ".xlsx":
        tables = tools.logbook.tables(book, ropes)
        invented = any("invented" in str(row.get("invented")) for _, rows in tables.values()
                       for row in rows)  # fmt: skip
        write_file(
            out, tools.book_tools.sheets_xlsx(tables, note="invented data" if invented else "")
        )
        told = ", ".join(f"{len(rows)} {name}" for name, (_, rows) in tables.items())
        click.echo(f"{out}: {told}")
    elif ending == ".ics":
        click.echo(f"{out}: {tools.logbook.export_calendar(book, out)} dates")
    elif ending == ".py":
        tools.logbook.export_checker(out)
        click.echo(f"{out}: check an export with: python {out.name} BOOK.jsonl --seal SEAL")
    elif ending == ".toml":
        _export_case(tools, address, out)
    elif ending == ".pdf":
        _export_card(tools, address, out)
    else:
        raise InputError(field="OUT", expected=f"a file ending in {_ENDINGS}", given=str(out))


def _export_case(tools: Tools, address: str, out: Path) -> None:
    book, rope = _book_and_rope(tools, address, "the rope to write as a case file")
    dossier = tools.load_from_book(book, rope).dossier
    heading = "Written from a logbook; photos and working entries stay there."
    if dossier.invented:
        heading += " Invented data."
    text = tools.book_tools.write_case(dossier, folder=out.parent, heading=heading)
    write_file(out, text.encode())
    click.echo(f"{out}: rope {rope}, reads back the same")


def _export_card(tools: Tools, address: str, out: Path) -> None:
    book, rope = _book_and_rope(tools, address, "the rope whose card is written")
    life = tools.logbook.life(book, rope, tools.today())
    write_file(out, tools.book_tools.rope_card_pdf(life))
    click.echo(f"{out}: card of rope {rope}")
