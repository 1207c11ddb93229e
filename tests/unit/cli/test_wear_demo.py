"""Wear on the invented site: its broken wires lie where its own lifts wore the rope most.

The site's generator knows nothing of wear; it has its own idea of where wires break.
"""

import json
from pathlib import Path

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


def wear(site: Path, rope: str, *more: str) -> dict[str, object]:
    words = ["wear", str(site / f"{rope}.toml"), *DAY, "--log", str(site / f"{rope}-lifts.csv")]
    done = CliRunner().invoke(cli, [*words, "--json", *more], obj=tools())
    assert done.exit_code == 0, done.output
    found: dict[str, object] = json.loads(done.stdout)
    return found


@pytest.mark.parametrize(("rope", "rope_m"), [("KQ-1", 296.1), ("KQ-4", 15.1)])
@pytest.mark.parametrize("model", ["cubic", "endurance", "bends"])
def test_the_broken_wires_lie_in_a_most_worn_section(
    site: Path, rope: str, rope_m: float, model: str
) -> None:
    """The places are those of the site's stories, with their ± of 1 m."""
    top = wear(site, rope, "--model", model)["top"]
    assert isinstance(top, list)
    assert any(one["from_m"] - 1 <= rope_m <= one["to_m"] + 1 for one in top[:2])


def test_through_two_cuts_and_a_turn(site: Path) -> None:
    """KQ-3 was shortened twice and turned: its map lies on the steel that is left."""
    found = wear(site, "KQ-3")
    edges = found["edges_m"]
    assert isinstance(edges, list)
    assert edges[0] > 0
    assert found["invented"] is True


@pytest.mark.parametrize("rope", ["KQ-1", "KQ-2", "KQ-3", "KQ-4"])
def test_every_rope_has_its_figure_and_its_advice(site: Path, rope: str, tmp_path: Path) -> None:
    out = tmp_path / "wear.svg"
    found = wear(site, rope, "--picture", str(out))
    assert "Invented data" in out.read_text(encoding="utf-8")
    cut = found["cut"]
    assert isinstance(cut, dict)
    assert cut["options"] or cut["nothing_helps"] or cut["why_not"]
