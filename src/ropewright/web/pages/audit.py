"""The logbook as a whole: does it hold, what came last."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse

from ropewright.errors import InputError
from ropewright.web.addresses import rope_path
from ropewright.web.office import Here, Visit
from ropewright.web.views.history import Sought, entries_of, read_sought
from ropewright.web.wording import said_by

router = APIRouter(include_in_schema=False)


@router.get("/audit")
def audit_page(
    visit: Here, kind: str = "", since: str = "", until: str = "", before: str = ""
) -> HTMLResponse:
    """The newest entries, and the seal of the book."""
    return _show(visit, read_sought(kind, since, until, before))


def _show(visit: Visit, sought: Sought, status: int = 200, **values: object) -> HTMLResponse:
    book = visit.office.tools.book
    shown: dict[str, object] = {"check": None, "problem": "", **values}
    newest = book.newest()
    return visit.page_around(
        "audit.html", _entries(visit, newest, sought), status,
        seal=book.seal(), newest=newest, book_id=book.book_id,
        may_move=visit.may("GET /exchange"), form=visit.form,
        invented=visit.office.any_invented(), **shown,
    )  # fmt: skip


def _entries(visit: Visit, newest: int, sought: Sought) -> bytes:
    """The entries as a piece of the page; whatever is new of anything is another newest entry."""
    office = visit.office
    key = (None, visit.person.units, sought), newest
    main = office.entries.get(*key)
    if main is None:
        shown = entries_of(office.tools.book, None, sought, office.texts)
        made = visit.middle("audit_entries.html", shown=shown, rope_path=rope_path)
        main = office.entries.put(*key, made)
    return main


@router.post("/audit")
def check(visit: Here) -> HTMLResponse:
    """Verify the whole book, also against an earlier seal."""
    seals = [one.strip() for one in visit.form.get("seals", "").splitlines() if one.strip()]
    try:
        found = visit.office.tools.book.check(seals)
    except InputError as error:
        return _show(visit, Sought(), 400, problem=said_by(error))
    return _show(visit, Sought(), check=found)
