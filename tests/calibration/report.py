"""The calibration report: tables in Markdown, one picture as SVG."""

from collections.abc import Callable, Sequence
from pathlib import Path

from ropewright.forecast import MODEL_VERSION, PRIORS_VERSION
from tests.calibration.matching_table import table
from tests.calibration.measures import Checked, check, reliability, uniformity
from tests.calibration.picture import policy_picture
from tests.calibration.policies import WAYS, Row, compare
from tests.calibration.simulate import TRUTHS

#: Fixed beforehand.
SEED_CHECK, SEED_LIVES = 20261, 20262


def write_report(
    into: Path, *, ropes: int, lives: int, pairs: int, say: Callable[[str], None]
) -> None:
    """Simulate, measure, and write ``calibration.md`` and ``calibration.svg``."""
    say(f"calibration on {ropes} ropes")
    checked = check(ropes, SEED_CHECK)
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
        seed_lives=SEED_LIVES,
        model=MODEL_VERSION,
        priors=PRIORS_VERSION,
        uniformity=_uniformity(checked),
        band=checked.in_band.mean(),
        reliability="\n".join(
            f"| {stated:.2%} | {happened:.2%} | {count} |"
            for stated, happened, count in reliability(checked)
        ),
        rows=_lives(rows),
        wrong=_lives(wrong),
        matching="\n".join(matching),
    )
    (into / "calibration.md").write_text(text, encoding="utf-8")


PAGE = """\
# Calibration of forecast and matching

All ropes here are invented. Made by
`python -m tests.calibration --ropes {ropes} --lives {lives} --pairs {pairs}`;
seeds {seed_check} and {seed_lives} were fixed beforehand and no rope was replaced.
Model {model}, priors {priors}.

## Does what is said happen as often as it is said?

{ropes} ropes with 1 to 3 hot windows, limits 2 to 10, 1 to 10 passes by eye, all-round look or
hand, taken off when the limit was found reached. Each row is uniform if the model is right; the
share in the middle 90 % is tested exactly (binomial). The life is the rank of the true value in
its posterior (simulation-based calibration); the count is the randomised probability integral
transform of the true number of breaks. The life alone is ranked on a finer grid, which tests the
model: the product's grid has ten values of steepness, at each of which the life is a needle, so
a rank among these teeth is a little off; times and counts, which are what is shown to people, are
those of the product's own grid. The fine row was added after the product's grid gave p below
0.01 on these same seeds; both are kept.

| what | middle 90 % | p (binomial) | p (KS) | p (chi-square, 20 bins) |
|---|---|---|---|---|
{uniformity}

The printed 5 % to 95 % band held the true time in {band:.1%} of all ropes; a limit that is passed
already counts as inside when the band begins today.

Reliability: chance stated for today, 30, 91 and 365 days ahead, against how often the limit had
really been passed.

| stated | happened | statements |
|---|---|---|
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


def _uniformity(checked: Checked) -> str:
    lines = []
    for what, values in (
        ("usual life, fine grid", checked.life),
        ("usual life, the product's grid", checked.life_coarse),
        ("time to the limit", checked.time),
        ("number of breaks later", checked.count),
    ):
        one = uniformity(values)
        lines.append(
            f"| {what} | {one.in_90:.1%} | {one.p_90:.3f} | {one.p_ks:.3f} | {one.p_chi2:.3f} |"
        )
    return "\n".join(lines)


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
