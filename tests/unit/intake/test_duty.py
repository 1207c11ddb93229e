"""Duty logs read from CSV and Parquet, lists of lifts, descriptions of a duty; and what is wrong.

Expected moments and values are by hand unless they say otherwise.
"""

import gzip
import re
import sys
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import numpy as np
import polars as pl
import pytest

from ropewright.errors import InputError
from ropewright.intake.duty import (
    counting_of,
    duty_log,
    kind_of_file,
    read_lifts,
    read_mapping,
)
from ropewright.intake.duty import parquet_log as parquet_module
from ropewright.intake.duty import text_log as text_module
from ropewright.intake.duty.moments import WallClock, zone_of
from ropewright.intake.duty.opening import open_logs
from ropewright.wear import DutyChunk

Write = Callable[[str, str], Path]
PLAIN = "time,hook [m],radius [m],load [t],falls\n"
MS_2026 = 1_772_323_200_000  # 2026-03-01T00:00:00Z; other program: date -u -d 2026-03-01 +%s


@pytest.fixture
def write(tmp_path: Path) -> Write:
    def make(name: str, text: str) -> Path:
        path = tmp_path / name
        path.write_text(text, encoding="utf-8")
        return path

    return make


def all_of(pieces: list[DutyChunk], name: str) -> list[float]:
    values: list[float] = np.concatenate([getattr(piece, name) for piece in pieces]).tolist()
    return values


def test_log_whose_headings_say_all(write: Write) -> None:
    path = write(
        "log.csv",
        "Time,Hook [ft],Radius (m),Load [kN]\n"
        "2026-03-01T00:00:00Z,10,20,9.80665\n"
        "2026-03-01T00:00:01Z,11,20.5,19.6133\n",
    )
    (piece,) = duty_log(path)
    assert piece.time_ms.tolist() == [MS_2026, MS_2026 + 1000]
    assert all_of([piece], "hook_m") == pytest.approx([3.048, 3.3528], abs=1e-12)
    assert all_of([piece], "radius_m") == [20.0, 20.5]
    assert all_of([piece], "load_t") == pytest.approx([1.0, 2.0], abs=1e-12)


def test_mapping_with_units_zone_and_decimal_comma(write: Write) -> None:
    mapping = read_mapping(
        write(
            "map.toml",
            'schema = 1\nzone = "+01:00"\ndecimal = ","\n[columns]\n'
            'time = { column = "Stamp" }\nhook = { column = "H", unit = "mm" }\n'
            'radius = { value = "35 m" }\n'
            'load = { column = "L", unit = "kg", with_block = false }\n'
            '[counting]\nblock = "400 kg"\ngreatest_load = "8 t"\nbin = "0.2 m"\n',
        )
    )
    path = write("log.csv", "Stamp;L;Remark;H\n2026-03-01 01:00:00;1500,5;x;12345,6\n")
    (piece,) = duty_log(path, mapping)
    assert piece.time_ms.tolist() == [MS_2026]
    assert all_of([piece], "hook_m") == pytest.approx([12.3456], abs=1e-9)
    assert all_of([piece], "radius_m") == [35.0]
    assert all_of([piece], "load_t") == pytest.approx([1.9005], abs=1e-9)
    counting = counting_of(mapping, greatest_load_t=99.0)
    assert counting.classes.upper_t[-1] == 8.0
    assert (counting.bin_m, counting.block_t) == (0.2, 0.4)


def test_moments_as_numbers(write: Write) -> None:
    mapping = read_mapping(
        write(
            "map.toml",
            'schema = 1\n[columns]\ntime = { column = "t", unit = "s" }\n'
            'hook = { column = "h", unit = "m" }\n',
        )
    )
    (piece,) = duty_log(write("log.csv", f"t,h\n{MS_2026 / 1000},1\n"), mapping)
    assert piece.time_ms.tolist() == [MS_2026]


def test_blank_cells_are_not_zero(write: Write) -> None:
    text = "time,hook [m],load [t]\n2026-03-01T00:00:00Z,,1\n2026-03-01T00:00:01Z,3,-\n"
    (piece,) = duty_log(write("log.csv", text))
    assert np.isnan(all_of([piece], "hook_m")[0])
    assert np.isnan(all_of([piece], "load_t")[1])


