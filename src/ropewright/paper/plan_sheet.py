"""The sheet of a plan that a person takes along: one page of words, crane and drum on its back."""

from collections.abc import Iterable, Sequence
from typing import Any, Final

from ropewright.geometry import Section
from ropewright.inspection import Dossier, hoist_on
from ropewright.paper.letters import drawn
from ropewright.paper.setting import described, set_page
from ropewright.paper.words import cut, first_up
from ropewright.picture import crane_elevation, drum_section
from ropewright.plan import (
    AT_REST,
    FIRST,
    InspectionPlan,
    PlanSheet,
    SheetFind,
    SheetPass,
    plan_sheet,
)
from ropewright.rules import LEVEL_WORDS, Assessment

MOST_PASSES: Final = 8
MOST_GAPS: Final = 5
MOST_FINDS: Final = 8
_PICTURE_WIDTH: Final = 720


def plan_pdf(dossier: Dossier, plan: InspectionPlan, assessment: Assessment) -> bytes:
    """The sheet of a plan as PDF: the page to take along, and drawings on its back.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    plan
        The plan.
    assessment
        What the rules say of the rope before this inspection.

    Raises
    ------
    RenderError
        If the page cannot be set.
    """
    pictures = _pictures(dossier, plan)
    data = _data(dossier, plan, assessment)
    data["pictures"] = [
        {"name": name, "alt": described(svg)["words"]} for name, svg in pictures.items()
    ]
    return set_page(
        "plan.typ",
        data,
        {name: drawn(svg).encode() for name, svg in pictures.items()},
        made_on=plan.on,
    )


def _pictures(dossier: Dossier, plan: InspectionPlan) -> dict[str, str]:
    made = {"crane.svg": crane_elevation(dossier, plan.on, plan=plan, width_px=_PICTURE_WIDTH)}
    if not hoist_on(dossier, plan.on).asked_for_drum:
        made["drum.svg"] = drum_section(dossier, plan.on, width_px=_PICTURE_WIDTH)
    return made


def _data(dossier: Dossier, plan: InspectionPlan, assessment: Assessment) -> dict[str, Any]:
    sheet = plan_sheet(plan)
    verdict = assessment.verdict
    hold = ", on hold" if verdict.on_hold else ""
    crane = " · ".join(
        part
        for part in (f"Crane {dossier.crane.crane_id}", dossier.crane.kind, dossier.crane.site)
        if part and part != "other"
    )
    return {
        "title": f"Plan of an inspection: rope {cut(plan.rope_id, 60)}",
        "rope": cut(plan.rope_id, 40),
        "crane": cut(crane, 120),
        "on": plan.on.isoformat(),
        "made_parts": [plan.on.year, plan.on.month, plan.on.day],
        "invented": "Invented data – demonstration" if plan.invented else "",
        "before": first_up(LEVEL_WORDS[verdict.level]) + hold,
        "facts": _facts(plan),
        "passes": [_pass_row(one) for one in sheet.passes[:MOST_PASSES]],
        "hands": _hands(sheet),
        "gaps": [
            [f"{_metres(one.sections)}, by {one.methods}", cut(one.why, 170), cut(one.how, 280)]
            for one in sheet.gaps[:MOST_GAPS]
        ],
        "finds": [_find_row(one) for one in sheet.finds[:MOST_FINDS]],
        "left_out": _left_out(sheet),
        "cautions": [one for one in sheet.cautions if one != FIRST],
        "first": FIRST,
        "steps": list(sheet.steps),
    }  # fmt: skip


def _facts(plan: InspectionPlan) -> list[str]:
    facts = [
        f"Rope {_metres([plan.service])}, from end A",
        f"Places from crane readings ± {plan.err_m:.1f} m",
        f"{plan.minutes:.0f} min of running and walking",
    ]
    facts += [f"Look again: {one}" for one in plan.doubts]
    if plan.by_payout:
        facts.append("Only falls and hook heights known: hook heights are the record")
    return facts


def _pass_row(one: SheetPass) -> list[str]:
    speed = f"{one.rope_m_per_s:.2f} m/s" if one.rope_m_per_s else "at rest"
    return [
        one.methods, one.place, one.crane, _metres(one.shows), speed, f"{one.minutes:.0f} min",
    ]  # fmt: skip


def _find_row(one: SheetFind) -> list[str]:
    off = " – HAND OFF" if one.hand_off else ""
    rope = f"{one.rope_m:.1f} m ± {one.err_m:.1f}"
    return [cut(one.what, 90) + off, rope, one.place, cut(one.crane, 110)]


def _hands(sheet: PlanSheet) -> list[dict[str, Any]]:
    rows = []
    for one in sheet.passes[:MOST_PASSES]:
        if "feel" in one.methods and (one.hands_off or one.hand != AT_REST):
            twice = sum(one.place == other.place for other in sheet.passes) > 1
            place = f"{one.place}, {one.crane}" if twice else one.place
            rows.append({"place": place, "way": first_up(one.hand), "off": list(one.hands_off)})
    return rows


def _left_out(sheet: PlanSheet) -> str:
    more = [
        f"{len(rows) - most} more {words}"
        for rows, most, words in (
            (sheet.passes, MOST_PASSES, "passes"),
            (sheet.gaps, MOST_GAPS, "sections not covered"),
            (sheet.finds, MOST_FINDS, "places to find again"),
        )
        if len(rows) > most
    ]
    return f"Not on this page: {', '.join(more)}; they stand in the whole plan." if more else ""


def _metres(sections: Iterable[Section] | Sequence[Section]) -> str:
    return ", ".join(f"{one.from_m:.1f}–{one.to_m:.1f} m" for one in sections)
