"""The command that shows where a rope is worn and where a cut would help; or many ropes at once."""

import json
import sys
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Final

import click
from rich.console import Console

from ropewright.cli.show_wear import show_fleet, show_wear
from ropewright.cli.support import Day, plain_errors, read_rope, write_file
from ropewright.cli.tools import Tools
from ropewright.cli.wear_tools import WearTools
from ropewright.desk.cutting import PERIOD_DAYS, cut_advice
from ropewright.desk.fleet import Crew, FileCount, fleet_rows, run_fleet
from ropewright.desk.wear_data import fleet_as_data, wear_as_data
from ropewright.desk.wearing import wear_of
from ropewright.desk.worn import judged_if_ruled
from ropewright.errors import InputError
from ropewright.inspection import Dossier
from ropewright.wear.models import MODELS, ModelName
from ropewright.wear.top_sections import WornSection

SAY_EVERY: Final = 20


@click.command("wear")
@click.argument("file", required=False)
@click.option("--demo", metavar="NAME", help="Use a demo rope instead of a file.")
@click.option("--as-of", type=Day(), metavar="DATE", help="Look at it on this date (today).")
@click.option(
    "--log", "logs", multiple=True, type=click.Path(path_type=Path), metavar="LOG",
    help="Duty log: CSV or Parquet, or a list of lifts; may be given several times.",
)  # fmt: skip
@click.option(
    "--map", "mapping", type=click.Path(path_type=Path), metavar="TOML",
    help="Which column of the log is what.",
)  # fmt: skip
@click.option("--model", type=click.Choice(sorted(MODELS)), help="How a bend is weighed (cubic).")
@click.option(
    "--ahead", type=click.FloatRange(min=1), default=PERIOD_DAYS, show_default=True,
    metavar="DAYS", help="How far to look ahead for cuts.",
)  # fmt: skip
@click.option(
    "--dead-wraps", type=click.FloatRange(min=0), metavar="N",
    help="Wraps that must stay on the drum (3).",
)  # fmt: skip
@click.option("--json", "as_json", is_flag=True, help="Print the whole result as JSON.")
@click.option("--picture", type=click.Path(path_type=Path), help="Draw the figure (SVG).")
@click.option(
    "--chart", type=click.Path(path_type=Path),
    help="Write the rope chart with the most worn sections (SVG).",
)  # fmt: skip
@click.option("--fleet", metavar="PATTERN", help="Many ropes: case files, like 'ropes/*.toml'.")
@click.option("--workers", type=click.IntRange(1), help="Processes for a fleet (all cores).")
@click.option("--scheduler", metavar="ADDRESS", help="Run a fleet on a Dask cluster.")
@click.option("--keep", default="", metavar="FOLDER", help="Keep counts here, not beside the logs.")
@click.pass_obj
@plain_errors
def wear_command(
    tools: Tools,
    file: str | None,
    demo: str | None,
    as_of: date | None,
    logs: tuple[Path, ...],
    mapping: Path | None,
    model: ModelName | None,
    ahead: float,
    dead_wraps: float | None,
    as_json: bool,
    picture: Path | None,
    chart: Path | None,
    fleet: str | None,
    workers: int | None,
    scheduler: str | None,
    keep: str,
) -> None:
    """Show where the rope of a case FILE is worn, by what, and where a cut would help.

    Bends along the rope are counted from duty logs.  Wear gives the shape; how far the rope
    is gone, inspections say.  A fleet: logs of ropes/A.toml lie in ropes/A.logs/.
    """
    day = as_of or tools.today()
    made = tools.wear
    if fleet is not None:
        _one_way(file=file, demo=demo, logs=logs, mapping=mapping, picture=picture, chart=chart)
        crew = made.crew(scheduler, workers)
        _fleet(tools, made, fleet, day, model, crew, keep, as_json)
        return
    if not logs:
        raise InputError(
            field="--log", expected="at least one duty log, or --fleet PATTERN", given=None
        )
    case, _ = read_rope(tools, file, demo)
    opened = made.open_logs(logs, mapping)
    found = wear_of(
        case.dossier,
        opened.chunks,
        opened.counting,
        day,
        model=model,
        log=opened.names,
        records=opened.records,
    )
    judged = judged_if_ruled(case.dossier, tools.shelf, day, tools.software)
    advice = cut_advice(
        case.dossier, found, judged=judged, period_days=ahead, dead_wraps=dead_wraps
    )
    if picture is not None:
        write_file(picture, made.picture(case.dossier, found, advice).encode())
    if chart is not None:
        if judged is None:
            raise InputError(
                field="--chart", expected="a rope with a rule set to judge it by", given="none"
            )
        write_file(chart, tools.rope_chart(case.dossier, judged, worn=found.top).encode())
    if as_json:
        data = wear_as_data(case.dossier, found, advice)
        click.echo(json.dumps(data, ensure_ascii=False, indent=1))
        return
    console = Console(highlight=False)
    show_wear(console, case.dossier, found, advice)
    for what, path in (("Picture", picture), ("Rope chart", chart)):
        if path is not None:
            console.print(f"{what}: {path}", soft_wrap=True, markup=False)


def worn_by(
    tools: Tools, dossier: Dossier, logs: Sequence[Path], mapping: Path | None, day: date
) -> tuple[WornSection, ...]:
    """The most worn sections by duty logs, the worst first; none without a log.

    Raises
    ------
    InputError
        If a log cannot be read, or no sample belongs to the rope.
    """
    if not logs:
        return ()
    opened = tools.wear.open_logs(logs, mapping)
    found = wear_of(
        dossier, opened.chunks, opened.counting, day, log=opened.names, records=opened.records
    )
    return found.top


def _one_way(**ways: object) -> None:
    for name, value in ways.items():
        if value:
            given = (
                "FILE"
                if name == "file"
                else "--" + {"logs": "log", "mapping": "map"}.get(name, name)
            )
            raise InputError(
                field=given, expected="nothing of one rope beside --fleet", given=given
            )


def _fleet(
    tools: Tools,
    made: WearTools,
    pattern: str,
    day: date,
    model: ModelName | None,
    crew: Crew,
    keep: str,
    as_json: bool,
) -> None:
    jobs = made.fleet_jobs(pattern)
    cases = {
        name: tools.load_case(Path(name), known_rules=tools.shelf.names()).dossier
        for name in sorted({job.case for job in jobs})
    }
    progress = _Progress(len(jobs))
    done = run_fleet(jobs, made.fleet_work(day, keep), crew, told=progress)
    rows = fleet_rows(done, cases, day, model=model)
    if as_json:
        click.echo(json.dumps(fleet_as_data(rows, day), ensure_ascii=False, indent=1))
    else:
        show_fleet(Console(highlight=False), rows)
    if any(row.problems for row in rows):
        sys.exit(InputError.exit_code)


class _Progress:
    """Says on the error stream how far a fleet is, so that the result can be piped."""

    def __init__(self, whole: int) -> None:
        self._whole, self._done, self._kept, self._bad = whole, 0, 0, 0

    def __call__(self, done: FileCount) -> None:
        self._done += 1
        self._kept += done.kept
        self._bad += bool(done.problem)
        if self._done % SAY_EVERY == 0 or self._done == self._whole:
            words = f"{self._done} of {self._whole} logs counted, {self._kept} kept from before"
            bad = f", {self._bad} could not be counted" if self._bad else ""
            click.echo(f"ropewright: {words}{bad}", err=True)
