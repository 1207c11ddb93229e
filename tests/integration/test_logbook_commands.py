"""The commands of the logbook as a person types them."""

import hashlib
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from click.testing import CliRunner, Result
from PIL import Image

from ropewright.cli.logbook_commands import logbook
from ropewright.cli.logbook_tools import BookTools, LogbookTools
from ropewright.cli.tools import CaseLoader, CaseReader
from ropewright.demo import demo_case
from ropewright.desk import RuleShelf, judge, split_address
from ropewright.errors import UnknownNameError
from ropewright.intake import (
    PackageShelf,
    inspection_of_list,
    load_case,
    read_case,
    read_old_cards,
    sheets_xlsx,
    write_case,
)
from ropewright.logbook import LogbookDesk, Seal
from ropewright.paper import rope_card_pdf
from tests.unit.logbook.samples import ROOT, ticking
from tests.unit.paper.pdf import Pdf

DEMO = "KQ-1"


@dataclass(frozen=True)
class Wired:
    """What the commands are given, as the wiring does it."""

    logbook: LogbookTools
    shelf: RuleShelf
    load_case: CaseLoader
    read_case: CaseReader
    demo_case: Callable[[str], str]
    load_from_book: Callable[[str, str], Any]
    book_and_rope: Callable[[str], tuple[str, str] | None]
    book_tools: BookTools
    today: Callable[[], date]


def run(*words: object) -> Result:
    """Run a command as typed."""
    desk = LogbookDesk("ropewright test", now=ticking())
    tools = Wired(
        desk,
        PackageShelf(),
        load_case,
        read_case,
        demo_case,
        desk.load,
        split_address,
        BookTools(
            write_case=write_case,
            read_old_cards=read_old_cards,
            inspection_of_list=inspection_of_list,
            sheets_xlsx=sheets_xlsx,
            rope_card_pdf=rope_card_pdf,
        ),
        lambda: date(2026, 11, 25),
    )
    return CliRunner().invoke(logbook, [str(word) for word in words], obj=tools)


