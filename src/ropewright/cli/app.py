"""The commands that judge a rope, their options and exit codes."""

import json
import sys
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Final

import click
from rich.console import Console

from ropewright.cli.card_commands import card
from ropewright.cli.demo_command import demo
from ropewright.cli.duty_commands import duties
from ropewright.cli.forecast_commands import (
    Forecaster,
    ForecastWish,
    forecast_command,
    match_command,
)
from ropewright.cli.install_commands import install_command
from ropewright.cli.logbook_commands import logbook
from ropewright.cli.order_commands import order_check_command, order_command, orders_command
from ropewright.cli.place_commands import plan, where
from ropewright.cli.rule_commands import assumptions, rules
from ropewright.cli.serve_command import people, serve
from ropewright.cli.show import show_assessment
from ropewright.cli.support import (
    added_rules,
    echo_invented,
    plain_errors,
    read_rope,
    with_case,
    write_file,
)
from ropewright.cli.tools import Case, Tools
from ropewright.cli.wear_commands import wear_command
from ropewright.desk import foretell, growth_of, judge, record_of
from ropewright.desk.chart_places import trouble_on
from ropewright.errors import UnknownNameError
from ropewright.forecast import RopeForecast
from ropewright.inspection import Dossier
from ropewright.rules import Assessment, Level, Ruling, assessment_as_json, why

EXIT_CODES: Final[dict[Level, int]] = {
    "remove": 1,
    "decide": 1,
    "incomplete": 3,
    "monitor": 0,
    "clear": 0,
}


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="ropewright", prog_name="ropewright")
def cli() -> None:
    """Judge a crane's hoist rope by the rules that govern it.

    It advises; a person decides and signs.  Local law, the maker's manual and the
    competent person come first.
    """


def _judged(
    tools: Tools, case: Case, as_of: date | None, rules_added: tuple[str, ...]
) -> tuple[Assessment, date]:
    day = as_of or tools.today()
    added = added_rules(rules_added)
    return judge(case.dossier, tools.shelf, day, software=tools.software, added=added), day


@cli.command()
@click.argument("file", required=False)
@with_case
@click.option("--json", "as_json", is_flag=True, help="Print the whole result as JSON.")
@click.option("--report", type=click.Path(path_type=Path), help="Write the report (PDF).")
@click.option("--picture", type=click.Path(path_type=Path), help="Write the rope chart (SVG).")
@click.option("--all", "everything", is_flag=True, help="Show every ruling.")
@click.pass_obj
@plain_errors
def assess(
    tools: Tools,
    file: str | None,
    demo: str | None,
    as_of: date | None,
    rules: tuple[str, ...],
    as_json: bool,
    report: Path | None,
    picture: Path | None,
    everything: bool,
) -> None:
    """Judge the rope of a case FILE (or BOOK#ROPE of a logbook) and say what governs.

    Exit code: 0 no criterion reached or monitor, 1 remove or competent person to decide,
    3 inspection incomplete, 2 something in the input is wrong, 4 a file cannot be written.
    """
    case, name = read_rope(tools, file, demo)
    result, day = _judged(tools, case, as_of, rules)
    for warning in case.warnings:
        click.echo(f"ropewright: look again: {warning}", err=True)
    if picture is not None:
        spots = trouble_on(case.dossier, tools.shelf, day, added=added_rules(rules))
        write_file(picture, tools.rope_chart(case.dossier, result, trouble=spots).encode())
    if report is not None:
        record = record_of(case.dossier, result, case_file=name, case_hash=case.sha256)
        pdf = tools.report_pdf(
            case.dossier,
            result,
            json_record=record,
            file_note=f"{name}, SHA-256 {case.sha256}",
            seal=getattr(case, "seal", None),  # a rope of a logbook brings its seal
            made_on=day,
            growth=growth_of(case.dossier, tools.shelf, day, software=tools.software),
        )
        write_file(report, pdf)
    if as_json:
        click.echo(assessment_as_json(result, invented=case.dossier.invented), nl=False)
    else:
        console = Console(highlight=False)
        show_assessment(console, case.dossier, result, everything=everything)
        for what, path in (("Report", report), ("Rope chart", picture)):
            if path is not None:
                console.print(f"{what}: {path}", soft_wrap=True, markup=False)
    sys.exit(EXIT_CODES[result.verdict.level])


def _find(assessment: Assessment, name: str) -> list[Ruling]:
    exact = assessment.ruling(name)
    if exact is not None:
        return [exact]
    part = [
        one
        for one in assessment.rulings
        if name in (one.clause_id, f"{one.rule_set}/{one.clause_id}")
        or one.ruling_id.endswith(f"/{name}")
    ]
    if not part:
        raise UnknownNameError(
            what="a ruling of this rope",
            field="RULING",
            given=name,
            known=[one.ruling_id for one in assessment.rulings],
        )
    return part


@cli.command("why")
@click.argument("ruling")
@click.argument("file", required=False)
@with_case
@click.pass_obj
@plain_errors
def why_command(
    tools: Tools,
    ruling: str,
    file: str | None,
    demo: str | None,
    as_of: date | None,
    rules: tuple[str, ...],
) -> None:
    """Derive a RULING of a case FILE step by step, to check by hand.

    RULING is as printed by assess, such as iso-4309-2017/breaks-6d/1, or a clause alone.
    """
    case, _ = read_rope(tools, file, demo)
    result, _ = _judged(tools, case, as_of, rules)
    echo_invented(case.dossier)
    for count, one in enumerate(_find(result, ruling)):
        if count:
            click.echo("\n" + "-" * 72)
        click.echo(f"{one.ruling_id}\n")
        click.echo("\n".join(why(one)))


@cli.command()
@click.pass_obj
@plain_errors
def schema(tools: Tools) -> None:
    """Print the JSON Schema of the case file."""
    click.echo(json.dumps(tools.case_schema(), indent=2, ensure_ascii=False))


def _forecaster(tools: Tools) -> Forecaster:
    def by_rules(dossier: Dossier, wish: ForecastWish, /) -> RopeForecast:
        return foretell(
            dossier, tools.shelf, wish.as_of, software=tools.software,
            hoist_type=wish.hoist_type, usual_life_days=wish.usual_life_days,
            lead_time_days=wish.lead_time_days, change_days=wish.change_days,
            own_ropes=wish.own_ropes, clock=wish.clock, clock_note=wish.clock_note,
        )  # fmt: skip

    return by_rules


cli.add_command(rules)
cli.add_command(logbook)
cli.add_command(order_command)
cli.add_command(order_check_command)
cli.add_command(orders_command)
cli.add_command(install_command)
cli.add_command(demo)
cli.add_command(plan)
cli.add_command(card)
cli.add_command(where)
cli.add_command(forecast_command(_forecaster))
cli.add_command(match_command)
cli.add_command(assumptions)
cli.add_command(duties)
cli.add_command(serve)
cli.add_command(people)
cli.add_command(wear_command)


def build_cli(tools: Tools) -> Callable[[], None]:
    """The command line with everything wired in, ready to be called."""

    def run() -> None:
        cli(prog_name="ropewright", obj=tools)

    return run
