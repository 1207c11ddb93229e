"""What can be written for each kind of quantity: units, their size, and words of advice."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from types import MappingProxyType
from typing import Final, Literal

INCH_MM: Final = Fraction("25.4")
FOOT_MM: Final = 12 * INCH_MM
POUND_KG: Final = Fraction("0.45359237")
POUND_FORCE_KN: Final = Fraction("4.4482216152605") / 1000


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """What can be written for one kind of quantity.

    ``units`` [-] says how large each unit is, ``hints`` what to write instead of another one.
    """

    what: str
    units: Mapping[str, Fraction]
    hints: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))


NUMBERS: Final = Kind(what='a number such as "12.5"', units={"": Fraction(1)})
LENGTH: Final = Kind(
    what='a length with unit such as "20 mm", "2.1 m", "3/4 in" or "40 ft 8 in"',
    units={
        "mm": Fraction(1),
        "cm": Fraction(10),
        "m": Fraction(1000),
        "in": INCH_MM,
        "ft": FOOT_MM,
    },
    hints={"inch": "write in", "inches": "write in", "feet": "write ft", "foot": "write ft"},
)
MASS: Final = Kind(
    what='a mass with unit such as "850 kg", "2.5 t" or "1200 lb"',
    units={"kg": Fraction(1), "t": Fraction(1000), "lb": POUND_KG},
    hints={
        "to": "write t for 1000 kg",
        "ton": "ton has several meanings: write kg, t (1000 kg) or lb",
        "tons": "ton has several meanings: write kg, t (1000 kg) or lb",
        "lbs": "write lb",
        "kN": "kN is a force: write the mass in kg or t",
    },
)
FORCE: Final = Kind(
    what='a force with unit such as "305 kN" or "68000 lbf"',
    units={"kN": Fraction(1), "N": Fraction(1, 1000), "lbf": POUND_FORCE_KN},
    hints={
        "tf": "1 tf is 9.80665 kN: write the force in kN",
        "kgf": "1 kgf is 9.80665 N: write the force in N or kN",
        "t": "t is a mass: write the force in kN",
        "kg": "kg is a mass: write the force in kN",
        "lb": "write lbf for a force in pounds",
        "lbs": "write lbf for a force in pounds",
        "tons": "ton has several meanings: write the force in kN or lbf",
        "ton": "ton has several meanings: write the force in kN or lbf",
        "KN": "write kN",
    },
)
STRESS: Final = Kind(
    what='a stress with unit such as "1770 N/mm2" or "1770 MPa"',
    units={"N/mm2": Fraction(1), "N/mm²": Fraction(1), "N/mm^2": Fraction(1), "MPa": Fraction(1)},
    hints={
        "IPS": "write the wire grade as a stress",
        "psi": "write N/mm2; 1 ksi is 6.894757 N/mm2",
    },
)
PERCENT: Final = Kind(what='a percentage such as "4.5 %"', units={"%": Fraction(1)})
SPEED: Final = Kind(
    what='a speed with unit such as "0.25 m/s", "15 m/min" or "50 ft/min"',
    units={
        "m/s": Fraction(1),
        "m/min": Fraction(1, 60),
        "km/h": Fraction(1000, 3600),
        "ft/min": FOOT_MM / 1000 / 60,
        "mph": Fraction("0.44704"),
    },
    hints={"fpm": "write ft/min"},
)
ANGLE: Final = Kind(
    what='an angle in degrees such as "1.5 deg" or "1.5°"',
    units={"deg": Fraction(1), "°": Fraction(1)},
    hints={"rad": "write the angle in degrees"},
)
CELSIUS: Final = ("°C", "℃", "C", "degC")
FAHRENHEIT: Final = ("°F", "℉", "F", "degF")
TEMPERATURE: Final = Kind(
    what='a temperature with unit such as "-5 °C" or "23 °F"',
    units=dict.fromkeys((*CELSIUS, *FAHRENHEIT), Fraction(1)),
    hints={"K": "write the temperature in °C or °F"},
)

DurationUnit = Literal["hours", "days", "weeks", "months", "years"]
DURATION_WORDS: Final[Mapping[str, DurationUnit]] = {
    "h": "hours",
    "hour": "hours",
    "hours": "hours",
    "d": "days",
    "day": "days",
    "days": "days",
    "week": "weeks",
    "weeks": "weeks",
    "month": "months",
    "months": "months",
    "year": "years",
    "years": "years",
}
DURATION: Final = Kind(
    what='a duration such as "30 days", "36 h" or "3 months"',
    units=dict.fromkeys(DURATION_WORDS, Fraction(1)),
    hints={"m": "m could be minutes or months: write months", "min": "write it in h"},
)
