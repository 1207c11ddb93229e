"""The commands that find places on the rope and plan an inspection: where, plan."""

import json
from collections.abc import Callable
from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import Any, Final, TypeVar

import click
from rich.console import Console

from ropewright.cli.show_calibration import show_fit
from ropewright.cli.show_places import show_brought, show_whereabouts
from ropewright.cli.show_plan import show_plan
from ropewright.cli.show_wear import show_worn
from ropewright.cli.support import (
    added_rules,
    labelled_data,
    plain_errors,
    read_rope,
    with_case,
    write_file,
)
from ropewright.cli.tools import Tools
from ropewright.cli.wear_commands import worn_by
from ropewright.desk import (
    AtPoint,
    FromEnd,
    FromMark,
    OnDrum,
    Question,
    bring_back,
    where_is,
)
from ropewright.desk.planned import plan_for
from ropewright.errors import InputError, QuantityError
from ropewright.geometry import CranePosition
from ropewright.inspection import ReadingsFit
from ropewright.plan import plan_as_data
from ropewright.units import as_plain_data, parse_angle, parse_length

Command = TypeVar("Command", bound=Callable[..., object])


class _Length(click.ParamType[float]):
    """A length with its unit, in metres."""

    name = "length"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:
        if isinstance(value, float):
            return value
        try:
            return float(parse_length(str(value), signed=True) / 1000)
        except QuantityError as error:
            self.fail(str(error), param, ctx)


class _Angle(click.ParamType[float]):
    """An angle with its unit, in degrees."""

    name = "angle"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:
        if isinstance(value, float):
            return value
        try:
            found: Fraction = parse_angle(str(value), signed=True)
        except QuantityError as error:
            self.fail(str(error), param, ctx)
        return float(found)


_WAYS: Final = (
    ("hook", click.option("--hook", type=_Length(), help="Hook height read, like '23.4 m'.")),
    ("turns", click.option("--turns", type=float, help="Drum turns from the clamp, instead.")),
    ("radius", click.option("--radius", type=_Length(), help="Radius read.")),
    ("jib", click.option("--jib", type=_Angle(), help="Jib angle read, like '62 deg'.")),
    ("boom", click.option("--boom", type=_Length(), help="Boom length read.")),
    ("boom_angle", click.option("--boom-angle", type=_Angle(), help="Boom angle read.")),
    ("point", click.option("--point", metavar="PLACE", help="Where you stand or stood.")),
    ("layer", click.option("--layer", type=click.IntRange(1), help="On the drum: the layer.")),
    ("wrap", click.option("--wrap", type=click.IntRange(1), help="On the drum: the wrap.")),
    (
        "part",
        click.option("--part", type=click.FloatRange(0, 1), help="Part of turn, 0 to 1."),
    ),
    (
        "from_",
        click.option("--from", "from_", metavar="FLANGE", help="Flange the wraps count from."),
    ),
    ("side", click.option("--side", type=click.Choice(["A", "B"]), help="Twin drum: its side.")),
    ("mark", click.option("--mark", metavar="MARK", help="Seen from this mark.")),
    ("beyond", click.option("--beyond", type=_Length(), help="So far beyond it, from end A.")),
    ("before", click.option("--before", type=_Length(), help="So far before it.")),
    ("end", click.option("--end", type=click.Choice(["A", "B"]), help="Taped from this end.")),
    ("tape", click.option("--tape", type=_Length(), help="By so much.")),
    (
        "bring",
        click.option(
            "--bring", metavar="WHAT", help="Bring back a mark, a finding or a place ('41.2 m')."
        ),
    ),
)


def _with_ways(command: Command) -> Command:
    for _, option in reversed(_WAYS):
        command = option(command)
    return command


@click.command()
@click.argument("file", required=False)
@with_case
@_with_ways
@click.option("--readings", is_flag=True, help="Show what calibration readings made of it.")
@click.option("--json", "as_json", is_flag=True, help="Print the answer as JSON.")
@click.pass_obj
@plain_errors
def where(
    tools: Tools,
    /,
    file: str | None,
    demo: str | None,
    as_of: date | None,
    rules: tuple[str, ...],
    readings: bool,
    as_json: bool,
    **ways: Any,  # noqa: ANN401 - what each option's type makes of it
) -> None:
    r"""Say where on the rope of a case FILE something is, or how to bring it back.

    \b
    Seen from a place:  --hook "23.4 m" --point "tower head"
    On the drum:        --layer 2 --wrap 4 --from "motor side"
    From a mark:        --mark "blue" --beyond "2.1 m"
    By tape:            --end A --tape "12 m"
    Bring it back:      --bring "mark 7" [--point "tower head"]
    """
    del rules  # a place does not depend on rules
    case, _ = read_rope(tools, file, demo)
    day = as_of or tools.today()
    console = Console(highlight=False)
    if ways["bring"] is not None:
        _only(ways, "bring", {"bring", "point"})
        brought = bring_back(case.dossier, _what(ways["bring"]), day, point=ways["point"])
        if as_json:
            data = labelled_data(case.dossier, as_plain_data(brought))
            click.echo(json.dumps(data, ensure_ascii=False, indent=1))
        else:
            show_brought(console, case.dossier, brought)
        return
    found = where_is(case.dossier, _question(ways), day)
    if as_json:
        data = labelled_data(case.dossier, as_plain_data(found))
        click.echo(json.dumps(data, ensure_ascii=False, indent=1))
    else:
        show_whereabouts(console, case.dossier, found)
        if readings:
            _show_readings(console, found.calibration)


