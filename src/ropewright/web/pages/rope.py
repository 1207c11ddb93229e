"""A rope's page, its chart, its derivations, its entries."""

from typing import Final, Protocol

from fastapi import APIRouter, HTTPException
from fastapi.responses import HTMLResponse, Response

from ropewright.desk.chart_places import trouble_on
from ropewright.desk.judging import judge, record_of
from ropewright.desk.open_book import Stand
from ropewright.desk.overview import Overview
from ropewright.errors import RopewrightError, UnknownNameError
from ropewright.rope import Rope
from ropewright.rules import Ruling, why
from ropewright.rules.why import provenance_words, status_words
from ropewright.web.addresses import from_address, in_address, rope_path
from ropewright.web.gate import correctors, role_among
from ropewright.web.handing import file_name, send
from ropewright.web.office import Here, Office, Visit, quiet_visit
from ropewright.web.pages.crane import SET_UP_RULES
from ropewright.web.pages.documents import papers, papers_if_any
from ropewright.web.us_units import us_drawing
from ropewright.web.views.chart import changes
from ropewright.web.views.entries import rows_of, told
from ropewright.web.views.photos import by_finding, pictures_of
from ropewright.web.views.rope import TOLD, rope_view
from ropewright.web.wording import said_by

router = APIRouter(include_in_schema=False)

EVENT_WORDS = (
    "shock load", "slack rope", "jumped sheave", "two-block", "power line", "lightning",
    "overload", "welding", "snag", "re-rigged", "other",
)  # fmt: skip


@router.get("/ropes/{rope_id}")
def rope_page(visit: Here, rope_id: str) -> HTMLResponse:
    """Everything about one rope."""
    return show_rope(visit, from_address(rope_id))


def show_rope(
    visit: Visit,
    rope_id: str,
    status: int = 200,
    *,
    problem: str = "",
    opened: str = "",
) -> HTMLResponse:
    """The rope's page, after a form that could not be taken with what was typed still in it."""
    tools = visit.office.tools
    stand = tools.book.stand(rope_id)
    key = _key(visit, stand)
    main = visit.office.ropes.get(*key) if status == 200 else None
    if main is not None:
        return visit.page_around("rope.html", main, rope_id=rope_id)
    try:
        whole = visit.office.judged.overview(rope_id, stand)
    except RopewrightError as error:
        names, texts = tools.book.names(), visit.office.texts
        lines = tools.book.lines(rope_id, most=400)
        return visit.page(
            "rope_unjudged.html", status, rope_id=rope_id, why=said_by(error),
            path=rope_path(rope_id), record=stand.record,
            told=[told(one, names, texts) for one in lines], problem=problem, opened=opened,
            docs=papers_if_any(visit, stand),
        )  # fmt: skip
    made = _main(visit, whole, stand, problem=problem, opened=opened)
    main = visit.office.ropes.put(*key, made) if status == 200 else made.encode()
    return visit.page_around("rope.html", main, status, rope_id=rope_id)


def prepare(office: Office, stand: Stand) -> bool:
    """Make the pages of a rope ready for all who may ask; tells whether one was missing."""
    made = False
    for caller in office.door.readers():
        visit = quiet_visit(office, caller)
        key = _key(visit, stand)
        if not office.ropes.has(*key) and office.ropes.room:
            whole = office.judged.overview(stand.rope_id, stand)
            office.ropes.put(*key, _main(visit, whole, stand, problem="", opened=""))
            made = True
    return made


def _key(visit: Visit, stand: Stand) -> tuple[tuple[object, ...], tuple[object, ...]]:
    """Which page it is and for whom, and all else that it depends on."""
    may = visit.may("POST /ropes/{rope_id}/release")
    made_from = (stand.sequence, visit.office.tools.today(), stand.people)
    return ("page", stand.rope_id, visit.person.units, may), made_from


