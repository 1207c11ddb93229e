"""The printed tables against a second copy, typed separately and the other way round.

The second copies in ``tests/published/rules`` have a column for each category number and a line
for each printed column; nobody copied one from the other.
"""

import csv
from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import pytest

from ropewright.errors import TableError
from ropewright.intake.shelf import PackageShelf
from ropewright.rules import RuleSet
from ropewright.rules.model import BreakCheck, DiameterCheck
from ropewright.rules.tables import Row, Table, check_cells, read_table, rows_for, rows_up

PUBLISHED = Path(__file__).parents[2] / "published" / "rules"

# printed column (first copy) -> line of the second copy
TABLE_A = {
    "n_from": "wires from",
    "n_to": "wires to",
    "ordinary lay 6 d": "ordinary lay 6 d",
    "ordinary lay 30 d": "ordinary lay 30 d",
    "Lang lay 6 d": "Lang lay 6 d",
    "Lang lay 30 d": "Lang lay 30 d",
    "multi-layer 6 d": "multi-layer 6 d",
    "multi-layer 30 d": "multi-layer 30 d",
}
TABLE_B = {
    "strands_from": "outer strands from",
    "strands_to": "outer strands to",
    "n_from": "wires from",
    "n_to": "wires to",
    "single layer 6 d": "single-layer 6 d",
    "single layer 30 d": "single-layer 30 d",
    "multi-layer 6 d": "multi-layer 6 d",
    "multi-layer 30 d": "multi-layer 30 d",
}
TABLE_5 = {
    "rating": "rating %",
    "fibre core": "fibre core",
    "steel core": "steel core or parallel-closed",
    "rotation-resistant": "rotation-resistant",
}


def second_copy(name: str) -> dict[str, dict[str, str]]:
    """Line head -> column head -> cell."""
    with (PUBLISHED / name).open(encoding="utf-8", newline="") as file:
        rows = list(csv.reader(file))
    heads = rows[0][1:]
    assert all(len(row) == len(rows[0]) for row in rows), name
    return {row[0]: dict(zip(heads, row[1:], strict=True)) for row in rows[1:]}


@pytest.fixture(scope="module")
def iso() -> RuleSet:
    return PackageShelf().get("iso-4309-2017")


def category(row: Row) -> str:
    return "more than 300" if row.cells["rcn"] == "-" else row.cells["rcn"]


def assert_same(
    table: Table, copy: dict[str, dict[str, str]], columns: dict[str, str], heads: list[str]
) -> None:
    assert len(table.rows) == len(heads)
    for row, head in zip(table.rows, heads, strict=True):
        for column, line in columns.items():
            assert row.cells[column] == copy[line][head], f"row {head}, column {column}"


@pytest.mark.parametrize(
    ("file", "copy_name", "columns"),
    [
        # published (ISO 4309, table for single-layer ropes as reprinted by a rope supplier)
        ("breaks-single-layer-ropes.csv", "iso_4309_2017_single_layer_ropes.csv", TABLE_A),
        # from memory (ISO 4309:2017, table for rotation-resistant ropes)
        (
            "breaks-rotation-resistant-ropes.csv",
            "iso_4309_2017_rotation_resistant_ropes.csv",
            TABLE_B,
        ),
    ],
)
def test_break_tables_agree_cell_by_cell_with_their_second_copy(
    iso: RuleSet, file: str, copy_name: str, columns: dict[str, str]
) -> None:
    table, copy = iso.tables[file], second_copy(copy_name)
    heads = [category(row) for row in table.rows]
    assert heads == list(copy["wires from"]), "the same rows in the same order"
    assert set(copy) == set(columns.values()), "no printed column is left out"
    assert set(table.heads) == {"rcn", "provenance", *columns}
    assert_same(table, copy, columns, heads)


def test_diameter_table_agrees_cell_by_cell_with_its_second_copy(iso: RuleSet) -> None:
    # from memory (ISO 4309:2017, table of uniform decrease)
    table = iso.tables["uniform-decrease.csv"]
    copy = second_copy("iso_4309_2017_uniform_decrease.csv")
    heads = [row.cells["severity"] for row in table.rows]
    assert heads == list(copy["rating %"])
    assert set(table.heads) == {"severity", *TABLE_5}
    assert_same(table, copy, TABLE_5, heads)


def test_bands_of_wires_follow_each_other_without_gap(iso: RuleSet) -> None:
    rows = iso.tables["breaks-single-layer-ropes.csv"].rows
    assert rows[0].number("n_from") == 1
    for above, below in pairwise(rows):
        end = above.number("n_to")
        assert end is not None
        assert below.number("n_from") == end + 1, f"row {below.cells['rcn']}"
    assert rows[-1].cells["n_to"] == ""


