"""Whatever is made from the site says that it is invented, in words and as data."""

import json
import re

import pytest
from click.testing import CliRunner, Result

from ropewright.cli.app import cli
from ropewright.demo import DEMO_DAY, demo_names
from ropewright.wiring import tools

DAY = DEMO_DAY.isoformat()

#: A finding or a mark of each rope, to bring back.
BRING = {
    "KQ-1": "7",
    "KQ-1-trolley": "2026-11-A",
    "KQ-2": "2026-11-A",
    "KQ-2-luffing": "L1",
    "KQ-3": "2",
    "KQ-4": "1",
    "KQ-5": "2026-11-A",
}


def run(*words: str) -> Result:
    result = CliRunner().invoke(cli, [*words, "--as-of", DAY], obj=tools())
    assert result.exit_code in (0, 1, 3), result.output
    return result


@pytest.mark.parametrize("command", ["assess", "forecast", "plan", "duties", "where"])
@pytest.mark.parametrize("name", demo_names())
def test_every_command_works_on_every_rope_and_says_invented(name: str, command: str) -> None:
    more = ("--bring", BRING[name]) if command == "where" else ()
    shown = run(command, "--demo", name, *more).output
    assert shown.splitlines()[0] == "INVENTED DATA, for demonstration only"
    assert not re.search(r"\b(is|rope|stays) (safe|fit)\b", shown)


@pytest.mark.parametrize(
    "words",
    [
        ("assess", "--json"),
        ("forecast", "--json"),
        ("plan", "--json"),
        ("duties", "--json"),
        ("where", "--bring", "1", "--json"),
    ],
    ids=lambda words: words[0],
)
def test_data_say_it_too(words: tuple[str, ...]) -> None:
    assert json.loads(run(words[0], "--demo", "KQ-4", *words[1:]).output)["invented"] is True


def test_a_derivation_says_it_too() -> None:
    shown = run("why", "breaks-6d", "--demo", "KQ-4").output
    assert shown.splitlines()[0] == "INVENTED DATA, for demonstration only"
