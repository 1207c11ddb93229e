"""Fitting a new rope, step by step, with the cautions where they count."""

from collections.abc import Mapping
from fractions import Fraction
from typing import Any, Final, TypeAlias

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response

from ropewright.desk.installing_steps import FITTING_STEPS, RELEASE
from ropewright.errors import InputError
from ropewright.units import exact_decimal
from ropewright.web.addresses import from_address, in_address, rope_path
from ropewright.web.corrected import contents_of
from ropewright.web.gate import KINDS, role_among
from ropewright.web.office import Here, Visit
from ropewright.web.saying import me, say_all, words_in
from ropewright.web.typed import read_length, read_metres
from ropewright.web.views.fitting import orders_known, progress_of
from ropewright.web.wording import said_by

router = APIRouter(include_in_schema=False)

REFERENCE: Final = "reference"
#: Places of the reference measurement on the form: so many must be filled in, the others may be.
PLACES: Final = (1, 2, 3, 4, 5)
NEEDED: Final = 3
_STEPS: Final = {one.key: one for one in FITTING_STEPS}

Said: TypeAlias = list[tuple[str, Mapping[str, Any]]]


@router.get("/ropes/{rope_id}/fitting")
def fitting_page(visit: Here, rope_id: str) -> HTMLResponse:
    """What is done, what comes next."""
    return _show(visit, from_address(rope_id))


def _show(visit: Visit, rope_id: str, status: int = 200, *, problem: str = "") -> HTMLResponse:
    book = visit.office.tools.book
    guide = book.fitting(rope_id)
    far = progress_of(guide)
    return visit.page(
        "fitting.html", status, rope_id=rope_id, path_back=rope_path(rope_id), guide=guide, far=far,
        d=book.dossier(rope_id), problem=problem, form=visit.form, reference=REFERENCE,
        release=RELEASE, places=PLACES, needed=NEEDED,
        orders=() if far.is_open else orders_known(book.stands()),
        wanted=visit.request.query_params.get("order", ""),
        may=visit.may("POST /ropes/{rope_id}/fitting"),
        may_release=visit.may("POST /ropes/{rope_id}/release"),
    )  # fmt: skip


@router.post("/ropes/{rope_id}/fitting")
def fitting_step(visit: Here, rope_id: str) -> Response:
    """Begin to fit a rope, or say that a step is done or not right."""
    name = from_address(rope_id)
    try:
        said = _said(visit, name)
        _check_roles(visit, said)
    except InputError as error:
        return _show(visit, name, 400, problem=said_by(error))
    taken = say_all(visit, name, said, visit.office.tools.today())
    refused = [one.reason for one in taken if one.state == "refused"]
    if refused:
        return _show(visit, name, 400, problem="; ".join(refused))
    nearest = progress_of(visit.office.tools.book.fitting(name)).next_key
    return visit.back_to(
        f"{rope_path(name, 'fitting')}#{in_address(nearest)}", visit.t("said.kept")
    )


def _said(visit: Visit, rope_id: str) -> Said:
    """The entries that a form asks for."""
    is_open = progress_of(visit.office.tools.book.fitting(rope_id)).is_open
    step = visit.form["step"]
    if step == "begin":
        if is_open:
            raise InputError(visit.t("fitting.open-already"), field="step")
        return _begun(visit)
    if not is_open:
        raise InputError(visit.t("fitting.begin-first"), field="step")
    if step == REFERENCE:
        return _reference(visit, rope_id)
    if step in _STEPS and step != RELEASE:
        return [("fitting step", _step(visit, step))]
    raise InputError(field="step", expected=", ".join(_STEPS), given=step)


def _check_roles(visit: Visit, said: Said) -> None:
    """Each entry has to be one that the person may say."""
    for kind, _ in said:
        if not role_among(visit.person.roles, KINDS[kind]):
            names = ", ".join(sorted(KINDS[kind]))
            raise InputError(visit.t("fitting.is-for", kind=kind, roles=names), field="role")


def _begun(visit: Visit) -> Said:
    today = visit.office.tools.today()
    begun: dict[str, Any] = {"step": "begin", "by": me(visit), "done": True}
    chosen = visit.form["order"]
    if chosen:
        orders = {one.key: one for one in orders_known(visit.office.tools.book.stands())}
        if chosen not in orders:
            raise InputError(field="order", expected=visit.t("fitting.an-order"), given=chosen)
        begun |= {"order_of": orders[chosen].rope_id, "order_id": orders[chosen].order_id}
    held = {
        "hold_id": f"fitting {today.isoformat()}", "on": today.isoformat(),
        "reason": "new rope, not released yet",
    }  # fmt: skip
    return [("hold", held), ("fitting step", begun)]


def _step(visit: Visit, step: str) -> dict[str, Any]:
    done = visit.form["done"] == "yes"
    values = {name: visit.form[f"value.{name}"].strip() for name, _ in _STEPS[step].records}
    missing = [name for name, text in values.items() if not text]
    if done and missing:
        raise InputError(
            field=missing[0], expected=visit.t("fitting.what-found"), given=visit.t("asked.nothing")
        )
    payload: dict[str, Any] = {"step": step, "by": me(visit), "done": done}
    payload["values"] = {name: text for name, text in values.items() if text}
    remark = visit.form["remark"].strip()
    if not done:
        remark = words_in(visit, "remark", visit.t("fitting.what-not-right"))
    return {**payload, "remark": remark}


def _reference(visit: Visit, rope_id: str) -> Said:
    """The reference diameter, two readings at right angles at each place; the lay length."""
    readings, units = [], visit.person.units
    for number in PLACES:
        texts = [visit.form[f"{way}{number}"].strip() for way in ("at", "one", "other")]
        if number > NEEDED and not any(texts):
            continue
        field = visit.t("fitting.place-field", n=number)
        if not all(texts):
            raise InputError(
                field=field, expected=visit.t("fitting.place-wants"),
                given=", ".join(text for text in texts if text) or visit.t("asked.nothing"),
            )  # fmt: skip
        readings.append(
            {
                "finding_id": f"reference {number}",
                "place": {"at_m": f"{read_metres(texts[0], field, units=units):g}"},
                "method": "gauge",
                "readings_mm": [
                    exact_decimal(read_length(one, field, "mm", units=units)) for one in texts[1:]
                ],
                "instrument": visit.form["instrument"].strip() or None,
            }
        )  # fmt: skip
    measured = {
        "on": visit.office.tools.today().isoformat(),
        "readings": [{k: v for k, v in one.items() if v is not None} for one in readings],
        "tension": words_in(visit, "tension", visit.t("fitting.which-tension")),
    }
    said: Said = [("reference measurement", measured)]
    if visit.form["lay"].strip():
        lay_mm = read_length(visit.form["lay"], "lay", "mm", units=units)
        said.append(("rope", _with_lay(visit, rope_id, lay_mm)))
    return said


def _with_lay(visit: Visit, rope_id: str, lay_mm: Fraction) -> dict[str, Any]:
    """The rope as the book has it, with its lay length."""
    stated = contents_of(visit.office.tools.book, rope_id, "rope")
    if not stated:
        raise InputError(field="lay", expected=visit.t("fitting.rope-known"), given=rope_id)
    rope = {**stated[-1]["rope"], "lay_length_mm": exact_decimal(lay_mm)}
    return {**stated[-1], "rope": rope}
