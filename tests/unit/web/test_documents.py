"""What leaves the book on the pages: each file opens, for whoever may, whatever the rope is called.

Expected figures: by hand from the invented demo ropes, or from another reader of the same file
(openpyxl, icalendar, the csv module, the checker run alone).
"""

import csv
import html
import io
import re
import subprocess
import sys
import zipfile
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any
from urllib.parse import unquote

import icalendar
import openpyxl
import pytest

from ropewright.demo import demo_case
from ropewright.errors import BookError
from ropewright.inspection import DiameterReading
from ropewright.intake import read_case
from ropewright.intake.write_case import as_recorded
from ropewright.logbook import KINDS as BOOK_KINDS
from ropewright.web import handing
from ropewright.web.addresses import rope_path
from ropewright.web.caller import ROLES
from ropewright.web.gate import OFFICE
from ropewright.web.views.documents import READ
from tests.unit.web.conftest import PASSWORD, TODAY, Served, serve
from tests.unit.web.test_api import event, send, states

ODD = 'KQ/1 "x"; filename=../b ~2F ö'
BARE = "KQ-9 spare"
#: A rope of which nothing is known but what the smallest case file says.
SMALLEST = """
schema = 1
[rope]
id = "KQ-9 spare"
diameter = "20 mm"
construction = "6x36WS"
length = "180 m"
[installation]
rules = ["iso-4309-2017"]
"""
PRINTED = ("report", "plan", "field-card", "rope-card", "label")


