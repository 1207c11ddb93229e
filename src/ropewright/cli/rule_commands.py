"""The commands that show rule sets and assumptions."""

import click
from rich.console import Console

from ropewright.cli.show_rules import (
    show_assumptions,
    show_diff,
    show_rule_list,
    show_rule_set,
)
from ropewright.cli.support import plain_errors
from ropewright.cli.tools import Tools


@click.group()
def rules() -> None:
    """Look at the rule sets: list, show, diff."""


@rules.command("list")
@click.pass_obj
@plain_errors
def rules_list(tools: Tools) -> None:
    """List the rule sets that can be named in a case file."""
    shelf = tools.shelf
    show_rule_list(Console(highlight=False), [shelf.get(name) for name in shelf.names()])


@rules.command("show")
@click.argument("name")
@click.pass_obj
@plain_errors
def rules_show(tools: Tools, name: str) -> None:
    """Show every clause of a rule set NAME: limit, demand and where it was read."""
    show_rule_set(Console(highlight=False), tools.shelf.get(name))


@rules.command("diff")
@click.argument("left")
@click.argument("right")
@click.pass_obj
@plain_errors
def rules_diff(tools: Tools, left: str, right: str) -> None:
    """Show how rule set RIGHT differs from LEFT, clause by clause."""
    show_diff(Console(highlight=False), tools.shelf.get(left), tools.shelf.get(right))


@click.command()
def assumptions() -> None:
    """Show what is taken for granted where no published rule speaks."""
    show_assumptions(Console(highlight=False))
