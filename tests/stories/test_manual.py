"""docs/demo.md shows what the commands print."""

import re
import shlex
from pathlib import Path

import pytest
from click.testing import CliRunner

from ropewright.cli.app import cli
from ropewright.wiring import tools

PAGE = Path(__file__).resolve().parents[2] / "docs" / "demo.md"


def sessions() -> list[tuple[str, tuple[str, ...]]]:
    """Each command of the page with the lines shown below it."""
    found: list[tuple[str, tuple[str, ...]]] = []
    for block in re.findall(r"```console\n(.*?)```", PAGE.read_text(encoding="utf-8"), re.DOTALL):
        for part in block.split("$ ropewright ")[1:]:
            command, *lines = part.rstrip("\n").split("\n")
            found.append((command, tuple(lines)))
    return found


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the site's files below it, as the page has them."""
    made = tmp_path_factory.mktemp("page")
    done = CliRunner().invoke(cli, ["demo", "--out", str(made / "kestrel")], obj=tools())
    assert done.exit_code == 0, done.output
    return made


@pytest.mark.parametrize(("command", "lines"), sessions(), ids=[one for one, _ in sessions()])
def test_the_page_shows_what_is_printed(
    command: str, lines: tuple[str, ...], folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every line shown is printed, in the order shown; other lines may lie between.

    Three dots stand for what is left out of a line.
    """
    assert lines
    monkeypatch.chdir(folder)
    result = CliRunner().invoke(cli, shlex.split(command), obj=tools())
    assert result.exit_code in (0, 1, 3), result.output
    assert "nvented data" in result.output or "INVENTED DATA" in result.output
    printed = iter(result.output.splitlines())
    for line in lines:
        shown = re.compile(r"\s*" + ".*".join(map(re.escape, line.strip().split("…"))) + r"\s*")
        assert any(map(shown.fullmatch, printed)), f"{line!r} is not there:\n{result.output}"
