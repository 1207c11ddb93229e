"""What an edition change means: clause by clause, and for one rope on two dates."""

import json
from datetime import date
from typing import Any

from click.testing import CliRunner

from ropewright.cli.app import cli
from ropewright.wiring import tools
from tests.unit.rules.test_rule_cases import judge, ruling_of


def diff(left: str, right: str) -> list[str]:
    done = CliRunner().invoke(cli, ["rules", "diff", left, right], obj=tools())
    assert done.exit_code == 0, done.output
    return [line.rstrip() for line in done.output.splitlines()]


def test_editions_of_iso_4309_differ_in_two_cells() -> None:
    # second-hand: two prints of the multi-layer columns, the lower number in the older edition
    lines = diff("iso-4309-2010", "iso-4309-2017")
    assert [line for line in lines if line.startswith("~")] == [
        "~ breaks-6d: check differs", "~ breaks-30d: check differs",
    ]  # fmt: skip
    cells = {line.strip() for line in lines if line.startswith("    row")}
    assert cells == {
        "row 04, multi-layer 30 d: 19 → 20", "row 05, multi-layer 6 d: 11 → 12",
    }  # fmt: skip


def test_a_rule_set_does_not_differ_from_itself() -> None:
    assert diff("iso-4309-2010", "iso-4309-2010")[-1] == "no clause differs"


def test_editions_of_asme_b30_2_differ_in_diameter() -> None:
    lines = diff("asme-b30-2-2005", "asme-b30-2-2011")
    text = "\n".join(lines)
    assert "~ diameter: check differs" in text
    assert "limit_percent: None → 5" in text


def nineteen(**case: Any) -> Any:
    """19 broken wires in 30 d on a multi-layer drum, 110 wires in the outer strands."""
    return judge(
        {
            "rope": {"load_bearing_outer_wires": 110, "thick_outer_wires": False,
                     "rotation_resistant": False},
            "without": ["rope.construction"],
            "rigging": {"drum_layers": "multi"},
            "installation": {"exposure": [{"from": "28 m", "to": "33 m", "crossover": True}]},
            "finding": [{"kind": "broken wires", "at": "30 m", "breaks": [
                {"at": "0 mm", "count": 9}, {"at": "300 mm", "count": 1},
                {"at": "600 mm", "count": 9}], "crossover_damage": True}],
            **case,
        },
        "iso-4309-2017",
    )  # fmt: skip


def test_one_rope_by_two_editions() -> None:
    new = nineteen(rules=["iso-4309-2017"])
    old = nineteen(rules=["iso-4309-2010"])
    both = nineteen(rules=["iso-4309-2010", "iso-4309-2017"])
    assert ruling_of(new, "iso-4309-2017", "breaks-30d")[0].status == "below"
    assert ruling_of(old, "iso-4309-2010", "breaks-30d")[0].status == "reached"
    assert both.verdict.level == old.verdict.level == "remove"
    assert both.verdict.governing[0].startswith("iso-4309-2010/")


def test_as_of_a_date_the_rule_in_force_governs() -> None:
    """DIN 15020-2 until the end of 2013, the edition of ISO 4309 of 2010 beside it."""
    case = {
        "rules": ["din-15020-2", "iso-4309-2010", "iso-4309-2017"],
        "rigging": {"valid_from": date(2011, 11, 20)},
        "installation": {"fitted_on": date(2011, 11, 20)},
        "without": ["installation.reference"],
        "inspection": {"on": date(2012, 11, 9), "next_by": date(2018, 5, 9)},
        "finding": [{"kind": "broken wires", "at": "30 m", "count": 9, "over": "120 mm"}],
    }
    for day, statuses in (
        (date(2013, 12, 31), ("reached", "reached", "not in force")),
        (date(2014, 1, 1), ("not in force", "reached", "not in force")),
        (date(2017, 10, 1), ("not in force", "reached", "reached")),
    ):
        found = judge({**case, "as_of": day}, "din-15020-2")
        names = ("din-15020-2", "iso-4309-2010", "iso-4309-2017")
        got = tuple(ruling_of(found, name, "breaks-6d")[0].status for name in names)
        assert got == statuses, day


def test_assess_as_of_on_the_command_line(tmp_path: Any) -> None:
    from tests.unit.rules.test_rule_cases import case_file

    path = tmp_path / "rope.toml"
    case = {
        "rigging": {"valid_from": date(2012, 1, 2)},
        "installation": {"fitted_on": date(2012, 1, 2), "rules": ["din-15020-2"]},
        "without": ["installation.reference"],
        "inspection": {"on": date(2013, 6, 3), "next_by": date(2013, 9, 3)},
    }
    path.write_text(case_file(case), encoding="utf-8")
    levels = {}
    for day in ("2013-06-03", "2014-06-03"):
        done = CliRunner().invoke(cli, ["assess", str(path), "--as-of", day, "--json"], obj=tools())
        levels[day] = (json.loads(done.output)["verdict"]["level"], done.exit_code)
    assert levels == {"2013-06-03": ("clear", 0), "2014-06-03": ("incomplete", 3)}
