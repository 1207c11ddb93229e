"""The board of all ropes."""

import time
from typing import Final

from fastapi import APIRouter
from fastapi.responses import HTMLResponse

from ropewright.web.office import Here, Office
from ropewright.web.views.board import SORTS, Asked, Board, board

router = APIRouter(include_in_schema=False)

#: How long a page may spend on judging what nobody has judged yet today [s].
PATIENCE_S: Final = 1.5


def board_now(office: Office, asked: Asked, units: str) -> Board:
    """The board of today; what cannot be judged in time is counted, never left out in silence."""
    tools, judged = office.tools, office.judged
    stands = [one for one in tools.book.stands() if one.record.get("state") != "taken off"]
    until = time.monotonic() + PATIENCE_S
    glances = []
    for stand in stands:
        one = judged.held(stand)
        if one is None and time.monotonic() < until:
            one = judged.glance(stand)
        if one is not None:
            glances.append(one)
    waiting = len(stands) - len(glances)
    return board(glances, tools.today(), asked, office.texts, waiting=waiting, units=units)


@router.get("/")
def board_page(
    visit: Here, group: str = "urgency", site: str = "", crane: str = "", q: str = "", page: int = 1
) -> HTMLResponse:
    """Every rope, most urgent first."""
    office, units = visit.office, visit.person.units
    asked = Asked(
        group=group if group in SORTS else "urgency", site=site, crane=crane, words=q[:100],
        page=page,
    )  # fmt: skip
    tools = office.tools
    key = ("board", asked, units), (tools.book.newest(), tools.today())
    main = office.boards.get(*key)
    if main is None:
        shown = board_now(office, asked, units)
        made = visit.middle(
            "board_main.html", board=shown, sorts=SORTS, units=units, today=tools.today()
        )
        main = made.encode() if shown.waiting else office.boards.put(*key, made)
    return visit.page_around("board.html", main)
