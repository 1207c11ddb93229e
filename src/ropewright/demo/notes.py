"""What a logbook of the site holds besides inspections: dressing, re-spooling, ends, handovers.

A case file has no place for these; they change no verdict.  Each is plain data in the form that
the logbook's kinds of entries have.
"""

import uuid
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any, Final

_NAMES: Final = uuid.UUID("8b9d9a3e-6d0c-5f0a-9a57-3a2f0e4c7b15")
_BY: Final = "{person}"
"""Stands in a payload where the id of the person goes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DemoNote:
    """An entry of the site's logbook: ``person`` says who, as a role of the site in words.

    ``role`` is one of the logbook's roles; in ``payload`` the person stands as ``{person}``.
    """

    rope_id: str
    kind: str
    at: datetime
    person: str
    role: str
    payload: Mapping[str, Any]

    @property
    def entry_id(self) -> str:
        """The id that follows from rope, kind and moment."""
        return str(uuid.uuid5(_NAMES, f"{self.rope_id}/{self.kind}/{self.at.isoformat()}"))

    def with_person(self, person_id: str) -> dict[str, Any]:
        """The payload with the person's id in it."""
        return {
            key: {"person": person_id} if value == _BY else value
            for key, value in self.payload.items()
        }


def _note(rope_id: str, kind: str, at: str, who: str, role: str, **payload: object) -> DemoNote:
    moment = datetime.fromisoformat(f"{at}:00").replace(tzinfo=UTC)
    return DemoNote(rope_id=rope_id, kind=kind, at=moment, person=who, role=role, payload=payload)


_FITTER: Final = ("rope fitter of the site", "rope fitter")
_OPERATOR: Final = ("crane operator of the site", "operator")
_SUPERVISOR: Final = ("lift supervisor of the site", "lift supervisor")

#: Everything in the order in which it happened.
SITE_NOTES: Final[tuple[DemoNote, ...]] = (
    _note(
        "KQ-3 hoist", "re-termination", "2025-09-15T10:30", *_FITTER,
        end="A", fitting="wedge socket", tail_mm="400", remark="after the first cut",
    ),
    _note(
        "KQ-3 hoist", "re-termination", "2026-03-16T09:40", *_FITTER,
        end="A", fitting="wedge socket", tail_mm="410", remark="after the second cut",
    ),
    _note(
        "KQ-1 hoist", "lubrication", "2026-03-23T07:10", *_FITTER,
        lubricant="thin dressing, transparent", cleaned_first=True,
    ),
    _note(
        "KQ-4 hoist", "lubrication", "2026-06-15T14:05", *_FITTER,
        lubricant="brushed-on dressing", cleaned_first=False,
        remark="put on thickly at the equaliser's side",
    ),
    _note(
        "KQ-3 hoist", "re-spool", "2026-06-22T13:20", *_FITTER,
        tension="5.5 kN, load cell in the pulling line", wraps_from="drum clamp",
        remark="after the rope was turned end for end",
    ),
    _note(
        "KQ-1 hoist", "re-spool", "2026-08-24T06:45", *_FITTER,
        tension="6 kN, test load on the hook", wraps_from="dead wraps",
        remark="layers 3 to 5 lay loose after weeks of light lifts",
    ),
    _note(
        "KQ-2 luffing", "lubrication", "2026-08-31T15:30", *_FITTER,
        lubricant="thin dressing, transparent", cleaned_first=True, remark="jib laid down",
    ),
    _note(
        "KQ-1 trolley", "lubrication", "2026-09-21T07:30", *_FITTER,
        lubricant="thin dressing, transparent", cleaned_first=True,
        remark="jib-tip end not reached",
    ),
    _note(
        "KQ-5 hoist", "limit override", "2026-11-02T11:15", *_SUPERVISOR,
        override_id="lower limit of KQ-5", which="lower limit switch",
        by=_BY, reason="bridged to spool the new rope; to be set again and tried after running in",
    ),
    _note(
        "KQ-2 hoist", "limit override", "2026-11-06T08:05", *_SUPERVISOR,
        override_id="lower limit of KQ-2", which="lower limit switch",
        by=_BY, reason="hook taken right down for the inspection, supervised, empty hook",
    ),
    _note(
        "KQ-2 hoist", "limit reset", "2026-11-06T11:50", *_SUPERVISOR,
        override_id="lower limit of KQ-2", tried=True, remark="tried twice with the empty hook",
    ),
    _note(
        "KQ-1 hoist", "handover taken", "2026-11-09T14:00", *_OPERATOR,
        by=_BY, told=["5 broken wires beside blue mark 7: hoist out of use"],
    ),
    _note(
        "KQ-4 hoist", "handover taken", "2026-11-09T14:10", *_OPERATOR,
        by=_BY,
        told=["9 broken wires beside yellow mark 1", "one wrap out of its groove, drum stopped"],
    ),
)  # fmt: skip


def notes_for(rope_id: str) -> tuple[DemoNote, ...]:
    """The notes on one rope."""
    return tuple(one for one in SITE_NOTES if one.rope_id == rope_id)
