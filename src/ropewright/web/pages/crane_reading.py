"""A reading at the crane typed on its page: tried on the set-up first, then a dated entry."""

from dataclasses import fields, replace
from datetime import date
from fractions import Fraction
from typing import Any, Final

from fastapi import APIRouter
from fastapi.responses import Response

from ropewright.errors import InputError
from ropewright.geometry import CranePosition
from ropewright.inspection import CalibrationReading, Dossier, ReadingsFit, hoist_on
from ropewright.units import exact_decimal
from ropewright.web.addresses import from_address, in_address
from ropewright.web.office import Here, Visit
from ropewright.web.pages.crane import last_set_up, show_crane
from ropewright.web.saying import say
from ropewright.web.typed import check_units
from ropewright.web.wording import said_by

router = APIRouter(include_in_schema=False)

#: Fields of a reading that hold a length.
LENGTHS: Final = ("hook", "radius", "boom", "taped", "taped_err")


@router.post("/cranes/{rope_id}/reading")
def add_reading(visit: Here, rope_id: str) -> Response:
    """Add what was typed to the set-up of today; what contradicts it is refused by name."""
    name, today = from_address(rope_id), visit.office.tools.today()
    kind = visit.form.get("c.kind", "")
    try:
        dossier = visit.office.tools.book.dossier(name)
        reading, tried = _tried(visit, dossier, today)
    except InputError as error:
        return show_crane(visit, name, 400, problem=_words(error), opened=kind)
    payload = last_set_up(visit, name, today)
    payload["readings"] = [*payload.get("readings", []), plain_reading(reading)]
    taken = say(visit, "rigging", name, payload, reading.on)
    if taken.state == "refused":
        return show_crane(visit, name, 400, problem=taken.reason, opened=kind)
    return visit.back_to(f"/cranes/{in_address(name)}", _said(visit, reading, tried))


def _tried(visit: Visit, dossier: Dossier, today: date) -> tuple[CalibrationReading, ReadingsFit]:
    """The reading as typed, and what it makes of the set-up.

    Raises
    ------
    InputError
        If a field cannot be read, the path is not known well enough, or the readings contradict.
    """
    rigging = dossier.rigging_at(today)
    if rigging is None:
        raise InputError(field="set-up", expected=visit.t("crane.heights-first"), given=None)
    typed = {key[2:]: text for key, text in visit.form.items() if key.startswith("c.")}
    check_units(typed, LENGTHS, visit.person.units)
    reading = visit.office.tools.typed_reading(
        typed, taken_names=[one.name for one in rigging.readings],
        valid_from=rigging.valid_from, fitted_on=dossier.installation.fitted_on,
    )  # fmt: skip
    if reading.on > today:
        wanted = visit.t("asked.day-not-to-come")
        raise InputError(field="on", expected=wanted, given=reading.on.isoformat())
    held = replace(rigging, readings=(*rigging.readings, reading))
    new = tuple(held if one is rigging else one for one in dossier.rigging)
    fit = hoist_on(replace(dossier, rigging=new), today).calibration
    if fit is None:
        raise InputError(field="set-up", expected=visit.t("crane.path-first"), given=None)
    return reading, fit


def _words(error: InputError) -> str:
    """What is wrong; that it is about the set-up the page says already."""
    return said_by(error).removeprefix("rigging.")


def _said(visit: Visit, reading: CalibrationReading, fit: ReadingsFit) -> str:
    left = next(one for one in fit.left if one.name == reading.name)
    return visit.t(
        "crane.reading-kept", name=reading.name, left=f"{left.residual_m:+.2f}",
        may=f"{left.err_m:.2f}",
    )  # fmt: skip


def plain_reading(reading: CalibrationReading) -> dict[str, Any]:
    """A reading as an entry of the book holds it: decimals as text, what is not said left out."""
    return {
        one.name: value
        for one in fields(reading)
        if (value := _plain(getattr(reading, one.name))) not in (None, "")
    }


def _plain(value: object) -> object:
    if isinstance(value, float):
        return exact_decimal(Fraction(repr(value)))
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, CranePosition):
        return {
            one.name: _plain(held)
            for one in fields(value)
            if (held := getattr(value, one.name)) is not None
        }
    return value
