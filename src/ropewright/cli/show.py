"""Laying out results as text for a terminal."""

from collections.abc import Iterable, Sequence
from typing import Final

from rich import box
from rich.console import Console
from rich.markup import escape
from rich.table import Table

from ropewright.geometry import Section
from ropewright.inspection import Dossier
from ropewright.rules import (
    LEVEL_WORDS,
    LEVELS,
    Assessment,
    Ruling,
    provenance_words,
)

_MARK: Final = {
    "reached": "!",
    "not assessable": "?",
    "below": "-",
    "not applicable": " ",
    "not in force": " ",
}
_SHOWN_AT_MOST: Final = 12


def _sections(sections: Sequence[Section]) -> str:
    shown = [f"{one.from_m:.1f} to {one.to_m:.1f} m" for one in sections[:4]]
    more = len(sections) - len(shown)
    return ", ".join(shown) + (f" and {more} more" if more > 0 else "")


def labelled(console: Console, head: str, text: str) -> None:
    """Print a label and its text beside it; nothing if there is no text."""
    if text:
        table = Table.grid(padding=(0, 1))
        table.add_column(width=13, style="bold")
        table.add_column(overflow="fold")
        table.add_row(head, escape(text))
        console.print(table)


def show_assessment(
    console: Console, dossier: Dossier, result: Assessment, *, everything: bool
) -> None:
    """Print verdict, what governs, what follows, what is missing, then the rulings."""
    verdict = result.verdict
    if dossier.invented:
        console.print("INVENTED DATA, for demonstration only", style="bold")
    console.print(
        f"{escape(dossier.crane.crane_id)}  rope {escape(result.rope_id)}  as on {result.as_of}"
    )
    console.print()
    console.rule(characters="=")
    console.print(f"  {LEVEL_WORDS[verdict.level].upper()}", style="bold")
    console.rule(characters="=")
    console.print()
    governing = [one for one in result.rulings if one.ruling_id in verdict.governing]
    governing.sort(key=lambda one: verdict.governing.index(one.ruling_id))
    for count, ruling in enumerate(governing[:3]):
        labelled(console, "Why" if count == 0 else "And", ruling.words)
        labelled(console, "Clause", ruling.citation)
        labelled(console, "", _provenance(ruling))
        labelled(console, "", f"see: ropewright why {ruling.ruling_id}")
    if len(governing) > 3:
        labelled(console, "", f"and {len(governing) - 3} more, listed below")
    joint = "; " if verdict.level == "incomplete" else ", or "
    labelled(console, "What to do", joint.join(verdict.remedy))
    labelled(console, "Who", verdict.who)
    labelled(console, "By when", verdict.by_when)
    labelled(console, "On hold", "; ".join(verdict.hold_reasons) or "no")
    unseen = "nothing: eye or hand went over the whole rope"
    if verdict.unseen_whole_rope:
        unseen = "the whole rope: no pass is on record"
    elif verdict.unseen:
        unseen = _sections(verdict.unseen)
    labelled(console, "Unseen", unseen)
    if verdict.felt_only:
        labelled(console, "By hand only", _sections(verdict.felt_only))
    if verdict.seen_only:
        labelled(console, "By eye only", _sections(verdict.seen_only))
    console.print()
    _rulings(console, result, everything=everything)
    memory = sum(
        1
        for one in result.rulings
        if one.status in ("reached", "below")
        and "memory" in (one.provenance, one.clause_provenance)
        and not one.confirmed
    )
    if memory:
        console.print(
            f"{memory} rulings rest on values or clause numbers from memory: check them against "
            "your own copy of the standard."
        )
    console.print("This advises; a person decides and signs.")


def _provenance(ruling: Ruling) -> str:
    if ruling.confirmed:
        return ruling.confirmed
    value, number = (
        provenance_words(ruling.provenance), provenance_words(ruling.clause_provenance),
    )  # fmt: skip
    if value == number:
        return f"value and clause number {value}"
    return f"value {value}; clause number {number}"


def _wanted(rulings: Iterable[Ruling], *, everything: bool) -> list[Ruling]:
    if everything:
        return list(rulings)
    return [
        one
        for one in rulings
        if one.status in ("reached", "not assessable") or (one.status == "below" and one.share)
    ]


def _rulings(console: Console, result: Assessment, *, everything: bool) -> None:
    wanted = _wanted(result.rulings, everything=everything)
    wanted.sort(key=lambda one: (LEVELS.index(one.level), -(one.share or 0)))
    shown = wanted if everything else wanted[:_SHOWN_AT_MOST]
    if shown:
        table = Table(box=box.SIMPLE, padding=(0, 1), show_edge=False)
        table.add_column("", width=1)
        table.add_column("ruling", overflow="fold", ratio=3)
        table.add_column("what", overflow="fold", ratio=6)
        table.add_column("of limit", justify="right", width=8)
        for ruling in shown:
            share = "" if not ruling.share else f"{float(ruling.share) * 100:.0f} %"
            words = ruling.words
            if ruling.status == "not assessable" and ruling.how_to_get:
                words += f" → {ruling.how_to_get[0]}"
            table.add_row(_MARK[ruling.status], escape(ruling.ruling_id), escape(words), share)
        console.print(table)
    left = len(wanted) - len(shown)
    silent = len(result.rulings) - len(wanted)
    console.print("! criterion reached   ? cannot be judged yet   - below the limit")
    if left or silent:
        console.print(f"{left + silent} more rulings: --all shows them, --json gives everything.")
    console.print()
