"""One function for every kind of check; each adds its rulings to the context.

The checks count, compare and say what is missing.  They know no rule by name: what differs
between rule sets is data.  They read no clock and no file.
"""

from collections.abc import Callable
from typing import Any

from ropewright.rules import model
from ropewright.rules.checks.breaks import check_breaks
from ropewright.rules.checks.bunched import check_bunched
from ropewright.rules.checks.combined import check_combined
from ropewright.rules.checks.completeness import (
    check_after_event,
    check_coverage,
    check_grease,
    check_idle,
    check_interval,
    check_items,
    check_person,
    check_readings,
    check_vanished,
)
from ropewright.rules.checks.damage import (
    check_event,
    check_found,
    check_graded,
    check_part,
    check_unnamed,
    check_wave,
)
from ropewright.rules.checks.diameter import check_diameter, check_worn_wires
from ropewright.rules.checks.growth import check_growth
from ropewright.rules.checks.measured import check_measured_within
from ropewright.rules.checks.metallic_loss import check_metallic_loss
from ropewright.rules.checks.no_limit import check_no_limit
from ropewright.rules.checks.set_up import check_set_up
from ropewright.rules.checks.unjudged import check_unjudged
from ropewright.rules.context import Context
from ropewright.rules.more_checks import (
    GrowthCheck,
    MeasuredWithinCheck,
    MetallicLossCheck,
    NoLimitCheck,
    SetUpCheck,
    UnjudgedCheck,
)

__all__ = ["run_check"]

_CHECKS: dict[type, Callable[[model.Clause, Any, Context], None]] = {
    model.BreakCheck: check_breaks,
    model.BunchedCheck: check_bunched,
    model.DiameterCheck: check_diameter,
    model.WaveCheck: check_wave,
    model.FoundCheck: check_found,
    model.GradedCheck: check_graded,
    model.WornWireCheck: check_worn_wires,
    model.EventCheck: check_event,
    model.PartCheck: check_part,
    model.CoverageCheck: check_coverage,
    model.ItemsCheck: check_items,
    model.ReadingsCheck: check_readings,
    model.PersonCheck: check_person,
    model.GreaseCheck: check_grease,
    model.IntervalCheck: check_interval,
    model.IdleCheck: check_idle,
    model.AfterEventCheck: check_after_event,
    model.CombinedCheck: check_combined,
    model.VanishedCheck: check_vanished,
    model.UnnamedCheck: check_unnamed,
    MetallicLossCheck: check_metallic_loss,
    NoLimitCheck: check_no_limit,
    SetUpCheck: check_set_up,
    MeasuredWithinCheck: check_measured_within,
    GrowthCheck: check_growth,
    UnjudgedCheck: check_unjudged,
}


def run_check(clause: model.Clause, context: Context) -> None:
    """Add the rulings of one clause to the context."""
    _CHECKS[type(clause.check)](clause, clause.check, context)
