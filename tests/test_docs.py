"""The documentation keeps up with the program."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
DOCS = ROOT / "docs"


def test_pages_made_from_the_program_are_current() -> None:
    """Commands, errors and rule catalogue say what the program says.

    In a process of its own: a command keeps the help option of whoever called it first.
    """
    script = ROOT / "scripts" / "reference.py"
    done = subprocess.run(
        [sys.executable, str(script), "--check"], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr


def test_pages_are_linked_from_the_readme() -> None:
    """Every page of docs/ can be reached from the README."""
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    for page in sorted(DOCS.glob("*.md")):
        assert f"docs/{page.name}" in readme, page.name


@pytest.mark.parametrize("page", [ROOT / "README.md", *sorted(DOCS.rglob("*.md"))], ids=str)
def test_links_lead_somewhere(page: Path) -> None:
    """A relative link names a file that exists."""
    text = re.sub(r"```.*?```", "", page.read_text(encoding="utf-8"), flags=re.DOTALL)
    for target in re.findall(r"\]\(([^)#\s]+)\)", text):
        if "://" not in target:
            assert (page.parent / target).exists(), f"{page.name} links to {target}"


def test_nothing_says_safe_or_fit_for_use() -> None:
    """The product never calls a rope safe or fit for use in its own voice."""
    banned = re.compile(r"\b(is|rope|stays) (safe|fit)\b(?! to| for the)", re.IGNORECASE)
    for path in sorted((ROOT / "src").rglob("*")):
        if path.suffix in {".py", ".toml", ".typ"}:
            for line in path.read_text(encoding="utf-8").splitlines():
                found = banned.search(line)
                never = re.search(r"\b(never|not)\b", line, re.IGNORECASE)
                assert found is None or never, f"{path.name}: {line.strip()}"


def _tour_blocks() -> list[tuple[str, str]]:
    text = (DOCS / "tour.md").read_text(encoding="utf-8")
    return re.findall(r"```\w+ src=(\S+)\n(.*?)```", text, flags=re.DOTALL)


def test_the_tour_has_ten_stops() -> None:
    text = (DOCS / "tour.md").read_text(encoding="utf-8")
    assert re.findall(r"^## (\d+)\.", text, flags=re.MULTILINE) == [str(n) for n in range(1, 11)]
    assert len(_tour_blocks()) >= 10


def test_the_tour_passes_every_room() -> None:
    """Each room of the house is named, and no room that does not exist."""
    text = (DOCS / "tour.md").read_text(encoding="utf-8")
    rooms = {one.parent.name for one in (ROOT / "src" / "ropewright").glob("*/__init__.py")}
    assert set(re.findall(r"`(\w+)/`", text)) == rooms


@pytest.mark.parametrize(("path", "block"), _tour_blocks(), ids=str)
def test_the_tour_shows_real_code(path: str, block: str) -> None:
    """Every block of the tour stands in the file it names, letter by letter."""
    assert block in (ROOT / path).read_text(encoding="utf-8")
