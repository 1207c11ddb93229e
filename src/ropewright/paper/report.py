"""The report as PDF: data from dossier and assessment, laid out by the template."""

import hashlib
import json
import warnings
from datetime import UTC, date, datetime
from importlib.resources import files
from typing import Any, Final, cast
from xml.etree import ElementTree

import typst

from ropewright.errors import RenderError
from ropewright.forecast import RopeForecast, trend_of
from ropewright.inspection import Dossier
from ropewright.paper.facts import Facts, facts_of
from ropewright.paper.front import front_page
from ropewright.paper.growth import growth_page
from ropewright.paper.letters import FOLDER, drawn, written
from ropewright.paper.record import contents, made_with
from ropewright.paper.tables import (
    findings_table,
    memory_note,
    near_lines,
    parts_table,
    rulings_table,
    side_by_side,
)
from ropewright.paper.where_page import where_page
from ropewright.paper.words import cut
from ropewright.picture import close_up, rope_chart, rope_strip, trend_picture
from ropewright.rules import Assessment

RECORD_NAME: Final = "ropewright-record.json"
_CHART_WIDTH: Final = 720
#: No text of the report is longer; the attached record holds the whole.
LONGEST_TEXT: Final = 1500
_SVG: Final = "{http://www.w3.org/2000/svg}"
INVENTED: Final = "Invented data – demonstration"


def report_pdf(
    dossier: Dossier,
    assessment: Assessment,
    *,
    json_record: bytes,
    file_note: str,
    seal: str | None,
    made_on: date,
    growth: RopeForecast | str = "",
) -> bytes:
    """The report to sign, as a tagged PDF with the record attached; same input, same bytes.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    assessment
        What the rules say of it on a date.
    json_record
        The record as JSON; it is attached byte for byte.
    file_note
        What the report was made from, such as a file's name and hash.
    seal
        Head hash of the logbook, if there is one.
    made_on
        The date of the report.
    growth
        The rope's forecast, or why there is none; without either nothing is said of growth.

    Returns
    -------
    bytes
        PDF/A-3a and PDF/UA-1.

    Raises
    ------
    RenderError
        If the report cannot be set.
    """
    facts = facts_of(dossier, assessment)
    data = _report_data(facts, json_record, file_note=file_note, seal=seal, made_on=made_on)
    pictures = _pictures(facts, data)
    data["no_growth"] = growth if isinstance(growth, str) else ""
    data["growth"] = None
    if isinstance(growth, RopeForecast):
        figure = trend_of(dossier, growth)
        drawing = trend_picture(figure, width_px=_CHART_WIDTH, headline=False)
        data["growth"] = growth_page(growth, figure)
        data["alt"]["growth.svg"] = _said(drawing)
        pictures["growth.svg"] = drawn(drawing).encode()
    return _set(_lettered(data), pictures, json_record, made_on)


def _report_data(
    facts: Facts, json_record: bytes, *, file_note: str, seal: str | None, made_on: date
) -> dict[str, Any]:
    record_hash = hashlib.sha256(json_record).hexdigest()
    made = made_with(facts, file_note=file_note, seal=seal, record_hash=record_hash)
    title = f"Rope inspection report, {cut(facts.assessment.rope_id, 100)}"
    return {
        "title": title,
        "rope": cut(facts.assessment.rope_id, 30),
        "made_on": made_on.isoformat(),
        "made_parts": [made_on.year, made_on.month, made_on.day],
        "invented": INVENTED if facts.dossier.invented else "",
        "front": front_page(facts),
        "rulings": rulings_table(facts),
        "near": near_lines(facts),
        "memory": memory_note(facts),
        "rule_sets": side_by_side(facts),
        "findings": findings_table(facts),
        "parts": parts_table(facts),
        "behind": contents(facts, made),
        "record_name": RECORD_NAME,
    }


def _pictures(facts: Facts, data: dict[str, Any]) -> dict[str, bytes]:
    """The charts as virtual files; their descriptions go into the data."""
    dossier, assessment = facts.dossier, facts.assessment
    charts = {
        "strip.svg": rope_strip(dossier, assessment, width_px=_CHART_WIDTH),
        "chart.svg": rope_chart(dossier, assessment, headline=False, width_px=_CHART_WIDTH),
    }
    cluster = _governing_cluster(facts)
    if cluster is not None:
        charts["close-up.svg"] = close_up(
            dossier, assessment, cluster, headline=False, width_px=_CHART_WIDTH
        )
    where = where_page(facts)
    charts |= where.pictures
    data["where"] = where.table
    data["not_drawn"] = where.not_drawn
    data["close_up"] = cluster or ""
    data["alt"] = {name: _said(svg) for name, svg in charts.items()}
    return {name: drawn(svg).encode() for name, svg in charts.items()}


def _said(svg: str) -> dict[str, str]:
    """Title and description of a picture, which say aloud what it shows."""
    root = ElementTree.fromstring(svg)
    title, desc = (root.findtext(f"{_SVG}{tag}") or "" for tag in ("title", "desc"))
    return {"title": title, "words": f"{title}. {desc}"}


def _governing_cluster(facts: Facts) -> str | None:
    """The cluster of broken wires on which the gravest ruling with one rests."""
    clusters = {one.finding_id for one, _ in facts.evidence.broken_wires()}
    for ruling in facts.ordered:
        if ruling.level in ("remove", "decide", "incomplete", "monitor"):
            for name in ruling.finding_ids:
                if name in clusters:
                    return name
    return None


def _lettered(data: object) -> object:
    """The same data with every text in letters that the typeface has."""
    if isinstance(data, str):
        return written(cut(data, LONGEST_TEXT))
    if isinstance(data, dict):
        return {key: _lettered(value) for key, value in data.items()}
    if isinstance(data, list):
        return [_lettered(value) for value in data]
    return data


def _set(data: object, pictures: dict[str, bytes], json_record: bytes, made_on: date) -> bytes:
    template = files("ropewright.paper").joinpath("report.typ").read_bytes()
    inputs: dict[str, bytes] = {"main": template, RECORD_NAME: json_record} | pictures
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            pdf = typst.compile(
                cast(Any, inputs),  # a mapping of virtual files, which its types do not name
                format="pdf",
                pdf_standards=["ua-1", "a-3a"],
                timestamp=datetime(made_on.year, made_on.month, made_on.day, tzinfo=UTC),
                font_paths=[str(FOLDER)],
                ignore_system_fonts=True,
                sys_inputs={"data": json.dumps(data, ensure_ascii=False)},
            )
    except (typst.TypstError, RuntimeError, ValueError, OSError) as error:
        raise RenderError(f"the report cannot be set: {error}", field="report") from error
    if not isinstance(pdf, bytes):
        raise RenderError("the report cannot be set: no document came back", field="report")
    return pdf
