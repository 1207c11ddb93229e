"""The card of a rope as PDF: its life on one page, the newest lines kept when there are many."""

from typing import Any, Final

from ropewright.desk.rope_life import InspectionLine, LifeLine, RopeLife
from ropewright.paper.setting import set_page
from ropewright.paper.words import cut

MOST_INSPECTIONS: Final = 16
MOST_LINES: Final = 24
MOST_OPEN: Final = 8


def rope_card_pdf(life: RopeLife) -> bytes:
    """The card of a rope as PDF, one page.

    Parameters
    ----------
    life
        What the card shows.

    Raises
    ------
    RenderError
        If the page cannot be set.
    """
    inspections = life.inspections[-MOST_INSPECTIONS:]
    happened = life.happened[-MOST_LINES:]
    data: dict[str, Any] = {
        "title": f"Rope card: {cut(life.rope_id, 60)}",
        "rope": cut(life.rope_id, 40),
        "crane": cut(life.crane, 120),
        "on": life.made_on.isoformat(),
        "made_parts": [life.made_on.year, life.made_on.month, life.made_on.day],
        "invented": "Invented data – demonstration" if life.invented else "",
        "identity": [[name, cut(text, 110)] for name, text in life.identity],
        "inspections": [_inspection(one) for one in inspections],
        "happened": [_line(one) for one in happened],
        "left_out": _left_out(life, len(inspections), len(happened)),
        "open": [cut(text, 160) for text in life.open_points[:MOST_OPEN]],
        "more_open": max(0, len(life.open_points) - MOST_OPEN),
        "seal": life.seal,
    }
    return set_page("rope_card.typ", data, {}, made_on=life.made_on)


def _inspection(one: InspectionLine) -> list[str]:
    return [
        one.on.isoformat(), one.kind, cut(one.by, 40), one.worst_short or "–",
        one.worst_long or "–", one.thinnest or "–", cut(one.other, 60), one.state,
    ]  # fmt: skip


def _line(one: LifeLine) -> list[str]:
    by = f" ({cut(one.by, 40)})" if one.by else ""
    return ["" if one.on is None else one.on.isoformat(), one.what, cut(one.words, 150) + by]


def _left_out(life: RopeLife, inspections: int, happened: int) -> str:
    parts = [
        f"{len(lines) - shown} earlier {words}"
        for lines, shown, words in (
            (life.inspections, inspections, "inspections"),
            (life.happened, happened, "lines"),
        )
        if len(lines) > shown
    ]
    return f"Not on this page: {', '.join(parts)}; the logbook holds them." if parts else ""
