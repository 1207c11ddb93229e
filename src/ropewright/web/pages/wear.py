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
from ropewright.web.views.wear import wear_view
from ropewright.web.wording import said_by

router = APIRouter(include_in_schema=False)

#: Columns of a log: key in the form, words, what a heading and its unit may look like.
COLUMNS: Final = (
    ("time", "Moment", "Stamp", "s, ms; none for dates"),
    ("hook", "Hook height", "Height", "m"),
    ("radius", "Radius", "Radius", "m"),
    ("jib", "Jib angle", "Jib", "deg"),
    ("boom", "Boom length", "Boom", "m"),
    ("boom_angle", "Boom angle", "Angle", "deg"),
    ("load", "Load", "Load", "t"),
    ("drum_turns", "Drum turns from the clamp", "Turns", ""),
    ("falls", "Falls", "Falls", ""),
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
    return visit.page(
        "wear.html", status, rope_id=rope_id, path_back=rope_path(rope_id), d=dossier,
        view=None if worn is None else wear_view(worn), charts=charts, problem=problem,
        form=visit.form, may=visit.may("POST /ropes/{rope_id}/wear"), columns=COLUMNS,
        models=MODELS, usual_days=f"{PERIOD_DAYS:g}", most_mb=MOST_LOG_BYTES // 10**6,
        opened=problem and any(visit.form[name].strip() for name in SAID if name != "block"),
    )  # fmt: skip


def _charts(visit: Visit, dossier: Dossier, worn: Worn) -> list[tuple[str, str]]:
    draw = visit.office.tools.wear_chart
    return [
        (kind, draw(dossier, worn.found, worn.advice, width_px=width)) for kind, width in WIDTHS
    ]


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
        raise InputError(field="log", expected="a duty log or a list of lifts", given="no file")
    model = form["model"]
    if model and model not in MODELS:
        raise InputError(field="model", expected=f"one of {', '.join(MODELS)}", given=model)
    days = _number(form["ahead"], "days ahead", 1, MOST_DAYS)
    wraps = _number(form["dead_wraps"], "wraps that must stay", 0, MOST_WRAPS)
    said = {name: form[name] for name in SAID}
    with _turn(), tools.read_logs(logs, said) as opened:
        return worn_rope(
            tools.book.dossier(rope_id), opened, tools.shelf, tools.today(),
            software=tools.software, model=cast(ModelName, model) if model else None,
            period_days=PERIOD_DAYS if days is None else days, dead_wraps=wraps,
        )  # fmt: skip


@contextmanager
def _turn() -> Iterator[None]:
    """Wait until no other log is counted.

    Raises
    ------
    InputError
        If that takes too long, or too many wait already.
    """
    busy = InputError("other logs are being counted: try again in a minute")
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


def _number(text: str, field: str, least: float, most: float) -> float | None:
    words = with_point(text)
    if not words:
        return None
    try:
        value = float(words)
    except ValueError:
        value = float("nan")
    if not least <= value <= most:
        raise InputError(field=field, expected=f"a number from {least:g} to {most:g}", given=text)
    return value
