"""The order sheet of a new rope: worked out from the crane, filled in, checked by another."""

import re
import uuid
from collections.abc import Mapping
from fractions import Fraction
from typing import Any, Final

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response

from ropewright.desk.ordering import order_sheet
from ropewright.desk.ordering_model import ORDER_CAUTIONS, OrderWish
from ropewright.errors import InputError
from ropewright.units import exact_decimal, parse_number
from ropewright.web.addresses import from_address, rope_path
from ropewright.web.office import Here, Typed, Visit
from ropewright.web.saying import me, say
from ropewright.web.typed import read_metres, with_point
from ropewright.web.wording import said_by

router = APIRouter(include_in_schema=False)

_YES: Final = {"yes": True, "no": False}
#: Fields that are answered by yes or no.
YES_OR_NO: Final = frozenset({"plastic_core", "compacted", "rotation_resistant"})


@router.get("/ropes/{rope_id}/order")
def order_page(visit: Here, rope_id: str) -> HTMLResponse:
    """The order sheet, and orders that stand in the book."""
    return _show(visit, from_address(rope_id))


def _show(visit: Visit, rope_id: str, status: int = 200, *, problem: str = "") -> HTMLResponse:
    tools = visit.office.tools
    whole = visit.office.judged.overview(rope_id)
    asked = Typed({key: value[:40] for key, value in visit.request.query_params.items()})
    wish = OrderWish()
    try:
        wish = wish_of(asked)
    except InputError as error:
        problem = problem or said_by(error)
    sheet = order_sheet(whole.dossier, tools.today(), wish=wish, forecast=whole.growth)
    lines = tools.book.lines(rope_id, kinds={"order", "order checked"})
    orders = [one for one in lines if one.kind == "order"]
    checked = {
        str(one.payload.get("order_id")): one
        for one in reversed(lines)
        if one.kind == "order checked"
    }
    return visit.page(
        "order.html", status, rope_id=rope_id, path_back=rope_path(rope_id), sheet=sheet,
        cautions=ORDER_CAUTIONS, orders=orders, checked=checked, names=tools.book.names(),
        may_order=visit.may("POST /ropes/{rope_id}/order"), problem=problem, form=visit.form,
        d=whole.dossier, asked=asked, units_of=unit_of, plain_words=plain_words,
    )  # fmt: skip


def wish_of(asked: Mapping[str, str]) -> OrderWish:
    """What a person states for the length and the date, from an address.

    Raises
    ------
    InputError
        If a length or a number cannot be read; names the field.
    """
    weeks = asked.get("weeks", "")
    return OrderWish(
        crops_m=_metres(asked.get("crops", ""), "rope kept for cuts"),
        ends_m=_metres(asked.get("ends", ""), "rope in clamp and sockets"),
        lead_weeks=Fraction(_number(weeks, "delivery_weeks")) if weeks else None,
    )


def _metres(text: str, field: str) -> float | None:
    if not text.strip():
        return None
    return read_metres(text, field)


def unit_of(key: str) -> str:
    """The unit in which a field of the order is typed."""
    for ending, unit in (
        ("_n_per_mm2", "N/mm²"), ("_mm", "mm"), ("_kn", "kN"), ("_kg", "kg"),
        ("_weeks", "weeks"), ("_m", "m"),
    ):  # fmt: skip
        if key.endswith(ending):
            return unit
    return ""


def plain_words(text: str) -> str:
    """Words of the sheet without the names of options, which a page does not have."""
    return re.sub(r" \(--[a-z-]+\)", "", text)


def order_payload(form: dict[str, str], order_id: str) -> dict[str, Any]:
    """What an order says, from the fields of its form.

    Raises
    ------
    InputError
        If a number or a day cannot be read; names the field.
    """
    payload: dict[str, Any] = {"order_id": order_id}
    for name, text in form.items():
        if not name.startswith("f."):
            continue
        key, words = name[2:], text.strip()
        if not words:
            continue
        if words in _YES and key in YES_OR_NO:
            payload[key] = _YES[words]
        elif key.endswith(("_mm", "_kn", "_kg", "_weeks", "_per_mm2", "_m")):
            payload[key] = _number(words, key)
        else:
            payload[key] = words
    return payload


def _number(text: str, key: str) -> str:
    plain = with_point(text).removesuffix(unit_of(key)).rstrip()
    return exact_decimal(parse_number(plain, field=key.replace("_", " ")))


@router.post("/ropes/{rope_id}/order")
def order(visit: Here, rope_id: str) -> Response:
    """Keep an order; what was left empty stays to be filled in."""
    tools, name = visit.office.tools, from_address(rope_id)
    try:
        payload = order_payload(dict(visit.form), f"order-{uuid.uuid4().hex[:8]}")
    except InputError as error:
        return _show(visit, name, 400, problem=said_by(error))
    taken = say(visit, "order", name, payload, tools.today())
    if taken.state == "refused":
        return _show(visit, name, 400, problem=taken.reason)
    return visit.back_to(
        rope_path(name, "order"), "Kept. A second person checks it before it goes out."
    )


@router.post("/ropes/{rope_id}/order-check")
def check(visit: Here, rope_id: str) -> Response:
    """A second person goes over an order."""
    tools, name = visit.office.tools, from_address(rope_id)
    order_id = visit.form.get("order_id", "")
    made = [
        one
        for one in tools.book.lines(name, kinds={"order"})
        if one.payload.get("order_id") == order_id
    ]
    if not made:
        return _show(visit, name, 400, problem="this rope has no such order")
    if any(person == visit.person.person_id for one in made for person, _ in one.by):
        return _show(
            visit, name, 400, problem="a second person checks an order, not the one who made it"
        )
    payload = {
        "order_id": order_id, "by": me(visit), "agrees": visit.form.get("agrees") == "yes",
        "remark": visit.form.get("remark", "").strip(),
    }  # fmt: skip
    taken = say(visit, "order checked", name, payload, tools.today())
    if taken.state == "refused":
        return _show(visit, name, 400, problem=taken.reason)
    return visit.back_to(rope_path(name, "order"), "Your check is kept.")
