"""The whole book, to take away: with its chain, with its photos, as tables, as dates."""

from fastapi import APIRouter
from fastapi.responses import Response

from ropewright.web.handing import book_name, send, send_large
from ropewright.web.office import Here
from ropewright.web.pages.people import every_date

router = APIRouter(include_in_schema=False)


@router.get("/exchange/book.jsonl")
def book_out(visit: Here) -> Response:
    """The whole book with its chain."""
    write = visit.office.tools.hands_out.book_lines
    return send_large(visit, book_name(visit, "", "jsonl"), write)


@router.get("/exchange/book.zip")
def archive_out(visit: Here) -> Response:
    """The same with photos and signed reports, read back before it is sent."""
    write = visit.office.tools.hands_out.archive
    return send_large(visit, book_name(visit, "", "zip"), write)


@router.get("/exchange/{what}.csv")
def table_out(visit: Here, what: str) -> Response:
    """Findings, readings or inspections of all ropes."""
    tools = visit.office.tools
    return send_large(
        visit, book_name(visit, what, "csv"), lambda file: tools.hands_out.table_csv(what, file)
    )


@router.get("/exchange/tables.xlsx")
def workbook_out(visit: Here) -> Response:
    """The three tables of all ropes as one workbook."""
    tools = visit.office.tools
    invented = visit.office.any_invented()
    return send_large(
        visit, book_name(visit, "tables", "xlsx"),
        lambda file: tools.write_workbook(
            file, tools.hands_out.columns(), tools.hands_out.rows(),
            note=visit.t("documents.note-invented") if invented else "",
        ),
    )  # fmt: skip


@router.get("/exchange/due.ics")
def calendar_out(visit: Here) -> Response:
    """What is due on all ropes, as of today; the calendar of a token keeps itself up to date."""
    data, _ = visit.office.tools.hands_out.calendar((), every_date(visit))
    return send(book_name(visit, "due", "ics"), data)


@router.get("/exchange/verify_book.py")
def checker_out(visit: Here) -> Response:
    """The single file that checks an export without this server."""
    return send("verify_book.py", visit.office.tools.hands_out.checker())
