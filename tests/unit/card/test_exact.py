"""The phone's exact numbers, units and windows, against Python's own.

Other program: `fractions.Fraction` and `decimal`, and the room of inspections for windows.
"""

import random
from fractions import Fraction

from ropewright.inspection import CountedGroup, worst_window
from ropewright.inspection.windows import nanometres
from ropewright.logbook.canon import fraction_text
from tests.unit.card.in_node import run_module

NUMBERS = """
import {
  asText, compare, exact, minus, nmDown, nmOfMetres, nmUp, over, passes, plus, rounded, times,
} from "@field/exact.js";

function main({ pairs, places }) {
  return {
    pairs: pairs.map(([a, b]) => {
      const [x, y] = [exact(a), exact(b)];
      return [asText(plus(x, y)), asText(minus(x, y)), asText(times(x, y)), asText(over(x, y)),
        compare(x, y), passes(x, y, "reached"), passes(x, y, "more than"), nmDown(x), nmUp(x),
        rounded(x, 2)];
    }),
    places: places.map(nmOfMetres),
  };
}
"""
UNITS = """
import { fromTyped, toTyped, shown } from "@field/units.js";

function main(asked) {
  return asked.map(([units, base, text]) => {
    const kept = fromTyped(units, base, text);
    return [kept, toTyped(units, base, kept), shown(units, base, kept)];
  });
}
"""
WINDOWS = """
import { sureCount, worstWindow } from "@field/windows.js";

function main(asked) {
  return asked.map(({ groups, window }) => [
    worstWindow(groups, window), sureCount(groups, window),
  ]);
}
"""


def half_away(value: Fraction) -> str:
    """Two decimals, halves away from zero, by hand on whole hundredths."""
    hundredths = (abs(value) * 200 + 1) // 2
    sign = "-" if value < 0 and hundredths else ""
    return f"{sign}{hundredths // 100}.{hundredths % 100:02d}"


def test_numbers_are_exact() -> None:
    chance = random.Random(5)

    def number() -> Fraction:
        if chance.random() < 0.3:
            return Fraction(chance.randint(-400, 400), chance.choice([3, 7, 12, 64, 25]))
        return Fraction(chance.randint(-99999, 99999), 10 ** chance.randint(0, 4))

    pairs = [(number(), number() or Fraction(1)) for _ in range(400)]
    pairs = [(a, b if b else Fraction(1)) for a, b in pairs]
    pairs += [(Fraction(5), Fraction(5)), (Fraction(1, 3), Fraction(2, 6))]
    places = [chance.uniform(0, 600) for _ in range(200)] + [61.4, 0.1, 296.1, 0.0000000005]
    asked = {"pairs": [[fraction_text(a), fraction_text(b)] for a, b in pairs], "places": places}
    answer = run_module(NUMBERS, asked)
    for (a, b), found in zip(pairs, answer["pairs"], strict=True):
        down = (a * 1_000_000).__floor__()
        up = (a * 1_000_000).__ceil__()
        assert found == [
            fraction_text(a + b), fraction_text(a - b), fraction_text(a * b), fraction_text(a / b),
            (a > b) - (a < b), a >= b, a > b, down, up, half_away(a),
        ]  # fmt: skip
    assert answer["places"] == [nanometres(one) for one in places]


def test_units_keep_what_was_typed() -> None:
    """Published: 1 in = 25.4 mm, 1 ft = 0.3048 m, both exactly (international yard, 1959)."""
    asked = [
        ["us", "mm", "0.765"], ["us", "mm", "3.78"], ["us", "m", "318.9"], ["us", "m", "-2"],
        ["metric", "mm", "19.65"], ["metric", "m", "23.4"], ["metric", "m", "0"],
    ]  # fmt: skip
    assert run_module(UNITS, asked) == [
        ["19.431", "0.765", "0.765 in"],
        ["96.012", "3.78", "3.780 in"],
        ["97.20072", "318.9", "318.9 ft"],
        ["-0.6096", "-2", "-2.0 ft"],
        ["19.65", "19.65", "19.65 mm"],
        ["23.4", "23.4", "23.40 m"],
        ["0", "0", "0.00 m"],
    ]


def test_worst_windows_are_those_of_the_rules() -> None:
    """Few and many groups, points and lengths, with and without errors, windows that just reach."""
    chance = random.Random(11)
    asked, expected = [], []
    for _ in range(300):
        window = chance.choice([120, 600, 145])
        many = chance.choice([1, 2, 3, 5, 8, 60])
        groups = []
        for _ in range(many):
            start = chance.randrange(0, 1500, 5)
            length = chance.choice([0, 0, 0, 40, 120, 121, 300])
            groups.append(
                CountedGroup(
                    from_nm=start, to_nm=start + length, count=chance.randint(0, 4),
                    err_nm=chance.choice([0, 0, 2, 30]),
                )
            )  # fmt: skip
        plain = [
            {"from": one.from_nm, "to": one.to_nm, "count": one.count, "err": one.err_nm}
            for one in groups
        ]
        asked.append({"groups": plain, "window": window})
        expected.append(worst_window(groups, window))
    for (found, sure), wanted in zip(run_module(WINDOWS, asked), expected, strict=True):
        if wanted is None:
            assert (found, sure) == (None, 0)
            continue
        assert (found["lower"], found["upper"]) == (wanted.lower, wanted.upper)
        assert sure == wanted.lower
