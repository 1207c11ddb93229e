"""How often the matching is right, against noise and number of marks.

Run ``python -m tests.calibration.matching_table [--ropes N]`` for the table.
"""

import argparse
import random
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from ropewright.geometry import RopePlace, Section
from ropewright.inspection import BreakGroup, BrokenWires, Inspection, Pass
from ropewright.matching import MarkSeen, Pairing, match
from ropewright.rope import Cut, EndForEnd, RopeHistory

BEFORE, AFTER = date(2026, 1, 10), date(2026, 4, 12)
LENGTH_M = 300.0


@dataclass(frozen=True, kw_only=True)
class Pair:
    """Two invented inspections, and which finding really is which."""

    before: Inspection
    after: Inspection
    marks: tuple[MarkSeen, ...]
    history: RopeHistory
    truth: dict[str, str]


def invent(
    seed: int,
    *,
    noise_m: float,
    marks: int,
    findings: int = 12,
    history: RopeHistory | None = None,
) -> Pair:
    """One rope inspected twice: shift, stretch, noise, breaks missed, breaks new."""
    rng = random.Random(seed)
    history = history or RopeHistory(original_length_m=LENGTH_M)
    left = history.at(AFTER)
    places = sorted(
        min(max(rng.gauss(rng.choice([90.0, 190.0]), 8.0), 1.0), LENGTH_M - 1.0)
        if rng.random() < 0.7
        else rng.uniform(1.0, LENGTH_M - 1.0)
        for _ in range(findings)
    )
    shift_m, stretch = rng.gauss(0.0, 0.5), rng.gauss(0.0, 0.002)

    def later(place_m: float) -> float:
        # the pass runs along the path: after a turn its stretch counts from the other end
        path_m = left.to_path_m(place_m)
        seen = path_m + shift_m + stretch * path_m
        return seen_to_rope(seen)

    def seen_to_rope(path_m: float) -> float:
        return left.last_rope_m - path_m if left.turned else left.first_rope_m + path_m

    earlier, after, truth = [], [], {}
    for number, place in enumerate(places):
        count = rng.choice([1, 1, 1, 2, 3])
        earlier.append(_breaks(f"old-{number}", place, count, noise_m))
        if left.is_in_service(place) and rng.random() < 0.85:
            grown = count + rng.choice([0, 0, 1])
            name = f"now-{number}"
            after.append(_breaks(name, later(place) + rng.gauss(0.0, noise_m), grown, noise_m))
            truth[f"old-{number}"] = name
    for number in range(3):
        place = rng.uniform(left.first_rope_m + 1, left.last_rope_m - 1)
        after.append(_breaks(f"new-{number}", later(place), 1, noise_m))
    rng.shuffle(after)
    spread = [(number + 0.5) / marks * LENGTH_M for number in range(marks)]
    return Pair(
        before=_inspection("before", BEFORE, earlier),
        after=_inspection("after", AFTER, after),
        marks=tuple(
            MarkSeen(
                name=f"mark {number}",
                before_m=place,
                after_m=later(place) + rng.gauss(0.0, 0.03),
            )
            for number, place in enumerate(spread)
            if left.is_in_service(place)
        ),
        history=history,
        truth=truth,
    )


def _breaks(name: str, at_m: float, count: int, noise_m: float) -> BrokenWires:
    return BrokenWires(
        finding_id=name,
        place=RopePlace(at_m=at_m, abs_err_m=1.0, rel_err_m=noise_m),
        method="feel",
        groups=(BreakGroup(from_mm=Fraction(0), to_mm=Fraction(0), count=count),),
    )


def _inspection(name: str, on: date, findings: list[BrokenWires]) -> Inspection:
    return Inspection(
        inspection_id=name,
        kind="periodic",
        on=on,
        passes=(Pass(method="feel", section=Section(-5.0, LENGTH_M + 5.0)),),
        findings=tuple(findings),
    )


def right(pairings: Sequence[Pairing], truth: dict[str, str]) -> tuple[int, int, float, int]:
    """Earlier findings decided rightly, decided at all, their confidence, sure but wrong."""
    good = decided = sure_wrong = 0
    confidence = 0.0
    for one in pairings:
        if one.earlier is None or one.kind == "cut off":
            continue
        decided += 1
        confidence += one.confidence
        hit = truth.get(one.earlier) == one.later
        good += hit
        sure_wrong += not hit and one.confidence >= 0.95
    return good, decided, confidence, sure_wrong


HISTORIES = {
    "as installed": RopeHistory(original_length_m=LENGTH_M),
    "after a cut": RopeHistory(
        original_length_m=LENGTH_M, steps=(Cut(on=date(2026, 2, 1), end="A", length_m=12.0),)
    ),
    "after a turn": RopeHistory(
        original_length_m=LENGTH_M, steps=(EndForEnd(on=date(2026, 2, 1)),)
    ),
    "cut and turn": RopeHistory(
        original_length_m=LENGTH_M,
        steps=(
            EndForEnd(on=date(2026, 2, 1)),
            Cut(on=date(2026, 2, 2), end="B", length_m=20.0),
        ),
    ),
}


#: Rope, its history, number of findings, noise in place [m].
ROWS = (
    *(("as installed", 12, noise_m) for noise_m in (0.02, 0.1, 0.3)),
    ("as installed", 3, 0.1),
    ("as installed", 40, 0.1),
    *((name, 12, 0.1) for name in ("after a cut", "after a turn", "cut and turn")),
)


def measure(
    name: str, findings: int, noise_m: float, marks: int, ropes: int
) -> tuple[float, float, float]:
    """Share decided rightly, mean stated confidence, share sure but wrong."""
    total = [0, 0, 0.0, 0]
    for seed in range(ropes):
        made = invent(
            seed, noise_m=noise_m, marks=marks, findings=findings, history=HISTORIES[name]
        )
        found = match(made.before, made.after, made.marks, made.history)
        for number, value in enumerate(right(found, made.truth)):
            total[number] += value
    good, decided, confidence, wrong = total
    return good / decided, confidence / decided, wrong / decided


def table(ropes: int) -> list[str]:
    """Lines of the table."""
    lines = [
        "| rope | findings | noise | marks | right | stated confidence | sure but wrong |",
        "|---|---|---|---|---|---|---|",
    ]
    for name, findings, noise_m in ROWS:
        for marks in (0, 1, 3):
            good, confidence, wrong = measure(name, findings, noise_m, marks, ropes)
            lines.append(
                f"| {name} | {findings} | ± {noise_m:g} m | {marks} | {good:.1%} "
                f"| {confidence:.1%} | {wrong:.1%} |"
            )
    return lines


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--ropes", type=int, default=100)
    sys.stdout.write("\n".join(table(parser.parse_args().ropes)) + "\n")
