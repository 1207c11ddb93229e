"""Where a rope is worn, by a log that comes with the form; nothing of it is kept."""

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final, cast

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response
from starlette.concurrency import run_in_threadpool

from ropewright.desk.cutting import PERIOD_DAYS
from ropewright.desk.worn import Worn, worn_rope
from ropewright.errors import InputError
from ropewright.inspection import Dossier
from ropewright.wear.models import MODELS, ModelName
from ropewright.web.addresses import from_address, rope_path
from ropewright.web.guards import MOST_LOG_BYTES
from ropewright.web.office import Here, Visit
from ropewright.web.typed import with_point
from ropewright.web.us_units import us_drawing
from ropewright.web.views.wear import wear_view
from ropewright.web.wording import said_by

router = APIRouter(include_in_schema=False)

#: Columns of a log: key in the form, key of its words, what a heading and its unit may look like.
COLUMNS: Final = (
    ("time", "wear.column.time", "Stamp", "s, ms; none for dates"),
    ("hook", "wear.column.hook", "Height", "m"),
    ("radius", "wear.column.radius", "Radius", "m"),
    ("jib", "wear.column.jib", "Jib", "deg"),
    ("boom", "wear.column.boom", "Boom", "m"),
    ("boom_angle", "wear.column.boom-angle", "Angle", "deg"),
    ("load", "wear.column.load", "Load", "t"),
    ("drum_turns", "wear.column.drum-turns", "Turns", ""),
    ("falls", "crane.falls", "Falls", ""),
)
#: Fields of the form that say how a log is to be read.
SAID: Final = (
    *(name for key, _, _, _ in COLUMNS for name in (key, f"{key}_unit")),
    "zone", "decimal", "with_block", "block", "greatest_load", "text",
)  # fmt: skip
MOST_DAYS: Final = 3650
MOST_WRAPS: Final = 100
WAIT_S: Final = 30.0
WIDTHS: Final = (("wide-chart", 1100), ("narrow-chart", 380))

#: Counting takes a whole core: one log at a time, and few people waiting, for the pages' sake.
_COUNTING = threading.Lock()
_HERE = threading.BoundedSemaphore(4)


@router.get("/ropes/{rope_id}/wear")
def wear_page(visit: Here, rope_id: str) -> HTMLResponse:
    """Ask for a log."""
    return _show(visit, from_address(rope_id))


def _show(
    visit: Visit, rope_id: str, status: int = 200, *, problem: str = "", worn: Worn | None = None
) -> HTMLResponse:
    tools = visit.office.tools
    dossier = tools.book.dossier(rope_id)
    charts = [] if worn is None else _charts(visit, dossier, worn)
    view = None if worn is None else wear_view(worn, visit.office.texts, visit.person.units)
    return visit.page(
        "wear.html", status, rope_id=rope_id, path_back=rope_path(rope_id), d=dossier,
        view=view, charts=charts, problem=problem,
        form=visit.form, may=visit.may("POST /ropes/{rope_id}/wear"), columns=COLUMNS,
        model_choices=[(name, card.title) for name, card in MODELS.items()],
        usual_days=f"{PERIOD_DAYS:g}", most_mb=MOST_LOG_BYTES // 10**6,
        opened=problem and any(visit.form[name].strip() for name in SAID if name != "block"),
    )  # fmt: skip


def _charts(visit: Visit, dossier: Dossier, worn: Worn) -> list[tuple[str, str]]:
    draw, feet = visit.office.tools.wear_chart, visit.person.units == "us"
    made = [
        (kind, draw(dossier, worn.found, worn.advice, width_px=width, feet=feet))
        for kind, width in WIDTHS
    ]
    return [(kind, us_drawing(svg) if feet else svg) for kind, svg in made]


@router.post("/ropes/{rope_id}/wear")
async def wear_of_log(visit: Here, rope_id: str) -> Response:
    """Count the log that came, and say where the rope is worn and whether a cut helps."""
    return await run_in_threadpool(_answer, visit, from_address(rope_id))


def _answer(visit: Visit, rope_id: str) -> Response:
    try:
        worn = _worn(visit, rope_id)
    except InputError as error:
        return _show(visit, rope_id, 400, problem=said_by(error))
    return _show(visit, rope_id, worn=worn)


def _worn(visit: Visit, rope_id: str) -> Worn:
    tools, form = visit.office.tools, visit.form
    logs = [
        (form[f"{key}.name"], content)
        for key, content in visit.files.items()
        if form[f"{key}.name"].strip()
    ]
    if not logs:
        raise InputError(field="log", expected=visit.t("wear.a-log"), given=visit.t("wear.no-file"))
    model = form["model"]
    if model and model not in MODELS:
        names = visit.t("wear.one-of", names=", ".join(MODELS))
        raise InputError(field="model", expected=names, given=model)
    days = _number(visit, "ahead", visit.t("wear.field.ahead"), 1, MOST_DAYS)
    wraps = _number(visit, "dead_wraps", visit.t("wear.field.wraps"), 0, MOST_WRAPS)
    said = {name: form[name] for name in SAID}
    with _turn(visit), tools.read_logs(logs, said) as opened:
        return worn_rope(
            tools.book.dossier(rope_id), opened, tools.shelf, tools.today(),
            software=tools.software, model=cast(ModelName, model) if model else None,
            period_days=PERIOD_DAYS if days is None else days, dead_wraps=wraps,
        )  # fmt: skip


@contextmanager
def _turn(visit: Visit) -> Iterator[None]:
    """Wait until no other log is counted.

    Raises
    ------
    InputError
        If that takes too long, or too many wait already.
    """
    busy = InputError(visit.t("wear.busy"))
    if not _HERE.acquire(blocking=False):
        raise busy
    try:
        if not _COUNTING.acquire(timeout=WAIT_S):
            raise busy
        try:
            yield
        finally:
            _COUNTING.release()
    finally:
        _HERE.release()


def _number(visit: Visit, name: str, field: str, least: float, most: float) -> float | None:
    text = visit.form[name]
    words = with_point(text)
    if not words:
        return None
    try:
        value = float(words)
    except ValueError:
        value = float("nan")
    if not least <= value <= most:
        wanted = visit.t("wear.number", least=f"{least:g}", most=f"{most:g}")
        raise InputError(field=field, expected=wanted, given=text)
    return value
