"""What stands behind the verdict: coverage, conditions, persons, statutory contents, seals."""

from collections.abc import Sequence
from typing import Any, Final

from ropewright.geometry import Section
from ropewright.inspection import Inspection, covered
from ropewright.inspection.findings import Method
from ropewright.paper.facts import Facts
from ropewright.paper.front import next_examination
from ropewright.paper.tables import Cell, Table, cell, more_note, table, text
from ropewright.paper.words import UNKNOWN, cut, day, first_up, metres, number, sections, share_of
from ropewright.rope import Cut

_METHOD_WORDS: Final[tuple[tuple[Method, str], ...]] = (
    ("eye", "By eye, any side"),
    ("eye-round", "By eye, all round"),
    ("feel", "By hand, feeling"),
    ("gauge", "By gauge"),
    ("internal", "Inside, rope opened"),
    ("mrt", "Magnetic rope test"),
)
_BY_HAND: Final = "to be filled in by hand"
MOST_PEOPLE: Final = 5
MOST_LINES: Final = 8
LONGEST_ROW: Final = 340


def pairs(heading: str, rows: Sequence[tuple[str, str]]) -> Table:
    """A list of labels and words."""
    kept = [[cut(label, 60), cut(words, LONGEST_ROW)] for label, words in rows]
    return {"kind": "pairs", "heading": heading, "rows": kept}


def lines(heading: str, words: Sequence[str]) -> Table:
    """A list of sentences."""
    return {"kind": "lines", "heading": heading, "rows": [cut(one, LONGEST_ROW) for one in words]}


# --- the inspection ---


def coverage_table(facts: Facts) -> Table:
    """What was covered by which method, what was hidden, what was not seen."""
    latest, service = facts.latest, facts.service
    rows: list[list[Cell]] = []
    if latest is not None:
        for method, words in _METHOD_WORDS:
            pieces = _clipped(covered(latest, method), service)
            if pieces or method in ("eye", "feel"):
                rows.append(_coverage_row(words, pieces, service))
        hidden = _clipped([one.section for one in latest.hidden], service)
        if hidden:
            rows.append(_coverage_row("Hidden from sight", hidden, service))
    rows.append(_coverage_row("Not seen, not felt", facts.unseen, service, strong=True))
    points = ""
    if latest is not None:
        points = ", ".join(dict.fromkeys(one.point for one in latest.passes if one.point))
    return table(
        "Coverage by method",
        [("Method", "1.8fr"), ("Length, share", "1.4fr"), ("Sections", "2.8fr")],
        rows,
        note=f"Inspection points: {cut(points, 160)}." if points else "",
    )


def _coverage_row(
    words: str, pieces: Sequence[Section], service: Section, *, strong: bool = False
) -> list[Cell]:
    return [
        cell(text(words, bold=strong)),
        cell(text(share_of(pieces, service) if pieces else "none", bold=strong)),
        cell(sections(pieces) if pieces else "–"),
    ]


def _clipped(pieces: Sequence[Section], service: Section) -> list[Section]:
    return [
        Section(max(one.from_m, service.from_m), min(one.to_m, service.to_m))
        for one in pieces
        if one.overlaps(service)
    ]


def conditions(facts: Facts) -> Table:
    """Light, weather, cleaning, tension, instruments, places and parts examined."""
    latest = facts.latest
    if latest is None:
        return pairs("Conditions and instruments", [("Inspection", "none on record")])
    state = latest.conditions
    cleaned = {True: "yes", False: "no", None: UNKNOWN}[state.rope_cleaned]
    around = [state.light, state.weather, state.wind and f"wind {state.wind}"]
    rows = [
        ("Light, weather, wind", "; ".join(part for part in around if part) or UNKNOWN),
        ("Rope cleaned; grease", f"{cleaned}; {state.grease}"),
        ("Tension at measuring", state.tension or UNKNOWN),
    ]
    for tool in latest.instruments[:4]:
        grain = f", reads to {number(tool.resolution_mm)} mm" if tool.resolution_mm else ""
        calibrated = "calibration not stated"
        if tool.calibrated_on is not None or tool.calibration_due is not None:
            calibrated = f"calibrated {day(tool.calibrated_on)}, due {day(tool.calibration_due)}"
        rows.append((first_up(tool.name), f"{tool.kind}{grain}, {calibrated}"))
    if not latest.instruments:
        rows.append(("Instruments", UNKNOWN))
    rows += _examined(latest)
    remark = "; ".join(part for part in (state.remark, latest.remark) if part)
    if remark:
        rows.append(("Remarks", remark))
    return pairs("Conditions and instruments", rows)


