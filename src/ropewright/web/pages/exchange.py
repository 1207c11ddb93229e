"""What goes into the book: case files, whole books, old cards; `taking_out` is the way out."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from fastapi import APIRouter
from fastapi.responses import HTMLResponse

from ropewright.errors import InputError, InputErrors, RopewrightError
from ropewright.web.handing import book_name
from ropewright.web.office import Here, Visit
from ropewright.web.wording import said_by

router = APIRouter(include_in_schema=False)

MOST_PROBLEMS: Final = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Account:
    """What became of a file: its lines, words about the whole, what to look at again."""

    lines: Sequence[str]
    notes: Sequence[str] = ()
    problems: Sequence[str] = ()


@router.get("/exchange")
def exchange_page(visit: Here) -> HTMLResponse:
    """What goes in and out."""
    return _exchange(visit)


def _exchange(visit: Visit, status: int = 200, **values: object) -> HTMLResponse:
    shown: dict[str, object] = {"problems": [], "lines": [], "name": "", "notes": [], **values}
    with_photos = visit.may("GET /exchange/book.zip")
    return visit.page(
        "exchange.html", status, may_take=visit.may("POST /exchange/case"), form=visit.form,
        may_cards=visit.may("POST /exchange/cards"), may_book=visit.may("POST /exchange/book"),
        ropes=[one.rope_id for one in visit.office.tools.book.stands()],
        invented=visit.office.any_invented(),
        seal=visit.office.tools.book.seal(), with_photos=with_photos,
        archive=book_name(visit, "", "zip" if with_photos else "jsonl"), **shown,
    )  # fmt: skip


def _taken(visit: Visit, what: str, take: Callable[[str, bytes], Account]) -> HTMLResponse:
    """Take a file in as a whole or not at all, and show the account or what is wrong."""
    data = visit.files.get("file", b"")
    name = visit.form.get("file.name", "") or "file"
    try:
        if not data:
            raise InputError(field="file", expected=what, given=visit.t("asked.nothing"))
        made = take(name, data)
    except InputErrors as errors:
        said = [said_by(one) for one in errors.errors]
        left = len(said) - MOST_PROBLEMS
        said = [
            *said[:MOST_PROBLEMS],
            *([visit.t("work.and-more", n=left)] if left > 0 else []),
        ]
        return _exchange(visit, errors.http_status, problems=said, name=name)
    except RopewrightError as error:
        return _exchange(visit, error.http_status, problems=[said_by(error)], name=name)
    return _exchange(
        visit, lines=made.lines, notes=made.notes, problems=list(made.problems), name=name
    )


@router.post("/exchange/case")
def case_in(visit: Here) -> HTMLResponse:
    """Take a case file in, with an account line by line."""
    tools = visit.office.tools

    def take(name: str, data: bytes) -> Account:
        case = tools.read_case(data, file=name, known_rules=tools.shelf.names())
        lines = tools.book.take_in(case.dossier, correct=_why(visit))
        return Account(lines=lines, problems=case.warnings)

    return _taken(visit, visit.t("exchange.a-case"), take)


def _why(visit: Visit) -> str | None:
    return visit.form.get("correct", "").strip() or None


@router.post("/exchange/book")
def book_in(visit: Here) -> HTMLResponse:
    """Take an exported book in, with its photos if it is a zip."""
    tools = visit.office.tools

    def take(name: str, data: bytes) -> Account:
        moved = tools.book.take_in_book(
            name, data, called=_called(visit),
            same=[one.strip() for one in visit.form.get("same", "").splitlines() if one.strip()],
        )  # fmt: skip
        notes = [visit.t("exchange.entries", taken=moved.taken, already=moved.already)]
        if moved.photos:
            notes.append(visit.tn("exchange.photos", moved.photos))
        if moved.photos_absent:
            notes.append(visit.tn("exchange.photos-absent", moved.photos_absent))
        notes.append(visit.t("exchange.seal", seal=moved.seal))
        return Account(lines=moved.lines, notes=notes)

    return _taken(visit, visit.t("exchange.a-book"), take)


def _called(visit: Visit) -> dict[str, str]:
    """New names of ropes by the old ones, from lines of OLD=NEW."""
    names: dict[str, str] = {}
    for line in visit.form["called"].splitlines():
        if not line.strip():
            continue
        old, mark, new = (one.strip() for one in line.rpartition("="))
        if not (old and mark and new):
            raise InputError(field="called", expected=visit.t("exchange.old-new"), given=line)
        names[old] = new
    return names


@router.post("/exchange/cards")
def cards_in(visit: Here) -> HTMLResponse:
    """Take a list of old paper cards into one rope."""
    tools = visit.office.tools

    def take(name: str, data: bytes) -> Account:
        rope_id = visit.form.get("rope", "")
        tools.book.stand(rope_id)
        cards = tools.read_cards(
            name, data, tools.book.dossier(rope_id),
            place_err=visit.form.get("place_err", "").strip() or None,
            leave_out=visit.form.get("leave_out") == "yes",
        )  # fmt: skip
        entries = tools.book.take_in_cards(rope_id, cards.inspections, correct=_why(visit))
        notes = [
            visit.tn("exchange.cards-taken", len(cards.inspections), rope=rope_id),
            visit.t("exchange.only-seen"),
        ]
        return Account(
            lines=[*map(str, cards.lines), *entries], notes=notes,
            problems=[said_by(one) for one in cards.errors],
        )  # fmt: skip

    return _taken(visit, visit.t("exchange.a-list"), take)
