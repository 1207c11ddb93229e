"""Laying out wear and cuts as text for a terminal."""

from collections.abc import Sequence
from pathlib import PurePath

from rich import box
from rich.console import Console
from rich.markup import escape
from rich.table import Table

from ropewright.cli.show import labelled
from ropewright.cli.show_places import show_invented
from ropewright.desk.cutting import CutAdvice, CutOption
from ropewright.desk.fleet import FleetRow
from ropewright.desk.planned import MOST_WORN
from ropewright.desk.wear_words import agreement_words, opinion_words, quality_lines
from ropewright.desk.wearing import WearResult
from ropewright.inspection import Dossier
from ropewright.plan import InspectionPlan
from ropewright.wear import ORIGIN_WORDS


def show_wear(
    console: Console, dossier: Dossier, found: WearResult, advice: CutAdvice | None
) -> None:
    """Print where the rope is worn and by what, how sure that is, and where to cut."""
    show_invented(console, dossier)
    console.print(
        escape(f"{dossier.crane.crane_id}  rope {found.rope_id}  as on {found.on.isoformat()}")
    )
    console.print()
    console.print("Look here first (damage in full bends)", style="bold")
    _show_top(console, found)
    console.print()
    labelled(console, "Agreement", agreement_words(found.agreement))
    _show_opinion(console, found)
    for other in found.others:
        if other.worst is not None:
            place = other.worst.section
            words = f"worst at {place.from_m:.0f} to {place.to_m:.0f} m"
            labelled(console, "Also by", f"{other.card.title}: {words}")
        else:
            labelled(console, "Also by", f"{other.card.title}: no answer; {other.why_not}")
    console.print()
    _show_log(console, found)
    labelled(console, "Model", f"{found.card.title}: {found.card.words}")
    labelled(console, "Full bend", f"the unit: {found.full_bend_words}")
    for count, note in enumerate(found.notes):
        labelled(console, "Mind" if count == 0 else "", note)
    if advice is not None:
        console.print()
        show_cuts(console, advice)


def _show_top(console: Console, found: WearResult) -> None:
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False)
    table.add_column("", justify="right")
    table.add_column("rope, m", no_wrap=True)
    table.add_column("worst metre", justify="right")
    table.add_column("worst place", justify="right")
    table.add_column("worn by")
    for number, one in enumerate(found.top, 1):
        table.add_row(
            str(number),
            f"{one.section.from_m:.0f} to {one.section.to_m:.0f}",
            f"{one.mean:,.0f}",
            f"{one.most:,.0f}",
            escape(one.words),
        )
    console.print(table)


def show_worn(console: Console, plan: InspectionPlan) -> None:
    """Print the most worn sections of a plan and how they come in front of a person."""
    console.print("Most worn by the duty log: look here first", style="bold")
    for number, spot in enumerate((one for one in plan.trouble if one.item == MOST_WORN), 1):
        section = spot.sections[0]
        place = f"{section.from_m:.0f} to {section.to_m:.0f} m of rope; {spot.words}"
        reach = "" if spot.reach is None else f"; {spot.reach.place}: {spot.reach.words}"
        labelled(console, f"  {number}", place + reach)


def _show_opinion(console: Console, found: WearResult) -> None:
    labelled(console, "Tests say", opinion_words(found.opinion))
    if found.opinion.count is not None:
        for note in found.opinion.count.notes:
            labelled(console, "", note)


def _show_log(console: Console, found: WearResult) -> None:
    origin = found.duty.origin
    labelled(console, "Duty", f"{ORIGIN_WORDS[origin]}: {', '.join(found.log)}")
    first, last = found.pieces[0].first, found.pieces[-1].last
    labelled(
        console,
        "",
        f"{first.isoformat()} to {last.isoformat()}, {found.duty.lifts:,} lifts; "
        f"{found.wear.bent_m / 1000:,.0f} km of rope went through a bend",
    )
    for count, line in enumerate(quality_lines(found.duty.quality)):
        labelled(console, "Log" if count == 0 else "", line)


def show_cuts(console: Console, advice: CutAdvice) -> None:
    """Print whether and where to cut, what it gains and costs, and the cautions."""
    console.print(f"Cut or turn? Looking {advice.period_days:.0f} days ahead", style="bold")
    if advice.verdict_first:
        console.print(f"  {escape(advice.verdict_first)}", style="bold")
    if advice.plan is None:
        labelled(console, "No plan", advice.why_not)
    else:
        limits = advice.plan.limits
        labelled(
            console,
            "To spare",
            f"{limits.spare_m:.1f} m: {limits.least_on_drum_m:.1f} m are on the drum with the hook "
            f"at its lowest, {limits.dead_wraps:g} wraps must stay",
        )
        if not advice.options:
            labelled(console, "Answer", advice.nothing)
        for number, option in enumerate(advice.options, 1):
            _show_option(console, number, option)
    for caution in advice.cautions:
        labelled(console, "!", caution)


def _show_option(console: Console, number: int, option: CutOption) -> None:
    result = option.result
    console.print()
    least = max(result.gained_least_days, 0.0)
    sure = f", {least:.0f} at least if the drum's measures are a little off"
    labelled(console, f"Way {number}", f"{option.words}: gains {result.gained_days:.0f} days{sure}")
    if option.by_models:
        by = [f"{title} {days:+.0f} days" for title, days in option.by_models]
        labelled(console, "Also by", "; ".join(by))
    for count, line in enumerate(option.why):
        labelled(console, "Why" if count == 0 else "", line)
    for count, line in enumerate(option.labour):
        labelled(console, "Takes" if count == 0 else "", line)
    if option.hook_higher_m:
        labelled(
            console,
            "Limits",
            f"the hook will hang {option.hook_higher_m:.2f} m higher at the same drum position",
        )
    if option.findings_gone:
        labelled(console, "Cut off", ", ".join(option.findings_gone))


def show_fleet(console: Console, rows: Sequence[FleetRow]) -> None:
    """Print one line per rope, and what could not be counted."""
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False)
    for head, right in (
        ("case file", False), ("rope", False), ("days", True), ("lifts", True), ("km bent", True),
        ("most worn, m", False), ("full bends", True), ("worn by", False),
    ):  # fmt: skip
        table.add_column(head, justify="right" if right else "left")
    for row in rows:
        name = escape(PurePath(row.case).stem)
        if not row.top:
            table.add_row(name, "", "", "", "", "not assessable", "", "")
            continue
        worst = row.top[0]
        table.add_row(
            name,
            escape(row.rope_id),
            f"{row.days:.0f}",
            f"{row.lifts:,}",
            f"{row.bent_m / 1000:,.0f}",
            f"{worst.section.from_m:.0f} to {worst.section.to_m:.0f}",
            f"{worst.mean:,.0f}",
            escape(worst.words.split(",")[0]),
        )
    console.print(table)
    for row in rows:
        for problem in row.problems:
            console.print(f"{row.case}: {problem}", style="bold", markup=False, soft_wrap=True)
    console.print("Wear gives the shape along each rope; how far it is gone, inspections say.")
