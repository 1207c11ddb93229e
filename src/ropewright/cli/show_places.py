"""Laying out places on the rope and the plan of an inspection as text for a terminal."""

from collections.abc import Iterable, Sequence

from rich import box
from rich.console import Console
from rich.markup import escape
from rich.padding import Padding
from rich.table import Table

from ropewright.cli.show import labelled
from ropewright.desk.places import BroughtBack, Whereabouts
from ropewright.geometry import PathPlace, PlaceOnDrum, RopePlace, Section
from ropewright.inspection import Asked, Dossier
from ropewright.plan import (
    FIRST,
    InspectionPlan,
    Listed,
    LookAgain,
    PlannedPass,
    Reach,
    TroubleSpot,
)
from ropewright.rules import LEVEL_WORDS, Assessment


def _err(place: PathPlace | RopePlace) -> str:
    return f"± {place.abs_err_m + place.rel_err_m:.2f} m"


def _asked(console: Console, asked: Sequence[Asked], *, head: str) -> None:
    for count, one in enumerate(asked):
        labelled(console, head if count == 0 else "", f"{one.words} ({one.key})")


def _invented(console: Console, dossier: Dossier) -> None:
    if dossier.invented:
        console.print("INVENTED DATA, for demonstration only", style="bold")


def show_whereabouts(console: Console, dossier: Dossier, found: Whereabouts) -> None:
    """Print where something is on the rope."""
    _invented(console, dossier)
    console.print(escape(f"{found.asked_as}, as rigged on {found.on.isoformat()}"))
    console.print()
    labelled(console, "Rope", f"{found.rope.at_m:.2f} m {_err(found.rope)} (rope position)")
    labelled(console, "Path", f"{found.path.at_m:.2f} m from end A's fitting today")
    split = f"shared by the whole pass ± {found.path.abs_err_m:.2f} m, this reading "
    labelled(console, "± is made of", f"{split}± {found.path.rel_err_m:.2f} m")
    if found.drum is not None:
        _show_drum(console, found.drum, found.flanges)
    for count, words in enumerate(found.zones):
        labelled(console, "There it" if count == 0 else "", words)
    for count, near in enumerate(found.near):
        side = "beyond" if near.beyond_m >= 0 else "before"
        labelled(
            console, "Near" if count == 0 else "", f"{abs(near.beyond_m):.1f} m {side} {near.name}"
        )
    for count, one in enumerate(found.helps):
        head = "Narrower by" if count == 0 else ""
        labelled(console, head, f"{one.what}: shared ± {one.now_m:.2f} → {one.then_m:.2f} m")
    if found.by_payout:
        labelled(
            console, "Only payout",
            "distances between places are right; how far from end A is as wide as the ± says",
        )  # fmt: skip
    _asked(console, found.asked, head="More from")


def _show_drum(console: Console, drum: PlaceOnDrum, flanges: tuple[str, str]) -> None:
    side = f", drum {drum.side}" if drum.side == "A" else ""
    labelled(
        console,
        "On the drum",
        f"layer {drum.layer}, wrap {drum.wrap_from_clamp} from the {flanges[0]} "
        f"({drum.wrap_from_far} from the {flanges[1]}), {drum.part:.2f} of a turn past the "
        f"clamp's line{side}",
    )
    err = drum.place.abs_err_m + drum.place.rel_err_m
    labelled(console, "", f"{drum.place.at_m:.2f} m ± {err:.2f} m from the drum clamp")


def show_brought(console: Console, dossier: Dossier, found: BroughtBack) -> None:
    """Print how a place comes in front of a person."""
    _invented(console, dossier)
    err = found.path.abs_err_m + found.path.rel_err_m
    console.print(escape(f"{found.asked_as}, as rigged on {found.on.isoformat()}"))
    labelled(console, "Rope", f"{found.rope_m:.2f} m ± {err:.2f} m (rope position)")
    console.print()
    for words in found.cautions:
        labelled(console, "!", words)
    for reach in found.reaches:
        _show_reach(console, reach)
    if not found.reaches:
        console.print("No stated place can see it.", style="bold")
    for count, why in enumerate(found.not_reached):
        labelled(console, "Not from" if count == 0 else "", why)
    _asked(console, found.asked, head="More from")
    console.print()
    console.print(FIRST)


