"""The wear page: logs as they come with a form, what the page says of them, what is refused."""

import gzip
import html
import json
import re
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from ropewright.cli.app import cli
from ropewright.demo import USUAL_SEED, demo_case, demo_lifts
from ropewright.desk.worn import Worn, _cautions, worn_rope
from ropewright.geometry import Section
from ropewright.intake import PackageShelf, read_case
from ropewright.intake.duty.uploaded import uploaded_logs
from ropewright.picture.wear_chart import wear_chart
from ropewright.web.catalogue import load_texts
from ropewright.web.guards import MOST_LOG_BYTES, most_bytes
from ropewright.web.views.wear import WearView, wear_view
from ropewright.wiring import tools
from tests.unit.web.conftest import TODAY, Served

PATH = "/ropes/KQ-4 hoist/wear"


def lifts(rope: str) -> tuple[str, str]:
    """The list of lifts of a demo rope."""
    ((name, text),) = demo_lifts(rope, USUAL_SEED).items()
    return name, text


def count(served: Served, client: Any, files: list[tuple[str, bytes]], **form: str) -> Any:
    """Send logs by the page's form."""
    sent = [("log", (name, content, "text/csv")) for name, content in files]
    return client.post(PATH, data={"csrf": served.csrf(client), **form}, files=sent)


def alert(answer: Any) -> str:
    found = re.search(r'role="alert">([^<]*)', answer.text)
    assert found is not None
    return html.unescape(found[1])


@pytest.fixture(scope="module")
def rope() -> Any:
    case = read_case(demo_case("KQ-1"), file="KQ-1.toml", known_rules=PackageShelf().names())
    return case.dossier


@pytest.fixture(scope="module")
def worn(rope: Any) -> Worn:
    name, text = lifts("KQ-1")
    with uploaded_logs([(name, text.encode())], {}) as opened:
        return worn_rope(rope, opened, PackageShelf(), TODAY, software="test")


@pytest.fixture(scope="module")
def view(worn: Worn) -> WearView:
    return wear_view(worn, load_texts())


def test_page_says_what_the_command_says(shared: Served, tmp_path: Path) -> None:
    """Other program: ropewright wear on the same case, list and day."""
    name, text = lifts("KQ-4")
    (tmp_path / "KQ-4.toml").write_text(demo_case("KQ-4"), encoding="utf-8")
    (tmp_path / name).write_text(text, encoding="utf-8")
    words = ["wear", str(tmp_path / "KQ-4.toml"), "--log", str(tmp_path / name)]
    done = CliRunner().invoke(cli, [*words, "--as-of", TODAY.isoformat(), "--json"], obj=tools())
    said = json.loads(done.stdout)
    client = shared.browser("planner")
    page = html.unescape(count(shared, client, [(name, text.encode())]).text)
    for one in said["top"]:
        assert f"{one['from_m']:.1f} m to {one['to_m']:.1f} m" in page
        assert one["words"] in page
        assert f"{one['full_bends']:,.0f}, worst place {one['worst_full_bends']:,.0f}" in page
    for words_of in (*said["cut"]["cautions"], said["cut"]["why_not"], *said["notes"]):
        assert words_of in page
    assert "Nothing of this is kept" in page
    assert "Invented data" in page


def test_worst_sections_come_with_place_crane_and_cautions(view: WearView) -> None:
    """KQ-1's breaks of the story lie at the layer change at 296 m: no hand on them."""
    (one,) = [line for line in view.worn if line.section.from_m <= 296.5 <= line.section.to_m]
    assert one.place == "tower head platform"
    assert one.look[0].startswith("hook ")
    assert any("HAND OFF" in words for words in one.cautions)
    long = next(line for line in view.worn if line.section.length_m > 5)
    assert len(long.look) == 2


def test_who_thinks_in_feet_is_told_and_shown_feet(rope: Any, worn: Worn) -> None:
    told, metric = wear_view(worn, load_texts(), "us"), wear_view(worn, load_texts())
    assert metric.worn[1].look[0] == "hook 49.8 m ± 0.4 m"  # regression only
    assert told.worn[1].look[0] == "hook 163.4 ft ± 1.3 ft"  # by hand: 163.386, 1.312
    looks = [one for line in told.worn for one in line.look]
    said = [*told.notes, *told.others, told.spare, *looks]
    assert not [one for one in said if re.search(r"[0-9] ?m\b", one)]
    svg = wear_chart(rope, worn.found, worn.advice, width_px=1100, feet=True)
    assert "feet of rope, from end A" in svg
    assert ">1200</text>" in svg  # by hand: 420 m are 1378 ft
    assert ">400</text>" in wear_chart(rope, worn.found, worn.advice, width_px=1100)


