"""A list of findings by itself, made an inspection of a rope that is known already."""

from datetime import date
from pathlib import Path

from ropewright.errors import InputError
from ropewright.inspection import INSPECTION_KINDS, Dossier, Inspection, Person
from ropewright.intake.findings_list import read_findings


def inspection_of_list(
    path: str | Path, dossier: Dossier, *, kind: str, on: date, by: str = "", name: str = ""
) -> Inspection:
    """The inspection that a list of findings stands for.

    A list says what was found, not what was looked over: without passes nothing counts as seen.

    Parameters
    ----------
    path
        The list, as `read_findings` takes it.
    dossier
        The rope they were found on.
    kind
        Kind of the inspection.
    on
        Its day.
    by
        Who looked, by role or name.
    name
        Its id; day and file if not said, so that the same list is the same inspection.

    Raises
    ------
    InputError
        If kind or day cannot be, or a line cannot be read: names row and column.
    """
    if kind not in INSPECTION_KINDS:
        raise InputError(
            field="--findings", expected="one of " + ", ".join(INSPECTION_KINDS), given=kind
        )
    fitted = dossier.installation.fitted_on
    if fitted is not None and on < fitted:
        raise InputError(
            field="--on", expected=f"a day on or after {fitted}, when the rope was fitted", given=on
        )
    own = name or f"{on.isoformat()} {Path(path).name}"
    found = read_findings(path, dossier.rope, history=dossier.history, on=on, id_prefix=f"{own}/")
    return Inspection(
        inspection_id=own,
        kind=kind,
        on=on,
        by=(Person(role=by),) if by else (),
        findings=tuple(found),
        remark="from a list of findings; it does not say what was looked over",
    )
