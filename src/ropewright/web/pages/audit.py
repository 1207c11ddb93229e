"""The logbook as a whole: does it hold, what came last."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse

from ropewright.errors import InputError
from ropewright.web.addresses import rope_path
from ropewright.web.office import Here, Visit
from ropewright.web.views.entries import told
from ropewright.web.wording import said_by

router = APIRouter(include_in_schema=False)


@router.get("/audit")
def audit_page(visit: Here) -> HTMLResponse:
    """The newest entries, and the seal of the book."""
    return _show(visit)


def _show(visit: Visit, status: int = 200, **values: object) -> HTMLResponse:
    book = visit.office.tools.book
    names = book.names()
    shown: dict[str, object] = {"check": None, "problem": "", **values}
    return visit.page(
        "audit.html", status, seal=book.seal(), newest=book.newest(), book_id=book.book_id,
        told=[told(one, names) for one in book.lines(most=60)], rope_path=rope_path,
        may_move=visit.may("GET /exchange"), form=visit.form,
        invented=any(one.record.get("invented") for one in book.stands()), **shown,
    )  # fmt: skip


@router.post("/audit")
def check(visit: Here) -> HTMLResponse:
    """Verify the whole book, also against an earlier seal."""
    seals = [one.strip() for one in visit.form.get("seals", "").splitlines() if one.strip()]
    try:
        found = visit.office.tools.book.check(seals)
    except InputError as error:
        return _show(visit, 400, problem=said_by(error))
    return _show(visit, check=found)
