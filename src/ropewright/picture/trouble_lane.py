"""The lane of places where damage is to be expected: bars in rows, each with its name."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from ropewright.desk.chart_places import chart_key
from ropewright.geometry import Section
from ropewright.picture.canvas import SMALL, Canvas
from ropewright.picture.frame import ROW, Frame
from ropewright.picture.lettering import folded, text_width
from ropewright.picture.words import section_words
from ropewright.plan import TroubleSpot
from ropewright.plan.trouble import NOT_LISTED

LABEL: Final = "Trouble spots"
_BAR: Final = 8.0
_LEAST: Final = 3.0
_GAP: Final = 8.0
_NEAR: Final = 3.0
_LINE: Final = 13.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """One section of a spot, on the paper from ``left`` [-] to ``right`` [-]."""

    key: str
    title: str
    section: Section
    left: float
    right: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """Bars of one kind that do not overlap, and the name they share, beginning at ``words_at`` [-].

    ``row`` [-] is counted from above.
    """

    words: str
    bars: tuple[Bar, ...]
    words_at: float
    row: int


@dataclass(frozen=True, slots=True, kw_only=True)
class TroubleLane:
    """The lane laid out: its entries, and lines of words under them."""

    entries: tuple[Entry, ...]
    remarks: tuple[str, ...]

    @property
    def rows(self) -> int:
        """How many rows of bars there are."""
        return max((one.row + 1 for one in self.entries), default=0)

    @property
    def height(self) -> float:
        """Height in user units [-]."""
        return max(self.rows * ROW + len(self.remarks) * _LINE, ROW)


def trouble_lane(trouble: Sequence[TroubleSpot] | str, frame: Frame) -> TroubleLane | None:
    """Lay the lane out; no lane where nothing was asked of it.

    Parameters
    ----------
    trouble
        The spots in their order, or in words what is missing to know them.
    frame
        Where the axis lies.
    """
    if not trouble:
        return None
    if isinstance(trouble, str):
        return TroubleLane(entries=(), remarks=_folded(trouble, frame))
    entries: list[Entry] = []
    for words, bars in _groups(trouble, frame):
        entries.append(_entry(words, bars, frame, entries))
    open_yet = list(dict.fromkeys(one.item for one in trouble if not one.sections))
    remarks = _folded(f"not placed on the chart: {', '.join(open_yet)}", frame) if open_yet else ()
    return TroubleLane(entries=tuple(entries), remarks=remarks)


def _folded(words: str, frame: Frame) -> tuple[str, ...]:
    return tuple(folded(words, SMALL, frame.right - frame.left))


def _groups(trouble: Sequence[TroubleSpot], frame: Frame) -> list[tuple[str, list[Bar]]]:
    """Bars of one item together, those that overlap apart."""
    groups: list[tuple[str, list[Bar]]] = []
    for number, spot in enumerate(trouble):
        bars = [_bar(number, spot, section, frame) for section in spot.sections]
        if not bars:
            continue
        for words, others in groups:
            if words == spot.item and not any(_lie_over(one, bars) for one in others):
                others += bars
                break
        else:
            groups.append((spot.item, bars))
    return [(words, sorted(bars, key=lambda one: one.left)) for words, bars in groups]


def _lie_over(one: Bar, others: Sequence[Bar]) -> bool:
    """Whether bars overlap by more than the touch of neighbours."""
    return any(
        one.section.from_m < other.section.to_m - 1.5
        and other.section.from_m < one.section.to_m - 1.5
        for other in others
    )


def _bar(number: int, spot: TroubleSpot, section: Section, frame: Frame) -> Bar:
    left, width = frame.span(section, _LEAST)
    named = "; ".join(f"{one.rule} {one.clause}" for one in spot.lists if one is not NOT_LISTED)
    title = f"{spot.item}, {section_words(section)}: {spot.words}"
    return Bar(
        key=chart_key("trouble", str(number)),
        title=f"{title}; named by {named}" if named else title,
        section=section,
        left=left,
        right=left + width,
    )


def _entry(words: str, bars: Sequence[Bar], frame: Frame, others: Sequence[Entry]) -> Entry:
    """Put the name beside, between or over the bars, in the first row with room for all of it."""
    room = text_width(words, SMALL) + 2 * _NEAR
    places = _places(bars, room, frame)
    row = 0
    while True:
        taken = [span for one in others if one.row == row for span in _spans(one)]
        own = [(one.left, one.right) for one in bars]
        if all(_clear(span, taken) for span in own):
            for at in places:
                if _clear((at, at + room), taken):
                    return Entry(words=words, bars=tuple(bars), words_at=at + _NEAR, row=row)
        row += 1


def _spans(one: Entry) -> list[tuple[float, float]]:
    room = text_width(one.words, SMALL) + 2 * _NEAR
    words = (one.words_at - _NEAR, one.words_at - _NEAR + room)
    return [words, *((bar.left, bar.right) for bar in one.bars)]


def _clear(span: tuple[float, float], taken: Sequence[tuple[float, float]]) -> bool:
    return all(span[1] + _GAP <= left or right + _GAP <= span[0] for left, right in taken)


def _places(bars: Sequence[Bar], room: float, frame: Frame) -> list[float]:
    """Where the name may begin: right, left, between two bars; over the widest bar at the last."""
    right, left = bars[-1].right, bars[0].left
    found = [right] if right + room <= frame.right + _NEAR else []
    if left - room >= frame.left - _NEAR:
        found.append(left - room)
    found += [one.right for one, other in pairwise(bars) if other.left - one.right >= room]
    widest = max(bars, key=lambda one: one.right - one.left)
    if found and widest.right - widest.left < room + 2 * _GAP:
        return found  # a name may not hide its bar
    middle = (widest.left + widest.right - room) / 2
    return [*found, min(max(middle, frame.left), frame.right - room)]


def draw_trouble(canvas: Canvas, frame: Frame, lane: TroubleLane, y: float) -> None:
    """Draw the lane whose top is at ``y`` [-]."""
    ink = canvas.ink
    for one in lane.entries:
        top = y + one.row * ROW + (ROW - _BAR) / 2
        for bar in one.bars:
            place = bar.section
            with canvas.mark("trouble", bar.title, place.from_m, place.to_m, data_keys=bar.key):
                canvas.rect(
                    bar.left, top, bar.right - bar.left, _BAR, fill=ink.hair, stroke=ink.ink,
                    stroke_width="0.8",
                )  # fmt: skip
    for one in lane.entries:
        base = y + one.row * ROW
        room = text_width(one.words, SMALL)
        canvas.rect(one.words_at - _NEAR, base + 1, room + 2 * _NEAR, ROW - 2, rx="2",
                    fill=ink.paper)  # fmt: skip
        canvas.text(one.words_at, base + 12, one.words, size=SMALL)
    for number, words in enumerate(lane.remarks):
        foot = y + lane.rows * ROW + number * _LINE + 11
        canvas.text(frame.left, foot, words, size=SMALL, colour=ink.soft)
