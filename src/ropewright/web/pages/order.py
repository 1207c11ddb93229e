"""The order sheet of a new rope: worked out from the crane, filled in, checked by another."""

import re
import uuid
from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Any, Final

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response

from ropewright.desk.ordering import order_sheet
from ropewright.desk.ordering_model import ORDER_CAUTIONS, OrderField, OrderWish
from ropewright.errors import InputError
from ropewright.units import (
    exact_decimal,
    exact_in_us,
    exact_text,
    fixed_decimal,
    in_us,
    parse_force,
    parse_length,
    parse_mass,
    parse_number,
    us_figures,
)
from ropewright.web.addresses import from_address, rope_path
from ropewright.web.office import Here, Typed, Visit
from ropewright.web.saying import me, say
from ropewright.web.typed import read_metres, with_point
from ropewright.web.wording import said_by

router = APIRouter(include_in_schema=False)

_YES: Final = {"yes": True, "no": False}
#: How a number is read that may come with its unit, and what the other unit is called.
_READERS: Final[Mapping[str, Callable[..., Fraction]]] = {
    "mm": parse_length, "m": parse_length, "kN": parse_force, "kg": parse_mass,
}  # fmt: skip
_US_NAMES: Final = {"mm": "in", "m": "ft", "kN": "lbf", "kg": "lb"}
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
    wish, units = OrderWish(), visit.person.units
    try:
        wish = wish_of(asked, units)
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
        d=whole.dossier, asked=asked, plain_words=plain_words,
        shown={one.key: in_field(one, units) for one in sheet.fields},
    )  # fmt: skip


def wish_of(asked: Mapping[str, str], units: str = "metric") -> OrderWish:
    """What a person states for the length and the date, from an address.

    Raises
    ------
    InputError
        If a length or a number cannot be read; names the field.
    """
    weeks = asked.get("weeks", "")
    return OrderWish(
        crops_m=_metres(asked.get("crops", ""), "rope kept for cuts", units),
        ends_m=_metres(asked.get("ends", ""), "rope in clamp and sockets", units),
        lead_weeks=Fraction(_number(weeks, "delivery_weeks", units)) if weeks else None,
    )


def _metres(text: str, field: str, units: str) -> float | None:
    if not text.strip():
        return None
    return read_metres(text, field, units=units)


def unit_of(key: str) -> str:
    """The unit in which a field of the order is typed."""
    for ending, unit in (
        ("_n_per_mm2", "N/mm²"), ("_mm", "mm"), ("_kn", "kN"), ("_kg", "kg"),
        ("_weeks", "weeks"), ("_m", "m"),
    ):  # fmt: skip
        if key.endswith(ending):
            return unit
    return ""


def in_field(one: OrderField, units: str) -> tuple[str, str, str]:
    """What stands in a field of the order, what beside and what below it.

    Metric people see the number and beside it its unit.  Who thinks in US units sees number and
    unit in the field, for there a number is typed with its unit, and beside it the other figure;
    what figures stand in words is said below.
    """
    if one.value is None or isinstance(one.value, bool):
        words = {True: "yes", False: "no", None: ""}[one.value]
    else:
        words = _plain_number(one.value) if isinstance(one.value, Fraction) else str(one.value)
    unit = unit_of(one.key)
    if units != "us":
        return words, unit, ""
    if unit not in _READERS:
        return words, unit, "" if unit else "; ".join(us_figures(words))
    if not words:
        return "", f"{_US_NAMES[unit]} or {unit}", ""
    typed = exact_in_us(f"{words} {unit}")
    return typed, f"= {in_us(typed)}" if in_us(typed) != typed else "", ""


def _plain_number(value: Fraction) -> str:
    words = exact_text(value)
    return fixed_decimal(value, 2) if "/" in words else words


def plain_words(text: str) -> str:
    """Words of the sheet without the names of options, which a page does not have."""
    return re.sub(r" \(--[a-z-]+\)", "", text)


def order_payload(form: dict[str, str], order_id: str, units: str = "metric") -> dict[str, Any]:
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
            payload[key] = _number(words, key, units)
        else:
            payload[key] = words
    return payload


def _number(text: str, key: str, units: str) -> str:
    words, unit, field = with_point(text), unit_of(key), key.replace("_", " ")
    read = _READERS.get(unit)
    bare = words.replace(".", "", 1).isdecimal()
    if read is None:
        return exact_decimal(parse_number(words.removesuffix(unit).rstrip(), field=field))
    if bare and units == "us":
        like = f"a number with its unit, in {_US_NAMES[unit]} or {unit}"
        raise InputError(field=field, expected=like, given=text)
    value = read(f"{words} {unit}" if bare else words, field=field)
    return exact_decimal(value / 1000 if unit == "m" else value)


@router.post("/ropes/{rope_id}/order")
def order(visit: Here, rope_id: str) -> Response:
    """Keep an order; what was left empty stays to be filled in."""
    tools, name = visit.office.tools, from_address(rope_id)
    try:
        payload = order_payload(
            dict(visit.form), f"order-{uuid.uuid4().hex[:8]}", visit.person.units
        )
    except InputError as error:
        return _show(visit, name, 400, problem=said_by(error))
    taken = say(visit, "order", name, payload, tools.today())
    if taken.state == "refused":
        return _show(visit, name, 400, problem=taken.reason)
    return visit.back_to(rope_path(name, "order"), visit.t("order.kept"))


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
        return _show(visit, name, 400, problem=visit.t("order.none"))
    if any(person == visit.person.person_id for one in made for person, _ in one.by):
        return _show(visit, name, 400, problem=visit.t("order.second"))
    payload = {
        "order_id": order_id, "by": me(visit), "agrees": visit.form.get("agrees") == "yes",
        "remark": visit.form.get("remark", "").strip(),
    }  # fmt: skip
    taken = say(visit, "order checked", name, payload, tools.today())
    if taken.state == "refused":
        return _show(visit, name, 400, problem=taken.reason)
    return visit.back_to(rope_path(name, "order"), visit.t("order.check-kept"))
