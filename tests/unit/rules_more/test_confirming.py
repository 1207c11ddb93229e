"""A value from memory held against somebody's own copy of the standard."""

from datetime import date
from typing import Any

import pytest
from click.testing import CliRunner

from ropewright.errors import InputError, InputErrors
from ropewright.intake import read_case
from ropewright.intake.shelf import PackageShelf
from ropewright.rules import Assessment, Ruling, assess, assessment_as_data, why
from tests.unit.rules.test_rule_cases import case_file, judge, ruling_of

SET = "iso-4309-2017"
RR_ROPE = {"construction": "35(W)x7"}
TWO = [{"kind": "broken wires", "at": "30 m", "count": 3, "over": "120 mm"}]


def confirmed(
    clause: str = "rr-breaks-6d", *, agrees: bool = True, on: date = date(2026, 10, 1),
    rule_set: str = SET, **more: Any,
) -> dict[str, Any]:  # fmt: skip
    return {
        "rule_set": rule_set, "clause": clause, "by": "competent person",
        "edition": "own copy of the 2017 edition", "on": on, "agrees": agrees, **more,
    }  # fmt: skip


def judged(*said: dict[str, Any], **case: Any) -> Assessment:
    base = {"rope": RR_ROPE, "finding": TWO, "installation": {"confirmed": list(said)}}
    return judge({**base, **case}, SET)


def breaks(assessment: Assessment) -> Ruling:
    return ruling_of(assessment, SET, "rr-breaks-6d")[0]


LABEL = "memory, confirmed by competent person on 2026-10-01 against own copy of the 2017 edition"


def test_the_label_changes_and_the_provenance_stays() -> None:
    ruling = breaks(judged(confirmed()))
    assert ruling.confirmed == LABEL
    assert ruling.provenance == "memory"
    assert ruling.status == "reached"


def test_without_a_confirmation_nothing_changes() -> None:
    assert breaks(judged()).confirmed == ""


def test_the_label_is_shown_in_the_derivation_and_the_data() -> None:
    assessment = judged(confirmed())
    assert any(LABEL in line for line in why(breaks(assessment)))
    (data,) = (
        one for one in assessment_as_data(assessment)["rulings"]
        if one["ruling"] == f"{SET}/rr-breaks-6d/1"
    )  # fmt: skip
    assert data["confirmed"] == LABEL
    assert data["provenance"] == "memory"


def test_only_the_clause_that_was_looked_up_changes() -> None:
    assessment = judged(confirmed())
    other, _ = ruling_of(assessment, SET, "rr-breaks-30d")
    assert other.confirmed == ""


def test_a_confirmation_of_another_rule_set_says_nothing_here() -> None:
    assert breaks(judged(confirmed(rule_set="iso-4309-2010"))).confirmed == ""


def test_a_confirmation_counts_from_its_day_on() -> None:
    late = confirmed(on=date(2026, 11, 10))
    assert breaks(judged(late)).confirmed == ""
    assert breaks(judged(late, as_of=date(2026, 11, 10))).confirmed


def test_a_copy_that_differs_is_a_ruling_of_its_own() -> None:
    said = confirmed(agrees=False, remark="the copy prints 4 in this row")
    assessment = judged(said, finding=[])
    assert breaks(assessment).confirmed == ""
    asked, count = ruling_of(assessment, SET, "rr-breaks-6d.differs")
    assert count == 1
    assert (asked.status, asked.demand, asked.level) == ("reached", "decide", "decide")
    assert "the copy prints 4 in this row" in asked.words
    assert assessment.verdict.level == "decide"
    # the clause itself is still judged as it stands
    assert breaks(assessment).status == "below"
    assert breaks(judged(said)).status == "reached"


def test_the_newest_word_counts_and_of_one_day_the_no() -> None:
    no, yes = confirmed(agrees=False, on=date(2026, 9, 1)), confirmed()
    assert breaks(judged(no, yes)).confirmed == LABEL
    assert breaks(judged(yes, no)).confirmed == LABEL
    same_day = judged(confirmed(agrees=False), confirmed())
    assert breaks(same_day).confirmed == ""
    assert ruling_of(same_day, SET, "rr-breaks-6d.differs")


def test_a_difference_is_asked_about_though_nothing_was_found() -> None:
    """It concerns a value that may be used tomorrow, so it is not lost with a clear rope."""
    quiet = judged(confirmed(agrees=False), finding=[])
    assert quiet.verdict.level == "decide"


def test_a_clause_that_does_not_exist_is_an_error_that_names_near_ones() -> None:
    with pytest.raises(InputError, match="rr-breaks-6d") as caught:
        judged(confirmed(clause="rr-breaks-6"))
    assert caught.value.field == "installation.confirmed[1].clause"
    assert caught.value.exit_code == 2


def test_an_unknown_rule_set_is_refused_by_the_reader() -> None:
    case = {"installation": {"rules": [SET], "confirmed": [confirmed(rule_set="iso-4309-2018")]}}
    with pytest.raises((InputError, InputErrors), match=r"installation\.confirmed\[1\]\.rule_set"):
        read_case(case_file(case), file="case", known_rules=PackageShelf().names())


def test_a_confirmed_value_governs_before_one_that_nobody_looked_up() -> None:
    # both reached in full: 3 in 6 d (limit 3) and 5 in 30 d (limit 5)
    five = [
        {"kind": "broken wires", "at": "30 m", "breaks": [{"at": "0 mm", "count": 3}]},
        {"kind": "broken wires", "at": "30.3 m", "count": 2, "over": "10 mm"},
    ]
    plain, said = judged(finding=five), judged(confirmed(clause="rr-breaks-30d"), finding=five)
    assert plain.verdict.governing[0] == f"{SET}/rr-breaks-30d/1"
    assert said.verdict.governing[0] == f"{SET}/rr-breaks-30d/1"
    said = judged(confirmed(clause="rr-breaks-6d"), finding=five)
    assert said.verdict.governing[0] == f"{SET}/rr-breaks-6d/1"


def test_nothing_is_judged_milder_by_a_confirmation() -> None:
    shelf = PackageShelf()
    rules = [shelf.get(SET), shelf.get("own-checks")]
    case = {"rope": RR_ROPE, "finding": TWO, "installation": {"rules": [SET]}}
    plain = read_case(case_file(case), file="case", known_rules=shelf.names()).dossier
    for clause in rules[0].clauses:
        for agrees in (True, False):
            said = {"rules": [SET], "confirmed": [confirmed(clause.clause_id, agrees=agrees)]}
            dossier = read_case(
                case_file({**case, "installation": said}), file="case", known_rules=shelf.names()
            ).dossier
            day = date(2026, 11, 9)
            before = assess(plain, rules, day, software="tests").verdict.level
            after = assess(dossier, rules, day, software="tests").verdict.level
            assert before == after == "remove"


def test_the_command_line_shows_the_label(tmp_path: Any) -> None:
    from ropewright.cli.app import cli
    from ropewright.wiring import tools

    path = tmp_path / "rope.toml"
    path.write_text(
        case_file({"rope": RR_ROPE, "finding": TWO,
                   "installation": {"rules": [SET], "confirmed": [confirmed()]}}),
        encoding="utf-8",
    )  # fmt: skip
    done = CliRunner().invoke(
        cli, ["why", "rr-breaks-6d", str(path), "--as-of", "2026-11-09"], obj=tools()
    )
    assert LABEL in done.output
    shown = CliRunner().invoke(cli, ["assess", str(path), "--as-of", "2026-11-09"], obj=tools())
    assert "confirmed by competent person" in shown.output
