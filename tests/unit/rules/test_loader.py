"""The loader of rule sets: one message for every mistake, and what a good file becomes."""

import csv
import tomllib
from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ropewright.errors import InputError, RuleFileError, TableError, UnknownNameError
from ropewright.forecast.signs import DOUBLED_BY, FIRST_CLUSTER
from ropewright.forecast.zone import UNIT_D
from ropewright.intake.shelf import FolderShelf, PackageShelf
from ropewright.rules import PROVENANCES, RuleSet, load_rule_set, rules_hash
from ropewright.rules.load_checks import parse_window
from ropewright.rules.model import BreakCheck, CoverageCheck, DiameterCheck, IntervalCheck
from ropewright.rules.more_checks import GrowthCheck

BROKEN = Path(__file__).parents[2] / "broken_rules"
PUBLISHED = Path(__file__).parents[2] / "published" / "rules"
SHIPPED = ("house-template", "iso-4309-2017", "own-checks", "us-29cfr-1926-1413")

GOOD = """
schema = 1
id = "good"
title = "A good rule file"
short = "Good"
edition = "1"

[[source]]
id = "house"
what = "invented for this test"
provenance = "own"

[[clause]]
id = "three"
title = "Three in 6 d"
check = "broken wires"
clause = "1"
clause_provenance = "own"
provenance = "own"
source = "house"
demand = "remove"
remedy = ["replace the rope"]
who = "competent person"
by_when = "before further use"
sites = ["crown"]
window = "6 d"
compare = "reached"
limit = 3
"""


def _expected() -> list[dict[str, Any]]:
    data = tomllib.loads((BROKEN / "expected.toml").read_text(encoding="utf-8"))
    broken: list[dict[str, Any]] = data["broken"]
    return broken


@pytest.mark.parametrize("case", _expected(), ids=lambda case: str(case["folder"]))
def test_one_mistake_one_message(case: dict[str, Any]) -> None:
    with pytest.raises((RuleFileError, TableError)) as caught:
        FolderShelf(BROKEN).get(f"{BROKEN.as_posix()}/{case['folder']}")
    message = str(caught.value)
    for words in case["says"]:
        assert words in message
    assert "\n" not in message
    assert caught.value.exit_code == 2
    assert caught.value.file is not None
    assert case["folder"] in caught.value.file


def test_every_broken_folder_is_expected_and_the_other_way_round() -> None:
    folders = {path.name for path in BROKEN.iterdir() if path.is_dir()}
    assert folders == {case["folder"] for case in _expected()}


@pytest.fixture(scope="module", params=SHIPPED)
def shipped(request: pytest.FixtureRequest) -> RuleSet:
    return PackageShelf().get(request.param)


def test_rule_sets_are_listed_by_name() -> None:
    names = PackageShelf().names()
    assert set(SHIPPED) <= set(names)
    assert list(names) == sorted(names)


def test_folder_name_is_the_id(shipped: RuleSet) -> None:
    assert shipped.rule_set_id in SHIPPED
    assert PackageShelf().get(shipped.rule_set_id).rules_hash == shipped.rules_hash


def test_only_the_template_is_a_template(shipped: RuleSet) -> None:
    assert shipped.template is (shipped.rule_set_id == "house-template")


def test_every_clause_names_its_printed_place_and_its_source(shipped: RuleSet) -> None:
    for clause in shipped.clauses:
        assert clause.clause
        assert clause.provenance in PROVENANCES
        assert clause.clause_provenance in PROVENANCES
        source = shipped.source(clause.source)
        assert source.what
        # a value cannot be trusted more than the place it was read at
        weaker = PROVENANCES.index(clause.provenance) >= PROVENANCES.index(source.provenance)
        assert weaker, f"{clause.clause_id}: {clause.provenance} from {source.provenance}"


def test_every_source_is_used(shipped: RuleSet) -> None:
    used = {one.source for one in shipped.clauses}
    used |= {one.source for one in shipped.duties} | {one.source for one in shipped.permissions}
    spare = {source.source_id for source in shipped.sources} - used
    # sources that notes and dates lean on
    assert spare <= {"scope", "older-list", "register", "course"}


