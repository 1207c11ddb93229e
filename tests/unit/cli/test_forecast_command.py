"""Forecast and match as typed, on the demo's bridge crane rope and in a logbook."""

import json
import re
from pathlib import Path

import pytest

from tests.unit.cli.test_commands import run

ROPE = "KQ-4 hoist"


@pytest.fixture
def address(tmp_path: Path) -> str:
    """A logbook with the demo's bridge crane rope in it."""
    book = str(tmp_path / "site.book")
    assert run("logbook", "init", book).exit_code == 0
    assert run("logbook", "import", book, "--demo", "KQ-4").exit_code == 0
    return f"{book}#{ROPE}"


def said(*words: str) -> str:
    result = run(*words)
    assert result.exit_code == 0, result.output
    return " ".join(result.output.split())


def test_a_forecast_is_stored_and_held_against_the_next_look(address: str) -> None:
    first = said("forecast", address, "--as-of", "2026-10-20", "--store", "--by", "planner")
    assert "NEXT INSPECTION BY" in first
    assert "Stored in the logbook as entry" in first
    later = said("forecast", address, "--as-of", "2026-11-10")
    assert "Stored 1 forecast was followed by a look: the limit was never found passed" in later
    assert "looked at on 2026-11-09" in later


def test_only_a_logbook_keeps_what_was_said() -> None:
    result = run("forecast", "--demo", "KQ-4", "--store")
    assert result.exit_code == 2
    assert "BOOK#ROPE" in result.output


def test_pairs_are_shown_and_a_person_overrules(address: str) -> None:
    before = said("match", address, "--as-of", "2026-11-10")
    assert "2026-11-A the same as 2026-10-A" in before
    after = said(
        "match", address, "--as-of", "2026-11-10", "--not-same", "2026-11-A=2026-10-A",
        "--by", "rope inspector", "--reason", "other strand",
    )  # fmt: skip
    assert "Noted in the logbook" in after
    assert "2026-11-A new" in after
    answered = said(
        "match", address, "--as-of", "2026-11-10", "--fate", "2026-10-A=ends-removed",
        "--by", "rope fitter",
    )  # fmt: skip
    assert "question" not in answered


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (("--same", "b=a"), "--by: expected who says so"),
        (("--same", "b", "--by", "x"), "--same: expected LATER=EARLIER"),
        (("--fate", "a=lost", "--by", "x"), "ends-removed, cut-away, other"),
        (("--new", "a", "--same", "b=a", "--by", "x"), "at a time"),
        (("--same", "nobody=2026-10-A", "--by", "x"), "a finding of this rope"),
    ],
)
def test_what_cannot_be_noted_is_refused_in_one_line(
    address: str, words: tuple[str, ...], expected: str
) -> None:
    result = run("match", address, *words)
    assert result.exit_code == 2
    assert expected in result.output
    assert len(result.output.strip().splitlines()) == 1


def test_the_figure_is_written_as_picture_and_as_specification(tmp_path: Path) -> None:
    svg, spec = tmp_path / "t.svg", tmp_path / "t.json"
    words = ("forecast", "--demo", "KQ-4", "--as-of", "2026-11-10", "--picture")
    assert str(svg) in run(*words, str(svg)).output.replace("\n", "")
    assert re.search(r"<svg[^>]*role=\"img\"", svg.read_text(encoding="utf-8"))
    assert run(*words, str(spec)).exit_code == 0
    data = json.loads(spec.read_text(encoding="utf-8"))
    assert "vega-lite" in data["$schema"]
    assert "Invented data" in data["description"]


def test_own_ropes_from_a_logbook_and_a_folder(address: str, tmp_path: Path) -> None:
    book = address.partition("#")[0]
    words = said("forecast", "--demo", "KQ-4", "--as-of", "2026-11-10", "--own-ropes", book)
    assert "1 rope of one's own; 8 are needed" in words
    result = run("forecast", "--demo", "KQ-4", "--own-ropes", str(tmp_path))
    assert result.exit_code == 2
    assert "a folder with case files" in result.output


def test_growth_and_what_nobody_judges_show_in_the_assessment() -> None:
    result = run("assess", "--demo", "KQ-4", "--as-of", "2026-11-10")
    words = " ".join(result.output.split())
    assert result.exit_code == 1
    assert "the count doubled between two inspections: from 1 to 9" in words


def test_the_report_has_the_page_how_fast_it_grows(tmp_path: Path) -> None:
    pdf = tmp_path / "r.pdf"
    run("assess", "--demo", "KQ-4", "--as-of", "2026-11-10", "--report", str(pdf))
    assert pdf.read_bytes().startswith(b"%PDF")
