"""The routes of the API."""

import hashlib
import uuid
from typing import Annotated, Any, Final

from fastapi import APIRouter, File, Form, HTTPException, UploadFile
from fastapi.responses import JSONResponse, Response

from ropewright.desk.judging import record_of
from ropewright.errors import InputError
from ropewright.web.addresses import from_address
from ropewright.web.api.card_photos import with_photos
from ropewright.web.api.entries import moment_of, take_entries
from ropewright.web.api.models import (
    EntriesIn,
    EntriesOut,
    Me,
    PhotoOut,
    Problem,
    ResultOut,
    RopeShort,
)
from ropewright.web.gate import KINDS, role_among
from ropewright.web.glances import Glance
from ropewright.web.office import Here, Visit
from ropewright.web.views.handover import open_words
from ropewright.web.wording import said_by

_FAILS: Final[dict[int | str, dict[str, Any]]] = {
    400: {"model": Problem, "description": "cannot be read"},
    401: {"model": Problem, "description": "log in first"},
    403: {"model": Problem, "description": "not for this role, or not from this site"},
    404: {"model": Problem, "description": "no such name"},
    409: {"model": Problem, "description": "contradicts what stands there"},
    413: {"model": Problem, "description": "too large"},
    422: {"model": Problem, "description": "not formed as asked"},
}

router = APIRouter(responses=_FAILS)


@router.get("/api/openapi.json", include_in_schema=False)
def openapi(visit: Here) -> JSONResponse:
    """The description of this API."""
    return JSONResponse(visit.request.app.openapi())


@router.get("/api/texts/en.json", include_in_schema=False)
def texts(visit: Here) -> JSONResponse:
    """Words of the field app, with those it shares with the pages."""
    return JSONResponse(dict(visit.office.field_texts), headers={"cache-control": "no-cache"})


@router.get("/health", include_in_schema=False)
def health() -> JSONResponse:
    """Whether the server answers; says nothing of the book."""
    return JSONResponse({"answers": True})


@router.get("/api/v1/me")
def me(visit: Here) -> Me:
    """Who is logged in, and how they like to see things."""
    who = visit.person
    return Me(
        person_id=who.person_id, name=who.name, roles=list(who.roles), units=who.units,
        hand=who.hand, theme=who.theme, single_user=who.single_user,
    )  # fmt: skip


@router.get("/api/v1/ropes")
def ropes(visit: Here) -> list[RopeShort]:
    """Every rope of the book with where it stands today."""
    office = visit.office
    return [_short(office.judged.glance(stand)) for stand in office.tools.book.stands()]


def _short(one: Glance) -> RopeShort:
    return RopeShort(
        rope_id=one.rope_id, crane=one.crane, hoist=one.hoist, verdict=one.level,
        on_hold=one.on_hold, open_marks=one.marks,
        last_inspection=None if one.last_on is None else one.last_on.isoformat(),
    )  # fmt: skip


@router.get("/api/v1/ropes/{rope_id}/card")
def card(visit: Here, rope_id: str) -> dict[str, Any]:
    """The field card of a rope: all a phone needs without a signal."""
    tools = visit.office.tools
    name = from_address(rope_id)
    stand = tools.book.stand(name)
    if tools.field_card is None:
        raise HTTPException(404, "this server makes no field cards")
    head = tools.book.rope_head(name)
    told = open_words(stand, visit.office.judged.glance(stand), visit.office.texts)
    made = dict(tools.field_card(tools.book.dossier(name), head, tools.now(), told))
    return with_photos(made, tools.book.lines(name, kinds=("photo",)))


@router.post("/api/v1/entries")
def entries(visit: Here, body: EntriesIn) -> EntriesOut:
    """Take in what a device recorded.  The same again is harmless; nothing is ever lost."""
    tools = visit.office.tools
    now = tools.now()
    sent = moment_of(body.device.sent_at, "device.sent_at")
    off_s = round((sent - now).total_seconds())
    results = take_entries(tools, visit.person, body.entries, off_s)
    return EntriesOut(
        received_at=now,
        clock_offset_s=off_s,
        results=[
            ResultOut(
                id=one.entry_id, state=one.state, reason=one.reason or None,
                field=one.field or None,
            )
            for one in results
        ],
    )  # fmt: skip


@router.post("/api/v1/photos")
def add_photo(
    visit: Here, entry_id: Annotated[str, Form()], file: Annotated[UploadFile, File()]
) -> PhotoOut:
    """Keep a photo that belongs to an entry; the same again is harmless."""
    book = visit.office.tools.book
    line = book.line(entry_id)
    if line is None or not line.rope_id:
        raise HTTPException(409, "the entry it belongs to is not in the book yet: send it first")
    what = line.payload.get("what", {})
    finding = what.get("finding_id", "") if isinstance(what, dict) else ""
    return PhotoOut(sha256=_keep_photo(visit, file.file.read(), line.rope_id, finding, entry_id))


def _keep_photo(visit: Visit, data: bytes, rope_id: str, finding: str, entry_id: str) -> str:
    book, person = visit.office.tools.book, visit.person
    line = book.line(entry_id)
    inspection = "" if line is None else str(line.payload.get("inspection_id", ""))
    name = uuid.uuid5(uuid.UUID(entry_id), hashlib.sha256(data).hexdigest())
    return book.add_photo(
        data, rope_id=rope_id, finding_id=finding, inspection_id=inspection,
        entry_id=str(name), person=person.person_id,
        role=role_among(person.roles, KINDS["photo"]),
    )  # fmt: skip


@router.get("/api/v1/photos/{sha256}")
def photo(visit: Here, sha256: str) -> Response:
    """The copy of a photo without its location."""
    try:
        data = visit.office.tools.book.photo(sha256)
    except InputError as error:
        raise HTTPException(404, said_by(error)) from error
    return Response(
        data, media_type="image/jpeg", headers={"cache-control": "private, max-age=86400"}
    )


@router.get("/api/v1/ropes/{rope_id}/report.json")
def report(visit: Here, rope_id: str) -> Response:
    """The record that goes with a report: dossier, rulings and verdict of today."""
    tools, name = visit.office.tools, from_address(rope_id)
    whole = visit.office.judged.overview(name)
    data = record_of(
        whole.dossier, whole.assessment, case_file=f"logbook, rope {name}",
        case_hash=tools.book.rope_head(name),
    )  # fmt: skip
    return Response(data, media_type="application/json")
