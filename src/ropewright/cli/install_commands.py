"""Fitting a new rope as a guided task: what is done, what is next, where it can hurt."""

from datetime import date
from fractions import Fraction
from typing import Final, Protocol

import click
from rich.console import Console

from ropewright.cli.support import Day, plain_errors, rope_in_book
from ropewright.cli.tools import Tools
from ropewright.desk import RELEASE, FittingGuide, GuideStep
from ropewright.errors import InputError
from ropewright.units import metres, parse_length

_SIGNS: Final = {"done": "[x]", "not right": "[!]", "next": "[>]", "open": "[ ]"}


class Say(Protocol):
    """Prints one line."""

    def __call__(self, text: str, style: str = "", /) -> None:
        """Print it, in a style."""


@click.command("install")
@click.argument("address", metavar="BOOK#ROPE")
@click.option("--begin", is_flag=True, help="Begin: the rope is on hold until it is released.")
@click.option("--order-of", default="", metavar="ROPE", help="With --begin: whose order it was.")
@click.option("--order", "order_id", default="", metavar="ID", help="With --begin: which order.")
@click.option("--done", metavar="STEP", help="This step is done.")
@click.option("--not-right", metavar="STEP", help="This step is not right; say what: --remark.")
@click.option("--value", "values", multiple=True, metavar="NAME=WHAT", help="What was found.")
@click.option(
    "--reference", "places", multiple=True, metavar="PLACE: D, D",
    help="Reference diameter, like '12 m: 20.4 mm, 20.5 mm'; three or more.",
)  # fmt: skip
@click.option("--tension", default="", metavar="TEXT", help="With --reference: the tension.")
@click.option("--lay", metavar="LENGTH", help="With --reference: lay length measured.")
@click.option("--instrument", metavar="NAME", help="With --reference: measured with what.")
@click.option("--release", is_flag=True, help="Let the rope into service, by name.")
@click.option("--by", default="", metavar="WHO", help="Who did it, by role or name.")
@click.option("--remark", default="", metavar="TEXT", help="Anything else.")
@click.option("--on", "as_of", type=Day(), metavar="DATE", help="The day (today).")
@click.option("--all", "everything", is_flag=True, help="Show all steps in full.")
@click.pass_obj
@plain_errors
def install_command(
    tools: Tools,
    address: str,
    begin: bool,
    order_of: str,
    order_id: str,
    done: str | None,
    not_right: str | None,
    values: tuple[str, ...],
    places: tuple[str, ...],
    tension: str,
    lay: str | None,
    instrument: str | None,
    release: bool,
    by: str,
    remark: str,
    as_of: date | None,
    everything: bool,
) -> None:
    """Fit a new rope step by step; each step is an entry in the book.

    Without an option it shows what is done and what is next.  The rope's page has to be in the
    book: import a case file of it first.
    """
    book, rope = rope_in_book(tools, address)
    fitting = tools.rope_change.fitting
    day = as_of or tools.today()
    asked = [one for one in (begin, done, not_right, places, release) if one]
    if len(asked) > 1:
        raise InputError(
            field="install", given="several of them",
            expected="one of --begin, --done, --not-right, --reference, --release at a time",
        )  # fmt: skip
    if asked and not by.strip():
        raise InputError(field="--by", expected="who did it, by role or name", given=by)
    if begin:
        fitting.begin_fitting(book, rope, by=by, on=day, order_of=order_of, order_id=order_id)
    elif done or not_right:
        fitting.say_step(
            book, rope, done or not_right or "", by=by, on=day, done=bool(done),
            values=_values(values), remark=remark,
        )  # fmt: skip
    elif places:
        fitting.record_reference(
            book, rope, by=by, on=day, places=[_place(text) for text in places], tension=tension,
            lay_length_mm=None if lay is None else parse_length(lay, field="--lay"),
            instrument=instrument,
        )  # fmt: skip
    elif release:
        fitting.release_fitting(book, rope, by=by, on=day)
    show_guide(Console(highlight=False), fitting.fitting(book, rope), everything=everything)


