"""What of one rope can be taken away: its card, field card, case file, tables, dates."""

from collections.abc import Sequence
from datetime import date

from fastapi import APIRouter, HTTPException
from fastapi.responses import Response

from ropewright.desk.open_book import Line, Stand
from ropewright.desk.overview import Overview
from ropewright.errors import RopewrightError, StoreError
from ropewright.inspection import Dossier
from ropewright.web.addresses import from_address
from ropewright.web.handing import file_name, send, send_made
from ropewright.web.office import Here, Visit
from ropewright.web.views.documents import READ, Documents, documents_of
from ropewright.web.views.handover import open_words

router = APIRouter(include_in_schema=False)

_MOST_LINES = 5000


def papers(visit: Visit, dossier: Dossier, stand: Stand, photos: Sequence[Line]) -> Documents:
    """Everything on paper that the book has of a rope.

    Parameters
    ----------
    visit
        Whose visit it is.
    dossier
        Everything known of the rope.
    stand
        Where it stands.
    photos
        Entries of its photos.
    """
    book, rope_id = visit.office.tools.book, stand.rope_id
    fitted = book.lines(rope_id, kinds={"fitting step"}, most=1)
    return documents_of(
        dossier,
        book.lines(rope_id, kinds=READ, newest_first=False, most=_MOST_LINES),
        photos,
        book.fitting(rope_id) if fitted else None,
        book.names(),
        visit.office.texts,
    )


def papers_if_any(visit: Visit, stand: Stand) -> Documents | None:
    """The same of a rope that cannot be judged; none if the book does not say enough of it."""
    book = visit.office.tools.book
    try:
        dossier = book.dossier(stand.rope_id)
        return papers(visit, dossier, stand, book.lines(stand.rope_id, kinds={"photo"}, most=5000))
    except StoreError:
        raise
    except RopewrightError:
        return None


@router.get("/ropes/{rope_id}/rope-card.pdf")
def rope_card(visit: Here, rope_id: str) -> Response:
    """The life of the rope on one page."""
    tools, name = visit.office.tools, from_address(rope_id)
    tools.book.stand(name)
    life = tools.hands_out.life(name, tools.today())
    return send(file_name(visit, name, "rope-card", "pdf"), tools.rope_card_pdf(life))


@router.get("/ropes/{rope_id}/field-card.pdf")
def field_card(visit: Here, rope_id: str) -> Response:
    """The field card on one page, to print at full size."""
    tools, name = visit.office.tools, from_address(rope_id)
    stand = tools.book.stand(name)
    told = open_words(stand, visit.office.judged.glance(stand), visit.office.texts)
    data = tools.field_card_pdf(
        tools.book.dossier(name), tools.book.rope_head(name), tools.now(), told
    )
    return send(file_name(visit, name, "field-card", "pdf"), data)


@router.get("/ropes/{rope_id}/case.toml")
def case_file(visit: Here, rope_id: str) -> Response:
    """The rope as a case file that reads back as the same rope."""
    tools, name = visit.office.tools, from_address(rope_id)
    tools.book.stand(name)
    dossier = tools.book.dossier(name)
    heading = visit.t("documents.case-heading")
    if dossier.invented:
        heading += " " + visit.t("documents.case-invented")
    text = tools.write_case(dossier, heading=heading)
    return send(file_name(visit, name, "case", "toml"), text.encode())


@router.get("/ropes/{rope_id}/tables/{what}.csv")
def table(visit: Here, rope_id: str, what: str) -> Response:
    """Findings, readings or inspections of the rope."""
    tools, name = visit.office.tools, from_address(rope_id)
    tools.book.stand(name)
    return send_made(
        file_name(visit, name, what, "csv"),
        lambda file: tools.hands_out.table_csv(what, file, [name]),
    )  # fmt: skip


@router.get("/ropes/{rope_id}/tables.xlsx")
def tables(visit: Here, rope_id: str) -> Response:
    """The same tables as one workbook."""
    tools, name = visit.office.tools, from_address(rope_id)
    record = tools.book.stand(name).record
    return send_made(
        file_name(visit, name, "tables", "xlsx"),
        lambda file: tools.write_workbook(
            file, tools.hands_out.columns(), tools.hands_out.rows([name]),
            note=visit.t("documents.note-invented") if record.get("invented") else "",
        ),
    )  # fmt: skip


@router.get("/ropes/{rope_id}/due.ics")
def due(visit: Here, rope_id: str) -> Response:
    """What is due for the rope, as a calendar."""
    office, name = visit.office, from_address(rope_id)
    stand = office.tools.book.stand(name)
    dates: list[tuple[str, date, str]] = []
    if stand.record.get("state") != "taken off":
        try:
            dates = dates_of(visit, office.judged.overview(name, stand))
        except RopewrightError:
            dates = []  # it cannot be judged: the dates that people stated are there still
    data, count = office.tools.hands_out.calendar([name], dates)
    if not count:
        raise HTTPException(404, visit.t("documents.nothing-due"))
    return send(file_name(visit, name, "due", "ics"), data)


def dates_of(visit: Visit, whole: Overview) -> list[tuple[str, date, str]]:
    """Every dated duty of a rope, and the day by which a new one is ordered: id, day, words."""
    rope_id = whole.dossier.rope.rope_id
    note = visit.t("calendar.invented") if whole.dossier.invented else ""
    found = [
        (
            f"duty/{rope_id}/{one.rule_set}/{one.duty_id}",
            one.due,
            visit.t("calendar.rope", rope=rope_id, what=f"{one.title} ({one.rule})") + note,
        )
        for one in whole.duties.duties
        if one.due is not None
    ]
    if whole.order_by is not None:
        words = visit.t("calendar.rope", rope=rope_id, what=visit.t("calendar.order"))
        found.append((f"order-by/{rope_id}", whole.order_by, words + note))
    return found
