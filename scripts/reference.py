"""Writes the pages of docs/ that are made from the code: commands, errors, rule catalogue.

Run ``python scripts/reference.py`` to write them, ``--check`` to see whether they are current.
"""

import argparse
import inspect
import sys
from collections.abc import Iterator
from pathlib import Path

import click

from ropewright import errors
from ropewright.cli.app import cli
from ropewright.intake import PackageShelf
from ropewright.rules import (
    ASSUMPTIONS,
    LEVEL_WORDS,
    Clause,
    RuleSet,
    limit_words,
    provenance_words,
)

DOCS = Path(__file__).resolve().parent.parent / "docs"


def _commands(command: click.Command, path: str) -> Iterator[tuple[str, click.Command]]:
    yield path, command
    if isinstance(command, click.Group):
        for name in sorted(command.commands):
            yield from _commands(command.commands[name], f"{path} {name}")


def commands_page() -> str:
    """Every command with its help, as printed at 80 columns."""
    lines = ["# Commands", "", "Made from the program by `make reference`.", ""]
    for path, command in _commands(cli, "ropewright"):
        # the settings of the group as it is run: click keeps the first help option it makes
        names = cli.context_settings["help_option_names"]
        context = click.Context(command, info_name=path, terminal_width=80, help_option_names=names)
        lines += [f"## `{path}`", "", "```text", command.get_help(context), "```", ""]
    return "\n".join(lines)


def errors_page() -> str:
    """Every error with its exit code, HTTP status and meaning."""
    lines = [
        "# Errors",
        "",
        "Made from the program by `make reference`. Every error says which file, which field, what",
        "is expected and what was given, one line per problem, and nothing is written.",
        "",
        "| error | kind | exit code | HTTP status | when |",
        "|---|---|---|---|---|",
    ]
    for name in sorted(errors.__all__):
        one = getattr(errors, name)
        if inspect.isclass(one) and issubclass(one, errors.RopewrightError):
            first = (inspect.getdoc(one) or "").splitlines()[0]
            lines.append(
                f"| `{name}` | {one.kind} | {one.exit_code} | {one.http_status} | {first} |"
            )
    lines += [
        "",
        "Exit code 1 belongs to a verdict: remove from service, or competent person to decide.",
        "Exit code 3: inspection incomplete. Exit code 0: in service, monitor, or no discard",
        "criterion reached.",
        "",
    ]
    return "\n".join(lines)


def _cell(text: str) -> str:
    return text.replace("|", "\\|").replace("\n", " ")


def _clause(rule_set: RuleSet, clause: Clause) -> Iterator[str]:
    yield f"### {clause.title}"
    yield ""
    yield f"`{rule_set.rule_set_id}/{clause.clause_id}` · {clause.clause}"
    yield ""
    yield f"- Limit: {limit_words(clause)}"
    yield f"- When reached: {LEVEL_WORDS[clause.demand]}; {', or '.join(clause.remedy)}"
    yield f"- Who: {clause.who}. By when: {clause.by_when}."
    yield (
        f"- Value {provenance_words(clause.provenance)}; clause number "
        f"{provenance_words(clause.clause_provenance)}. Source: "
        f"{rule_set.source(clause.source).what}"
    )
    if clause.note:
        yield f"- Note: {clause.note}"
    yield ""


def _rule_set(rule_set: RuleSet) -> Iterator[str]:
    yield f"## {rule_set.title}"
    yield ""
    yield f"Name: `{rule_set.rule_set_id}`. Edition: {rule_set.edition}."
    yield ""
    if rule_set.notice:
        yield rule_set.notice
        yield ""
    for clause in rule_set.clauses:
        yield from _clause(rule_set, clause)
    for name, table in rule_set.tables.items():
        yield f"### Table {Path(name).stem.replace('-', ' ')}"
        yield ""
        yield "| " + " | ".join(head.replace("_", " ") for head in table.heads) + " |"
        yield "|" + "---|" * len(table.heads)
        for row in table.rows:
            yield "| " + " | ".join(_cell(row.cells[head]) for head in table.heads) + " |"
        yield ""
    for permission in rule_set.permissions:
        yield f"### Permission `{permission.permission_id}`: {permission.title}"
        yield ""
        yield f"{permission.clause}. {permission.note}".strip()
        yield ""
    if rule_set.duties:
        yield "### Duties"
        yield ""
        yield "| inspection | what | who | how often | record | kept | clause | read |"
        yield "|---|---|---|---|---|---|---|---|"
        for duty in rule_set.duties:
            cells = (
                duty.kind, duty.title, duty.who, duty.every, duty.record, duty.keep, duty.clause,
                provenance_words(duty.provenance),
            )  # fmt: skip
            yield "| " + " | ".join(_cell(cell) for cell in cells) + " |"
        yield ""


def catalogue_page() -> str:
    """Every clause, limit, table and duty of every rule set, with where it was read."""
    shelf = PackageShelf()
    lines = [
        "# Rule catalogue",
        "",
        "Made from the rule files by `make reference`: every clause, limit and table with its",
        "origin. Values 'from memory' wait for somebody to check them against a copy of the",
        "standard. This page advises; local law, the maker's manual and the competent person",
        "come first.",
        "",
    ]
    for name in shelf.names():
        lines.extend(_rule_set(shelf.get(name)))
    lines += [
        "## Assumptions of our own",
        "",
        "| id | says | effect | shows |",
        "|---|---|---|---|",
    ]
    lines += [
        f"| {one.assumption_id} | {_cell(one.says)} | {_cell(one.effect)} | {_cell(one.shows)} |"
        for one in ASSUMPTIONS
    ]
    return "\n".join([*lines, ""])


PAGES = {
    "commands.md": commands_page,
    "errors.md": errors_page,
    "rule-catalogue.md": catalogue_page,
}


def stale_pages() -> list[str]:
    """Names of pages that differ from what the code says now."""
    return [
        name
        for name, make in PAGES.items()
        if not (DOCS / name).is_file() or (DOCS / name).read_text(encoding="utf-8") != make()
    ]


def main() -> int:
    """Write the pages, or check them."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--check", action="store_true", help="only say which pages are stale")
    if parser.parse_args().check:
        stale = stale_pages()
        for name in stale:
            print(f"docs/{name} is stale: run 'make reference'", file=sys.stderr)
        return 1 if stale else 0
    for name, make in PAGES.items():
        (DOCS / name).write_text(make(), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
