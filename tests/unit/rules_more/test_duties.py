"""Due dates, holds and records, from the record of a rope."""

import json
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

from ropewright.cli.app import cli
from ropewright.inspection import Dossier
from ropewright.intake import read_case
from ropewright.intake.shelf import PackageShelf
from ropewright.rules import DueDuty, DutyPlan, RuleSet, duties_as_data, duties_of
from ropewright.wiring import tools
from tests.unit.rules.test_rule_cases import case_file

SHELF = PackageShelf()
TODAY = date(2026, 11, 9)


def dossier(**case: Any) -> Dossier:
    rules = case.pop("rules", ["iso-4309-2017"])
    case["installation"] = {"rules": rules, **case.get("installation", {})}
    return read_case(case_file(case), file="case", known_rules=SHELF.names()).dossier


def plan(*names: str, today: date = TODAY, **case: Any) -> DutyPlan:
    chosen = names or ("iso-4309-2017",)
    sets = [SHELF.get(name) for name in (*chosen, "own-checks")]
    return duties_of(dossier(rules=list(chosen), **case), sets, today)


def one(found: DutyPlan, duty_id: str, rule_set: str | None = None) -> DueDuty:
    (duty,) = (
        duty for duty in found.duties
        if duty.duty_id == duty_id and rule_set in (None, duty.rule_set)
    )  # fmt: skip
    return duty


def test_twelve_months_from_the_last_annual_inspection() -> None:
    # by hand: 9 November 2026 and twelve months; record kept twelve months
    duty = one(plan("us-29cfr-1926-1413"), "annual")
    assert (duty.due, duty.last_on, duty.overdue) == (date(2027, 11, 9), TODAY, False)
    assert duty.keep_until == date(2027, 11, 9)
    assert duty.who == "qualified person"


def test_a_larger_inspection_counts_as_the_monthly_one() -> None:
    duty = one(plan("us-29cfr-1926-1413"), "monthly")
    assert (duty.due, duty.keep_until) == (date(2026, 12, 9), date(2027, 2, 9))
    watched = one(plan("us-29cfr-1926-1413"), "watch")
    assert watched.due == date(2026, 12, 9)


def test_the_last_day_is_still_kept_and_the_next_is_overdue() -> None:
    rules = "us-29cfr-1926-1413"
    assert not one(plan(rules, today=date(2026, 12, 9)), "monthly").overdue
    assert one(plan(rules, today=date(2026, 12, 10)), "monthly").overdue


def test_a_new_rope_without_an_inspection_counts_from_the_day_it_was_fitted() -> None:
    # by hand: fitted 20 November 2025, twelve months
    found = plan("us-29cfr-1926-1413", today=date(2026, 1, 10))
    assert one(found, "annual").due == date(2026, 11, 20)
    assert one(found, "annual").last_on is None


def test_the_day_of_fitting_not_known_is_no_date_but_a_duty_now() -> None:
    found = plan("us-29cfr-1926-1413", without=["installation.fitted_on"], today=date(2026, 1, 10))
    duty = one(found, "annual")
    assert duty.due is None
    assert duty.when.startswith("now: never done")


def test_the_competent_person_states_the_time_to_the_next_one() -> None:
    # next_by of the inspection of the base
    assert one(plan(), "periodic").due == date(2027, 5, 9)
    shorter = plan(installation={"interval_days": 90})
    assert one(shorter, "periodic").due == date(2027, 2, 7)  # by hand: 9 November and 90 days
    unstated = plan(without=["inspection.next_by"])
    assert one(unstated, "periodic").due is None
    assert "no day was stated" in one(unstated, "periodic").when


def test_loler_asks_by_whether_persons_are_lifted() -> None:
    # published (SI 1998/2307, regulation 9(3)): six or twelve months
    lifted = plan("uk-loler", installation={"persons_lifted": True})
    assert one(lifted, "six-months").due == date(2027, 5, 9)
    loads = plan("uk-loler", installation={"persons_lifted": False})
    assert one(loads, "twelve-months").due == date(2027, 11, 9)
    assert not [duty for duty in loads.duties if duty.duty_id == "six-months"]
    unknown = plan("uk-loler")
    assert {"six-months", "twelve-months"} <= {duty.duty_id for duty in unknown.duties}
    assert "address of the premises" in one(loads, "twelve-months").record


def test_fourteen_days_and_half_a_year_of_the_mines() -> None:
    # published (30 CFR 77.1433)
    found = plan("us-30cfr-77-1434")
    assert one(found, "fortnight").due == date(2026, 11, 23)
    assert one(found, "half-year").due == date(2027, 5, 9)
    assert one(found, "fortnight").keep_until == date(2027, 11, 9)
    unmeasured = plan("us-30cfr-77-1434", without=["inspection.finding"])
    assert one(unmeasured, "half-year").due == date(2026, 5, 20)  # from the day of fitting


def test_a_clause_without_a_duty_of_its_own_is_due_too() -> None:
    # published (Cap. 313X, s. 36(1)): a month once a wire is broken
    whole = plan("hk-cap-313x-s38")
    assert one(whole, "one-month").due is None
    broken = plan("hk-cap-313x-s38", finding=[{"kind": "broken wires", "at": "30 m", "count": 1}])
    assert one(broken, "one-month").due == date(2026, 12, 9)
    mines = plan("us-30cfr-77-1434", finding=[{"kind": "broken wires", "at": "30 m", "count": 1}])
    assert one(mines, "daily").due == date(2026, 11, 10)


EVENT = {"id": "E1", "kind": "overload", "on": date(2026, 11, 10)}
RELEASE = {"by": "competent person", "on": date(2026, 11, 12), "evidence": "inspection after it"}
AFTER = {"kind": "after-event", "on": date(2026, 11, 11), "after_event": "E1"}


