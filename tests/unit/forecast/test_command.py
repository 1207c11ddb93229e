"""The command ``forecast`` as typed, with the forecast of an invented rope behind it."""

import json
from datetime import date

from click.testing import CliRunner, Result

from ropewright.cli.forecast_commands import ForecastWish, forecast_command
from ropewright.cli.tools import Tools
from ropewright.forecast import Limit, RopeForecast, forecast_of, prior_for
from ropewright.inspection import Dossier
from ropewright.wiring import tools
from tests.unit.forecast.test_record import LIMITS, breaks, dossier, look

TOLD = dossier(
    look(date(2025, 1, 1)),
    look(date(2025, 4, 1), breaks("a", 40.0, 1)),
    look(date(2025, 7, 1), breaks("b", 40.0, 2, same_as="a")),
)


def invented(_: Tools) -> "Invented":
    return Invented()


class Invented:
    def __call__(self, _dossier: Dossier, wish: ForecastWish, /) -> RopeForecast:
        return forecast_of(
            TOLD,
            date(2025, 7, 2),
            limits=[*LIMITS, Limit(count=40, window_d=200.0)],
            prior=prior_for(wish.hoist_type, stated_days=wish.usual_life_days),
            lead_time_days=wish.lead_time_days,
        )


def run(*words: str) -> Result:
    return CliRunner().invoke(forecast_command(invented), list(words), obj=tools())


def test_it_says_what_to_do_why_and_what_it_rests_on() -> None:
    result = run("--demo", "KQ-1", "--usual-life", "5", "--lead-time", "60")
    assert result.exit_code == 0, result.output
    said = " ".join(result.output.split())
    assert "Because 2 broken wires are known, 1 of them new at the last look" in said
    assert "Order by" in said
    assert "usual life 5.0 years (stated by a person)" in said
    assert "This advises; a person decides and signs." in said


def test_json_has_everything() -> None:
    result = run("--demo", "KQ-1", "--hoist-type", "bridge crane hoist", "--json")
    data = json.loads(result.stdout)
    assert {"state", "next_inspection", "prior", "policy", "version", "back_test"} <= set(data)


def test_the_table_of_cases_is_shown() -> None:
    result = run("--table")
    assert "no date" in result.output
    assert "rotation-resistant rope" in result.output


def test_an_unknown_kind_of_hoist_is_a_plain_error() -> None:
    result = run("--demo", "KQ-1", "--hoist-type", "bridge hoist")
    assert result.exit_code == 2
    assert "bridge crane hoist" in result.output
