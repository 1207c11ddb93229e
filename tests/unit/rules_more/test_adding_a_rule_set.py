"""A new rule set is data and cases only: one is added from a folder outside the package."""

import tomllib
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from ropewright.cli.app import cli
from ropewright.intake import read_case
from ropewright.intake.shelf import FolderShelf, PackageShelf
from ropewright.rules import Assessment, assess, duties_of, limit_words
from ropewright.wiring import tools
from tests.unit.rules.test_rule_cases import _numbers_agree, case_file, ruling_of

ADDED = Path(__file__).parents[2] / "added_rules"
NAME = "brackwater-harbour"
FOLDER = ADDED / NAME


def _cases() -> list[dict[str, Any]]:
    data = tomllib.loads((ADDED / f"{NAME}-cases.toml").read_text(encoding="utf-8"))
    cases: list[dict[str, Any]] = data["case"]
    return cases


def _judge(case: dict[str, Any]) -> Assessment:
    shelf = PackageShelf()
    dossier = read_case(case_file(case), file="case", known_rules=shelf.names()).dossier
    sets = [shelf.get(str(FOLDER)), shelf.get("own-checks")]
    return assess(dossier, sets, case.get("as_of", date(2026, 11, 9)), software="tests")


@pytest.mark.parametrize("case", _cases(), ids=lambda case: str(case["sentence"]))
def test_case_of_the_added_set(case: dict[str, Any]) -> None:
    assessment = _judge(case)
    ruling, _ = ruling_of(assessment, NAME, case["clause"])
    assert ruling.status == case["expect"]["status"], ruling.words
    _numbers_agree(ruling, case["expect"], ruling.words)
    level = assessment.verdict.level
    assert level == case["expect"].get("verdict", level), assessment.verdict.sentence


def test_every_clause_of_the_added_set_has_both_sides() -> None:
    statuses: dict[str, set[str]] = {}
    for case in _cases():
        statuses.setdefault(case["clause"], set()).add(case["expect"]["status"])
    rules = FolderShelf(ADDED).get(NAME)
    assert set(statuses) == {clause.clause_id for clause in rules.clauses}
    assert all({"reached", "below"} <= seen for seen in statuses.values())


def test_its_name_stands_in_no_code() -> None:
    package = Path(str(tools.__code__.co_filename)).parent
    for path in package.rglob("*.py"):
        assert "brackwater" not in path.read_text(encoding="utf-8").lower() or "demo" in str(path)


def test_it_is_added_on_the_command_line_and_the_strictest_governs(tmp_path: Path) -> None:
    path = tmp_path / "rope.toml"
    eight = [{"kind": "broken wires", "at": "30 m", "count": 8, "over": "240 mm"}]
    path.write_text(case_file({"finding": eight}), encoding="utf-8")
    base = ["assess", str(path), "--as-of", "2026-11-09"]
    alone = CliRunner().invoke(cli, base, obj=tools())
    both = CliRunner().invoke(cli, [*base, "--rules", f"+{FOLDER}"], obj=tools())
    assert "IN SERVICE, MONITOR" in alone.output
    assert "REMOVE FROM SERVICE" in both.output
    assert "Brackwater rule, 4.1" in both.output
    assert both.exit_code == 1


def test_it_can_be_shown_and_compared(tmp_path: Path) -> None:
    shown = CliRunner().invoke(cli, ["rules", "show", str(FOLDER)], obj=tools())
    assert shown.exit_code == 0
    assert "Tail of the wedge socket at least 8 d" in shown.output
    compared = CliRunner().invoke(
        cli, ["rules", "diff", str(FOLDER), "house-template"], obj=tools()
    )
    assert compared.exit_code == 0
    for clause in FolderShelf(ADDED).get(NAME).clauses:
        assert limit_words(clause)


def test_its_duties_have_their_days() -> None:
    shelf = PackageShelf()
    case = {"inspection": {"kind": "periodic"}}
    dossier = read_case(case_file(case), file="case", known_rules=shelf.names()).dossier
    (duty,) = duties_of(dossier, [shelf.get(str(FOLDER))], date(2026, 11, 9)).duties
    # by hand: six weeks are 42 days, two years from 9 November 2026
    assert (duty.due, duty.keep_until) == (date(2026, 12, 21), date(2028, 11, 9))
