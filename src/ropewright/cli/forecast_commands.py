"""The commands that forecast one rope and compare its inspections."""

import json
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Protocol

import click
from rich.console import Console

from ropewright.cli.show_forecast import show_cases, show_forecast, show_matching
from ropewright.cli.support import Day, labelled_data, plain_errors, read_rope, write_file
from ropewright.cli.tools import Tools
from ropewright.desk.wearing import wear_of
from ropewright.errors import InputError
from ropewright.forecast import (
    Clock,
    RopeForecast,
    forecast_as_data,
    score,
    to_store,
    trend_of,
)
from ropewright.inspection import FATES, Comparison, Dossier
from ropewright.matching import follow


@dataclass(frozen=True, slots=True, kw_only=True)
class ForecastWish:
    """What a person states for one forecast; days and the usual life as typed.

    ``usual_life_days`` is stated by the person, ``hoist_type`` a name of the list,
    ``lead_time_days`` from order to delivery, ``change_days`` to arrange the change;
    ``own_ropes`` are other ropes of the company to learn from; ``clock`` counts damage by a
    duty log, ``clock_note`` says why there is none.
    """

    as_of: date
    hoist_type: str | None = None
    usual_life_days: float | None = None
    lead_time_days: float | None = None
    change_days: float = 0.0
    own_ropes: tuple[Dossier, ...] = field(default=())
    clock: Clock | None = None
    clock_note: str = ""


class Forecaster(Protocol):
    """The use case behind the command: rules give limits and caps, matching gives names."""

    def __call__(self, dossier: Dossier, wish: ForecastWish, /) -> RopeForecast:
        """The forecast and how earlier ones came out."""


def forecast_command(forecaster: Callable[[Tools], Forecaster]) -> click.Command:
    """The command ``forecast``, given where its use case comes from.

    Parameters
    ----------
    forecaster
        Takes the tools of the command line, returns the use case.
    """

    @click.command("forecast")
    @click.argument("file", required=False)
    @click.option("--demo", metavar="NAME", help="Use a demo rope instead of a file.")
    @click.option("--as-of", type=Day(), metavar="DATE", help="Forecast from this date (today).")
    @click.option(
        "--hoist-type", metavar="TYPE",
        help="Kind of hoist, for the usual life (by crane and purpose if not given).",
    )  # fmt: skip
    @click.option(
        "--usual-life", type=click.FloatRange(min=0.01), metavar="YEARS",
        help="Usual life of ropes on this hoist; wins over --hoist-type.",
    )  # fmt: skip
    @click.option(
        "--own-ropes", multiple=True, metavar="PATH",
        help="Learn from other ropes of your own: a case file, a folder of them, or a logbook.",
    )  # fmt: skip
    @click.option(
        "--log", "logs", multiple=True, type=click.Path(path_type=Path), metavar="LOG",
        help="Duty log: age the rope by its work instead of by days.",
    )  # fmt: skip
    @click.option(
        "--map", "mapping", type=click.Path(path_type=Path), metavar="TOML",
        help="Which column of the log is what.",
    )  # fmt: skip
    @click.option(
        "--lead-time", type=click.FloatRange(min=0), metavar="DAYS",
        help="Days from order to delivery of a new rope.",
    )  # fmt: skip
    @click.option(
        "--change-within", type=click.FloatRange(min=0), default=0.0, metavar="DAYS",
        help="Days within which a change can be arranged.",
    )  # fmt: skip
    @click.option(
        "--picture", type=click.Path(path_type=Path),
        help="Write the trend figure (SVG; with .json its Vega-Lite specification).",
    )  # fmt: skip
    @click.option(
        "--store", is_flag=True,
        help="Keep this forecast in the logbook, to be held against what comes.",
    )  # fmt: skip
    @click.option("--by", default="", metavar="WHO", help="Who stores it, by role or name.")
    @click.option("--table", is_flag=True, help="Show for which ropes there is a date.")
    @click.option("--json", "as_json", is_flag=True, help="Print the whole result as JSON.")
    @click.pass_obj
    @plain_errors
    def command(
        tools: Tools,
        file: str | None,
        demo: str | None,
        as_of: date | None,
        hoist_type: str | None,
        usual_life: float | None,
        own_ropes: tuple[str, ...],
        logs: tuple[Path, ...],
        mapping: Path | None,
        lead_time: float | None,
        change_within: float,
        picture: Path | None,
        store: bool,
        by: str,
        table: bool,
        as_json: bool,
    ) -> None:
        """Say when to inspect the rope of a case FILE (or BOOK#ROPE) next, and when to order.

        It only ever shortens the interval of the rule, the maker or the competent person.
        """
        if table:
            show_cases(Console(highlight=False))
            return
        book = _book_to_store(tools, file) if store else None
        case, _ = read_rope(tools, file, demo)
        day = as_of or tools.today()
        clock, note = _clock(tools, case.dossier, logs, mapping, day)
        wish = ForecastWish(
            as_of=day,
            hoist_type=hoist_type,
            usual_life_days=None if usual_life is None else usual_life * 365.25,
            lead_time_days=lead_time,
            change_days=change_within,
            own_ropes=tuple(_own_ropes(tools, own_ropes)),
            clock=clock,
            clock_note=note,
        )
        found = forecaster(tools)(case.dossier, wish)
        said = _put_away(tools, case.dossier, found, picture=picture, book=book, by=by)
        if as_json:
            data = labelled_data(case.dossier, _as_data(found))
            click.echo(json.dumps(data, ensure_ascii=False, indent=1))
            return
        show_forecast(Console(highlight=False), case.dossier, found)
        for line in said:
            click.echo(line)

    return command


