"""What making findings needs to know of the rope and the inspection, and findings on parts."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from ropewright.errors import CaseFileError
from ropewright.inspection import PartFinding
from ropewright.intake.inspection_models import PartModel
from ropewright.intake.places import Findings, Ground
from ropewright.intake.quantities import RopeSpan
from ropewright.intake.wording import one_of
from ropewright.rope import Rope
from ropewright.units import exact_decimal, show_length_mm

READING_OFF: Final = Fraction(30, 100)
"""A reading further than this share from nominal is probably a slip of unit or digit."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """What making a finding needs to know of the rope and the inspection."""

    rope: Rope
    ground: Ground
    found: Findings
    instruments: frozenset[str]

    def length_mm(self, span: Fraction | RopeSpan, *, key: str) -> Fraction:
        """The length of ``span`` [mm], with diameters and lays worked out for this rope."""
        if not isinstance(span, RopeSpan):
            return span
        if span.of == "d":
            return span.count * self.rope.nominal_diameter_mm
        if self.rope.lay_length_mm is None:
            raise CaseFileError(
                field=key,
                expected='a length such as "120 mm" or "6 d", as this rope\'s lay length is '
                "not stated",
                given=f"{exact_decimal(span.count)} lay",
                hint='or state lay_length = "130 mm" in [rope]',
            )
        return span.count * self.rope.lay_length_mm


def check_instrument(
    name: str | None, *, where: str, instruments: frozenset[str], found: Findings
) -> None:
    """An instrument that is named must be in the inspection's list."""
    if name is None or name in instruments:
        return
    if instruments:
        expected = f"an instrument of this inspection, {one_of(sorted(instruments), name)[0]}"
    else:
        expected = "an [[inspection.instrument]] of that name"
    found.unknown(where, expected=expected, given=name)


def doubt_readings(
    readings: Sequence[Fraction], *, nominal_mm: Fraction, where: str, found: Findings
) -> None:
    """Note ``readings`` [mm] so far from ``nominal_mm`` [mm] that the unit should be looked at."""
    for reading in readings:
        share = abs(reading - nominal_mm) / nominal_mm
        if share > READING_OFF:
            found.doubt(
                where,
                f"{show_length_mm(reading)} is {round(share * 100)} % off the nominal "
                f"{show_length_mm(nominal_mm)}: check the unit",
            )


def part_finding(
    model: PartModel, *, finding_id: str, where: str, bench: Bench
) -> PartFinding | None:
    """Make one finding on a part; what is wrong goes to ``bench.found`` and gives ``None``."""
    with bench.found.at(where):
        return PartFinding(
            finding_id=finding_id,
            part=model.part,
            which=model.which,
            state=model.state,
            measured={
                name: bench.length_mm(span, key=f"measured.{name}")
                for name, span in (model.measured or {}).items()
            },
            dangerous=model.dangerous,
            remark=model.remark or "",
            photos=tuple(model.photos or ()),
        )
    return None
