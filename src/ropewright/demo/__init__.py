"""The invented crane site 'Kestrel Quay': case files to try the tool with, and no real data.

This room knows the case files that come with the tool and hands out their text.  It refuses
to know what a case file means: no reader, no rule, no verdict.  Every one of its files says
``invented = true``, and so does every page and report that is made from it.
"""

import re
from importlib.resources import files
from typing import Final

from ropewright.errors import UnknownNameError

__all__ = ["demo_case", "demo_names"]

_ENDING: Final = ".toml"


def demo_names() -> tuple[str, ...]:
    """Names of the invented case files, sorted.

    Examples
    --------
    >>> demo_names()
    ('KQ-1', 'KQ-1-trolley')
    """
    entries = files(__name__).joinpath("data").iterdir()
    names = [entry.name for entry in entries if entry.name.endswith(_ENDING)]
    return tuple(sorted(name.removesuffix(_ENDING) for name in names))


def demo_case(name: str) -> str:
    """Return the text of an invented case file.

    Parameters
    ----------
    name
        One of `demo_names()`, such as ``KQ-1``; upper and lower case do not matter.

    Raises
    ------
    UnknownNameError
        If there is no such case file.
    """
    known = demo_names()
    plain = re.sub(r"\s+", "-", name.strip()).casefold()
    for one in known:
        if one.casefold() == plain:
            path = files(__name__).joinpath("data", one + _ENDING)
            return path.read_text(encoding="utf-8")
    raise UnknownNameError(what="an invented case file", given=name, known=known)
