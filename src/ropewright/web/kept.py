"""Pages kept ready: the newest so many, safe between threads."""

import threading
from collections import OrderedDict
from collections.abc import Hashable


class KeptPages:
    """Texts by what they were made from; the one longest unused goes first.

    Parameters
    ----------
    most
        How many are kept [-].
    """

    def __init__(self, most: int) -> None:
        self._most = most
        self._lock = threading.Lock()
        self._texts: OrderedDict[Hashable, str] = OrderedDict()

    def get(self, key: Hashable) -> str | None:
        """The text made from a key, if it is still kept."""
        with self._lock:
            text = self._texts.get(key)
            if text is not None:
                self._texts.move_to_end(key)
            return text

    def put(self, key: Hashable, text: str) -> None:
        """Keep a text."""
        with self._lock:
            self._texts[key] = text
            self._texts.move_to_end(key)
            while len(self._texts) > self._most:
                self._texts.popitem(last=False)
