"""Published equations of the rope trade, one pure function each.

Knows: the arithmetic, the symbols, the units and where each equation is printed.  Takes and
returns plain exact numbers (`fractions.Fraction`) in the units its names carry.

Refuses to know: which rope it is about, where its numbers come from, and what they mean for
the rope.  No limit of any rule stands here; a decrease is worked out, never judged.
"""

from ropewright.formulas.diameter import (
    deviation_from_nominal_percent,
    diameter_at_decrease_mm,
    mean_diameter_mm,
    ovality_percent,
    spread_of_readings_percent,
    uniform_decrease_percent,
)
from ropewright.formulas.strength import (
    fill_factor,
    length_mass_kg_per_m,
    metallic_area_mm2,
    minimum_breaking_force_kn,
)
from ropewright.formulas.wires import load_bearing_outer_wires

__all__ = [
    "deviation_from_nominal_percent",
    "diameter_at_decrease_mm",
    "fill_factor",
    "length_mass_kg_per_m",
    "load_bearing_outer_wires",
    "mean_diameter_mm",
    "metallic_area_mm2",
    "minimum_breaking_force_kn",
    "ovality_percent",
    "spread_of_readings_percent",
    "uniform_decrease_percent",
]
