"""Text with a unit to an exact fraction, and back; used at the edges only.

Inside, one unit per quantity: lengths in millimetres, masses in kilograms, forces in
kilonewtons, stresses in newtons per square millimetre, shares in per cent, temperatures in
degrees Celsius, speeds in metres per second, angles in degrees.  Reading never rounds: what was
typed is what is judged.  Whatever cannot be read raises `QuantityError` and nothing else.

Numbers are written in full with a decimal point (``20.5``); inches and feet also as the trade
writes them (``1 1/8 in``, ``40 ft 8 in``, ``40' 8"``).  A decimal comma and separators between
thousands are refused, because each could be taken for the other.
"""

from ropewright.units.kinds import DurationUnit
from ropewright.units.plain_data import as_plain_data
from ropewright.units.reading import (
    MAX_DIGITS,
    Duration,
    parse_angle,
    parse_duration,
    parse_force,
    parse_length,
    parse_mass,
    parse_number,
    parse_percent,
    parse_speed,
    parse_stress,
    parse_temperature,
)
from ropewright.units.showing import (
    exact_decimal,
    exact_text,
    fixed_decimal,
    metres,
    show_feet_inches,
    show_inches,
    show_length_mm,
    show_percent,
    show_place_m,
)
from ropewright.units.telling import exact_in_us, in_us, us_beside, us_example, us_figures

__all__ = [
    "Duration",
    "DurationUnit",
    "MAX_DIGITS",
    "as_plain_data",
    "exact_decimal",
    "exact_in_us",
    "exact_text",
    "fixed_decimal",
    "in_us",
    "metres",
    "parse_angle",
    "parse_duration",
    "parse_force",
    "parse_length",
    "parse_mass",
    "parse_number",
    "parse_percent",
    "parse_speed",
    "parse_stress",
    "parse_temperature",
    "show_feet_inches",
    "show_inches",
    "show_length_mm",
    "show_percent",
    "show_place_m",
    "us_beside",
    "us_example",
    "us_figures",
]
