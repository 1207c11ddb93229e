"""The smallest set of passes that covers what can be covered at all."""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from ropewright.geometry import Section, union

MOST_EXACT: Final = 16
"""Up to so many passes every set is tried; beyond that the widest is taken again and again."""


@dataclass(frozen=True, slots=True)
class Choice:
    """A pass that could be made: what it covers, and its cost (``minutes`` [min])."""

    sections: tuple[Section, ...]
    minutes: float


def smallest_cover(
    choices: Sequence[Choice], whole: Section, *, sliver_m: float = 0.0
) -> tuple[int, ...]:
    """Numbers of the fewest choices that together cover all that any of them covers.

    Among sets of the same size the one that takes least time is chosen.  With more than 16
    choices worth considering the set may hold one more than needed.

    Parameters
    ----------
    choices
        What could be done.
    whole
        What is to be covered.
    sliver_m
        Pieces shorter than this may stay uncovered [m].
    """
    pieces = _pieces(choices, whole, sliver_m)
    masks = [_mask(choice, pieces) for choice in choices]
    wanted = 0
    for mask in masks:
        wanted |= mask
    useful = _undominated(masks, choices)
    if not wanted:
        return ()
    if len(useful) <= MOST_EXACT:
        return _exact(useful, masks, choices, wanted)
    return _greedy(useful, masks, choices, wanted)


def _pieces(choices: Sequence[Choice], whole: Section, sliver_m: float) -> list[Section]:
    edges = {whole.from_m, whole.to_m}
    for choice in choices:
        for section in choice.sections:
            edges.update((section.from_m, section.to_m))
    inside = sorted(edge for edge in edges if whole.from_m <= edge <= whole.to_m)
    pairs = (Section(low, high) for low, high in itertools.pairwise(inside))
    return [piece for piece in pairs if piece.length_m > sliver_m]


def _mask(choice: Choice, pieces: Sequence[Section]) -> int:
    sections = union(choice.sections)
    mask = 0
    for number, piece in enumerate(pieces):
        if any(section.contains(piece) for section in sections):
            mask |= 1 << number
    return mask


def _undominated(masks: Sequence[int], choices: Sequence[Choice]) -> list[int]:
    """Leave out what another choice covers as well in no more time."""

    def beats(one: int, other: int) -> bool:
        covers = masks[one] | masks[other] == masks[one]
        better = (masks[one], -choices[one].minutes) != (masks[other], -choices[other].minutes)
        no_slower = choices[one].minutes <= choices[other].minutes
        return covers and no_slower and (better or one < other)

    numbers = [number for number in range(len(masks)) if masks[number]]
    return [
        number
        for number in numbers
        if not any(beats(other, number) for other in numbers if other != number)
    ]


def _exact(
    useful: Sequence[int], masks: Sequence[int], choices: Sequence[Choice], wanted: int
) -> tuple[int, ...]:
    for size in range(1, len(useful) + 1):
        best: tuple[float, tuple[int, ...]] | None = None
        for some in itertools.combinations(useful, size):
            mask = 0
            for number in some:
                mask |= masks[number]
            if mask != wanted:
                continue
            minutes = sum(choices[number].minutes for number in some)
            if best is None or (minutes, some) < best:
                best = (minutes, some)
        if best is not None:
            return best[1]
    return tuple(useful)


def _greedy(
    useful: Sequence[int], masks: Sequence[int], choices: Sequence[Choice], wanted: int
) -> tuple[int, ...]:
    taken: list[int] = []
    covered = 0
    while covered != wanted:
        best = max(
            useful,
            key=lambda number: (
                (masks[number] & ~covered).bit_count(),
                -choices[number].minutes,
                -number,
            ),
        )
        taken.append(best)
        covered |= masks[best]
    for number in list(taken):
        rest = 0
        for other in taken:
            rest |= 0 if other == number else masks[other]
        if rest == wanted:
            taken.remove(number)
    return tuple(sorted(taken))
