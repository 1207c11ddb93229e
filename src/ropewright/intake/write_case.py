"""Writing a dossier as a case file that reads back as the very same dossier."""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from pathlib import Path
from typing import Final

from ropewright.errors import InputError, InputErrors, raise_if_any
from ropewright.inspection import Dossier, MetallicLoss
from ropewright.intake.case_model import SCHEMA
from ropewright.intake.casefile import read_case
from ropewright.intake.write_case_findings import inspection_table
from ropewright.intake.write_case_rigging import rigging_table
from ropewright.intake.write_case_rope import (
    crane_table,
    event_table,
    history_tables,
    installation_table,
    mark_table,
    person_table,
    rope_table,
)
from ropewright.intake.write_case_text import Table, toml_text, without_nothing
from ropewright.intake.write_experience import (
    comparison_table,
    forecast_table,
    opened_table,
    trial_table,
)

_MOST_DIFFERENCES: Final = 10
_HINT: Final = "a case file cannot hold this; export the whole book instead"


def write_case(dossier: Dossier, *, folder: Path | None = None, heading: str = "") -> str:
    """The text of a case file that says exactly what a dossier says.

    It is read back before it is given: what would not come back the same is an error.

    Parameters
    ----------
    dossier
        Everything known of one rope.
    folder
        Where the file will lie, if rule files of one's own are named in it.
    heading
        Lines of remark for the top of the file.

    Raises
    ------
    InputError
        If a case file cannot hold it: names what, one error or several.
    """
    remark = "".join(f"# {line}\n" for line in heading.splitlines())
    text = remark + toml_text(case_tables(dossier, folder=folder))
    try:
        again = read_case(text, file="case file", folder=folder).dossier
    except InputErrors as several:
        raise InputErrors(_of_the_book(one) for one in several.errors) from None
    except InputError as error:
        raise _of_the_book(error) from None
    raise_if_any(
        InputError(field=path, expected="what a case file can hold", given=given, hint=_HINT)
        for path, given in list(
            _differences(_resolved(as_recorded(dossier)), _resolved(again), "")
        )[:_MOST_DIFFERENCES]
    )
    return text


def as_recorded(dossier: Dossier) -> Dossier:
    """The dossier with the methods and tensions filled in that a case file takes for granted.

    A reference diameter is measured with a gauge, under the tension stated for all its readings;
    a loss of metal comes from a magnetic test.
    """
    reference = dossier.installation.reference
    if reference is not None:
        readings = tuple(
            replace(one, method="gauge", tension=one.tension or reference.tension)
            for one in reference.readings
        )
        installation = replace(
            dossier.installation, reference=replace(reference, readings=readings)
        )
        dossier = replace(dossier, installation=installation)
    inspections = tuple(
        replace(
            one,
            findings=tuple(
                replace(item, method=item.method or "mrt")
                if isinstance(item, MetallicLoss)
                else item
                for item in one.findings
            ),
        )
        for one in dossier.inspections
    )
    return replace(dossier, inspections=inspections)


def case_tables(dossier: Dossier, *, folder: Path | None = None) -> Table:
    """The tables of a case file that stand for a dossier."""
    return {"schema": SCHEMA} | without_nothing(
        {
            "title": dossier.title,
            "invented": dossier.invented or None,
            "crane": crane_table(dossier.crane),
            "rigging": [rigging_table(one) for one in dossier.rigging],
            "rope": rope_table(dossier.rope),
            "installation": installation_table(dossier.installation, folder=folder),
            "history": history_tables(dossier),
            "mark": [mark_table(one) for one in dossier.marks],
            "event": [event_table(one) for one in dossier.events],
            "inspection": [inspection_table(one, dossier.history) for one in dossier.inspections],
            "person": [person_table(one) for one in dossier.people],
            "comparison": [comparison_table(one) for one in dossier.comparisons],
            "opened": [opened_table(one) for one in dossier.opened],
            "trial": [trial_table(one) for one in dossier.trials],
            "forecast": [forecast_table(one) for one in dossier.forecasts],
        }
    )


def _of_the_book(error: InputError) -> InputError:
    made = InputError(
        error.message, field=error.field, expected=error.expected or "another value", hint=_HINT
    )
    made.given = error.given
    return made


def _resolved(dossier: Dossier) -> Dossier:
    """The dossier with rule files by their whole path, so that two ways to one file are equal."""
    rules = tuple(
        str(Path(name).resolve()) if "/" in name or name.endswith(".toml") else name
        for name in dossier.installation.rules
    )
    return replace(dossier, installation=replace(dossier.installation, rules=rules))


def _differences(before: object, after: object, path: str) -> Iterator[tuple[str, object]]:
    """Every field that would not come back the same, with what it holds."""
    if before == after:
        return
    if type(before) is type(after):
        if is_dataclass(before) and not isinstance(before, type):
            for one in fields(before):
                name = f"{path}.{one.name}" if path else one.name
                yield from _differences(getattr(before, one.name), getattr(after, one.name), name)
            return
        if isinstance(before, tuple) and isinstance(after, tuple) and len(before) == len(after):
            for number, (one_before, one_after) in enumerate(zip(before, after, strict=True), 1):
                yield from _differences(one_before, one_after, f"{path}[{number}]")
            return
    yield path, before
