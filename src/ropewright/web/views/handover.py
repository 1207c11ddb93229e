"""What greets the next shift: everything that is open on each rope."""

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ropewright.desk.open_book import Line, Stand
from ropewright.rules import LEVEL_WORDS
from ropewright.web.glances import Glance
from ropewright.web.views.board import URGENCY, urgency_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Open:
    """One rope with what is open on it, in words, and who last took note."""

    rope_id: str
    glance: Glance
    open: tuple[str, ...]
    taken: Line | None


def handover_view(
    stands: Sequence[Stand], glances: Mapping[str, Glance], taken: Mapping[str, Line | None]
) -> tuple[Open, ...]:
    """Ropes on which anything is open, gravest first.

    Parameters
    ----------
    stands
        Where ropes stand.
    glances
        What was judged of them.
    taken
        The last time somebody took over, by rope.
    """
    found = []
    for one in stands:
        if one.record.get("state") == "taken off":
            continue
        words = open_words(one, glances[one.rope_id])
        if words:
            found.append(
                Open(
                    rope_id=one.rope_id, glance=glances[one.rope_id], open=words,
                    taken=taken.get(one.rope_id),
                )
            )  # fmt: skip
    return tuple(sorted(found, key=_gravest_first))


def mark_of(view: Sequence[Open]) -> str:
    """A mark of what is open, to tell whether it is still what a person was shown."""
    said = json.dumps([(one.rope_id, one.open) for one in view])
    return hashlib.sha256(said.encode()).hexdigest()


def _gravest_first(one: Open) -> tuple[int, str]:
    return list(URGENCY).index(urgency_of(one.glance)), one.rope_id


def open_words(stand: Stand, glance: Glance) -> tuple[str, ...]:
    """What is open on a rope, in words."""
    record = stand.record
    words = [
        f"on hold since {one.get('on') or 'no day'}: {one['why']}"
        for one in record.get("holds", {}).values()
    ]
    if glance.level in ("remove", "decide", "incomplete"):
        words.append(f"{LEVEL_WORDS[glance.level]}: {glance.next_step.what}")
    if glance.level is None:
        words.append(f"cannot be judged: {glance.problem}")
    words += [
        f"limit overridden since {one.get('on') or 'no day'}: {one['which']}"
        for one in record.get("overrides", {}).values()
    ]
    words += [f"warning: {one}" for one in record.get("warnings", {}).values()]
    words += [
        f"{one['kind']} inspection of {one['on']} is not finished"
        for one in record.get("open_inspections", {}).values()
    ]
    if record.get("marks"):
        count = record["marks"]
        words.append(f"{count} mark{'' if count == 1 else 's'} on the rope to look at again")
    return tuple(words)