def _show_readings(console: Console, fit: ReadingsFit | None) -> None:
    if fit is None:
        console.print("No calibration readings are stated ([[rigging.reading]]).")
    else:
        show_fit(console, fit)


def _what(text: str) -> str | float:
    """A place if it reads as a length, else a name."""
    try:
        return float(parse_length(text) / 1000)
    except QuantityError:
        return text


def _only(ways: dict[str, Any], name: str, allowed: set[str]) -> None:
    for other, value in ways.items():
        if value is not None and other not in allowed:
            given = "--" + other.rstrip("_").replace("_", "-")
            raise InputError(
                field=given, expected=f"one way to say where; --{name} is there", given=given
            )


def _need(ways: dict[str, Any], name: str, words: str) -> Any:  # noqa: ANN401
    value = ways[name]
    if value is None:
        raise InputError(field="--" + name.rstrip("_"), expected=words, given=None)
    return value


def _question(ways: dict[str, Any]) -> Question:
    if ways["mark"] is not None:
        _only(ways, "mark", {"mark", "beyond", "before"})
        if (ways["beyond"] is None) == (ways["before"] is None):
            raise InputError(
                field="--beyond",
                expected="how far from the mark: --beyond (away from end A) or --before",
                given="neither" if ways["beyond"] is None else "both",
            )
        offset = ways["beyond"] if ways["beyond"] is not None else -ways["before"]
        return FromMark(mark=ways["mark"], offset_m=offset)
    if ways["end"] is not None or ways["tape"] is not None:
        _only(ways, "end", {"end", "tape"})
        end = _need(ways, "end", "the end the tape starts from: A or B")
        return FromEnd(end=end, tape_m=_need(ways, "tape", "the length taped, like '12 m'"))
    if ways["layer"] is not None or ways["wrap"] is not None:
        _only(ways, "layer", {"layer", "wrap", "part", "from_", "side"})
        return OnDrum(
            layer=_need(ways, "layer", "the layer, 1 on the barrel"),
            wrap=_need(ways, "wrap", "the wrap, counted from 1"),
            part=ways["part"],
            counted_from=ways["from_"] or "",
            side=ways["side"] or "B",
        )
    return _at_point(ways)


def _at_point(ways: dict[str, Any]) -> Question:
    axes = {
        "hook_m": ways["hook"],
        "radius_m": ways["radius"],
        "jib_deg": ways["jib"],
        "boom_m": ways["boom"],
        "boom_deg": ways["boom_angle"],
        "drum_turns": ways["turns"],
    }
    known = {name: value for name, value in axes.items() if value is not None}
    if not known and ways["point"] is None:
        raise InputError(
            field="where",
            expected="one way to say where: --hook and --point, --layer --wrap --from, --mark, "
            "--end and --tape, or --bring",
            given=None,
        )
    _only(ways, "hook", {"hook", "radius", "jib", "boom", "boom_angle", "turns", "point"})
    point = _need(ways, "point", "the place where you stood, like 'tower head'")
    if not known:
        raise InputError(field="--hook", expected="the hook height read, like '23.4 m'", given=None)
    return AtPoint(point=point, position=CranePosition(**known))


@click.command("plan")
@click.argument("file", required=False)
@with_case
@click.option("--json", "as_json", is_flag=True, help="Print the whole plan as JSON.")
@click.option("--all", "everything", is_flag=True, help="Print the whole plan, not the sheet.")
@click.option("--pdf", type=click.Path(path_type=Path), help="Write the sheet to take along (PDF).")
@click.option("--picture", type=click.Path(path_type=Path), help="Draw crane and drum (SVG).")
@click.option(
    "--log", "logs", multiple=True, type=click.Path(path_type=Path), metavar="LOG",
    help="Duty log: name the most worn sections as places to look at.",
)  # fmt: skip
@click.option(
    "--map", "mapping", type=click.Path(path_type=Path), metavar="TOML",
    help="Which column of the log is what.",
)  # fmt: skip
@click.pass_obj
@plain_errors
def plan(
    tools: Tools,
    file: str | None,
    demo: str | None,
    as_of: date | None,
    rules: tuple[str, ...],
    as_json: bool,
    everything: bool,
    pdf: Path | None,
    picture: Path | None,
    logs: tuple[Path, ...],
    mapping: Path | None,
) -> None:
    """Plan the next inspection of the rope of a case FILE: the sheet to take along.

    The fewest passes that cover the rope, from which place and for which travel; the
    direction in which the rope may run at a hand; what stays unseen and how to get at it;
    what to find again; cautions.  --all adds where damage is to be expected and by which
    list, every step of the work, and what is taken for granted.
    """
    case, _ = read_rope(tools, file, demo)
    day = as_of or tools.today()
    made, assessment = plan_for(
        case.dossier, tools.shelf, day, software=tools.software, added=added_rules(rules),
        worn=worn_by(tools, case.dossier, logs, mapping, day),
    )  # fmt: skip
    if picture is not None:
        write_file(picture, tools.plan_picture(case.dossier, made).encode())
    if pdf is not None:
        write_file(pdf, tools.plan_pdf(case.dossier, made, assessment))
    if as_json:
        click.echo(json.dumps(plan_as_data(made), ensure_ascii=False, indent=1))
        return
    console = Console(highlight=False)
    show_plan(console, case.dossier, made, assessment, everything=everything)
    if logs and not everything:
        show_worn(console, made)
    for what, path in (("Sheet", pdf), ("Picture", picture)):
        if path is not None:
            console.print(f"{what}: {path}", soft_wrap=True, markup=False)
