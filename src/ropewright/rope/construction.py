"""What a rope is made of, as far as the counting of wires needs it.

Each fact comes from the rope's certificate, else from numbers a person gave, else from the table
of listed constructions, else it is worked out from the others.  Every fact keeps its origin.
"""

import re
from dataclasses import dataclass, fields
from typing import Final, Literal, TypeAlias, TypeVar, cast, get_args

from ropewright.errors import InputError
from ropewright.formulas import load_bearing_outer_wires as wires_of
from ropewright.rope.catalogue import CatalogueRow, find_row
from ropewright.rope.table import Provenance

Core: TypeAlias = Literal["fibre", "steel", "parallel-closed", "plastic-coated steel"]
CORES: Final[tuple[Core, ...]] = get_args(Core)
Origin: TypeAlias = Literal["certificate", "given numbers", "table", "worked out", "assumed"]

SEALE_WIRES: Final = 19
"""The rule for thick Seale wires reaches strands of up to this many wires.

Source: ISO 4309:2017, notes to the broken-wire tables. Provenance: second-hand
"""

_T = TypeVar("_T")


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldOrigin:
    """Where one fact about a construction comes from.

    ``table_value`` is what the table of listed constructions says instead, if it differs.
    """

    field: str
    origin: Origin
    provenance: Provenance | None = None
    table_value: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class StrandNumbers:
    """What a certificate, data sheet or person states about the make of a rope; all optional.

    Wires are load-bearing wires: fillers are left out.  ``thick_outer_wires`` means Seale
    strands of 19 wires or fewer.
    """

    outer_strands: int | None = None
    wires_per_outer_strand: int | None = None
    load_bearing_outer_wires: int | None = None
    total_wires: int | None = None
    thick_outer_wires: bool | None = None
    rotation_resistant: bool | None = None
    compacted: bool | None = None
    core: Core | None = None

    def __post_init__(self) -> None:
        """Refuse a number that no rope has."""
        for field, least, most in (
            ("outer_strands", 3, 40),
            ("wires_per_outer_strand", 3, 200),
            ("load_bearing_outer_wires", 9, 5000),
            ("total_wires", 9, 20000),
        ):
            value = getattr(self, field)
            if value is not None and not least <= value <= most:
                raise InputError(
                    field=field, expected=f"a whole number from {least} to {most}", given=value
                )
        if self.core is not None and self.core not in CORES:
            raise InputError(field="core", expected="one of " + ", ".join(CORES), given=self.core)


@dataclass(frozen=True, slots=True, kw_only=True)
class Construction:
    """The make of a rope; made by `build_construction`, which keeps it free of contradiction.

    ``load_bearing_outer_wires`` is n, all load-bearing wires of all outer strands.
    ``thick_outer_wires`` is true where the rule for Seale strands of 19 wires or fewer holds or
    may hold.  ``origin`` is the strongest source used, ``provenance`` that of n if published.
    """

    name: str
    outer_strands: int | None
    wires_per_outer_strand: int | None
    load_bearing_outer_wires: int | None
    total_wires: int | None
    thick_outer_wires: bool
    rotation_resistant: bool | None
    compacted: bool | None
    core: Core | None
    factors_class: str | None
    origin: Literal["certificate", "given numbers", "table"]
    provenance: Provenance | None
    origins: tuple[FieldOrigin, ...] = ()

    def origin_of(self, field: str) -> FieldOrigin | None:
        """Return where a fact comes from, or none for one that is not known."""
        return next((one for one in self.origins if one.field == field), None)

    @property
    def differences(self) -> tuple[FieldOrigin, ...]:
        """The facts that differ from the table of listed constructions."""
        return tuple(one for one in self.origins if one.table_value is not None)


