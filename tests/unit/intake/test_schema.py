"""The published JSON Schema and the manual's tables are those of the reader."""

import datetime
import tomllib
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from ropewright.demo import demo_case, demo_names
from ropewright.inspection import ITEMS
from ropewright.intake import case_schema
from ropewright.intake.schema import (
    MANUAL_FILE,
    SCHEMA_FILE,
    case_schema_text,
    with_key_tables,
)

REPO = Path(__file__).parents[3]
DOCS = REPO / "docs"
ANEW = (
    "out of date; write it anew: python -c 'import pathlib, ropewright.intake.schema as s; "
    's.write_published(pathlib.Path("docs"))\''
)
EXAMPLES = sorted((REPO / "examples").glob("*.toml"))


def _as_json(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _as_json(one) for key, one in value.items()}
    if isinstance(value, list):
        return [_as_json(one) for one in value]
    return value.isoformat() if isinstance(value, datetime.date) else value


def _problems(text: str) -> list[str]:
    checker = jsonschema.Draft202012Validator(
        case_schema(), format_checker=jsonschema.FormatChecker()
    )
    return [error.message for error in checker.iter_errors(_as_json(tomllib.loads(text)))]


def test_the_schema_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(case_schema())


def test_the_published_schema_is_up_to_date() -> None:
    assert (DOCS / SCHEMA_FILE).read_text(encoding="utf-8") == case_schema_text(), ANEW


def test_the_manual_is_up_to_date() -> None:
    text = (DOCS / MANUAL_FILE).read_text(encoding="utf-8")
    assert with_key_tables(text) == text, ANEW


def test_the_manual_lists_every_item() -> None:
    text = " ".join((DOCS / MANUAL_FILE).read_text(encoding="utf-8").split())
    assert all(item in text for item in ITEMS)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_examples_keep_to_the_schema(path: Path) -> None:
    assert _problems(path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize("name", demo_names())
def test_the_demo_keeps_to_the_schema(name: str) -> None:
    assert _problems(demo_case(name)) == []


@pytest.mark.parametrize(
    "name",
    ["unknown-key", "unknown-table", "no-rope-length", "no-rules", "count-in-quotes",
     "number-without-quotes", "date-in-quotes", "unknown-method", "unknown-finding-kind",
     "yes-for-true", "three-readings", "double-brackets-round-rope"],
)  # fmt: skip
def test_an_editor_with_the_schema_sees_slips_of_form(name: str) -> None:
    path = REPO / "tests" / "broken_cases" / f"{name}.toml"
    assert _problems(path.read_text(encoding="utf-8"))
