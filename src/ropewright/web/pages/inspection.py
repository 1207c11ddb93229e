"""One inspection: what was seen and found, held against last time, and signed."""

from typing import Any

from fastapi import APIRouter, HTTPException
from fastapi.responses import HTMLResponse, Response
from markupsafe import Markup

from ropewright.errors import InputError, UnknownNameError
from ropewright.geometry import Section
from ropewright.inspection import Dossier, Inspection, felt_only, seen_only
from ropewright.inspection.coverage import unseen
from ropewright.inspection.experience import FATE_WORDS
from ropewright.matching import Pairing, match
from ropewright.web.addresses import from_address, in_address, rope_path
from ropewright.web.door import RefusedLogin
from ropewright.web.office import Here, Visit
from ropewright.web.pages.inspection_progress import told_progress
from ropewright.web.pages.login import refused_words
from ropewright.web.pages.rope import make_report
from ropewright.web.saying import day_in, me, say, words_in
from ropewright.web.typed import read_metres
from ropewright.web.views.entry_words import answer_words
from ropewright.web.views.photos import by_finding, of_inspection, pictures_of
from ropewright.web.views.rope import finding_words, state_of
from ropewright.web.wording import said_by

router = APIRouter(include_in_schema=False)


def _wanted(visit: Visit, rope_id: str, inspection_id: str) -> tuple[Inspection, Inspection | None]:
    """An inspection, and the one before it that has findings or looks over the whole rope."""
    dossier = visit.office.tools.book.dossier(rope_id)
    known = {one.inspection_id: one for one in dossier.inspections}
    if inspection_id not in known:
        raise UnknownNameError(what="an inspection of this rope", given=inspection_id, known=known)
    one = known[inspection_id]
    earlier = [
        other
        for other in dossier.inspections
        if other.on < one.on and (other.findings or other.is_thorough)
    ]
    return one, max(earlier, key=lambda other: other.on, default=None)


@router.get("/ropes/{rope_id}/inspections/{inspection_id}")
def inspection_page(visit: Here, rope_id: str, inspection_id: str) -> HTMLResponse:
    """What was seen and found, and what became of last time's findings."""
    return _show(visit, from_address(rope_id), from_address(inspection_id))


def _show(
    visit: Visit, rope_id: str, inspection_id: str, status: int = 200, *, problem: str = ""
) -> HTMLResponse:
    tools = visit.office.tools
    one, before = _wanted(visit, rope_id, inspection_id)
    dossier = tools.book.dossier(rope_id)
    pairings = () if before is None else _pairings(dossier, before, one)
    lines = tools.book.lines(rope_id, most=5000)
    mine = [line for line in lines if line.payload.get("inspection_id") == inspection_id]
    signed = next((line for line in mine if line.kind == "inspection signed"), None)
    entry_of = {}
    for line in mine:
        what = line.payload.get("what")
        if isinstance(what, dict) and "finding_id" in what:
            entry_of[what["finding_id"]] = line.entry_id
    findings = {each.finding_id for each in (*one.findings, *one.part_findings)}
    pictures = pictures_of(lines, visit.office.texts)
    words = {
        finding.finding_id: finding_words(finding, visit.office.texts)
        for each in (before, one)
        if each is not None
        for finding in each.findings
    }
    answers = [
        (each, answer_words(each, visit.office.texts))
        for each in dossier.comparisons
        if each.on >= one.on and (each.earlier in words or each.later in words)
    ]
    whole = Section(*dossier.history.at(one.on).in_service)
    progress = None if one.finished else Markup(told_progress(visit, rope_id, inspection_id))
    base = "POST /ropes/{rope_id}/inspections/{inspection_id}"
    return visit.page(
        "inspection.html", status, rope_id=rope_id, path_back=rope_path(rope_id), one=one,
        photos=by_finding(pictures), others=of_inspection(pictures, inspection_id, findings),
        unseen=unseen(one, whole), felt=felt_only(one, whole), seen=seen_only(one, whole),
        before=before, pairings=pairings, words=words, entry_of=entry_of, signed=signed,
        state=state_of(one, visit.office.texts), d=dossier,
        names=tools.book.names(), problem=problem,
        path_here=f"{rope_path(rope_id)}/inspections/{in_address(inspection_id)}",
        said=answers, progress=progress, may_compare=visit.may(f"{base}/same"),
        form=visit.form, fates=FATE_WORDS, may_sign=visit.may(f"{base}/sign"),
    )  # fmt: skip


def _pairings(dossier: Dossier, before: Inspection, after: Inspection) -> tuple[Pairing, ...]:
    return match(before, after, dossier.marks, dossier.history, decisions=dossier.comparisons)


