"""The commands of the logbook as a person types them."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from ropewright.cli.logbook_commands import logbook
from ropewright.cli.logbook_tools import LogbookTools
from ropewright.cli.tools import CaseLoader, CaseReader
from ropewright.demo import demo_case
from ropewright.desk import RuleShelf, judge, split_address
from ropewright.errors import UnknownNameError
from ropewright.intake import PackageShelf, load_case, read_case
from ropewright.logbook import LogbookDesk, Seal
from tests.unit.logbook.samples import ROOT, ticking

DEMO = "KQ-1"


@dataclass(frozen=True)
class Wired:
    """What the commands are given, as the wiring does it."""

    logbook: LogbookTools
    shelf: RuleShelf
    load_case: CaseLoader
    read_case: CaseReader
    demo_case: Callable[[str], str]


def run(*words: object) -> Result:
    """Run a command as typed."""
    tools = Wired(
        LogbookDesk("ropewright test", now=ticking()),
        PackageShelf(),
        load_case,
        read_case,
        demo_case,
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
    assert "full.toml: rope rope 19-2: 46 entries taken" in ok(
        "import", book, ROOT / "examples" / "full.toml"
    )


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
    assert "already there" in ok("import", tmp_path / "other", tmp_path / "b.jsonl")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("verify", "{folder}/none"), "ropewright logbook init"),
        (("init", "{book}"), "there already"),
        (("init", "{folder}/no/such/folder"), "no such folder"),
        (("import", "{book}"), "a case file, an export or --demo NAME"),
        (("import", "{book}", "{folder}/none.toml"), "no such file"),
        (("import", "{book}", "{folder}/none.jsonl"), "cannot be read"),
        (("export", "{book}", "{folder}/x.doc"), ".jsonl, .csv, .ics or .py"),
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