def test_blank_lines_are_skipped_and_rows_keep_their_numbers(write: Write) -> None:
    good = "2026-03-01T00:00:00Z,1\n"
    text = "\n\ntime,hook [m]\n\n" + good + "  \n\n" + good
    (piece,) = duty_log(write("log.csv", text))
    assert len(piece) == 2
    with pytest.raises(InputError, match="row 9"):
        list(duty_log(write("log.csv", text + "2026-03-01T00:00:00Z,x\n")))


def test_new_piece_where_falls_change(write: Write) -> None:
    rows = "".join(f"2026-03-01T00:00:0{n}Z,1,2,3,{falls}\n" for n, falls in enumerate([2, 2, 4]))
    pieces = list(duty_log(write("log.csv", PLAIN + rows)))
    assert [(piece.falls, len(piece), piece.first_row) for piece in pieces] == [
        (2, 2, 2), (4, 1, 4),
    ]  # fmt: skip


def test_many_blocks_and_gzip(
    tmp_path: Path, write: Write, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(text_module, "LINES", 7)
    rows = "".join(f"{datetime.fromtimestamp(n, UTC).isoformat()},{n}\n" for n in range(40))
    text = "time,hook [m]\n" + rows
    pieces = list(duty_log(write("log.csv", text)))
    assert len(pieces) == 6
    assert all_of(pieces, "hook_m") == list(range(40))
    packed = tmp_path / "log.csv.gz"
    packed.write_bytes(gzip.compress(text.encode()))
    assert all_of(list(duty_log(packed)), "time_ms") == all_of(pieces, "time_ms")


def test_hour_that_comes_twice() -> None:
    # Clocks in this region go back on 2026-10-25 from 03:00 to 02:00; the other program is
    # Python's own zone table, moment by moment.
    zone = "Europe/Berlin"
    truth = np.arange(0, 4 * 3600, 300) * 1000 + 1_792_882_800_000  # 2026-10-24T23:00Z
    local = [datetime.fromtimestamp(ms / 1000, ZoneInfo(zone)) for ms in truth.tolist()]
    wall = [round(one.replace(tzinfo=UTC).timestamp() * 1000) for one in local]
    clock = WallClock(zone_of(zone))
    parts = np.array_split(np.array(wall, dtype=np.int64), 5)
    assert np.concatenate([clock.moments(part) for part in parts]).tolist() == truth.tolist()


@pytest.mark.parametrize(
    "text",
    ["2026-03-01T00:00:00Z", "2026-03-01T01:00:00+01:00", "2026-02-28 19:00:00-05:00",
     "2026-03-01T00:00:00.000+00:00", "2026-03-01T00:00Z"],
)  # fmt: skip
def test_ways_to_write_a_moment(write: Write, text: str) -> None:
    (piece,) = duty_log(write("log.csv", f"time,hook [m]\n{text},1\n{text},1\n"))
    assert piece.time_ms.tolist() == [MS_2026, MS_2026]


# --- Parquet --------------------------------------------------------------------------------------


def test_parquet_gives_the_same_as_csv(
    tmp_path: Path, write: Write, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(parquet_module, "ROWS", 16)
    moments = [datetime.fromtimestamp(60 * n, UTC) for n in range(50)]
    hook = [n / 8 for n in range(50)]
    rows = "".join(f"{at.isoformat()},{h}\n" for at, h in zip(moments, hook, strict=True))
    text = list(duty_log(write("log.csv", "time,hook [m]\n" + rows)))
    stored = tmp_path / "log.parquet"
    pl.DataFrame({"time": moments, "hook [m]": hook}).write_parquet(stored)
    columns = list(duty_log(stored))
    assert all_of(columns, "time_ms") == all_of(text, "time_ms")
    assert all_of(columns, "hook_m") == all_of(text, "hook_m")


def test_parquet_blank_is_not_zero_and_single_precision_stays(tmp_path: Path) -> None:
    stored = tmp_path / "log.parquet"
    pl.DataFrame(
        {
            "time": [datetime.fromtimestamp(n, UTC) for n in range(2)],
            "hook [m]": pl.Series([None, 2.5], dtype=pl.Float32),
            "falls": [2, 2],
        }
    ).write_parquet(stored)
    (piece,) = duty_log(stored)
    assert piece.hook_m is not None
    assert piece.hook_m.dtype == np.float32
    assert np.isnan(piece.hook_m[0])
    assert piece.falls == 2


def test_parquet_without_zone_is_refused(tmp_path: Path) -> None:
    stored = tmp_path / "log.parquet"
    pl.DataFrame({"time": [datetime(2026, 3, 1)], "hook [m]": [1.0]}).write_parquet(stored)  # noqa: DTZ001
    with pytest.raises(InputError, match="zone"):
        list(duty_log(stored))


def test_missing_extra_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    stored = tmp_path / "log.parquet"
    stored.write_bytes(b"x")
    monkeypatch.setitem(sys.modules, "polars", None)
    with pytest.raises(InputError, match="fleet"):
        list(duty_log(stored))


@pytest.mark.parametrize("content", [b"", b"PAR1 no such thing"])
def test_broken_parquet(tmp_path: Path, content: bytes) -> None:
    stored = tmp_path / "log.parquet"
    stored.write_bytes(content)
    with pytest.raises(InputError, match="cannot be read"):
        list(duty_log(stored))


# --- What is wrong with a log ---------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "names of the columns"),
        ("time\n", "hook"),
        ("hook [m]\n1\n", "time"),
        ("time,hook\n2026-03-01T00:00:00Z,1\n", "units"),
        ("time,hook [yd]\n", "units"),
        ("time,hook [m],load [ton]\n", "several meanings"),
        ("time,hook [m]\n2026-03-01T00:00:00,1\n", "zone"),
        ("time,hook [m]\nyesterday,1\n", "row 2"),
        ("time,hook [m]\n2026-03-01T00:00:00Z,1\n2026-03-01T00:00:01Z,high\n", "row 3"),
        ("time,hook [m]\n2026-03-01T00:00:00Z\n", "columns"),
        ('time;hook [m]\n2026-03-01T00:00:00Z;"1,5"\n', "decimal"),
        ("time,hook [m],falls\n2026-03-01T00:00:00Z,1,2.5\n", "falls"),
        ("time,hook [m],time\n2026-03-01T00:00:00Z,1,2\n", "once"),
    ],
)
def test_broken_logs(write: Write, text: str, words: str) -> None:
    path = write("log.csv", text)
    with pytest.raises(InputError, match=words) as caught:
        list(duty_log(path))
    assert "log.csv" in str(caught.value)


