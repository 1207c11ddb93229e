"""The whole site as a logbook: the same ropes, the same verdicts, nothing lost on the way."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner

from ropewright.cli.app import cli
from ropewright.demo import demo_names, demo_notes, demo_photos, demo_rope
from ropewright.logbook import Book, open_book, verify
from ropewright.rules import assessment_as_json
from ropewright.wiring import tools
from tests.stories.site import SEEDS, judged, rope

SEED = SEEDS[3]


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> str:
    """A book of the site, made by the command."""
    path = str(tmp_path_factory.mktemp("site") / "kestrel.book")
    made = CliRunner().invoke(cli, ["demo", "--book", path, "--seed", str(SEED)], obj=tools())
    assert made.exit_code == 0, made.output
    assert "invented data" in made.output
    return path


@pytest.fixture(scope="module")
def book(address: str) -> Iterator[Book]:
    opened = open_book(address)
    yield opened
    opened.close()


@pytest.mark.parametrize("name", demo_names())
def test_file_and_book_give_the_same_verdict(book: Book, name: str) -> None:
    kept = book.dossier(demo_rope(name).rope_id)
    assert kept == rope(name, SEED)
    assert kept.invented
    assert assessment_as_json(judged(kept)) == assessment_as_json(judged(rope(name, SEED)))


def test_the_book_has_all_ropes_and_holds(book: Book) -> None:
    assert book.rope_ids() == tuple(sorted(demo_rope(name).rope_id for name in demo_names()))
    checked = verify(book)
    assert checked.problems == ()


def test_notes_and_pictures_are_in_the_book(book: Book) -> None:
    for name in demo_names():
        entries = {one.entry.entry_id for one in book.entries(demo_rope(name).rope_id)}
        assert {note.entry_id for note in demo_notes(name)} <= entries
        assert {photo.entry_id for photo in demo_photos(name, SEED)} <= entries


def test_people_are_roles_with_qualification_and_expiry(book: Book) -> None:
    inspectors = [
        person
        for one in book.dossier("KQ-4 hoist").inspections
        for person in one.by
        if person.role.endswith("inspector")
    ]
    assert len(inspectors) == 3
    assert all(one.qualification and one.certificate_expires for one in inspectors)
    assert not any(one.name for one in inspectors)


def test_a_book_that_is_there_is_not_touched(address: str) -> None:
    again = CliRunner().invoke(cli, ["demo", "--book", address], obj=tools())
    assert again.exit_code == 2
    assert "is there already" in again.output


def test_files_and_pictures_are_written(tmp_path: Path) -> None:
    made = CliRunner().invoke(cli, ["demo", "KQ-4", "--out", str(tmp_path)], obj=tools())
    assert made.exit_code == 0, made.output
    assert "KQ-4.toml" in {one.name for one in tmp_path.iterdir()}
    named = {
        photo
        for look in rope("KQ-4", 1).inspections
        for one in (*look.findings, *look.part_findings)
        for photo in one.photos
    }
    assert named
    assert named <= {one.name for one in tmp_path.iterdir()}
    read = CliRunner().invoke(
        cli, ["assess", str(tmp_path / "KQ-4.toml"), "--as-of", "2026-11-10"], obj=tools()
    )
    assert read.exit_code == 1, read.output
    assert read.output.startswith("INVENTED DATA")
