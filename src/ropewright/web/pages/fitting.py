"""Fitting a new rope, step by step, with the cautions where they count."""

from collections.abc import Mapping
from typing import Any, Final

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response

from ropewright.desk.installing_steps import FITTING_STEPS, RELEASE
from ropewright.errors import InputError
from ropewright.units import exact_decimal, parse_length
from ropewright.web.addresses import from_address, rope_path
from ropewright.web.office import Here, Visit
from ropewright.web.saying import me, say_all, words_in
from ropewright.web.typed import read_metres
from ropewright.web.wording import said_by

router = APIRouter(include_in_schema=False)

REFERENCE: Final = "reference"
PLACES: Final = (1, 2, 3)
_STEPS: Final = {one.key: one for one in FITTING_STEPS}


@router.get("/ropes/{rope_id}/fitting")
def fitting_page(visit: Here, rope_id: str) -> HTMLResponse:
    """What is done, what comes next."""
    return _show(visit, from_address(rope_id))


def _show(visit: Visit, rope_id: str, status: int = 200, *, problem: str = "") -> HTMLResponse:
    tools = visit.office.tools
    return visit.page(
        "fitting.html", status, rope_id=rope_id, path_back=rope_path(rope_id),
        guide=tools.book.fitting(rope_id), d=tools.book.dossier(rope_id), problem=problem,
        form=visit.form, may=visit.may("POST /ropes/{rope_id}/fitting"), reference=REFERENCE,
        release=RELEASE, places=PLACES,
    )  # fmt: skip


@router.post("/ropes/{rope_id}/fitting")
def fitting_step(visit: Here, rope_id: str) -> Response:
    """Begin to fit a rope, or say that a step is done or not right."""
    tools, name = visit.office.tools, from_address(rope_id)
    today = tools.today()
    guide = tools.book.fitting(name)
    is_open = guide.said.begun_on is not None and guide.said.released_on is None
    step = visit.form.get("step", "")
    said: list[tuple[str, Mapping[str, Any]]]
    try:
        if step == "begin":
            if is_open:
                raise InputError("a fitting of this rope is open already", field="step")
            held = {
                "hold_id": f"fitting {today.isoformat()}", "on": today.isoformat(),
                "reason": "new rope, not released yet",
            }  # fmt: skip
            said = [
                ("hold", held),
                ("fitting step", {"step": "begin", "by": me(visit), "done": True}),
            ]
        elif not is_open:
            raise InputError("begin the fitting first", field="step")
        elif step == REFERENCE:
            said = [("reference measurement", _reference(visit))]
        elif step in _STEPS and step != RELEASE:
            said = [("fitting step", _step(visit, step))]
        else:
            raise InputError(field="step", expected=", ".join(_STEPS), given=step)
    except InputError as error:
        return _show(visit, name, 400, problem=said_by(error))
    refused = [one.reason for one in say_all(visit, name, said, today) if one.state == "refused"]
    if refused:
        return _show(visit, name, 400, problem="; ".join(refused))
    return visit.back_to(rope_path(name, "fitting"), "Kept.")


def _step(visit: Visit, step: str) -> dict[str, Any]:
    done = visit.form.get("done") == "yes"
    values = {name: visit.form.get(f"value.{name}", "").strip() for name, _ in _STEPS[step].records}
    missing = [name for name, text in values.items() if not text]
    if done and missing:
        raise InputError(field=missing[0], expected="what was found", given="nothing")
    payload: dict[str, Any] = {"step": step, "by": me(visit), "done": done}
    payload["values"] = {name: text for name, text in values.items() if text}
    remark = visit.form.get("remark", "").strip()
    if not done:
        remark = words_in(visit, "remark", "what is not right")
    return {**payload, "remark": remark}


def _reference(visit: Visit) -> dict[str, Any]:
    """The reference diameter at three places, two readings at right angles each."""
    readings = []
    for number in PLACES:
        at_m = read_metres(words_in(visit, f"at{number}", "a rope position"), f"place {number}")
        both = [
            exact_decimal(_millimetres(visit.form.get(f"{way}{number}", ""), f"place {number}"))
            for way in ("one", "other")
        ]
        readings.append(
            {
                "finding_id": f"reference {number}", "place": {"at_m": f"{at_m:g}"},
                "method": "gauge", "readings_mm": both,
            }
        )  # fmt: skip
    return {
        "on": visit.office.tools.today().isoformat(), "readings": readings,
        "tension": words_in(visit, "tension", "under what tension it was measured"),
    }  # fmt: skip


def _millimetres(text: str, field: str) -> Any:  # noqa: ANN401 - an exact number
    words = text.strip().replace(",", ".")
    if words.replace(".", "", 1).isdigit():
        words += " mm"
    try:
        return parse_length(words)
    except InputError as error:
        raise error.within(field) from None
