"""The report's page 'How fast it grows'."""

from datetime import date

from ropewright.desk import growth_of, judge, record_of
from ropewright.inspection import Dossier
from ropewright.intake import PackageShelf
from ropewright.paper import report_pdf
from tests.unit.desk.test_own_ropes import rope
from tests.unit.paper.pdf import Pdf

SHELF = PackageShelf()
DAY = date(2025, 7, 2)


def pages(known: Dossier, growth: object) -> list[str]:
    judged = judge(known, SHELF, DAY, software="test")
    pdf = report_pdf(
        known,
        judged,
        json_record=record_of(known, judged, case_file="invented", case_hash="0" * 64),
        file_note="invented",
        seal=None,
        made_on=DAY,
        growth=growth,  # type: ignore[arg-type]
    )
    return [" ".join(page.split()) for page in Pdf(pdf).pages]


def test_the_page_says_dates_limit_looks_and_back_test() -> None:
    known = rope()
    growth = growth_of(known, SHELF, DAY, software="test")
    (page,) = [one for one in pages(known, growth) if "How fast it grows" in one]
    for words in (
        "Next inspection", "Limit passed", "Earlier forecasts", "Usual life taken", "2025-04-01",
        "broken wires are known", "only ever shortens", "a person decides and signs",
    ):  # fmt: skip
        assert words in page, words


def test_without_a_forecast_the_reason_is_printed() -> None:
    everything = " ".join(pages(rope(), "Not assessable: the day the rope was fitted is missing"))
    assert "How fast it grows" in everything
    assert "the day the rope was fitted is missing" in everything
