"""One function for each figure; each gives what it measured and whether that is good enough.

Times are processor time of this one process, so that other work on the machine does not count.
"""

import gc
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from statistics import median
from time import process_time

import numpy as np

from benchmarks.case_text import FINDINGS, case_text
from benchmarks.plain import RULES, SOFTWARE
from benchmarks.ropes import TODAY, make_rope
from ropewright.inspection import CountedGroup, worst_window, worst_window_of_points
from ropewright.intake import PackageShelf, read_case
from ropewright.rules import assess, assessment_as_json

SAMPLE = 20
BREAKS = 1_000_000
NANOMETRES = 1_000_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One line of the table; ``good`` is ``None`` where no target was set."""

    what: str
    found: str
    target: str = "-"
    good: bool | None = None


def assessing(ropes: int, *, seed: int) -> Iterator[Figure]:
    """Judge ropes of 50 findings with full trace, and compare a sample with a plain process."""
    shelf = PackageShelf()
    rule_sets = [shelf.get(name) for name in RULES]
    wanted = {number * ropes // min(SAMPLE, ropes) for number in range(min(SAMPLE, ropes))}
    spent: list[float] = []
    writing: list[float] = []
    rulings, steps, sample = 0, 0, []
    gc.collect()
    gc.freeze()  # modules and rule sets stay: they are not searched for garbage again and again
    for number in range(ropes):
        rope = make_rope(number, seed=seed)
        start = process_time()
        assessment = assess(rope, rule_sets, TODAY, software=SOFTWARE)
        spent.append(process_time() - start)
        rulings += len(assessment.rulings)
        steps += sum(len(one.steps) for one in assessment.rulings)
        if number in wanted:
            start = process_time()
            sample.append(assessment_as_json(assessment))
            writing.append(process_time() - start)
    mean_ms = sum(spent) / ropes * 1000
    yield Figure(
        what=f"assess a rope of 50 findings, mean of {ropes:,}",
        found=f"{mean_ms:.2f} ms", target="<= 10 ms", good=mean_ms <= 10,
    )  # fmt: skip
    spent.sort()
    yield Figure(
        what="  median, 99 of 100, worst",
        found=f"{median(spent) * 1000:.2f}, {spent[int(ropes * 0.99)] * 1000:.2f}, "
        f"{spent[-1] * 1000:.2f} ms",
    )
    yield Figure(
        what="  rulings and steps of the trace, mean",
        found=f"{rulings / ropes:.0f}, {steps / ropes:.0f}",
    )
    yield Figure(what="  JSON of one rope, median", found=f"{median(writing) * 1000:.2f} ms")
    same = "".join(sample).encode() == _in_a_plain_process(sorted(wanted), seed=seed)
    yield Figure(
        what=f"JSON of {len(sample)} ropes as made without the benchmark",
        found="same bytes" if same else "differs", target="same bytes", good=same,
    )  # fmt: skip


def _in_a_plain_process(numbers: list[int], *, seed: int) -> bytes:
    command = [sys.executable, "-m", "benchmarks.plain", str(seed), *map(str, numbers)]
    return subprocess.run(command, check=True, capture_output=True).stdout


def windows(*, seed: int) -> Iterator[Figure]:
    """Worst windows over a million broken wires."""
    rng = np.random.default_rng(seed)
    places = rng.integers(0, 1000 * NANOMETRES, BREAKS)
    counts = np.ones(BREAKS, dtype=np.int64)
    window = 120_000_000  # 6 d of a 20 mm rope
    found = worst_window_of_points(places, counts, window)
    yield _seconds(
        f"worst window, {BREAKS:,} breaks in arrays",
        lambda: worst_window_of_points(places, counts, window),
    )
    groups = [CountedGroup(from_nm=at, to_nm=at, count=1) for at in places.tolist()]
    worst = worst_window(groups, window)
    yield _seconds(
        f"worst window, {BREAKS:,} breaks as groups", lambda: worst_window(groups, window)
    )
    same = found is not None and worst is not None and found[0] == worst.lower == worst.upper
    yield Figure(
        what="  both count the same", found="yes" if same else "no", target="yes", good=same
    )
    lengths = rng.integers(0, 400_000_000, BREAKS)
    errors = rng.integers(0, 10_000_000, BREAKS)
    spread = [
        CountedGroup(from_nm=at, to_nm=at + length, count=2, err_nm=error)
        for at, length, error in zip(
            places.tolist(), lengths.tolist(), errors.tolist(), strict=True
        )
    ]
    yield _seconds(
        f"worst window, {BREAKS:,} groups with length and error",
        lambda: worst_window(spread, window),
    )


def _seconds(what: str, job: Callable[[], object]) -> Figure:
    spent = []
    for _ in range(3):
        start = process_time()
        job()
        spent.append(process_time() - start)
    best = min(spent)
    return Figure(what=what, found=f"{best:.3f} s", target="<= 1 s", good=best <= 1)


def reading() -> Iterator[Figure]:
    """Read a case file of 50 findings into a dossier."""
    text = case_text()
    spent = []
    for _ in range(20):
        start = process_time()
        case = read_case(text, file="invented.toml")
        spent.append(process_time() - start)
    read = sum(len(one.findings) for one in case.dossier.inspections)
    middle_ms = median(spent) * 1000
    yield Figure(
        what=f"read a case file of {FINDINGS} findings, median of 20",
        found=f"{middle_ms:.1f} ms", target="<= 100 ms",
        good=middle_ms <= 100 and read == FINDINGS,
    )  # fmt: skip
