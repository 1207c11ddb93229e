"""Ordering a new rope: the sheet, kept in the book, checked by a second person."""

import json
from datetime import date
from fractions import Fraction
from pathlib import Path

import click
from rich.console import Console
from rich.table import Table
from rich.text import Text

from ropewright.cli.support import Day, plain_errors, read_rope, rope_in_book, write_file
from ropewright.cli.tools import Case, Tools
from ropewright.desk import (
    ORDER_CAUTIONS,
    TO_FILL,
    OrderSheet,
    OrderWish,
    growth_of,
    order_as_data,
    order_sheet,
    read_order_values,
)
from ropewright.errors import InputError
from ropewright.units import metres, parse_length, parse_number

_PATH = click.Path(path_type=Path)


@click.command("order")
@click.argument("file", required=False, metavar="FILE|BOOK#ROPE")
@click.option("--demo", metavar="NAME", help="Use a demo rope instead of a file.")
@click.option("--as-of", type=Day(), metavar="DATE", help="Order as on this date (today).")
@click.option("--crops", metavar="LENGTH", help="Rope to be cut off in its life, like '12 m'.")
@click.option("--ends", metavar="LENGTH", help="Rope in clamp, sockets and seizings.")
@click.option("--lead-weeks", metavar="N", help="Delivery time in weeks, as the maker says.")
@click.option("--needed-by", type=Day(), metavar="DATE", help="Instead of the forecast's date.")
@click.option("--set", "stated", multiple=True, metavar="KEY=VALUE", help="State a field.")
@click.option("--by", default="", metavar="WHO", help="Who makes the order.")
@click.option("--keep", is_flag=True, help="Keep it in the book (BOOK#ROPE), to be checked.")
@click.option("--order", "order_id", metavar="ID", help="Its id; a new one for each day if not.")
@click.option("--pdf", type=_PATH, help="Write the order sheet (PDF).")
@click.option("--json", "as_json", is_flag=True, help="Print the order as JSON.")
@click.pass_obj
@plain_errors
def order_command(
    tools: Tools,
    file: str | None,
    demo: str | None,
    as_of: date | None,
    crops: str | None,
    ends: str | None,
    lead_weeks: str | None,
    needed_by: date | None,
    stated: tuple[str, ...],
    by: str,
    keep: bool,
    order_id: str | None,
    pdf: Path | None,
    as_json: bool,
) -> None:
    """Make the order sheet of a new rope for a crane.

    Every field says where it comes from; what is not known is to be filled in, never guessed.
    With --keep it goes into the book, where a second person checks it: ropewright order-check.
    """
    case, _ = read_rope(tools, file, demo)
    day = as_of or tools.today()
    wish = OrderWish(
        crops_m=_length(crops, "--crops"),
        ends_m=_length(ends, "--ends"),
        lead_weeks=None if lead_weeks is None else _weeks(lead_weeks),
        needed_by=needed_by,
        stated=read_order_values(stated),
        stated_by=by,
    )
    sheet = _sheet(tools, case, day, wish)
    name = order_id or f"order {day.isoformat()}"
    if keep:
        _keep(tools, file or "", sheet, by, name)
    if pdf is not None:
        write_file(
            pdf,
            tools.rope_change.order_pdf(sheet, order_id=name if keep else "", ordered_by=by),
        )
    if as_json:
        click.echo(json.dumps(order_as_data(sheet), ensure_ascii=False, indent=1))
        return
    show_order(Console(highlight=False), sheet)
    if keep:
        click.echo(f'Kept as "{name}". To be checked by a second person:')
        click.echo(f"  ropewright order-check '{file}' '{name}' --by WHO")
    if pdf is not None:
        click.echo(f"Order sheet: {pdf}")


def _sheet(tools: Tools, case: Case, day: date, wish: OrderWish) -> OrderSheet:
    forecast = growth_of(case.dossier, tools.shelf, day, software=tools.software)
    return order_sheet(case.dossier, day, wish=wish, forecast=forecast)


def _length(text: str | None, field: str) -> float | None:
    return None if text is None else metres(parse_length(text, field=field))


