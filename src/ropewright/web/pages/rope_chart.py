"""The rope chart by itself: everything on it as a list, with the way back to each."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse

from ropewright.desk.chart_places import chart_places
from ropewright.web.addresses import from_address, rope_path
from ropewright.web.office import Here, Visit
from ropewright.web.pages.rope import CHART_WIDTHS
from ropewright.web.views.chart import KINDS, changes, chosen_lines

router = APIRouter(include_in_schema=False)


@router.get("/ropes/{rope_id}/chart")
def chart_page(visit: Here, rope_id: str) -> HTMLResponse:
    """The chart with what can be chosen on it; the rope's page takes its words from here."""
    name = from_address(rope_id)
    stand = visit.office.tools.book.stand(name)
    today, units = visit.office.tools.today(), visit.person.units
    key = ("chart page", name, units), (stand.sequence, today, stand.people)
    main = visit.office.ropes.get(*key)
    if main is None:
        main = visit.office.ropes.put(*key, _main(visit, name))
    return visit.page_around("chart.html", main, rope_id=name)


def _main(visit: Visit, name: str) -> str:
    tools, texts = visit.office.tools, visit.office.texts
    whole, path = visit.office.judged.overview(name), rope_path(name)
    found = chart_places(whole.dossier, whole.assessment, tools.shelf, tools.today())
    lines = [chosen_lines(one, path, texts) for one in found.places]
    return visit.middle(
        "chart_main.html", rope_id=name, path_back=path, chart_path=path, widths=CHART_WIDTHS,
        d=whole.dossier, missing=found.missing, changed=changes(whole.dossier.history, texts),
        groups=[(kind, [one for one in lines if one.place.kind == kind]) for kind in KINDS],
    )  # fmt: skip
