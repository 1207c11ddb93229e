"""A rope's page, its chart, its derivations, its history."""

from typing import Final

from fastapi import APIRouter, HTTPException
from fastapi.responses import HTMLResponse, Response
from markupsafe import Markup

from ropewright.desk.judging import record_of
from ropewright.desk.open_book import Stand
from ropewright.desk.overview import Overview
from ropewright.errors import RopewrightError, UnknownNameError
from ropewright.rope import Rope
from ropewright.rules import why
from ropewright.rules.why import provenance_words, status_words
from ropewright.web.addresses import from_address, in_address, rope_path
from ropewright.web.gate import correctors, role_among
from ropewright.web.office import Here, Visit
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
    try:
        whole = visit.office.judged.overview(rope_id, stand)
    except RopewrightError as error:
        names = tools.book.names()
        lines = tools.book.lines(rope_id, most=400)
        return visit.page(
            "rope_unjudged.html", status, rope_id=rope_id, why=said_by(error),
            path=rope_path(rope_id), record=stand.record,
            told=[told(one, names) for one in lines], problem=problem, opened=opened,
        )  # fmt: skip
    plain = status == 200
    key = _key(visit, stand.sequence, rope_id)
    main = visit.office.ropes.get(key) if plain else None
    if main is None:
        main = _main(visit, whole, stand, problem=problem, opened=opened)
        if plain:
            visit.office.ropes.put(key, main)
    main = main.replace(_FORM_TOKEN, visit.person.csrf)
    return visit.page("rope.html", status, rope_id=rope_id, main=Markup(main))


#: Stands in a kept page for what belongs to one session.
_FORM_TOKEN: Final = "form-token-of-this-session"


def _key(visit: Visit, sequence: int, rope_id: str) -> tuple[object, ...]:
    """Everything that a kept page depends on."""
    tools = visit.office.tools
    may = visit.may("POST /ropes/{rope_id}/release")
    names = hash(frozenset(tools.book.names().items()))
    return (rope_id, sequence, tools.today(), visit.person.units, may, names)


def _main(visit: Visit, whole: Overview, stand: Stand, *, problem: str, opened: str) -> str:
    tools, rope_id = visit.office.tools, stand.rope_id
    today, names = tools.today(), tools.book.names()
    lines = tools.book.lines(rope_id, kinds=TOLD, most=200)
    photos = pictures_of(tools.book.lines(rope_id, kinds={"photo"}, most=5000))
    view = rope_view(whole, today, stand.record.get("holds", {}), lines)
    made: str = visit.office.pages.get_template("rope_main.html").render(
        view=view, a=whole.assessment, v=whole.assessment.verdict, d=whole.dossier,
        f=whole.forecast, today=today, rope_id=rope_id, photos=by_finding(photos),
        told=[told(one, names) for one in view.told], events=EVENT_WORDS,
        widths=CHART_WIDTHS,
        problem=problem, opened=opened, form=visit.form, csrf=_FORM_TOKEN,
        crane_path=f"/cranes/{in_address(rope_id)}", status_words=status_words,
        accepted=stand.record.get("verdict"),
        overrides=stand.record.get("overrides", {}), caller=visit.person, visit=visit,
    )  # fmt: skip
    return made


#: Widths in which the chart is drawn: a page's, and a phone's with fewer words.
CHART_WIDTHS: Final = (1100, 380)


@router.get("/ropes/{rope_id}/chart.svg")
def chart(visit: Here, rope_id: str, width: int = CHART_WIDTHS[0]) -> Response:
    """The rope chart, drawn for a page or for a phone."""
    tools, name = visit.office.tools, from_address(rope_id)
    stand = tools.book.stand(name)
    drawn = width if width in CHART_WIDTHS else CHART_WIDTHS[0]
    key = ("chart", name, stand.sequence, tools.today(), drawn)
    svg = visit.office.ropes.get(key)
    if svg is None:
        whole = visit.office.judged.overview(name, stand)
        svg = tools.rope_chart(whole.dossier, whole.assessment, width_px=drawn, headline=False)
        visit.office.ropes.put(key, svg)
    return Response(svg, media_type="image/svg+xml")


@router.get("/ropes/{rope_id}/trend.svg")
def trend(visit: Here, rope_id: str) -> Response:
    """How broken wires grew, and what is expected."""
    whole = visit.office.judged.overview(from_address(rope_id))
    if isinstance(whole.growth, str):
        raise HTTPException(404, whole.growth)
    svg = visit.office.tools.trend(whole.dossier, whole.growth, width_px=900)
    return Response(svg, media_type="image/svg+xml")


@router.get("/ropes/{rope_id}/why/{ruling_id:path}")
def why_page(visit: Here, rope_id: str, ruling_id: str) -> HTMLResponse:
    """How one ruling came about, step by step, to check by hand."""
    name = from_address(rope_id)
    whole = visit.office.judged.overview(name)
    ruling = whole.assessment.ruling(ruling_id)
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


@router.get("/ropes/{rope_id}/report.pdf")
def report_pdf(visit: Here, rope_id: str) -> Response:
    """The report of today; it is not signed and not kept."""
    name = from_address(rope_id)
    return Response(
        make_report(visit, name), media_type="application/pdf",
        headers={"content-disposition": f"inline; filename*=utf-8''{in_address(name)}.pdf"},
    )  # fmt: skip


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
            f"Crane {dossier.crane.crane_id}, {dossier.installation.hoist}",
            _rope_words(dossier.rope),
            f"fitted {fitted.isoformat()}" if fitted else "day of fitting not known",
            dossier.crane.site,
        ),
        address=f"{str(base).rstrip('/')}{rope_path(name)}",
        note="Open this rope's page before an inspection. Anyone may put the rope on hold.",
        invented=dossier.invented,
        made_on=tools.today(),
    )
    return Response(data, media_type="application/pdf")


def _is_invented(visit: Visit, rope_id: str) -> bool:
    """Whether a rope is made up: said on every page of it."""
    return bool(visit.office.tools.book.stand(rope_id).record.get("invented"))


def _rope_words(rope: Rope) -> str:
    diameter, length = float(rope.nominal_diameter_mm), rope.length_m
    return f"{rope.construction.name}, {diameter:g} mm, {length:g} m"


@router.get("/ropes/{rope_id}/history")
def history(visit: Here, rope_id: str) -> HTMLResponse:
    """Every entry of a rope, newest first."""
    tools, name = visit.office.tools, from_address(rope_id)
    tools.book.stand(name)
    names = tools.book.names()
    lines = tools.book.lines(name, most=5000)
    page: HTMLResponse = visit.page(
        "history.html", rope_id=name, path_back=rope_path(name),
        told=[told(one, names) for one in lines], invented=_is_invented(visit, name),
    )  # fmt: skip
    return page


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
        raise HTTPException(404, "this rope has no such entry")
    names = book.names()
    later = [
        told(one, names)
        for one in book.lines(rope_id, kinds={"correction"}, most=5000)
        if one.payload.get("corrects") == entry_id
    ]
    page: HTMLResponse = visit.page(
        "entry.html", status, rope_id=rope_id, path_back=rope_path(rope_id),
        one=told(line, names), rows=rows_of(line.payload, names), later=later, problem=problem,
        may_correct=bool(role_among(visit.person.roles, correctors(line.kind))), form=visit.form,
        invented=_is_invented(visit, rope_id),
    )  # fmt: skip
    return page
