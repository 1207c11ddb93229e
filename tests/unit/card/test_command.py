"""The command that makes a card, as a person types it."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from ropewright.cli.app import cli
from ropewright.wiring import tools


def run(*words: str) -> tuple[int, str]:
    done = CliRunner().invoke(cli, ["card", *words], obj=tools())
    return done.exit_code, done.output


def test_card_and_page_are_written(tmp_path: Path) -> None:
    made, page = tmp_path / "card.json", tmp_path / "card.pdf"
    code, said = run(
        "--demo", "KQ-1", "--as-of", "2026-11-10", "--json", str(made), "--pdf", str(page)
    )
    assert code == 0, said
    assert "remove from service, on hold" in said
    assert json.loads(made.read_text(encoding="utf-8"))["rope_id"] == "KQ-1 hoist"
    assert page.read_bytes().startswith(b"%PDF")


def test_without_files_it_says_what_would_be_on_the_card() -> None:
    code, said = run("--demo", "KQ-5")
    assert code == 0, said
    assert "Places" in said


@pytest.mark.parametrize("words", [(), ("--demo", "KQ-1", "a-file.toml"), ("no-such.toml",)])
def test_what_cannot_be_read_is_one_clear_error(words: tuple[str, ...]) -> None:
    code, said = run(*words)
    assert code == 2
    assert said.startswith("ropewright: ")