def _examined(latest: Inspection) -> list[tuple[str, str]]:
    rows = []
    for state, words in (("seen", "Examined"), ("not seen", "Not examined"),
                         ("not fitted", "Not fitted")):  # fmt: skip
        items = [
            one.item + (f" ({one.remark})" if one.remark else "")
            for one in latest.examined
            if one.state == state
        ]
        if items:
            rows.append((words, ", ".join(items)))
    return rows


def persons_table(facts: Facts) -> Table:
    """Who inspected: qualification, certificate, employer, independence."""
    people = facts.latest.by if facts.latest else ()
    rows = []
    for person in people[:MOST_PEOPLE]:
        expires = f"expires {day(person.certificate_expires)}" if person.certificate else ""
        employer = ", ".join(part for part in (person.employer, person.address) if part)
        independent = {True: "independent", False: "not independent", None: ""}[person.independent]
        rows.append(
            [
                cell(text(_joined(first_up(person.role), person.name), bold=True)),
                cell(f"{person.qualification or UNKNOWN} ({person.competence})"),
                cell(_joined(person.certificate or UNKNOWN, expires)),
                cell(_joined(employer or UNKNOWN, independent)),
            ]
        )  # fmt: skip
    return table(
        "Persons",
        [("Role, name", "1.7fr"), ("Qualification (held to be)", "2.4fr"),
         ("Certificate", "1.5fr"), ("Employer, address", "2.8fr")],
        rows,
        note=more_note(len(people), len(rows), "persons"),
        empty="No person is named for this inspection.",
    )  # fmt: skip


def _joined(*parts: str) -> str:
    return ", ".join(part for part in parts if part)


def history_lines(facts: Facts) -> list[str]:
    """Cuts, turns, events, permissions and open questions, the newest first."""
    said: list[tuple[str, str]] = []
    for step in facts.dossier.history.steps:
        if step.on > facts.as_of:
            continue
        why = f" ({step.reason})" if step.reason else ""
        what = (
            f"{metres(step.length_m)} cut off at end {step.end}"
            if isinstance(step, Cut)
            else ("turned end for end")
        )
        said.append((step.on.isoformat(), f"{what}{why}"))
    for event in facts.dossier.events:
        if event.on > facts.as_of:
            continue
        where = f", {sections([event.section])}" if event.section else ""
        release = "not released"
        if event.release is not None and event.release.on <= facts.as_of:
            release = (f"released {event.release.on.isoformat()} by {event.release.by} on "
                       f"{event.release.evidence}")  # fmt: skip
        remark = f" ({event.remark})" if event.remark else ""
        said.append((event.on.isoformat(), f"{event.kind}{where}{remark}: {release}"))
    for permission in facts.dossier.installation.permissions:
        chosen = f"permission {permission.permission} of {permission.rule_set}"
        words = f"{chosen}, chosen by {permission.by}: {permission.reason}"
        said.append((permission.on.isoformat(), words))
    newest = sorted(said, reverse=True)
    shown = [f"{when}: {what}." for when, what in newest[:MOST_LINES]]
    if len(newest) > MOST_LINES:
        shown.append(f"{len(newest) - MOST_LINES} more in the record.")
    questions = [
        f"{'Open' if one.answer is None else 'Answered'} question: "
        f"{one.earlier.finding.finding_id} of {one.earlier.inspection.on.isoformat()}: {one.why}"
        + ("." if one.answer is None else f"; {one.answer.words}. It still counts.")
        for one in facts.evidence.questions[:3]
    ]
    return [*questions, *shown]


# --- statutory contents ---


def statutory(facts: Facts) -> Table:
    """Where this report has the contents of LOLER 1998, Schedule 1; gaps are to be filled by hand.

    Source: The Lifting Operations and Lifting Equipment Regulations 1998, Schedule 1
    Provenance: text for items 1 to 8, memory for the rest
    """
    crane, latest = facts.dossier.crane, facts.latest
    employer = ", ".join(part for part in (crane.owner, crane.owner_address) if part)
    site = ", ".join(part for part in (crane.site, crane.site_address) if part)
    examiner = latest.by[0] if latest and latest.by else None
    examiner_words = _BY_HAND
    if examiner is not None:
        examiner_words = _joined(examiner.name or examiner.role, examiner.address)
    rows = [
        ("Employer, name and address", employer or _BY_HAND),
        ("Place of examination", site or _BY_HAND),
        ("Equipment, when built", _equipment(facts)),
        ("Last thorough examination", _last_examination(facts)),
        ("Safe working load", crane.safe_working_load or _BY_HAND),
        ("Kind of examination", _kind(facts)),
        ("Defects that are, or could become, a danger", _defects(facts)),
        ("Repair needed, by when", _repairs(facts)),
        ("Latest next examination", _or_by_hand(next_examination(facts))),
        ("Tests made", _tests(latest)),
        ("Date of this examination", latest.on.isoformat() if latest else _BY_HAND),
        ("Examiner", examiner_words),
        ("Authenticated by", latest.signed_by if latest and latest.signed_by else
         "signature on page 1"),
    ]  # fmt: skip
    return pairs("Contents asked for by LOLER 1998, Schedule 1", rows)


