"""The words of pages and field app, read once: keys lead to words, pages hold none themselves.

``texts/en.json`` holds what pages and field app share, ``field.en.json`` the words of the field
app alone, the other files those of the pages.
"""

import json
import re
from collections.abc import Iterator, Mapping
from importlib import resources
from typing import Any, Final

from markupsafe import Markup, escape

#: What the field app is given: the words it shares with the pages, and its own.
FIELD_FILES: Final = ("en.json", "field.en.json")

_NO_LETTER: Final = re.compile(r"[^A-Za-z0-9]+")


class Catalogue(Mapping[str, str]):
    """Words by key.

    Parameters
    ----------
    words
        What each key says; places for values as ``{name}``.

    Examples
    --------
    >>> said = Catalogue({"left.one": "{n} rope left", "left.many": "{n} ropes left"})
    >>> said.tn("left", 1), said.tn("left", 12)
    ('1 rope left', '12 ropes left')
    """

    __slots__ = ("_words",)

    def __init__(self, words: Mapping[str, str]) -> None:
        self._words = dict(words)

    def __getitem__(self, key: str) -> str:
        """What a key says, with its places still open."""
        return self._words[key]

    def __iter__(self) -> Iterator[str]:
        """All keys."""
        return iter(self._words)

    def __len__(self) -> int:
        """How many keys there are."""
        return len(self._words)

    def t(self, key: str, /, **values: Any) -> str:  # noqa: ANN401 - whatever the words name
        """The words of a key with values in their places; markup stays markup, the rest is text.

        Parameters
        ----------
        key
            Which words.
        values
            What stands in their places.
        """
        words = self._words[key]
        if not values:
            return words
        if any(hasattr(one, "__html__") for one in values.values()):
            return Markup(escape(words)).format(**values)
        return words.format(**values)

    def tn(self, key: str, n: int, /, **values: Any) -> str:  # noqa: ANN401 - as above
        """The words for so many: ``key.one`` for one, ``key.many`` else; the number is ``{n}``.

        Parameters
        ----------
        key
            Which words.
        n
            How many [-].
        values
            What else stands in their places.
        """
        return self.t(f"{key}.one" if n == 1 else f"{key}.many", n=n, **values)

    def word(self, kind: str, value: str, /) -> str:
        """The words for a value out of a list of the trade; the value itself if there are none.

        Parameters
        ----------
        kind
            Which list, such as ``method``.
        value
            The value as the book has it, such as ``eye-round``.
        """
        return self._words.get(f"{kind}.{_NO_LETTER.sub('-', value).lower()}", value)


def load_texts(*files: str) -> Catalogue:
    """The words in files of the catalogue, as one.

    Parameters
    ----------
    files
        Names of files; all of them if none is named.
    """
    made: dict[str, str] = {}
    folder = resources.files("ropewright.web").joinpath("texts")
    for found in sorted(folder.iterdir(), key=lambda one: one.name):
        if found.name in files if files else found.name.endswith("en.json"):
            made.update(json.loads(found.read_text(encoding="utf-8")))
    return Catalogue(made)