def _values(texts: tuple[str, ...]) -> dict[str, str]:
    values = {}
    for text in texts:
        name, mark, value = (part.strip() for part in text.partition("="))
        if not mark or not value:
            raise InputError(field="--value", expected="NAME=WHAT WAS FOUND", given=text)
        values[name] = value
    return values


def _place(text: str) -> tuple[float, tuple[Fraction, Fraction]]:
    place, mark, rest = text.partition(":")
    readings = [part.strip() for part in rest.split(",")]
    if not mark or len(readings) != 2:
        raise InputError(
            field="--reference", given=text,
            expected="a place and two readings at right angles, like '12 m: 20.4 mm, 20.5 mm'",
        )  # fmt: skip
    first, second = (parse_length(one, field="--reference") for one in readings)
    return metres(parse_length(place.strip(), field="--reference")), (first, second)


def show_guide(console: Console, guide: FittingGuide, *, everything: bool = False) -> None:
    """Print what is done of a fitting and what comes next, with its cautions."""

    def say(text: str, style: str = "", /) -> None:
        console.print(text, style=style, markup=False, soft_wrap=True)

    if guide.invented:
        say("INVENTED DATA, for demonstration only", "bold")
    said = guide.said
    say(f"Fitting rope {guide.rope_id} on {guide.crane}, {guide.hoist}")
    if said.begun_on is None:
        say("Not begun: ropewright install BOOK#ROPE --begin --by WHO puts the rope on hold.")
    else:
        by_order = f", by {said.order_name}" if said.order_name else ", no order in the book"
        say(f"Begun {said.begun_on.isoformat()} by {said.begun_by}{by_order}")
    if said.begun_on is not None and said.released_on is None:
        say("ON HOLD until it is released by name.", "bold")
    say("")
    nearest = guide.next_step
    for one in guide.steps:
        _say_step(say, one, full=everything or one is nearest)
    if said.released_on is None and said.begun_on is not None and guide.missing:
        say(f"\n{len(guide.missing)} points before it can be released.")
    say("\nThe crane's manual, the rope maker and the competent person come first.")


def _say_step(say: Say, one: GuideStep, *, full: bool) -> None:
    step, told = one.step, one.said
    who = "" if told is None else f"  ({told.by}, {told.on.isoformat() if told.on else 'no day'})"
    say(f"{_SIGNS[one.state]} {step.key}: {step.title}{who}", "bold" if one.state == "next" else "")
    if told is not None and told.values:
        say("      " + "; ".join(f"{name}: {value}" for name, value in told.values.items()))
    if told is not None and told.remark:
        say(f"      {told.remark}")
    for words in one.wrong:
        say(f"    ! does not agree: {words}")
    if full:
        _say_in_full(say, one)


def _say_in_full(say: Say, one: GuideStep) -> None:
    for words in one.step.cautions:
        say(f"    ! {words}", "bold")
    for words in one.step.do:
        say(f"      {words}")
    for line in one.compared:
        sign = {True: "=", False: "!", None: "?"}[line.agrees]
        say(f"      {sign} {line.what}: papers {line.papers}; {line.against}")
    for words in one.figures:
        say(f"      {words}")
    for words in _how_to_say_it(one):
        say(f"      {words}")


def _how_to_say_it(one: GuideStep) -> tuple[str, ...]:
    step = one.step
    if step.records:
        told = " ".join(f"--value '{name}={example}'" for name, example in step.records)
        return (f"then: --done '{step.key}' {told} --by WHO",)
    if step.key == RELEASE:
        return ("then: --release --by WHO",)
    return (
        "then: --reference '12 m: 20.4 mm, 20.5 mm' (three times) --tension 'empty hook'",
        "      --lay '130 mm' --by WHO",
    )
