"""The report as PDF: data from dossier and assessment, laid out by the template."""

import hashlib
from datetime import date
from typing import Any, Final

from ropewright.forecast import RopeForecast, trend_of
from ropewright.inspection import Dossier
from ropewright.paper.facts import Facts, facts_of
from ropewright.paper.front import front_page
from ropewright.paper.growth import growth_page
from ropewright.paper.letters import drawn
from ropewright.paper.record import contents, made_with
from ropewright.paper.setting import described, set_page
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
        data["alt"]["growth.svg"] = described(drawing)
        pictures["growth.svg"] = drawn(drawing).encode()
    return set_page(
        "report.typ",
        data,
        pictures | {RECORD_NAME: json_record},
        made_on=made_on,
        standards=("ua-1", "a-3a"),
    )


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
    data["alt"] = {name: described(svg) for name, svg in charts.items()}
    return {name: drawn(svg).encode() for name, svg in charts.items()}


def _governing_cluster(facts: Facts) -> str | None:
    """The cluster of broken wires on which the gravest ruling with one rests."""
    clusters = {one.finding_id for one, _ in facts.evidence.broken_wires()}
    for ruling in facts.ordered:
        if ruling.level in ("remove", "decide", "incomplete", "monitor"):
            for name in ruling.finding_ids:
                if name in clusters:
                    return name
    return None
