"""Handover: open holds, overrides and marks, and who took note of them."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response

from ropewright.desk.open_book import Line
from ropewright.web.addresses import rope_path
from ropewright.web.office import Here
from ropewright.web.saying import me, say
from ropewright.web.views.handover import handover_view

router = APIRouter(include_in_schema=False)


@router.get("/handover")
def handover_page(visit: Here) -> HTMLResponse:
    """What the next shift has to know."""
    tools, judged = visit.office.tools, visit.office.judged
    stands = tools.book.stands()
    glances = {one.rope_id: judged.glance(one) for one in stands}
    taken: dict[str, Line | None] = {}
    for line in tools.book.lines(kinds={"handover taken"}, newest_first=False, most=10_000):
        taken[line.rope_id] = line
    view = handover_view(stands, glances, taken)
    return visit.page("handover.html", view=view, names=tools.book.names(), rope_path=rope_path)


@router.post("/handover")
def take_over(visit: Here) -> Response:
    """Take note of what is open on one rope, by name."""
    tools = visit.office.tools
    name = visit.form.get("rope", "")
    stand = tools.book.stand(name)
    view = handover_view([stand], {name: visit.office.judged.glance(stand)}, {name: None})
    told = [words for one in view for words in one.open]
    payload = {"by": me(visit), "told": told, "remark": visit.form.get("remark", "").strip()}
    taken = say(visit, "handover taken", name, payload, tools.today())
    said = f"{name}: you took over." if taken.state == "taken" else taken.reason
    return visit.back_to("/handover", said)