def _or_by_hand(words: str) -> str:
    return _BY_HAND if words == UNKNOWN else words


def _equipment(facts: Facts) -> str:
    crane = facts.dossier.crane
    built = f"built {crane.built}" if crane.built else f"date of building {_BY_HAND}"
    return (
        f"rope {facts.assessment.rope_id}, {facts.dossier.installation.hoist} of crane "
        f"{crane.crane_id}, {built}"
    )


def _last_examination(facts: Facts) -> str:
    latest = facts.latest
    earlier = [
        one for one in facts.evidence.past
        if one.is_thorough and one.finished and latest is not None and one is not latest
        and one.on <= latest.on
    ]  # fmt: skip
    if not earlier:
        return f"none on record; {_BY_HAND}"
    return f"{earlier[-1].on.isoformat()} ({earlier[-1].kind})"


def _kind(facts: Facts) -> str:
    if facts.latest is None:
        return _BY_HAND
    lifted = {
        True: "persons are lifted, at most 6 months",
        False: "persons are not lifted, at most 12 months",
        None: "whether persons are lifted is not stated, so at most 6 months",
    }[facts.dossier.installation.persons_lifted]
    return f"{facts.latest.kind}; {lifted}, or by an examination scheme"


def _defects(facts: Facts) -> str:
    """The gravest in words, the others by number: all of them stand in the tables above."""
    reached = [
        one.words for one in facts.rulings("reached") if one.section is not None or one.finding_ids
    ]
    parts = [
        f"{one.finding.part} {one.finding.which}: {one.finding.state}"
        for one in facts.evidence.parts
        if one.finding.dangerous is not False
    ]
    words = [cut(one, 160) for one in (*reached[:1], *parts[:2])]
    more = len(reached) + len(parts) - len(words)
    tail = f"; {more} more under 'reached' above" if more > 0 else ""
    if words:
        return "; ".join(words) + tail
    nothing = not facts.evidence.seen and not facts.evidence.parts
    return "none recorded" if nothing else "none reached a limit; all findings stand above"


def _repairs(facts: Facts) -> str:
    verdict = facts.assessment.verdict
    if not verdict.remedy:
        return "none recorded"
    more = f" ({len(verdict.remedy) - 1} more on page 1)" if len(verdict.remedy) > 1 else ""
    return f"{cut(verdict.remedy[0], 120)}{more}; {verdict.by_when or _BY_HAND}"


def _tests(latest: Inspection | None) -> str:
    if latest is None:
        return _BY_HAND
    done = {one.method for one in latest.passes}
    names = {"mrt": "magnetic rope test", "internal": "rope opened and looked inside",
             "gauge": "measured by gauge"}  # fmt: skip
    return ", ".join(words for method, words in names.items() if method in done) or "none recorded"


# --- what it was made with ---


def made_with(facts: Facts, *, file_note: str, seal: str | None, record_hash: str) -> Table:
    """Software, rule files, record and seal, with their hashes."""
    used = facts.assessment.rule_sets
    rules = ", ".join(f"{one.rule_set} {one.rules_hash[:16]}" for one in used[:8])
    rows = [
        ("Software", facts.assessment.software),
        ("Rule files", f"SHA-256 begins {rules or UNKNOWN}"),
        *((f"On {one.rule_set}", cut(one.notice, 320)) for one in used[:6] if one.notice),
        ("Attached record", f"ropewright-record.json, SHA-256 {record_hash}"),
        ("Made from", file_note or UNKNOWN),
        ("Shortened texts", "what ends in … stands whole in the record"),
        ("Seal of the logbook", seal or "none: not made from a logbook"),
    ]
    return pairs("Made with", rows)


def assumptions(facts: Facts) -> Table:
    """What was taken for granted, in the words of the assessment."""
    said = list(facts.assessment.assumptions[:MOST_LINES])
    more = more_note(len(facts.assessment.assumptions), len(said), "assumptions")
    return lines("Assumptions used", [*said, *([more] if more else [])] or ["None."])


def contents(facts: Facts, made: Table) -> dict[str, Any]:
    """The tables of the pages behind page 1, except rulings and findings."""
    history = history_lines(facts)
    return {
        "coverage": coverage_table(facts),
        "conditions": conditions(facts),
        "persons": persons_table(facts),
        "history": lines("History and events", history or ["Nothing on record."]),
        "statutory": statutory(facts),
        "assumptions": assumptions(facts),
        "made": made,
    }
