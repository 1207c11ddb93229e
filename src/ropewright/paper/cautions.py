"""Cautions for the work that a report sets off, chosen by what was found and what is to be done.

They come from the rules for safe work at the rope; local rule, maker's manual and competent
person come before every one of them.
"""

from typing import Final

from ropewright.inspection import BrokenWires
from ropewright.paper.facts import Facts
from ropewright.paper.words import metres

ALWAYS: Final = (
    (
        "Nobody works alone; nobody is on jib or trolley while it moves, except by the maker's "
        "means; fall protection on the structure."
    ),
    (
        "One person commands, anyone stops, silence means stop. Stop, isolate, lock and try "
        "before a hand goes near rope, sheave or drum."
    ),
    "Local rule, maker's manual and competent person come before this page.",
)
_CUT_WORDS: Final = ("replace", "cut", "shorten", "re-terminate")
_SPOOL_STATES: Final = ("pulled-in wrap", "slack layer", "wrap climbed out of groove")


def cautions(facts: Facts) -> list[str]:
    """Cautions for this rope, the nearest danger first."""
    chosen: list[str] = []
    broken = [one for one, _ in facts.evidence.broken_wires()]
    if broken:
        chosen.append(_wires(broken))
    remedy = " ".join(facts.assessment.verdict.remedy).lower()
    if any(word in remedy for word in _CUT_WORDS):
        chosen.append(
            "Before rope is cut: hung off, both sides secured and seized; eye and face "
            "protection; hot-work permit."
        )
    if facts.assessment.verdict.on_hold:
        chosen.append(
            "On hold: tag the hoist out; it does not lift until a named person releases it on "
            "named evidence."
        )
    parts = facts.evidence.parts
    if any(one.finding.state in _SPOOL_STATES for one in parts):
        chosen.append(
            "Pulled-in or slack wraps: isolate; rope fitters re-spool under load; no bars, no "
            "hands between wraps."
        )
    if facts.unseen or (facts.latest and facts.latest.hidden):
        chosen.append(
            "To see what stayed unseen: block just clear of the ground or landed with tension "
            "kept; look at the drum from outside its guard until it is isolated."
        )
    return [*chosen, *ALWAYS]


def _wires(broken: list[BrokenWires]) -> str:
    places = [metres(one.place.at_m) for one in sorted(broken, key=lambda one: -one.count)[:3]]
    more = " and elsewhere" if len(broken) > 3 else ""
    return (
        f"Broken wires cut: no hand on moving rope near {', '.join(places)}{more}; feel there "
        "only on stopped, isolated rope."
    )
