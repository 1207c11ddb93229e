"""Findings in CSV and XLSX: what the columns become, and what cannot be read."""

import datetime
from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path

import openpyxl
import pytest

from ropewright.errors import FindingsFileError, InputError, InputErrors
from ropewright.inspection import BrokenWires, Damage, DiameterReading, RopeFinding, Waviness
from ropewright.intake import load_case, read_findings
from ropewright.rope import EndForEnd, Rope, RopeHistory, build_construction
from tests.unit.intake.reading import groups_of

ROPE = Rope(
    rope_id="rope",
    nominal_diameter_mm=Fraction(20),
    construction=build_construction(name="6x36WS"),
    length_m=120.0,
)


def listed(tmp_path: Path, text: str | bytes, *, name: str = "findings.csv") -> list[RopeFinding]:
    path = tmp_path / name
    path.write_bytes(text.encode() if isinstance(text, str) else text)
    return read_findings(path, ROPE)


def refused(tmp_path: Path, text: str | bytes, *, name: str = "findings.csv") -> list[str]:
    with pytest.raises(InputError) as caught:
        listed(tmp_path, text, name=name)
    start = f"{tmp_path / name}: "
    lines = str(caught.value).splitlines()
    assert all(line.startswith(start) for line in lines)
    return [line.removeprefix(start) for line in lines]


def workbook(path: Path, rows: Sequence[Sequence[object]]) -> Path:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for row in rows:
        sheet.append(list(row))
    book.save(path)
    return path


COUNTED = "kind,at,count,over\nbroken wires,23.4 m,6,120 mm\n"


@pytest.mark.parametrize(
    "text",
    [
        COUNTED,
        COUNTED.replace(",", ";"),
        COUNTED.replace(",", "\t"),
        COUNTED.replace("\n", "\r\n"),
        "\ufeff" + COUNTED,
        "\n" + COUNTED.replace("\n", "\n\n"),
        COUNTED.replace("kind,at", "Kind,AT").replace("23.4 m", ' "23.4 m"').replace(' "', '"'),
        "kind,at [m],count,over (mm)\nbroken wires,23.4,6,120\n",
        "kind,at [m],count,over (mm)\nbroken wires,23.4 m,6.0,6 d\n",
        "count,over,empty-heading-follows,kind,at\n".replace("empty-heading-follows", "")
        + "6,120 mm,,broken wires,23.4 m\n",
    ],
)
def test_ways_to_write_the_same_list(tmp_path: Path, text: str) -> None:
    (found,) = listed(tmp_path, text)
    assert isinstance(found, BrokenWires)
    assert found.place.at_m == 23.4
    assert groups_of(found) == [(0, 120, 6)]


def test_rows_without_a_kind_belong_to_the_cluster_above(tmp_path: Path) -> None:
    text = """\
id,kind,at,at_err,offset,offset_to,count,strand,site,protruding
A,broken wires,61.3 m,± 0.5 m,0 mm,,,2,crown,yes
,,,,22 mm,,2,5,valley,no
,,,,30 mm,90 mm,4,,,
B,broken wires,80 m,,0 mm,,,1,,
"""
    first, second = listed(tmp_path, text)
    assert isinstance(first, BrokenWires)
    assert (first.finding_id, first.place.at_m, first.place.abs_err_m) == ("A", 61.3, 0.5)
    names = ("from_mm", "to_mm", "count", "strand", "site", "protruding")
    assert groups_of(first, *names) == [
        (0, 0, 1, 2, "crown", True),
        (22, 22, 2, 5, "valley", False),
        (30, 90, 4, None, "crown", None),
    ]
    assert second.finding_id == "B"


