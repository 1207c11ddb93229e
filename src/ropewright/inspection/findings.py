"""What was found: on the rope, and on the parts the rope meets."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final, Literal, TypeAlias

from ropewright.errors import InputError
from ropewright.formulas import mean_diameter_mm
from ropewright.geometry import RopePlace, Section

Method: TypeAlias = Literal["eye", "eye-round", "feel", "gauge", "internal", "mrt"]
METHODS: Final[tuple[Method, ...]] = ("eye", "eye-round", "feel", "gauge", "internal", "mrt")
#: How closely a method looks for broken wires; a closer one may find what was there before.
CLOSENESS: Final[Mapping[Method, int]] = {"eye": 1, "eye-round": 2, "feel": 3, "mrt": 4}

BreakSite: TypeAlias = Literal["crown", "valley", "end", "unknown"]
BREAK_SITES: Final[tuple[BreakSite, ...]] = ("crown", "valley", "end", "unknown")

DamageKind: TypeAlias = Literal[
    "birdcage",
    "core protrusion",
    "strand protrusion",
    "wire loops",
    "local thinning",
    "local thickening",
    "strands out of place",
    "broken strand",
    "kink",
    "flat",
    "bend",
    "corrosion",
    "heat",
    "arc",
    "abrasion",
    "crushing",
    "cut",
    "unlaying",
]

#: Every kind of damage with the forms and grades a person may state for it, in trade words.
DAMAGE_WORDS: Final[Mapping[DamageKind, tuple[tuple[str, ...], tuple[str, ...]]]] = {
    "birdcage": ((), ()),
    "core protrusion": ((), ()),
    "strand protrusion": ((), ()),
    "wire loops": ((), ()),
    "local thinning": (("sunken strand", "core gone", "unknown"), ()),
    "local thickening": ((), ()),
    "strands out of place": ((), ()),
    "broken strand": ((), ()),
    "kink": (("kink", "tightened loop"), ()),
    "flat": ((), ("slight", "severe")),
    "bend": ((), ("slight", "severe")),
    "corrosion": (
        ("external", "internal", "fretting", "at an end"),
        ("wipes off", "rough", "pitted"),
    ),
    "heat": ((), ()),
    "arc": (("welding", "lightning", "power line", "unknown"), ("one wire", "two or more wires")),
    "abrasion": ((), ()),
    "crushing": ((), ()),
    "cut": ((), ()),
    "unlaying": ((), ()),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class BreakGroup:
    """``count`` broken wires on a stated length, offsets taped from the cluster's first break.

    ``from_mm`` .. ``to_mm`` [mm] are exact; a single taped break has both equal.  ``strand`` is
    the strand number the person gave, or ``None``.  A broken wire shows two ends and counts
    once.
    """

    from_mm: Fraction
    to_mm: Fraction
    count: int
    site: BreakSite = "crown"
    strand: int | None = None
    protruding: bool | None = None

    def __post_init__(self) -> None:
        if self.to_mm < self.from_mm:
            raise InputError(
                field="to", expected=f"at least the start {self.from_mm} mm", given=self.to_mm
            )
        if self.count < 1:
            raise InputError(field="count", expected="at least 1 broken wire", given=self.count)
        if self.strand is not None and self.strand < 1:
            raise InputError(field="strand", expected="a strand number from 1", given=self.strand)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Finding:
    finding_id: str
    place: RopePlace
    method: Method | None = None
    same_as: str | None = None
    remark: str = ""
    photos: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class BrokenWires(_Finding):
    """A cluster of broken wires: one place on the rope, offsets and strands within it.

    ``place`` is where offset 0 lies.  ``offset_err_mm`` [mm] is the error of a taped offset.
    ``crossover_damage``: a person says that the breaks come from crossovers or from wraps
    rubbing at the flange.  ``ends_broken_off``: protruding ends were broken off, so a hand can
    no longer feel them.
    """

    groups: tuple[BreakGroup, ...]
    offset_err_mm: Fraction = Fraction(0)
    crossover_damage: bool | None = None
    ends_broken_off: bool | None = None

    def __post_init__(self) -> None:
        if not self.groups:
            raise InputError(field="breaks", expected="at least one broken wire", given="none")

    @property
    def kind(self) -> str:
        """The kind of finding in trade words."""
        return "broken wires"

    @property
    def count(self) -> int:
        """All broken wires of the cluster [-]."""
        return sum(group.count for group in self.groups)

    @property
    def section(self) -> Section:
        """Where the cluster lies, without its error, in rope position."""
        # Asked for thousands of times a rope: divided here, which is what ``float`` does slowly.
        first = min([one.from_mm.numerator / one.from_mm.denominator for one in self.groups])
        last = max([one.to_mm.numerator / one.to_mm.denominator for one in self.groups])
        return Section(self.place.at_m + first / 1000, self.place.at_m + last / 1000)


@dataclass(frozen=True, slots=True, kw_only=True)
class DiameterReading(_Finding):
    """A diameter: ideally two readings at right angles at one place [mm]."""

    readings_mm: tuple[Fraction, ...]
    instrument: str | None = None
    tension: str = ""
    crushed_by_crossover: bool | None = None

    def __post_init__(self) -> None:
        if not self.readings_mm or any(value <= 0 for value in self.readings_mm):
            raise InputError(
                field="readings",
                expected="one or two diameters above 0",
                given=[str(value) for value in self.readings_mm],
            )

    @property
    def kind(self) -> str:
        """The kind of finding in trade words."""
        return "diameter"

    @property
    def section(self) -> Section:
        """The place of the reading as a section without length."""
        return Section(self.place.at_m, self.place.at_m)

    @property
    def measured_mm(self) -> Fraction | None:
        """Measured diameter [mm]: mean of two readings at right angles, else ``None``."""
        if len(self.readings_mm) != 2:
            return None
        first, second = self.readings_mm
        return mean_diameter_mm(first_mm=first, second_mm=second)

    @property
    def ovality_mm(self) -> Fraction | None:
        """Difference of the two readings [mm], else ``None``."""
        if len(self.readings_mm) != 2:
            return None
        return abs(self.readings_mm[0] - self.readings_mm[1])


@dataclass(frozen=True, slots=True, kw_only=True)
class Waviness(_Finding):
    """A wave: the gap between a straight edge and the rope [mm], over a section."""

    gap_mm: Fraction
    length_m: float = 0.0

    def __post_init__(self) -> None:
        if self.gap_mm < 0:
            raise InputError(field="gap", expected="a gap of at least 0", given=self.gap_mm)

    @property
    def kind(self) -> str:
        """The kind of finding in trade words."""
        return "waviness"

    @property
    def section(self) -> Section:
        """Where the wave lies, in rope position."""
        return Section(self.place.at_m, self.place.at_m + self.length_m)


@dataclass(frozen=True, slots=True, kw_only=True)
class Damage(_Finding):
    """Damage that is seen or felt rather than counted, with its form and grade if stated.

    ``rating_percent`` [%] is the person's own rating between the printed grades.
    ``depth_share`` [-] is worn depth over wire diameter, for abrasion.
    """

    damage: DamageKind
    length_m: float = 0.0
    form: str | None = None
    grade: str | None = None
    rating_percent: Fraction | None = None
    depth_share: Fraction | None = None

    def __post_init__(self) -> None:
        forms, grades = DAMAGE_WORDS[self.damage]
        if self.form is not None and self.form not in forms:
            raise InputError(
                field="form",
                expected=f"one of {', '.join(forms)}" if forms else f"no form for {self.damage}",
                given=self.form,
            )
        if self.grade is not None and self.grade not in grades:
            raise InputError(
                field="grade",
                expected=f"one of {', '.join(grades)}" if grades else f"no grade for {self.damage}",
                given=self.grade,
            )
        if self.rating_percent is not None and not 0 <= self.rating_percent <= 100:
            raise InputError(
                field="rating", expected="0 % to 100 %", given=str(self.rating_percent)
            )

    @property
    def kind(self) -> str:
        """The kind of finding in trade words."""
        return self.damage

    @property
    def section(self) -> Section:
        """Where the damage lies, in rope position."""
        return Section(self.place.at_m, self.place.at_m + self.length_m)


@dataclass(frozen=True, slots=True, kw_only=True)
class MetallicLoss(_Finding):
    """Metal or strength lost by a magnetic rope test, over a length from ``place`` on.

    ``percent`` [%] is the loss the test states, ``over_mm`` [mm] the length it is stated for;
    ``None`` if nobody says.
    """

    percent: Fraction
    over_mm: Fraction | None = None
    of: Literal["metallic area", "breaking force"] = "metallic area"

    def __post_init__(self) -> None:
        if not 0 <= self.percent <= 100:
            raise InputError(field="loss", expected="0 % to 100 %", given=str(self.percent))
        if self.over_mm is not None and self.over_mm <= 0:
            raise InputError(field="over", expected="a length above 0", given=self.over_mm)

    @property
    def kind(self) -> str:
        """The kind of finding in trade words."""
        return "metallic loss"

    @property
    def section(self) -> Section:
        """The length the loss is stated for, in rope position."""
        return Section(self.place.at_m, self.place.at_m + float(self.over_mm or 0) / 1000)


RopeFinding: TypeAlias = BrokenWires | DiameterReading | Waviness | Damage | MetallicLoss

PartKind: TypeAlias = Literal[
    "sheave",
    "drum",
    "rope clamp",
    "wedge socket",
    "swivel",
    "pin",
    "end fitting",
    "hook block",
    "rope roller",
    "rope guide",
    "equaliser",
    "limit switch",
    "load sensor sheave",
    "spooling",
]

#: Findings that a person may state on each part, in trade words.
PART_WORDS: Final[Mapping[PartKind, tuple[str, ...]]] = {
    "sheave": (
        "groove worn", "groove too tight", "rope print in groove", "flange damaged", "crack",
        "bearing play", "seized", "keeper gap", "keeper missing", "plastic rim loose",
    ),
    "drum": ("groove worn", "rope print in groove", "flange damaged", "crack", "bolts loose"),
    "rope clamp": ("bolts loose", "clamp missing", "rope slipped", "corroded", "wrongly fitted"),
    "wedge socket": (
        "wrongly fitted", "wrong wedge", "tail too short", "tail clipped to live part", "crack",
        "worn", "corroded", "bent", "rope slipped", "pin not secured",
    ),
    "swivel": ("seized", "worn", "crack", "fitted with a rope that must not hang on it"),
    "pin": ("worn", "bent", "not secured", "crack"),
    "end fitting": ("wrongly fitted", "worn", "corroded", "crack", "bent", "rope slipped"),
    "hook block": (
        "side plate damaged", "pin worn", "latch missing", "hook opened", "crack",
        "bearing play", "does not turn",
    ),
    "rope roller": ("grooved", "seized", "missing", "crack"),
    "rope guide": ("worn", "out of step", "broken", "missing"),
    "equaliser": ("seized", "out of level", "crack", "worn"),
    "limit switch": ("does not act", "wrongly set", "bridged", "not tried", "damaged"),
    "load sensor sheave": ("seized", "groove worn", "bearing play", "crack"),
    "spooling": (
        "gap in layer", "wrap climbed out of groove", "pulled-in wrap", "slack layer",
        "piled at flange", "wrong crossover",
    ),
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class PartFinding:
    """A finding on a part: what part, which one, what is wrong, how large if measured.

    ``measured`` [mm] holds measured lengths by name.
    """

    finding_id: str
    part: PartKind
    which: str
    state: str
    measured: Mapping[str, Fraction] = field(default_factory=dict)
    dangerous: bool | None = None
    remark: str = ""
    photos: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        allowed = PART_WORDS[self.part]
        if self.state not in allowed:
            raise InputError(
                field="state", expected=f"one of {', '.join(allowed)}", given=self.state
            )
