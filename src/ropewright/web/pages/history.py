"""Every entry of a rope: so many at a time, by kind and by day."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse

from ropewright.web.addresses import from_address, rope_path
from ropewright.web.office import Here
from ropewright.web.views.history import entries_of, read_sought

router = APIRouter(include_in_schema=False)


@router.get("/ropes/{rope_id}/history")
def history(
    visit: Here, rope_id: str, kind: str = "", since: str = "", until: str = "", before: str = ""
) -> HTMLResponse:
    """The entries of a rope, newest first."""
    name, office = from_address(rope_id), visit.office
    stand = office.tools.book.stand(name)
    sought = read_sought(kind, since, until, before)
    key = (name, visit.person.units, sought), (stand.sequence, stand.people)
    main = office.entries.get(*key)
    if main is None:
        shown = entries_of(office.tools.book, name, sought, office.texts)
        made = visit.middle(
            "history_main.html", rope_id=name, path_back=rope_path(name), shown=shown,
            invented=bool(stand.record.get("invented")),
        )  # fmt: skip
        main = office.entries.put(*key, made)
    return visit.page_around("history.html", main, rope_id=name)