def test_each_kind_of_finding_can_be_listed(tmp_path: Path) -> None:
    text = """\
kind,at,length,reading_1,reading_2,gap,form,grade,rating,depth,photos
diameter,60 m,,19.9 mm,19.8 mm,,,,,,a.jpg | b.jpg
waviness,61 m,300 mm,,,2 mm,,,,,
corrosion,62 m,1 m,,,,external,rough,60 %,,
abrasion,63 m,,,,,,,,1/3,
"""
    diameter, wave, corrosion, abrasion = listed(tmp_path, text)
    assert isinstance(diameter, DiameterReading)
    assert diameter.measured_mm == Fraction("19.85")
    assert diameter.photos == ("a.jpg", "b.jpg")
    assert isinstance(wave, Waviness)
    assert wave.gap_mm == 2
    assert isinstance(corrosion, Damage)
    assert corrosion.grade == "rough"
    assert corrosion.rating_percent == 60
    assert isinstance(abrasion, Damage)
    assert abrasion.depth_share == Fraction(1, 3)
    assert [one.finding_id for one in (diameter, wave)] == ["row 2", "row 3"]


def test_places_of_the_path_go_through_the_history(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text("kind,at_path\nkink,30 m\n", encoding="utf-8")
    turned = RopeHistory(original_length_m=120.0, steps=(EndForEnd(on=datetime.date(2026, 6, 1)),))
    before, after = datetime.date(2026, 5, 1), datetime.date(2026, 7, 1)
    assert read_findings(path, ROPE, history=turned, on=before)[0].place.at_m == 30
    assert read_findings(path, ROPE, history=turned, on=after)[0].place.at_m == 90


def test_every_wrong_cell_is_named(tmp_path: Path) -> None:
    text = """\
kind,at,count,over,reading_1,reading_2,protruding
broken wires,23.4,6,120 mm,,,
broken wires,24 m,six,120 mm,,,
diameter,25 m,,,19.9 mm,19,8 mm
broken wires,26 m,6,,,,perhaps
kinks,27 m,,,,,
waviness,28 m,,,,,
kink,300 m,,,,,
"""
    lines = refused(tmp_path, text)
    assert [line.split(": ")[0] for line in lines] == [
        "row 2, column at",
        "row 3, column count",
        "row 4, column protruding",
        "row 5, column protruding",
        "row 6, column kind",
        "row 7, column gap",
        "row 8, column at",
    ]


def test_errors_in_several_rows_come_as_one_bundle(tmp_path: Path) -> None:
    with pytest.raises(InputErrors) as caught:
        listed(tmp_path, "kind,at\nkink,3\nkink,4\n")
    assert {type(error) for error in caught.value.errors} == {FindingsFileError}


def test_more_cells_than_columns_are_refused(tmp_path: Path) -> None:
    (line,) = refused(tmp_path, "kind,at\nkink,3 m,4 m\n")
    assert line.startswith("row 2, column 3: expected a name above this column")


def test_a_wrong_cluster_takes_its_rows_with_it(tmp_path: Path) -> None:
    text = "kind,at,offset,strand\nbroken wires,3 m,0 mm,x\n,,14 mm,2\n,,y,2\nkink,4 m,,\n"
    lines = refused(tmp_path, text)
    assert [line.split(":")[0] for line in lines] == ["row 2, column strand"]


# --- XLSX --------------------------------------------------------------------------------------


def test_a_workbook_with_numbers_blanks_and_merged_cells(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for row in (
        ["kind", "at [m]", "count", "over [mm]", "remark", "crossover_damage"],
        [None] * 6,
        ["broken wires", 23.4, 6, 120, "one", True],
        [None, None, None, None, None, None],
        ["broken wires", 61, 2.0, "6 d", None, "no"],
    ):
        sheet.append(row)
    sheet.merge_cells("E3:E5")
    book.create_sheet("notes").append(["anything", "at all"])
    book.save(tmp_path / "findings.xlsx")
    first, second = read_findings(tmp_path / "findings.xlsx", ROPE)
    assert isinstance(first, BrokenWires)
    assert isinstance(second, BrokenWires)
    assert first.place.at_m == 23.4
    assert groups_of(first) == [(0, 120, 6)]
    assert (first.crossover_damage, second.crossover_damage) == (True, False)
    assert second.finding_id == "row 5"
    assert groups_of(second) == [(0, 120, 2)]


@pytest.mark.parametrize(
    ("cell", "expected"),
    [
        ("=1+1", "a value, not a formula"),
        (datetime.date(2026, 11, 9), "not a date"),
        (True, "text"),
        (23.4, "a length with unit"),
    ],
)
def test_cells_that_cannot_be_a_place(tmp_path: Path, cell: object, expected: str) -> None:
    path = workbook(tmp_path / "x.xlsx", [["kind", "at"], ["kink", cell]])
    with pytest.raises(FindingsFileError, match=f"row 2, column at: .*{expected}"):
        read_findings(path, ROPE)


def test_a_damaged_workbook_is_no_workbook(tmp_path: Path) -> None:
    whole = workbook(tmp_path / "x.xlsx", [["kind", "at"], ["kink", "3 m"]]).read_bytes()
    for data in (b"", whole[:200], whole[:-60], whole.replace(b"xl/", b"yl/")):
        assert "an XLSX workbook" in refused(tmp_path, data, name="broken.xlsx")[0]


# --- Files -------------------------------------------------------------------------------------


def test_other_files_are_refused(tmp_path: Path) -> None:
    assert "a file ending in .csv or .xlsx" in refused(tmp_path, "kind\n", name="list.ods")[0]
    with pytest.raises(FindingsFileError, match="a folder"):
        read_findings(tmp_path, ROPE)
    with pytest.raises(FindingsFileError, match="no such file"):
        read_findings(tmp_path / "none.csv", ROPE)


def test_odd_csv_gives_a_plain_error(tmp_path: Path) -> None:
    for text in ("kind,at\n\0,3\n", 'kind,at\n"kink', f"kind\n{'x' * 200_000}\n", ",,,\n1,2\n"):
        assert refused(tmp_path, text)


CASE = """\
schema = 1
[rope]
diameter = "20 mm"
construction = "6x36WS"
length = "120 m"
[installation]
rules = ["any"]
[[inspection]]
kind = "periodic"
on = 2026-11-09
findings_file = "NAME"
"""


def case(folder: Path, name: str) -> Path:
    path = folder / "case.toml"
    path.write_text(CASE.replace("NAME", name), encoding="utf-8")
    return path


def test_a_list_may_lie_in_a_folder_beside_the_case(tmp_path: Path) -> None:
    (tmp_path / "lists").mkdir()
    (tmp_path / "lists" / "a.csv").write_text(COUNTED, encoding="utf-8")
    read = load_case(case(tmp_path, "lists/a.csv"))
    (finding,) = read.dossier.inspections[0].findings
    assert finding.finding_id == "2026-11-09/row 2"
    assert list(read.findings_files) == ["lists/a.csv"]


@pytest.mark.parametrize(
    "name", ["../a.csv", "lists/../../a.csv", "/a.csv", "\\\\\\\\host\\\\a.csv", "C:a.csv"]
)
def test_a_list_elsewhere_is_not_opened(tmp_path: Path, name: str) -> None:
    inner = tmp_path / "inner"
    inner.mkdir()
    (tmp_path / "a.csv").write_text(COUNTED, encoding="utf-8")
    with pytest.raises(InputError, match="beside the case file"):
        load_case(case(inner, name))


def test_a_link_out_of_the_folder_is_not_followed(tmp_path: Path) -> None:
    inner = tmp_path / "inner"
    inner.mkdir()
    (tmp_path / "a.csv").write_text(COUNTED, encoding="utf-8")
    (inner / "b.csv").symlink_to(tmp_path / "a.csv")
    with pytest.raises(InputError, match="beside the case file"):
        load_case(case(inner, "b.csv"))


def test_warnings_name_the_list_and_the_row(tmp_path: Path) -> None:
    text = "kind,at,reading_1,reading_2\ndiameter,3 m,30 mm,20 mm\n"
    (tmp_path / "a.csv").write_text(text, encoding="utf-8")
    (warning,) = load_case(case(tmp_path, "a.csv")).warnings
    assert warning.startswith(f"{tmp_path / 'a.csv'}: row 2: 30 mm is 50 % off")