def test_demands_agree_with_their_second_copy() -> None:
    # from memory (ISO 4309), published (29 CFR 1926.1413, categories I to III), own
    with (PUBLISHED / "demands.csv").open(encoding="utf-8", newline="") as file:
        expected = {
            (row["rule set"], row["clause"]): (row["demand"], row["by when"])
            for row in csv.DictReader(file)
        }
    found = {
        (name, clause.clause_id): (clause.demand, clause.by_when)
        for name in ("iso-4309-2017", "us-29cfr-1926-1413", "own-checks")
        for clause in PackageShelf().get(name).clauses
    }
    others = {key: demand for key, (demand, _) in found.items() if key not in expected}
    assert {key: found[key] for key in expected} == expected
    assert set(others.values()) == {"incomplete"}, "questions whether enough was seen"


def test_own_checks_are_all_our_own() -> None:
    own = PackageShelf().get("own-checks")
    assert {clause.provenance for clause in own.clauses} == {"own"}
    assert {clause.clause_provenance for clause in own.clauses} == {"own"}
    assert all(clause.demand in ("decide", "incomplete", "monitor") for clause in own.clauses)


def test_growth_is_judged_by_the_same_figures_in_assessment_and_forecast() -> None:
    """By hand: neither room may know the other, so each has its own copy."""
    (check,) = [
        one.check for one in PackageShelf().get("own-checks").clauses if one.clause_id == "growth"
    ]
    assert isinstance(check, GrowthCheck)
    assert (check.first, check.doubled_by) == (FIRST_CLUSTER, DOUBLED_BY)
    assert check.window == f"{UNIT_D:g} d"


def test_words_of_rules_never_promise_safety(shipped: RuleSet) -> None:
    for files in (PackageShelf().rule_files(shipped.rule_set_id),):
        for text in files.values():
            words = set(text.lower().replace(".", " ").replace(",", " ").split())
            assert not words & {"safe", "fit", "safely"}


def test_clauses_ask_for_the_same_columns_of_both_windows() -> None:
    iso = PackageShelf().get("iso-4309-2017")
    by_id = {clause.clause_id: clause.check for clause in iso.clauses}
    for six, thirty in (("breaks-6d", "breaks-30d"), ("rr-breaks-6d", "rr-breaks-30d")):
        short, long = by_id[six], by_id[thirty]
        assert isinstance(short, BreakCheck)
        assert isinstance(long, BreakCheck)
        assert short.steel_sheaves_only
        assert long.steel_sheaves_only
        assert short.thick_rows_up == long.thick_rows_up == 2
        assert [c.column.replace("6 d", "30 d") for c in short.columns] == [
            c.column for c in long.columns
        ]
        assert [c.when for c in short.columns] == [c.when for c in long.columns]
        assert [c.doubled_by for c in short.columns] == [c.doubled_by for c in long.columns]


def test_doubling_touches_the_single_layer_columns_of_table_a_only() -> None:
    # second-hand (note d under the table of ISO 4309 as reprinted by a rope supplier)
    iso = PackageShelf().get("iso-4309-2017")
    doubled = {
        (clause.clause_id, column.column)
        for clause in iso.clauses
        if isinstance(clause.check, BreakCheck)
        for column in clause.check.columns
        if column.doubled_by is not None
    }
    assert doubled == {
        ("breaks-6d", "ordinary lay 6 d"),
        ("breaks-6d", "Lang lay 6 d"),
        ("breaks-30d", "ordinary lay 30 d"),
        ("breaks-30d", "Lang lay 30 d"),
    }
    (permission,) = iso.permissions
    assert permission.factor == 2
    assert permission.mechanism_classes == ("M5", "M6", "M7", "M8")


def test_rows_say_who_read_them() -> None:
    # second-hand for the 13 printed rows, from memory for the factors
    table = PackageShelf().get("iso-4309-2017").tables["breaks-single-layer-ropes.csv"]
    assert [row.cells["provenance"] for row in table.rows] == ["second-hand"] * 13 + ["memory"]


ALL_KINDS = ["shift", "monthly", "periodic", "annual", "after-event", "after-idle", "first"]


