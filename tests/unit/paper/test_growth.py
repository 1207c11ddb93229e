"""The report's page 'How fast it grows'."""

from dataclasses import replace
from datetime import date

from ropewright.desk import growth_of, judge, record_of
from ropewright.forecast import Band, RopeForecast, trend_of
from ropewright.inspection import Dossier
from ropewright.intake import PackageShelf
from ropewright.paper import report_pdf
from ropewright.paper.growth import growth_page
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


def test_a_limit_beyond_a_hundred_years_gets_no_date() -> None:
    found = growth_of(rope(), SHELF, DAY, software="test")
    assert isinstance(found, RopeForecast)
    figure = trend_of(rope(), found)

    def passed(band: Band) -> str:
        told = replace(found, forecast=replace(found.forecast, band=band))
        rows: list[list[str]] = growth_page(told, figure)["left"]
        return dict(rows)["Limit passed"]

    far = "more than a hundred years from now"
    never = Band(
        early_days=None, median_days=None, late_days=None, early=None, median=None, late=None
    )
    assert passed(never) == f"{far}, 19 times in 20"
    late = replace(never, early_days=365.0, early=date(2026, 7, 2))
    assert passed(late) == f"more likely than not {far}; 9 in 10 between 2026-07-02 and {far}"


def test_without_a_forecast_the_reason_is_printed() -> None:
    everything = " ".join(pages(rope(), "Not assessable: the day the rope was fitted is missing"))
    assert "How fast it grows" in everything
    assert "the day the rope was fitted is missing" in everything
