"""Many logs by any crew: the same result, kept between runs, whatever dies on the way."""

import json
from collections.abc import Sequence
from datetime import date
from pathlib import Path

import pytest

from ropewright.desk.fleet import Crew, FleetJob, fleet_rows, run_fleet
from ropewright.desk.wear_data import fleet_as_data
from ropewright.errors import InputError, OutputError
from ropewright.fleet import AllCores, Cluster, OneByOne, fleet_jobs
from ropewright.fleet.kept import ENDING
from tests.unit.desk.wear_logs import case_text, csv_text, log
from tests.unit.fleet.light import die_always, die_once, square
from tests.unit.fleet.workers import TODAY, fails, read_case_at, work

MAPPING = """
schema = 1
[columns]
time = { column = "time" }
hook = { column = "hook [m]", unit = "m" }
radius = { column = "radius [m]", unit = "m" }
load = { column = "load [t]", unit = "t" }
[counting]
block = "400 kg"
greatest_load = "6 t"
gap_s = 600
"""


def make_fleet(folder: Path, ropes: int, months: int, *, days: int = 3, lifts: int = 4) -> str:
    """Write case files with their logs, month by month; return the pattern of the case files."""
    for rope in range(ropes):
        case = folder / f"rope-{rope:03d}.toml"
        case.write_text(case_text(), encoding="utf-8")
        logs = folder / f"rope-{rope:03d}.logs"
        logs.mkdir()
        (logs / "map.toml").write_text(MAPPING, encoding="utf-8")
        for month in range(months):
            text = csv_text(log(date(2026, 1 + month, 7), days, 100 * rope + month, lifts=lifts))
            (logs / f"2026-{1 + month:02d}.csv").write_text(text, encoding="utf-8")
    return str(folder / "*.toml")


def result_text(jobs: Sequence[FleetJob], crew: Crew, keep: Path) -> str:
    """Return the whole result of a fleet as text."""
    done = run_fleet(jobs, work(str(keep)), crew)
    cases = {name: read_case_at(name) for name in {job.case for job in jobs}}
    return json.dumps(fleet_as_data(fleet_rows(done, cases, TODAY), TODAY))


def test_any_crew_gives_the_same_result(tmp_path: Path) -> None:
    jobs = fleet_jobs(make_fleet(tmp_path, 2, 3))
    assert len(jobs) == 6
    alone = result_text(jobs, OneByOne(), tmp_path / "one")
    assert result_text(jobs, AllCores(2), tmp_path / "all") == alone
    assert json.loads(alone)["ropes"][0]["lifts"] == 36  # 3 months, 3 days, 4 lifts


def test_kept_counts_are_taken_for_the_same_bytes_only(tmp_path: Path) -> None:
    jobs = fleet_jobs(make_fleet(tmp_path, 1, 2))
    first = run_fleet(jobs, work(), OneByOne())
    assert not any(done.kept for done in first)
    assert (tmp_path / "rope-000.logs" / f"2026-01.csv{ENDING}").exists()
    again = run_fleet(jobs, work(), OneByOne())
    assert all(done.kept for done in again)
    cases = {jobs[0].case: read_case_at(jobs[0].case)}
    rows = [fleet_as_data(fleet_rows(done, cases, TODAY), TODAY) for done in (first, again)]
    assert rows[0] == rows[1]
    # other bytes, another version, a kept file that is broken, an earlier day: counted anew
    log_path = Path(jobs[0].log)
    log_path.write_text(log_path.read_text(encoding="utf-8") + "\n", encoding="utf-8")
    assert [done.kept for done in run_fleet(jobs, work(), OneByOne())] == [False, True]
    assert not any(done.kept for done in run_fleet(jobs, work(software="test 2"), OneByOne()))
    broken = Path(jobs[1].log + ENDING)
    broken.write_bytes(broken.read_bytes()[:500])
    kept = run_fleet(jobs, work(software="test 2"), OneByOne())
    assert [done.kept for done in kept] == [True, False]
    earlier = work(software="test 2", today=date(2026, 2, 1))
    assert not any(done.kept for done in run_fleet(jobs[:1], earlier, OneByOne()))


def test_another_day_keeps_what_it_can(tmp_path: Path) -> None:
    jobs = fleet_jobs(make_fleet(tmp_path, 1, 1))
    run_fleet(jobs, work(), OneByOne())
    later = run_fleet(jobs, work(today=date(2027, 1, 15)), OneByOne())
    assert all(done.kept for done in later)
    cases = {jobs[0].case: read_case_at(jobs[0].case)}
    fresh = run_fleet(jobs, work(str(tmp_path / "x"), today=date(2027, 1, 15)), OneByOne())
    day = date(2027, 1, 15)
    rows = [fleet_as_data(fleet_rows(done, cases, day), day) for done in (later, fresh)]
    assert rows[0] == rows[1]


def test_one_bad_file_spoils_nothing_but_itself(tmp_path: Path) -> None:
    jobs = fleet_jobs(make_fleet(tmp_path, 1, 2))
    Path(jobs[1].log).write_text("time,hook [m]\nnever,high\n", encoding="utf-8")
    done = run_fleet(jobs, work(), OneByOne())
    row = fleet_rows(done, {jobs[0].case: read_case_at(jobs[0].case)}, TODAY)[0]
    assert row.top
    assert len(row.problems) == 1
    assert "2026-02.csv" in row.problems[0]
    assert not Path(jobs[1].log + ENDING).exists()


