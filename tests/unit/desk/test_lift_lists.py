"""Several lists of lifts together: each on the set-up and the rope of its own days."""

from datetime import date
from itertools import pairwise
from pathlib import Path

import pytest

from ropewright.demo import demo_case, demo_lifts
from ropewright.desk.cutting import cut_advice
from ropewright.desk.wearing import WearResult, wear_of
from ropewright.errors import InputError
from ropewright.inspection import Dossier
from ropewright.intake import PackageShelf, read_case
from ropewright.intake.duty.opening import open_logs
from tests.unit.desk.test_wearing import CUT, dossier

TODAY = date(2026, 6, 30)
HEAD = "date,pick [m],place [m],over [m],pick radius [m],place radius [m],load [t],times\n"
#: One list before the cut of 10 March, one up to the turn of 15 April, one after it.
ROWS = {
    "winter.csv": "2026-02-01,2,40,45,20,45,2.0,30\n2026-03-09,2,30,45,20,35,1.5,10\n",
    "spring.csv": "2026-03-10,2,25,45,20,45,3.0,20\n2026-04-14,1,35,45,20,40,2.5,15\n",
    "summer.csv": "2026-04-15,2,45,50,15,45,2.2,25\n2026-06-20,1,20,45,20,50,1.0,40\n",
}
#: The same greatest load for all, so that counts made apart have the same classes.
MAP = 'schema = 1\n[columns]\ntime = { column = "time" }\n[counting]\ngreatest_load = "4 t"\n'


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with the lists and the mapping."""
    for name, rows in ROWS.items():
        (tmp_path / name).write_text(HEAD + rows, encoding="utf-8")
    (tmp_path / "map.toml").write_text(MAP, encoding="utf-8")
    return tmp_path


def worn(rope: Dossier, folder: Path, *names: str, today: date = TODAY) -> WearResult:
    """Wear by lists, in the order in which they are named."""
    opened = open_logs([folder / name for name in names], folder / "map.toml")
    return wear_of(
        rope, opened.chunks, opened.counting, today, log=opened.names, records=opened.records
    )


def test_lists_before_and_after_a_cut_and_a_turn_make_one_map(folder: Path) -> None:
    """Second formulation: the maps of the lists one by one, added up metre by metre."""
    rope = dossier(history=CUT)
    found = worn(rope, folder, "summer.csv", "winter.csv", "spring.csv")
    assert found.log == ("winter.csv", "spring.csv", "summer.csv")
    assert [(one.path.length_m, one.path.turned) for one in found.pieces] == [
        (210.0, False), (208.7, False), (208.7, True),
    ]  # fmt: skip
    apart = [worn(rope, folder, name) for name in ROWS]
    assert found.duty.lifts == sum(one.duty.lifts for one in apart) == 140  # by hand
    assert found.days == 37 + 36 + 67  # by hand: both days counted
    for place in range(2, 205):
        alone = sum(one.wear.total.mean(place, place + 1) * one.wear.full_bend for one in apart)
        together = found.wear.total.mean(place, place + 1) * found.wear.full_bend
        assert together == pytest.approx(alone, rel=1e-9, abs=1e-12)


def test_two_lists_of_one_set_up_are_as_one_list(folder: Path) -> None:
    """Second formulation: all rows in one file."""
    rope = dossier()
    whole = HEAD + ROWS["winter.csv"] + ROWS["spring.csv"]
    (folder / "whole.csv").write_text(whole, encoding="utf-8")
    parted, one = worn(rope, folder, "spring.csv", "winter.csv"), worn(rope, folder, "whole.csv")
    assert parted.wear.edges_m == pytest.approx(one.wear.edges_m)
    assert parted.wear.full_bends.sum(axis=0) == pytest.approx(one.wear.full_bends.sum(axis=0))
    assert parted.days == one.days
    assert parted.top[0].section == one.top[0].section


def test_days_that_no_list_covers_are_said(folder: Path) -> None:
    found = worn(dossier(history=CUT), folder, "winter.csv", "summer.csv")
    notes = [note for note in found.notes if "map lacks these days" in note]
    assert notes == ["No list covers 2026-03-10 to 2026-04-14: the map lacks these days."]
    assert not [
        note
        for note in worn(dossier(history=CUT), folder, *ROWS).notes
        if "list" in note and "map lacks" in note
    ]


def test_the_greatest_load_of_all_lists_makes_the_classes(folder: Path) -> None:
    opened = open_logs([folder / name for name in ROWS])
    assert opened.counting.classes.upper_t[-1] == 3.0
    assert [one.name for one in opened.records] == list(ROWS)


@pytest.mark.parametrize(
    ("name", "row", "says"),
    [
        ("more.csv", "2026-03-09,2,40,45,20,45,2,1\n", ("more.csv", "winter.csv", "2026-03-09")),
        ("more.csv", "2026-02-10,2,40,45,20,45,2,1\n", ("more.csv", "winter.csv", "2026-02-10")),
        ("more.csv", ",2,40,45,20,45,2,1\n", ("more.csv", "the day of the lifts")),
        ("log.csv", None, ("log.csv", "a log among lists of lifts")),
        ("more.csv", "2026-07-01,2,40,45,20,45,2,1\n", ("more.csv", "none after 2026-06-30")),
        ("more.csv", "2025-12-31,2,40,45,20,45,2,1\n", ("more.csv", "fitted on 2026-01-05")),
        (
            "more.csv",
            "2026-03-10,2,400,450,20,45,2,1\n",
            ("more.csv.lift[1]", "pick hook 2 m, radius 20 m; place hook 400 m"),
        ),
        (
            "more.csv",
            "2026-04-10,2,40,45,20,45,2,1\n2026-04-15,2,40,45,20,45,2,1\n",
            ("more.csv 2026-04-10 to 2026-04-15, when it changed", "one list for each"),
        ),
    ],
)
def test_lists_that_do_not_go_together_are_named(
    folder: Path, name: str, row: str | None, says: tuple[str, ...]
) -> None:
    text = "time,hook [m]\n2026-05-01T06:00:00Z,1\n" if row is None else HEAD + row
    (folder / name).write_text(text, encoding="utf-8")
    with pytest.raises(InputError) as caught:
        worn(dossier(history=CUT), folder, "winter.csv", name)
    for words in says:
        assert words in str(caught.value)


def test_a_description_of_the_duty_fills_the_days_before_a_list(folder: Path) -> None:
    text = (
        "schema = 1\nlifts_per_day = 20\nfirst = 2026-01-05\nlast = 2026-01-31\n"
        '[[kind]]\npick = "2 m"\nplace = "40 m"\nload = "2 t"\npick_radius = "20 m"\n'
        'place_radius = "45 m"\n'
    )
    (folder / "january.toml").write_text(text, encoding="utf-8")
    found = worn(dossier(history=CUT), folder, "winter.csv", "january.toml")
    assert found.duty.origin == "several"
    assert found.duty.lifts == 20 * 27 + 40  # by hand
    assert found.log == ("january.toml", "winter.csv")


def test_a_rope_shortened_twice_and_turned_is_counted_over_its_whole_life(tmp_path: Path) -> None:
    """KQ-3 of the site, its weekly list carried back to the fitting, one list for each length."""
    case = read_case(demo_case("KQ-3"), file="KQ-3.toml", known_rules=PackageShelf().names())
    ((name, text),) = demo_lifts("KQ-3").items()
    head, row, *_ = text.splitlines()
    assert row.startswith("2026-06-22,")
    rest = row.partition(",")[2]
    begins = [date(2025, 3, 3), *(step.on for step in case.dossier.history.steps)]
    assert begins[-1] == date(2026, 6, 22)
    for number, (first, beyond) in enumerate(pairwise(begins)):
        last = date.fromordinal(beyond.toordinal() - 1)
        rows = [f"{day.isoformat()},{rest}" for day in (first, last)]
        (tmp_path / f"{number}.csv").write_text("\n".join([head, *rows]), encoding="utf-8")
    (tmp_path / name).write_text(text, encoding="utf-8")
    opened = open_logs(sorted(tmp_path.iterdir(), reverse=True))
    found = wear_of(
        case.dossier, opened.chunks, opened.counting, date(2026, 11, 6), log=opened.names,
        records=opened.records,
    )  # fmt: skip
    assert found.log == ("0.csv", "1.csv", "2.csv", name)
    assert [one.path.turned for one in found.pieces] == [False, False, False, True]
    lengths = [one.path.length_m for one in found.pieces]
    assert lengths[0] > lengths[1] > lengths[2] == lengths[3]
    assert not any("map lacks" in note for note in found.notes)
    advice = cut_advice(case.dossier, found, judged=None, period_days=90, dead_wraps=None)
    assert advice.plan is not None
