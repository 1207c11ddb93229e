"""Wear and cuts as plain data, for JSON: lists of numbers and words, nothing left out."""

from collections.abc import Sequence
from datetime import date
from typing import Any, Final

from ropewright.desk.cutting import CutAdvice, CutOption
from ropewright.desk.fleet import FleetRow
from ropewright.desk.wearing import WearResult
from ropewright.inspection import Dossier
from ropewright.units import as_plain_data
from ropewright.wear.remarks import remarks
from ropewright.wear.rows import wear_rows
from ropewright.wear.top_sections import WornSection

FORM: Final = 1
STEP_M: Final = 0.5


def wear_as_data(
    dossier: Dossier, found: WearResult, advice: CutAdvice | None = None
) -> dict[str, Any]:
    """The wear of one rope as JSON data.

    Parameters
    ----------
    dossier
        The rope.
    found
        Its wear.
    advice
        Whether and where to cut.
    """
    edges, by_cause = wear_rows(found.wear, STEP_M)
    worn = found.wear
    return {
        "form": FORM,
        "rope_id": found.rope_id,
        "crane_id": dossier.crane.crane_id,
        "invented": dossier.invented,
        "as_of": found.on.isoformat(),
        "log": list(found.log),
        "origin": found.duty.origin,
        "first_day": found.pieces[0].first.isoformat(),
        "last_day": found.pieces[-1].last.isoformat(),
        "lifts": found.duty.lifts,
        "bent_m": worn.bent_m,
        "quality": as_plain_data(found.duty.quality),
        "remarks": list(remarks(found.duty.quality)),
        "model": as_plain_data(found.card),
        "own_constants": found.own_constants,
        "full_force_n": worn.full_force_n,
        "life_share_of_a_full_bend": worn.life_share,
        "crossover": as_plain_data(worn.crossover),
        "unit": "full bends: bends under the greatest force on the hardest sheave",
        "edges_m": edges,
        "causes": [
            {"kind": kind, "name": name, "full_bends": row}
            for (kind, name), row in zip(worn.causes, by_cause, strict=True)
        ],
        "top": [_section(one) for one in found.top],
        "agreement": as_plain_data(found.agreement) | {"agrees": found.agreement.agrees},
        "second_opinion": as_plain_data(found.opinion),
        "other_models": [
            {
                "model": other.card.name,
                "worst": None if other.worst is None else _section(other.worst),
                "why_not": other.why_not,
            }
            for other in found.others
        ],
        "clock": None if found.clock is None else as_plain_data(found.clock.readings),
        "clock_at": as_plain_data(found.clock_at),
        "notes": list(found.notes),
        "cut": None if advice is None else _advice(advice),
    }


def _section(one: WornSection) -> dict[str, Any]:
    return {
        "from_m": one.section.from_m,
        "to_m": one.section.to_m,
        "full_bends": one.mean,
        "worst_full_bends": one.most,
        "share_of_worst": one.share,
        "causes": [
            {"kind": kind, "name": name, "share": share} for kind, name, share in one.causes
        ],
        "words": one.words,
    }


def _advice(advice: CutAdvice) -> dict[str, Any]:
    plan = advice.plan
    return {
        "ahead_days": advice.period_days,
        "verdict_first": advice.verdict_first,
        "why_not": advice.why_not,
        "nothing_helps": advice.nothing,
        "limits": None if plan is None else as_plain_data(plan.limits),
        "worst_now": None if plan is None else plan.worst_now,
        "worst_without": None if plan is None else plan.worst_without,
        "tried": 0 if plan is None else len(plan.tried),
        "options": [_option(one) for one in advice.options],
        "ahead": as_plain_data(advice.ahead),
        "cautions": list(advice.cautions),
    }


def _option(one: CutOption) -> dict[str, Any]:
    return {
        "words": one.words,
        "cut": as_plain_data(one.result.cut),
        "gained_days": one.result.gained_days,
        "gained_least_days": one.result.gained_least_days,
        "worst_full_bends": one.result.worst,
        "worst_rope_m": one.result.worst_rope_m,
        "why": list(one.why),
        "takes": list(one.labour),
        "hook_higher_m": one.hook_higher_m,
        "findings_gone": list(one.findings_gone),
        "effects": as_plain_data(one.effects),
        "gained_by_other_models": dict(one.by_models),
    }


def fleet_as_data(rows: Sequence[FleetRow], today: date) -> dict[str, Any]:
    """Wear of many ropes as JSON data, a short record for each.

    Parameters
    ----------
    rows
        The ropes.
    today
        The day of the question.
    """
    return {
        "form": FORM,
        "as_of": today.isoformat(),
        "ropes": [_row(row) for row in rows],
    }


def _row(row: FleetRow) -> dict[str, Any]:
    head: dict[str, Any] = {
        "case": row.case,
        "files": row.files,
        "problems": list(row.problems),
    }
    if row.agreement is None:
        return head
    return head | {
        "rope_id": row.rope_id,
        "days": row.days,
        "lifts": row.lifts,
        "bent_m": row.bent_m,
        "model": row.model,
        "edges_m": list(row.edges_m),
        "full_bends": list(row.full_bends),
        "top": [_section(one) for one in row.top],
        "agreement": as_plain_data(row.agreement) | {"agrees": row.agreement.agrees},
        "clock": as_plain_data(row.clock),
    }