def _clock(
    tools: Tools, dossier: Dossier, logs: tuple[Path, ...], mapping: Path | None, day: date
) -> tuple[Clock | None, str]:
    """The clock by the duty logs; without one the reason, and days are taken.

    Raises
    ------
    InputError
        If a log cannot be read.
    """
    if not logs:
        return None, ""
    opened = tools.wear.open_logs(logs, mapping)
    try:
        found = wear_of(
            dossier, opened.chunks, opened.counting, day, log=opened.names, records=opened.records
        )
    except InputError as error:
        if error.file is not None:
            raise
        return None, f"the duty log says nothing of this rope: {error}"
    if found.clock is None:
        return None, "the duty log shows no damage at the place that matters"
    return found.clock, ""


def _as_data(found: RopeForecast) -> dict[str, object]:
    return forecast_as_data(found.forecast) | {
        "back_test": score(found.outcomes).words,
        "stored": score(found.stored).words,
        "notes": list(found.notes),
    }


def _put_away(
    tools: Tools,
    dossier: Dossier,
    found: RopeForecast,
    *,
    picture: Path | None,
    book: tuple[str, str] | None,
    by: str,
) -> list[str]:
    """Write the figure, keep the forecast; what was done, in lines."""
    said = []
    if picture is not None:
        draw = tools.trend_spec if picture.suffix == ".json" else tools.trend_picture
        write_file(picture, draw(trend_of(dossier, found)).encode())
        said.append(f"Trend figure: {picture}")
    if book is not None:
        record, result = found.record, found.forecast
        kept = to_store(
            result, (*record.zones, *record.apart), found.limits, software=tools.software, by=by
        )
        entry = tools.logbook.add(*book, kept, on=result.as_of)
        said.append(f"Stored in the logbook as entry {entry}")
    return said


def _book_to_store(tools: Tools, file: str | None) -> tuple[str, str]:
    """Book and rope to write to.

    Raises
    ------
    InputError
        If the rope is not in a logbook.
    """
    book = tools.book_and_rope(file or "")
    if book is None:
        raise InputError(
            field="FILE", expected="a rope of a logbook, BOOK#ROPE", given=file,
            hint="only a logbook keeps what was said; take the rope in with: logbook import",
        )  # fmt: skip
    return book


def _own_ropes(tools: Tools, given: tuple[str, ...]) -> list[Dossier]:
    """The ropes behind case files, folders of case files, and logbooks."""
    known = tools.shelf.names()
    found: list[Dossier] = []
    for one in given:
        path = Path(one)
        if path.is_dir() or path.suffix == ".toml":
            files = sorted(path.glob("*.toml")) if path.is_dir() else [path]
            if not files:
                raise InputError(
                    field="--own-ropes", expected="a folder with case files", given=one
                )
            found += [tools.load_case(each, known_rules=known).dossier for each in files]
        else:
            found += [tools.load_from_book(one, rope).dossier for rope in tools.logbook.names(one)]
    return found


