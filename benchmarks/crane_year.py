"""An invented crane-year at one sample a second, made piece by piece so that it fits anywhere."""

from collections.abc import Iterator
from typing import Final

import numpy as np
import numpy.typing as npt

from ropewright.wear import DutyChunk

SAMPLES: Final = 31_536_000
START_MS: Final = 1_735_689_600_000
BLOCK_T: Final = 0.4
_CYCLES: Final = 1_000

Floats = npt.NDArray[np.float32]


def crane_year(*, seed: int, samples: int = SAMPLES) -> Iterator[DutyChunk]:
    """A crane that works day and night, some nine rounds an hour; readings as loggers give them.

    Parameters
    ----------
    seed
        Same seed, same year.
    samples
        How many seconds.
    """
    chance = np.random.default_rng(seed)
    done, clock = 0, 0.0
    at = (0.0, 30.0)
    while done < samples:
        times, hook, radius, load = _rounds(chance, clock, at)
        at = float(hook[-1]), float(radius[-1])
        clock = float(times[-1])
        last = min(int(clock), samples)
        seconds = np.arange(done, last)
        loads = np.interp(seconds, times, load)
        loads += 0.01 * chance.standard_normal(loads.size)
        yield DutyChunk(
            time_ms=START_MS + seconds * 1000,
            hook_m=_shown(np.interp(seconds, times, hook)),
            radius_m=_shown(np.interp(seconds, times, radius)),
            load_t=_shown(loads),
            first_row=done + 1,
        )
        done = last


def _shown(values: npt.NDArray[np.float64]) -> Floats:
    return np.round(values, 2).astype(np.float32)


def _rounds(
    chance: np.random.Generator, start: float, at: tuple[float, float]
) -> tuple[npt.NDArray[np.float64], ...]:
    """Return break points of many rounds: times, hook, radius, load."""
    pick, place = chance.uniform(0.0, 25.0, _CYCLES), chance.uniform(0.0, 45.0, _CYCLES)
    over = np.maximum(pick, place) + chance.uniform(2.0, 10.0, _CYCLES)
    here, there = chance.uniform(5.0, 55.0, _CYCLES), chance.uniform(5.0, 55.0, _CYCLES)
    pick[0], here[0] = at
    over[0] = max(over[0], pick[0])
    full = BLOCK_T + chance.gamma(2.0, 0.8, _CYCLES).clip(0.1, 7.0)
    empty = np.full(_CYCLES, BLOCK_T)
    hook = np.stack([pick, pick, over, over, place, place, over, over, pick], axis=1)
    radius = np.stack([here, here, here, there, there, there, there, here, here], axis=1)
    load = np.stack([full, full, full, full, full, empty, empty, empty, empty], axis=1)
    speed = chance.uniform(0.4, 1.3, _CYCLES)
    up, down, across = (over - pick) / speed, (over - place) / speed, np.abs(here - there) / 0.8
    to_next = np.maximum(np.abs(np.diff(pick, prepend=at[0])) / 0.8, 1.0)
    to_next = np.maximum(to_next, np.abs(np.diff(here, prepend=at[1])) / 0.8)
    hooking, unhooking = chance.uniform(20, 160, _CYCLES), chance.uniform(30, 200, _CYCLES)
    lasts = np.stack(
        [to_next, hooking, up, across, down, unhooking, down, across, up], axis=1
    ).reshape(-1)
    times = start + np.cumsum(np.maximum(lasts, 1.0))
    return times, hook.reshape(-1), radius.reshape(-1), load.reshape(-1)
