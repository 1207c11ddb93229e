"""``wear`` as a person types it: one rope, a list of lifts, a fleet, and what is refused."""

import json
import xml.etree.ElementTree as ET
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from ropewright.cli.app import cli
from ropewright.wiring import tools
from tests.unit.desk.wear_logs import case_text, csv_text, log
from tests.unit.fleet.test_fleet import MAPPING, make_fleet

DAY = ("--as-of", "2026-06-30")


def run(*words: object) -> Result:
    """Run the command as typed."""
    typed = ["wear", *map(str, words)]
    return CliRunner().invoke(cli, typed, obj=tools(), prog_name="ropewright")


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """Write a case, two logs out of order, a mapping and a list of lifts."""
    folder = tmp_path_factory.mktemp("wear")
    texts = {
        "rope.toml": case_text(),
        "b-march.csv": csv_text(log(date(2026, 3, 1), 12, 3)),
        "a-april.csv": csv_text(log(date(2026, 4, 1), 12, 4)),
        "map.toml": MAPPING,
        "lifts.csv": "pick [m],place [m],pick radius [m],place radius [m],load [t],times,date\n"
        "2,40,20,35,2.0,30,2026-03-01\n2,40,20,45,1.5,10,2026-03-20\n",
        "duty.toml": "schema = 1\nlifts_per_day = 20\nfirst = 2026-03-01\nlast = 2026-03-31\n"
        '[[kind]]\npick = "2 m"\nplace = "40 m"\nload = "2 t"\npick_radius = "20 m"\n'
        'place_radius = "45 m"\n',
    }
    for name, text in texts.items():
        (folder / name).write_text(text, encoding="utf-8")
    return {name: folder / name for name in texts}


def _logs(files: dict[str, Path]) -> tuple[object, ...]:
    names = ("a-april.csv", "b-march.csv")
    return (*(word for name in names for word in ("--log", files[name])), "--map",
            files["map.toml"])  # fmt: skip


def test_one_rope_from_two_logs(files: dict[str, Path]) -> None:
    found = run(files["rope.toml"], *DAY, *_logs(files))
    assert found.exit_code == 0, found.output
    words = " ".join(found.output.split())
    assert "INVENTED DATA" in words
    assert "Look here first" in words
    assert "2026-03-01 to 2026-04-12, 288 lifts" in words  # by hand: 2 x 12 days x 12 lifts
    assert "Wear gives the shape along the rope" in words
    assert "memory" in words
    assert "hot-work permit" in words
    assert "b-march.csv, a-april.csv" in words  # in order of time


def test_json_holds_the_whole_result_and_nothing_else(files: dict[str, Path]) -> None:
    found = run(files["rope.toml"], *DAY, *_logs(files), "--json", "--model", "endurance")
    data = json.loads(found.stdout)
    assert data["model"]["name"] == "endurance"
    assert data["own_constants"] is False
    assert data["lifts"] == 288
    assert data["cut"]["cautions"]


def test_the_picture_is_an_svg_with_places(files: dict[str, Path], tmp_path: Path) -> None:
    out, chart = tmp_path / "wear.svg", tmp_path / "chart.svg"
    found = run(files["rope.toml"], *DAY, *_logs(files), "--picture", out, "--chart", chart)
    assert found.exit_code == 0, found.output
    lanes = [one for one in ET.parse(chart).getroot().iter() if one.get("class") == "worn"]
    assert lanes
    assert "data-rope-m" in lanes[0].attrib
    root = ET.parse(out).getroot()
    assert root.attrib["role"] == "img"
    assert len([one for one in root.iter() if "data-rope-m" in one.attrib]) > 20


@pytest.mark.parametrize(
    ("name", "origin"),
    [("lifts.csv", "list of lifts"), ("duty.toml", "nothing recorded")],
)
def test_without_a_log_the_origin_is_said(files: dict[str, Path], name: str, origin: str) -> None:
    found = run(files["rope.toml"], *DAY, "--log", files[name])
    assert found.exit_code == 0, found.output
    assert origin in " ".join(found.output.split())


