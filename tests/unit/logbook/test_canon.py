"""One value, one text; one text, one value."""

from datetime import UTC, date, datetime, timedelta, timezone
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ropewright.errors import InputError
from ropewright.logbook.canon import (
    canonical,
    corrected,
    float_text,
    fraction_text,
    instant_text,
    plain,
    read_day,
    read_float,
    read_fraction,
    read_instant,
)


@given(st.fractions())
def test_an_exact_number_comes_back(value: Fraction) -> None:
    assert read_fraction(fraction_text(value)) == value


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_a_number_comes_back_to_the_last_bit(value: float) -> None:
    assert read_float(float_text(value)) == value
    assert "e" not in float_text(value)


@given(st.datetimes(timezones=st.just(UTC)))
def test_a_moment_comes_back(moment: datetime) -> None:
    assert read_instant(instant_text(moment)) == moment


@pytest.mark.parametrize(
    "text",
    ["1.0", "01", "+1", "1e3", "-0", "2/4", "1/1", ".5", "5.", " 1", "1_0", "\u0661", 1, None],
)
def test_a_number_written_in_another_way_is_refused(text: object) -> None:
    with pytest.raises(ValueError):  # noqa: PT011 - it has no words, the codec adds them
        read_fraction(text)


@pytest.mark.parametrize("text", ["1.0", "1e3", "-0", "1/3", "nan", "inf", 1.5, True])
def test_a_float_written_in_another_way_is_refused(text: object) -> None:
    with pytest.raises(ValueError):  # noqa: PT011
        read_float(text)


@pytest.mark.parametrize(
    "text",
    [
        "2026-11-10",
        "2026-11-10T07:00:00",
        "2026-11-10T07:00:00+00:00",
        "2026-11-10T07:00:00.000000Z",
    ],
)
def test_a_moment_written_in_another_way_is_refused(text: str) -> None:
    with pytest.raises(ValueError):  # noqa: PT011
        read_instant(text)
    with pytest.raises(ValueError):  # noqa: PT011
        read_day(f"{text}x")


def test_a_moment_is_kept_in_utc() -> None:
    # By hand: 9 o'clock two hours east of Greenwich is 7 o'clock there.
    east = timezone(timedelta(hours=2))
    assert instant_text(datetime(2026, 11, 10, 9, tzinfo=east)) == "2026-11-10T07:00:00Z"
    with pytest.raises(InputError):
        instant_text(datetime(2026, 11, 10))  # noqa: DTZ001


def test_a_clock_that_is_hours_ahead_is_put_right() -> None:
    # By hand: the device said 15:00 while it was three hours ahead.
    said = datetime(2026, 11, 10, 15, tzinfo=UTC)
    assert corrected(said, 3 * 3600) == datetime(2026, 11, 10, 12, tzinfo=UTC)
    assert corrected(said, None) == said


def test_canonical_text_is_sorted_plain_and_utf8() -> None:
    assert canonical({"b": ["ö", None, True, 2], "a": "\n"}) == '{"a":"\\n","b":["ö",null,true,2]}'
    with pytest.raises(InputError):
        canonical("\ud800")


@pytest.mark.parametrize("text", ["1.5", '{"a":1,"a":2}', "{", "NaN", "[" * 100_000])
def test_text_that_nobody_here_wrote_is_refused(text: str) -> None:
    with pytest.raises(InputError):
        plain(text)


def test_days_are_days() -> None:
    assert read_day("2026-11-10") == date(2026, 11, 10)
