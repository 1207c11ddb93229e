"""Pieces of a log on other falls: their first and last moment, however the log is put together."""

from dataclasses import replace
from itertools import permutations

from ropewright.desk.wear_words import quality_lines
from ropewright.wear.counting import LogCounter
from ropewright.wear.quality import QualityReport
from ropewright.wear.stored import count_from_arrays, count_to_arrays
from tests.unit.wear.test_bends import EXACT, HOIST, START_MS, log

HOUR = 3_600_000


def test_time_on_other_falls_spans_all_pieces_and_is_kept() -> None:
    """By hand: pieces of 100 s that begin after 0, 1 and 5 hours, the first and last on 4 falls."""
    counter = LogCounter(HOIST, EXACT)
    for hours, falls in ((0, None), (1, 4), (2, None), (5, 4)):
        piece = log([20, 30])
        counter.take(replace(piece, time_ms=piece.time_ms + hours * HOUR, falls=falls))
    count = counter.count()
    quality = count.quality
    assert (quality.samples, quality.falls_unlike) == (8, 4)
    assert quality.unlike_first_ms == START_MS + HOUR
    assert quality.unlike_last_ms == START_MS + 5 * HOUR + 100_000
    assert count_from_arrays(count_to_arrays(count)).quality == quality
    (line,) = [one for one in quality_lines(quality) if "on other falls" in one and "UTC" in one]
    assert "not counted; 50 % of the log" in line


def test_reports_add_up_in_any_order() -> None:
    reports = [
        QualityReport(samples=5),
        QualityReport(samples=3, falls_unlike=2, unlike_first_ms=70, unlike_last_ms=90),
        QualityReport(samples=4, falls_unlike=1, unlike_first_ms=0, unlike_last_ms=0),
    ]
    for order in permutations(reports):
        whole = sum(order, QualityReport())
        assert (whole.samples, whole.falls_unlike) == (12, 3)
        assert (whole.unlike_first_ms, whole.unlike_last_ms) == (0, 90)


def test_a_log_on_the_set_up_s_own_falls_has_no_such_time() -> None:
    counter = LogCounter(HOIST, EXACT)
    counter.take(log([20, 30]))
    quality = counter.count().quality
    assert (quality.unlike_first_ms, quality.unlike_last_ms) == (None, None)
    assert not [one for one in quality_lines(quality) if "falls" in one]
