"""The command that shows what is due: inspections, records, and holds after events."""

import json
from datetime import date

import click
from rich.console import Console
from rich.markup import escape

from ropewright.cli.show import labelled
from ropewright.cli.support import (
    added_rules,
    echo_invented,
    labelled_data,
    plain_errors,
    read_rope,
    with_case,
)
from ropewright.cli.tools import Tools
from ropewright.desk import choose_rule_sets
from ropewright.rules import DueDuty, DutyPlan, duties_as_data, duties_of


@click.command()
@click.argument("file", required=False)
@with_case
@click.option("--json", "as_json", is_flag=True, help="Print the whole result as JSON.")
@click.pass_obj
@plain_errors
def duties(
    tools: Tools,
    file: str | None,
    demo: str | None,
    as_of: date | None,
    rules: tuple[str, ...],
    as_json: bool,
) -> None:
    """Show what is due for the rope of a case FILE, by whom, and what holds it.

    Due dates come from the record: what is not in the case file was not done.
    """
    case, _ = read_rope(tools, file, demo)
    day = as_of or tools.today()
    rule_sets = choose_rule_sets(case.dossier, tools.shelf, added=added_rules(rules))
    plan = duties_of(case.dossier, rule_sets, day)
    if as_json:
        data = labelled_data(case.dossier, duties_as_data(plan))
        click.echo(json.dumps(data, ensure_ascii=False, indent=1))
    else:
        echo_invented(case.dossier)
        show_duties(Console(highlight=False), plan)


def show_duties(console: Console, plan: DutyPlan) -> None:
    """Print holds first, then what has a day, then what comes with every shift or event."""
    console.print(f"As on {plan.as_of.isoformat()}", style="bold")
    for hold in plan.holds:
        console.print()
        console.print(f"ON HOLD: {escape(hold.words)}", style="bold")
        labelled(console, "  rule", f"{hold.rule}, {hold.clause}")
        labelled(console, "  release", "; ".join(hold.how_to_get))
    dated = [one for one in plan.duties if one.due is not None]
    if dated:
        console.print()
        console.print("By a day", style="bold")
        for one in dated:
            _dated(console, one)
    others = [one for one in plan.duties if one.due is None]
    if others:
        console.print()
        console.print("Without a date", style="bold")
        for one in others:
            labelled(console, f"  {one.kind}", f"{one.title}: {one.who}; {one.when} ({_rule(one)})")
    console.print()
    console.print("Local law, the maker's manual and the competent person come first.")


def _rule(one: DueDuty) -> str:
    joint = "" if one.clause.startswith("(") else ", "
    return f"{one.rule}{joint}{one.clause}"


def _dated(console: Console, one: DueDuty) -> None:
    due = one.due.isoformat() if one.due is not None else ""
    late = "OVERDUE: " if one.overdue else ""
    labelled(console, f"  {due}", f"{late}{one.title}: {one.who} ({_rule(one)})")
    last = "never done" if one.last_on is None else f"last on {one.last_on.isoformat()}"
    kept = one.keep if one.keep_until is None else f"{one.keep}, to {one.keep_until.isoformat()}"
    labelled(console, "", f"{last}; record: {one.record}; kept: {kept}")
