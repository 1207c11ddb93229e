"""The commands as a person types them: words, exit codes, files, plain errors."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from ropewright.cli.app import EXIT_CODES, cli
from ropewright.rules import LEVELS
from ropewright.wiring import tools

ROOT = Path(__file__).resolve().parents[3]
EXAMPLES = ROOT / "examples"
DAY = "2026-11-10"


def run(*words: str) -> Result:
    """Run a command as typed."""
    return CliRunner().invoke(cli, list(words), obj=tools(), prog_name="ropewright")


def test_every_level_has_its_exit_code() -> None:
    """0 clear or monitor, 1 remove or decide, 3 incomplete (by hand: the published list)."""
    assert set(EXIT_CODES) == set(LEVELS)
    assert EXIT_CODES == {"remove": 1, "decide": 1, "incomplete": 3, "monitor": 0, "clear": 0}


def test_the_demo_rope_is_to_be_removed_by_a_clause_whose_text_was_seen() -> None:
    result = run("assess", "--demo", "KQ-1", "--as-of", DAY)
    assert result.exit_code == 1, result.output
    assert "REMOVE FROM SERVICE" in result.output
    assert "29 CFR 1926.1413(a)(2)(ii)(A)(2)" in result.output
    assert "INVENTED DATA" in result.output
    assert "a person decides and signs" in result.output


def test_the_demo_trolley_rope_is_incomplete_until_measured() -> None:
    result = run("assess", "--demo", "KQ-1-trolley", "--as-of", DAY)
    assert result.exit_code == 3, result.output
    assert "INSPECTION INCOMPLETE" in result.output
    assert "second reading at right angles" in result.output


def test_json_is_the_only_thing_on_stdout() -> None:
    result = run("assess", "--demo", "KQ-1", "--as-of", DAY, "--json")
    data = json.loads(result.stdout)
    assert data["verdict"]["level"] == "remove"
    ruling = next(
        one for one in data["rulings"] if one["ruling"] == data["verdict"]["governing"][0]
    )
    assert ruling["trace"]["steps"]
    assert len(ruling["trace"]["rules_hash"]) == 64
    assert ruling["limit"] == "4"  # 29 CFR 1926.1413(a)(2)(ii)(A)(2), published


def test_report_and_picture_are_written(tmp_path: Path) -> None:
    pdf, svg = tmp_path / "new" / "r.pdf", tmp_path / "c.svg"
    result = run(
        "assess", "--demo", "KQ-1", "--as-of", DAY, "--report", str(pdf), "--picture", str(svg)
    )
    assert result.exit_code == 1, result.output
    assert pdf.read_bytes().startswith(b"%PDF-")
    assert svg.read_text(encoding="utf-8").startswith("<svg")


def test_a_place_that_cannot_be_written_is_named(tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("in the way")
    result = run(
        "assess", "--demo", "KQ-1", "--as-of", DAY, "--picture", str(blocked / "below" / "c.svg")
    )
    assert result.exit_code == 4
    assert "cannot be written" in result.stderr
    assert "c.svg" in result.stderr


def test_why_derives_a_ruling_step_by_step() -> None:
    result = run("why", "us-29cfr-1926-1413/rr-breaks-30d/1", "--demo", "KQ-1", "--as-of", DAY)
    assert result.exit_code == 0, result.output
    for words in ("30 × 20 mm = 600 mm", "worst window", "limit", "=> reached", "SHA-256"):
        assert words in result.output


def test_an_unknown_ruling_lists_near_ones() -> None:
    result = run("why", "rr-breaks-30", "--demo", "KQ-1", "--as-of", DAY)
    assert result.exit_code == 2
    assert "rr-breaks-30d" in result.stderr


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (["assess"], "either a case file or --demo NAME"),
        (["assess", "x.toml", "--demo", "KQ-1"], "given \"both\""),
        (["assess", "--demo", "KQ-9"], "KQ-9"),
        (["assess", "--demo", "KQ-1", "--rules", "iso-4309-2017"], "a plus sign"),
        (["assess", "--demo", "KQ-1", "--rules", "+iso-4309-2071"], "iso-4309-2017"),
        (["assess", "does-not-exist.toml"], "does-not-exist.toml"),
        (["rules", "show", "iso"], "iso"),
    ],
)  # fmt: skip
def test_bad_input_is_one_plain_line_and_exit_code_2(words: list[str], expected: str) -> None:
    result = run(*words)
    assert result.exit_code == 2, result.output
    assert expected in result.stderr
    assert "Traceback" not in result.output
    assert result.stdout == ""


def test_a_date_that_is_none() -> None:
    result = run("assess", "--demo", "KQ-1", "--as-of", "yesterday")
    assert result.exit_code == 2
    assert "2026-11-10" in result.stderr
    assert "yesterday" in result.stderr


def test_adding_a_rule_set_never_makes_it_milder() -> None:
    """The strictest governs: with a house rule added the level can only rise."""
    before = json.loads(run("assess", "--demo", "KQ-1-trolley", "--as-of", DAY, "--json").stdout)
    after = json.loads(
        run(
            "assess", "--demo", "KQ-1-trolley", "--as-of", DAY, "--json", "--rules",
            "+house-template",
        ).stdout
    )  # fmt: skip
    order = list(LEVELS)
    assert order.index(after["verdict"]["level"]) <= order.index(before["verdict"]["level"])
    assert "house-template" in {one["rule_set"] for one in after["rule_sets"]}


def test_rule_sets_are_listed_shown_and_compared() -> None:
    listed = run("rules", "list")
    assert "iso-4309-2017" in listed.output
    shown = run("rules", "show", "us-29cfr-1926-1413")
    assert "(a)(2)(ii)(A)(2)" in shown.output
    assert "read in the rule itself" in shown.output
    compared = run("rules", "diff", "iso-4309-2017", "iso-4309-2017")
    assert "no clause differs" in compared.output


def test_schema_demo_and_assumptions_print_something_useful() -> None:
    assert json.loads(run("schema").stdout)["type"] == "object"
    assert "KQ-1" in run("demo").output.split()
    assert run("demo", "KQ-1").output.startswith("#") or "schema = 1" in run("demo", "KQ-1").output
    assert "closed-window" in run("assumptions").output


def test_as_of_before_the_inspection_finds_nothing_on_record() -> None:
    """A later inspection does not exist yet."""
    result = run("assess", str(EXAMPLES / "minimal.toml"), "--as-of", "2000-01-01")
    assert result.exit_code == 3, result.output
    assert "no inspection is on record" in result.output
