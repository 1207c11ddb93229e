"""Handover: open holds, overrides and marks, and who took note of them."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response

from ropewright.desk.open_book import Line
from ropewright.web.addresses import rope_path
from ropewright.web.office import Here, Visit
from ropewright.web.saying import me, say
from ropewright.web.views.handover import handover_view, mark_of

router = APIRouter(include_in_schema=False)


@router.get("/handover")
def handover_page(visit: Here) -> HTMLResponse:
    """What the next shift has to know."""
    return _show(visit)


def _show(visit: Visit, status: int = 200, *, problem: str = "") -> HTMLResponse:
    office = visit.office
    now = (office.tools.book.newest(), office.tools.today())
    key = ("handover", visit.person.units), now
    main = None if problem else office.boards.get(*key)
    if main is None:
        made = _main(visit, problem)
        main = made.encode() if problem else office.boards.put(*key, made)
    return visit.page_around("handover.html", main, status)


def _main(visit: Visit, problem: str) -> str:
    tools, judged = visit.office.tools, visit.office.judged
    stands = tools.book.stands()
    glances = {one.rope_id: judged.glance(one) for one in stands}
    taken: dict[str, Line | None] = {}
    for line in tools.book.lines(kinds={"handover taken"}, newest_first=False, most=10_000):
        taken[line.rope_id] = line
    view = handover_view(stands, glances, taken, visit.office.texts)
    return visit.middle(
        "handover_main.html", view=view, names=tools.book.names(), rope_path=rope_path,
        mark_of=mark_of, problem=problem, every_rope=ALL,
    )  # fmt: skip


ALL = "every rope"


@router.post("/handover")
def take_over(visit: Here) -> Response:
    """Take note of what is open, by name: on one rope, or on every rope that was shown."""
    tools, judged = visit.office.tools, visit.office.judged
    wanted = visit.form.get("rope", "")
    stands = tools.book.stands() if wanted == ALL else [tools.book.stand(wanted)]
    glances = {one.rope_id: judged.glance(one) for one in stands}
    view = handover_view(stands, glances, {}, visit.office.texts)
    if visit.form["shown"] != mark_of(view):
        return _show(visit, 409, problem=visit.t("handover.changed"))
    refused = []
    for one in view:
        payload = {
            "by": me(visit), "told": list(one.open),
            "remark": visit.form.get("remark", "").strip(),
        }  # fmt: skip
        taken = say(visit, "handover taken", one.rope_id, payload, tools.today())
        if taken.state == "refused":
            refused.append(f"{one.rope_id}: {taken.reason}")
    said = visit.t(
        "handover.took", rope=visit.t("handover.every-rope") if wanted == ALL else wanted
    )
    return visit.back_to("/handover", "; ".join(refused) or said)
