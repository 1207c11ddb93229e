"""Mistakes in the further kinds of checks: one message each, and no number read twice."""

import tomllib
from pathlib import Path
from typing import Any

import pytest

from ropewright.errors import RuleFileError, TableError
from ropewright.intake.shelf import FolderShelf, PackageShelf
from ropewright.rules.load_more_checks import FINDING_KINDS, MORE_CHECKS

BROKEN = Path(__file__).parents[2] / "broken_rules_more"


def _expected() -> list[dict[str, Any]]:
    data = tomllib.loads((BROKEN / "expected.toml").read_text(encoding="utf-8"))
    broken: list[dict[str, Any]] = data["broken"]
    return broken


@pytest.mark.parametrize("case", _expected(), ids=lambda case: str(case["folder"]))
def test_one_mistake_one_message(case: dict[str, Any]) -> None:
    with pytest.raises((RuleFileError, TableError)) as caught:
        FolderShelf(BROKEN).get(case["folder"])
    message = str(caught.value)
    for words in case["says"]:
        assert words in message, message
    assert "\n" not in message
    assert caught.value.exit_code == 2
    assert case["folder"] in str(caught.value.file)


def test_every_broken_folder_is_expected_and_the_other_way_round() -> None:
    folders = {path.name for path in BROKEN.iterdir() if path.is_dir()}
    assert folders == {case["folder"] for case in _expected()}


def test_every_further_kind_of_check_is_used_and_broken() -> None:
    shelf = PackageShelf()
    used = {
        table["check"]
        for name in shelf.names()
        for table in tomllib.loads(shelf.rule_files(name)["rules.toml"]).get("clause", [])
    }
    broken = {
        table["check"]
        for case in _expected()
        for table in tomllib.loads(
            (BROKEN / case["folder"] / "rules.toml").read_text(encoding="utf-8")
        )["clause"]
    }
    assert set(MORE_CHECKS) <= used
    assert set(MORE_CHECKS) <= broken


def test_kinds_of_findings_are_those_that_findings_name_themselves() -> None:
    assert len(set(FINDING_KINDS)) == len(FINDING_KINDS)
    assert {"broken wires", "diameter", "waviness", "metallic loss", "kink"} <= set(FINDING_KINDS)
