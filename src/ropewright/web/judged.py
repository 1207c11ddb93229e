"""What was judged, kept while it holds: until an entry comes, the day turns or rules change."""

import logging
import threading
from collections import OrderedDict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from ropewright.desk.open_book import Stand
from ropewright.desk.overview import NextStep, Overview, overview
from ropewright.errors import RopewrightError
from ropewright.rules import Level
from ropewright.web.tools import WebTools
from ropewright.web.wording import said_by

_LOG = logging.getLogger("ropewright.web")

#: Whole overviews kept in memory; the short ones are kept for every rope.
KEPT: Final = 200

Key = tuple[int, date]


@dataclass(frozen=True, slots=True, kw_only=True)
class Glance:
    """What the board needs of one rope.

    ``problem`` says why it could not be judged; then there is no level.
    """

    rope_id: str
    level: Level | None
    sentence: str
    problem: str
    citation: str
    on_hold: bool
    hold_reasons: tuple[str, ...]
    next_step: NextStep
    who: str
    due: date | None
    overdue: bool
    order_by: date | None
    last_kind: str
    last_on: date | None
    last_methods: tuple[str, ...]
    last_signed: bool
    unseen_m: float
    unseen_whole: bool
    marks: int
    crane: str
    site: str
    hoist: str
    invented: bool


class Judged:
    """Judges ropes once per change and day.

    Parameters
    ----------
    tools
        Book, shelf and clock.
    """

    def __init__(self, tools: WebTools) -> None:
        self._tools = tools
        self._lock = threading.Lock()
        self._glances: dict[str, tuple[Key, Glance]] = {}
        self._whole: OrderedDict[str, tuple[Key, Overview]] = OrderedDict()

    def overview(self, rope_id: str) -> Overview:
        """Everything that is judged of a rope today.

        Raises
        ------
        RopewrightError
            If the rope is not known, or cannot be judged; says why.
        """
        stand = self._tools.book.stand(rope_id)
        key = (stand.sequence, self._tools.today())
        with self._lock:
            held = self._whole.get(rope_id)
            if held is not None and held[0] == key:
                self._whole.move_to_end(rope_id)
                return held[1]
        made = self._judge(rope_id, key[1])
        with self._lock:
            self._whole[rope_id] = (key, made)
            while len(self._whole) > KEPT:
                self._whole.popitem(last=False)
        return made

    def glance(self, stand: Stand) -> Glance:
        """What the board needs of a rope."""
        key = (stand.sequence, self._tools.today())
        held = self._glances.get(stand.rope_id)
        if held is not None and held[0] == key:
            return held[1]
        try:
            made = glance_of(self._judge(stand.rope_id, key[1]), key[1])
        except RopewrightError as error:
            made = _not_judged(stand, said_by(error))
        except Exception:  # one broken rope must not take the others from the board
            _LOG.exception("rope %s could not be judged", stand.rope_id)
            made = _not_judged(stand, "a fault of this program; tell whoever runs this server")
        self._glances[stand.rope_id] = (key, made)
        return made

    def held(self, stand: Stand) -> Glance | None:
        """What the board needs, if it is known already."""
        held = self._glances.get(stand.rope_id)
        key = (stand.sequence, self._tools.today())
        return held[1] if held is not None and held[0] == key else None

    def missing(self, stands: Sequence[Stand]) -> list[Stand]:
        """Ropes that are still to be judged."""
        return [one for one in stands if self.held(one) is None]

    def _judge(self, rope_id: str, today: date) -> Overview:
        dossier = self._tools.book.dossier(rope_id)
        return overview(dossier, self._tools.shelf, today, software=self._tools.software)


def glance_of(whole: Overview, today: date) -> Glance:
    """The short form of an overview."""
    dossier, verdict = whole.dossier, whole.assessment.verdict
    last = whole.last
    governing = whole.assessment.ruling(verdict.governing[0]) if verdict.governing else None
    return Glance(
        rope_id=dossier.rope.rope_id,
        level=verdict.level,
        sentence=verdict.sentence,
        problem="",
        citation="" if governing is None else governing.citation,
        on_hold=verdict.on_hold,
        hold_reasons=verdict.hold_reasons,
        next_step=whole.next_step,
        who=verdict.who,
        due=whole.due,
        overdue=whole.due is not None and whole.due < today,
        order_by=whole.order_by,
        last_kind="" if last is None else last.kind,
        last_on=None if last is None else last.on,
        last_methods=()
        if last is None
        else tuple(dict.fromkeys(one.method for one in last.passes)),
        last_signed=last is not None and bool(last.signed_by),
        unseen_m=sum(part.to_m - part.from_m for part in verdict.unseen),
        unseen_whole=verdict.unseen_whole_rope,
        marks=len(dossier.marks),
        crane=dossier.crane.crane_id,
        site=dossier.crane.site,
        hoist=dossier.installation.hoist,
        invented=dossier.invented,
    )


def _not_judged(stand: Stand, why: str) -> Glance:
    record = stand.record
    last = record.get("last", {})
    on = last.get("on")
    return Glance(
        rope_id=stand.rope_id, level=None, sentence="", problem=why, citation="",
        on_hold=bool(record.get("holds")),
        hold_reasons=tuple(one["why"] for one in record.get("holds", {}).values()),
        next_step=NextStep(what="complete what the book says of this rope", when="first"),
        who="", due=None, overdue=False, order_by=None, last_kind=last.get("kind", ""),
        last_on=None if on is None else date.fromisoformat(on), last_methods=(),
        last_signed=bool(last.get("signed")), unseen_m=0.0, unseen_whole=True,
        marks=record.get("marks", 0), crane=record.get("crane", ""),
        site=record.get("site", ""), hoist=record.get("hoist", ""),
        invented=bool(record.get("invented")),
    )  # fmt: skip


class Warmer(threading.Thread):
    """Judges every rope in the background, so that pages find it done.

    Parameters
    ----------
    tools
        The book and its clock.
    judged
        Where results are kept.
    every_s
        How long to rest between rounds [s].
    """

    def __init__(self, tools: WebTools, judged: Judged, *, every_s: float = 5.0) -> None:
        super().__init__(name="ropewright-warmer", daemon=True)
        self._tools = tools
        self._judged = judged
        self._every_s = every_s
        self._stop_asked = threading.Event()

    def run(self) -> None:
        """Judge what is missing until asked to stop."""
        newest: tuple[int, date] | None = None
        while not self._stop_asked.is_set():
            try:
                now = (self._tools.book.newest(), self._tools.today())
                if now != newest:
                    for stand in self._judged.missing(self._tools.book.stands()):
                        self._judged.glance(stand)
                        # Between two ropes whoever waits for a page goes first.
                        if self._stop_asked.wait(0.002):
                            return
                    newest = now
            except RopewrightError:
                newest = None  # the database is busy or gone: try again later
            self._stop_asked.wait(self._every_s)

    def stop(self) -> None:
        """Ask it to stop, and wait until it has."""
        self._stop_asked.set()
        if self.is_alive():
            self.join(timeout=5)