def test_an_event_holds_the_rope_until_it_is_inspected_and_released() -> None:
    day = date(2026, 11, 12)
    held = plan("uk-loler", event=[EVENT], today=day)
    assert {hold.rule for hold in held.holds} == {"LOLER 1998", "Own check"}
    assert one(held, "exceptional").due == day
    inspected = plan("uk-loler", event=[EVENT], inspection=AFTER, today=day)
    assert [hold.rule for hold in inspected.holds] == ["Own check"]
    assert "release by a named person" in inspected.holds[0].missing[0]
    assert one(inspected, "exceptional").due is None
    released = plan("uk-loler", event=[{**EVENT, "release": RELEASE}], inspection=AFTER, today=day)
    assert released.holds == ()


def test_an_event_holds_only_from_its_day_on() -> None:
    assert plan("uk-loler", event=[EVENT], today=date(2026, 11, 9)).holds == ()


def test_a_crane_put_up_anew_is_examined() -> None:
    # published (SI 1998/2307, regulation 9(2))
    event = {"id": "E2", "kind": "re-rigged", "on": date(2026, 11, 20)}
    found = plan("uk-loler", event=[event], today=date(2026, 11, 21))
    assert one(found, "new-site").due == date(2026, 11, 21)
    assert one(found, "exceptional").due is None


def test_idle_time_holds_the_rope_before_restart() -> None:
    # published (29 CFR 1910.179(m)(2)): a month or more
    idle = {"installation": {"idle_since": date(2026, 11, 10)}}
    assert plan("us-29cfr-1910-179", today=date(2026, 12, 9), **idle).holds == ()
    found = plan("us-29cfr-1910-179", today=date(2026, 12, 10), **idle)
    assert "idle since 2026-11-10" in [hold.words for hold in found.holds]
    assert one(found, "idle").due == date(2026, 12, 10)
    assert one(found, "idle").when.startswith("before restart")


def test_a_withdrawn_rule_asks_for_nothing() -> None:
    assert not [one for one in plan("din-15020-2").duties if one.rule_set == "din-15020-2"]


def test_soonest_first_and_undated_last() -> None:
    found = plan("us-29cfr-1926-1413", "uk-loler", "iso-4309-2017", "us-30cfr-77-1434")
    dated = [duty.due for duty in found.duties if duty.due is not None]
    assert dated == sorted(dated)
    first_undated = next(n for n, duty in enumerate(found.duties) if duty.due is None)
    assert all(duty.due is None for duty in found.duties[first_undated:])


@pytest.mark.parametrize("name", SHELF.names())
def test_every_duty_of_every_rule_set_can_be_worked_out(name: str) -> None:
    rules: RuleSet = SHELF.get(name)
    found = duties_of(dossier(rules=[name]), [rules], TODAY)
    if rules.in_force_to is None:
        asked = {one.duty_id for one in rules.duties}
        assert asked <= {duty.duty_id for duty in found.duties}
    for duty in found.duties:
        assert duty.when
        assert duty.clause
        assert duty.who


@given(st.dates(date(2025, 11, 20), date(2035, 1, 1)))
def test_time_only_makes_more_overdue(day: date) -> None:
    """Law: without a new inspection, what is overdue today is overdue on every later day."""
    rules = ("us-29cfr-1926-1413", "uk-loler", "us-30cfr-77-1434")
    late = {
        (duty.rule_set, duty.duty_id)
        for duty in plan(*rules, today=max(day, TODAY)).duties if duty.overdue
    }  # fmt: skip
    later = {
        (duty.rule_set, duty.duty_id)
        for duty in plan(*rules, today=date(2036, 1, 1)).duties if duty.overdue
    }  # fmt: skip
    assert late <= later


# ---------------------------------------------------------------- as data, on the command line


def test_plain_data_has_days_as_texts() -> None:
    data = json.loads(json.dumps(duties_as_data(plan("uk-loler", event=[EVENT],
                                                     today=date(2026, 11, 12)))))  # fmt: skip
    assert data["as_of"] == "2026-11-12"
    assert len(data["holds"]) == 2
    assert {one["due"] for one in data["duties"]} >= {"2026-11-12", "2027-11-09", None}


def _file(tmp_path: Path, **case: Any) -> str:
    path = tmp_path / "rope.toml"
    path.write_text(case_file(case), encoding="utf-8")
    return str(path)


def test_command_shows_holds_first(tmp_path: Path) -> None:
    file = _file(tmp_path, event=[EVENT], installation={"rules": ["uk-loler"]})
    done = CliRunner().invoke(cli, ["duties", file, "--as-of", "2026-11-12"], obj=tools())
    assert done.exit_code == 0, done.output
    assert done.output.index("ON HOLD") < done.output.index("By a day")
    assert done.output.index("By a day") < done.output.index("Without a date")
    assert "2027-11-09" in done.output
    assert "Local law" in done.output


def test_command_gives_json_and_takes_added_rules(tmp_path: Path) -> None:
    file = _file(tmp_path, installation={"rules": ["iso-4309-2017"]})
    done = CliRunner().invoke(
        cli, ["duties", file, "--as-of", "2026-12-20", "--rules", "+us-29cfr-1910-179", "--json"],
        obj=tools(),
    )  # fmt: skip
    data = json.loads(done.output)
    (monthly,) = (one for one in data["duties"] if one["duty"] == "monthly")
    assert (monthly["due"], monthly["overdue"]) == ("2026-12-09", True)


def test_command_refuses_bad_input_in_one_line(tmp_path: Path) -> None:
    done = CliRunner().invoke(cli, ["duties", str(tmp_path / "none.toml")], obj=tools())
    assert done.exit_code == 2
