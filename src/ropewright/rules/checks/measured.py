"""Whether the rope was measured, or tested magnetically, within the time asked for."""

from fractions import Fraction

from ropewright.inspection import DiameterReading, Inspection
from ropewright.rules.checks.completeness import add_months
from ropewright.rules.context import Context
from ropewright.rules.model import Clause
from ropewright.rules.more_checks import MeasuredWithinCheck
from ropewright.rules.ruling import Found


def pairs_measured(inspection: Inspection) -> int:
    """Complete pairs of diameter readings of one inspection."""
    return sum(
        1
        for one in inspection.findings
        if isinstance(one, DiameterReading) and one.measured_mm is not None
    )


def fulfils(inspection: Inspection, check: MeasuredWithinCheck) -> bool:
    """Whether one inspection measured enough places, or ran the test."""
    tested = any(one.method == "mrt" for one in inspection.passes)
    return inspection.finished and (tested or pairs_measured(inspection) >= check.places)


def check_measured_within(clause: Clause, check: MeasuredWithinCheck, context: Context) -> None:
    """The newest inspection that measured or tested must not be older than the months."""
    done = [one for one in context.evidence.past if fulfils(one, check)]
    installation = context.dossier.installation
    reference = installation.reference
    starts = [one.on for one in done[-1:]]
    if reference is not None and reference.on <= context.as_of:
        starts.append(reference.on)
    if not done and installation.fitted_on is not None:
        starts.append(installation.fitted_on)
    asked = f"diameter at {check.places} place{'s' if check.places > 1 else ''}, or a magnetic test"
    get = ("measure twice at right angles at each place, or have the rope tested",)
    if not starts:
        context.add(clause, status="not assessable", words="never measured or tested",
                    missing=(asked,), how_to_get=get)  # fmt: skip
        return
    start = max(starts)
    due = add_months(start, check.months)
    pairs = pairs_measured(done[-1]) if done else 0
    found = Found(lower=Fraction(pairs), upper=Fraction(pairs), unit="diameter pairs")
    if context.as_of > due:
        context.add(
            clause, status="not assessable", found=found,
            words=f"measuring or testing overdue since {due.isoformat()}",
            missing=(asked,), how_to_get=get,
        )  # fmt: skip
        return
    context.add(
        clause, status="below", found=found,
        words=f"measured or tested, counted from {start.isoformat()}; next by {due.isoformat()}",
    )  # fmt: skip
