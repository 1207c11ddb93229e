"""Limits, findings and plan in the form the card has them."""

from fractions import Fraction
from math import floor
from typing import Any

from ropewright.card.last_time import LastTime
from ropewright.inspection import BrokenWires, Damage, DiameterReading, MetallicLoss, Waviness
from ropewright.plan import InspectionPlan, PlannedPass, Reach, TroubleSpot
from ropewright.rules import (
    BunchedLimit,
    CountLimit,
    DiameterLimit,
    Figure,
    FoundLimit,
    OfficeLimit,
    PartLimit,
    ResolvedLimit,
    WaveLimit,
    WornLimit,
)
from ropewright.rules.words import number, threshold
from ropewright.units import as_plain_data, exact_text


def limit_as_data(limit: ResolvedLimit) -> dict[str, Any]:
    """One limit: what every limit has, then what its kind adds."""
    clause = limit.clause
    made: dict[str, Any] = {
        "id": clause.limit_id,
        "kind": _KINDS[type(limit)],
        "cite": clause.cite,
        "title": clause.title,
        "words": _words(limit),
        "provenance": clause.provenance,
        "demand": clause.demand,
        "remedy": list(clause.remedy),
        "who": clause.who,
        "by_when": clause.by_when,
        "at": list(clause.at),
    }
    return made | _more(limit)


_KINDS = {
    CountLimit: "breaks",
    BunchedLimit: "bunched",
    DiameterLimit: "diameter",
    WaveLimit: "waviness",
    FoundLimit: "damage",
    WornLimit: "worn wires",
    PartLimit: "part",
    OfficeLimit: "office",
}


def _figure(figure: Figure) -> dict[str, Any]:
    return {
        "value": as_plain_data(figure.value),
        "missing": list(figure.missing),
        "unknown": list(figure.unknown),
    }


def _more(limit: ResolvedLimit) -> dict[str, Any]:
    if isinstance(limit, CountLimit):
        return {
            "sites": list(limit.sites),
            "window": limit.window,
            "shortest_mm": as_plain_data(limit.shortest_mm),
            "longest_mm": as_plain_data(limit.longest_mm),
            "per": limit.per,
            "where": limit.where,
            "protruding_only": limit.protruding_only,
            "steel_sheaves_only": limit.steel_sheaves_only,
            "compare": limit.compare,
            "limit": {"single": _figure(limit.single), "multi": _figure(limit.multi)},
            "worn": [
                {"percent": as_plain_data(at), "factor": as_plain_data(by)} for at, by in limit.worn
            ],
        }
    if isinstance(limit, OfficeLimit):
        return {"why": limit.why}
    taken = as_plain_data(limit)
    del taken["clause"]
    return dict(taken)


def _words(limit: ResolvedLimit) -> str:
    """The limit in words, with this rope's own number where it is one."""
    if isinstance(limit, CountLimit):
        value = limit.single.value
        if value is None:
            return limit.clause.words
        per = " in one strand" if limit.per == "strand" else ""
        sites = "" if "crown" in limit.sites else f" ({' or '.join(limit.sites)})"
        where = "" if limit.where == "anywhere" else f", {limit.where}"
        out = ", standing out" if limit.protruding_only else ""
        return (
            f"{threshold(number(value), limit.compare)} broken wires{sites}{per}{out} "
            f"in {limit.window}{where}"
        )
    if isinstance(limit, DiameterLimit):
        figure = threshold(f"{number(limit.limit)} {limit.unit}", limit.compare)
        return f"{limit.change} from the {limit.baseline}: {figure}"
    if isinstance(limit, WaveLimit):
        return f"gap of {threshold(f'{_down(limit.limit_mm)} mm', limit.compare)}"
    return limit.clause.words


def _down(value: Fraction) -> str:
    """A limit [mm] as it can be read off a gauge: exact if it ends, else hundredths, down."""
    text = exact_text(value)
    return number(Fraction(floor(value * 100), 100)) if "/" in text else text


