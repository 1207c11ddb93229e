"""The limit a clause sets for broken wires on this rope, and how it was read."""

from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from ropewright.rules.context import Context
from ropewright.rules.model import BreakCheck, Column
from ropewright.rules.ruling import Step
from ropewright.rules.tables import Row, rows_for, rows_up
from ropewright.rules.words import listing, number, threshold


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """A limit, or what is missing to read it: ``value`` [-] counts broken wires."""

    value: Fraction | None
    steps: tuple[Step, ...] = ()
    missing: tuple[str, ...] = ()
    how_to_get: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()

    def words(self, compare: str) -> str:
        """The limit in words, saying what was not known and so taken strictly."""
        if self.value is None:
            return "no limit can be read"
        words = f"limit {threshold(number(self.value), compare)}"
        if self.unknown:
            words += f" (stricter figure: {listing(list(self.unknown))} not known)"
        return words


def limit_for(check: BreakCheck, context: Context, zone: str) -> Limit:
    """Read the limit for a zone of the drum (``single`` or ``multi``), once for a context."""
    known: Limit | None = context.worked_out.get((id(check), zone))
    if known is None:
        known = context.worked_out[id(check), zone] = _read(check, context, zone)
    return known


def _read(check: BreakCheck, context: Context, zone: str) -> Limit:
    if check.limit is not None:
        step = Step(says="limit printed in the clause", value=number(check.limit))
        return Limit(value=check.limit, steps=(step,))
    if check.share is not None:
        return _share(check, check.share, context)
    return _from_table(check, context, zone)


def _share(check: BreakCheck, percent: Fraction, context: Context) -> Limit:
    construction = context.rope.construction
    wires = {
        "outer wires": construction.load_bearing_outer_wires,
        "all wires": construction.total_wires,
        "wires of a strand": construction.wires_per_outer_strand,
        "outer wires of a strand": None,
    }[check.share_of or "outer wires"]
    if wires is None:
        return Limit(
            value=None,
            missing=(f"number of {check.share_of} of this rope",),
            how_to_get=("read it on the rope's certificate or data sheet",),
        )
    value = percent * wires / 100
    rounded = Fraction(ceil(value)) if check.rounding == "up" else value
    step = Step(
        says=f"limit: {number(percent)} % of the {check.share_of}",
        value=f"{number(percent)} % × {wires} = {number(rounded)}",
        origin="construction",
    )
    return Limit(value=rounded, steps=(step,))


def _from_table(check: BreakCheck, context: Context, zone: str) -> Limit:
    table = check.table
    construction, rope = context.rope.construction, context.rope
    if table is None:
        return Limit(value=None, missing=("a limit in the rule",))
    n, outer, given = (
        construction.load_bearing_outer_wires, construction.outer_strands, rope.given_rcn,
    )  # fmt: skip
    rows = rows_for(table, n=n, outer_strands=outer, rcn=given)
    if not rows:
        return _no_row(n, outer, given)
    columns, unknown = context.columns(check.columns, zone=zone)
    if not columns:
        return Limit(
            value=None, missing=("a column of the table that holds for this rope",),
            how_to_get=("state lay type and drum layers",),
        )  # fmt: skip
    moved = [
        rows_up(table, row, check.thick_rows_up)
        if construction.thick_outer_wires and check.thick_rows_up and given is None
        else row
        for row in rows
    ]
    read = [
        (value, row, column)
        for row in moved
        for column in columns
        if (value := _cell(check, row, column, n, context)) is not None
    ]
    if not read:
        return _no_row(n, outer, given)
    value, row, column = min(read, key=lambda one: one[0])
    return Limit(
        value=value,
        unknown=unknown,
        steps=_table_steps(check, context, rows, row, column, value, unknown, n),
    )


def _no_row(n: int | None, outer: int | None, given: str | None) -> Limit:
    if given is not None:
        return Limit(
            value=None,
            missing=(f"a row of the table for category number {given}",),
            how_to_get=("check the category number on the certificate",),
        )
    if n is None:
        return Limit(
            value=None,
            missing=("number of load-bearing wires in the outer strands",),
            how_to_get=("read construction or category number on the certificate",),
        )
    return Limit(
        value=None,
        missing=(f"a row of the table for {outer} outer strands with {n} wires",),
        how_to_get=("take the category number from the rope's certificate",),
    )


def _permission(column: Column, context: Context) -> Fraction | None:
    """Factor of a recorded permission; ``None`` unless it was recorded and its terms hold [-]."""
    if column.doubled_by is None:
        return None
    rule = next(
        one for one in context.rule_set.permissions if one.permission_id == column.doubled_by
    )
    installation = context.dossier.installation
    recorded = any(
        one.rule_set == context.rule_set.rule_set_id
        and one.permission == rule.permission_id
        and one.on <= context.as_of
        for one in installation.permissions
    )
    known = installation.mechanism_class in rule.mechanism_classes
    return rule.factor if recorded and known else None


def _cell(
    check: BreakCheck, row: Row, column: Column, n: int | None, context: Context
) -> Fraction | None:
    value = row.limit(column.column, n)
    if value is None:
        return None
    if check.rounding == "up":
        value = Fraction(ceil(value))
    factor = _permission(column, context)
    return value if factor is None else value * factor


def _table_steps(
    check: BreakCheck,
    context: Context,
    rows: tuple[Row, ...],
    row: Row,
    column: Column,
    value: Fraction,
    unknown: tuple[str, ...],
    n: int | None,
) -> tuple[Step, ...]:
    rope = context.rope
    where = f"{n} load-bearing wires in the outer strands" if n is not None else "category number"
    steps = [
        Step(
            says="row of the table",
            value=f"{where}: {listing([_row_name(one) for one in rows])}",
            origin="category number given" if rope.given_rcn else f"{rope.construction.name}",
        )
    ]
    if row not in rows:
        steps.append(
            Step(
                says=f"Seale strands of 19 wires or fewer: {check.thick_rows_up} rows up",
                value=_row_name(row),
                origin="rule under the table",
            )
        )
    stricter = f"; stricter column taken, not known: {listing(list(unknown))}" if unknown else ""
    steps.append(
        Step(
            says="column of the table",
            value=column.column,
            origin=f"printed: {row.cells[column.column]}{stricter}",
        )
    )
    factor = _permission(column, context)
    if factor is not None:
        steps.append(
            Step(
                says=f"recorded permission {column.doubled_by}",
                value=f"× {number(factor)}",
                origin=f"mechanism class {context.dossier.installation.mechanism_class}",
            )
        )
    steps.append(Step(says="limit", value=threshold(number(value), check.compare)))
    return tuple(steps)


def _row_name(row: Row) -> str:
    rcn = row.cells.get("rcn", "")
    if rcn and rcn != "-":
        return f"category number {rcn}"
    low, high = row.cells.get("n_from", ""), row.cells.get("n_to", "")
    return f"{low} to {high} wires" if high else f"{low} wires and more"
