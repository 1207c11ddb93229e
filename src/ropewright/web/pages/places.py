"""Places: how marks and findings come back, where something is, and the plan of an inspection."""

from typing import Any

from fastapi import APIRouter
from fastapi.responses import HTMLResponse

from ropewright.desk import AtPoint, FromMark, OnDrum, Question, Whereabouts, where_is
from ropewright.desk.planned import plan_for
from ropewright.errors import InputError
from ropewright.geometry import CranePosition
from ropewright.inspection import Dossier
from ropewright.plan import plan_sheet
from ropewright.web.addresses import from_address, rope_path
from ropewright.web.office import Here, Typed
from ropewright.web.typed import read_metres
from ropewright.web.wording import said_by

router = APIRouter(include_in_schema=False)


def question_of(asked: dict[str, str]) -> Question | None:
    """What somebody asks with the form; ``None`` if nothing was filled in.

    Raises
    ------
    InputError
        If a number cannot be read; names the field.
    """
    if asked.get("hook"):
        radius = asked.get("radius", "")
        return AtPoint(
            point=asked.get("point", ""),
            position=CranePosition(
                hook_m=read_metres(asked["hook"], "hook height"),
                radius_m=read_metres(radius, "radius") if radius else None,
            ),
        )
    if asked.get("wrap"):
        return OnDrum(
            layer=_whole(asked.get("layer", ""), "layer"), wrap=_whole(asked["wrap"], "wrap"),
            counted_from=asked.get("flange", ""),
        )  # fmt: skip
    if asked.get("mark"):
        return FromMark(
            mark=asked["mark"], offset_m=read_metres(asked.get("beyond") or "0", "beyond the mark")
        )
    return None


def _whole(text: str, field: str) -> int:
    if not text.strip().isdecimal():
        raise InputError(field=field, expected="a whole number from 1", given=text)
    return int(text)


@router.get("/ropes/{rope_id}/places")
def places_page(visit: Here, rope_id: str) -> HTMLResponse:
    """The plan of the next inspection, and where things are."""
    tools, name = visit.office.tools, from_address(rope_id)
    asked = Typed({key: value[:100] for key, value in visit.request.query_params.items()})
    dossier, today = tools.book.dossier(name), tools.today()
    rigging = dossier.rigging_at(today)
    found, problem = _found(dossier, asked, visit)
    plan: Any = None
    missing = ""
    try:
        plan, _ = plan_for(dossier, tools.shelf, today, software=tools.software)
    except InputError as error:
        missing = said_by(error)
    return visit.page(
        "places.html", rope_id=name, path_back=rope_path(name), plan=plan, d=dossier,
        sheet=None if plan is None else plan_sheet(plan), missing=missing, found=found,
        problem=problem, asked=asked,
        points=[] if rigging is None else [one.name for one in rigging.points],
    )  # fmt: skip


def _found(dossier: Dossier, asked: dict[str, str], visit: Here) -> tuple[Whereabouts | None, str]:
    try:
        question = question_of(asked)
        if question is None:
            return None, ""
        return where_is(dossier, question, visit.office.tools.today()), ""
    except InputError as error:
        return None, said_by(error)
