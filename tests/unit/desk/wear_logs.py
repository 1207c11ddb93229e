"""Small invented logs of a hoist, for the tests of wear."""

from datetime import UTC, date, datetime, timedelta

import numpy as np

from ropewright.wear import Counting, DutyChunk, LoadClasses

CASE = """
schema = 1
invented = true

[crane]
id = "W-1"
kind = "trolley-jib tower crane"
{zone}
[[rigging]]
valid_from = 2026-01-01
falls = 2
drum_layers = "multi"
drum_grooving = "parallel"
drum_diameter = "480 mm"
wraps_per_layer = 28
sheaves = "steel"
hook_low = "0 m"
hook_high = "58 m"

[rigging.reeving]
kind = "trolley-jib hoist"
anchor = "jib tip"
anchor_radius = "60 m"
upper_height = "62 m"
hook_below = "1.2 m"
upper_sheave = "480 mm"
block_sheave = "480 mm"
root_sheave = "480 mm"
root_radius = "1.5 m"
to_drum = "14 m"

[rigging.drum]
pitch = "20.9 mm"
layers = 5
layer_rise = "18.36 mm"

[rigging.travel]
radius_min = "3 m"
radius_max = "58 m"

[rope]
id = "W-1 hoist"
diameter = "20 mm"
construction = "{make}"
length = "210 m"
lay_type = "ordinary"

[rope.certificate]
number = "invented"
grade = "1960 N/mm2"
{core}
[installation]
hoist = "hoist"
fitted_on = 2026-01-05
rules = ["iso-4309-2017"]
{history}
{inspections}
"""


def case_text(
    *, history: str = "", inspections: str = "", zone: str = "", make: str = "35(W)x7",
    core: str = "",
) -> str:  # fmt: skip
    """Return a small case file of a tower crane's hoist rope."""
    return CASE.format(history=history, inspections=inspections, zone=zone, make=make, core=core)


COUNTING = Counting(classes=LoadClasses.even(6.0), block_t=0.4, gap_s=600.0)


def log(first: date, days: int, seed: int, *, lifts: int = 12) -> DutyChunk:
    """Return lifts of some days, as turning points of hook and trolley by the minute."""
    rng = np.random.default_rng(seed)
    rows: list[tuple[int, float, float, float]] = []
    for number in range(days):
        moment = datetime.combine(first + timedelta(days=number), datetime.min.time(), UTC)
        at_ms = round(moment.timestamp() * 1000) + 7 * 3_600_000
        radius = 20.0
        for _ in range(lifts):
            load, put, there = rng.uniform(1.0, 5.0), rng.uniform(20, 50), rng.uniform(10, 50)
            for hook, out, hangs in (
                (2.0, radius, 0.4), (2.0, radius, 0.4 + load), (put + 5, radius, 0.4 + load),
                (put + 5, there, 0.4 + load), (put, there, 0.4 + load), (put, there, 0.4),
                (put + 5, there, 0.4), (put + 5, radius, 0.4),
            ):  # fmt: skip
                at_ms += 60_000
                rows.append((at_ms, round(hook, 2), round(out, 2), round(hangs, 2)))
    columns = np.array(rows)
    return DutyChunk(
        time_ms=columns[:, 0].astype(np.int64),
        hook_m=columns[:, 1],
        radius_m=columns[:, 2],
        load_t=columns[:, 3],
    )


def csv_text(chunk: DutyChunk) -> str:
    """Return a log as a CSV file that needs no mapping."""
    lines = ["time,hook [m],radius [m],load [t]"]
    assert chunk.hook_m is not None
    assert chunk.radius_m is not None
    assert chunk.load_t is not None
    for at_ms, hook, radius, load in zip(
        chunk.time_ms, chunk.hook_m, chunk.radius_m, chunk.load_t, strict=True
    ):
        moment = datetime.fromtimestamp(at_ms / 1000, UTC).isoformat()
        lines.append(f"{moment},{hook},{radius},{load}")
    return "\n".join(lines) + "\n"
