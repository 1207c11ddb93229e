"""The command that makes a field card: one rope, for the phone and for the pocket."""

import json
from datetime import date
from pathlib import Path

import click
from rich.console import Console

from ropewright.card import FieldCard, card_as_data
from ropewright.cli.show import labelled
from ropewright.cli.support import (
    added_rules,
    echo_invented,
    plain_errors,
    read_rope,
    with_case,
    write_file,
)
from ropewright.cli.tools import Tools
from ropewright.desk.carding import card_for
from ropewright.rules import LEVEL_WORDS, OfficeLimit


@click.command("card")
@click.argument("file", required=False)
@with_case
@click.option("--json", "as_json", type=click.Path(path_type=Path), help="Write the card (JSON).")
@click.option("--pdf", type=click.Path(path_type=Path), help="Write the page to print (PDF).")
@click.pass_obj
@plain_errors
def card(
    tools: Tools,
    file: str | None,
    demo: str | None,
    as_of: date | None,
    rules: tuple[str, ...],
    as_json: Path | None,
    pdf: Path | None,
) -> None:
    """Make the field card of the rope of a case FILE (or BOOK#ROPE of a logbook).

    All that a person at the rope needs where nobody can be asked: limits as numbers, places,
    plan with directions and cautions, open marks and holds.  The PDF holds a tally and strips of
    6 d and 30 d to cut out: print it at full size.
    """
    case, _ = read_rope(tools, file, demo)
    day = as_of or tools.today()
    made = card_for(
        case.dossier, tools.shelf, day, software=tools.software, added=added_rules(rules),
        book_head=getattr(case, "sha256", "") if "#" in (file or "") else "",
    )  # fmt: skip
    if as_json is not None:
        text = json.dumps(card_as_data(made), ensure_ascii=False, indent=1)
        write_file(as_json, f"{text}\n".encode())
    if pdf is not None:
        write_file(pdf, tools.field_card_pdf(made))
    console = Console(highlight=False)
    echo_invented(case.dossier)
    _show(console, made)
    for what, path in (("Card", as_json), ("Page", pdf)):
        if path is not None:
            console.print(f"{what}: {path}", soft_wrap=True, markup=False)


def _show(console: Console, made: FieldCard) -> None:
    on_hold = ", on hold" if made.verdict.on_hold else ""
    labelled(console, "Rope", f"{made.rope.rope_id}, {made.rope.construction}")
    labelled(console, "Verdict", f"{LEVEL_WORDS[made.verdict.level]}{on_hold}")
    office = [one for one in made.limits if isinstance(one, OfficeLimit)]
    labelled(console, "Limits", f"{len(made.limits) - len(office)} for the rope, "
             f"{len(office)} for the office")  # fmt: skip
    places = ", ".join(one.place for one in made.place_maps) or "none"
    labelled(console, "Places", places)
    for one in made.not_mapped:
        labelled(console, "", f"{one.place}: {one.why}")
    plan = "none" if made.plan is None else f"{len(made.plan.passes)} passes"
    labelled(console, "Plan", f"{plan}. {made.plan_missing}".rstrip(". "))
    labelled(console, "Open", f"{len(made.last_time)} findings, {len(made.marks)} marks")
    labelled(console, "Old after", made.expires_on.isoformat())
