"""How far an inspection has come while phones send what was seen."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from fastapi import APIRouter
from fastapi.responses import HTMLResponse

from ropewright.desk.open_book import Line
from ropewright.desk.planned import plan_for
from ropewright.desk.progress import Progress, progress_of
from ropewright.errors import RopewrightError, UnknownNameError
from ropewright.web.addresses import from_address, rope_path
from ropewright.web.office import Here, Visit
from ropewright.web.wording import said_by

router = APIRouter(include_in_schema=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sender:
    """Who has sent something of an inspection: how much, and when the last of it arrived."""

    person: str
    entries: int
    last_at: datetime


def senders(lines: Sequence[Line], inspection_id: str) -> tuple[Sender, ...]:
    """Everybody who sent entries of an inspection, the latest first.

    Parameters
    ----------
    lines
        Entries of the rope.
    inspection_id
        The inspection.
    """
    found: dict[str, Sender] = {}
    for line in lines:
        if line.payload.get("inspection_id") != inspection_id:
            continue
        for person, _ in line.by[:1]:
            before = found.get(person)
            found[person] = Sender(
                person=person,
                entries=1 if before is None else before.entries + 1,
                last_at=line.arrived_at if before is None else max(before.last_at, line.arrived_at),
            )
    return tuple(sorted(found.values(), key=lambda one: one.last_at, reverse=True))


def told_progress(visit: Visit, rope_id: str, inspection_id: str) -> str:
    """The part of an inspection's page that says how far it has come."""
    tools = visit.office.tools
    dossier = tools.book.dossier(rope_id)
    stand = tools.book.stand(rope_id).sequence
    known = {one.inspection_id: one for one in dossier.inspections}
    if inspection_id not in known:
        raise UnknownNameError(what="an inspection of this rope", given=inspection_id, known=known)
    one = known[inspection_id]
    done: Progress | None = None
    missing = ""
    try:
        plan, _ = plan_for(dossier, tools.shelf, tools.today(), software=tools.software)
        done = progress_of(plan, one)
    except RopewrightError as error:
        missing = said_by(error)
    made: str = visit.office.pages.get_template("inspection_progress.html").render(
        done=done, missing=missing, stand=stand, caller=visit.person, names=tools.book.names(),
        senders=senders(tools.book.lines(rope_id, most=5000), inspection_id),
        path_plan=f"{rope_path(rope_id)}/places",
    )  # fmt: skip
    return made


@router.get("/ropes/{rope_id}/inspections/{inspection_id}/progress")
def progress_part(visit: Here, rope_id: str, inspection_id: str) -> HTMLResponse:
    """What the page of an unfinished inspection asks for again while it is open."""
    return HTMLResponse(told_progress(visit, from_address(rope_id), from_address(inspection_id)))
