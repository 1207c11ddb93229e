"""Figures and days in a form for reading, which compares as the exact one does."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ropewright.units import exact_decimal
from ropewright.web.readable import said_days, short_figures


@pytest.mark.parametrize(
    ("words", "beside", "said"),
    [  # by hand: 280 / 13 = 21.538…, 15 / 13 = 1.1538…
        ("sheave diameter: 21.538461… d", (), "sheave diameter: 21.54 d"),
        (
            "drum pitch, drum: 1.153846 d",
            ("at least 1.09 d asked for",),
            "drum pitch, drum: 1.15 d",
        ),
        ("46.16 mm and 12.7 mm", (), "46.16 mm and 12.7 mm"),
        # a short figure would seem to be on the limit, or on its other side
        ("1.4999 mm", ("at least 1.5 mm",), "1.4999 mm"),
        ("2.3333… d", ("at most 2.33 d",), "2.3333… d"),
        ("18.004 d", ("at least 18 d",), "18.004 d"),
        # numbers of clauses are names
        ("29 CFR 1910.179(h)(2), 1926.1413(a)", (), "29 CFR 1910.179(h)(2), 1926.1413(a)"),
    ],
)
def test_long_figures_are_cut_where_nothing_compares_otherwise(
    words: str, beside: tuple[str, ...], said: str
) -> None:
    assert short_figures(words, beside) == said


FIGURES = st.fractions(min_value=0, max_value=100, max_denominator=5000)


@given(found=FIGURES, limit=FIGURES)
def test_short_figure_stands_to_the_limit_as_the_exact_one(
    found: Fraction, limit: Fraction
) -> None:
    """Law: whatever is cut, a reader who compares comes to the same answer."""
    limit = Fraction(exact_decimal(limit).removesuffix("…"))
    exact = Fraction(exact_decimal(found).removesuffix("…"))
    short = short_figures(f"{exact_decimal(found)} d", [f"at least {exact_decimal(limit)} d"])
    said = Fraction(short.removesuffix(" d").removesuffix("…"))
    assert (said > limit, said < limit) == (exact > limit, exact < limit)
    assert abs(said - exact) <= Fraction(1, 200)  # half of the last digit


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("set-up of 2025-01-09", "set-up of 9 Jan 2025"),
        ("2022-03-07 to 2026-11-02: 44,124 lifts", "7 Mar 2022 to 2 Nov 2026: 44,124 lifts"),
        ("2026-11-05-A: waviness, 2026-11-A", "2026-11-05-A: waviness, 2026-11-A"),
        ("KQ-2026-11-05 and 2026-13-40", "KQ-2026-11-05 and 2026-13-40"),
    ],
)
def test_days_are_said_and_names_stay(words: str, said: str) -> None:
    assert said_days(words) == said