def test_log_that_is_not_text(tmp_path: Path) -> None:
    path = tmp_path / "log.csv"
    path.write_bytes(b"time,hook [m]\n\xff\xfe,1\n")
    with pytest.raises(InputError, match="UTF-8"):
        list(duty_log(path))


def test_log_that_is_not_there(tmp_path: Path) -> None:
    for path in (tmp_path / "none.csv", tmp_path):
        with pytest.raises(InputError, match="duty log"):
            list(duty_log(path))
    other = tmp_path / "log.doc"
    other.write_text("x", encoding="utf-8")
    with pytest.raises(InputError, match="ending"):
        list(duty_log(other))


HOOK = 'hook = { column = "h", unit = "m" }\n'
TIME = 'time = { column = "t" }\n'


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("schema = 2\n[columns]\n" + TIME + HOOK, "schema"),
        ("schema = 1\n[columns]\n" + HOOK, "time"),
        ("schema = 1\n[columns]\n" + TIME + 'hook = { column = "h" }\n', "unit"),
        ("schema = 1\n[columns]\n" + TIME + 'hook = { unit = "m" }\n', "a column, or one value"),
        ("schema = 1\n[columns]\n" + TIME + 'hook = { value = "12" }\n', "hook"),
        ("schema = 1\n[columns]\n" + TIME + 'hok = { column = "h", unit = "m" }\n', "hook"),
        (
            "schema = 1\n[columns]\n" + TIME + HOOK
            + 'load = { column = "l", unit = "t", with_block = false }\n',
            "block",
        ),
        ("schema = 1\n[columns]\n" + TIME + HOOK + "[counting]\ngap_s = 0\n", "gap_s"),
        ("schema = 1\n[columns\n", "bracket"),
    ],
)  # fmt: skip
def test_broken_mappings(write: Write, text: str, words: str) -> None:
    path = write("map.toml", text)
    with pytest.raises(InputError, match=words) as caught:
        read_mapping(path)
    assert "map.toml" in str(caught.value)


