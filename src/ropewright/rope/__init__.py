"""The rope itself: what it is made of, what its papers say, what was cut off and turned round.

Knows: listed constructions with their load-bearing outer wires, factors and new-rope tolerances;
ropes described by numbers or by a certificate (the certificate wins); and where each metre of
the rope's own steel lies on today's path, after every cut and end-for-end turn.

Refuses to know: drums, sheaves and heights; what anybody found on the rope; and any discard
limit.  It says what a rope is, never whether it may go on.
"""

from ropewright.rope.catalogue import (
    CatalogueRow,
    FactorsRow,
    ToleranceRow,
    catalogue,
    construction_names,
    factors_table,
    find_factors,
    find_row,
    tolerance_table,
)
from ropewright.rope.construction import (
    CORES,
    Construction,
    Core,
    FieldOrigin,
    Origin,
    StrandNumbers,
    build_construction,
    is_rotation_resistant_category,
)
from ropewright.rope.history import Cut, EndForEnd, PathMap, RopeHistory
from ropewright.rope.rope import (
    LAY_HANDS,
    LAY_TYPES,
    Certificate,
    Derived,
    LayHand,
    LayType,
    Rope,
    longest_plausible_lay_mm,
)
from ropewright.rope.table import Provenance
from ropewright.rope.tolerance import (
    DiameterTolerance,
    NewRopeReadings,
    diameter_tolerance,
    read_new_rope,
    tolerance_standards,
)

__all__ = [
    "CORES",
    "CatalogueRow",
    "Certificate",
    "Construction",
    "Core",
    "Cut",
    "Derived",
    "DiameterTolerance",
    "EndForEnd",
    "FactorsRow",
    "FieldOrigin",
    "LAY_HANDS",
    "LAY_TYPES",
    "LayHand",
    "LayType",
    "NewRopeReadings",
    "Origin",
    "PathMap",
    "Provenance",
    "Rope",
    "RopeHistory",
    "StrandNumbers",
    "ToleranceRow",
    "build_construction",
    "catalogue",
    "construction_names",
    "diameter_tolerance",
    "factors_table",
    "find_factors",
    "find_row",
    "is_rotation_resistant_category",
    "longest_plausible_lay_mm",
    "read_new_rope",
    "tolerance_standards",
    "tolerance_table",
]