@router.post("/ropes/{rope_id}/inspections/{inspection_id}/same")
def compare(visit: Here, rope_id: str, inspection_id: str) -> Response:
    """Confirm or overrule what was matched; it never lowers a count."""
    tools, form = visit.office.tools, visit.form
    name, which = from_address(rope_id), from_address(inspection_id)
    answer = form.get("answer", "")
    payload: dict[str, Any] = {
        "earlier": form.get("earlier", ""), "later": form.get("later", ""), "by": me(visit),
        "on": tools.today().isoformat(), "reason": form.get("reason", "").strip(),
    }  # fmt: skip
    if answer == "not the same":
        payload["same"] = False
    elif answer == "new":
        payload["earlier"] = ""
    elif answer in FATE_WORDS:
        payload |= {"later": "", "fate": answer}
    elif answer != "the same":
        return _show(
            visit,
            name,
            which,
            400,
            problem=visit.t("inspection.no-such-answer", given=repr(answer)),
        )
    taken = say(visit, "comparison", name, payload, tools.today())
    if taken.state == "refused":
        return _show(visit, name, which, 400, problem=taken.reason)
    return visit.back_to(
        f"{rope_path(name)}/inspections/{in_address(which)}", visit.t("inspection.answer-kept")
    )


@router.post("/ropes/{rope_id}/inspections/{inspection_id}/unseen")
def accept_unseen(visit: Here, rope_id: str, inspection_id: str) -> Response:
    """Accept by name, until a day, that a section was not seen; it stays on record."""
    tools, name, which = visit.office.tools, from_address(rope_id), from_address(inspection_id)
    units = visit.person.units
    try:
        low = read_metres(
            words_in(visit, "from", visit.t("inspection.where-from")), "from", units=units
        )
        high = read_metres(words_in(visit, "to", visit.t("inspection.where-to")), "to", units=units)
        if not low < high:
            raise InputError(
                field="to", expected=visit.t("inspection.more-than-from"), given=f"{high:g} m"
            )
        until = day_in(visit, "until", may_come=True)
        reason = words_in(visit, "reason", visit.t("inspection.why-unseen"))
    except InputError as error:
        return _show(visit, name, which, 400, problem=said_by(error))
    section = {"from_m": f"{low:g}", "to_m": f"{high:g}"}
    payload = {
        "inspection_id": which,
        "what": {
            "section": section, "by": me(visit), "until": until.isoformat(), "reason": reason,
        },
    }  # fmt: skip
    taken = say(visit, "unseen accepted", name, payload, tools.today())
    if taken.state == "refused":
        return _show(visit, name, which, 400, problem=taken.reason)
    return visit.back_to(
        f"{rope_path(name)}/inspections/{in_address(which)}", visit.t("inspection.accepted-said")
    )


@router.post("/ropes/{rope_id}/inspections/{inspection_id}/sign")
def sign(visit: Here, rope_id: str, inspection_id: str) -> Response:
    """Sign: the password again, the report frozen, its hash and the book's seal in the entry."""
    tools = visit.office.tools
    name, which = from_address(rope_id), from_address(inspection_id)
    one, _ = _wanted(visit, name, which)
    if one.signed_by:
        return _show(
            visit, name, which, 409, problem=visit.t("inspection.signed-already", who=one.signed_by)
        )
    if not one.finished:
        return _show(visit, name, which, 409, problem=visit.t("inspection.finish-first"))
    try:
        visit.office.door.prove(visit.person, visit.form.get("password", ""))
    except RefusedLogin as refused:
        return _show(visit, name, which, 403, problem=refused_words(visit, refused))
    seal = tools.book.seal()
    sha256 = tools.book.keep_report(make_report(visit, name))
    payload = {
        "inspection_id": which, "by": me(visit), "report_sha256": sha256, "seal": seal,
        "software": tools.software,
    }  # fmt: skip
    taken = say(visit, "inspection signed", name, payload, tools.today())
    if taken.state == "refused":
        return _show(visit, name, which, 400, problem=taken.reason)
    return visit.back_to(
        f"{rope_path(name)}/inspections/{in_address(which)}",
        visit.t("inspection.signed-said"),
    )


@router.get("/ropes/{rope_id}/inspections/{inspection_id}/signed.pdf")
def signed_pdf(visit: Here, rope_id: str, inspection_id: str) -> Response:
    """The report as it was when it was signed."""
    book, which = visit.office.tools.book, from_address(inspection_id)
    for line in book.lines(from_address(rope_id), kinds={"inspection signed"}):
        if line.payload.get("inspection_id") == which:
            sha256 = str(line.payload.get("report_sha256", ""))
            if sha256:
                return Response(book.report(sha256), media_type="application/pdf")
    raise HTTPException(404, visit.t("inspection.no-report"))
