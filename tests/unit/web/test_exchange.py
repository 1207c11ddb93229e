"""Books and old cards taken in on the page: an account line by line, by role, all or nothing.

Expected figures: by hand, from the lines written here.  Invented data.
"""

import html
import io
import re
import zipfile
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from ropewright.demo import demo_case
from ropewright.intake import read_case
from ropewright.logbook import backup, create_book, export_book, take_in_dossier
from ropewright.web.guards import most_bytes
from tests.unit.web.conftest import Served

CARDS = (
    "date,at,place_err,count,over,who\n"
    "2025-05-05,120 m,1 m,1,6 d,fitter\n"
    "2025-08-04,120 m,1 m,2,6 d,fitter\n"
)


def _send(served: Served, client: Any, where: str, name: str, data: bytes, **form: str) -> Any:
    file = {"file": (name, data, "application/octet-stream")}
    fields = {"csrf": served.csrf(client), **form}
    return client.post(f"/exchange/{where}", data=fields, files=file)


def _problems(answer: Any) -> list[str]:
    found = re.search(r'<div class="warn" role="alert">(.*?)</div>', answer.text, re.DOTALL)
    return [] if found is None else re.findall(r"<li>(.*?)</li>", html.unescape(found[1]))


@pytest.fixture
def other(served: Served, tmp_path: Path) -> dict[str, bytes]:
    """Another book with one rope, as lines and as a zip."""
    book = create_book(tmp_path / "other.book")
    shelf = served.tools.shelf
    case = read_case(demo_case("KQ-3"), file="KQ-3.toml", known_rules=shelf.names())
    take_in_dossier(book, case.dossier)
    export_book(book, tmp_path / "other.jsonl")
    backup(book, tmp_path / "other.zip")
    book.close()
    return {end: (tmp_path / f"other.{end}").read_bytes() for end in ("jsonl", "zip")}


@pytest.mark.parametrize("ending", ["jsonl", "zip"])
def test_a_book_is_taken_in_with_a_line_for_each_entry(
    served: Served, other: dict[str, bytes], ending: str
) -> None:
    client = served.browser("keeper")
    before = served.tools.book.newest()
    answer = _send(served, client, "book", f"other.{ending}", other[ending])
    assert answer.status_code == 200, _problems(answer)
    assert "KQ-3 hoist" in {one.rope_id for one in served.tools.book.stands()}
    added = served.tools.book.newest() - before
    assert answer.text.count("<li>taken: ") == added
    assert "its seal: " in answer.text
    again = _send(served, client, "book", f"other.{ending}", other[ending])
    assert again.status_code == 200
    assert again.text.count("<li>already there: ") == added
    assert served.tools.book.newest() == before + added


def test_a_book_that_does_not_hold_is_refused_whole(
    served: Served, other: dict[str, bytes]
) -> None:
    client = served.browser("keeper")
    before = served.tools.book.newest()
    changed = other["jsonl"].replace(b"35(W)x7", b"18xK7", 1)
    assert changed != other["jsonl"]
    answer = _send(served, client, "book", "other.jsonl", changed)
    assert answer.status_code == 409
    assert "is not taken in" in _problems(answer)[0]
    assert "/tmp" not in answer.text
    assert served.tools.book.newest() == before


def test_a_rope_of_a_known_name_needs_a_word(served: Served, tmp_path: Path) -> None:
    book = create_book(tmp_path / "twin.book")
    text = demo_case("KQ-4").replace("13 mm", "14 mm", 1)
    case = read_case(text, file="x.toml", known_rules=served.tools.shelf.names())
    take_in_dossier(book, case.dossier)
    export_book(book, tmp_path / "twin.jsonl")
    book.close()
    data = (tmp_path / "twin.jsonl").read_bytes()
    client = served.browser("keeper")
    refused = _send(served, client, "book", "twin.jsonl", data)
    assert refused.status_code in (400, 409)
    assert "KQ-4 hoist" in _problems(refused)[0]
    wrong = _send(served, client, "book", "twin.jsonl", data, called="KQ-4 hoist")
    assert "OLD=NEW" in _problems(wrong)[0]
    named = _send(served, client, "book", "twin.jsonl", data, called="KQ-4 hoist=KQ-9 hoist")
    assert named.status_code == 200, _problems(named)
    assert "KQ-9 hoist" in {one.rope_id for one in served.tools.book.stands()}


