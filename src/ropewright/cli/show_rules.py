"""Laying out rule sets, their differences and our assumptions for a terminal."""

from collections.abc import Sequence

from rich import box
from rich.console import Console
from rich.markup import escape
from rich.table import Table

from ropewright.cli.show import labelled
from ropewright.desk.assumed import assumption_register
from ropewright.rules import (
    LEVEL_WORDS,
    OWN_CHECKS,
    RuleSet,
    limit_words,
    provenance_words,
)


def show_rule_list(console: Console, rule_sets: Sequence[RuleSet]) -> None:
    """Print the rule sets, with how many of their clauses rest on what."""
    table = Table(box=box.SIMPLE, show_edge=False)
    for head in ("name", "title", "clauses", "from memory"):
        table.add_column(head, overflow="fold", justify="right" if head[0] in "cf" else "left")
    for one in rule_sets:
        memory = sum(1 for clause in one.clauses if clause.provenance == "memory")
        note = " (template, copy it)" if one.template else ""
        if one.rule_set_id == OWN_CHECKS:
            note = " (always used)"
        table.add_row(
            escape(one.rule_set_id), escape(one.title) + note, str(len(one.clauses)), str(memory)
        )
    console.print(table)


def show_rule_set(console: Console, rule_set: RuleSet) -> None:
    """Print every clause: what it checks, what it demands, where it was read."""
    console.print(f"{escape(rule_set.title)}, edition {escape(rule_set.edition)}", style="bold")
    console.print(f"SHA-256 {rule_set.rules_hash}", soft_wrap=True)
    if rule_set.notice:
        console.print(escape(rule_set.notice))
    for clause in rule_set.clauses:
        console.print()
        console.print(f"{escape(clause.clause_id)}: {escape(clause.title)}", style="bold")
        labelled(console, "  clause", clause.clause)
        labelled(console, "  limit", limit_words(clause))
        labelled(console, "  demand", LEVEL_WORDS[clause.demand])
        labelled(console, "  what to do", ", or ".join(clause.remedy))
        labelled(console, "  who", f"{clause.who}; {clause.by_when}")
        labelled(
            console, "  read",
            f"{rule_set.source(clause.source).what} - value {provenance_words(clause.provenance)}; "
            f"clause number {provenance_words(clause.clause_provenance)}",
        )  # fmt: skip
        labelled(console, "  note", clause.note)
    for name, table in rule_set.tables.items():
        console.print()
        console.print(escape(name), style="bold")
        shown = Table(box=box.SIMPLE, show_edge=False)
        for head in table.heads:
            shown.add_column(head.replace("_", " "), justify="right")
        for row in table.rows:
            shown.add_row(*(row.cells[head] for head in table.heads))
        console.print(shown)
    for permission in rule_set.permissions:
        console.print()
        console.print(f"permission {escape(permission.permission_id)}", style="bold")
        console.print(f"  {escape(permission.title)} ({escape(permission.clause)})")
    if rule_set.duties:
        console.print()
        console.print("Duties", style="bold")
        for duty in rule_set.duties:
            labelled(
                console, f"  {duty.kind}",
                f"{duty.title}: {duty.who}, {duty.every}; record: {duty.record}; "
                f"kept {duty.keep} ({duty.clause})",
            )  # fmt: skip


def show_diff(console: Console, left: RuleSet, right: RuleSet) -> None:
    """Print clauses and table cells that differ between two rule sets."""
    console.print(f"- {escape(left.title)}")
    console.print(f"+ {escape(right.title)}")
    old = {clause.clause_id: clause for clause in left.clauses}
    new = {clause.clause_id: clause for clause in right.clauses}
    changed = 0
    for clause_id in dict.fromkeys((*old, *new)):
        before, after = old.get(clause_id), new.get(clause_id)
        if before is None or after is None:
            sign, one = ("+", after) if before is None else ("-", before)
            title = one.title if one is not None else ""
            console.print(f"{sign} {escape(clause_id)}: {escape(title)}")
            changed += 1
            continue
        for name in ("check", "demand", "clause", "remedy", "who", "by_when", "when", "at"):
            was, now = getattr(before, name), getattr(after, name)
            if not _same(was, now):
                console.print(f"~ {escape(clause_id)}: {name} differs")
                _differ(console, was, now)
                changed += 1
    if not changed:
        console.print("no clause differs")


def _same(was: object, now: object) -> bool:
    """Whether two values say the same; the file a table came from does not matter."""
    if hasattr(was, "rows") and hasattr(now, "rows"):
        return [one.cells for one in was.rows] == [one.cells for one in now.rows]
    fields = getattr(was, "__dataclass_fields__", None)
    if fields is None or type(was) is not type(now):
        return was == now
    return all(_same(getattr(was, name), getattr(now, name)) for name in fields)


def _differ(console: Console, was: object, now: object) -> None:
    fields = getattr(was, "__dataclass_fields__", None)
    if fields is None or type(was) is not type(now):
        console.print(f"    - {escape(str(was))}", soft_wrap=True)
        console.print(f"    + {escape(str(now))}", soft_wrap=True)
        return
    for name in fields:
        before, after = getattr(was, name), getattr(now, name)
        if _same(before, after):
            continue
        if hasattr(before, "rows") and hasattr(after, "rows"):
            _cells(console, before.rows, after.rows)
        else:
            console.print(
                f"    {name}: {escape(str(before))} → {escape(str(after))}", soft_wrap=True
            )


def _cells(console: Console, before: Sequence[object], after: Sequence[object]) -> None:
    for old, new in zip(before, after, strict=False):
        old_cells, new_cells = getattr(old, "cells", {}), getattr(new, "cells", {})
        for head in dict.fromkeys((*old_cells, *new_cells)):
            if old_cells.get(head) != new_cells.get(head):
                name = next(iter(new_cells.values()), "")
                console.print(
                    f"    row {name}, {head}: {old_cells.get(head)} → {new_cells.get(head)}"
                )
    if len(before) != len(after):
        console.print(f"    rows: {len(before)} → {len(after)}")


def show_assumptions(console: Console) -> None:
    """Print the register of our own assumptions, grouped by what they bear on."""
    console.print("Our own assumptions where nothing published speaks; each leans to safety.")
    for group in assumption_register():
        console.print()
        console.rule(group.heading, align="left")
        for one in group.rows:
            console.print(escape(one.assumption_id), style="bold")
            labelled(console, "  says", one.says)
            labelled(console, "  effect", one.effect)
            labelled(console, "  shows in", one.shows)
