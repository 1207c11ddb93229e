"""Places: how marks and findings come back, where something is, and the plan of an inspection."""

from datetime import date
from typing import Any, Final

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response

from ropewright.desk import AtPoint, FromMark, OnDrum, Question, Whereabouts, where_is
from ropewright.desk.crane_at import crane_at
from ropewright.desk.planned import plan_for
from ropewright.errors import InputError
from ropewright.geometry import CranePosition
from ropewright.inspection import Dossier
from ropewright.plan import plan_sheet
from ropewright.units import parse_angle
from ropewright.web.addresses import from_address, rope_path
from ropewright.web.handing import file_name, send
from ropewright.web.office import Here, Typed
from ropewright.web.typed import read_metres, with_point
from ropewright.web.wording import said_by

router = APIRouter(include_in_schema=False)


#: Where the crane stands, by axis: the name in an address, words, what it looks like.
AXIS_FIELDS: Final = {
    "hook_m": ("hook", "hook height", "23.4 m"),
    "radius_m": ("radius", "radius", "30 m"),
    "jib_deg": ("jib", "jib angle", "65 deg"),
    "boom_m": ("boom", "boom length", "28 m"),
    "boom_deg": ("boom_angle", "boom angle", "60 deg"),
}


def question_of(asked: dict[str, str], units: str = "metric") -> Question | None:
    """What somebody asks with the form; ``None`` if nothing was filled in.

    Raises
    ------
    InputError
        If a number cannot be read; names the field.
    """
    read = {
        axis: read_metres(asked[key], words, units=units)
        if axis.endswith("_m")
        else _degrees(asked[key], words)
        for axis, (key, words, _) in AXIS_FIELDS.items()
        if asked.get(key)
    }
    if read:
        return AtPoint(point=asked.get("point", ""), position=CranePosition(**read))
    if asked.get("wrap"):
        return OnDrum(
            layer=_whole(asked.get("layer", ""), "layer"), wrap=_whole(asked["wrap"], "wrap"),
            counted_from=asked.get("flange", ""),
        )  # fmt: skip
    if asked.get("mark"):
        return FromMark(
            mark=asked["mark"],
            offset_m=read_metres(asked.get("beyond") or "0", "beyond the mark", units=units),
        )
    return None


def _degrees(text: str, field: str) -> float:
    words = with_point(text)
    plain = words if words.removeprefix("-").replace(".", "", 1).isdigit() else ""
    return float(parse_angle(f"{plain} deg" if plain else words, field=field, signed=True))


def _axis_fields(dossier: Dossier, on: date) -> list[tuple[str, str, str]]:
    """Fields for where the crane stands: those that fix this rope's path, as far as is known."""
    try:
        known = [one.axis for one in crane_at(dossier, on).axes]
    except InputError:
        known = ["hook_m", "radius_m"]
    return [AXIS_FIELDS[axis] for axis in known]


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
        axis_fields=_axis_fields(dossier, today),
    )  # fmt: skip


@router.get("/ropes/{rope_id}/plan.pdf")
def plan_pdf(visit: Here, rope_id: str) -> Response:
    """The plan of the next inspection as a sheet to take along."""
    tools, name = visit.office.tools, from_address(rope_id)
    dossier = tools.book.dossier(name)
    plan, assessment = plan_for(dossier, tools.shelf, tools.today(), software=tools.software)
    return send(file_name(visit, name, "plan", "pdf"), tools.plan_pdf(dossier, plan, assessment))


def _found(dossier: Dossier, asked: dict[str, str], visit: Here) -> tuple[Whereabouts | None, str]:
    try:
        question = question_of(asked, visit.person.units)
        if question is None:
            return None, ""
        return where_is(dossier, question, visit.office.tools.today()), ""
    except InputError as error:
        return None, said_by(error)
