"""What an edition change would alter: two rule sets held against each other, clause by clause."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any, Final, Literal

from ropewright.rules import LEVEL_WORDS, Clause, RuleSet, limit_words

READ_BOTH: Final = "not the same: read both clauses"


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleChange:
    """One difference: the clause, what of it differs, what stood there, what stands there."""

    kind: Literal["added", "taken away", "differs"]
    clause_id: str
    title: str
    what: str = ""
    before: str = ""
    after: str = ""


def rule_changes(left: RuleSet, right: RuleSet) -> tuple[RuleChange, ...]:
    """Every difference of the clauses of two rule sets, in their order.

    Parameters
    ----------
    left
        The one that holds now.
    right
        The one that would hold.
    """
    old = {one.clause_id: one for one in left.clauses}
    new = {one.clause_id: one for one in right.clauses}
    found: list[RuleChange] = []
    for name in dict.fromkeys((*old, *new)):
        before, after = old.get(name), new.get(name)
        if before is None and after is not None:
            found.append(RuleChange(kind="added", clause_id=name, title=after.title,
                                    what="limit", after=limit_words(after)))  # fmt: skip
        elif after is None and before is not None:
            found.append(RuleChange(kind="taken away", clause_id=name, title=before.title,
                                    what="limit", before=limit_words(before)))  # fmt: skip
        elif before is not None and after is not None:
            found.extend(_of_clause(before, after))
    return tuple(found)


def _of_clause(before: Clause, after: Clause) -> Iterator[RuleChange]:
    said = (
        ("limit", limit_words(before), limit_words(after)),
        ("demand", LEVEL_WORDS[before.demand], LEVEL_WORDS[after.demand]),
        ("clause", before.clause, after.clause),
        ("what to do", ", or ".join(before.remedy), ", or ".join(after.remedy)),
        ("who", before.who, after.who),
        ("by when", before.by_when, after.by_when),
        ("in force from", _day(before.in_force_from), _day(after.in_force_from)),
        ("in force to", _day(before.in_force_to), _day(after.in_force_to)),
    )
    for what, was, now in said:
        if was != now:
            yield RuleChange(
                kind="differs", clause_id=after.clause_id, title=after.title, what=what,
                before=was, after=now,
            )  # fmt: skip
    cells = list(_cells(_table(before), _table(after)))
    for head, was, now in cells:
        yield RuleChange(
            kind="differs", clause_id=after.clause_id, title=after.title, what=f"table, {head}",
            before=was, after=now,
        )  # fmt: skip
    for what in _not_in_words(before, after, told=bool(cells)):
        yield RuleChange(
            kind="differs", clause_id=after.clause_id, title=after.title, what=what,
            before=READ_BOTH, after=READ_BOTH,
        )  # fmt: skip


def _not_in_words(before: Clause, after: Clause, *, told: bool) -> Iterator[str]:
    """What differs and has no short words of its own: never silently the same."""
    if (before.when, before.at, before.needed_at) != (after.when, after.at, after.needed_at):
        yield "when it applies"
    if before.check != after.check and not told and limit_words(before) == limit_words(after):
        yield "how it is counted or measured"


def _day(day: date | None) -> str:
    return "" if day is None else day.isoformat()


def _table(clause: Clause) -> Sequence[Any]:
    return getattr(getattr(clause.check, "table", None), "rows", ())


def _row_words(number: int, old: Any, new: Any) -> str:  # noqa: ANN401 - rows of any table
    """A row by its number, and by its rope category number where it has one."""
    rcn = old.cells.get("rcn")
    return f"row {number} (RCN {rcn})" if rcn and rcn == new.cells.get("rcn") else f"row {number}"


def _cells(before: Sequence[Any], after: Sequence[Any]) -> Iterator[tuple[str, str, str]]:
    for number, (old, new) in enumerate(zip(before, after, strict=False), start=1):
        for head in dict.fromkeys((*old.cells, *new.cells)):
            was, now = str(old.cells.get(head, "")), str(new.cells.get(head, ""))
            if was != now:
                yield f"{_row_words(number, old, new)}, {head.replace('_', ' ')}", was, now
    if len(before) != len(after):
        yield "rows", str(len(before)), str(len(after))
