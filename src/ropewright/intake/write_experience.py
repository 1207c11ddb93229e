"""Comparisons, opened ropes, trials and past forecasts as tables of a case file."""

from fractions import Fraction

from ropewright.inspection import Comparison, InnerCount, StoredForecast, Trial
from ropewright.intake.write_case_text import Table, decimal_text, in_unit, m, mm, without_nothing


def comparison_table(one: Comparison) -> Table:
    """Who held which finding against which."""
    return without_nothing(
        {
            "earlier": one.earlier, "later": one.later, "same": None if one.same else False,
            "fate": one.fate, "by": one.by, "on": one.on, "reason": one.reason,
        }
    )  # fmt: skip


def opened_table(one: InnerCount) -> Table:
    """What was broken inside an opened rope."""
    return without_nothing(
        {
            "from": m(one.section.from_m), "to": m(one.section.to_m), "over": mm(one.over_mm),
            "outer": one.outer_broken, "inner": one.inner_broken, "sample": one.sample,
            "remark": one.remark, "on": one.on,
        }
    )  # fmt: skip


def trial_table(one: Trial) -> Table:
    """How much eye and hand found on one day."""
    return without_nothing(
        {
            "both": one.both, "eye_only": one.eye_only, "feel_only": one.feel_only, "by": one.by,
            "on": one.on, "remark": one.remark,
        }
    )  # fmt: skip


def forecast_table(one: StoredForecast) -> Table:
    """A forecast as it was given."""
    return without_nothing(
        {
            "made_on": one.made_on, "state": one.state, "until": one.until,
            "order_by": one.order_by, "chance_now": _percent(one.chance_now),
            "chance": _percent(one.chance), "taken": _percent(one.alpha), "limit": one.limit,
            "window_d": decimal_text(one.window_d), "governing": one.governing,
            "bounded_by": one.bounded_by, "life_days": decimal_text(one.life_days),
            "life_from": one.life_from, "model": one.model, "priors": one.priors,
            "software": one.software, "by": one.by,
        }
    )  # fmt: skip


def _percent(chance: Fraction | None) -> str | None:
    return None if chance is None else in_unit(100 * chance, "%")
