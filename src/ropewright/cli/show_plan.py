"""Laying out the plan of an inspection as text for a terminal."""

from collections.abc import Iterable, Sequence

from rich import box
from rich.console import Console
from rich.markup import escape
from rich.padding import Padding
from rich.table import Table

from ropewright.cli.show import labelled
from ropewright.cli.show_calibration import fit_line, show_fit
from ropewright.cli.show_places import show_asked, show_invented
from ropewright.geometry import Section
from ropewright.inspection import Dossier
from ropewright.plan import (
    AT_REST,
    InspectionPlan,
    Listed,
    PlanSheet,
    TroubleSpot,
    plan_sheet,
)
from ropewright.rules import LEVEL_WORDS, Assessment


def _sections(sections: Iterable[Section]) -> str:
    return ", ".join(f"{one.from_m:.1f}–{one.to_m:.1f} m" for one in sections)


def show_plan(
    console: Console,
    dossier: Dossier,
    plan: InspectionPlan,
    assessment: Assessment,
    *,
    everything: bool,
) -> None:
    """Print the sheet that goes along; with ``everything`` the whole plan behind it."""
    sheet = plan_sheet(plan)
    show_invented(console, dossier)
    head = f"Plan of an inspection: rope {plan.rope_id} on {plan.on.isoformat()}"
    console.print(escape(head), style="bold")
    state = f"{LEVEL_WORDS[assessment.verdict.level]}"
    labelled(console, "Before it", state + (", ON HOLD" if assessment.verdict.on_hold else ""))
    labelled(console, "Rope", f"{_sections([plan.service])} of rope position, end A first")
    labelled(console, "Places are", f"± {plan.err_m:.1f} m from the crane's readings")
    if plan.calibration is not None:
        labelled(console, "Fitted to", fit_line(plan.calibration))
    if plan.by_payout:
        labelled(console, "Only payout", "falls and hook heights alone: hook heights are sure")
    for words in plan.doubts:
        labelled(console, "Look again", words)
    show_asked(console, plan.asked, head="More from")
    _passes(console, sheet, plan.minutes)
    _gaps(console, sheet)
    _finds(console, sheet)
    console.print()
    console.rule("Cautions", align="left")
    for words in sheet.cautions:
        console.print(Padding(f"[bold]![/bold] {escape(words)}", (0, 0, 0, 1)))
    if everything:
        _trouble(console, plan)
        _steps(console, plan)
        if plan.calibration is not None:
            show_fit(console, plan.calibration)
        console.print()
        rows = " ".join(one.says for one in plan.assumptions)
        console.print(escape(f"Taken for granted (own): {rows}"))
        return
    console.print()
    steps = "; ".join(f"{number} {title}" for number, title in enumerate(sheet.steps, 1))
    labelled(console, "Order", steps)
    labelled(
        console, "More", "--all: where damage is to be expected and by which list, every step with "
        "its cautions, what is taken for granted",
    )  # fmt: skip


def _passes(console: Console, sheet: PlanSheet, minutes: float) -> None:
    console.print()
    console.rule(f"Passes, {minutes:.0f} minutes of running and walking", align="left")
    table = Table(box=box.SIMPLE, padding=(0, 1), show_edge=False)
    for name, ratio in (("method", 3), ("stand at", 4), ("crane", 5), ("shows", 4), ("min", 1)):
        table.add_column(name, overflow="fold", ratio=ratio)
    for one in sheet.passes:
        table.add_row(
            one.methods, escape(one.place), escape(one.crane), _sections(one.shows),
            f"{one.minutes:.0f}",
        )  # fmt: skip
    console.print(table)
    for one in sheet.passes:
        if "feel" in one.methods and (one.hand != AT_REST or one.hands_off):
            twice = sum(one.place == other.place for other in sheet.passes) > 1
            stand = f"{one.place}, {one.crane}" if twice else one.place
            labelled(console, "Hand", f"{stand}: {one.hand}")
        for off in one.hands_off:
            labelled(console, "HAND OFF", off)
    if not any("feel" in one.methods and one.hand != AT_REST for one in sheet.passes):
        labelled(console, "Hand", "none on running rope: no place has a safe direction for it")
    if any(one.hand == AT_REST for one in sheet.passes):
        labelled(console, "Hand", f"at the walkways: {AT_REST}")


def _gaps(console: Console, sheet: PlanSheet) -> None:
    console.print()
    console.rule("Not covered", align="left")
    for one in sheet.gaps:
        labelled(console, f"by {one.methods}", f"{_sections(one.sections)}: {one.why}")
        labelled(console, "", f"→ {one.how}")
    if not sheet.gaps:
        console.print("Nothing: eye and hand get at the whole rope.")


def _finds(console: Console, sheet: PlanSheet) -> None:
    if not sheet.finds:
        return
    console.print()
    console.rule("Find again", align="left")
    table = Table(box=box.SIMPLE, padding=(0, 1), show_edge=False)
    for name, ratio in (("what", 5), ("rope", 3), ("stand at", 4), ("crane", 5)):
        table.add_column(name, overflow="fold", ratio=ratio)
    for one in sheet.finds:
        table.add_row(
            escape(one.what) + (" [bold]HAND OFF[/bold]" if one.hand_off else ""),
            f"{one.rope_m:.1f} m ± {one.err_m:.1f}", escape(one.place),
            escape(one.crane),
        )  # fmt: skip
    console.print(table)


def _lists(lists: Sequence[Listed]) -> str:
    said = dict.fromkeys(
        f"{one.rule}{'' if one.clause.startswith('(') else ', '}{one.clause}"
        + ("" if one.provenance == "text" else f" [{one.provenance}]")
        for one in lists
    )
    return "; ".join(said)


def _trouble(console: Console, plan: InspectionPlan) -> None:
    console.print()
    console.rule("Where damage is to be expected", align="left")
    console.print("Named by these lists; read in the rule itself unless marked otherwise.")
    by_item: dict[str, list[TroubleSpot]] = {}
    for spot in plan.trouble:
        by_item.setdefault(spot.item, []).append(spot)
    for item, spots in by_item.items():
        console.print(f"[bold]{escape(item)}[/bold]  {escape(_lists(spots[0].lists))}")
        for spot in spots:
            where = f" {_sections(spot.sections)}" if spot.sections else ""
            at = f"; {spot.reach.place}: {spot.reach.words}" if spot.reach else ""
            line = f"{spot.words}{':' if where else ''}{where}{at}"
            console.print(Padding(escape(line), (0, 0, 0, 2)))
    if plan.parts:
        parts = ", ".join(one.item for one in plan.parts)
        lists = _lists([one for part in plan.parts for one in part.lists])
        console.print(f"[bold]parts[/bold]  {escape(parts)}: {escape(lists)}")


def _steps(console: Console, plan: InspectionPlan) -> None:
    console.print()
    console.rule("Order of the work", align="left")
    for step in plan.steps:
        console.print(f"[bold]{step.number:>2}  {escape(step.title)}[/bold]")
        for words in step.words:
            console.print(Padding(escape(words), (0, 0, 0, 4)))
        for words in step.cautions:
            console.print(Padding(f"[bold]![/bold] {escape(words)}", (0, 0, 0, 4)))