class _Gathering:
    """Takes each fact from the strongest source and remembers which that was."""

    def __init__(
        self,
        certificate: StrandNumbers | None,
        given: StrandNumbers | None,
        row: CatalogueRow | None,
    ) -> None:
        self._row = row
        sources: list[tuple[Origin, StrandNumbers | None]] = [
            ("certificate", certificate),
            ("given numbers", given),
        ]
        self._sources = [(origin, numbers) for origin, numbers in sources if numbers is not None]
        self.origins: dict[str, FieldOrigin] = {}

    def stated(self, field: str, kind: type[_T]) -> _T | None:
        """What the certificate or else a person states, noting where the table differs."""
        for origin, numbers in self._sources:
            value = getattr(numbers, field)
            if isinstance(value, kind):
                self._note(field, value, origin)
                return value
        return None

    def stated_or_listed(self, field: str, kind: type[_T]) -> _T | None:
        """What is stated, else what the table says."""
        value = self.stated(field, kind)
        return self.listed(field, kind) if value is None else value

    def listed(self, field: str, kind: type[_T]) -> _T | None:
        """What the table says."""
        value = getattr(self._row, field, None)
        if isinstance(value, kind):
            self._note(field, value, "table")
            return value
        return None

    def worked_out(self, field: str, value: _T) -> _T:
        """A fact that follows from the others."""
        self._note(field, value, "worked out")
        return value

    def assumed(self, field: str, value: _T) -> _T:
        """A fact nobody states, taken on the strict side."""
        self._note(field, value, "assumed")
        return value

    def _note(self, field: str, value: object, origin: Origin) -> None:
        listed = getattr(self._row, field, None)
        differs = listed is not None and listed != value
        published = self._row is not None and origin == "table"
        self.origins[field] = FieldOrigin(
            field=field,
            origin=origin,
            provenance=self._row.wires_provenance if self._row and published else None,
            table_value=_plain(listed) if differs else None,
        )


def _plain(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value)


def build_construction(
    *,
    name: str | None = None,
    given: StrandNumbers | None = None,
    certificate: StrandNumbers | None = None,
    category_number: str | None = None,
    field: str = "construction",
) -> Construction:
    """Put a construction together from its name, from numbers, or from both.

    Parameters
    ----------
    name
        Name of a listed construction; may be any other name if numbers are there.
    given
        Numbers a person stated; they win over the table.
    certificate
        Numbers on the rope's certificate; they win over everything.
    category_number
        Rope category number (RCN) from certificate or data sheet, if it is known; with it a
        rope may go without name and numbers.
    field
        Name of the construction's field, used in errors.

    Raises
    ------
    UnknownNameError
        If the name is not listed and neither numbers nor category number are there.
    InputError
        If nothing is there, or what is there contradicts itself.

    Examples
    --------
    >>> rope = build_construction(name="6x36WS")
    >>> rope.load_bearing_outer_wires, rope.origin, rope.provenance
    (216, 'table', 'second-hand')
    >>> own = build_construction(given=StrandNumbers(outer_strands=8, wires_per_outer_strand=31))
    >>> own.load_bearing_outer_wires, own.origin, own.provenance
    (248, 'given numbers', None)
    """
    numbers = [one for one in (certificate, given) if one is not None and _says_something(one)]
    row = _listed(name, numbers, category_number, field)
    facts = _Gathering(certificate, given, row)
    strands, wires, n = _counts(facts, row)
    used = {one.origin for one in facts.origins.values()}
    compacted = facts.stated_or_listed("compacted", bool)
    return Construction(
        name=row.name if row else (name or "given by numbers").strip(),
        outer_strands=strands,
        wires_per_outer_strand=wires,
        load_bearing_outer_wires=n,
        total_wires=_total(facts, n),
        thick_outer_wires=_thick(facts, wires, row),
        rotation_resistant=_rotation_resistant(facts, category_number),
        compacted=compacted,
        core=_core(facts),
        factors_class=None if row is None or compacted else row.factors_class,
        origin=_strongest(used, row),
        provenance=row.wires_provenance if row and used == {"table"} else None,
        origins=tuple(facts.origins.values()),
    )


def _says_something(numbers: StrandNumbers) -> bool:
    return any(getattr(numbers, one.name) is not None for one in fields(numbers))


def _listed(
    name: str | None, numbers: list[StrandNumbers], category_number: str | None, field: str
) -> CatalogueRow | None:
    """Return the row of a listed name; an unlisted name needs numbers beside it."""
    if name is None:
        if not numbers and category_number is None:
            raise InputError(
                field=field,
                expected='a construction such as "6x36WS", or its numbers: outer strands and '
                "load-bearing wires per outer strand",
                given=None,
            )
        return None
    enough = category_number is not None or any(
        one.load_bearing_outer_wires or one.wires_per_outer_strand for one in numbers
    )
    try:
        return find_row(name, field=field)
    except InputError:
        if enough:
            return None
        raise


