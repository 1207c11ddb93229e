"""Figures of the set-up: what was measured, worked out or stated of drum, sheaves and fittings."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Final, Literal, TypeAlias, get_args

from ropewright.errors import InputError
from ropewright.geometry import DrumFigures

HowKnown: TypeAlias = Literal["measured", "worked out", "stated"]
HOW_KNOWN: Final[tuple[HowKnown, ...]] = get_args(HowKnown)

_YES_NO: Final = ("yes", "no")

_WORKED_OUT_PLACES: Final = 6  # beyond what anybody can measure

#: What may be said of any measure where the crane has no such part.
NOT_FITTED: Final = "not fitted"

#: Units a measure may be given in; ``d`` is nominal rope diameters.
SET_UP_UNITS: Final[Mapping[str, tuple[str, ...]]] = {
    "dead wraps": ("wraps",),
    "wraps at lower limit": ("wraps",),
    "drum diameter": ("d", "mm"),
    "sheave diameter": ("d", "mm"),
    "lower block sheave diameter": ("d", "mm"),
    "equaliser diameter": ("d", "mm"),
    "fleet angle": ("deg",),
    "groove radius": ("d", "mm"),
    "sheave groove depth": ("d", "mm"),
    "sheave throat angle": ("deg",),
    "sheave hardness": ("HRC",),
    "drum pitch": ("d", "mm"),
    "drum groove depth": ("d", "mm"),
    "clearance between wraps": ("mm", "d"),
    "flange freeboard": ("d", "mm"),
    "spooling tension of working load": ("%",),
    "spooling tension of breaking force": ("%",),
    "design factor": ("-",),
    "wedge socket tail": ("d", "mm"),
}

#: Words a measure may be stated in, in trade words.
SET_UP_WORDS: Final[Mapping[str, tuple[str, ...]]] = {
    "drum hand": ("right", "left", "not grooved"),
    "swivel": ("none", "locked", "free"),
    "limits reset after rope change": ("yes", "no"),
    "wedge socket pull in line": _YES_NO,
    "wedge socket parts matched": _YES_NO,
    "wedge socket clip": ("none", "on the tail only", "tail to live part"),
    "wedge socket tail secured": _YES_NO,
    "wedge socket rope used again": _YES_NO,
}

SET_UP_MEASURES: Final[tuple[str, ...]] = (*SET_UP_UNITS, *SET_UP_WORDS)


@dataclass(frozen=True, slots=True, kw_only=True)
class SetUpMeasure:
    """One figure or word of the set-up, how it is known, and of which part.

    ``value`` [-] is an exact number in ``unit``, where ``d`` is nominal rope diameters; or a
    word of the list for this measure.
    """

    name: str
    value: Fraction | str
    unit: str = ""
    how: HowKnown = "stated"
    on: date | None = None
    which: str = ""

    def __post_init__(self) -> None:
        """Refuse a measure, word or unit that is not known."""
        if self.name not in SET_UP_MEASURES:
            raise InputError(
                field="name", expected=f"one of {', '.join(SET_UP_MEASURES)}", given=self.name
            )
        if self.value == NOT_FITTED and not self.unit:
            return
        words = SET_UP_WORDS.get(self.name)
        if words is not None:
            if self.value not in words or self.unit:
                raise InputError(
                    field="value",
                    expected=f"one of {', '.join(words)}",
                    given=f"{self.value} {self.unit}".strip(),
                )
            return
        units = SET_UP_UNITS[self.name]
        if isinstance(self.value, str) or self.value < 0 or self.unit not in units:
            raise InputError(
                field="value",
                expected=f"a number of at least 0 in {' or '.join(units)}",
                given=f"{self.value} {self.unit}".strip(),
            )


def measures_of_drum(
    figures: DrumFigures,
    *,
    fleet_angles_deg: tuple[float, float] | None = None,
    on: date | None = None,
) -> tuple[SetUpMeasure, ...]:
    """What geometry worked out for a drum, as measures of the set-up.

    Parameters
    ----------
    figures
        Figures of the drum.
    fleet_angles_deg
        Fleet angles at both flanges [deg]; both become measures, as the larger and the smaller
        one are held to different limits.
    on
        The day from which they hold.
    """
    flange = ("clamp's flange", "far flange")
    angles = dict(zip(flange, fleet_angles_deg, strict=True)) if fleet_angles_deg else {}
    known: list[tuple[str, float | None, str, str]] = [
        ("drum diameter", figures.barrel_ratio, "d", "drum"),
        ("drum pitch", figures.pitch_ratio, "d", "drum"),
        ("clearance between wraps", figures.pitch_gap_mm, "mm", "drum"),
        ("flange freeboard", figures.freeboard_mm, "mm", "drum"),
        *(("fleet angle", abs(angle), "deg", which) for which, angle in angles.items()),
    ]
    return tuple(
        SetUpMeasure(
            name=name,
            value=Fraction(format(max(value, 0.0), f".{_WORKED_OUT_PLACES}f")),
            unit=unit,
            how="worked out",
            on=on,
            which=which,
        )
        for name, value, unit, which in known
        if value is not None
    )