@pytest.fixture(scope="module")
def books(book_file: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The shared book with two more ropes: one with an odd name, one with nothing on record."""
    copy = tmp_path_factory.mktemp("documents") / "site.book"
    copy.write_bytes(book_file.read_bytes())
    made, book = serve(copy)
    odd = read_case(demo_case("KQ-4"), file="x").dossier
    made.tools.book.take_in(replace(odd, rope=replace(odd.rope, rope_id=ODD)))
    made.tools.book.take_in(read_case(SMALLEST, file="x").dossier)
    yield made
    book.close()


def got(served: Served, path: str, role: str = "planner") -> Any:
    answer = served.browser(role).get(path)
    assert answer.status_code == 200, answer.text[:2000]
    return answer


def names_in(answer: Any) -> tuple[str, str]:
    """The plain and the whole name of a file; the header's form is that of RFC 6266 and 8187."""
    header = answer.headers["content-disposition"]
    plain, whole = r'filename="([A-Za-z0-9._()-]+)"', r"filename\*=UTF-8''([A-Za-z0-9%._~-]+)"
    found = re.fullmatch(f"(?:inline|attachment); {plain}; {whole}", header)
    assert found is not None, header
    return found[1], unquote(found[2], errors="strict")


def named(answer: Any) -> str:
    """The whole name of a file."""
    return names_in(answer)[1]


def pages_of(pdf: bytes) -> int:
    assert pdf.startswith(b"%PDF-")
    return len(re.findall(rb"/Type\s*/Page\b", pdf))


def text_of(page: str) -> str:
    return html.unescape(re.sub(r"\s+", " ", re.sub(r"<[^>]*>", "", page)))


def documents(page: str) -> str:
    """The part of a rope's page, as text."""
    return text_of(page.split('id="documents"')[1].split("<h2", maxsplit=1)[0])


# --- One rope ---------------------------------------------------------------------------------


@pytest.mark.parametrize("rope", ["KQ-1 hoist", ODD, BARE])
def test_case_file_reads_back_as_the_same_rope(books: Served, rope: str) -> None:
    answer = got(books, f"{rope_path(rope)}/case.toml")
    again = read_case(answer.content, file="x", known_rules=books.tools.shelf.names()).dossier
    here = as_recorded(books.tools.book.dossier(rope))
    assert as_recorded(again) == here
    assert ("Invented data." in answer.text.splitlines()[0]) == here.invented


@pytest.mark.parametrize("rope", ["KQ-1 hoist", ODD, BARE])
def test_what_is_printed_opens(books: Served, rope: str) -> None:
    client = books.browser("operator")
    for name in PRINTED:
        if (rope, name) == (BARE, "plan"):
            continue  # nothing is known of its path: there is no plan
        answer = client.get(f"{rope_path(rope)}/{name}.pdf")
        assert answer.status_code == 200, (name, answer.text[:500])
        assert answer.headers["content-type"] == "application/pdf"
        assert answer.headers["content-disposition"].startswith("inline")
        count = pages_of(answer.content)
        assert count == 1 or name in ("report", "plan"), name


def test_plan_that_cannot_be_made_says_why(books: Served) -> None:
    answer = books.browser("planner").get(f"{rope_path(BARE)}/plan.pdf")
    assert answer.status_code == 400
    assert "rigging" in answer.text


@pytest.mark.parametrize("rope", ["KQ-1 hoist", ODD, BARE])
def test_tables_hold_what_the_rope_has(books: Served, rope: str) -> None:
    dossier = books.tools.book.dossier(rope)
    reference = dossier.installation.reference
    counted = {
        "findings": sum(len(one.findings) + len(one.part_findings) for one in dossier.inspections),
        "inspections": len(dossier.inspections),
        "readings": len(reference.readings if reference else ())
        + sum(
            isinstance(each, DiameterReading)
            for one in dossier.inspections
            for each in one.findings
        ),
    }
    workbook = openpyxl.load_workbook(
        io.BytesIO(got(books, f"{rope_path(rope)}/tables.xlsx").content)
    )
    assert workbook.sheetnames == ["findings", "readings", "inspections"]
    assert workbook.properties.description == ("invented data" if dossier.invented else None)
    for what in workbook.sheetnames:
        answer = got(books, f"{rope_path(rope)}/tables/{what}.csv")
        rows = list(csv.DictReader(io.StringIO(answer.text, newline="")))
        assert len(rows) == counted[what]
        assert all(row["rope"] == rope for row in rows)
        assert all((row["invented"] == "invented data") == dossier.invented for row in rows)
        cells = list(workbook[what].iter_rows(values_only=True))
        assert cells[0] == tuple(csv.reader(io.StringIO(answer.text)).__next__())
        assert len(cells) - 1 == len(rows)


def test_no_such_table_and_no_such_rope(books: Served) -> None:
    client = books.browser("planner")
    assert client.get("/ropes/KQ-1 hoist/tables/secrets.csv").status_code == 404
    assert client.get("/exchange/secrets.csv").status_code == 404
    for name in ("case.toml", "tables.xlsx", "tables/findings.csv", "due.ics", "rope-card.pdf"):
        assert client.get(f"/ropes/KQ-77/{name}").status_code == 404, name


def test_dates_of_a_rope_are_those_of_its_page(books: Served) -> None:
    answer = got(books, "/ropes/KQ-4 hoist/due.ics")
    items: list[Any] = icalendar.Calendar.from_ical(answer.content).walk("VEVENT")
    whole = books.app.state.office.judged.overview("KQ-4 hoist")
    days = [one.due for one in whole.duties.duties if one.due is not None]
    days += [date(2026, 12, 10)]  # by hand: the demo's last inspection asks for the next
    days += [whole.order_by] if whole.order_by else []
    assert sorted(item["dtstart"].dt for item in items) == sorted(days)
    assert all("KQ-4 hoist" in item["summary"] for item in items)
    said = [f"{item['summary']} {item['description']}".lower() for item in items]
    assert all("invented data" in one for one in said)
    assert len({item["uid"] for item in items}) == len(items)


def test_a_rope_of_which_nothing_is_due_says_so(served: Served) -> None:
    rope = read_case(SMALLEST, file="x").dossier
    served.tools.book.take_in(rope)
    stand = served.tools.book.stand(BARE)
    whole = served.app.state.office.judged.overview(BARE, stand)
    assert [one.due for one in whole.duties.duties if one.due] == []
    answer = served.browser("planner").get(f"{rope_path(BARE)}/due.ics")
    assert answer.status_code == 404
    assert "nothing of this rope is due on a day that is known" in answer.text


@pytest.mark.parametrize("what", ["case.toml", "tables.xlsx", "tables/readings.csv", "label.pdf"])
def test_an_odd_name_stays_inside_its_header(books: Served, what: str) -> None:
    answer = got(books, f"{rope_path(ODD)}/{what}")
    plain, name = names_in(answer)
    ending = f"-{TODAY.isoformat()}.{what.rpartition('.')[2]}"
    assert name.startswith("KQ-1-x-;-filename=..-b-~2F-ö-")
    assert name.endswith(ending)
    assert plain.startswith("KQ-1-x---filename-..-b--2F---")
    assert plain.endswith(ending)


@pytest.mark.parametrize(
    "of", ["", "...", "/", "\ud800", "x" * 500, "\u202ecod.exe", "a\x00b", "ö" * 90]
)
def test_whatever_a_rope_is_called_makes_a_name(books: Served, of: str) -> None:
    visit: Any = type("Visit", (), {"office": books.app.state.office})
    name = handing.file_name(visit, of, "findings", "csv")
    assert name.endswith("-findings-2026-11-10.csv")
    assert len(name.encode()) <= 255
    assert not name.startswith((".", "-"))
    assert handing.disposition(name, "csv").isascii()


@pytest.mark.parametrize("role", ROLES)
def test_everyone_takes_a_rope_away_and_the_office_the_book(books: Served, role: str) -> None:
    client = books.browser(role.replace(" ", "-"))
    for name in ("case.toml", "tables.xlsx", "tables/findings.csv", "due.ics"):
        assert client.get(f"/ropes/KQ-1 hoist/{name}").status_code == 200, name
    for name in ("book.jsonl", "tables.xlsx", "readings.csv", "due.ics", "verify_book.py"):
        wanted = 200 if role in OFFICE else 403
        assert client.get(f"/exchange/{name}").status_code == wanted, name
    answer = client.get("/exchange")
    if role in OFFICE:
        assert ("/exchange/book.zip" in answer.text) == (role == "keeper")


@pytest.mark.parametrize("role", ROLES)
def test_photos_of_the_whole_book_are_for_the_keeper(books: Served, role: str) -> None:
    """They are the originals, with the place where a camera wrote one."""
    client = books.browser(role.replace(" ", "-"))
    wanted = 200 if role == "keeper" else 403
    assert client.get("/exchange/book.zip").status_code == wanted


def test_page_of_the_book_says_what_is_invented(books: Served) -> None:
    assert "Invented data" in got(books, "/exchange").text


# --- The whole book ---------------------------------------------------------------------------


@pytest.mark.parametrize("ending", ["jsonl", "zip"])
def test_checker_taken_out_checks_the_book_taken_out(
    books: Served, tmp_path: Path, ending: str
) -> None:
    """Run as the page says, with the seal of the page; and on a changed copy."""
    who = "keeper" if ending == "zip" else "planner"
    page = text_of(got(books, "/exchange", who).text)
    said = re.search(r"python -I (verify_book\.py) (\S+) --seal (\S+)", page)
    assert said is not None
    checker = got(books, "/exchange/verify_book.py")
    assert named(checker) == said[1]
    (tmp_path / said[1]).write_bytes(checker.content)
    book = got(books, f"/exchange/book.{ending}", who)
    assert int(book.headers["content-length"]) == len(book.content)
    assert named(book) == f"logbook-2026-11-10.{ending}"
    assert named(book) == said[2]
    (tmp_path / named(book)).write_bytes(book.content)

    def check(name: str) -> subprocess.CompletedProcess[str]:
        command = [sys.executable, "-I", said[1], name, "--seal", said[3]]
        return subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, check=False)

    done = check(named(book))
    assert done.returncode == 0, done.stdout
    assert "1 seals compared" in done.stdout
    if ending == "jsonl":
        (tmp_path / "changed.jsonl").write_bytes(book.content.replace(b"35(W)x7", b"18xK7", 1))
        assert check("changed.jsonl").returncode == 2


