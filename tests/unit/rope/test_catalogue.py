"""The tables, compared cell by cell with a copy typed a second time, and read strictly."""

import csv
import re
from collections.abc import Callable, Iterator
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ropewright.errors import TableError, UnknownNameError
from ropewright.formulas import fill_factor
from ropewright.rope import (
    CatalogueRow,
    catalogue,
    construction_names,
    factors_table,
    find_factors,
    find_row,
    tolerance_table,
)
from ropewright.rope.catalogue import read_constructions, read_factors, read_tolerances

PUBLISHED = Path(__file__).parents[2] / "published"

# Compacted ropes and listed twins that share a printed row, but not the mark behind it: the
# mark says that the category number was remembered from the standard, for the other one.
UNMARKED_TWINS = {"8×19W", "8×K26WS", "8×K36WS", "19×7", "35(W)×K7"}
ALSO_READ_SECOND_HAND = {"6×36WS", "35(W)×7"}


def _printed(file: str) -> list[dict[str, str]]:
    with (PUBLISHED / file).open(encoding="utf-8", newline="") as table:
        return list(csv.DictReader(table))


def _printed_constructions() -> Iterator[tuple[str, dict[str, str], int]]:
    for row in _printed("constructions.csv"):
        names = row["construction"].split(", ")
        wires = [int(n) for n in row["n"].split(", ")] * len(names)
        yield from ((name, row, n) for name, n in zip(names, wires, strict=False))


CONSTRUCTIONS = list(_printed_constructions())


def test_all_printed_constructions_are_listed_and_no_others() -> None:
    printed = {name.replace("×", "x") for name, _, _ in CONSTRUCTIONS}
    assert printed == set(construction_names())
    assert len(construction_names()) == 33


@pytest.mark.parametrize(("name", "printed", "n"), CONSTRUCTIONS, ids=lambda cell: str(cell)[:9])
def test_constructions_as_printed(name: str, printed: dict[str, str], n: int) -> None:
    # Derived from the strand make, second-hand or from memory, as each row says.
    row = find_row(name)
    assert row.outer_strands == int(printed["outer_strands"])
    assert row.load_bearing_outer_wires == n
    assert row.rcn == printed["rcn"].split(" ✓")[0].split(" (")[0].replace("> 300", ">300")
    assert row.thick_outer_wires == ("less two rows" in printed["rcn"])
    if "outer" not in printed["strand"]:
        assert row.strand == printed["strand"]
    marked = "✓" in printed["rcn"] and name not in UNMARKED_TWINS
    expected = "second-hand" if name in ALSO_READ_SECOND_HAND else "memory"
    assert row.rcn_provenance == (expected if marked else "derived")
    assert row.wires_provenance == ("second-hand" if name in ALSO_READ_SECOND_HAND else "derived")
    assert row.compacted == ("K" in name)
    assert row.rotation_resistant == (row.outer_strands == 4 or row.outer_strands > 10)


@pytest.mark.parametrize("row", catalogue(), ids=lambda row: row.name)
def test_wires_of_a_strand_follow_from_its_make(row: CatalogueRow) -> None:
    # By hand: the numbers of the make add up; those marked F are fillers and bear no load.
    if row.strand:
        parts = re.split(r"[-+/]", row.strand)
        wires = sum(int(part) for part in parts if not part.endswith("F"))
        assert row.wires_per_outer_strand == wires
    assert row.load_bearing_outer_wires == row.outer_strands * row.wires_per_outer_strand


@pytest.mark.parametrize(
    "name", ["6×36WS", "6x36ws", " 6 X 36 WS ", "6*36WS", "6\u00a0×\u00a036\u00a0WS"]
)
def test_spelling_that_means_nothing_is_no_obstacle(name: str) -> None:
    assert find_row(name).name == "6x36WS"


def test_unknown_construction_lists_near_ones_and_says_what_else_can_be_given() -> None:
    with pytest.raises(UnknownNameError) as caught:
        find_row("6x36", field="rope.construction")
    assert "6x36WS" in caught.value.near
    assert caught.value.field == "rope.construction"
    assert "numbers from its certificate" in str(caught.value)


@given(st.text(max_size=300))
def test_any_other_name_is_an_unknown_name(name: str) -> None:
    try:
        row = find_row(name)
    except UnknownNameError:
        return
    assert row in catalogue()


# --- Factors ------------------------------------------------------------------------------------


def _decimal(text: str) -> Fraction:
    return Fraction(f"0{text}")


