"""The command that forecasts one rope: when to look next, when to order, and why."""

import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Protocol

import click
from rich.console import Console

from ropewright.cli.show import labelled
from ropewright.cli.support import Day, plain_errors, read_rope
from ropewright.cli.tools import Tools
from ropewright.forecast import (
    CASES,
    HOIST_TYPES,
    Forecast,
    Outcome,
    forecast_as_data,
    score,
)
from ropewright.forecast.reasons import percent, span
from ropewright.inspection import Dossier


@dataclass(frozen=True, slots=True, kw_only=True)
class ForecastWish:
    """What a person states for one forecast; days and the usual life as typed.

    ``usual_life_days`` is stated by the person, ``hoist_type`` a name of the list,
    ``lead_time_days`` from order to delivery, ``change_days`` to arrange the change.
    """

    as_of: date
    hoist_type: str | None = None
    usual_life_days: float | None = None
    lead_time_days: float | None = None
    change_days: float = 0.0


class Forecaster(Protocol):
    """The use case behind the command: rules give limits and caps, matching gives names."""

    def __call__(
        self, dossier: Dossier, wish: ForecastWish, /
    ) -> tuple[Forecast, Sequence[Outcome]]:
        """The forecast and how earlier ones came out."""


def forecast_command(forecaster: Callable[[Tools], Forecaster]) -> click.Command:
    """The command ``forecast``, given where its use case comes from.

    Parameters
    ----------
    forecaster
        Takes the tools of the command line, returns the use case.
    """

    @click.command("forecast")
    @click.argument("file", required=False)
    @click.option("--demo", metavar="NAME", help="Use a demo rope instead of a file.")
    @click.option("--as-of", type=Day(), metavar="DATE", help="Forecast from this date (today).")
    @click.option("--hoist-type", metavar="TYPE", help="Kind of hoist, for the usual life.")
    @click.option(
        "--usual-life", type=click.FloatRange(min=0.01), metavar="YEARS",
        help="Usual life of ropes on this hoist; wins over --hoist-type.",
    )  # fmt: skip
    @click.option(
        "--lead-time", type=click.FloatRange(min=0), metavar="DAYS",
        help="Days from order to delivery of a new rope.",
    )  # fmt: skip
    @click.option(
        "--change-within", type=click.FloatRange(min=0), default=0.0, metavar="DAYS",
        help="Days within which a change can be arranged.",
    )  # fmt: skip
    @click.option("--table", is_flag=True, help="Show for which ropes there is a date.")
    @click.option("--json", "as_json", is_flag=True, help="Print the whole result as JSON.")
    @click.pass_obj
    @plain_errors
    def command(
        tools: Tools,
        file: str | None,
        demo: str | None,
        as_of: date | None,
        hoist_type: str | None,
        usual_life: float | None,
        lead_time: float | None,
        change_within: float,
        table: bool,
        as_json: bool,
    ) -> None:
        """Say when to inspect the rope of a case FILE next, and when to order.

        It only ever shortens the interval of the rule, the maker or the competent person.
        """
        if table:
            show_cases(Console(highlight=False))
            return
        case, _ = read_rope(tools, file, demo)
        wish = ForecastWish(
            as_of=as_of or tools.today(),
            hoist_type=hoist_type,
            usual_life_days=None if usual_life is None else usual_life * 365.25,
            lead_time_days=lead_time,
            change_days=change_within,
        )
        result, outcomes = forecaster(tools)(case.dossier, wish)
        if as_json:
            data = forecast_as_data(result) | {"back_test": score(outcomes).words}
            click.echo(json.dumps(data, ensure_ascii=False, indent=1))
        else:
            show_forecast(Console(highlight=False), case.dossier, result, outcomes)

    return command


def show_cases(console: Console) -> None:
    """Print the table of cases, and the kinds of hoist with their usual life."""
    for case in CASES:
        labelled(console, case.treatment, f"{case.when}: {case.why} → {case.action}")
    console.print()
    console.print("Kinds of hoist and usual life of the rope (own judgement; state your own):")
    for hoist in HOIST_TYPES:
        labelled(console, f"{hoist.years:g} years", f"{hoist.name}: {hoist.words}")


def show_forecast(
    console: Console, dossier: Dossier, result: Forecast, outcomes: Sequence[Outcome]
) -> None:
    """Print what to do and by when, then why, then what it rests on."""
    if dossier.invented:
        console.print("INVENTED DATA, for demonstration only", style="bold")
    console.print(f"  {headline(result).upper()}", style="bold", markup=False)
    console.print()
    labelled(console, "Why", result.because)
    for words in result.decide:
        labelled(console, "Decide now", f"{words}: competent person to decide")
    if result.next_inspection is not None:
        labelled(console, "Bounded by", result.bounded_by)
    labelled(console, "Limit", result.governing)
    if result.present_chance is not None:
        labelled(
            console,
            "Today",
            f"chance that it is reached but unseen: {percent(result.present_chance)}",
        )
    if result.band is not None:
        band = result.band
        labelled(
            console,
            "Limit passed",
            f"most likely in about {span(band.median_days)}; 9 in 10 between "
            f"{span(band.early_days)} and {span(band.late_days)}",
        )
    if result.plan_change:
        labelled(console, "Rope change", "plan it now")
    if result.order_by is not None:
        labelled(console, "Order by", "now" if result.order_now else str(result.order_by))
    for row in result.rows:
        labelled(console, row.treatment, f"{row.when}: {row.why} → {row.action}")
    labelled(console, "Missing", "; ".join(result.missing))
    labelled(console, "Longer if", result.lengthen)
    labelled(console, "Back-test", score(outcomes).words)
    prior = result.prior
    console.print()
    console.print(
        f"Taken: usual life {span(prior.life)} ({prior.life_from}), {result.alpha * 100:g} % until "
        f"the next look, model {result.version}, priors {prior.version}.",
        markup=False,
    )
    console.print("This advises; a person decides and signs.")


def headline(result: Forecast) -> str:
    """What to do, in one line."""
    if result.state == "limit reached":
        return "limit reached: no forecast"
    if result.state == "look closer now":
        return "inspect closer now: no date"
    if result.next_inspection is None:
        return "next inspection: not assessable"
    return f"next inspection by {result.next_inspection}"