def _main(visit: Visit, whole: Overview, stand: Stand, *, problem: str, opened: str) -> str:
    tools, rope_id = visit.office.tools, stand.rope_id
    today, names, texts = tools.today(), tools.book.names(), visit.office.texts
    lines = tools.book.lines(rope_id, kinds=TOLD, most=200)
    taken = tools.book.lines(rope_id, kinds={"photo"}, most=5000)
    photos = pictures_of(taken, texts)
    view = rope_view(whole, today, stand.record.get("holds", {}), lines, texts)
    return visit.middle(
        "rope_main.html",
        view=view, a=whole.assessment, v=whole.assessment.verdict, d=whole.dossier,
        f=whole.forecast, today=today, rope_id=rope_id, photos=by_finding(photos),
        told=[told(one, names, texts) for one in view.told], events=EVENT_WORDS,
        widths=CHART_WIDTHS, trend_widths=TREND_WIDTHS, chart_path=view.path,
        changed=changes(whole.dossier.history, texts),
        problem=problem, opened=opened, form=visit.form,
        crane_path=f"/cranes/{in_address(rope_id)}", status_words=status_words,
        accepted=stand.record.get("verdict"),
        overrides=stand.record.get("overrides", {}),
        docs=papers(visit, whole.dossier, stand, taken),
    )  # fmt: skip


#: Widths in which the chart is drawn: a page's, and a phone's with fewer words.
CHART_WIDTHS: Final = (1100, 380)


@router.get("/ropes/{rope_id}/chart.svg")
def chart(visit: Here, rope_id: str, width: int = CHART_WIDTHS[0]) -> Response:
    """The rope chart, drawn for a page or for a phone."""
    tools, drawn = visit.office.tools, width if width in CHART_WIDTHS else CHART_WIDTHS[0]

    def draw(whole: Overview, *, feet: bool) -> str:
        return tools.rope_chart(
            whole.dossier, whole.assessment, width_px=drawn, headline=False, feet=feet,
            trouble=trouble_on(whole.dossier, tools.shelf, tools.today()),
        )  # fmt: skip

    return _drawing(visit, "chart", from_address(rope_id), drawn, draw)


#: Widths in which the trend is drawn.
TREND_WIDTHS: Final = (900, 380)


@router.get("/ropes/{rope_id}/trend.svg")
def trend(visit: Here, rope_id: str, width: int = TREND_WIDTHS[0]) -> Response:
    """How broken wires grew, and what is expected, drawn for a page or for a phone."""
    drawn = width if width in TREND_WIDTHS else TREND_WIDTHS[0]

    def draw(whole: Overview, *, feet: bool) -> str:
        del feet  # its axes are counts and days
        if isinstance(whole.growth, str):
            raise HTTPException(404, whole.growth)
        return visit.office.tools.trend(whole.dossier, whole.growth, width_px=drawn)

    return _drawing(visit, "trend", from_address(rope_id), drawn, draw)


class _Draw(Protocol):
    def __call__(self, whole: Overview, /, *, feet: bool) -> str:
        """A drawing of a rope as SVG."""


def _drawing(visit: Visit, kind: str, rope_id: str, width: int, draw: _Draw) -> Response:
    """A drawing of a rope, kept while what it was made from holds."""
    stand = visit.office.tools.book.stand(rope_id)
    feet = visit.person.units == "us"
    place = (kind, rope_id, width, feet)
    made_from = (stand.sequence, visit.office.tools.today(), stand.people)
    svg = visit.office.ropes.get(place, made_from)
    if svg is None:
        made = draw(visit.office.judged.overview(rope_id, stand), feet=feet)
        svg = visit.office.ropes.put(place, made_from, us_drawing(made) if feet else made)
    return visit.drawing(svg)


@router.get("/ropes/{rope_id}/why/{ruling_id:path}")
def why_page(visit: Here, rope_id: str, ruling_id: str) -> HTMLResponse:
    """How one ruling came about, step by step, to check by hand."""
    name = from_address(rope_id)
    whole = visit.office.judged.overview(name)
    ruling = whole.assessment.ruling(ruling_id) or _of_the_set_up(visit, whole, ruling_id)
    if ruling is None:
        raise UnknownNameError(
            what="a ruling of this rope", given=ruling_id,
            known=[one.ruling_id for one in whole.assessment.rulings],
        )  # fmt: skip
    page: HTMLResponse = visit.page(
        "why.html", rope_id=name, path_back=rope_path(name), r=ruling, lines=why(ruling),
        value_from=provenance_words(ruling.provenance),
        number_from=provenance_words(ruling.clause_provenance),
        status=status_words(ruling.status), invented=whole.dossier.invented,
        may_confirm=visit.may("POST /ropes/{rope_id}/confirm"),
    )  # fmt: skip
    return page