def _printed_factors() -> Iterator[tuple[str, str, str]]:
    for row in _printed("factors.csv"):
        name = row["class"].replace("×", "x")
        yield name, "fibre", row["fibre core W / C / K (f)"]
        yield name, "steel", row["steel core W / C / K (f)"]


@pytest.mark.parametrize(("name", "core", "printed"), list(_printed_factors()))
def test_factors_as_printed(name: str, core: str, printed: str) -> None:
    # Published (second-hand): EN 12385-4, restated in a textbook table and by a second page.
    found = find_factors(name, core)
    assert found is not None
    figures = re.findall(r"\.[0-9]{3}", printed)
    assert found.mass_factor == _decimal(figures[0])
    assert found.area_factor == _decimal(figures[1])
    assert found.breaking_force_factor == _decimal(figures[2])
    assert found.fill_factor == (_decimal(figures[3]) if len(figures) == 4 else None)
    assert found.provenance == "second-hand"


@pytest.mark.parametrize("row", _printed("factors.csv"), ids=lambda row: row["class"])
def test_factors_of_strand_cores_as_printed(row: dict[str, str]) -> None:
    found = find_factors(row["class"].replace("×", "x"), "steel strand")
    printed = row["WSC K"]
    assert (found is not None) == bool(printed)
    if found is not None:
        assert found.breaking_force_factor == _decimal(printed)
        assert found.mass_factor is None


def test_no_factors_beyond_the_printed_ones() -> None:
    printed = {row["class"].replace("×", "x") for row in _printed("factors.csv")}
    listed = {row.factors_class for row in factors_table()}
    assert listed - printed == {"35(W)x7"}
    assert len(factors_table()) == 2 * len(printed) + 3 + 2


@pytest.mark.parametrize(("grade", "factor"), [(None, ".350"), (1960, ".360"), (2160, ".350")])
def test_factors_of_35wx7(grade: int | None, factor: str) -> None:
    # From memory.
    found = find_factors("35(W)x7", None, None if grade is None else Fraction(grade))
    assert found is not None
    assert found.breaking_force_factor == _decimal(factor)
    assert (found.mass_factor, found.area_factor) == (_decimal(".454"), None)
    assert found.provenance == "memory"


def test_no_factor_where_the_table_has_no_one_answer() -> None:
    assert find_factors("35(W)x7", None, Fraction(2200)) is None
    assert find_factors("6x36", None) is None
    assert find_factors("6x36", "plastic") is None
    assert find_factors("no such class", "steel") is None


def test_printed_fill_factors_agree_with_the_area_factors() -> None:
    # Derived: f = 4 C / pi. The table prints three digits of both; half of the last one of
    # each: 0.0005 + 4 / pi * 0.0005.
    for row in factors_table():
        if row.fill_factor is not None and row.area_factor is not None:
            worked_out = fill_factor(area_factor=row.area_factor)
            assert worked_out == pytest.approx(float(row.fill_factor), abs=0.0012)


def test_two_sources_that_differ_are_noted() -> None:
    noted = {row.factors_class for row in factors_table() if row.note}
    assert noted == {"6x19M", "6x37M"}


def test_classes_of_listed_constructions_have_factors() -> None:
    classes = {row.factors_class for row in factors_table()}
    for row in catalogue():
        assert row.factors_class is None or row.factors_class in classes, row.name
        assert not (row.compacted and row.factors_class), row.name


# --- Tolerances ---------------------------------------------------------------------------------


@pytest.mark.parametrize("number", range(4))
def test_diameter_tolerance_as_printed(number: int) -> None:
    # Published (second-hand): EN 12385-4, restated on a trade page.
    printed = _printed("diameter_tolerance.csv")[number]
    rows = [row for row in tolerance_table() if row.standard == "EN 12385-4"]
    row = rows[number]
    bounds = [Fraction(text) for text in re.findall(r"[0-9]+", printed["nominal d mm"])]
    assert [row.lower_mm, row.upper_mm][: len(bounds)] == bounds
    assert (row.upper_mm is None) == (len(bounds) == 1)
    low, high = re.findall(r"[0-9]+", printed["tolerance"])
    assert (row.low_percent, row.high_percent) == (Fraction(low), Fraction(high))
    assert row.spread_wire_percent == int(printed["spread wire-centre strands"].split()[0])
    fibre = printed["spread fibre-centre strands"].split()[0]
    assert row.spread_fibre_percent == (None if fibre == "–" else int(fibre))
    assert row.includes == "lower"
    assert len(rows) == 4


