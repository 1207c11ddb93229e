"""Page 1: what the verdict is, by which clause, where, who decides, by when, what was unseen."""

from typing import Any, Final

from ropewright.paper.cautions import cautions
from ropewright.paper.facts import Facts
from ropewright.paper.words import (
    UNKNOWN,
    cut,
    day,
    first_up,
    found,
    is_from_memory,
    limit,
    number,
    place,
    sections,
    share_of,
    source,
)
from ropewright.rules import LEVEL_WORDS, Ruling

MOST_UNSEEN: Final = 4
MOST_REMEDIES: Final = 4
#: Longest run of words on page 1, so that it stays one page.
LONGEST: Final = 180
LONGEST_ITEM: Final = 110

_BY: Final = {
    "certificate": "by certificate",
    "given numbers": "as given",
    "table": "worked out from a table of factors",
}

Pairs = list[list[str]]


def front_page(facts: Facts) -> dict[str, Any]:
    """Everything that page 1 says, as plain data."""
    verdict = facts.assessment.verdict
    return {
        "rope": f"Rope {cut(facts.assessment.rope_id, 60)}",
        "crane": cut(_crane_line(facts), 110),
        "dates": _dates_line(facts),
        "level": verdict.level,
        "verdict": first_up(LEVEL_WORDS[verdict.level]),
        "hold": "On hold" if verdict.on_hold else "Not on hold",
        "on_hold": verdict.on_hold,
        "hold_why": cut("; ".join(verdict.hold_reasons), LONGEST)
        or "no reason for a hold was found",
        "why": _why(facts),
        "do": [first_up(cut(one, LONGEST_ITEM)) for one in verdict.remedy[:MOST_REMEDIES]]
        or [_nothing_to_do(facts)],
        "who": first_up(cut(verdict.who, 140)) or "The person who signs",
        "when": first_up(cut(verdict.by_when, 120)) or "–",
        "next": cut(next_examination(facts), 70),
        "unseen": _unseen(facts),
        "open": _open(facts),
        "identity": identity(facts),
        "cautions": cautions(facts),
    }


def _crane_line(facts: Facts) -> str:
    crane = facts.dossier.crane
    hoist = facts.dossier.installation.hoist
    parts = [f"Crane {crane.crane_id}", crane.kind if crane.kind != "other" else "", hoist,
             crane.site]  # fmt: skip
    return " · ".join(part for part in parts if part)


def _dates_line(facts: Facts) -> str:
    latest = facts.latest
    if latest is None:
        return f"No inspection on record · judged for {facts.assessment.as_of}"
    unfinished = "" if latest.finished else " (not finished)"
    return (
        f"{first_up(latest.kind)} inspection of {latest.on.isoformat()}{unfinished} · judged for "
        f"{facts.assessment.as_of}"
    )


def _why(facts: Facts) -> dict[str, Any]:
    """The ruling that governs, as label and words; for a rope without one, what that means."""
    if not facts.governing:
        return {"rows": [["Rulings", _none_governs(facts)]], "memory": False}
    ruling = facts.governing[0]
    rows = [
        ["Clause", f"{ruling.citation}, edition {ruling.edition}: {ruling.title}"],
        ["Found", found(ruling)],
    ]
    if ruling.limit is not None:
        rows.append(["Limit", first_up(limit(ruling))])
    rows.append(["Where", _where(ruling)])
    rows += [["Missing", cut(one, LONGEST_ITEM)] for one in ruling.missing[:2]]
    rows += [["To get it", cut(one, LONGEST_ITEM)] for one in ruling.how_to_get[:2]]
    rows.append(["Source", first_up(source(ruling))])
    others = [one for one in facts.governing[1:] if one.level == ruling.level]
    if others:
        named = "; ".join(dict.fromkeys(f"{one.citation}" for one in others[:4]))
        many = "ruling" if len(others) == 1 else "rulings"
        rows.append(["Also", f"{len(others)} more {many} of this weight: {named}"])
    return {
        "rows": [[label, cut(words, LONGEST)] for label, words in rows],
        "memory": is_from_memory(ruling),
    }


def _where(ruling: Ruling) -> str:
    findings = f" · finding {', '.join(ruling.finding_ids[:4])}" if ruling.finding_ids else ""
    words = place(ruling.section, ruling.section_err_m)
    return f"{first_up(words)} of rope position{findings}" if ruling.section else first_up(words)


def _none_governs(facts: Facts) -> str:
    if facts.assessment.verdict.level == "incomplete":  # no chosen rule was in force
        return facts.assessment.verdict.sentence
    judged = len(facts.rulings("below", "reached", "not assessable"))
    return f"{judged} clauses were judged; none reached its limit and none stayed open."


def _nothing_to_do(facts: Facts) -> str:
    if facts.assessment.verdict.level == "incomplete":
        return "Complete the inspection: see what cannot be judged yet"
    if facts.assessment.verdict.level == "monitor":
        return "Watch the places in the table of findings at every inspection"
    return "Go on inspecting as the rules and the maker ask"


