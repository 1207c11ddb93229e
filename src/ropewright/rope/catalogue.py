"""The room's tables, read strictly from its own data files.

``constructions.csv``: the number of load-bearing wires n is worked out from the strand make; the
rope category number is the one that the broken-wire tables of ISO 4309:2017 give for it, after
the rule for Seale strands.  ``factors.csv``: EN 12385-4, as restated in Feyrer, Wire Ropes,
table 1.9.  ``diameter_tolerance.csv``: EN 12385-4 and others, as restated on trade pages.  Every
row carries its provenance; compacted ropes have no published factors.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib import resources
from itertools import pairwise
from typing import Final, Literal, cast

from ropewright.errors import TableError, UnknownNameError
from ropewright.rope.table import Provenance, table_lines

CONSTRUCTIONS_SOURCE: Final = "strand make; ISO 4309:2017, broken-wire tables"
FACTORS_SOURCE: Final = "EN 12385-4, as restated in Feyrer, Wire Ropes, table 1.9"

_FACTOR_CORES: Final = ("fibre", "steel", "steel strand")


@dataclass(frozen=True, slots=True, kw_only=True)
class CatalogueRow:
    """A listed construction.

    ``load_bearing_outer_wires`` is n: the load-bearing wires of all outer strands, fillers left
    out.  ``rcn`` is the category number as listed, after the rule for thick Seale wires.
    """

    name: str
    strand: str
    outer_strands: int
    wires_per_outer_strand: int
    load_bearing_outer_wires: int
    rcn: str
    thick_outer_wires: bool
    rotation_resistant: bool
    compacted: bool
    factors_class: str | None
    wires_provenance: Provenance
    rcn_provenance: Provenance


@dataclass(frozen=True, slots=True, kw_only=True)
class FactorsRow:
    """Factors of one class and core, up to a grade if one is printed.

    As printed: W is ``mass_factor`` [-], C is ``area_factor`` [-], K is ``breaking_force_factor``
    [-], f is ``fill_factor`` [-]; ``grade_up_to_n_per_mm2`` is the last grade they hold for.
    """

    factors_class: str
    core: str
    mass_factor: Fraction | None
    area_factor: Fraction | None
    breaking_force_factor: Fraction
    fill_factor: Fraction | None
    grade_up_to_n_per_mm2: Fraction | None
    provenance: Provenance
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ToleranceRow:
    """Diameter tolerance of new rope for a range of nominal diameters.

    One bound of the range belongs to it: the ``includes`` one.  The spread is the largest
    difference between readings, for strands with a wire or with a fibre in their middle.
    """

    standard: str
    lower_mm: Fraction | None
    upper_mm: Fraction | None
    includes: Literal["lower", "upper"]
    low_percent: Fraction
    high_percent: Fraction
    spread_wire_percent: Fraction | None
    spread_fibre_percent: Fraction | None
    provenance: Provenance

    def covers(self, nominal_diameter_mm: Fraction) -> bool:
        """Whether the range of this row covers ``nominal_diameter_mm`` [mm]."""
        lower, upper, d = self.lower_mm, self.upper_mm, nominal_diameter_mm
        if self.includes == "lower":
            return (lower is None or lower <= d) and (upper is None or d < upper)
        return (lower is None or lower < d) and (upper is None or d <= upper)


def _own(file: str) -> str:
    return resources.files("ropewright.rope").joinpath("data", file).read_text(encoding="utf-8")


# --- Constructions ------------------------------------------------------------------------------


def read_constructions(text: str, *, file: str) -> tuple[CatalogueRow, ...]:
    """Read a table of constructions; TableError names the file, line and column that is wrong."""
    columns = (
        "name strand outer_strands wires_per_outer_strand n rcn thick rotation_resistant "
        "compacted factors_class n_provenance rcn_provenance"
    )
    rows, names = [], set[str]()
    for line in table_lines(text, file=file, columns=columns):
        row = CatalogueRow(
            name=line.text("name"),
            strand=line.text("strand", empty=True),
            outer_strands=line.count("outer_strands"),
            wires_per_outer_strand=line.count("wires_per_outer_strand"),
            load_bearing_outer_wires=line.count("n"),
            rcn=line.text("rcn"),
            thick_outer_wires=line.flag("thick"),
            rotation_resistant=line.flag("rotation_resistant"),
            compacted=line.flag("compacted"),
            factors_class=line.text("factors_class", empty=True) or None,
            wires_provenance=line.provenance("n_provenance"),
            rcn_provenance=line.provenance("rcn_provenance"),
        )
        product = row.outer_strands * row.wires_per_outer_strand
        if row.load_bearing_outer_wires != product:
            raise line.refuse("n", f"strands times wires per strand, {product}")
        if row.thick_outer_wires and row.wires_per_outer_strand > 19:
            raise line.refuse("thick", "yes only for 19 wires a strand or fewer")
        if _plain(row.name) in names:
            raise line.refuse("name", "a name that is not there yet")
        names.add(_plain(row.name))
        rows.append(row)
    return tuple(rows)


@cache
def catalogue() -> tuple[CatalogueRow, ...]:
    """All listed constructions, in the order of the table."""
    return read_constructions(_own("constructions.csv"), file="constructions.csv")


def construction_names() -> tuple[str, ...]:
    """Names of all listed constructions, in the order of the table."""
    return tuple(row.name for row in catalogue())


def _plain(name: str) -> str:
    """Return a name without the differences that mean nothing: case, spaces, sign of times."""
    return re.sub(r"\s+", "", name).replace("×", "x").replace("*", "x").casefold()


@cache
def _by_plain_name() -> Mapping[str, CatalogueRow]:
    return {_plain(row.name): row for row in catalogue()}


def find_row(name: str, *, field: str = "construction") -> CatalogueRow:
    """Return a listed construction by its name.

    Parameters
    ----------
    name
        As written: ``6x36WS``, ``6 × 36 ws``.
    field
        Name used in the error.

    Raises
    ------
    UnknownNameError
        If it is not listed; names the nearest ones.

    Examples
    --------
    >>> find_row("35 (w) × 7").load_bearing_outer_wires
    112
    """
    row = _by_plain_name().get(_plain(name)) if len(name) <= 100 else None
    if row is None:
        raise UnknownNameError(
            what="a listed construction",
            given=name,
            known=construction_names(),
            field=field,
            hint="for any other rope give the numbers from its certificate or data sheet: "
            "outer strands, load-bearing wires per outer strand, rotation-resistant or not",
        )
    return row


# --- Factors ------------------------------------------------------------------------------------


def read_factors(text: str, *, file: str) -> tuple[FactorsRow, ...]:
    """Read a table of factors; TableError names the file, line and column that is wrong."""
    columns = "factors_class core mass area breaking_force fill grade_up_to provenance note"
    rows, keys = [], set[tuple[object, ...]]()
    for line in table_lines(text, file=file, columns=columns):
        row = FactorsRow(
            factors_class=line.text("factors_class"),
            core=line.word("core", _FACTOR_CORES),
            mass_factor=line.maybe_factor("mass"),
            area_factor=line.maybe_factor("area"),
            breaking_force_factor=line.factor("breaking_force"),
            fill_factor=line.maybe_factor("fill"),
            grade_up_to_n_per_mm2=line.maybe_number("grade_up_to"),
            provenance=line.provenance("provenance"),
            note=line.text("note", empty=True),
        )
        key = (row.factors_class, row.core, row.grade_up_to_n_per_mm2)
        if key in keys:
            raise line.refuse("factors_class", "a class, core and grade that is not there yet")
        keys.add(key)
        rows.append(row)
    return tuple(rows)


@cache
def factors_table() -> tuple[FactorsRow, ...]:
    """All factors, in the order of the table."""
    return read_factors(_own("factors.csv"), file="factors.csv")


def find_factors(
    factors_class: str, core: str | None, grade_n_per_mm2: Fraction | None = None
) -> FactorsRow | None:
    """Return the factors of a class, or none if the table has no one answer.

    Parameters
    ----------
    factors_class
        Class as in the table: ``6x36``.
    core
        ``fibre``, ``steel`` or ``steel strand``; none if not known, which is answered only
        where the table lists a single core for the class.
    grade_n_per_mm2
        Rope grade [N/mm²]; where factors depend on it and it is not known, the highest listed
        grade is taken, which has the lowest breaking force factor.
    """
    rows = [row for row in factors_table() if row.factors_class == factors_class]
    cores = {row.core for row in rows}
    wanted = core if core is not None or len(cores) != 1 else next(iter(cores))
    found = [row for row in rows if row.core == wanted]
    for row in sorted(found, key=lambda row: row.grade_up_to_n_per_mm2 or Fraction(10**6)):
        limit = row.grade_up_to_n_per_mm2
        if limit is None or (grade_n_per_mm2 is not None and grade_n_per_mm2 <= limit):
            return row
    if grade_n_per_mm2 is None and found:
        return min(found, key=lambda row: row.breaking_force_factor)
    return None


# --- Tolerance of new rope ----------------------------------------------------------------------


def read_tolerances(text: str, *, file: str) -> tuple[ToleranceRow, ...]:
    """Read a table of tolerances; TableError names the file, line and column that is wrong."""
    columns = (
        "standard lower upper includes low_percent high_percent spread_wire_percent "
        "spread_fibre_percent provenance"
    )
    rows = []
    for line in table_lines(text, file=file, columns=columns):
        row = ToleranceRow(
            standard=line.text("standard"),
            lower_mm=line.maybe_length_mm("lower"),
            upper_mm=line.maybe_length_mm("upper"),
            includes=cast(Literal["lower", "upper"], line.word("includes", ("lower", "upper"))),
            low_percent=line.number("low_percent"),
            high_percent=line.number("high_percent"),
            spread_wire_percent=line.maybe_number("spread_wire_percent"),
            spread_fibre_percent=line.maybe_number("spread_fibre_percent"),
            provenance=line.provenance("provenance"),
        )
        if row.low_percent > row.high_percent:
            raise line.refuse("high_percent", "at least low_percent")
        rows.append(row)
    for one, two in pairwise(rows):
        if one.standard == two.standard and one.upper_mm != two.lower_mm:
            raise TableError(
                f"{one.standard}: one range does not begin where the other ends", file=file
            )
    return tuple(rows)


@cache
def tolerance_table() -> tuple[ToleranceRow, ...]:
    """All diameter tolerances of new rope, in the order of the table."""
    return read_tolerances(_own("diameter_tolerance.csv"), file="diameter_tolerance.csv")