def test_wires_known_in_the_middle_of_a_long_section_are_warned_of(rope: Any, worn: Worn) -> None:
    """A caution belongs to the whole section, not to its two ends alone."""
    warned = [one for one in worn.places if one.cautions]
    assert [one.worn.section.from_m for one in warned] == [296.0]
    for low, high, count in ((280.0, 310.0, 1), (280.0, 290.0, 0), (300.0, 310.0, 0)):
        assert len(list(_cautions(rope, Section(low, high), TODAY))) == count


def test_verdict_stands_before_any_cut(view: WearView) -> None:
    assert "remove the rope from service" in view.verdict_first
    assert view.answer or view.cuts
    assert view.cautions


def test_ways_to_cut_say_what_they_gain_and_take() -> None:
    """KQ-3 of the site: nothing was reached, so cuts and turns are weighed."""
    case = read_case(demo_case("KQ-3"), file="KQ-3.toml", known_rules=PackageShelf().names())
    name, text = lifts("KQ-3")
    with uploaded_logs([(name, text.encode())], {}) as opened:
        worn = worn_rope(case.dossier, opened, PackageShelf(), TODAY, software="test")
    view = wear_view(worn, load_texts())
    assert len(view.cuts) == len(worn.advice.options)
    assert bool(view.cuts) != bool(view.answer)
    for one in view.cuts:
        assert "at least if the drum's measures are a little off" in one.gains
        assert one.why
        assert one.labour


@pytest.mark.parametrize(
    ("files", "form", "says"),
    [
        ([], {}, "log: expected a duty log or a list of lifts"),
        ([("a.csv", b"")], {}, "a.csv: expected a log, given"),
        ([("a.xls", b"x")], {}, "a.xls: expected a file ending in"),
        ([("a.csv", b"time,hook [m]\nmonday,3\n")], {}, "a.csv: row 2"),
        ([("a.csv", b"when,hook [m]\n1,3\n")], {}, 'a column "time"'),
        ([("a.csv.gz", b"not packed")], {}, "a.csv.gz: cannot be unpacked"),
        ([("a.parquet", b"not parquet")], {}, "a.parquet: cannot be read"),
        ([("l.csv", b"pick [m],place [m],load [t]\nx,3,1\n")], {}, "l.csv: row 2.pick"),
        ([("l.csv", b"pick [m],place [m],load [t]\n1,3,1e9\n")], {}, "greatest load: expected at"),
        ([("l.csv", b"x")], {"ahead": "soon"}, "days ahead: expected a number from 1"),
        ([("l.csv", b"x")], {"dead_wraps": "-1"}, "wraps that must stay"),
        ([("l.csv", b"x")], {"model": "guess"}, "model: expected one of"),
        ([("l.csv", b"x")], {"text": "schema = 7"}, "schema"),
        ([("l.csv", b"x")], {"text": "schema = 1", "zone": "UTC"}, "mapping: expected fields, or"),
        ([("a.csv", b"time,hook [m]\n1,2\n")], {"block": "heavy"}, "mass of the hook block"),
    ],
)  # fmt: skip
def test_what_cannot_be_counted_is_said_plainly(
    shared: Served, files: list[tuple[str, bytes]], form: dict[str, str], says: str
) -> None:
    answer = count(shared, shared.browser("planner"), files, **form)
    assert answer.status_code == 400
    assert says in alert(answer)
    assert "/tmp" not in alert(answer)  # nobody needs to know where it lay
    for text in form.values():
        assert html.escape(text) in answer.text  # nothing typed is lost


def test_name_of_a_file_cannot_lead_out_of_its_folder(tmp_path: Path) -> None:
    outside = tmp_path / "outside.csv"
    _, text = lifts("KQ-4")
    with uploaded_logs([(f"../../{outside}", text.encode())], {}) as opened:
        assert tuple(opened.names) == ("outside.csv",)
    assert not outside.exists()