def test_us_diameter_tolerance_as_printed() -> None:
    # Published (second-hand): Wire Rope Users Manual; never below nominal.
    rows = [row for row in tolerance_table() if row.standard == "Wire Rope Users Manual"]
    printed = _printed("us_diameter_tolerance.csv")
    inches = [None if row.upper_mm is None else row.upper_mm / Fraction("25.4") for row in rows]
    assert [f"{inch} in" if inch else "larger" for inch in inches] == [
        row["thru"] for row in printed
    ]
    assert [(row.high_percent, row.low_percent) for row in rows] == [
        (Fraction(row["over %"]), Fraction(row["under %"])) for row in printed
    ]


# --- Strict reading -----------------------------------------------------------------------------

Read = Callable[..., tuple[object, ...]]

HEADS: dict[Read, str] = {
    read_constructions: "name,strand,outer_strands,wires_per_outer_strand,n,rcn,thick,"
    "rotation_resistant,compacted,factors_class,n_provenance,rcn_provenance",
    read_factors: "factors_class,core,mass,area,breaking_force,fill,grade_up_to,provenance,note",
    read_tolerances: "standard,lower,upper,includes,low_percent,high_percent,"
    "spread_wire_percent,spread_fibre_percent,provenance",
}
GOOD: dict[Read, str] = {
    read_constructions: "6x7,1-6,6,7,42,01,no,no,no,6x7,derived,derived",
    read_factors: "6x7,fibre,0.345,0.369,0.332,0.470,,second-hand,",
    read_tolerances: "EN 12385-4,2 mm,4 mm,lower,0,8,7,,second-hand",
}


@pytest.mark.parametrize("read", HEADS)
def test_a_good_line_is_read(read: Read) -> None:
    assert len(read(f"{HEADS[read]}\n{GOOD[read]}\n", file="a.csv")) == 1


@pytest.mark.parametrize(
    ("read", "line", "field"),
    [
        (read_constructions, "6x7,1-6,6,7,43,01,no,no,no,6x7,derived,derived", "line 2, n"),
        (read_constructions, "6x7,1-6,0,7,42,01,no,no,no,6x7,derived,derived", "outer_strands"),
        (read_constructions, "6x7,1-6,6,7,42,01,No,no,no,6x7,derived,derived", "thick"),
        (read_constructions, "6x7,1-6,6,20,120,01,yes,no,no,,derived,derived", "thick"),
        (read_constructions, "6x7,1-6,6,7,42,01,no,no,no,6x7,guess,derived", "n_provenance"),
        (read_constructions, ",1-6,6,7,42,01,no,no,no,6x7,derived,derived", "name"),
        (read_constructions, "6x7,1-6,6,7,42,01,no,no,no,6x7,derived", "line 2"),
        (read_factors, "6x7,wool,0.345,0.369,0.332,0.470,,second-hand,", "core"),
        (read_factors, "6x7,fibre,0,345,0.369,0.332,0.470,,second-hand", "mass"),
        (read_factors, "6x7,fibre,0.345,0.369,,0.470,,second-hand,", "breaking_force"),
        (read_tolerances, "EN 12385-4,2,4 mm,lower,0,8,7,,second-hand", "lower"),
        (read_tolerances, "EN 12385-4,2 mm,4 mm,both,0,8,7,,second-hand", "includes"),
        (read_tolerances, "EN 12385-4,2 mm,4 mm,lower,9,8,7,,second-hand", "high_percent"),
    ],
)
def test_a_wrong_cell_is_named(read: Read, line: str, field: str) -> None:
    with pytest.raises(TableError) as caught:
        read(f"{HEADS[read]}\n{line}\n", file="a.csv")
    assert field in str(caught.value)
    assert caught.value.file == "a.csv"


@pytest.mark.parametrize("read", HEADS)
def test_a_wrong_head_or_a_broken_quote_is_refused(read: Read) -> None:
    with pytest.raises(TableError, match="line 1"):
        read(f"x{HEADS[read]}\n", file="a.csv")
    with pytest.raises(TableError, match="not a table"):
        read(f'{HEADS[read]}\n"6x7"x\n', file="a.csv")


@pytest.mark.parametrize(
    ("read", "lines", "words"),
    [
        (read_constructions, [GOOD[read_constructions]] * 2, "not there yet"),
        (read_factors, [GOOD[read_factors]] * 2, "not there yet"),
        (read_tolerances, [GOOD[read_tolerances]] * 2, "does not begin where"),
    ],
)
def test_a_doubled_line_is_refused(read: Read, lines: list[str], words: str) -> None:
    with pytest.raises(TableError, match=words):
        read("\n".join([HEADS[read], *lines]), file="a.csv")
