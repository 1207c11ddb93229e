"""Forecasting one rope: limits from the rules, names from matching, the past from the record."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import Final

from ropewright.desk.judging import RuleShelf, choose_rule_sets, judge
from ropewright.desk.own_ropes import same_names, taught
from ropewright.errors import InputError
from ropewright.forecast import (
    Cap,
    Clock,
    Forecast,
    Limit,
    RopeForecast,
    forecast_of,
    prior_for,
    working_days,
)
from ropewright.inspection import Dossier
from ropewright.rules import (
    LEVEL_WORDS,
    OWN_CHECKS,
    Assessment,
    RuleSet,
    Ruling,
    Verdict,
    duties_of,
)


def break_limits(
    rulings: Sequence[Ruling], rule_sets: Sequence[RuleSet], diameter_mm: Fraction
) -> tuple[Limit, ...]:
    """The strictest number of broken wires for every counting window of the rules that govern.

    Only windows over the whole rope's strands count: a number for one strand, for valley breaks
    or for breaks at an end is another question.  'More than n' is taken as n + 1.

    Parameters
    ----------
    rulings
        All rulings of the rope.
    rule_sets
        The rule sets they were made with.
    diameter_mm
        Nominal diameter of the rope [mm].
    """
    counting = {
        (rules.rule_set_id, clause.clause_id)
        for rules in rule_sets
        for clause in rules.clauses
        if clause.counts_over_the_rope
    }
    strictest: dict[Fraction, tuple[int, Ruling]] = {}
    for one in rulings:
        if (one.rule_set, one.clause_id) not in counting:
            continue
        if one.limit is None or one.window_mm is None or one.compare is None:
            continue
        whole = -(-one.limit.numerator // one.limit.denominator)
        count = whole if one.compare == "reached" else int(one.limit) + 1
        known = strictest.get(one.window_mm)
        if known is None or count < known[0]:
            strictest[one.window_mm] = (max(1, count), one)
    return tuple(
        Limit(
            count=count,
            window_d=float(window_mm / diameter_mm),
            name=f"{count} broken wires in {one.window}, {one.citation}",
        )
        for window_mm, (count, one) in sorted(strictest.items())
    )


#: Kind of hoist by the kind of crane and what the rope does, for the usual life.
_HOIST_TYPES: Final[Mapping[tuple[str, str], str]] = {
    ("trolley-jib tower crane", "hoist"): "tower crane hoist",
    ("luffing-jib tower crane", "hoist"): "tower crane hoist",
    ("luffing-jib tower crane", "luffing"): "tower crane luffing",
    ("trolley-jib tower crane", "trolley"): "trolley rope",
    ("telescopic crane", "hoist"): "mobile crane hoist",
    ("lattice-boom crane", "hoist"): "mobile crane hoist",
    ("bridge crane", "hoist"): "bridge crane hoist",
    ("gantry crane", "hoist"): "bridge crane hoist",
}


def hoist_type_of(dossier: Dossier) -> str | None:
    """The kind of hoist, by the kind of crane and what the rope does; ``None`` if not told."""
    return _HOIST_TYPES.get((dossier.crane.kind, dossier.installation.purpose))


def foretell(
    dossier: Dossier,
    shelf: RuleShelf,
    today: date,
    *,
    software: str,
    hoist_type: str | None = None,
    usual_life_days: float | None = None,
    lead_time_days: float | None = None,
    change_days: float = 0.0,
    own_ropes: Sequence[Dossier] = (),
    clock: Clock | None = None,
    clock_note: str = "",
    judged: Assessment | None = None,
) -> RopeForecast:
    """Forecast a rope by its own rule sets.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    shelf
        Where its rule sets come from.
    today
        The day of the forecast.
    software
        Name and version.
    hoist_type
        Kind of hoist, for the usual life; by crane and purpose if not given.
    usual_life_days
        Usual life stated by a person; wins over the kind of hoist [days].
    lead_time_days
        Days from order to delivery of a new rope [days].
    change_days
        Days within which a change can be arranged [days].
    own_ropes
        Other ropes of the company, to learn from.
    clock
        Damage from a duty log; days since fitting if not given.
    clock_note
        Why there is no such clock, though there is a log.
    judged
        The assessment of this dossier on that day by its own rule sets, if it was made already;
        made here if not given.

    Raises
    ------
    InputError
        If no chosen rule has a number of broken wires, or the rope's age is not known.
    """
    if judged is None:
        judged = judge(dossier, shelf, today, software=software)
    elif judged.as_of != today.isoformat():
        raise InputError(
            field="judged", expected=f"an assessment of {today.isoformat()}", given=judged.as_of
        )
    rule_sets = choose_rule_sets(dossier, shelf)
    limits = break_limits(judged.rulings, rule_sets, dossier.rope.nominal_diameter_mm)
    if not limits:
        raise InputError(
            field="rules",
            expected="a rule with a number of broken wires for this rope",
            given=", ".join(dossier.installation.rules) or "none",
            hint="without such a number there is nothing to forecast",
        )
    construction = dossier.rope.construction
    prior = prior_for(
        hoist_type or hoist_type_of(dossier),
        stated_days=usual_life_days,
        stated_by="a person" if usual_life_days is not None else "",
        flush_ends=construction.rotation_resistant is not False
        or construction.compacted is not False,
    )
    own = taught(dossier, own_ropes, limits, prior, today, stated=usual_life_days is not None)
    found = forecast_of(
        dossier,
        today,
        limits=limits,
        prior=own.prior,
        caps=_rule_caps(dossier, rule_sets, today),
        same=same_names(dossier, today),
        clock=None if clock is None else working_days(clock),
        lead_time_days=lead_time_days,
        change_days=change_days,
        mostly_inside=own.mostly_inside,
    )
    notes = (*found.notes, *own.words, *((clock_note,) if clock_note else ()))
    return replace(found, forecast=_after_verdict(found.forecast, judged.verdict), notes=notes)


def growth_of(
    dossier: Dossier,
    shelf: RuleShelf,
    today: date,
    *,
    software: str,
    judged: Assessment | None = None,
) -> RopeForecast | str:
    """The forecast for a report, or in a sentence why there can be none; see `foretell`."""
    try:
        return foretell(dossier, shelf, today, software=software, judged=judged)
    except InputError as problem:
        return f"Not assessable: {problem}"


def _rule_caps(dossier: Dossier, rule_sets: Sequence[RuleSet], today: date) -> tuple[Cap, ...]:
    """What the rules' own intervals allow at most; one that is overdue is due today."""
    return tuple(
        Cap(until=max(one.due, today), by=f"{one.title}, {one.rule}")
        for one in duties_of(dossier, rule_sets, today).duties
        if one.due is not None
    )


def _after_verdict(forecast: Forecast, verdict: Verdict) -> Forecast:
    """A rope that is to be removed, or decided on first, has no next inspection to wait for."""
    if verdict.level == "remove":
        return replace(
            forecast,
            state="limit reached",
            next_inspection=None,
            rows=(),
            missing=(),
            present_chance=None,
            plan_change=True,
            order_now=True,
            order_by=forecast.as_of,
            because=verdict.sentence,
        )
    if verdict.level == "decide":
        head = f"{LEVEL_WORDS['decide']}: "
        said = verdict.sentence
        why = said[len(head) :] if said.lower().startswith(head.lower()) else said
        told = verdict.governing[0].startswith(f"{OWN_CHECKS}/growth/")  # the same sign, said once
        rest = () if told and len(forecast.decide) == 1 else forecast.decide
        return replace(forecast, next_inspection=None, decide=(why, *rest))
    if verdict.level == "incomplete":
        return replace(forecast, missing=(verdict.sentence, *forecast.missing))
    return forecast
