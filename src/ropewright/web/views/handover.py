"""What greets the next shift: everything that is open on each rope."""

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from ropewright.desk.open_book import Line, Stand
from ropewright.web.catalogue import Catalogue
from ropewright.web.glances import Glance
from ropewright.web.readable import day_words
from ropewright.web.views.board import URGENCY, urgency_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Open:
    """One rope with what is open on it, in words, and who last took note."""

    rope_id: str
    glance: Glance
    open: tuple[str, ...]
    taken: Line | None


def handover_view(
    stands: Sequence[Stand],
    glances: Mapping[str, Glance],
    taken: Mapping[str, Line | None],
    texts: Catalogue,
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
    texts
        The words.
    """
    found = []
    for one in stands:
        if one.record.get("state") == "taken off":
            continue
        words = open_words(one, glances[one.rope_id], texts)
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
    return URGENCY.index(urgency_of(one.glance)), one.rope_id


def open_words(stand: Stand, glance: Glance, texts: Catalogue) -> tuple[str, ...]:
    """What is open on a rope, in words."""
    record, t = stand.record, texts.t

    def since(one: Mapping[str, str]) -> str:
        on = one.get("on")
        return day_words(date.fromisoformat(on)) if on else t("open.no-day")

    words = [
        t("open.hold", day=since(one), why=one["why"]) for one in record.get("holds", {}).values()
    ]
    if glance.level in ("remove", "decide", "incomplete"):
        level = t(f"level.{glance.level}")
        words.append(t("open.level", level=level, do=glance.next_step.what))
    if glance.level is None:
        words.append(t("open.level", level=t("level.none"), do=glance.problem))
    words += [
        t("open.override", day=since(one), which=one["which"])
        for one in record.get("overrides", {}).values()
    ]
    words += [t("open.warning", words=one) for one in record.get("warnings", {}).values()]
    words += [
        t("open.inspection", kind=one["kind"], day=since(one))
        for one in record.get("open_inspections", {}).values()
    ]
    if record.get("marks"):
        words.append(texts.tn("open.marks", record["marks"]))
    return tuple(words)