def test_every_kind_of_inspection_is_held_to_something() -> None:
    """No kind may slip through with nothing asked.

    Each is named by one coverage clause.  ISO 4309 knows no monthly inspection: there it is no
    periodic one either, so the clause on the interval stays open until a periodic one is done.
    """
    for name, unknown in (("iso-4309-2017", {"monthly"}), ("us-29cfr-1926-1413", set[str]())):
        clauses = PackageShelf().get(name).clauses
        covered = [
            kind
            for clause in clauses
            if isinstance(clause.check, CoverageCheck)
            for kind in clause.at
        ]
        assert sorted(covered) == sorted(set(ALL_KINDS) - unknown)
        intervals = [one.check for one in clauses if isinstance(one.check, IntervalCheck)]
        assert intervals
        assert not unknown & {kind for one in intervals for kind in one.kinds}


def test_a_good_file_becomes_a_rule_set() -> None:
    rules = load_rule_set({"rules.toml": GOOD}, name="good")
    (clause,) = rules.clauses
    assert rules.rule_set_id == "good"
    assert rules.in_force_from is None
    assert not rules.template
    assert isinstance(clause.check, BreakCheck)
    assert clause.check.limit == 3
    assert clause.check.window == "6 d"


def test_dates_and_exact_numbers_are_kept_exactly() -> None:
    text = GOOD.replace('edition = "1"', 'edition = "1"\nin_force_from = 2026-02-28')
    text += """
[[clause]]
id = "diameter"
title = "A diameter"
check = "diameter"
clause = "2"
clause_provenance = "own"
provenance = "own"
source = "house"
demand = "remove"
remedy = ["replace the rope"]
who = "competent person"
by_when = "before further use"
change = "decrease"
baseline = "nominal"
compare = "more than"
limit_percent = "0.1 %"
"""
    rules = load_rule_set({"rules.toml": text}, name="good")
    assert rules.in_force_from == date(2026, 2, 28)
    check = rules.clauses[1].check
    assert isinstance(check, DiameterCheck)
    assert check.limit_percent == Fraction(1, 10)


def test_the_hash_changes_with_every_text_and_with_nothing_else() -> None:
    one = rules_hash({"rules.toml": "a", "t.csv": "b"})
    assert one == rules_hash({"t.csv": "b", "rules.toml": "a"})
    for other in (
        {"rules.toml": "ab", "t.csv": ""},
        {"rules.toml": "a", "t.csv": "c"},
        {"rules.toml": "a", "u.csv": "b"},
        {"rules.toml": "a"},
    ):
        assert rules_hash(other) != one


@pytest.mark.parametrize(
    ("text", "length"),
    [("6 d", (6, "d")), ("7.25 d", (Fraction(29, 4), "d")), ("1 lay", (1, "lay"))],
)
def test_windows(text: str, length: tuple[Fraction, str]) -> None:
    assert parse_window(text) == length


@given(st.text(max_size=400))
def test_any_text_gives_one_clear_error(text: str) -> None:
    with pytest.raises(InputError) as caught:  # no text this short is a whole rule set
        load_rule_set({"rules.toml": text}, name="any")
    assert caught.value.file == "any/rules.toml"


@given(
    st.dictionaries(
        st.sampled_from(
            ["schema", "id", "title", "short", "edition", "notice", "template", "source", "clause"]
        ),
        st.recursive(
            st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8),
            lambda inner: (
                st.lists(inner, max_size=3)
                | st.dictionaries(
                    st.sampled_from(["id", "what", "check", "when"]), inner, max_size=3
                )
            ),
            max_leaves=8,
        ),
    )
)
def test_wrong_types_anywhere_give_one_clear_error(data: dict[str, object]) -> None:
    text = "\n".join(f"{key} = {_as_toml(value)}" for key, value in data.items())
    with pytest.raises(InputError):
        load_rule_set({"rules.toml": text}, name="any")


