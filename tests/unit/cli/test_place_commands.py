"""``where`` and ``plan`` as a person types them, on the demo's hoist rope."""

import json
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from ropewright.cli.app import cli
from ropewright.wiring import tools

DEMO = ("--demo", "KQ-1", "--as-of", "2026-11-10")
HEAD = ("--point", "tower head platform")


def run(*words: str) -> Result:
    """Run a command as typed."""
    return CliRunner().invoke(cli, list(words), obj=tools(), prog_name="ropewright")


def test_there_and_back_again() -> None:
    """By hand: the place read at a hook height comes back to the same height."""
    there = json.loads(run("where", *DEMO, "--hook", "60 m", *HEAD, "--json").stdout)
    rope_m = there["rope"]["at_m"]
    back = run("where", *DEMO, "--bring", f"{rope_m:.3f} m", *HEAD)
    assert back.exit_code == 0, back.output
    assert "hook 60.0 m" in back.output


def test_two_falls_move_two_metres_of_rope_for_one_of_hook() -> None:
    """By hand: 2 falls, so 10 m of hook are 20 m of rope past the tower head."""
    low, high = (
        json.loads(run("where", *DEMO, "--hook", hook, *HEAD, "--json").stdout)["rope"]["at_m"]
        for hook in ("60 m", "70 m")
    )
    assert abs(low - high) == pytest.approx(20.0, abs=0.05)


def test_a_mark_and_the_drum_are_places_too() -> None:
    beyond = run("where", *DEMO, "--mark", "7", "--beyond", "2.1 m")
    assert "300.30 m" in beyond.output  # mark 7 lies at 298.2 m (demo), by hand
    drum = run("where", *DEMO, "--layer", "2", "--wrap", "4", "--from", "motor")
    assert drum.exit_code == 0, drum.output
    assert "layer 2, wrap 4 from the motor-side flange" in " ".join(drum.output.split())


def test_dead_wraps_cannot_be_brought_anywhere() -> None:
    found = run("where", *DEMO, "--bring", "418 m", *HEAD)
    assert "run the hook" not in found.output
    assert "drum" in found.output


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (("--hook", "23.4 m", "--point", "tower hed"), "tower head platform"),
        (("--hook", "23.4", *HEAD), "unit"),
        (("--hook", "23.4 m"), "point"),
        (("--mark", "99", "--beyond", "1 m"), "99"),
        (("--hook", "900 m", *HEAD), "900"),
    ],
)
def test_bad_questions_get_one_plain_line(words: tuple[str, ...], expected: str) -> None:
    result = run("where", *DEMO, *words)
    assert result.exit_code == 2, result.output
    assert expected in result.stderr
    assert "Traceback" not in result.output


def test_the_plan_is_one_page_with_a_picture(tmp_path: Path) -> None:
    picture = tmp_path / "plan.svg"
    result = run("plan", *DEMO, "--picture", str(picture))
    assert result.exit_code == 0, result.output
    for words in ("runs away from", "dead wraps", "HAND OFF", "stop word", "INVENTED DATA"):
        assert words in " ".join(result.output.split())
    root = ET.fromstring(picture.read_text(encoding="utf-8"))
    assert root.get("role") == "img"
    texts = [one.text or "" for one in root.iter("{http://www.w3.org/2000/svg}text")]
    assert any("runs away from" in text for text in texts)


def test_a_plan_without_rigging_says_which_number_to_give(tmp_path: Path) -> None:
    case = tmp_path / "bare.toml"
    case.write_text(
        'schema = 1\n[rope]\ndiameter = "20 mm"\nconstruction = "6x36WS"\nlength = "180 m"\n'
        '[installation]\nrules = ["iso-4309-2017"]\n',
        encoding="utf-8",
    )
    result = run("plan", str(case))
    assert "Traceback" not in result.output
    assert "rigging" in result.output + result.stderr


SHAFT = str(Path(__file__).parents[3] / "examples" / "shaft-hoist-spans.toml")


def test_the_short_plan_is_a_sheet_and_all_adds_the_rest() -> None:
    short, whole = run("plan", *DEMO), run("plan", *DEMO, "--all")
    assert short.exit_code == whole.exit_code == 0
    for words in ("Passes", "Hand", "HAND OFF", "Not covered", "Find again", "Cautions", "--all"):
        assert words in short.output
    assert "Where damage is to be expected" not in short.output
    for words in ("Where damage is to be expected", "Order of the work", "Taken for granted"):
        assert words in whole.output
    assert len(short.output.splitlines()) < len(whole.output.splitlines())


def test_the_sheet_on_paper_is_written(tmp_path: Path) -> None:
    out = tmp_path / "plan.pdf"
    result = run("plan", SHAFT, "--as-of", "2026-11-10", "--pdf", str(out))
    assert result.exit_code == 0, result.output
    assert out.read_bytes().startswith(b"%PDF")
    assert f"Sheet: {out}" in result.output


def test_readings_show_what_they_made_of_the_numbers() -> None:
    words = ("--as-of", "2026-11-10", "--hook", "-12 m", "--point", "foot of", "--readings")
    said = " ".join(run("where", SHAFT, *words).output.split())
    assert "3 readings, the last on 2026-02-03" in said
    assert "left over" in said
    assert "length of the rope" in said
    none = run("where", *DEMO, "--mark", "7", "--beyond", "1 m", "--readings").output
    assert "reading" in none


def test_what_would_narrow_a_place_is_said_with_both_errors() -> None:
    said = " ".join(run("where", *DEMO, "--hook", "23.4 m", *HEAD).output.split())
    assert "To narrow it" in said
    assert "the shared ±" in said
    assert "becomes ±" in said


def test_the_register_shows_every_room() -> None:
    said = run("assumptions").output
    for heading in ("Rulings and verdict", "Places on the rope", "Plan of an inspection"):
        assert heading in said
    assert "plan-distance-to-nip" in said