def test_log_without_zone_or_own_headings_is_read_by_the_fields(tmp_path: Path) -> None:
    """The same log, in the tool's own headings and in a stranger's: the same count."""
    rows = [(f"2026-03-02T06:{n // 60:02d}:{n % 60:02d}", 10 + (n % 100) / 10) for n in range(600)]
    plain = "time,hook [m],load [t]\n" + "".join(f"{t}+00:00,{h:.2f},1.5\n" for t, h in rows)
    odd = "Stamp;Height;Weight\n" + "".join(f"{t};{h * 1000:.0f};1,1\n" for t, h in rows)
    no_zone = plain.replace("+00:00", "")
    said = {
        "time": "Stamp", "hook": "Height", "hook_unit": "mm", "load": "Weight", "load_unit": "t",
        "with_block": "no", "block": "400 kg", "zone": "UTC", "decimal": ",",
    }  # fmt: skip
    assert counted("a.csv", plain, {}) == counted("b.csv", odd, said)
    assert counted("a.csv", plain, {}) == counted("c.csv", no_zone, {"zone": "UTC"})
    packed = gzip.compress(plain.encode())
    with uploaded_logs([("a.csv.gz", packed)], {}) as opened:
        assert sum(len(piece) for piece in opened.chunks) == 600


def counted(name: str, text: str, said: dict[str, str]) -> list[tuple[Any, ...]]:
    """Moments, hook heights and loads as they are read."""
    with uploaded_logs([(name, text.encode())], said) as opened:
        made = []
        for piece in opened.chunks:
            assert piece.hook_m is not None
            assert piece.load_t is not None
            heights = [round(float(one), 3) for one in piece.hook_m]
            made.append(
                (list(piece.time_ms), heights, [round(float(one), 3) for one in piece.load_t])
            )
        return made


def test_two_logs_come_together_in_order_of_time(shared: Served) -> None:
    text = "time,hook [m],load [t]\n"
    first = text + "2026-03-02T06:00:00Z,1,1\n2026-03-02T06:00:10Z,5,1\n"
    later = text + "2026-03-03T06:00:00Z,1,1\n2026-03-03T06:00:10Z,5,1\n"
    client = shared.browser("rope-fitter")
    files = [("later.csv", later.encode()), ("first.csv", first.encode())]
    page = count(shared, client, files)
    assert page.status_code == 200, alert(page)
    assert "first.csv, later.csv" in page.text


def test_two_lists_of_lifts_come_together(shared: Served) -> None:
    """KQ-4's own list, parted after its twentieth week, the later half chosen first."""
    name, text = lifts("KQ-4")
    head, *rows = text.splitlines(keepends=True)
    files = [("b.csv", (head + "".join(rows[40:])).encode()),
             ("a.csv", (head + "".join(rows[:40])).encode())]  # fmt: skip
    client = shared.browser("rope-fitter")
    page = count(shared, client, files)
    assert page.status_code == 200, alert(page)
    assert "a.csv, b.csv" in page.text
    assert "the map lacks these days" in page.text
    answer = count(shared, client, [*files, (name, text.encode())])
    assert answer.status_code == 400
    assert "no day in two of them" in alert(answer)
    assert "a.csv" in alert(answer)
    assert name in alert(answer)
    assert "/tmp" not in alert(answer)


def test_log_is_not_kept(served: Served) -> None:
    before = served.tools.book.newest()
    name, text = lifts("KQ-4")
    assert count(served, served.browser("keeper"), [(name, text.encode())]).status_code == 200
    assert served.tools.book.newest() == before


def test_size_has_a_limit_and_roles_are_held(shared: Served) -> None:
    assert most_bytes("/ropes/KQ-4%20hoist/wear") == MOST_LOG_BYTES
    assert most_bytes("/ropes/KQ-4%20hoist/hold") < MOST_LOG_BYTES
    client = shared.browser("operator")
    assert client.get(PATH).status_code == 200
    assert 'type="file"' not in client.get(PATH).text
    assert count(shared, client, [("a.csv", b"x")]).status_code == 403


def test_day_of_the_question_is_the_day_of_the_book(view: WearView) -> None:
    assert date(2025, 1, 9).isoformat() in view.duty  # by hand: first line of the list