def ok(*words: object) -> str:
    """What a command says that must succeed."""
    result = run(*words)
    assert result.exit_code == 0, result.output
    return result.output


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A book with a demo rope."""
    path = tmp_path / "site.book"
    assert "Seal: " in ok("init", path)
    ok("import", path, "--demo", DEMO)
    return path


def seal_in(text: str) -> str:
    """The seal at the end of what was said."""
    seal = text.strip().rpartition("Seal: ")[2]
    assert str(Seal.parse(seal)) == seal
    return seal


def test_import_accounts_for_every_entry(book: Path) -> None:
    again = ok("import", book, "--demo", DEMO, "--lines")
    assert "0 entries taken" in again
    assert again.count("already there: ") == int(again.partition(" already there")[0].split()[-1])
    full = ok("import", book, ROOT / "examples" / "full.toml", "--lines")
    count = int(full.partition(" entries taken, 0 already there")[0].split()[-1])
    assert full.startswith("full.toml: rope rope 19-2: ")
    assert full.count("  taken: ") == count > 40


def test_a_changed_file_needs_a_reason(book: Path, tmp_path: Path) -> None:
    path = tmp_path / "changed.toml"
    text = demo_case(DEMO)
    assert 'lubricant = "' in text
    path.write_text(text.replace('lubricant = "', 'lubricant = "another: '), encoding="utf-8")
    refused = run("import", book, path)
    assert refused.exit_code == 2
    assert "with other content" in refused.output
    assert "1 corrected" in ok("import", book, path, "--correct", "wrong tin")


def test_the_way_out_and_back(book: Path, tmp_path: Path) -> None:
    said = ok("verify", book)
    assert "No earlier seal was given" in said
    seal = seal_in(said)
    assert "1 earlier seals compared" in ok("verify", book, "--seal", seal)
    assert seal_in(ok("export", book, tmp_path / "b.jsonl")) == seal
    assert "findings of 1 ropes" in ok("export", book, tmp_path / "b.csv")
    assert "1 dates" in ok("export", book, tmp_path / "b.ics")
    assert "python check.py" in ok("export", book, tmp_path / "check.py")
    assert seal_in(ok("backup", book, tmp_path / "b.zip")) == seal
    assert seal_in(ok("restore", tmp_path / "b.zip", tmp_path / "back")) == seal
    assert "1 ropes, 0 had differed" in ok("rebuild", tmp_path / "back")
    ok("init", tmp_path / "other")
    said = ok("import", tmp_path / "other", tmp_path / "b.jsonl", "--lines")
    count = int(said.partition(" entries taken")[0].split()[-1])
    assert said.count("  taken: ") == count
    assert "  taken: KQ-1 hoist: inspection begun, " in said


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("verify", "{folder}/none"), "ropewright logbook init"),
        (("init", "{book}"), "there already"),
        (("init", "{folder}/no/such/folder"), "no such folder"),
        (("import", "{book}"), "a case file, an export or --demo NAME"),
        (("import", "{book}", "{folder}/none.toml"), "no such file"),
        (("import", "{book}", "{folder}/none.jsonl"), "cannot be read"),
        (("export", "{book}", "{folder}/x.doc"), ".csv, .xlsx, .ics or .py"),
        (("export", "{book}", "{folder}/x.csv", "--rope", "KQ-9"), "a rope of this book"),
        (("verify", "{book}", "--seal", "x"), "BOOK-ID/NUMBER/HASH"),
        (("restore", "{folder}/none.zip", "{folder}/x"), "not a whole backup"),
        (("backup", "{book}", "/proc/no/x.zip"), "cannot be written"),
    ],
)
def test_what_cannot_be_done_is_said_plainly(
    book: Path, tmp_path: Path, words: tuple[str, ...], said: str
) -> None:
    result = run(*(word.format(book=book, folder=tmp_path) for word in words))
    assert result.exit_code in (2, 4), result.output
    assert said in result.output
    assert "Traceback" not in result.output
    assert isinstance(result.exception, SystemExit)


def test_a_book_that_does_not_hold_is_exit_code_2(book: Path) -> None:
    result = run("verify", book, "--seal", f"{seal_in(ok('verify', book))[:-64]}{'0' * 64}")
    assert result.exit_code == 2
    assert "does not hold" in result.output


def test_a_rope_of_a_book_is_judged_as_its_case_file_is(book: Path) -> None:
    case = read_case(demo_case(DEMO), file="x")
    address = split_address(f"{book}#{case.dossier.rope.rope_id}")
    assert address is not None
    loaded = LogbookDesk().load(*address)
    day = max(one.on for one in loaded.dossier.inspections)
    judged = [
        judge(one, PackageShelf(), day, software="test") for one in (case.dossier, loaded.dossier)
    ]
    assert judged[0] == judged[1]
    assert loaded.seal == seal_in(ok("verify", book))
    assert split_address("only.toml") is None
    with pytest.raises(UnknownNameError):
        LogbookDesk().load(str(book), "KQ-9")


def test_one_rope_as_a_case_file(book: Path, tmp_path: Path) -> None:
    case = read_case(demo_case(DEMO), file="x")
    out = tmp_path / "one.toml"
    said = ok("export", f"{book}#{case.dossier.rope.rope_id}", "--case", out)
    assert "reads back the same" in said
    assert load_case(out).dossier == case.dossier
    assert "# Written from a logbook" in out.read_text(encoding="utf-8")
    again = tmp_path / "again"
    ok("init", again)
    ok("import", again, out, "--as", "KQ-77")
    assert LogbookDesk().load(str(again), "KQ-77").dossier.installation == (
        case.dossier.installation
    )
    refused = run("export", book, tmp_path / "two.toml")
    assert (refused.exit_code, "BOOK#ROPE" in refused.output) == (2, True)


def test_tables_for_a_spreadsheet(book: Path, tmp_path: Path) -> None:
    out = tmp_path / "b.xlsx"
    assert "readings" in ok("export", book, out)
    workbook = openpyxl.load_workbook(out)
    assert workbook.sheetnames == ["findings", "readings", "inspections"]
    dossier = read_case(demo_case(DEMO), file="x").dossier
    rows = list(workbook["inspections"].iter_rows(values_only=True))
    assert [row[2] for row in rows[1:]] == [one.inspection_id for one in dossier.inspections]
    counted = rows[0].index("most broken wires in one place")
    most = [
        max((getattr(item, "count", 0) for item in one.findings), default=0)
        for one in dossier.inspections
    ]
    assert [row[counted] for row in rows[1:]] == most
    assert workbook.properties.description == "invented data"
    findings = [one for each in dossier.inspections for one in each.findings]
    parts = [one for each in dossier.inspections for one in each.part_findings]
    assert workbook["findings"].max_row - 1 == len(findings) + len(parts)
    for what in ("readings", "inspections"):
        csv = tmp_path / f"{what}.csv"
        assert what in ok("export", book, csv, "--what", what)
        assert len(csv.read_text(encoding="utf-8").splitlines()) == workbook[what].max_row
    assert "a table" in run("export", book, tmp_path / "x.csv", "--what", "else").output


def test_old_cards_go_into_a_rope(book: Path, tmp_path: Path) -> None:
    rope = f"{book}#KQ-1 hoist"
    path = tmp_path / "cards.csv"
    path.write_text(
        "date,at,count,over,who\n2025-06-03,61.4 m,2,120 mm,card writer\n2025-09-01,,0,,\n",
        encoding="utf-8",
    )
    assert "place_err" in run("import", rope, path).output
    said = ok("import", rope, path, "--place-err", "1 m")
    assert "row 2: taken: 2025-06-03, 2 broken wires over 120 mm at 61.40 m ± 1.00 m" in said
    assert "0 entries taken" in ok("import", rope, path, "--place-err", "1 m")
    ids = [
        one.inspection_id for one in LogbookDesk().load(str(book), "KQ-1 hoist").dossier.inspections
    ]
    assert ids[:2] == ["old card 2025-06-03", "old card 2025-09-01"]  # by day, not by arrival
    assert "BOOK#ROPE" in run("import", book, path).output
    text = path.read_text(encoding="utf-8") + "2025-10-01,1 m,many,,\n"
    path.write_text(text, encoding="utf-8")
    refused = run("import", rope, path, "--place-err", "1 m")
    assert (refused.exit_code, "row 4, column count" in refused.output) == (2, True)
    said = ok("import", rope, path, "--place-err", "1 m", "--leave-out")
    assert "row 4: not taken" in said
    assert "verify" not in said
    ok("verify", book)


def test_what_a_list_holds_comes_back(book: Path, tmp_path: Path) -> None:
    path = tmp_path / "found.csv"
    path.write_text("kind,at,count,over\nbroken wires,61.4 m,6,120 mm\n", encoding="utf-8")
    asked = ("--findings", "monthly", "--on", "2026-11-20", "--by", "rope inspector")
    rope = f"{book}#KQ-1 hoist"
    assert "the day of the inspection" in run("import", rope, path, *asked[:2]).output
    assert "one of shift" in run("import", rope, path, "--findings", "x", *asked[2:]).output
    assert "1 findings" in ok("import", rope, path, *asked)
    newest = LogbookDesk().load(str(book), "KQ-1 hoist").dossier.inspections[-1]
    assert (newest.inspection_id, newest.kind, newest.passes) == (
        "2026-11-20 found.csv",
        "monthly",
        (),
    )
    assert "0 entries taken" in ok("import", rope, path, *asked)
    assert newest.findings[0].place.at_m == 61.4


def test_single_entries_photos_and_what_has_to_be_erased(book: Path, tmp_path: Path) -> None:
    rope = f"{book}#KQ-1 hoist"
    assert "lubrication: lubricant, section" in ok("add", rope)
    assert "--by" in run("add", rope, "hold", "hold_id=H7", "reason=paper").output
    assert "KEY=VALUE" in run("add", rope, "hold", "paper", "--by", "x").output
    ok(
        "add",
        rope,
        "hold",
        "hold_id=H7",
        "reason=paper",
        "--by",
        "keeper one",
        "--on",
        "2026-11-20",
    )
    assert "on hold: H7" in ok("show", book)
    assert "on hold" not in ok("show", rope, "--as-of", "2026-11-19").splitlines()[0]
    ok("add", rope, "release", "of=H7", "evidence=paper came", "--by", "keeper one")
    assert "on hold" not in ok("show", book)
    lines = ok("show", rope).splitlines()
    assert [line.split()[2] for line in lines[-2:]] == ["hold", "release"]
    assert "BOOK#ROPE" in run("show", book, "--as-of", "2026-11-19").output
    picture = tmp_path / "spot.png"
    Image.new("RGB", (40, 30), "red").save(picture)
    kept = ok("photo", rope, picture, "--caption", "worst spot", "--scale").split()[-1]
    assert kept == hashlib.sha256(picture.read_bytes()).hexdigest()
    assert "cannot be read" in run("photo", rope, tmp_path / "none.png").output
    assert "a photo as JPEG, PNG or WebP" in run("photo", rope, ROOT / "README.md").output
    assert "erased" in ok("erase", book, "photo", kept, "--reason", "a face in it")
    assert "a photo of this book" in run("erase", book, "photo", "0", "--reason", "x").output
    ok("verify", book)
    card = tmp_path / "card.pdf"
    assert "card of rope KQ-1 hoist" in ok("export", rope, card)
    words = " ".join(" ".join(Pdf(card.read_bytes()).pages).split())
    assert "paper came" in words
    assert "keeper one" in words
