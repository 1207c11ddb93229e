"""One rope at a glance: what the rules say, what to do next and by when, what is unseen."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from ropewright.desk.foretelling import growth_of
from ropewright.desk.judging import RuleShelf, choose_rule_sets, judge
from ropewright.forecast import Forecast, RopeForecast
from ropewright.inspection import Dossier, Inspection
from ropewright.rules import Assessment, DueDuty, DutyPlan, duties_of


@dataclass(frozen=True, slots=True, kw_only=True)
class NextStep:
    """The one thing to do next: what, by when in words, and the day if there is one."""

    what: str
    when: str
    on: date | None = None
    overdue: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Overview:
    """Everything that is judged of one rope on a day.

    ``growth`` is the forecast with its record, or in a sentence why there is none.
    """

    dossier: Dossier
    assessment: Assessment
    duties: DutyPlan
    growth: RopeForecast | str
    next_step: NextStep
    due: date | None
    order_by: date | None
    last: Inspection | None

    @property
    def forecast(self) -> Forecast | None:
        """The forecast, ``None`` where nothing could be foretold."""
        return None if isinstance(self.growth, str) else self.growth.forecast

    @property
    def no_forecast(self) -> str:
        """Why there is no forecast; empty if there is one."""
        return self.growth if isinstance(self.growth, str) else ""


def overview(dossier: Dossier, shelf: RuleShelf, today: date, *, software: str) -> Overview:
    """Judge a rope and find what to do next.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    shelf
        Where its rule sets come from.
    today
        The day.
    software
        Name and version.

    Raises
    ------
    InputError
        If no rule set is chosen, or one is not known.
    """
    assessment = judge(dossier, shelf, today, software=software)
    plan = duties_of(dossier, choose_rule_sets(dossier, shelf), today)
    growth = growth_of(dossier, shelf, today, software=software, judged=assessment)
    dated = [one for one in plan.duties if one.due is not None]
    stated = _stated(dossier, today)
    days = [one.due for one in dated if one.due is not None] + ([stated] if stated else [])
    past = [one for one in dossier.inspections if one.on <= today]
    return Overview(
        dossier=dossier,
        assessment=assessment,
        duties=plan,
        growth=growth,
        next_step=_next_step(assessment, dated, stated, today),
        due=min(days, default=None),
        order_by=None if isinstance(growth, str) else growth.forecast.order_by,
        last=max(past, key=lambda one: one.on, default=None),
    )


def _stated(dossier: Dossier, today: date) -> date | None:
    """The next inspection that the last thorough one asked for."""
    past = [one for one in dossier.inspections if one.on <= today and one.is_thorough]
    last = max(past, key=lambda one: one.on, default=None)
    return None if last is None else last.next_by


def _next_step(
    assessment: Assessment, dated: Sequence[DueDuty], stated: date | None, today: date
) -> NextStep:
    verdict = assessment.verdict
    if verdict.level in ("remove", "decide"):
        what = verdict.remedy[0] if verdict.remedy else "competent person to decide"
        return NextStep(what=what, when=verdict.by_when or "before further use")
    if verdict.on_hold:
        what = verdict.remedy[0] if verdict.remedy else "inspect, then release by name"
        return NextStep(what=what, when="before further use")
    if verdict.level == "incomplete":
        what = verdict.remedy[0] if verdict.remedy else "complete the inspection"
        return NextStep(what=what, when=verdict.by_when)
    first = min(dated, key=lambda one: one.due or date.max, default=None)
    if first is not None and first.due is not None and (stated is None or first.due <= stated):
        return NextStep(what=first.title, when=first.when, on=first.due, overdue=first.due < today)
    if stated is not None:
        return NextStep(
            what="inspection as the last one asked for", when=f"by {stated.isoformat()}",
            on=stated, overdue=stated < today,
        )  # fmt: skip
    return NextStep(what="shift checks; no dated duty is known", when="every shift")
