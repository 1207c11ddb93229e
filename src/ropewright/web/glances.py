"""The short form of what was judged of a rope, and its text to be kept."""

import json
from dataclasses import asdict, dataclass, fields
from datetime import date
from typing import Any

from ropewright.desk.overview import NextStep, Overview
from ropewright.rules import LEVELS, Level


@dataclass(frozen=True, slots=True, kw_only=True)
class Glance:
    """What the board needs of one rope.

    ``problem`` says why it could not be judged; then there is no level.
    """

    rope_id: str
    level: Level | None
    sentence: str
    problem: str
    citation: str
    on_hold: bool
    hold_reasons: tuple[str, ...]
    next_step: NextStep
    who: str
    due: date | None
    overdue: bool
    order_by: date | None
    last_kind: str
    last_on: date | None
    last_methods: tuple[str, ...]
    last_signed: bool
    unseen_m: float
    unseen_whole: bool
    felt_only_m: float
    seen_only_m: float
    marks: int
    crane: str
    site: str
    hoist: str
    invented: bool


def glance_of(whole: Overview, today: date) -> Glance:
    """The short form of an overview."""
    dossier, verdict = whole.dossier, whole.assessment.verdict
    last = whole.last
    governing = whole.assessment.ruling(verdict.governing[0]) if verdict.governing else None
    methods = () if last is None else tuple(dict.fromkeys(one.method for one in last.passes))
    return Glance(
        rope_id=dossier.rope.rope_id,
        level=verdict.level,
        sentence=verdict.sentence,
        problem="",
        citation="" if governing is None else governing.citation,
        on_hold=verdict.on_hold,
        hold_reasons=verdict.hold_reasons,
        next_step=whole.next_step,
        who=verdict.who,
        due=whole.due,
        overdue=whole.due is not None and whole.due < today,
        order_by=whole.order_by,
        last_kind="" if last is None else last.kind,
        last_on=None if last is None else last.on,
        last_methods=methods,
        last_signed=last is not None and bool(last.signed_by),
        unseen_m=sum(part.length_m for part in verdict.unseen),
        unseen_whole=verdict.unseen_whole_rope,
        felt_only_m=sum(part.length_m for part in verdict.felt_only),
        seen_only_m=sum(part.length_m for part in verdict.seen_only),
        marks=len(dossier.marks),
        crane=dossier.crane.crane_id,
        site=dossier.crane.site,
        hoist=dossier.installation.hoist,
        invented=dossier.invented,
    )


def glance_text(one: Glance) -> str:
    """A glance as text to be kept."""
    return json.dumps(asdict(one), default=_day_text, ensure_ascii=False)


def _day_text(value: object) -> str:
    if isinstance(value, date):
        return value.isoformat()
    raise TypeError(f"no text for {value!r}")


def read_glance(text: str) -> Glance | None:
    """A glance from its text; ``None`` if the text is of another version."""
    try:
        data = json.loads(text)
        if set(data) != {one.name for one in fields(Glance)} or data["level"] not in LEVELS:
            return None
        step = data["next_step"]
        data["next_step"] = NextStep(**{**step, "on": _day(step["on"])})
        for name in ("due", "order_by", "last_on"):
            data[name] = _day(data[name])
        for name in ("hold_reasons", "last_methods"):
            data[name] = tuple(data[name])
        return Glance(**data)
    except (ValueError, TypeError, KeyError):
        return None


def _day(text: Any) -> date | None:  # noqa: ANN401 - checked here
    return None if text is None else date.fromisoformat(text)