@click.command("match")
@click.argument("file", required=False)
@click.option("--demo", metavar="NAME", help="Use a demo rope instead of a file.")
@click.option("--as-of", type=Day(), metavar="DATE", help="Compare what was known then (today).")
@click.option("--same", metavar="LATER=EARLIER", help="These two findings are the same.")
@click.option("--not-same", metavar="LATER=EARLIER", help="These two are not the same.")
@click.option("--new", metavar="LATER", help="This finding is new.")
@click.option(
    "--fate", metavar="EARLIER=FATE",
    help="What became of a finding that was not found again: ends-removed, cut-away or other.",
)  # fmt: skip
@click.option("--by", default="", metavar="WHO", help="Who says so, by role or name.")
@click.option("--reason", default="", metavar="WORDS", help="Why.")
@click.pass_obj
@plain_errors
def match_command(
    tools: Tools,
    file: str | None,
    demo: str | None,
    as_of: date | None,
    same: str | None,
    not_same: str | None,
    new: str | None,
    fate: str | None,
    by: str,
    reason: str,
) -> None:
    """Say which findings of a case FILE (or BOOK#ROPE) are the same as last time.

    A person confirms or overrules in a logbook; in a case file a [[comparison]] says so.
    """
    day = as_of or tools.today()
    case, _ = read_rope(tools, file, demo)
    said = _comparison(same, not_same, new, fate, by=by, on=day, reason=reason)
    if said is not None:
        book = _book_to_store(tools, file)
        _check_known(case.dossier, said)
        entry = tools.logbook.add(*book, said, on=day)
        click.echo(f"Noted in the logbook as entry {entry}: {said.words}")
        case, _ = read_rope(tools, file, demo)
    dossier = case.dossier
    past = [one for one in dossier.inspections if one.on <= day]
    answers = [one for one in dossier.comparisons if one.on <= day]
    pairings = follow(past, dossier.marks, dossier.history, decisions=answers)
    show_matching(Console(highlight=False), dossier, pairings)


def _comparison(
    same: str | None,
    not_same: str | None,
    new: str | None,
    fate: str | None,
    *,
    by: str,
    on: date,
    reason: str,
) -> Comparison | None:
    """What a person says, from the one option that was given.

    Raises
    ------
    InputError
        If several things are said at once, or nobody says them.
    """
    given = [one for one in (same, not_same, new, fate) if one is not None]
    if not given:
        return None
    if len(given) > 1:
        raise InputError(
            field="--same", expected="one of --same, --not-same, --new and --fate at a time",
            given=", ".join(given),
        )  # fmt: skip
    if not by.strip():
        raise InputError(field="--by", expected="who says so, by role or name", given=by)
    if new is not None:
        return Comparison(later=new, by=by, on=on, reason=reason)
    if fate is not None:
        earlier, word = _two(fate, "--fate", "EARLIER=FATE")
        known = {one.replace(" ", "-"): one for one in FATES}
        if word not in known:
            raise InputError(field="--fate", expected=f"one of {', '.join(known)}", given=word)
        return Comparison(earlier=earlier, fate=known[word], by=by, on=on, reason=reason)
    option = "--not-same" if same is None else "--same"
    later, earlier = _two(same or not_same or "", option, "LATER=EARLIER")
    return Comparison(
        earlier=earlier, later=later, same=same is not None, by=by, on=on, reason=reason
    )


def _two(text: str, option: str, form: str) -> tuple[str, str]:
    first, mark, second = text.partition("=")
    if not (mark and first and second):
        raise InputError(field=option, expected=form, given=text)
    return first, second


def _check_known(dossier: Dossier, said: Comparison) -> None:
    """Refuse a comparison of a finding that the rope does not have.

    Raises
    ------
    InputError
        If an id is not among the rope's findings.
    """
    known = {one.finding_id for done in dossier.inspections for one in done.findings}
    for name in (said.earlier, said.later):
        if name is not None and name not in known:
            raise InputError(
                field="finding", expected=f"a finding of this rope: {', '.join(sorted(known))}",
                given=name,
            )  # fmt: skip
