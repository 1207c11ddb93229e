"""Laying out places on the rope as text for a terminal."""

from collections.abc import Sequence

from rich.console import Console
from rich.markup import escape

from ropewright.cli.show import labelled
from ropewright.cli.show_calibration import fit_line
from ropewright.desk import BroughtBack, Whereabouts
from ropewright.geometry import PathPlace, PlaceOnDrum, RopePlace
from ropewright.inspection import Asked, Dossier
from ropewright.plan import FIRST, NO_DIRECTION, Reach


def _err(place: PathPlace | RopePlace) -> str:
    return f"± {place.abs_err_m + place.rel_err_m:.2f} m"


def show_asked(console: Console, asked: Sequence[Asked], *, head: str) -> None:
    """Print the numbers that would give more, with the key each belongs to."""
    for count, one in enumerate(asked):
        labelled(console, head if count == 0 else "", f"{one.words} ({one.key})")


def show_invented(console: Console, dossier: Dossier) -> None:
    """Print that the data are invented, where they are."""
    if dossier.invented:
        console.print("INVENTED DATA, for demonstration only", style="bold")


def show_whereabouts(console: Console, dossier: Dossier, found: Whereabouts) -> None:
    """Print where something is on the rope."""
    show_invented(console, dossier)
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
    if found.calibration is not None:
        labelled(console, "Fitted to", fit_line(found.calibration))
    for count, one in enumerate(found.helps):
        words = f"{one.what}: the shared ± {one.now_m:.2f} m becomes ± {one.then_m:.2f} m"
        labelled(console, "To narrow it" if count == 0 else "", words)
    if found.helps:
        labelled(console, "", "state it in [[rigging.reading]], or as the better number itself")
    if found.by_payout:
        labelled(
            console, "Only payout",
            "distances between places are right; how far from end A is as wide as the ± says",
        )  # fmt: skip
    show_asked(console, found.asked, head="More from")


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
    show_invented(console, dossier)
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
    show_asked(console, found.asked, head="More from")
    console.print()
    console.print(FIRST)


def _show_reach(console: Console, reach: Reach) -> None:
    labelled(console, "Stand at", reach.place)
    labelled(console, "Crane at", reach.words)
    if reach.direction is not None:
        barred = reach.direction.hand or reach.direction.words.startswith(NO_DIRECTION)
        hand = "" if barred else " (by eye; no hand here)"
        labelled(console, "Direction", reach.direction.words + hand)
    console.print()
