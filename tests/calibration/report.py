"""The calibration report: tables in Markdown, one picture as SVG."""

from collections.abc import Callable, Sequence
from itertools import pairwise
from pathlib import Path

import numpy as np

from ropewright.forecast import MODEL_VERSION, PRIORS_VERSION
from tests.calibration.matching_table import table
from tests.calibration.measures import BINS, LEADS, Checked, check, uniformity
from tests.calibration.picture import policy_picture
from tests.calibration.policies import WAYS, Row, compare
from tests.calibration.simulate import TRUTHS

#: Fixed beforehand.
SEED_CHECK, SEED_LIVES = 20261, 20262
#: Further ropes, each fixed before it was run; every one of them is shown.
SEEDS_AGAIN = (20265, 20266)


def write_report(
    into: Path, *, ropes: int, lives: int, pairs: int, say: Callable[[str], None]
) -> None:
    """Simulate, measure, and write ``calibration.md`` and ``calibration.svg``."""
    say(f"calibration on {ropes} ropes")
    checked = check(ropes, SEED_CHECK)
    again = {seed: check(ropes, seed) for seed in SEEDS_AGAIN}
    every = {SEED_CHECK: checked, **again}
    rows = []
    for name, way in WAYS:
        say(f"whole lives: {name}")
        rows.append(compare(name, way, lives, SEED_LIVES))
    wrong = []
    for truth in TRUTHS[1:]:
        say(f"truth: {truth}")
        wrong.append(compare(truth, dict(WAYS)["forecast 0.2 %"], lives, SEED_LIVES, truth=truth))
    say("matching")
    matching = table(pairs)
    into.mkdir(parents=True, exist_ok=True)
    (into / "calibration.svg").write_text(policy_picture(rows), encoding="utf-8")
    text = PAGE.format(
        ropes=ropes,
        lives=lives,
        pairs=pairs,
        seed_check=SEED_CHECK,
        seeds_again=", ".join(str(seed) for seed in SEEDS_AGAIN),
        seed_lives=SEED_LIVES,
        model=MODEL_VERSION,
        priors=PRIORS_VERSION,
        uniformity="\n".join(
            line for seed, one in every.items() for line in _uniformity(seed, one)
        ),
        band=", ".join(f"{one.in_band.mean():.1%}" for one in every.values()),
        reliability=_reliability(list(every.values())),
        rows=_lives(rows),
        wrong=_lives(wrong),
        matching="\n".join(matching),
    )
    (into / "calibration.md").write_text(text, encoding="utf-8")


PAGE = """\
# Calibration of forecast and matching

All ropes here are invented. Made by
`python -m tests.calibration --ropes {ropes} --lives {lives} --pairs {pairs}`;
seeds {seed_check}, {seeds_again} and {seed_lives} were fixed beforehand and no rope was replaced.
Model {model}, priors {priors}.

## Does what is said happen as often as it is said?

{ropes} ropes a seed with 1 to 3 hot windows, limits 2 to 10, 1 to 10 passes by eye, all-round
look or hand, taken off when the limit was found reached. Each row is uniform if the model is
right; the share in the middle 90 % is tested exactly (binomial). The life is the rank of the true
value in its posterior (simulation-based calibration); the count is the randomised probability
integral transform of the true number of breaks. All but the fine row use the product's own grid.

| seed | what | middle 90 % | p (binomial) | p (KS) | p (chi-square, 20 bins) |
|---|---|---|---|---|---|
{uniformity}

The first version of this page gave p = 0.005 for the life on 5000 ropes of seed 20261. Looking
for the reason with other seeds (20263; 20264 with 20 000 ropes, where it grew to p = 3e-8) showed
two faults of the measuring: the invented windows held no more than sixty breaks, a bound the
model does not know, and the rank counted whole nodes of a grid on which each stands for a stretch
of lives. The rank by whole nodes is still shown; what is left in it is the second fault. With both
mended, 5000 ropes of the new seed 20265 still gave p = 0.005, 0.002 and 0.110 for the life. The
grid had no nodes for ropes with more than thirty times the limit broken; such a rope is off long
before, but it is among those tested. It has them now, which did not mend seed 20265. Seed
20266 was then fixed before it was run, with 20 000 ropes, so that a smaller error would show: it
gave p = 0.157, 0.220 and 0.632. Seed 20265 is not explained; among so many tests it may be chance.

The printed 5 % to 95 % band held the true time in {band} of all ropes; a limit that is passed
already counts as inside when the band begins today.

Reliability, all seeds together: the chance stated for so many days ahead against how often the
limit had really been passed by then. Statements of one column belong to different ropes.

| stated | today | 30 days | 91 days | 365 days |
|---|---|---|---|---|
{reliability}

## Whole lives: how often the limit is passed unseen, for how many inspections

{lives} ropes for each way, one hand pass an inspection, limit 10 in 6 d, statutory interval 3
months, every rope taken off after ten years at the latest. Fixed intervals keep the rope until
the limit is found reached; plug-in fits inspect at half the time they give and change the rope
when less than a month is left.

{rows}

![Inspections a year against ropes that passed the limit unseen](calibration.svg)

## When the truth is another one

The forecast at 0.2 %, where breaks grow, or are found, in ways the model does not assume.

{wrong}

The usual life is what the forecast leans on most: state that of your own ropes, or let it be
learnt from them.

## Matching: share decided rightly

{pairs} invented ropes a row, 300 m; shift of a pass ± 0.5 m and stretch ± 0.2 % (one standard
deviation), 15 % of breaks missed, three new ones; marks read to 3 cm. 'Sure but wrong' is stated
at 95 % or more and wrong.

{matching}
"""


def _reliability(every: Sequence[Checked]) -> str:
    """Expected and counted passings for each lead and bin of the stated chance."""
    stated = np.concatenate([one.stated for one in every])
    happened = np.concatenate([one.happened for one in every])
    lines = []
    for low, high in pairwise(BINS):
        cells = []
        for lead in range(LEADS):
            inside = (stated[lead::LEADS] >= low) & (stated[lead::LEADS] < high)
            expected = stated[lead::LEADS][inside].sum()
            cells.append(
                f"{int(happened[lead::LEADS][inside].sum())}, expected {expected:.1f} "
                f"({int(inside.sum())} ropes)"
                if inside.any()
                else "–"
            )
        lines.append(f"| {low:.1%} to {min(high, 1):.1%} | " + " | ".join(cells) + " |")
    return "\n".join(lines)


def _uniformity(seed: int, checked: Checked) -> list[str]:
    lines = []
    for what, values in (
        ("usual life", checked.life),
        ("usual life, fine grid", checked.life_fine),
        ("usual life, by whole nodes", checked.life_nodes),
        ("time to the limit", checked.time),
        ("number of breaks later", checked.count),
    ):
        one = uniformity(values)
        lines.append(
            f"| {seed} | {what} | {one.in_90:.1%} | {one.p_90:.3f} | {one.p_ks:.3f} "
            f"| {one.p_chi2:.3f} |"
        )
    return lines


def _lives(rows: Sequence[Row]) -> str:
    lines = [
        "| way | passed unseen | per inspection | inspections a year | life used |",
        "|---|---|---|---|---|",
    ]
    for one in rows:
        lines.append(
            f"| {one.name} | {one.passed:.0%} | {one.per_interval:.2%} "
            f"| {one.inspections_a_year:.1f} | {one.life_used:.0%} |"
        )
    return "\n".join(lines)
