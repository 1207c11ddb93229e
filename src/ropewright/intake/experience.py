"""Comparisons, opened ropes, trials and past forecasts of a case file, made into the core's."""

from collections.abc import Collection, Iterator, Sequence
from datetime import date

from ropewright.inspection import Comparison, InnerCount, Inspection, StoredForecast, Trial
from ropewright.intake.experience_models import (
    ComparisonModel,
    ForecastModel,
    OpenedModel,
    TrialModel,
)
from ropewright.intake.places import Findings, Ground
from ropewright.intake.wording import one_of
from ropewright.rope import RopeHistory


def comparisons(
    models: Sequence[ComparisonModel], inspections: Sequence[Inspection], found: Findings
) -> tuple[Comparison, ...]:
    """Who held which finding against which; an id that no finding has goes to ``found``."""
    known = [one.finding_id for done in inspections for one in done.findings]
    made = []
    for number, model in enumerate(models, 1):
        where = f"comparison[{number}]"
        _check_named(model, where, known, found)
        with found.at(where):
            made.append(
                Comparison(
                    earlier=model.earlier, later=model.later,
                    same=True if model.same is None else model.same,
                    fate=model.fate, by=model.by, on=model.on, reason=model.reason or "",
                )
            )  # fmt: skip
    return tuple(made)


def _check_named(
    model: ComparisonModel, where: str, known: Collection[str], found: Findings
) -> None:
    for key, name in (("earlier", model.earlier), ("later", model.later)):
        if name is None or name in known:
            continue
        expected = "the id of a finding in this file"
        close = one_of(list(known), name)[1] if known else None
        found.unknown(
            f"{where}.{key}", expected=f"{expected}, {close}" if close else expected, given=name
        )


def opened_ropes(
    models: Sequence[OpenedModel], history: RopeHistory, found: Findings
) -> Iterator[InnerCount]:
    """What was broken inside; the place is told on the rope as first installed."""
    for number, model in enumerate(models, 1):
        with found.at(f"opened[{number}]"):
            ground = Ground.of(history, date.min, before_changes=True)
            yield InnerCount(
                section=ground.section(model), over_mm=model.over, outer_broken=model.outer,
                inner_broken=model.inner, sample=model.sample or "", remark=model.remark or "",
                on=model.on,
            )  # fmt: skip


def trials(models: Sequence[TrialModel]) -> Iterator[Trial]:
    """How much eye and hand found on one day."""
    for one in models:
        yield Trial(
            both=one.both, eye_only=one.eye_only, feel_only=one.feel_only, by=one.by or "",
            on=one.on, remark=one.remark or "",
        )  # fmt: skip


def past_forecasts(models: Sequence[ForecastModel], found: Findings) -> Iterator[StoredForecast]:
    """Forecasts as they were given."""
    for number, one in enumerate(models, 1):
        with found.at(f"forecast[{number}]"):
            yield StoredForecast(
                made_on=one.made_on, state=one.state, until=one.until, order_by=one.order_by,
                chance_now=one.chance_now, chance=one.chance, alpha=one.taken, limit=one.limit,
                window_d=one.window_d, governing=one.governing or "",
                bounded_by=one.bounded_by or "", life_days=one.life_days,
                life_from=one.life_from or "", model=one.model, priors=one.priors,
                software=one.software or "", by=one.by or "",
            )  # fmt: skip