def test_signed_reports_go_along(served: Served) -> None:
    _sign(served, served.browser("inspector"))
    data = got(served, "/exchange/book.zip", "keeper").content
    (line,) = served.tools.book.lines("KQ-1 hoist", kinds={"inspection signed"}, most=1)
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        assert f"reports/{line.payload['report_sha256']}" in archive.namelist()


def test_tables_of_the_whole_book_are_those_of_its_ropes(books: Served) -> None:
    ropes = [one.rope_id for one in books.tools.book.stands()]
    workbook = openpyxl.load_workbook(io.BytesIO(got(books, "/exchange/tables.xlsx").content))
    for what in ("findings", "readings", "inspections"):
        whole = got(books, f"/exchange/{what}.csv").text
        each = [got(books, f"{rope_path(one)}/tables/{what}.csv").text for one in ropes]
        head = each[0].split("\r\n")[0] + "\r\n"
        assert whole == head + "".join(one.removeprefix(head) for one in each)
        rows = list(csv.reader(io.StringIO(whole, newline="")))
        assert workbook[what].max_row == len(rows)


def test_calendar_of_the_book_is_that_of_a_token(books: Served) -> None:
    client = books.browser("planner")
    form = {"csrf": books.csrf(client), "name": "c", "purpose": "calendar"}
    page = client.post("/people/tokens/new", data=form).text
    address = re.search(r"/calendar/[A-Za-z0-9_-]+\.ics", page)
    assert address is not None
    assert got(books, "/exchange/due.ics").content == client.get(address[0]).content


