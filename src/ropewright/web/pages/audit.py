"""The logbook as a whole: does it hold, what came last, what goes in and out."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response, StreamingResponse

from ropewright.errors import InputError, InputErrors, RopewrightError
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


@router.get("/exchange")
def exchange_page(visit: Here) -> HTMLResponse:
    """What goes in and out."""
    return _exchange(visit)


def _exchange(visit: Visit, status: int = 200, **values: object) -> HTMLResponse:
    shown: dict[str, object] = {"problems": [], "lines": [], "name": "", **values}
    return visit.page(
        "exchange.html", status, may_take=visit.may("POST /exchange/case"), form=visit.form,
        **shown,
    )  # fmt: skip


@router.get("/exchange/book.jsonl")
def book_out(visit: Here) -> StreamingResponse:
    """The whole book with its chain."""
    lines = visit.office.tools.book.export()
    return StreamingResponse(
        (f"{line}\n" for line in lines), media_type="application/jsonl",
        headers={"content-disposition": "attachment; filename=book.jsonl"},
    )  # fmt: skip


@router.get("/exchange/findings.csv")
def findings_out(visit: Here) -> Response:
    """All findings as a table."""
    return Response(
        visit.office.tools.book.findings_csv(), media_type="text/csv; charset=utf-8",
        headers={"content-disposition": "attachment; filename=findings.csv"},
    )  # fmt: skip


@router.post("/exchange/case")
def case_in(visit: Here) -> HTMLResponse:
    """Take a case file in, as a whole or not at all, with an account line by line."""
    tools = visit.office.tools
    data = visit.files.get("file", b"")
    name = visit.form.get("file.name", "") or "case file"
    try:
        if not data:
            raise InputError(field="file", expected="a case file (.toml)", given="nothing")
        case = tools.read_case(data, file=name, known_rules=tools.shelf.names())
        lines = tools.book.take_in(
            case.dossier, correct=visit.form.get("correct", "").strip() or None
        )
    except InputErrors as errors:
        return _exchange(visit, 400, problems=[str(one) for one in errors.errors], name=name)
    except RopewrightError as error:
        return _exchange(visit, error.http_status, problems=[said_by(error)], name=name)
    return _exchange(visit, lines=lines, name=name, problems=list(case.warnings))