def _as_toml(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return '"' + "".join(f"\\U{ord(char):08x}" for char in value) + '"'
    if isinstance(value, list):
        return "[" + ", ".join(_as_toml(one) for one in value) + "]"
    if isinstance(value, dict):
        return "{" + ", ".join(f"{k} = {_as_toml(v)}" for k, v in value.items()) + "}"
    return "0" if value is None else str(value)


# ---------------------------------------------------------------- the shelf


def test_a_single_rule_file_is_read_by_its_path(tmp_path: Path) -> None:
    (tmp_path / "house.toml").write_text(GOOD, encoding="utf-8")
    (tmp_path / "unrelated.csv").write_text("not,a,table", encoding="utf-8")
    rules = PackageShelf().get(str(tmp_path / "house.toml"))
    assert rules.rule_set_id == "good"


def test_a_single_rule_file_finds_its_tables_beside_it(tmp_path: Path) -> None:
    text = GOOD.replace("limit = 3", 'table = "t.csv"\n\n[[clause.columns]]\ncolumn = "six"')
    (tmp_path / "house.toml").write_text(text, encoding="utf-8")
    (tmp_path / "t.csv").write_text("n_from,n_to,six\n1,,4\n", encoding="utf-8")
    rules = PackageShelf().get(str(tmp_path / "house.toml"))
    assert set(rules.tables) == {"t.csv"}
    (tmp_path / "t.csv").write_text("n_from,n_to,six\n1,,four\n", encoding="utf-8")
    with pytest.raises(TableError, match=r"/t\.csv: line 2, column six") as caught:
        PackageShelf().get(str(tmp_path / "house.toml"))
    assert "house.toml" not in str(caught.value)


def test_a_folder_is_read_by_its_path_and_by_its_name(tmp_path: Path) -> None:
    folder = tmp_path / "ours"
    folder.mkdir()
    (folder / "rules.toml").write_text(GOOD, encoding="utf-8")
    (tmp_path / "empty").mkdir()
    shelf = FolderShelf(tmp_path)
    assert shelf.names() == ("ours",)
    assert shelf.get("ours") == shelf.get(str(folder))


def test_a_folder_of_ones_own_is_read_again_when_it_changes(tmp_path: Path) -> None:
    folder = tmp_path / "ours"
    folder.mkdir()
    (folder / "rules.toml").write_text(GOOD, encoding="utf-8")
    shelf = FolderShelf(tmp_path)
    before = shelf.get("ours")
    (folder / "rules.toml").write_text(GOOD.replace("limit = 3", "limit = 2"), encoding="utf-8")
    assert shelf.get("ours").rules_hash != before.rules_hash


def test_line_ends_do_not_change_a_rule(tmp_path: Path) -> None:
    plain, windows = tmp_path / "a.toml", tmp_path / "b.toml"
    plain.write_bytes(GOOD.encode())
    windows.write_bytes(b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode())
    shelf = PackageShelf()
    assert shelf.get(str(plain)).rules_hash == shelf.get(str(windows)).rules_hash


def test_an_unknown_name_shows_near_ones() -> None:
    with pytest.raises(UnknownNameError) as caught:
        PackageShelf().get("iso-4309")
    assert "iso-4309-2017" in caught.value.near
    assert "by its path" in str(caught.value)


@pytest.mark.parametrize(
    "name", ["nowhere/house.toml", "house.toml", "./nowhere", "a\0/b", "x" * 5000 + "/y"]
)
def test_a_path_that_is_not_there_is_one_clear_error(name: str) -> None:
    with pytest.raises(RuleFileError) as caught:
        PackageShelf().get(name)
    assert caught.value.exit_code == 2


def test_text_in_another_encoding_is_one_clear_error(tmp_path: Path) -> None:
    path = tmp_path / "house.toml"
    path.write_bytes(GOOD.replace("A good rule file", "Pr\xfcfung").encode("latin-1"))
    with pytest.raises(RuleFileError, match="UTF-8"):
        PackageShelf().get(str(path))


def test_a_file_far_too_large_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "house.toml"
    path.write_bytes(b"#" * 2_000_001)
    with pytest.raises(RuleFileError, match="at most 2 MB"):
        PackageShelf().get(str(path))


def test_a_folder_that_is_not_there_is_one_clear_error(tmp_path: Path) -> None:
    with pytest.raises(RuleFileError, match="a folder of rule sets"):
        FolderShelf(tmp_path / "nowhere")


def test_rule_files_are_handed_out_as_text() -> None:
    files = PackageShelf().rule_files("iso-4309-2017")
    assert sorted(files) == [
        "breaks-rotation-resistant-ropes.csv",
        "breaks-single-layer-ropes.csv",
        "rules.toml",
        "uniform-decrease.csv",
    ]
