"""Pages kept ready: the newest so many, packed, safe between threads."""

import threading
import zlib
from collections import OrderedDict
from collections.abc import Hashable
from typing import Final

#: The quickest packing: a page becomes a tenth or less, and is unpacked in a part of a millisecond.
_QUICK: Final = 1
#: Pages that nobody asked for yet are kept up to this share, so that they push nothing out [-].
_AHEAD: Final = 0.9


class KeptPages:
    """One text for each place, which holds as long as what it was made from.

    A place says which page it is and for whom; what it was made from says everything else that
    the text depends on.  Of another text for the same place the older one goes; beside that the
    one longest unused goes first.

    Parameters
    ----------
    most_bytes
        How much is kept at most, as packed [bytes].
    """

    def __init__(self, most_bytes: int) -> None:
        self._most = most_bytes
        self._have = 0
        self._lock = threading.Lock()
        self._texts: OrderedDict[Hashable, tuple[Hashable, bytes]] = OrderedDict()

    @property
    def room(self) -> bool:
        """Whether there is room for pages that nobody asked for yet."""
        return self._have < _AHEAD * self._most

    def has(self, place: Hashable, made_from: Hashable) -> bool:
        """Whether the text for a place is kept and holds."""
        with self._lock:
            found = self._texts.get(place)
        return found is not None and found[0] == made_from

    def get(self, place: Hashable, made_from: Hashable) -> bytes | None:
        """The text for a place, if it is kept and holds."""
        with self._lock:
            found = self._texts.get(place)
            if found is None or found[0] != made_from:
                return None
            self._texts.move_to_end(place)
        return zlib.decompress(found[1])

    def put(self, place: Hashable, made_from: Hashable, text: str) -> bytes:
        """Keep a text; gives it as it will be got."""
        data = text.encode()
        packed = zlib.compress(data, _QUICK)
        with self._lock:
            before = self._texts.pop(place, None)
            self._have += len(packed) - (0 if before is None else len(before[1]))
            self._texts[place] = (made_from, packed)
            while self._have > self._most:
                _, (_, gone) = self._texts.popitem(last=False)
                self._have -= len(gone)
        return data
