"""What was judged, kept while it holds: until an entry comes, the day turns or rules change."""

import hashlib
import logging
import threading
import time
from collections import OrderedDict
from collections.abc import Callable, Sequence
from datetime import date
from typing import Final

from ropewright.desk.open_book import Stand
from ropewright.desk.overview import NextStep, Overview, overview
from ropewright.errors import RopewrightError, StoreError
from ropewright.web.glances import Glance, glance_of, glance_text, read_glance
from ropewright.web.tools import WebTools
from ropewright.web.wording import said_by

_LOG = logging.getLogger("ropewright.web")

#: Whole overviews kept in memory; short ones are kept for every rope, and pages as text.  Each is
#: thousands of objects, and Python stops for all of them when it tidies up.
KEPT: Final = 32

#: While people ask for pages, others are made ready no quicker than one in this time [s].
LONGEST_REST_S: Final = 2.0

Key = tuple[int, date]
#: Whole overviews name persons, so they hold only as long as nothing is new of those.
WholeKey = tuple[int, date, tuple[int, int]]


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
        self._whole: OrderedDict[str, tuple[WholeKey, Overview]] = OrderedDict()
        self._turns: dict[str, threading.Lock] = {}
        self._to_keep: dict[str, tuple[str, str]] = {}
        self._rules = rules_mark(tools)

    def overview(self, rope_id: str, stand: Stand | None = None) -> Overview:
        """Everything that is judged of a rope today.

        Parameters
        ----------
        rope_id
            The rope.
        stand
            Where it stands, if that was asked for already.

        Raises
        ------
        RopewrightError
            If the rope is not known, or cannot be judged; says why.
        """
        stand = stand or self._tools.book.stand(rope_id)
        key = (stand.sequence, self._tools.today(), stand.people)
        held = self._held_whole(rope_id, key)
        if held is not None:
            return held
        with self._lock:
            turn = self._turns.setdefault(rope_id, threading.Lock())
        with turn:  # who comes second waits for the first rather than judge the rope again
            held = self._held_whole(rope_id, key)
            if held is not None:
                return held
            made = self._judge(rope_id, key[1])
            with self._lock:
                self._whole[rope_id] = (key, made)
                while len(self._whole) > KEPT:
                    self._whole.popitem(last=False)
            return made

    def _held_whole(self, rope_id: str, key: WholeKey) -> Overview | None:
        with self._lock:
            held = self._whole.get(rope_id)
            if held is None or held[0] != key:
                return None
            self._whole.move_to_end(rope_id)
            return held[1]

    def glance(self, stand: Stand) -> Glance:
        """What the board needs of a rope."""
        held = self.held(stand)
        if held is not None:
            return held
        key = (stand.sequence, self._tools.today())
        try:
            made = glance_of(self.overview(stand.rope_id, stand), key[1])
            with self._lock:
                self._to_keep[stand.rope_id] = (self._made_from(key), glance_text(made))
        except StoreError:
            raise  # the database says nothing now: of the rope itself nothing is known
        except RopewrightError as error:
            made = _not_judged(stand, said_by(error))
        except Exception:  # one broken rope must not take the others from the board
            _LOG.exception("rope %s could not be judged", stand.rope_id)
            made = _not_judged(stand, "a fault of this program; tell whoever runs this server")
        self._glances[stand.rope_id] = (key, made)
        return made

    def recall(self) -> None:
        """Read what was kept of ropes; what does not hold today is judged anew."""
        kept = self._tools.book.kept_glances()
        today = self._tools.today()
        for stand in self._tools.book.stands():
            made_from, text = kept.get(stand.rope_id, ("", ""))
            key = (stand.sequence, today)
            if made_from == self._made_from(key):
                made = read_glance(text)
                if made is not None:
                    self._glances.setdefault(stand.rope_id, (key, made))

    def keep(self) -> None:
        """Write down what was judged since the last time."""
        with self._lock:
            made, self._to_keep = self._to_keep, {}
        self._tools.book.keep_glances(made)

    def _made_from(self, key: Key) -> str:
        return f"{key[0]}/{key[1].isoformat()}/{self._rules}"

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


def rules_mark(tools: WebTools) -> str:
    """What every judgement rests on beside the book: software and all rule files."""
    parts = [tools.software, *(tools.shelf.get(name).rules_hash for name in tools.shelf.names())]
    return hashlib.sha256("/".join(parts).encode()).hexdigest()


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
        last_signed=bool(last.get("signed")), unseen_m=0.0, unseen_whole=True, felt_only_m=0.0,
        seen_only_m=0.0,
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
    prepare
        Makes the pages of a rope ready; tells whether there was anything to make.
    busy
        Whether somebody asks for pages just now.
    every_s
        How long to rest between rounds [s].
    """

    def __init__(
        self,
        tools: WebTools,
        judged: Judged,
        *,
        prepare: Callable[[Stand], bool] = lambda _stand: False,
        busy: Callable[[], bool] = lambda: False,
        every_s: float = 5.0,
    ) -> None:
        super().__init__(name="ropewright-warmer", daemon=True)
        self._tools = tools
        self._judged = judged
        self._prepare = prepare
        self._busy = busy
        self._every_s = every_s
        self._stop_asked = threading.Event()

    def run(self) -> None:
        """Judge what is missing until asked to stop."""
        newest: tuple[int, date] | None = None
        try:
            self._judged.recall()
        except RopewrightError:
            _LOG.warning("what was judged before could not be read")
        while not self._stop_asked.is_set():
            try:
                now = (self._tools.book.newest(), self._tools.today())
                if now != newest and self._round(now):
                    newest = now
            except RopewrightError:
                newest = None  # the database is busy or gone: try again later
            self._stop_asked.wait(self._every_s)

    def _round(self, now: tuple[int, date]) -> bool:
        """Judge what is missing, then make pages ready; false if it was broken off."""
        stands = self._tools.book.stands()
        for number, stand in enumerate(self._judged.missing(stands), start=1):
            self._judged.glance(stand)
            self._ready(stand)
            if number % 50 == 0:
                self._judged.keep()
            # Between two ropes whoever waits for a page goes first.
            if self._stop_asked.wait(0.002):
                return False
        self._judged.keep()
        for stand in stands:
            begun = time.monotonic()
            if not self._ready(stand):
                continue
            # As long at rest as at work, longer while people ask; and the board goes before pages.
            rest_until = time.monotonic() + LONGEST_REST_S
            if self._stop_asked.wait(time.monotonic() - begun):
                return False
            while self._busy() and time.monotonic() < rest_until:
                if self._stop_asked.wait(0.1):
                    return False
            if (self._tools.book.newest(), self._tools.today()) != now:
                return False
        return True

    def _ready(self, stand: Stand) -> bool:
        try:
            return self._prepare(stand)
        except StoreError:
            raise
        except Exception:  # whoever opens the page is told; the other ropes go on
            return False

    def stop(self) -> None:
        """Ask it to stop, and wait until it has."""
        self._stop_asked.set()
        if self.is_alive():
            self.join(timeout=5)
