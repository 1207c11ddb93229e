"""Every limit of every rule set on both sides, from cases an inspector can read.

The cases lie in ``tests/rule_cases``; what their keys mean stands in the README there. The
tables are tried row by row and column by column from their second copies.
"""

import copy
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from functools import cache
from math import ceil
from pathlib import Path
from typing import Any

import pytest

from ropewright.intake import read_case
from ropewright.intake.shelf import PackageShelf
from ropewright.rules import OWN_CHECKS, Assessment, RuleSet, Ruling, assess
from tests.unit.rules.test_tables import second_copy

CASES = Path(__file__).parents[2] / "rule_cases"
SHELF = PackageShelf()
WORST_FIRST = ("reached", "not assessable", "below", "not applicable", "not in force")

#: Rule sets that have cases, and whose questions the base answers.
WITH_CASES = tuple(sorted(path.name for path in CASES.iterdir() if path.is_dir()))
BASE_ANSWERS = ("house-template", "iso-4309-2017", "own-checks", "us-29cfr-1926-1413")


# ---------------------------------------------------------------- from a case to a ruling


@cache
def base_text() -> str:
    return (CASES / "base.toml").read_text(encoding="utf-8")


def as_toml(value: object) -> str:
    """A value written as TOML, tables inline."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, list):
        return "[" + ", ".join(as_toml(one) for one in value) + "]"
    if isinstance(value, Mapping):
        return "{ " + ", ".join(f"{key} = {as_toml(one)}" for key, one in value.items()) + " }"
    return str(value)


def leave_out(data: dict[str, Any], path: str) -> None:
    """Leave a key out; of a list of tables the last one is meant."""
    *tables, key = path.split(".")
    place: Any = data
    for table in tables:
        place = place[table]
        place = place[-1] if isinstance(place, list) else place
    del place[key]


def case_file(case: Mapping[str, Any]) -> str:
    """The base with everything that a case states laid over it."""
    data = tomllib.loads(base_text())
    now = data["inspection"][-1]
    for path in case.get("without", ()):
        leave_out(data, path)
    for table in ("rope", "installation"):
        data[table] |= case.get(table, {})
    data["rigging"][0] |= case.get("rigging", {})
    now |= case.get("inspection", {})
    findings = list(case.get("finding", ()))
    kept = [
        one
        for one in now.get("finding", [])
        if not any(new["kind"] == one["kind"] == "diameter" for new in findings)
    ]
    now["finding"] = kept + findings
    now["part"] = list(case.get("part", ()))
    data["inspection"] = [*case.get("earlier", ()), now]
    data["event"] = list(case.get("event", ()))
    data["comparison"] = list(case.get("comparison", ()))
    return "\n".join(f"{key} = {as_toml(value)}" for key, value in data.items())


def judge(case: Mapping[str, Any], rule_set: str) -> Assessment:
    """Read the case as a case file and judge it."""
    names = case.get("rules") or ([] if rule_set == OWN_CHECKS else [rule_set])
    names = names or ["iso-4309-2017"]
    with_rules = {**case, "installation": {**case.get("installation", {}), "rules": names}}
    read = read_case(case_file(with_rules), file=f"{rule_set} case", known_rules=SHELF.names())
    rule_sets = [SHELF.get(name) for name in (*names, OWN_CHECKS)]
    return assess(read.dossier, rule_sets, case.get("as_of", date(2026, 11, 9)), software="tests")


def ruling_of(assessment: Assessment, rule_set: str, clause: str) -> tuple[Ruling, int]:
    """The ruling of a clause that matters most, and how many there are."""
    rulings = [
        one for one in assessment.rulings if one.rule_set == rule_set and one.clause_id == clause
    ]
    assert rulings, f"no ruling of {rule_set}/{clause}"
    return min(rulings, key=lambda one: WORST_FIRST.index(one.status)), len(rulings)


# ---------------------------------------------------------------- the readable cases


@dataclass(frozen=True)
class Case:
    rule_set: str
    file: str
    edition: str
    data: dict[str, Any]

    def __str__(self) -> str:
        return f"{self.rule_set}/{self.data['clause']}: {self.data['sentence']}"


def laid_over(file: Mapping[str, Any], case: Mapping[str, Any]) -> dict[str, Any]:
    """A case with the tables at the top of its file below its own."""
    made = copy.deepcopy(dict(case))
    for table in ("rope", "installation", "rigging", "inspection"):
        if table in file:
            made[table] = {**file[table], **made.get(table, {})}
    for path in made.get("without", ()):  # left out of the file's own table too
        table, _, key = path.partition(".")
        made.get(table, {}).pop(key, None)
    return made


@cache
def all_cases() -> tuple[Case, ...]:
    cases = []
    for path in sorted(CASES.glob("*/*.toml")):
        data = tomllib.loads(path.read_text(encoding="utf-8"))
        unknown = set(data) - {"edition", "case", "rope", "installation", "rigging", "inspection"}
        assert not unknown, f"{path.name}: {unknown}"
        cases += [
            Case(path.parent.name, path.name, data["edition"], laid_over(data, one))
            for one in data["case"]
        ]
    return tuple(cases)


KEYS = {
    "sentence", "kind", "clause", "rope", "installation", "rigging", "inspection", "finding",
    "part", "event", "earlier", "comparison", "without", "rules", "as_of", "expect",
}  # fmt: skip
EXPECTED = {
    "status", "found", "limit", "window_mm", "rating", "provenance", "missing", "how_to_get",
    "remedy", "remedies", "by_when", "verdict", "count",
}  # fmt: skip


@pytest.mark.parametrize("case", all_cases(), ids=str)
def test_case(case: Case) -> None:
    data, expect = case.data, case.data["expect"]
    assessment = judge(data, case.rule_set)
    ruling, count = ruling_of(assessment, case.rule_set, data["clause"])
    told = f"{ruling.words} (missing: {', '.join(ruling.missing) or 'nothing'})"
    assert ruling.status == expect["status"], told
    _numbers_agree(ruling, expect, told)
    _words_agree(ruling, expect, told)
    assert count == expect.get("count", count)
    level = assessment.verdict.level
    assert level == expect.get("verdict", level), assessment.verdict.sentence


def _numbers_agree(ruling: Ruling, expect: Mapping[str, Any], told: str) -> None:
    if "found" in expect:
        low, _, high = expect["found"].partition(" to ")
        assert ruling.found is not None, told
        found = (ruling.found.lower, ruling.found.upper)
        assert found == (Fraction(low), Fraction(high or low)), told
    for key, field in (
        ("limit", "limit"), ("window_mm", "window_mm"), ("rating", "rating_percent"),
    ):  # fmt: skip
        if key in expect:
            assert getattr(ruling, field) == Fraction(expect[key]), told


def _words_agree(ruling: Ruling, expect: Mapping[str, Any], told: str) -> None:
    for key in ("provenance", "by_when"):
        assert getattr(ruling, key) == expect.get(key, getattr(ruling, key)), told
    for key in ("missing", "how_to_get"):
        if key in expect:
            assert any(expect[key] in words for words in getattr(ruling, key)), told
    assert expect.get("remedy", ruling.remedy[0]) in ruling.remedy, told
    assert len(ruling.remedy) == expect.get("remedies", len(ruling.remedy)), told


def test_cases_are_written_as_the_readme_says() -> None:
    for case in all_cases():
        assert set(case.data) <= KEYS, case
        assert set(case.data["expect"]) <= EXPECTED, case
        assert case.data["kind"].startswith(
            ("published (", "second-hand", "from memory", "by hand", "own")
        ), case
        assert SHELF.get(case.rule_set).edition.startswith(case.edition), case
    sentences = [str(case) for case in all_cases()]
    assert len(set(sentences)) == len(sentences), "each sentence once"


def test_the_base_is_clear() -> None:
    for name in BASE_ANSWERS:
        assessment = judge({}, name)
        open_rulings = [one.words for one in assessment.rulings if one.level != "clear"]
        assert assessment.verdict.level == "clear", open_rulings


def _bites(ruling_status: str) -> bool:
    return ruling_status in ("reached", "not assessable")


@pytest.mark.parametrize("name", WITH_CASES)
def test_every_clause_has_a_case_on_both_sides(name: str) -> None:
    """One case where the clause bites and one where it is looked at and does not."""
    statuses: dict[str, set[str]] = {clause.clause_id: set() for clause in SHELF.get(name).clauses}
    for case in all_cases():
        if case.rule_set == name:
            assert case.data["clause"] in statuses, f"{name} has no clause {case.data['clause']}"
            statuses[case.data["clause"]].add(case.data["expect"]["status"])
    for clause, seen in statuses.items():
        assert any(_bites(status) for status in seen), f"{clause}: no case where it bites"
        assert seen & {"below", "not applicable"}, f"{clause}: no case where it does not"


# ---------------------------------------------------------------- the tables, cell by cell


@dataclass(frozen=True)
class Cell:
    """One printed cell: a rope that belongs to the row, a column, the number printed."""

    clause: str
    row: str
    column: str
    rope: tuple[tuple[str, Any], ...]
    multi: bool
    limit: Fraction

    def __str__(self) -> str:
        rope = " ".join(str(value) for _, value in self.rope)
        return f"row {self.row}, {self.column} ({rope})"

    def case(self, count: int) -> dict[str, Any]:
        window_mm = 120 if self.column.endswith(" 6 d") else 600
        finding = {
            "kind": "broken wires", "at": "30 m", "count": count, "over": f"{window_mm} mm",
            "crossover_damage": self.multi,
        }  # fmt: skip
        rope = dict(self.rope)
        case: dict[str, Any] = {"rope": rope, "finding": [finding] if count else []}
        if "load_bearing_outer_wires" in rope:
            case["without"] = ["rope.construction"]
        if self.multi:
            case["rigging"] = {"drum_layers": "multi"}
            case["installation"] = {"exposure": [{"from": "28 m", "to": "33 m", "crossover": True}]}
        return case


def _printed(text: str, n: int) -> Fraction:
    return Fraction(text[:-2]) * n if text.endswith(" n") else Fraction(text)


def _single_layer_cells() -> Iterator[Cell]:
    copy_ = second_copy("iso_4309_2017_single_layer_ropes.csv")
    columns = {
        "ordinary lay 6 d": ("breaks-6d", "ordinary", False),
        "ordinary lay 30 d": ("breaks-30d", "ordinary", False),
        "Lang lay 6 d": ("breaks-6d", "lang", False),
        "Lang lay 30 d": ("breaks-30d", "lang", False),
        "multi-layer 6 d": ("breaks-6d", "ordinary", True),
        "multi-layer 30 d": ("breaks-30d", "lang", True),
    }
    for row, first in copy_["wires from"].items():
        last = copy_["wires to"][row]
        for n in sorted({max(9, int(first)), int(last or 328)}):
            for column, (clause, lay, multi) in columns.items():
                rope = (
                    ("load_bearing_outer_wires", n), ("thick_outer_wires", False),
                    ("rotation_resistant", False), ("lay_type", lay),
                )  # fmt: skip
                yield Cell(clause, row, column, rope, multi, _printed(copy_[column][row], n))


def _rotation_resistant_cells() -> Iterator[Cell]:
    copy_ = second_copy("iso_4309_2017_rotation_resistant_ropes.csv")
    columns = {
        "single-layer 6 d": ("rr-breaks-6d", False),
        "single-layer 30 d": ("rr-breaks-30d", False),
        "multi-layer 6 d": ("rr-breaks-6d", True),
        "multi-layer 30 d": ("rr-breaks-30d", True),
    }
    for row, first in copy_["wires from"].items():
        last = copy_["wires to"][row] or "480"
        fewest = int(copy_["outer strands from"][row])
        most = int(copy_["outer strands to"][row] or 20)
        start = max(int(first), 24) + (row == "22")  # 100 wires belong to row 21 as well
        ropes = [
            (strands, n)
            for n in range(start, int(last) + 1)
            for strands in range(fewest, most + 1)
            if n % strands == 0
        ]
        for strands, n in (ropes[0], ropes[-1]):
            rope = (
                ("outer_strands", strands), ("load_bearing_outer_wires", n),
                ("thick_outer_wires", False), ("rotation_resistant", True),
            )  # fmt: skip
            for column, (clause, multi) in columns.items():
                yield Cell(clause, row, column, rope, multi, _printed(copy_[column][row], n))


CELLS = (*_single_layer_cells(), *_rotation_resistant_cells())


@pytest.mark.parametrize("cell", CELLS, ids=str)
def test_every_printed_cell_on_both_sides(cell: Cell) -> None:
    """At the printed number the limit is reached, one broken wire less and it is not."""
    at_limit = ceil(cell.limit)
    for count, status in ((at_limit - 1, "below"), (at_limit, "reached")):
        ruling, _ = ruling_of(
            judge(cell.case(count), "iso-4309-2017"), "iso-4309-2017", cell.clause
        )
        if count == 0:  # none found: the limit shown is that of the single-layer columns
            assert ruling.status == "below"
            continue
        assert ruling.status == status, ruling.words
        assert ruling.limit == cell.limit, ruling.words


SEVERITIES = [
    (line, core, severity)
    for line, core in (
        ("fibre core", "fibre"),
        ("steel core or parallel-closed", "steel"),
        ("steel core or parallel-closed", "parallel-closed"),
        ("rotation-resistant", None),
    )
    for severity in ("none", "slight", "medium", "high", "very high", "discard")
]


@pytest.mark.parametrize(("line", "core", "severity"), SEVERITIES)
def test_every_step_of_the_diameter_table_on_both_sides(
    line: str, core: str | None, severity: str
) -> None:
    # from memory (ISO 4309:2017, table of uniform decrease), typed a second time
    copy_ = second_copy("iso_4309_2017_uniform_decrease.csv")
    steps = list(copy_["rating %"])
    bound, limit = Fraction(copy_[line][severity]), Fraction(copy_[line]["discard"])
    just_under = bound - Fraction(1, 200)
    lower = steps[max(0, steps.index(severity) - 1)]
    for percent, expected in ((bound, severity), (just_under, lower)):
        millimetres = Fraction("20.6") - percent / 100 * 20
        text = f"{float(millimetres):.3f} mm"
        assert Fraction(text[:-3]) == millimetres, "the reading can be typed exactly"
        rope = {"construction": "35(W)x7"} if core is None else {"core": core}
        case = {
            "rope": rope,
            "finding": [{"kind": "diameter", "at": "60 m", "readings": [text, text]}],
        }
        ruling, _ = ruling_of(judge(case, "iso-4309-2017"), "iso-4309-2017", "diameter-uniform")
        assert ruling.limit == limit
        assert ruling.rating_percent == Fraction(copy_["rating %"][expected])
        assert ruling.status == ("reached" if percent >= limit else "below")


# ---------------------------------------------------------------- what cases do not show


def test_the_same_reading_passes_one_baseline_and_fails_the_other() -> None:
    # by hand: 19.5 mm is 5.5 % below 20.6 mm and 2.5 % below 20 mm, both divided by 20 mm
    case = {
        "rules": ["iso-4309-2017", "us-29cfr-1926-1413"],
        "rope": {"construction": "35(W)x7"},
        "finding": [{"kind": "diameter", "at": "60 m", "readings": ["19.5 mm", "19.5 mm"]}],
    }
    assessment = judge(case, "iso-4309-2017")
    by_reference, _ = ruling_of(assessment, "iso-4309-2017", "diameter-uniform")
    by_nominal, _ = ruling_of(assessment, "us-29cfr-1926-1413", "diameter")
    assert (by_reference.status, by_reference.baseline) == ("reached", "reference diameter")
    assert (by_nominal.status, by_nominal.baseline) == ("below", "nominal diameter")
    assert assessment.verdict.level == "remove"


def test_the_strictest_rule_governs_and_a_laxer_one_is_harmless() -> None:
    case = {"finding": [{"kind": "broken wires", "at": "30 m", "count": 6, "over": "120 mm"}]}
    alone = judge(case, "us-29cfr-1926-1413")
    both = judge({**case, "rules": ["us-29cfr-1926-1413", "iso-4309-2017"]}, "iso-4309-2017")
    assert judge(case, "iso-4309-2017").verdict.level == "monitor"
    assert alone.verdict.level == both.verdict.level == "remove"
    assert both.verdict.governing == alone.verdict.governing


def test_rotation_resistant_figures_are_always_reached_before_six_in_a_lay() -> None:
    """The note of the clause says so: six in any plausible lay are four in 30 d."""
    # by hand: one lay is at most 7.25 d, which is less than 30 d
    for apart_mm in (0, 10, 29):
        case = {
            "rope": {"construction": "35(W)x7", "lay_length": "145 mm"},
            "finding": [
                {
                    "kind": "broken wires",
                    "at": "30 m",
                    "breaks": [{"at": f"{apart_mm * place} mm"} for place in range(6)],
                }
            ],
        }
        assessment = judge(case, "us-29cfr-1926-1413")
        in_lay, _ = ruling_of(assessment, "us-29cfr-1926-1413", "breaks-lay")
        in_30d, _ = ruling_of(assessment, "us-29cfr-1926-1413", "rr-breaks-30d")
        assert in_lay.status == in_30d.status == "reached"


def test_a_house_rule_can_only_ask_for_more() -> None:
    case = {"finding": [{"kind": "broken wires", "at": "30 m", "count": 3, "over": "120 mm"}]}
    assert judge(case, "iso-4309-2017").verdict.level == "monitor"
    with_house = judge({**case, "rules": ["iso-4309-2017", "house-template"]}, "iso-4309-2017")
    assert with_house.verdict.level == "remove"


def test_rulings_name_the_hash_of_the_rule_file_they_rest_on() -> None:
    rule_sets: dict[str, RuleSet] = {name: SHELF.get(name) for name in BASE_ANSWERS}
    for one in judge({}, "iso-4309-2017").rulings:
        assert one.rules_hash == rule_sets[one.rule_set].rules_hash