def test_a_book_with_a_rope_that_cannot_be_read_names_it(
    books: Served, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nothing is cut short in silence: no file, and which rope it is."""
    book: Any = books.tools.hands_out
    whole = book._book.dossier

    def dossier(rope: str) -> Any:
        if rope == BARE:
            raise BookError("the book does not say enough of this rope")
        return whole(rope)

    monkeypatch.setattr(book._book, "dossier", dossier)
    for name in ("tables.xlsx", "findings.csv"):
        answer = books.browser("keeper").get(f"/exchange/{name}")
        assert answer.status_code == 400, name
        assert f"rope {BARE}" in html.unescape(answer.text)
        assert "content-disposition" not in answer.headers


def test_who_comes_second_for_the_whole_book_is_asked_to_wait(books: Served) -> None:
    with handing._WRITING:
        answer = books.browser("keeper").get("/exchange/book.zip")
        assert answer.status_code == 429
        assert "Try again" in answer.text
        assert got(books, "/ropes/KQ-1 hoist/tables.xlsx").status_code == 200
    assert got(books, "/exchange/book.zip", "keeper").status_code == 200


# --- The part of the rope's page --------------------------------------------------------------


def test_certificate_with_its_figures(books: Served) -> None:
    """By hand, from the demo's case file: certificate 1, 283 kN, grade 1960."""
    said = documents(got(books, "/ropes/KQ-1 hoist").text)
    assert "certificate 1 (invented)" in said
    assert "Minimum breaking force: 283 kN, certificate 1 (invented)" in said
    assert "Rope grade: 1960 N/mm²" in said
    assert "No certificate" not in said


@pytest.mark.parametrize("rope", [BARE, ODD])
def test_rope_without_papers_says_what_stays_open(books: Served, rope: str) -> None:
    page = got(books, rope_path(rope)).text
    said = documents(page)
    for words in (
        "No certificate is on record.", "Ask the supplier", "No order of a new rope",
        "No fitting is on record", "No photo is in the book.", "No permission of a rule is used.",
    ):  # fmt: skip
        assert words in said
    assert ("No inspection is signed." in said) == (rope == BARE)
    if rope == BARE:
        assert "Minimum breaking force: not known" in said
    assert page.index('id="forecast"') < page.index('id="documents"') < page.index('id="history"')
    assert '<a href="#documents">' in page


def test_every_file_the_page_offers_is_there(books: Served) -> None:
    client = books.browser("keeper")
    for path in (rope_path(ODD), "/exchange"):
        page = client.get(path).text
        offered = [html.unescape(one) for one in re.findall(r'href="([^"#]+\.[a-z]+)"', page)]
        offered = [one for one in offered if not one.startswith(("/static/", "/api/"))]
        assert len(offered) >= 8, path
        for one in offered:
            assert client.get(one).status_code == 200, one


def _sign(served: Served, client: Any) -> None:
    begun = {"inspection_id": "I-9", "kind": "monthly", "on": "2026-11-10"}
    send(
        client,
        event(kind="inspection begun", payload=begun),
        event(kind="inspection finished", payload={"inspection_id": "I-9"}),
    )
    form = {"csrf": served.csrf(client), "password": PASSWORD}
    answer = client.post("/ropes/KQ-1 hoist/inspections/I-9/sign", data=form)
    assert answer.status_code == 303


def test_signed_report_order_and_fitting_show_at_once(served: Served) -> None:
    inspector, planner = served.browser("inspector"), served.browser("planner")
    keeper, fitter = served.browser("keeper"), served.browser("rope-fitter")
    path = "/ropes/KQ-1 hoist"

    def post(client: Any, where: str, **form: str) -> None:
        answer = client.post(f"{path}/{where}", data={"csrf": served.csrf(client), **form})
        assert answer.status_code == 303, answer.text

    before = documents(inspector.get(path).text)
    assert "monthly: signed 10 Nov 2026" not in before
    _sign(served, inspector)
    page = inspector.get(path).text
    assert "I-9, monthly: signed 10 Nov 2026 by the inspector" in documents(page)
    (frozen,) = re.findall(r'href="([^"]+/I-9/signed\.pdf)"', page)
    assert pages_of(inspector.get(html.unescape(frozen)).content) >= 1

    post(planner, "order", **{"f.length_m": "445"})
    order_id = served.tools.book.lines("KQ-1 hoist", most=1)[0].payload["order_id"]
    assert "Not yet gone over by a second person." in documents(inspector.get(path).text)
    post(keeper, "order-check", order_id=order_id, agrees="yes")
    said = documents(inspector.get(path).text)
    assert "made 10 Nov 2026 by the planner" in said
    assert "Gone over and agreed to by the keeper" in said

    post(fitter, "fitting", step="begin", order="")
    said = documents(inspector.get(path).text)
    assert "Begun 10 Nov 2026 by the rope fitter" in said
    assert "0 of 12 steps done" in said
    assert "Not released." in said


def test_withdrawn_signature_stays_and_says_so(served: Served) -> None:
    inspector = served.browser("inspector")
    _sign(served, inspector)
    (line,) = served.tools.book.lines("KQ-1 hoist", kinds={"inspection signed"}, most=1)
    correction = {"corrects": line.entry_id, "reason": "the wrong rope was signed"}
    assert states(send(inspector, event(kind="correction", payload=correction))) == ["taken"]
    said = documents(inspector.get("/ropes/KQ-1 hoist").text)
    assert "I-9, monthly: signed 10 Nov 2026" in said
    assert "Withdrawn: the wrong rope was signed" in said


def test_rope_that_cannot_be_judged_still_has_its_papers(
    served: Served, monkeypatch: pytest.MonkeyPatch
) -> None:
    judged = served.app.state.office.judged

    def never(*_: object) -> None:
        raise BookError("a rule file is gone")

    monkeypatch.setattr(judged, "overview", never)
    page = served.browser("planner").get("/ropes/KQ-1 hoist")
    said = documents(page.text)
    assert "certificate 1 (invented)" in said
    assert "Case file (.toml)" in said
    assert "Report (PDF)" not in said
    client = served.browser("planner")
    for name in ("case.toml", "rope-card.pdf", "label.pdf", "tables.xlsx", "due.ics"):
        assert client.get(f"/ropes/KQ-1 hoist/{name}").status_code == 200, name


def test_us_units_on_the_page(served: Served) -> None:
    """By hand: 283 kN / 4.4482216 = 63 620 lbf."""
    client = served.browser("planner")
    form = {"csrf": served.csrf(client), "units": "us", "hand": "right", "theme": "auto"}
    assert client.post("/me", data=form).status_code == 303
    assert "283 kN (63" in documents(client.get("/ropes/KQ-1 hoist").text)


def test_every_kind_that_the_papers_read_is_known() -> None:
    assert set(BOOK_KINDS) >= READ