def _bomb() -> bytes:
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("book.jsonl", b"0" * 401_000_000)
    return held.getvalue()


@pytest.mark.parametrize(
    ("where", "name", "data", "said"),
    [
        ("book", "cards.csv", b"x", ".jsonl or .zip"), ("book", "x.zip", b"no zip", "cannot be"),
        ("book", "x.jsonl", b"\xff\xfe", "cannot be"), ("book", "x.jsonl", b"{}\n", "not taken in"),
        ("book", "x.zip", _bomb, "when unpacked"), ("book", "x.jsonl", b"", "given"),
        ("cards", "x.toml", b"x", ".csv or .xlsx"), ("cards", "x.xlsx", b"x", "XLSX"),
        ("cards", "x.csv", b"", "given"), ("cards", "x.csv", b"date,cout\n1,1\n", "column"),
    ],
)  # fmt: skip
def test_what_is_no_such_file_is_refused_in_words(
    shared: Served, where: str, name: str, data: Any, said: str
) -> None:
    client = shared.browser("keeper")
    content = data() if callable(data) else data
    answer = _send(shared, client, where, name, content, rope="KQ-4 hoist")
    assert answer.status_code in (400, 409)
    assert said in "; ".join(_problems(answer))
    assert "/tmp" not in answer.text


def _xlsx() -> bytes:
    made = openpyxl.Workbook()
    sheet = made.active
    assert sheet is not None
    for line in CARDS.splitlines():
        sheet.append(line.split(","))
    held = io.BytesIO()
    made.save(held)
    return held.getvalue()


@pytest.mark.parametrize("ending", ["csv", "xlsx"])
def test_old_cards_go_into_one_rope(served: Served, ending: str) -> None:
    client = served.browser("inspector")
    before = len(served.tools.book.dossier("KQ-1 hoist").inspections)
    data = CARDS.encode() if ending == "csv" else _xlsx()
    answer = _send(served, client, "cards", f"cards.{ending}", data, rope="KQ-1 hoist")
    assert answer.status_code == 200, _problems(answer)
    assert len(served.tools.book.dossier("KQ-1 hoist").inspections) == before + 2
    assert answer.text.count("<li>row ") == 2
    assert "nothing counts as seen" in answer.text
    newest = served.tools.book.newest()
    again = _send(served, client, "cards", f"cards.{ending}", data, rope="KQ-1 hoist")
    assert again.status_code == 200
    assert served.tools.book.newest() == newest


def test_a_line_that_cannot_be_read_names_row_and_column(served: Served) -> None:
    client = served.browser("keeper")
    newest = served.tools.book.newest()
    data = CARDS.replace(",2,6 d", ",two,6 d").encode()
    refused = _send(served, client, "cards", "cards.csv", data, rope="KQ-1 hoist", place_err="2 m")
    assert refused.status_code == 400
    assert "row 3, column count" in _problems(refused)[0]
    assert 'value="2 m"' in refused.text
    assert served.tools.book.newest() == newest
    left = _send(served, client, "cards", "cards.csv", data, rope="KQ-1 hoist", leave_out="yes")
    assert left.status_code == 200
    assert "row 3, column count" in _problems(left)[0]
    assert "row 2: taken" in left.text
    unknown = _send(served, client, "cards", "cards.csv", data, rope="KQ-77")
    assert unknown.status_code == 404
    assert "KQ-77" in _problems(unknown)[0]


def test_who_may_take_in_what(shared: Served) -> None:
    page = {one: shared.browser(one).get("/exchange").text for one in ("keeper", "planner")}
    assert "Take the book in" in page["keeper"]
    assert "Take the book in" not in page["planner"]
    assert "Take the cards in" in page["planner"]
    planner, operator = shared.browser("planner"), shared.browser("operator")
    assert _send(shared, planner, "book", "x.jsonl", b"{}").status_code == 403
    assert _send(shared, operator, "cards", "x.csv", b"x").status_code == 403


def test_a_file_may_be_so_large() -> None:
    assert most_bytes("/exchange/book") == 64_000_000
    assert most_bytes("/exchange/cards") == most_bytes("/exchange/case") == 12_000_000