def next_examination(facts: Facts) -> str:
    """The latest date of the next inspection, and who stated it."""
    latest, installation = facts.latest, facts.dossier.installation
    if latest is not None and latest.next_by is not None:
        return f"{latest.next_by.isoformat()}, stated at this inspection"
    if installation.interval_days is not None:
        by = f" by the {installation.interval_by}" if installation.interval_by else ""
        return f"within {installation.interval_days} days, as set{by}"
    return UNKNOWN


def _unseen(facts: Facts) -> list[str]:
    """What was not seen, why, and who accepted that."""
    verdict, latest = facts.assessment.verdict, facts.latest
    lines = []
    if verdict.unseen_whole_rope or latest is None:
        lines.append("The whole rope: no pass by eye or hand is on record.")
    elif facts.unseen:
        lines.append(
            f"No eye and no hand over {sections(facts.unseen, MOST_UNSEEN)}: "
            f"{share_of(facts.unseen, facts.service)} of the rope in service."
        )
    else:
        lines.append("Nothing: an eye or a hand has been over all of the rope in service.")
    if latest is None:
        return lines
    causes: dict[str, list[Any]] = {}
    for one in latest.hidden:
        causes.setdefault(one.cause, []).append(one.section)
    for cause, pieces in list(causes.items())[:3]:
        lines.append(f"Hidden from sight ({cause}): {sections(pieces, MOST_UNSEEN)}.")
    for accepted in latest.accepted[:2]:
        lines.append(
            f"{first_up(accepted.by)} accepts until {accepted.until.isoformat()} that "
            f"{sections([accepted.section])} was not seen: {accepted.reason}."
        )
    return [cut(line, 160) for line in lines]


def _open(facts: Facts) -> str:
    """How much cannot be judged yet."""
    left = facts.rulings("not assessable")
    if not left:
        return "Every clause that applies could be judged."
    what = "clause" if len(left) == 1 else "clauses"
    gravest = f"{left[0].title} ({left[0].rule_title})"
    more = f" and {len(left) - 1} more, see the table of rulings" if len(left) > 1 else ""
    return f"{len(left)} {what} cannot be judged yet: {cut(gravest, LONGEST_ITEM)}{more}."


def identity(facts: Facts) -> Pairs:
    """Who this rope is: label and words."""
    rope, installation = facts.dossier.rope, facts.dossier.installation
    crane, rigging = facts.dossier.crane, facts.rigging
    make = rope.construction
    lay = _lay_words(facts)
    grade = f", grade {number(rope.grade)} N/mm²" if rope.grade else ""
    core = f", {make.core} core" if make.core else ", core not stated"
    certificate = UNKNOWN
    if rope.certificate is not None:
        issued = rope.certificate.issued_on
        certificate = rope.certificate.number + (f" of {issued.isoformat()}" if issued else "")
    force = rope.breaking_force()
    breaking = UNKNOWN if force is None else f"{number(force.value)} kN, {_BY[force.origin]}"
    falls = UNKNOWN if rigging is None or rigging.falls is None else str(rigging.falls)
    length = f"{metres_in(facts)} of {rope.length_m:g} m as first installed"
    rows = [
        ["Rope", f"{number(rope.nominal_diameter_mm)} mm {make.name}{core}{grade}, {lay}"],
        ["Length in service", length],
        ["Certificate", certificate],
        ["Breaking force", breaking],
        ["Fitted on", day(installation.fitted_on)],
        ["Reference diameter", reference(facts)],
        ["Crane", _crane_words(facts)],
        ["Safe working load", crane.safe_working_load or UNKNOWN],
        ["Falls", falls],
        ["Inspected by", inspected_by(facts)],
    ]
    return [[label, cut(words, 90)] for label, words in rows]


def _lay_words(facts: Facts) -> str:
    rope = facts.dossier.rope
    if rope.lay_type is None and rope.lay_hand is None:
        return "lay not stated"
    kind = {"lang": "Lang lay", "ordinary": "ordinary lay", None: "lay"}[rope.lay_type]
    return f"{kind} ({rope.lay_hand} hand)" if rope.lay_hand else kind


def metres_in(facts: Facts) -> str:
    """Length of the rope in service, in words."""
    return f"{facts.service.length_m:.1f} m".replace(".0 m", " m")


def _crane_words(facts: Facts) -> str:
    crane = facts.dossier.crane
    built = f", built {crane.built}" if crane.built else ""
    return f"{crane.crane_id}, {crane.kind}{built}"


def reference(facts: Facts) -> str:
    """The reference diameter and its date."""
    measured = facts.dossier.installation.reference
    if measured is None or measured.measured_mm is None:
        return UNKNOWN
    tension = f", {measured.tension}" if measured.tension else ""
    return f"{number(measured.measured_mm)} mm on {measured.on.isoformat()}{tension}"


def inspected_by(facts: Facts) -> str:
    """Who inspected, by role and name."""
    if facts.latest is None or not facts.latest.by:
        return UNKNOWN
    people = [one.role + (f" ({one.name})" if one.name else "") for one in facts.latest.by[:3]]
    return "; ".join(people)