def test_the_same_time_twice_is_counted_once(tmp_path: Path) -> None:
    pattern = make_fleet(tmp_path, 1, 1)
    logs = tmp_path / "rope-000.logs"
    (logs / "copy.csv").write_bytes((logs / "2026-01.csv").read_bytes())
    jobs = fleet_jobs(pattern)
    done = run_fleet(jobs, work(), OneByOne())
    row = fleet_rows(done, {jobs[0].case: read_case_at(jobs[0].case)}, TODAY)[0]
    assert row.lifts == 12
    assert "overlaps" in row.problems[0]


def test_a_rope_without_any_count_is_not_assessable(tmp_path: Path) -> None:
    jobs = fleet_jobs(make_fleet(tmp_path, 1, 1))
    done = run_fleet(jobs, fails, OneByOne())
    row = fleet_rows(done, {jobs[0].case: read_case_at(jobs[0].case)}, TODAY)[0]
    assert not row.top
    assert row.problems == ("made to fail",)


def test_a_dying_worker_is_replaced(tmp_path: Path) -> None:
    found = dict(AllCores(2).run(die_once, [str(tmp_path / "a"), str(tmp_path / "b")]))
    assert found == {0: 7, 1: 7}


def test_a_job_that_always_kills_ends_the_run(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("ropewright.fleet.crews.MOST_DEATHS", 2)
    with pytest.raises(OutputError, match="died"):
        dict(AllCores(1).run(die_always, [1]))


def test_crews_number_their_results() -> None:
    assert dict(OneByOne().run(square, [3, 4])) == {0: 9, 1: 16}
    assert dict(AllCores(1).run(square, [3, 4, 5])) == {0: 9, 1: 16, 2: 25}


def test_nobody_at_the_address_is_said_plainly(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("ropewright.fleet.cluster.WAIT_S", 0.2)
    with pytest.raises(InputError, match="scheduler"):
        dict(Cluster("tcp://127.0.0.1:9").run(square, [1]))


# --- Layout --------------------------------------------------------------------------------------


def test_patterns_name_case_files(tmp_path: Path) -> None:
    pattern = make_fleet(tmp_path, 2, 1, days=1, lifts=1)
    assert len(fleet_jobs(pattern)) == 2
    assert len(fleet_jobs(str(tmp_path))) == 2
    assert len(fleet_jobs(str(tmp_path / "rope-001.toml"))) == 1
    mapping = tmp_path / "rope-000.logs" / "map.toml"
    (tmp_path / "rope-001.logs" / "map.toml").unlink()
    assert [job.mapping for job in fleet_jobs(pattern)] == [str(mapping), ""]


def test_a_pattern_without_ropes_or_logs_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="case files"):
        fleet_jobs(str(tmp_path / "*.toml"))
    (tmp_path / "bare.toml").write_text(case_text(), encoding="utf-8")
    with pytest.raises(InputError, match=r"bare\.logs"):
        fleet_jobs(str(tmp_path / "*.toml"))


def test_a_list_of_lifts_will_do_for_a_rope(tmp_path: Path) -> None:
    case = tmp_path / "rope.toml"
    case.write_text(case_text(), encoding="utf-8")
    logs = tmp_path / "rope.logs"
    logs.mkdir()
    (logs / "lifts.csv").write_text(
        "pick [m],place [m],pick radius [m],place radius [m],load [t],times,date\n"
        "2,40,20,35,2.0,30,2026-03-01\n2,40,20,45,1.5,10,2026-03-20\n",
        encoding="utf-8",
    )
    jobs = fleet_jobs(str(case))
    row = fleet_rows(
        run_fleet(jobs, work(), OneByOne()), {jobs[0].case: read_case_at(jobs[0].case)}, TODAY
    )[0]
    assert row.problems == ()
    assert row.lifts == 40
    assert row.days == 20


def test_lists_of_lifts_stand_each_for_their_own_days(tmp_path: Path) -> None:
    """By hand: 30 lifts in April and 20 in March, in order of days; days listed twice count once.

    A list without days goes on to the day of the question, so it is counted anew.
    """
    case = tmp_path / "rope.toml"
    case.write_text(case_text(), encoding="utf-8")
    logs = tmp_path / "rope.logs"
    logs.mkdir()
    head = "pick [m],place [m],pick radius [m],place radius [m],load [t],times"
    for name, listed in (
        ("a.csv", ("30,2026-04-02",)), ("b.csv", ("10,2026-03-01", "10,2026-03-09")),
        ("c.csv", ("5,2026-03-05",)),
    ):  # fmt: skip
        rows = [f"2,40,20,35,2.0,{day}" for day in listed]
        (logs / name).write_text("\n".join([f"{head},date", *rows, ""]), encoding="utf-8")
    jobs = fleet_jobs(str(case))
    cases = {jobs[0].case: read_case_at(jobs[0].case)}
    row = fleet_rows(run_fleet(jobs, work(), OneByOne()), cases, TODAY)[0]
    assert row.lifts == 50
    assert [day.month for day, _ in row.clock] == [3, 3, 4]  # begins, ends, April's one day
    (problem,) = row.problems
    assert "c.csv" in problem
    for one in logs.iterdir():
        one.unlink()
    (logs / "all.csv").write_text(f"{head}\n2,40,20,35,2.0,30\n", encoding="utf-8")
    jobs = fleet_jobs(str(case))
    days = []
    for today in (date(2026, 6, 30), date(2026, 12, 31)):
        done = run_fleet(jobs, work(today=today), OneByOne())
        days.append(fleet_rows(done, cases, today)[0].days)
    assert days == [177, 361]  # 5 January to both days
