"""Tables and limits of the other rule sets against a second copy, typed separately.

The second copies in ``tests/published/rules`` stand the other way round wherever a table has
rows and columns; nobody copied one from the other.
"""

import csv
from collections.abc import Mapping
from datetime import date
from fractions import Fraction
from itertools import pairwise

import pytest

from ropewright.inspection import MECHANISM_CLASSES
from ropewright.intake.shelf import PackageShelf
from ropewright.rules import Clause
from ropewright.rules.model import BreakCheck
from ropewright.rules.more_checks import MetallicLossCheck
from ropewright.rules.tables import Table
from ropewright.units import parse_length
from tests.unit.rules.test_rule_cases import judge, ruling_of
from tests.unit.rules.test_tables import PUBLISHED, TABLE_5, TABLE_A, TABLE_B, second_copy

SHELF = PackageShelf()
STEP_SETS = ("asme-b30-2-2005", "us-mi-r-408-11824")


def rows_of(name: str) -> list[dict[str, str]]:
    """A second copy as a list of rows."""
    with (PUBLISHED / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def clause_of(rule_set: str, clause_id: str) -> Clause:
    return next(one for one in SHELF.get(rule_set).clauses if one.clause_id == clause_id)


def assert_columns(table: Table, copy: Mapping[str, Mapping[str, str]], names: dict[str, str],
                   heads: list[str]) -> None:  # fmt: skip
    """Every cell of some columns, row by row."""
    assert len(table.rows) == len(heads)
    for row, head in zip(table.rows, heads, strict=True):
        for column, line in names.items():
            assert row.cells[column] == copy[line][head], f"{head}, {column}"


# ---------------------------------------------------------------- broken wires of ASME B30


def asme_rows() -> list[dict[str, str]]:
    return rows_of("asme_b30_broken_wires.csv")


#: Column of the second copy -> the clause, and how it compares.
ASME_COLUMNS = {
    "running in one lay": ("breaks-lay", "reached", "1 lay", "rope"),
    "running in one strand": ("breaks-strand", "reached", "1 lay", "strand"),
    "rotation-resistant in 6 d": ("rr-breaks-6d", "reached", "6 d", "rope"),
    "rotation-resistant in 30 d": ("rr-breaks-30d", "reached", "30 d", "rope"),
    "rotation-resistant in one lay": ("rr-breaks-lay", "reached", "1 lay", "rope"),
    "rotation-resistant in one strand": ("rr-breaks-strand", "reached", "1 lay", "strand"),
    "standing beyond the ends: more than": ("standing-breaks", "more than", "1 lay", "rope"),
    "standing at an end: more than": ("standing-end", "more than", "1 lay", "rope"),
}


def asme_id(volume: Mapping[str, str]) -> str:
    number = volume["volume"].removeprefix("B30.")
    return f"asme-b30-{number}-{volume['edition']}"


def test_every_volume_is_in_the_second_copy() -> None:
    shipped = {name for name in SHELF.names() if name.startswith("asme-b30-")}
    assert {asme_id(one) for one in asme_rows()} == shipped


@pytest.mark.parametrize("volume", asme_rows(), ids=asme_id)
def test_broken_wires_of_asme_b30_by_volume(volume: dict[str, str]) -> None:
    # second-hand (table of ASME B30 by volume, as printed by a rope maker)
    rules = SHELF.get(asme_id(volume))
    clauses = {one.clause_id: one for one in rules.clauses}
    assert rules.edition == volume["edition"]
    for column, (clause_id, compare, window, per) in ASME_COLUMNS.items():
        if not volume[column]:
            assert clause_id not in clauses, f"{clause_id} must be left out"
            continue
        check = clauses[clause_id].check
        assert isinstance(check, BreakCheck)
        assert check.limit == int(volume[column]), column
        assert (check.compare, check.window, check.per) == (compare, window, per), column
        assert check.steel_sheaves_only
    asked = ("rr-breaks-6d", "rr-breaks-lay")
    assert ("rr-no-number" in clauses) is not any(one in clauses for one in asked)
    assert ("standing-no-number" in clauses) is not ("standing-breaks" in clauses)


# ---------------------------------------------------------------- diameter in steps


@pytest.mark.parametrize("name", STEP_SETS)
def test_steps_in_inches(name: str) -> None:
    # published (ASME B30.2-2005, 2-2.4; Michigan R 408.11824(1)(e))
    copy = second_copy("inch_diameter_steps.csv")
    (table,) = SHELF.get(name).tables.values()
    heads = list(copy["more than (inch)"])
    for row, head in zip(table.rows, heads, strict=True):
        inches = copy["more than (inch)"][head]
        assert row.number("limit_mm") == parse_length(f"{inches} in"), head
        lowest, highest = row.number("d_from_mm"), row.number("d_to_mm")
        assert lowest is not None
        assert highest is not None
        for line in ("printed to (inch)", "printed to (mm)"):
            unit = line[line.index("(") + 1 : -1].replace("inch", "in")
            printed = parse_length(f"{copy[line][head]} {unit}")
            # 38 mm and 1 1/2 in (38.1 mm) are one size
            assert lowest < printed <= highest, f"{copy[line][head]} {unit}"
        start = copy["printed from (inch)"][head]
        if start:
            assert lowest < parse_length(f"{start} in") <= highest
    assert [one.number("d_from_mm") for one in table.rows[1:]] == [
        one.number("d_to_mm") for one in table.rows[:-1]
    ]


def test_sizes_between_two_printed_rows_take_the_smaller_limit() -> None:
    # own: 8 mm lies between 5/16 and 3/8 in, 20 mm between 3/4 and 7/8 in
    (table,) = SHELF.get("us-mi-r-408-11824").tables.values()
    for size, inches in (("8", "1/64"), ("14", "1/32"), ("20", "3/64"), ("30", "1/16")):
        (row,) = (
            one
            for one in table.rows
            if (one.number("d_from_mm") or 0) < Fraction(size) <= (one.number("d_to_mm") or 999)
        )
        assert row.number("limit_mm") == parse_length(f"{inches} in"), size


def test_steps_of_ontario() -> None:
    # published (O. Reg. 213/91, s. 168)
    copy = second_copy("ontario_diameter_steps.csv")
    (table,) = SHELF.get("on-reg-213-91-s168").tables.values()
    names = {
        "d_from_mm": "over (mm)", "d_to_mm": "up to (mm)", "limit_mm": "more than (mm)",
    }  # fmt: skip
    assert_columns(table, copy, names, list(copy["over (mm)"]))


# ---------------------------------------------------------------- DIN 15020-2

DIN_COLUMNS = ("ordinary lay 6 d", "ordinary lay 30 d", "Lang lay 6 d", "Lang lay 30 d")
DIN_GROUPS = {
    "1Em to 1Am": "din_15020_2_groups_1em_to_1am.csv",
    "2m to 5m": "din_15020_2_groups_2m_to_5m.csv",
}


@pytest.mark.parametrize(("group", "copy_name"), DIN_GROUPS.items())
def test_broken_wires_of_din_15020_2(group: str, copy_name: str) -> None:
    # published (DIN 15020-2, table of broken wires)
    copy, table = second_copy(copy_name), SHELF.get("din-15020-2").tables["breaks.csv"]
    heads = list(copy["ordinary lay 6 d"])
    for row, head in zip(table.rows[:13], heads, strict=True):
        for line in DIN_COLUMNS:
            assert row.cells[f"{group} {line}"] == copy[line][head], f"{head}, {line}"
    iso = SHELF.get("iso-4309-2017").tables["breaks-single-layer-ropes.csv"]
    assert [one.cells["n_from"] for one in table.rows] == [one.cells["n_from"] for one in iso.rows]
    assert [one.cells["n_to"] for one in table.rows] == [one.cells["n_to"] for one in iso.rows]


def test_factors_of_din_15020_2_for_more_than_300_wires() -> None:
    # published (DIN 15020-2: 0.04, 0.08, 0.02, 0.04, 0.08, 0.16), the last two derived
    last = SHELF.get("din-15020-2").tables["breaks.csv"].rows[-1]
    printed = {column: last.cells[column] for column in last.cells if column.endswith(" d")}
    assert list(printed.values()) == [
        "0.04 n", "0.08 n", "0.02 n", "0.04 n", "0.08 n", "0.16 n", "0.04 n", "0.08 n",
    ]  # fmt: skip
    assert last.cells["provenance"] == "derived"


def test_groups_2m_to_5m_are_not_always_twice_the_others() -> None:
    # published (DIN 15020-2): 11 not 12, 29 not 28, 35 not 36
    table = SHELF.get("din-15020-2").tables["breaks.csv"]
    odd = {
        (row.cells["n_from"], column): int(row.cells[f"2m to 5m {column}"])
        for row in table.rows[:13]
        for column in DIN_COLUMNS
        if int(row.cells[f"2m to 5m {column}"]) != 2 * int(row.cells[f"1Em to 1Am {column}"])
    }
    assert odd[("121", "ordinary lay 6 d")] == 11
    assert odd[("161", "ordinary lay 30 d")] == 29
    assert odd[("201", "ordinary lay 30 d")] == 35


def _din_cells() -> list[tuple[int, str, str, str, int]]:
    cells = []
    for group, name in (("M2", "1em_to_1am"), ("M7", "2m_to_5m")):
        copy = second_copy(f"din_15020_2_groups_{name}.csv")
        bands = second_copy("iso_4309_2017_single_layer_ropes.csv")["wires to"]
        for line in copy:
            lay = "ordinary" if line.startswith("ordinary") else "lang"
            window = "6d" if line.endswith(" 6 d") else "30d"
            for head, printed in copy[line].items():
                cells.append((int(bands[head]), group, lay, window, int(printed)))
    return cells


@pytest.mark.parametrize(("n", "mechanism", "lay", "window", "printed"), _din_cells())
def test_every_cell_of_din_15020_2_on_both_sides(
    n: int, mechanism: str, lay: str, window: str, printed: int
) -> None:
    # published (DIN 15020-2): reaching the printed number, rounded up
    day = date(2012, 11, 9)
    for count, status in ((printed - 1, "below"), (printed, "reached")):
        if count == 0:
            continue
        case = {
            "rope": {
                "load_bearing_outer_wires": n, "thick_outer_wires": False,
                "rotation_resistant": False, "lay_type": lay,
            },
            "without": ["rope.construction", "installation.reference"],
            "rigging": {"valid_from": date(2011, 11, 20)},
            "installation": {"fitted_on": date(2011, 11, 20), "mechanism_class": mechanism},
            "inspection": {"on": day, "next_by": date(2013, 5, 9)},
            "finding": [{
                "kind": "broken wires", "at": "30 m", "count": count,
                "over": {"6d": "120 mm", "30d": "600 mm"}[window],
            }],
            "as_of": day,
        }  # fmt: skip
        ruling, _ = ruling_of(judge(case, "din-15020-2"), "din-15020-2", f"breaks-{window}")
        assert ruling.status == status, ruling.words
        assert ruling.limit == printed


# ---------------------------------------------------------------- ISO 4309:2010


def test_tables_of_the_2010_edition() -> None:
    # second-hand (table of single-layer ropes, the lower number of two prints), from memory
    rules = SHELF.get("iso-4309-2010")
    single = second_copy("iso_4309_2010_single_layer_ropes.csv")
    assert_columns(
        rules.tables["breaks-single-layer-ropes.csv"], single, TABLE_A, list(single["wires from"])
    )
    resistant = second_copy("iso_4309_2017_rotation_resistant_ropes.csv")
    assert_columns(
        rules.tables["breaks-rotation-resistant-ropes.csv"], resistant, TABLE_B,
        list(resistant["wires from"]),
    )  # fmt: skip
    diameter = second_copy("iso_4309_2017_uniform_decrease.csv")
    assert_columns(rules.tables["uniform-decrease.csv"], diameter, TABLE_5,
                   list(diameter["rating %"]))  # fmt: skip


def test_the_two_editions_differ_in_two_cells_of_the_multi_layer_columns_only() -> None:
    # second-hand: two prints differ by one in four cells, the 2010 set takes the lower number
    old = SHELF.get("iso-4309-2010").tables["breaks-single-layer-ropes.csv"]
    new = SHELF.get("iso-4309-2017").tables["breaks-single-layer-ropes.csv"]
    differ = {
        (before.cells["rcn"], column): (before.cells[column], after.cells[column])
        for before, after in zip(old.rows, new.rows, strict=True)
        for column in old.heads
        if column != "provenance" and before.cells[column] != after.cells[column]
    }
    assert differ == {
        ("04", "multi-layer 30 d"): ("19", "20"), ("05", "multi-layer 6 d"): ("11", "12"),
    }  # fmt: skip


def test_older_practice_for_thick_wires() -> None:
    # second-hand (table of a rope maker): the row two above, as the printed table has it
    copy = second_copy("older_practice_thick_wires.csv")
    table = SHELF.get("iso-4309-older").tables["breaks-thick-wires.csv"]
    names = {"n_from": "wires", "n_to": "wires", **{column: column for column in DIN_COLUMNS}}
    heads = [row.cells["construction"] for row in table.rows]
    assert heads == list(copy["wires"])
    assert_columns(table, copy, names, heads)
    printed = second_copy("iso_4309_2017_single_layer_ropes.csv")
    for head in heads:
        row = copy["row read"][head]
        for line in ("ordinary lay 6 d", "ordinary lay 30 d", "Lang lay 6 d", "Lang lay 30 d"):
            assert copy[line][head] == printed[line][row], f"{head}, {line}"


# ---------------------------------------------------------------- further tables


def test_metallic_loss_bands() -> None:
    # second-hand (severity table of a service firm)
    copy = second_copy("metallic_loss_bands.csv")
    table = SHELF.get("mrt-bands").tables["metallic-loss.csv"]
    for length, steps in copy.items():
        column = f"over {length}"
        assert [row.cells[column] for row in table.rows] == list(steps.values())
    assert [row.cells["rating"] for row in table.rows] == ["20", "40", "60", "80", "100"]
    windows = {
        check.window: check.column
        for clause in SHELF.get("mrt-bands").clauses
        if isinstance(check := clause.check, MetallicLossCheck) and check.bands is not None
    }
    assert windows == {length: f"over {length}" for length in copy}


def test_wear_factors() -> None:
    # second-hand (older Chinese crane rule; a Russian copy prints 39 for 30)
    copy = second_copy("wear_factors.csv")
    table = SHELF.get("cn-older").tables["wear-factors.csv"]
    assert [row.cells["worn_percent"] for row in table.rows] == list(copy["times"])
    percent = [int(cell.removesuffix(" %")) for cell in copy["times"].values()]
    assert [row.number("factor") for row in table.rows] == [Fraction(one, 100) for one in percent]


def test_figures_by_mechanism_class() -> None:
    # from memory (ISO 4308-1), published (factors Zp, two sources)
    copy = second_copy("by_mechanism_class.csv")
    table = SHELF.get("set-up-figures").tables["d-over-d.csv"]
    names = {
        "drum": "drum", "sheave": "sheave", "compensating": "compensating sheave",
        "design factor moving rope": "design factor of moving ropes",
        "design factor fixed rope": "design factor of fixed ropes",
    }  # fmt: skip
    assert list(copy["drum"]) == list(MECHANISM_CLASSES)
    assert_columns(table, copy, names, list(MECHANISM_CLASSES))
    for column in names:
        figures = [row.number(column) or Fraction(0) for row in table.rows]
        assert all(lower <= higher for lower, higher in pairwise(figures))


def test_as_2759() -> None:
    # second-hand (AS 2759-2004 on a dealer's page); a third of the outer wires is derived
    copy = rows_of("as_2759_allowed_in_6d.csv")
    numbers = {}
    for clause in SHELF.get("as-2759-2004").clauses:
        if isinstance(clause.check, BreakCheck):
            (name,) = clause.when.constructions
            assert clause.check.compare == "more than"
            assert clause.check.window == "6 d"
            numbers[(name, clause.check.per)] = clause.check.limit
    assert len(numbers) == 2 * len(copy)
    for row in copy:
        name = row["construction"]
        assert numbers[(name, "rope")] == int(row["allowed in 6 d"])
        assert numbers[(name, "strand")] == Fraction(int(row["outer wires of a strand"]), 3)