def last_time_as_data(one: LastTime) -> dict[str, Any]:
    """A finding of an earlier inspection that counts, with its course and how to reach it."""
    finding = one.finding
    section = finding.section
    made: dict[str, Any] = {
        "id": finding.finding_id,
        "kind": finding.kind,
        "on": one.on.isoformat(),
        "inspection_id": one.inspection_id,
        "method": finding.method,
        "at_m": finding.place.at_m,
        "abs_err_m": finding.place.abs_err_m,
        "rel_err_m": finding.place.rel_err_m,
        "from_m": section.from_m,
        "to_m": section.to_m,
        "same_as": finding.same_as,
        "remark": finding.remark,
        "photos": list(finding.photos),
        "asks": one.asks,
        "course": as_plain_data(one.course),
        "reaches": [reach_as_data(reach) for reach in one.reaches],
        "not_reached": list(one.not_reached),
        "hand_off": one.hand_off,
    }
    if isinstance(finding, BrokenWires):
        made |= {
            "groups": as_plain_data(finding.groups),
            "count": finding.count,
            "offset_err_mm": as_plain_data(finding.offset_err_mm),
            "crossover_damage": finding.crossover_damage,
            "ends_broken_off": finding.ends_broken_off,
        }
    elif isinstance(finding, DiameterReading):
        made |= {
            "readings_mm": as_plain_data(finding.readings_mm),
            "crushed_by_crossover": finding.crushed_by_crossover,
        }
    elif isinstance(finding, Waviness):
        made |= {"gap_mm": as_plain_data(finding.gap_mm), "length_m": finding.length_m}
    elif isinstance(finding, Damage):
        made |= {
            "damage": finding.damage,
            "length_m": finding.length_m,
            "form": finding.form,
            "grade": finding.grade,
            "rating_percent": as_plain_data(finding.rating_percent),
            "depth_share": as_plain_data(finding.depth_share),
        }
    elif isinstance(finding, MetallicLoss):
        made |= {
            "percent": as_plain_data(finding.percent),
            "over_mm": as_plain_data(finding.over_mm),
        }
    return made


def reach_as_data(reach: Reach) -> dict[str, Any]:
    """How a place comes in front of a person."""
    direction = reach.direction
    return {
        "place": reach.place,
        "words": reach.words,
        "hook_m": reach.hook_m,
        "hook_err_m": reach.hook_err_m,
        "direction": None if direction is None else as_plain_data(direction),
    }


def plan_as_card(plan: InspectionPlan) -> dict[str, Any]:
    """The plan as far as the person at the rope needs it."""
    return {
        "on": plan.on.isoformat(),
        "minutes": round(plan.minutes, 1),
        "err_m": round(plan.err_m, 3),
        "passes": [_pass(one) for one in plan.passes],
        "unseen": [
            {
                "method": one.method,
                "from_m": one.section.from_m,
                "to_m": one.section.to_m,
                "why": one.why,
                "how": one.how,
            }
            for one in plan.unseen
        ],
        "trouble": [_spot(one) for one in plan.trouble],
        "parts": [_spot(one) for one in plan.parts],
        "steps": as_plain_data(plan.steps),
    }


def _pass(one: PlannedPass) -> dict[str, Any]:
    view = one.view
    return {
        "method": one.method,
        "place": view.place,
        "how": view.how,
        "travel": view.travel,
        "axis": view.axis,
        "start": as_plain_data(view.start),
        "end": as_plain_data(view.end),
        "sections": [{"from_m": part.from_m, "to_m": part.to_m} for part in view.sections],
        "rope_m_per_s": round(view.rope_m_per_s, 3),
        "minutes": round(view.minutes, 1),
        "direction": None if view.direction is None else as_plain_data(view.direction),
        "hands_off": [
            {
                "from_m": off.section.from_m,
                "to_m": off.section.to_m,
                "why": off.why,
                "hook_from_m": off.hook_from_m,
                "hook_to_m": off.hook_to_m,
                "crane": off.crane,
            }
            for off in one.hands_off
        ],
    }


def _spot(one: TroubleSpot) -> dict[str, Any]:
    return {
        "item": one.item,
        "words": one.words,
        "sections": [{"from_m": part.from_m, "to_m": part.to_m} for part in one.sections],
        "reach": None if one.reach is None else reach_as_data(one.reach),
    }
