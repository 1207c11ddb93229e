"""Notes under the bands of a lane: how old what they show is, each on a staff of its own."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from ropewright.picture.canvas import SMALL, Canvas
from ropewright.picture.frame import Frame
from ropewright.picture.lane import Band, BandLane
from ropewright.picture.lettering import text_width
from ropewright.picture.packing import Flag, Flown, fly
from ropewright.picture.symbols import HALF

NOTE_ROW: Final = 14.0
_MOST_ROWS: Final = 3
_BESIDE: Final = 4.0
_TIGHTER: Final = 3.0  # notes keep less room to the next lane than bands do


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """A note in its place: whether it says that something never was."""

    words: str
    never: bool
    flown: Flown


def notes_under(lane: BandLane, frame: Frame) -> tuple[Note, ...]:
    """The notes of a lane in their rows, as many as find room: never and long ago first.

    Parameters
    ----------
    lane
        The lane; neighbours that say the same share a note.
    frame
        Where the axis lies.
    """
    groups = _groups(lane.bands)
    groups.sort(key=lambda one: -_age(one[0]))
    for kept in range(len(groups), 0, -1):
        for short in (False, True):
            flown = _fly(groups[:kept], frame, short=short)
            if flown is not None:
                return tuple(
                    Note(words=_words(group, short=short), never=group[0].age_d is None, flown=one)
                    for group, one in zip(groups[:kept], flown, strict=True)
                )
    return ()


def _groups(bands: Sequence[Band]) -> list[list[Band]]:
    """Bands with notes; one after another with the same note go together."""
    groups: list[list[Band]] = []
    for band in sorted(bands, key=lambda one: one.section):
        if not band.note:
            continue
        if groups and groups[-1][-1].note == band.note:
            groups[-1].append(band)
        else:
            groups.append([band])
    return groups


def _age(band: Band) -> float:
    return math.inf if band.age_d is None else band.age_d


def _words(group: Sequence[Band], *, short: bool) -> str:
    words = group[0].note_short if short else group[0].note
    return f"{words} ({len(group)} sections)" if len(group) > 1 else words


def _fly(groups: Sequence[Sequence[Band]], frame: Frame, *, short: bool) -> list[Flown] | None:
    flags = []
    for group in groups:
        start, width = frame.span(max(group, key=lambda one: one.section.length_m).section, 3.0)
        bold = group[0].age_d is None
        room = text_width(_words(group, short=short), SMALL, bold=bold) + _BESIDE - HALF
        flags.append(Flag(x=start + width / 2, room=room))
    return fly(flags, left=frame.left, right=frame.right, rows=_MOST_ROWS)


def notes_height(notes: Sequence[Note]) -> float:
    """Room that the notes take under the bands [-]."""
    return NOTE_ROW * (max(one.flown.row for one in notes) + 1) - _TIGHTER if notes else 0.0


def draw_notes(canvas: Canvas, notes: Sequence[Note], y: float) -> None:
    """Draw the notes under bands whose foot is at ``y`` [-]."""
    ink = canvas.ink
    for one in notes:
        foot = y + one.flown.row * NOTE_ROW + 7
        canvas.path(
            f"M{one.flown.x:.2f} {y:.2f}V{foot:.2f}h{-3 if one.flown.to_left else 3}",
            fill="none", stroke=ink.line,
        )  # fmt: skip
    for one in notes:
        x = one.flown.x + (-_BESIDE if one.flown.to_left else _BESIDE)
        canvas.text(
            x, y + one.flown.row * NOTE_ROW + 11, one.words, size=SMALL, bold=one.never,
            anchor="end" if one.flown.to_left else "start",
        )  # fmt: skip