def _counts(
    facts: _Gathering, row: CatalogueRow | None
) -> tuple[int | None, int | None, int | None]:
    """Return outer strands, wires per outer strand and n, free of contradiction."""
    strands = facts.stated("outer_strands", int)
    wires = facts.stated("wires_per_outer_strand", int)
    n = facts.stated("load_bearing_outer_wires", int)
    if strands is None:
        strands = facts.listed("outer_strands", int)
    if wires is None and n is None:
        wires = facts.listed("wires_per_outer_strand", int)
    if n is None:
        if strands is None or wires is None:
            return strands, wires, None
        product = wires_of(outer_strands=strands, wires_per_outer_strand=wires)
        if row is not None and product == row.load_bearing_outer_wires:
            return strands, wires, facts.listed("load_bearing_outer_wires", int)
        return strands, wires, facts.worked_out("load_bearing_outer_wires", product)
    if strands is None and wires is not None and n % wires == 0:
        strands = facts.worked_out("outer_strands", n // wires)
    if wires is None and strands is not None and n % strands == 0:
        wires = facts.worked_out("wires_per_outer_strand", n // strands)
    if strands is not None and wires is None:
        raise _contradiction(f"a multiple of the {strands} outer strands", n)
    if wires is not None and (strands is None or strands * wires != n):
        each = (
            f"{strands} outer strands × {wires} wires = {strands * wires}"
            if strands
            else (f"a multiple of the {wires} wires per outer strand")
        )
        raise _contradiction(each, n)
    return strands, wires, n


def _contradiction(expected: str, n: int) -> InputError:
    return InputError(
        field="load_bearing_outer_wires",
        expected=expected,
        given=n,
        hint="filler wires are left out, and only outer strands count",
    )


def _total(facts: _Gathering, n: int | None) -> int | None:
    total = facts.stated("total_wires", int)
    if total is not None and n is not None and total < n:
        raise InputError(
            field="total_wires",
            expected=f"at least the {n} wires of the outer strands",
            given=total,
        )
    return total


def _thick(facts: _Gathering, wires: int | None, row: CatalogueRow | None) -> bool:
    """Whether the rule for Seale strands holds; true where nobody says it does not."""
    stated = facts.stated("thick_outer_wires", bool)
    if wires is not None and wires > SEALE_WIRES:
        if stated:
            raise InputError(
                field="thick_outer_wires",
                expected=f"yes only for Seale strands of {SEALE_WIRES} wires or fewer",
                given=f"yes, with {wires} wires per outer strand",
            )
        return facts.worked_out("thick_outer_wires", False)
    if stated is not None:
        return stated
    if row is not None and wires == row.wires_per_outer_strand:
        return bool(facts.listed("thick_outer_wires", bool))
    return facts.assumed("thick_outer_wires", True)


def _rotation_resistant(facts: _Gathering, category_number: str | None) -> bool | None:
    """Whether the rope is rotation-resistant; its category number says so too."""
    known = facts.stated_or_listed("rotation_resistant", bool)
    if category_number is None:
        return known
    by_number = is_rotation_resistant_category(category_number)
    if known is None:
        return facts.worked_out("rotation_resistant", by_number)
    if known != by_number:
        kind = "a rotation-resistant rope" if known else "a rope that is not rotation-resistant"
        raise InputError(
            field="category_number",
            expected=f"the category number of {kind}",
            given=category_number,
            hint="01 to 13 are other ropes, 21 to 31 rotation-resistant ones",
        )
    return known


def is_rotation_resistant_category(category_number: str, *, field: str = "category_number") -> bool:
    """Whether a rope category number (RCN) belongs to the table of rotation-resistant ropes.

    Parameters
    ----------
    category_number
        As read on certificate or data sheet.
    field
        Name used in the error.

    Raises
    ------
    InputError
        If it is not a number from 01 to 13 or from 21 to 31, such as ``09`` or ``23-1``.

    Source: ISO 4309:2017, broken-wire tables for single-layer and for rotation-resistant ropes.
    Provenance: second-hand (single-layer), memory (rotation-resistant)
    """
    match = re.fullmatch(r"([0-9]{2})(-[1-3])?", category_number)
    number = int(match[1]) if match else 0
    known = 1 <= number <= 13 or 21 <= number <= 31
    if not match or not known or (match[2] is not None and number != 23):
        raise InputError(
            field=field,
            expected='a category number of two digits such as "09" or "23-1"',
            given=category_number,
        )
    return number >= 21


def _core(facts: _Gathering) -> Core | None:
    core = facts.stated("core", str)
    return None if core is None else cast(Core, core)


def _strongest(
    used: set[Origin], row: CatalogueRow | None
) -> Literal["certificate", "given numbers", "table"]:
    """Return the strongest source that the counts of wires rest on."""
    if "certificate" in used:
        return "certificate"
    return "given numbers" if "given numbers" in used or row is None else "table"
