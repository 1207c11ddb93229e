"""The order sheet of a new rope as PDF: one field a line, what is not known left open to write."""

from typing import Any

from ropewright.desk.ordering_model import ORDER_CAUTIONS, TO_FILL, OrderField, OrderSheet
from ropewright.paper.setting import set_page
from ropewright.paper.words import cut

_MARKS = {
    "known": "", "worked out": "worked out", "estimate": "estimate", "stated": "",
    TO_FILL: "fill in",
}  # fmt: skip


def order_pdf(sheet: OrderSheet, *, order_id: str = "", ordered_by: str = "") -> bytes:
    """The order sheet as PDF.

    Parameters
    ----------
    sheet
        The order.
    order_id
        Its id in the logbook; empty for a sheet that was not kept.
    ordered_by
        Who made it.  Whoever checks it signs by hand.

    Raises
    ------
    RenderError
        If the page cannot be set.
    """
    crane = " · ".join(part for part in (f"Crane {sheet.crane}", sheet.hoist, sheet.site) if part)
    length = sheet.get("length_m")
    data: dict[str, Any] = {
        "title": f"Order of a rope for {cut(sheet.crane, 40)}, {cut(sheet.hoist, 40)}",
        "rope": cut(sheet.rope_id, 40),
        "crane": cut(crane, 140),
        "on": sheet.made_on.isoformat(),
        "made_parts": [sheet.made_on.year, sheet.made_on.month, sheet.made_on.day],
        "invented": "Invented data – demonstration" if sheet.invented else "",
        "order_id": order_id,
        "ordered_by": cut(ordered_by, 80),
        "fields": [_row(one) for one in sheet.fields],
        "open": len(sheet.to_fill),
        "steps": [cut(step, 200) for step in length.steps],
        "look": [f"{one.words}: {cut(one.look, 220)}" for one in sheet.to_look_at],
        "cautions": list(ORDER_CAUTIONS),
    }
    return set_page("order.typ", data, {}, made_on=sheet.made_on)


def _row(one: OrderField) -> dict[str, str]:
    return {
        "words": one.words,
        "shown": cut(one.shown, 260),
        "mark": _MARKS[one.how],
        "source": cut(one.source, 120),
        "open": "yes" if one.how == TO_FILL else "",
        "look": "yes" if one.look else "",
    }
