"""Laying out a forecast and a comparison of two inspections for a terminal."""

from collections.abc import Sequence

from rich.console import Console

from ropewright.cli.show import labelled
from ropewright.forecast import CASES, HOIST_TYPES, Forecast, Outcome, RopeForecast, score
from ropewright.forecast.reasons import percent, span
from ropewright.inspection import Dossier
from ropewright.matching import Pairing

_MOST_STORED = 6


def show_cases(console: Console) -> None:
    """Print the table of cases, and the kinds of hoist with their usual life."""
    for case in CASES:
        labelled(console, case.treatment, f"{case.when}: {case.why} → {case.action}")
    console.print()
    console.print("Kinds of hoist and usual life of the rope (own judgement; state your own):")
    for hoist in HOIST_TYPES:
        labelled(console, f"{hoist.years:g} years", f"{hoist.name}: {hoist.words}")


def show_forecast(console: Console, dossier: Dossier, found: RopeForecast) -> None:
    """Print what to do and by when, then why, then what it rests on."""
    result = found.forecast
    if dossier.invented:
        console.print("INVENTED DATA, for demonstration only", style="bold")
    console.print(f"Rope {dossier.rope.rope_id} as on {result.as_of}", markup=False)
    console.print(f"  {result.headline.upper()}", style="bold", markup=False)
    console.print()
    labelled(console, "Why", result.because)
    for words in result.decide:
        labelled(console, "Decide now", f"{words.rstrip('.')}: competent person to decide")
    if result.next_inspection is not None:
        labelled(console, "Bounded by", result.bounded_by)
    labelled(console, "Limit", result.governing)
    _chances(console, result)
    if result.plan_change:
        labelled(console, "Rope change", "plan it now")
    if result.order_by is not None or result.order_now:
        labelled(console, "Order by", "now" if result.order_now else str(result.order_by))
    for row in result.rows:
        labelled(console, row.treatment, f"{row.when}: {row.why} → {row.action}")
    labelled(console, "Missing", "; ".join(result.missing))
    labelled(console, "Longer if", result.lengthen)
    labelled(console, "Back-test", score(found.outcomes).words)
    if dossier.forecasts:
        labelled(console, "Stored", score(found.stored).words)
        for one in found.stored[-_MOST_STORED:]:
            labelled(console, f"  {one.made.made_on}", _stored_words(one))
    labelled(console, "Taken", _taken(result))
    for words in found.notes:
        labelled(console, "", words)
    console.print("This advises; a person decides and signs.")


def _chances(console: Console, result: Forecast) -> None:
    if result.present_chance is not None and result.curve is not None:
        words = f"chance that it is reached but unseen: {percent(result.present_chance)}"
        labelled(console, "Today", words)
    if result.band is not None:
        band = result.band
        labelled(
            console,
            "Limit passed",
            f"as likely before as after {_day(band.median, band.median_days)}; 9 in 10 between "
            f"{_day(band.early, band.early_days)} and {_day(band.late, band.late_days)}",
        )


def _day(day: object, days: float | None) -> str:
    return span(days) if day is None else f"{day} (in {span(days)})"


def _taken(result: Forecast) -> str:
    prior = result.prior
    return (
        f"usual life {span(prior.life)} ({prior.life_from}), {result.alpha * 100:g} % until the "
        f"next look, model {result.version}, priors {prior.version}"
    )


def _stored_words(one: Outcome) -> str:
    said = f"look by {one.made.until}, chance {percent(one.made.chance)}"
    if one.passed is None:
        late = "the look came later than that" if one.looked_on else "nobody has looked since"
        return f"{said}: {late}"
    came = "the limit was found passed" if one.passed else "the limit was not passed"
    return f"{said}; looked at on {one.looked_on}: {came}"


def show_matching(console: Console, dossier: Dossier, pairings: Sequence[Pairing]) -> None:
    """Print each finding with what it was last time, how sure that is, and what to ask."""
    if dossier.invented:
        console.print("INVENTED DATA, for demonstration only", style="bold")
    if not pairings:
        console.print("There are no two inspections with findings to compare.")
        return
    for one in pairings:
        labelled(console, one.later or one.earlier or "", _pair_words(one))
        if one.asks:
            labelled(console, "  question", one.asks)
    console.print()
    console.print(
        "A person confirms or overrules: ropewright match BOOK#ROPE --same LATER=EARLIER, "
        "--not-same LATER=EARLIER or --fate EARLIER=ends-removed, with --by WHO. "
        "Nothing of it lowers a count.",
        markup=False,
        soft_wrap=True,
    )


def _pair_words(one: Pairing) -> str:
    sure = "" if one.by == "worked out" else f", {one.by}"
    chance = f" ({percent(one.confidence)} sure{sure})"
    if one.kind == "same":
        gap = "" if one.gap_m is None else f", {100 * abs(one.gap_m):.0f} cm apart"
        return f"the same as {one.earlier}{chance}{gap}"
    if one.kind == "new":
        return f"new{chance}"
    if one.kind == "cut off":
        return "cut off with the rope it lay on"
    return f"{one.kind}{chance}; it still counts"