def _of_the_set_up(visit: Visit, whole: Overview, ruling_id: str) -> Ruling | None:
    """A check of the set-up, which the crane's page makes whatever rules the rope was given."""
    if not ruling_id.startswith(f"{SET_UP_RULES}/"):
        return None
    tools = visit.office.tools
    found = judge(
        whole.dossier, tools.shelf, tools.today(), software=tools.software, added=[SET_UP_RULES]
    )
    return found.ruling(ruling_id)


@router.get("/ropes/{rope_id}/report.pdf")
def report_pdf(visit: Here, rope_id: str) -> Response:
    """The report of today; it is not signed and not kept."""
    name = from_address(rope_id)
    return send(file_name(visit, name, "report", "pdf"), make_report(visit, name))


def make_report(visit: Visit, rope_id: str) -> bytes:
    """A report of a rope as the book has it now."""
    tools = visit.office.tools
    whole = visit.office.judged.overview(rope_id)
    head, seal = tools.book.rope_head(rope_id), tools.book.seal()
    record = record_of(
        whole.dossier, whole.assessment, case_file=f"logbook, rope {rope_id}", case_hash=head
    )
    return tools.report_pdf(
        whole.dossier, whole.assessment, json_record=record,
        file_note=f"logbook, rope {rope_id}, chain {head}", seal=seal, made_on=tools.today(),
        growth=whole.growth,
    )  # fmt: skip


@router.get("/ropes/{rope_id}/label.pdf")
def label_pdf(visit: Here, rope_id: str) -> Response:
    """A label with a code that opens the rope's page."""
    tools, name = visit.office.tools, from_address(rope_id)
    dossier = tools.book.dossier(name)
    base = visit.request.base_url
    fitted = dossier.installation.fitted_on
    data = tools.label_pdf(
        title=name,
        lines=(
            visit.t("label.crane", crane=dossier.crane.crane_id, hoist=dossier.installation.hoist),
            _rope_words(dossier.rope),
            visit.t("rope.fitted", day=fitted.isoformat()) if fitted else visit.t("label.no-day"),
            dossier.crane.site,
        ),
        address=f"{str(base).rstrip('/')}{rope_path(name)}",
        note=visit.t("label.note"),
        invented=dossier.invented,
        made_on=tools.today(),
    )
    return send(file_name(visit, name, "label", "pdf"), data)


def _is_invented(visit: Visit, rope_id: str) -> bool:
    """Whether a rope is made up: said on every page of it."""
    return bool(visit.office.tools.book.stand(rope_id).record.get("invented"))


def _rope_words(rope: Rope) -> str:
    diameter, length = float(rope.nominal_diameter_mm), rope.length_m
    return f"{rope.construction.name}, {diameter:g} mm, {length:g} m"


@router.get("/ropes/{rope_id}/entries/{entry_id}")
def entry_page(visit: Here, rope_id: str, entry_id: str) -> HTMLResponse:
    """One entry with everything it says, and where it stands in the chain."""
    return show_entry(visit, from_address(rope_id), entry_id)


def show_entry(
    visit: Visit, rope_id: str, entry_id: str, status: int = 200, *, problem: str = ""
) -> HTMLResponse:
    """An entry's page, with a form to put it right for those who may."""
    book = visit.office.tools.book
    line = book.line(entry_id)
    if line is None or line.rope_id != rope_id:
        raise HTTPException(404, visit.t("entry.unknown"))
    names, texts = book.names(), visit.office.texts
    later = [
        told(one, names, texts)
        for one in book.lines(rope_id, kinds={"correction"}, most=5000)
        if one.payload.get("corrects") == entry_id
    ]
    page: HTMLResponse = visit.page(
        "entry.html", status, rope_id=rope_id, path_back=rope_path(rope_id),
        one=told(line, names, texts), rows=rows_of(line.payload, names, texts), later=later,
        problem=problem,
        may_correct=bool(role_among(visit.person.roles, correctors(line.kind))), form=visit.form,
        invented=_is_invented(visit, rope_id),
    )  # fmt: skip
    return page