def _weeks(text: str) -> Fraction:
    return parse_number(text, field="--lead-weeks")


def _keep(tools: Tools, address: str, sheet: OrderSheet, by: str, order_id: str) -> None:
    book, rope = rope_in_book(tools, address, "a rope of a logbook, to keep it there")
    if not by:
        raise InputError(field="--by", expected="who makes the order, by role or name", given=by)
    values = {one.key: one.value for one in sheet.fields if one.how != TO_FILL}
    tools.rope_change.orders.keep_order(
        book,
        rope,
        values,
        order_id=order_id,
        by=by,
        on=sheet.made_on,
        to_fill=[one.key for one in sheet.to_fill],
        length_steps=sheet.get("length_m").steps,
    )


def show_order(console: Console, sheet: OrderSheet) -> None:
    """Print an order sheet."""
    if sheet.invented:
        console.print("INVENTED DATA, for demonstration only", style="bold")
    head = f"Order of a rope for {sheet.crane}, {sheet.hoist}, as on {sheet.made_on.isoformat()}"
    console.print(head, markup=False)
    table = Table(box=None, pad_edge=False)
    table.add_column("field")
    table.add_column("order", ratio=1)
    table.add_column("comes from", style="dim")
    for one in sheet.fields:
        open_still = one.how == TO_FILL
        shown = f"[ ] to be filled in{f': {one.shown}' if one.shown else ''}"
        how = one.how if one.how in ("worked out", "estimate") else ""
        table.add_row(
            Text(one.words),
            Text(shown if open_still else one.shown, style="" if open_still else "bold"),
            Text("" if open_still else ": ".join(part for part in (how, one.source) if part)),
        )
    console.print(table)
    console.print("\nHow the length was worked out")
    for step in sheet.get("length_m").steps:
        console.print(f"  {step}", markup=False, soft_wrap=True)
    if sheet.to_look_at:
        console.print("\nLook again")
        for one in sheet.to_look_at:
            console.print(f"  {one.words}: {one.look}", markup=False, soft_wrap=True)
    console.print()
    for words in ORDER_CAUTIONS:
        console.print(f"! {words}", markup=False, soft_wrap=True)
    count = len(sheet.to_fill)
    console.print(f"{count} fields to be filled in." if count else "Every field is filled in.")


@click.command("order-check")
@click.argument("address", metavar="BOOK#ROPE")
@click.argument("order_id", metavar="ORDER")
@click.option("--by", required=True, metavar="WHO", help="Who checks: not who made the order.")
@click.option("--no", "refused", metavar="WHY", help="It is not right, and why.")
@click.option("--remark", default="", metavar="TEXT", help="What it was held against.")
@click.option("--on", "as_of", type=Day(), metavar="DATE", help="The day (today).")
@click.pass_obj
@plain_errors
def order_check_command(
    tools: Tools,
    address: str,
    order_id: str,
    by: str,
    refused: str | None,
    remark: str,
    as_of: date | None,
) -> None:
    """Check an ORDER that another person made, field by field against the crane's manual."""
    book, rope = rope_in_book(tools, address)
    tools.rope_change.orders.check_order(
        book, rope, order_id, by=by, on=as_of or tools.today(), agrees=refused is None,
        remark=refused or remark,
    )  # fmt: skip
    click.echo(f'"{order_id}" {"checked" if refused is None else "refused"} by {by}.')


@click.command("orders")
@click.argument("address", metavar="BOOK#ROPE")
@click.pass_obj
@plain_errors
def orders_command(tools: Tools, address: str) -> None:
    """List the orders of a rope: made by whom, checked by whom, what is open."""
    book, rope = rope_in_book(tools, address)
    found = tools.rope_change.orders.orders(book, rope)
    if not found:
        click.echo("no order")
    for one in found:
        said = {None: "not checked yet", True: "checked by", False: "refused by"}[one.agrees]
        click.echo(
            f"{one.order.order_id}: made {one.made_on} by {one.ordered_by or 'nobody named'}, "
            f"{f'{said} {one.checked_by}'.strip()}"
        )
        if one.order.to_fill:
            click.echo(f"  to be filled in: {', '.join(one.order.to_fill)}")
