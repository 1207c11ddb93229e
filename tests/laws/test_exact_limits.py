"""Law: a limit is decided exactly, however the figures were typed.

Limits: 29 CFR 1926.1413(a)(2)(ii)(B), more than 5 % below nominal (published, text);
ISO 4309:2017, Table 5, 5 % for rotation-resistant ropes, 7.5 % for steel cores, and its step at
4.5 % (from memory).  The diameters are by hand.
"""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ropewright.geometry import RopePlace
from ropewright.inspection import Dossier, Waviness
from ropewright.rules import Ruling
from tests.laws.building import (
    ISO,
    LATEST,
    US,
    breaks,
    dossier,
    inspection,
    judged,
    pair,
    reference,
    rope,
)

#: Far less than any instrument shows, far more than a binary number would lose.
HAIR = Fraction(1, 10**12)

diameters = st.integers(4, 4000).map(lambda n: Fraction(n, 64) * Fraction(254, 10)) | st.integers(
    60, 600
).map(lambda n: Fraction(n, 10))


def measured(d: Fraction, at: Fraction, construction: str, ref: Fraction | None = None) -> Dossier:
    used = rope(construction, diameter_mm=d, lay_in_d=None)
    return dossier(
        inspection("annual", LATEST, pair(at)), the_rope=used, reference=reference(ref or d)
    )


def ruling(one: Dossier, rules: str, clause: str) -> Ruling:
    return next(r for r in judged(one, rules).rulings if r.clause_id == clause)


@given(diameters)
def test_exactly_five_percent_below_nominal_is_not_yet_more_than_five(d: Fraction) -> None:
    limit = d * Fraction(95, 100)
    assert ruling(measured(d, limit, "6x36WS"), US, "diameter").status == "below"
    assert ruling(measured(d, limit - HAIR, "6x36WS"), US, "diameter").status == "reached"


@given(diameters, st.integers(0, 5))
def test_exactly_five_percent_below_reference_is_reached(d: Fraction, over: int) -> None:
    ref = d * (1 + Fraction(over, 100))
    limit = ref - d * Fraction(5, 100)  # divided by the nominal diameter
    assert ruling(measured(d, limit, "35(W)x7", ref), ISO, "diameter-uniform").status == "reached"
    thicker = ruling(measured(d, limit + HAIR, "35(W)x7", ref), ISO, "diameter-uniform")
    assert thicker.status == "below"


@given(diameters)
def test_exactly_four_and_a_half_percent_is_the_next_step(d: Fraction) -> None:
    limit = d - d * Fraction(45, 1000)
    at = ruling(measured(d, limit, "6x36WS"), ISO, "diameter-uniform")
    before = ruling(measured(d, limit + HAIR, "6x36WS"), ISO, "diameter-uniform")
    assert at.rating_percent == Fraction(40)
    assert before.rating_percent == Fraction(20)


@pytest.mark.parametrize(
    ("first", "second", "status"),
    [
        ("19.05", "18.95", "below"),  # by hand: mean 19.00 mm, 5 % of 20 mm
        ("19.05", "18.94", "reached"),  # by hand: mean 18.995 mm
        ("19.10", "18.90", "below"),
        ("19", "19", "below"),
    ],
)
def test_the_mean_of_a_pair_is_exact(first: str, second: str, status: str) -> None:
    one = pair("20")
    object.__setattr__(one, "readings_mm", (Fraction(first), Fraction(second)))
    done = dossier(inspection("annual", LATEST, one), reference=reference(Fraction(20)))
    assert ruling(done, US, "diameter").status == status


@pytest.mark.parametrize(
    ("construction", "clause", "at_mm", "status"),
    [
        # worked example of ISO 4309, 6.3.1 (from memory, arithmetic by hand): 40 mm 6x36 with
        # steel core, reference 41.2 mm, discard at 38.2 mm
        ("6x36WS", "diameter-uniform", "38.2", "reached"),
        ("6x36WS", "diameter-uniform", "38.20000001", "below"),
    ],
)
def test_worked_example_of_forty_millimetres(
    construction: str, clause: str, at_mm: str, status: str
) -> None:
    one = measured(Fraction(40), Fraction(at_mm), construction, Fraction("41.2"))
    assert ruling(one, ISO, clause).status == status


@given(diameters)
def test_a_wave_of_exactly_a_tenth_or_a_third_of_the_diameter_is_reached(d: Fraction) -> None:
    used = rope(diameter_mm=d, lay_in_d=None)

    def status(gap: Fraction, at_m: float, clause: str) -> str:
        wave = Waviness(finding_id="W", place=RopePlace(at_m=at_m), gap_mm=gap)
        return ruling(
            dossier(inspection("annual", LATEST, pair(d), wave), the_rope=used), ISO, clause
        ).status

    assert status(d / 10, 50.0, "wave-bending") == "reached"
    assert status(d / 10 - HAIR, 50.0, "wave-bending") == "below"
    assert status(d / 3, 1.0, "wave-straight") == "reached"
    assert status(d / 3 - HAIR, 1.0, "wave-straight") == "below"


@given(st.integers(16, 4000).map(lambda n: Fraction(n, 64) * Fraction(254, 10)))
def test_two_breaks_exactly_six_diameters_apart_are_in_one_window(d: Fraction) -> None:
    # published (text): 29 CFR 1926.1413(a)(2)(ii)(A)(2), two in six rope diameters
    used = rope("35(W)x7", diameter_mm=d, lay_in_d=None)

    def status(apart: Fraction) -> str:
        cluster = breaks(0, apart)
        one = dossier(inspection("annual", LATEST, pair(d), cluster), the_rope=used)
        return ruling(one, US, "rr-breaks-6d").status

    assert status(6 * d) == "reached"
    assert status(6 * d + Fraction(1, 1_000_000)) == "below"  # one nanometre more
