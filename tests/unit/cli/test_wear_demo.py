"""Wear on the invented site: its broken wires lie where its own lifts wore the rope most.

The site's generator knows nothing of wear; it has its own idea of where wires break.
"""

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from ropewright.cli.app import cli
from ropewright.wiring import tools

DAY = ("--as-of", "2026-11-10")


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("site")
    done = CliRunner().invoke(cli, ["demo", "--out", str(folder)], obj=tools())
    assert done.exit_code == 0, done.output
    return folder


ROPES = ("KQ-1", "KQ-2", "KQ-3", "KQ-4")


@pytest.fixture(scope="module")
def found(site: Path) -> dict[str, dict[str, Any]]:
    """Wear of all ropes with their figures, each worked out once."""
    results = {}
    for rope in ROPES:
        words = ["wear", str(site / f"{rope}.toml"), *DAY, "--json"]
        words += ["--log", str(site / f"{rope}-lifts.csv"), "--picture", str(site / f"{rope}.svg")]
        done = CliRunner().invoke(cli, words, obj=tools())
        assert done.exit_code == 0, done.output
        results[rope] = json.loads(done.stdout)
    return results


@pytest.mark.parametrize(("rope", "rope_m"), [("KQ-1", 296.1), ("KQ-4", 15.1)])
def test_the_broken_wires_lie_in_a_most_worn_section(
    found: dict[str, dict[str, Any]], rope: str, rope_m: float
) -> None:
    """The places are those of the site's stories, with their ± of 1 m."""
    top = found[rope]["top"][:2]
    assert any(one["from_m"] - 1 <= rope_m <= one["to_m"] + 1 for one in top)


def test_other_models_point_at_the_same_rope(found: dict[str, dict[str, Any]]) -> None:
    for rope in ROPES:
        top = found[rope]["top"]
        for other in found[rope]["other_models"]:
            worst = other["worst"]
            assert worst is not None, other["why_not"]
            assert any(
                one["from_m"] - 1 <= worst["to_m"] and worst["from_m"] <= one["to_m"] + 1
                for one in top
            ), (rope, other)


def test_through_two_cuts_and_a_turn(found: dict[str, dict[str, Any]]) -> None:
    """KQ-3 was shortened twice and turned: its map lies on the steel that is left."""
    assert found["KQ-3"]["edges_m"][0] > 0
    assert found["KQ-3"]["invented"] is True


@pytest.mark.parametrize("rope", ROPES)
def test_every_rope_has_its_figure_and_its_advice(
    found: dict[str, dict[str, Any]], site: Path, rope: str
) -> None:
    assert "Invented data" in (site / f"{rope}.svg").read_text(encoding="utf-8")
    cut = found[rope]["cut"]
    assert cut["options"] or cut["nothing_helps"] or cut["why_not"]


def test_a_rope_the_rules_remove_is_offered_no_turn(found: dict[str, dict[str, Any]]) -> None:
    """Common practice, no source: no rope is turned or cut to dodge a count of broken wires."""
    for rope in ("KQ-1", "KQ-2"):  # both removed from service on that day
        cuts = found[rope]["cut"]
        assert cuts["options"] == []
        assert "rule reached" in cuts["nothing_helps"] or cuts["why_not"]
