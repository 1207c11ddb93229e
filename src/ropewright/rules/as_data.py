"""An assessment as plain data: exact values as decimal strings, places as numbers."""

import json
from fractions import Fraction
from typing import Any

from ropewright.geometry import Section
from ropewright.rules.ruling import Assessment, Ruling, Verdict
from ropewright.units import exact_decimal


def _exact(value: Fraction | None) -> str | None:
    return None if value is None else exact_decimal(value)


def _section(section: Section | None) -> list[float] | None:
    return None if section is None else [round(section.from_m, 6), round(section.to_m, 6)]


def ruling_as_data(ruling: Ruling) -> dict[str, Any]:
    """One ruling as plain data; measured values and limits are decimal strings."""
    found = ruling.found
    return {
        "ruling": ruling.ruling_id,
        "rule_set": ruling.rule_set,
        "rule": ruling.rule_title,
        "edition": ruling.edition,
        "clause_id": ruling.clause_id,
        "clause": ruling.clause,
        "title": ruling.title,
        "status": ruling.status,
        "words": ruling.words,
        "level": ruling.level,
        "provenance": ruling.provenance,
        "clause_provenance": ruling.clause_provenance,
        "confirmed": ruling.confirmed,
        "source": ruling.source,
        "compare": ruling.compare,
        "baseline": ruling.baseline,
        "found": None
        if found is None
        else {"lower": _exact(found.lower), "upper": _exact(found.upper), "unit": found.unit},
        "limit": _exact(ruling.limit),
        "share": _exact(ruling.share),
        "rating_percent": _exact(ruling.rating_percent),
        "window": ruling.window,
        "window_mm": _exact(ruling.window_mm),
        "section_m": _section(ruling.section),
        "section_err_m": ruling.section_err_m,
        "demand": ruling.demand,
        "remedy": list(ruling.remedy),
        "who": ruling.who,
        "by_when": ruling.by_when,
        "missing": list(ruling.missing),
        "how_to_get": list(ruling.how_to_get),
        "findings": list(ruling.finding_ids),
        "inspection": ruling.inspection_id,
        "note": ruling.note,
        "trace": {
            "rules_hash": ruling.rules_hash,
            "steps": [
                {"says": step.says, "value": step.value, "origin": step.origin}
                for step in ruling.steps
            ],
        },
    }


def verdict_as_data(verdict: Verdict) -> dict[str, Any]:
    """The verdict as plain data."""
    return {
        "level": verdict.level,
        "sentence": verdict.sentence,
        "governing": list(verdict.governing),
        "on_hold": verdict.on_hold,
        "hold_reasons": list(verdict.hold_reasons),
        "remedy": list(verdict.remedy),
        "who": verdict.who,
        "by_when": verdict.by_when,
        "unseen_m": [_section(section) for section in verdict.unseen],
        "unseen_whole_rope": verdict.unseen_whole_rope,
        "felt_only_m": [_section(section) for section in verdict.felt_only],
        "seen_only_m": [_section(section) for section in verdict.seen_only],
    }


def assessment_as_data(assessment: Assessment) -> dict[str, Any]:
    """The whole assessment as plain data, ready for JSON."""
    return {
        "schema": 1,
        "rope": assessment.rope_id,
        "as_of": assessment.as_of,
        "software": assessment.software,
        "verdict": verdict_as_data(assessment.verdict),
        "rule_sets": [
            {
                "rule_set": one.rule_set,
                "title": one.title,
                "edition": one.edition,
                "rules_hash": one.rules_hash,
                "why_used": one.why_used,
                "notice": one.notice,
            }
            for one in assessment.rule_sets
        ],
        "inspections_used": list(assessment.inspections_used),
        "assumptions": list(assessment.assumptions),
        "rulings": [ruling_as_data(one) for one in assessment.rulings],
    }


def assessment_as_json(assessment: Assessment, *, invented: bool | None = None) -> str:
    """Canonical JSON text of an assessment, a line for each ruling: same input, same bytes.

    Parameters
    ----------
    assessment
        The assessment.
    invented
        Whether the data are invented; says nothing about it if not given.
    """
    data = assessment_as_data(assessment)
    if invented is not None:
        data = {"invented": invented, **data}
    rulings = data.pop("rulings")
    head = _text(data)[:-1]
    lines = ",\n".join(_text(one) for one in rulings)
    return f'{head},"rulings":[\n{lines}\n]}}\n'


def _text(data: dict[str, Any]) -> str:
    return json.dumps(data, ensure_ascii=False, separators=(",", ":"))