def test_unknown_zone_is_named_when_the_log_is_read(write: Write) -> None:
    mapping = read_mapping(
        write("map.toml", 'schema = 1\nzone = "Mars/North"\n[columns]\n' + TIME + HOOK)
    )
    with pytest.raises(InputError, match="zone"):
        list(duty_log(write("log.csv", "t,h\n2026-03-01T00:00:00,1\n"), mapping))


def test_missing_column_names_near_ones(write: Write) -> None:
    mapping = read_mapping(
        write("map.toml", 'schema = 1\n[columns]\ntime = { column = "Stamp" }\n' + HOOK)
    )
    with pytest.raises(InputError, match="Stamps"):
        list(duty_log(write("log.csv", "Stamps,h\n"), mapping))


# --- Lifts ----------------------------------------------------------------------------------------

LIFTS = (
    "date,pick [m],place [m],over [m],load [t],times,pick radius [m],place radius [m]\n"
    "2026-03-01,2.8,10.8,30.8,3,7,20,45\n"
    "2026-03-04,-1,10.8,,0.5,,20,45\n"
)
DUTY = (
    "schema = 1\nlifts_per_day = 40\nfirst = 2026-01-01\nlast = 2026-03-31\ndays = 60\n"
    '[[kind]]\nshare = 3\npick = "-1 m"\nplace = "35 m"\nload = "2 t"\n'
    'pick_radius = "20 m"\nplace_radius = "45 m"\n'
    '[[kind]]\npick = "0 m"\nplace = "15 m"\nload = "4 t"\n'
    'pick_radius = "20 m"\nplace_radius = "25 m"\n'
)


def test_list_of_lifts(write: Write) -> None:
    path = write("lifts.csv", LIFTS)
    assert kind_of_file(path) == "lift list"
    record = read_lifts(path)
    assert (record.origin, record.days) == ("lift list", 4.0)
    assert [one.times for one in record.lifts] == [7, 1]
    assert record.lifts[0].over_m == 30.8
    assert record.lifts[1].pick.hook_m == -1.0
    assert record.lifts[1].place.radius_m == 45.0


def test_description_of_a_duty(write: Write) -> None:
    path = write("duty.toml", DUTY)
    assert kind_of_file(path) == "duty description"
    record = read_lifts(path)
    assert (record.origin, record.days) == ("duty description", 90.0)
    assert [one.times for one in record.lifts] == [1800, 600]  # by hand: 2400 lifts, 3 to 1


def test_other_files_are_logs(write: Write) -> None:
    assert kind_of_file(write("log.csv", PLAIN)) == "log"
    assert kind_of_file("some.parquet") == "log"


@pytest.mark.parametrize(
    ("name", "text", "words"),
    [
        ("l.csv", "pick [m],place [m]\n1,2\n", "load"),
        ("l.csv", "pick [m],place [m],load [t]\n", "at least one"),
        ("l.csv", "pick [m],place [m],load [t]\n1,2\n", "row 2"),
        ("l.csv", "pick [m],place [m],load [t]\n1,high,2\n", "place"),
        ("l.csv", "pick [m],place [m],load [t],times\n1,2,3,1.5\n", "whole number"),
        ("l.csv", "pick [m],place [m],load [t],over [m]\n1,5,3,4\n", "as high as"),
        ("l.csv", "pick [m],place [m],load [t],wind\n1,5,3,4\n", "columns among"),
        ("l.csv", "pick [m],place [m],load [t]\n,5,3\n", "pick"),
        ("l.csv", "pick [m],place [m],load [t],date\n1,5,3,soon\n", "date"),
        ("d.toml", DUTY.replace('"2 t"', '"2"'), r"kind\[1\]"),
        ("d.toml", DUTY.replace("2026-03-31", "2025-03-31"), "not before first"),
        ("d.toml", DUTY.replace("days = 60", "days = 600"), "days"),
        ("d.toml", DUTY.partition("[[kind]]")[0], "kind"),
        ("d.toml", DUTY.replace('pick = "0 m"\n', ""), "pick"),
    ],
)
def test_broken_lifts(write: Write, name: str, text: str, words: str) -> None:
    path = write(name, text)
    with pytest.raises(InputError, match=words) as caught:
        read_lifts(path)
    assert name in str(caught.value)