def test_bands_for_eleven_and_more_strands_follow_each_other(iso: RuleSet) -> None:
    rows = [
        row
        for row in iso.tables["breaks-rotation-resistant-ropes.csv"].rows
        if row.cells["strands_from"] == "11"
    ]
    assert rows[0].number("n_from") == 71
    for above, below in pairwise(rows):
        end = above.number("n_to")
        assert end is not None
        assert below.number("n_from") == end + 1, f"row {below.cells['rcn']}"
    assert rows[-1].cells["n_to"] == ""


def test_every_number_of_wires_has_exactly_one_row_for_single_layer_ropes(iso: RuleSet) -> None:
    table = iso.tables["breaks-single-layer-ropes.csv"]
    for n in range(1, 400):
        assert len(rows_for(table, n=n, outer_strands=None, rcn=None)) == 1, n


def test_single_layer_columns_equal_din_15020_2_one_group_further(iso: RuleSet) -> None:
    # published (DIN 15020-2): what its groups 2m to 5m print for 6 d is what ISO prints for 30 d
    din = second_copy("din_15020_2_groups_2m_to_5m.csv")
    rows = iso.tables["breaks-single-layer-ropes.csv"].rows[:13]
    for row in rows:
        rcn = row.cells["rcn"]
        assert row.cells["ordinary lay 30 d"] == din["ordinary lay 6 d"][rcn]
        assert row.cells["Lang lay 30 d"] == din["Lang lay 6 d"][rcn]
        assert row.cells["ordinary lay 30 d"] == din["Lang lay 30 d"][rcn]


def test_multi_layer_columns_are_twice_the_ordinary_lay_columns(iso: RuleSet) -> None:
    # derived (exactly twice in all 13 rows, and in the factors)
    for row in iso.tables["breaks-single-layer-ropes.csv"].rows:
        for window in ("6 d", "30 d"):
            ordinary, multi = (
                row.limit(f"ordinary lay {window}", 1000),
                row.limit(f"multi-layer {window}", 1000),
            )
            assert ordinary is not None
            assert multi == 2 * ordinary, f"row {row.cells['rcn']}, {window}"


def test_lang_lay_30d_equals_ordinary_lay_6d(iso: RuleSet) -> None:
    # derived (the printed figures of table A)
    for row in iso.tables["breaks-single-layer-ropes.csv"].rows:
        assert row.cells["Lang lay 30 d"] == row.cells["ordinary lay 6 d"]


def test_rotation_resistant_columns_follow_the_pattern_of_the_other_table(iso: RuleSet) -> None:
    # derived (the pattern that supports the recall, and the two cells that leave it)
    first = {row.cells["rcn"]: row for row in iso.tables["breaks-single-layer-ropes.csv"].rows}
    second = {
        row.cells["rcn"]: row for row in iso.tables["breaks-rotation-resistant-ropes.csv"].rows
    }
    pairs = dict(
        zip(
            ["23-2", "23-3", "24", "25", "26", "27", "28", "29", "30", "31"],
            ["04", "05", "06", "07", "08", "09", "10", "11", "12", "13"],
            strict=True,
        )
    )
    leaving = []
    for b, a in pairs.items():
        assert second[b].cells["multi-layer 6 d"] == first[a].cells["ordinary lay 6 d"]
        assert second[b].cells["multi-layer 30 d"] == first[a].cells["ordinary lay 30 d"]
        for window in ("6 d", "30 d"):
            if second[b].cells[f"single layer {window}"] != first[a].cells[f"Lang lay {window}"]:
                leaving.append((b, window))
    assert leaving == [("23-2", "6 d"), ("23-3", "30 d")]


def test_limits_never_fall_as_a_rope_has_more_wires(iso: RuleSet) -> None:
    for name in ("breaks-single-layer-ropes.csv", "breaks-rotation-resistant-ropes.csv"):
        table = iso.tables[name]
        for column in (c for c in table.heads if c.endswith(" d")):
            limits = [row.limit(column, 301) for row in table.rows]
            assert all(
                above <= below
                for above, below in pairwise(limits)
                if above is not None and below is not None
            ), f"{name}, {column}"


def _categories() -> list[dict[str, str]]:
    path = PUBLISHED / "iso_4309_2017_category_numbers.csv"
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("rope", _categories(), ids=lambda rope: rope["construction"])
def test_category_number_of_each_construction(iso: RuleSet, rope: dict[str, str]) -> None:
    # derived from strand make; some also second-hand or from memory, as the file says
    resistant = rope["rotation resistant"] == "yes"
    clause = next(
        one
        for one in iso.clauses
        if isinstance(one.check, BreakCheck)
        and one.check.table is not None
        and one.when.rotation_resistant is resistant
    )
    assert isinstance(clause.check, BreakCheck)
    table = clause.check.table
    assert table is not None
    rows = rows_for(table, n=int(rope["wires"]), outer_strands=int(rope["outer strands"]), rcn=None)
    if rope["Seale of 19 wires or fewer"] == "yes":
        rows = tuple(rows_up(table, row, clause.check.thick_rows_up) for row in rows)
    assert [row.cells["rcn"] for row in rows] == [rope["category number"]]