def test_several_lists_of_lifts_are_one_result(files: dict[str, Path], tmp_path: Path) -> None:
    """In any order; by hand: 40 lifts in March and 25 in April."""
    head, row, *_ = files["lifts.csv"].read_text(encoding="utf-8").splitlines()
    later = tmp_path / "april.csv"
    later.write_text(f"{head}\n{row.replace('30,2026-03-01', '25,2026-04-02')}\n", "utf-8")
    words = ("--log", later, "--log", files["lifts.csv"])
    found = run(files["rope.toml"], *DAY, *words)
    assert found.exit_code == 0, found.output
    shown = " ".join(found.output.split())
    assert "2026-03-01 to 2026-04-02, 65 lifts" in shown
    assert "No list covers 2026-03-21 to 2026-04-01" in shown
    twice = run(files["rope.toml"], *DAY, *words, "--log", files["lifts.csv"])
    assert twice.exit_code == 2
    assert "no day in two of them" in twice.stderr


def test_a_fleet_pipes_its_result_and_tells_how_far_it_is(tmp_path: Path) -> None:
    pattern = make_fleet(tmp_path, 2, 2)
    words = ("--fleet", pattern, "--workers", "1", *DAY)
    first, again = (run(*words, "--json") for _ in range(2))
    assert first.exit_code == 0, first.output
    assert "4 of 4 logs counted, 0 kept" in first.stderr
    assert "4 of 4 logs counted, 4 kept" in again.stderr
    assert first.stdout == again.stdout
    assert [row["lifts"] for row in json.loads(first.stdout)["ropes"]] == [24, 24]
    table = run(*words)
    assert "rope-000" in table.output


def test_a_fleet_with_a_bad_log_says_so_and_ends_with_two(tmp_path: Path) -> None:
    pattern = make_fleet(tmp_path, 1, 2)
    (tmp_path / "rope-000.logs" / "2026-02.csv").write_text("nonsense\n", encoding="utf-8")
    found = run("--fleet", pattern, "--workers", "1", *DAY)
    assert found.exit_code == 2
    assert "2026-02.csv" in found.output
    assert "1 could not be counted" in found.stderr


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (("{rope.toml}",), "--log"),
        (("{rope.toml}", "--log", "nowhere.csv"), "nowhere.csv"),
        (("--fleet", "nowhere/*.toml"), "case files"),
        (("--fleet", "x", "--log", "{map.toml}"), "--log"),
        (("{rope.toml}", "--log", "{lifts.csv}", "--log", "{a-april.csv}"), "lifts"),
        (("{rope.toml}", "--log", "{a-april.csv}", "--log", "{a-april.csv}"), "follow each other"),
        (("{rope.toml}", "--log", "{rope.toml}"), "rope.toml"),
    ],
)
def test_bad_input_has_one_clear_answer(
    files: dict[str, Path], words: tuple[str, ...], expected: str
) -> None:
    typed = [str(files[word[1:-1]]) if word.startswith("{") else word for word in words]
    found = run(*typed, *DAY)
    assert found.exit_code == 2, found.output
    assert expected in found.stderr
    assert "Traceback" not in found.output


def test_the_plan_names_the_most_worn_sections(files: dict[str, Path]) -> None:
    words = ["plan", str(files["rope.toml"]), *DAY, *map(str, _logs(files))]
    found = CliRunner().invoke(cli, words, obj=tools(), prog_name="ropewright")
    assert found.exit_code == 0, found.output
    shown = " ".join(found.output.split())
    assert "Most worn by the duty log: look here first" in shown
    data = json.loads(CliRunner().invoke(cli, [*words, "--json"], obj=tools()).stdout)
    worn = [spot for spot in data["trouble"] if spot["item"] == "most worn by the duty log"]
    top = json.loads(run(files["rope.toml"], *DAY, *_logs(files), "--json").stdout)["top"]
    places = [(spot["sections"][0]["from_m"], spot["sections"][0]["to_m"]) for spot in worn]
    assert places == [(one["from_m"], one["to_m"]) for one in top]


def test_a_rope_whose_force_the_load_does_not_tell_counts_bends(
    files: dict[str, Path], tmp_path: Path
) -> None:
    """A trolley rope bends with the trolley; what hangs on the hook says nothing of its force."""
    out = tmp_path / "KQ-1-trolley.toml"
    made = CliRunner().invoke(cli, ["demo", "KQ-1-trolley"], obj=tools())
    out.write_text(made.stdout, encoding="utf-8")
    words = ("--as-of", "2026-11-10", *_logs(files))
    found = json.loads(run(out, *words, "--json").stdout)
    assert found["model"]["name"] == "bends"
    assert {other["why_not"] for other in found["other_models"]} == {
        "the load does not tell the force of a rope that does not carry the hook"
    }
    refused = run(out, *words, "--model", "cubic")
    assert refused.exit_code == 2
    assert "which needs no force" in refused.stderr