def test_greatest_load_of_a_log_is_no_single_fault(write: Write) -> None:
    rows = [
        f"{datetime.fromtimestamp(n, UTC).isoformat()},{n % 40},{3.5 if n % 50 < 20 else 0.4}\n"
        for n in range(1200)
    ]
    rows[600] = rows[600].rpartition(",")[0] + ",999\n"
    long = write("long.csv", "time,hook [m],load [t]\n" + "".join(rows))
    assert open_logs([long]).counting.classes.upper_t[-1] == 3.5
    short = write("short.csv", "time,hook [m],load [t]\n" + "".join(rows[:30]))
    assert open_logs([short]).counting.classes.upper_t[-1] == 3.5


# --- The manual ----------------------------------------------------------------------------------


def test_examples_of_the_manual_can_be_read(write: Write) -> None:
    page = Path(__file__).resolve().parents[3] / "docs" / "wear.md"
    blocks = re.findall(r"```(?:toml)?\n(.*?)```", page.read_text(encoding="utf-8"), re.DOTALL)
    log, mapping, lifts, duty = blocks[:4]
    (piece,) = duty_log(write("log.csv", log))
    assert all_of([piece], "load_t") == [0.42, 1.87]
    assert read_mapping(write("map.toml", mapping)).zone == "+01:00"
    assert kind_of_file(write("lifts.csv", lifts)) == "lift list"
    assert read_lifts(write("lifts.csv", lifts)).lifts[0].times == 7
    assert len(read_lifts(write("duty.toml", duty)).lifts) == 2


@pytest.mark.parametrize("times", ["nan", "inf", "1.5"])
def test_times_that_are_no_number_of_lifts_are_refused(write: Write, times: str) -> None:
    text = f"pick [m],place [m],load [t],times\n1,20,2.0,{times}\n"
    with pytest.raises(InputError, match=r"row 2.*times.*whole number"):
        read_lifts(write("lifts.csv", text))


def test_a_list_that_is_no_csv_is_refused(write: Write) -> None:
    with pytest.raises(InputError, match="not CSV"):
        read_lifts(write("lifts.csv", f"pick [m],place [m],load [t]\n1,20,{'2' * 200_000}\n"))


def test_blank_rows_do_not_hide_lifts(write: Write, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("ropewright.intake.duty.lift_list.MOST_LIFTS", 2)
    head = "pick [m],place [m],load [t]\n"
    text = head + "\n\n\n\n" + "1,20,2.0\n" * 2
    assert len(read_lifts(write("lifts.csv", text)).lifts) == 2
    with pytest.raises(InputError, match="at most 2 lifts"):
        read_lifts(write("lifts.csv", text + "1,20,2.0\n"))


def test_packed_logs_by_capital_name_and_damaged(tmp_path: Path) -> None:
    rows = "".join(
        f"{datetime.fromtimestamp(n, UTC).isoformat()},{n * n % 97}\n" for n in range(5000)
    )
    packed = gzip.compress(("time,hook [m]\n" + rows).encode())
    path = tmp_path / "LOG.CSV.GZ"
    path.write_bytes(packed)
    assert sum(len(piece) for piece in duty_log(path)) == 5000
    half = len(packed) // 2
    path.write_bytes(packed[:half] + b"\xff" * 40 + packed[half + 40 :])
    with pytest.raises(InputError, match="cannot be read"):
        list(duty_log(path))


@pytest.mark.parametrize("value", [float("nan"), 1.77e18])
def test_numbers_in_parquet_that_are_no_moments_are_named(
    tmp_path: Path, write: Write, value: float
) -> None:
    mapping = read_mapping(
        write(
            "map.toml",
            'schema = 1\n[columns]\ntime = { column = "t", unit = "ms" }\n'
            'hook = { column = "h", unit = "m" }\n',
        )
    )
    path = tmp_path / "log.parquet"
    pl.DataFrame({"t": [float(MS_2026), value], "h": [1.0, 2.0]}).write_parquet(path)
    with pytest.raises(InputError, match="row 2, time"):
        list(duty_log(path, mapping))