def test_seale_rule_stops_at_the_first_row(iso: RuleSet) -> None:
    table = iso.tables["breaks-single-layer-ropes.csv"]
    assert rows_up(table, table.rows[0], 2) is table.rows[0]
    assert rows_up(table, table.rows[1], 2) is table.rows[0]
    assert rows_up(table, table.rows[2], 2) is table.rows[0]
    assert rows_up(table, table.rows[3], 2) is table.rows[1]


def test_a_hundred_wires_in_four_strands_meet_two_rows(iso: RuleSet) -> None:
    # from memory: rows 21 (up to 100) and 22 (from 100) both name 100; the stricter one counts
    table = iso.tables["breaks-rotation-resistant-ropes.csv"]
    rows = rows_for(table, n=100, outer_strands=4, rcn=None)
    assert [row.cells["rcn"] for row in rows] == ["21", "22"]


@pytest.mark.parametrize(("strands", "n"), [(8, 200), (11, 70), (3, 99), (5, 120)])
def test_no_row_is_invented_for_ropes_the_table_does_not_print(
    iso: RuleSet, strands: int, n: int
) -> None:
    table = iso.tables["breaks-rotation-resistant-ropes.csv"]
    assert rows_for(table, n=n, outer_strands=strands, rcn=None) == ()


def test_unknown_number_of_strands_reads_no_row_of_a_table_that_asks_for_it(iso: RuleSet) -> None:
    table = iso.tables["breaks-rotation-resistant-ropes.csv"]
    assert rows_for(table, n=112, outer_strands=None, rcn=None) == ()


def test_given_category_number_goes_before_the_wires(iso: RuleSet) -> None:
    table = iso.tables["breaks-rotation-resistant-ropes.csv"]
    rows = rows_for(table, n=119, outer_strands=17, rcn="24")
    assert [row.cells["rcn"] for row in rows] == ["24"]


def test_factors_stay_exact() -> None:
    table = read_table("n_from,n_to,six\n301,,0.04 n\n", file="t.csv")
    # derived: 0.04 x 328 = 13.12, not rounded
    assert table.rows[0].limit("six", 328) == Fraction(1312, 100)
    assert table.rows[0].limit("six", None) is None


def test_discard_figures_of_the_diameter_table(iso: RuleSet) -> None:
    # from memory (ISO 4309:2017, table of uniform decrease): 10, 7.5 and 5 %
    clause = next(one for one in iso.clauses if one.clause_id == "diameter-uniform")
    assert isinstance(clause.check, DiameterCheck)
    assert clause.check.table is not None
    last = clause.check.table.rows[-1]
    assert [last.number(c) for c in ("fibre core", "steel core", "rotation-resistant")] == [
        Fraction(10),
        Fraction(15, 2),
        Fraction(5),
    ]
    assert clause.check.compare == "reached"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "a line of heads and at least one row"),
        ("a,b\n", "a line of heads and at least one row"),
        ("a,a\n1,2\n", "a different head for every column"),
        ("a,\n1,2\n", "a different head for every column"),
        ("a,b\n1,2\n3\n", "line 3: expected 2 cells"),
        ("a,b\n1,2,3\n", "line 2: expected 2 cells"),
        ('a,b\n1,"2\n', "not readable as CSV"),
    ],
)
def test_tables_that_do_not_look_as_printed_are_refused(text: str, words: str) -> None:
    with pytest.raises(TableError, match=r"t\.csv") as caught:
        read_table(text, file="t.csv")
    assert words in str(caught.value)


@pytest.mark.parametrize("cell", ["x", "4 ", "0,04 n", "0.04n", "1e3", "4..5", "٤"])
def test_cells_that_are_no_numbers_are_refused(cell: str) -> None:
    table = Table(name="t.csv", heads=("a",), rows=(Row(line=2, cells={"a": cell}),))
    with pytest.raises(TableError, match=r"line 2, column a"):
        check_cells(table, ("a",), factors=True)


def test_factors_are_refused_where_they_mean_nothing() -> None:
    table = Table(name="t.csv", heads=("a",), rows=(Row(line=2, cells={"a": "0.04 n"}),))
    check_cells(table, ("a",), factors=True)
    with pytest.raises(TableError, match="a number or nothing"):
        check_cells(table, ("a",), factors=False)