def _show_reach(console: Console, reach: Reach) -> None:
    labelled(console, "Stand at", reach.place)
    labelled(console, "Crane at", reach.words)
    if reach.direction is not None:
        hand = "" if reach.direction.hand else " (by eye; no hand here)"
        labelled(console, "Direction", reach.direction.words + hand)
    console.print()


# --- The plan ---------------------------------------------------------------------------------


def _sections(sections: Iterable[Section]) -> str:
    return ", ".join(f"{one.from_m:.1f}–{one.to_m:.1f} m" for one in sections)


def show_plan(
    console: Console, dossier: Dossier, plan: InspectionPlan, assessment: Assessment
) -> None:
    """Print the plan as one page: passes, unseen, trouble, again, then the order of the work."""
    _invented(console, dossier)
    head = f"Plan of an inspection: rope {plan.rope_id} on {plan.on.isoformat()}"
    console.print(escape(head), style="bold")
    state = f"{LEVEL_WORDS[assessment.verdict.level]}"
    labelled(console, "Before it", state + (", ON HOLD" if assessment.verdict.on_hold else ""))
    labelled(console, "Rope", f"{_sections([plan.service])} of rope position, end A first")
    labelled(console, "Places are", f"± {plan.err_m:.1f} m from the crane's readings")
    if plan.by_payout:
        labelled(console, "Only payout", "falls and hook heights alone: hook heights are sure")
    _asked(console, plan.asked, head="More from")
    _passes(console, plan)
    _unseen(console, plan)
    _again(console, plan.again)
    _trouble(console, plan)
    _steps(console, plan)
    console.print()
    rows = "; ".join(one.says for one in plan.assumptions)
    console.print(escape(f"Taken for granted (own): {rows}"))
    console.print(FIRST, style="bold")


def _passes(console: Console, plan: InspectionPlan) -> None:
    console.print()
    console.rule(f"Passes, {plan.minutes:.0f} minutes of running and walking", align="left")
    table = Table(box=box.SIMPLE, padding=(0, 1), show_edge=False)
    for name, ratio in (("method", 2), ("stand at", 4), ("crane", 5), ("shows", 4), ("min", 1)):
        table.add_column(name, overflow="fold", ratio=ratio)
    for one in plan.passes:
        view = one.view
        table.add_row(
            one.method, escape(view.place), escape(view.travel), _sections(view.sections),
            f"{view.minutes:.0f}",
        )  # fmt: skip
    console.print(table)
    for one in plan.passes:
        _direction(console, one)


def _direction(console: Console, one: PlannedPass) -> None:
    if one.method != "feel" or one.view.direction is None:
        return
    labelled(console, "Hand", f"{one.view.place}: {one.view.direction.words}")
    for off in one.hands_off:
        heights = ""
        if off.hook_from_m is not None and off.hook_to_m is not None:
            heights = f"hook {off.hook_from_m:.1f} to {off.hook_to_m:.1f} m: "
        labelled(console, "HAND OFF", f"{heights}{_sections([off.section])}, {off.why}")


def _unseen(console: Console, plan: InspectionPlan) -> None:
    console.print()
    console.rule("Not covered", align="left")
    for one in plan.unseen:
        labelled(console, f"by {one.method}", f"{_sections([one.section])}: {one.why}")
        labelled(console, "", f"→ {one.how}")
    if not plan.unseen:
        console.print("Nothing: eye and hand get at the whole rope.")


def _again(console: Console, again: Sequence[LookAgain]) -> None:
    if not again:
        return
    console.print()
    console.rule("Find again", align="left")
    table = Table(box=box.SIMPLE, padding=(0, 1), show_edge=False)
    for name, ratio in (("what", 5), ("rope", 3), ("stand at", 4), ("crane", 5)):
        table.add_column(name, overflow="fold", ratio=ratio)
    for one in again:
        middle = (one.section.from_m + one.section.to_m) / 2
        rope = f"{middle:.1f} m ± {one.err_m:.1f}"
        first = one.reaches[0] if one.reaches else None
        table.add_row(
            escape(f"{one.name}: {one.words}"), rope,
            escape(first.place) if first else "nowhere",
            escape(first.words if first else "; ".join(one.not_reached)),
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
