"""Laying out what calibration readings made of a set-up's numbers, for a terminal."""

from typing import Final

from rich import box
from rich.console import Console
from rich.markup import escape
from rich.table import Table

from ropewright.inspection import ReadingsFit

_WORDS: Final = {
    "hook_zero_m": ("zero of the hook height", "m"),
    "anchor_side_m": ("rope from end A to the first sheave", "m"),
    "lead_m": ("rope from the last fall to the drum", "m"),
    "rope_m": ("length of the rope", "m"),
    "barrel_mm": ("diameter of the barrel", "mm"),
    "rise_mm": ("layer rise", "mm"),
    "wraps": ("wraps of each layer", "wraps"),
}


def fit_line(fit: ReadingsFit) -> str:
    """The readings in one line: how many, of when, and the one that fits worst."""
    many = "1 reading" if len(fit.left) == 1 else f"{len(fit.left)} readings"
    worst = max(fit.left, key=lambda one: abs(one.residual_m) / one.err_m)
    return (
        f"{many}, the last on {fit.last_on.isoformat()}; farthest off: '{worst.name}', "
        f"{worst.residual_m:+.2f} m of rope (it may be ± {worst.err_m:.2f} m off)"
    )


def show_fit(console: Console, fit: ReadingsFit) -> None:
    """Print each reading with what is left of it, and each number with what it became."""
    console.print()
    console.rule("Fitted to readings", align="left")
    table = Table(box=box.SIMPLE, padding=(0, 1), show_edge=False)
    for head in ("reading", "left over, rope", "may be off"):
        table.add_column(head, overflow="fold")
    for one in fit.left:
        table.add_row(escape(one.name), f"{one.residual_m:+.2f} m", f"± {one.err_m:.2f} m")
    console.print(table)
    table = Table(box=box.SIMPLE, padding=(0, 1), show_edge=False)
    for head in ("number", "changed by", "± before", "± now"):
        table.add_column(head, overflow="fold")
    for number in fit.found:
        words, unit = _WORDS[number.name]
        table.add_row(
            words, f"{number.correction:+.2f} {unit}", f"{number.err_before:.2f}",
            f"{number.err_after:.2f}",
        )  # fmt: skip
    console.print(table)
