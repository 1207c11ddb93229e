"""Pages and pictures for a person who chose feet, inches and pounds.

What is only advice the templates tell in the person's units; whatever else a page says in metric
figures, the words of a ruling or of an entry first of all, keeps its words and gets the other
figure in brackets, so that nothing is left that only metric people can read.
"""

import re
from typing import Any, Final

from jinja2 import pass_context
from jinja2.runtime import Context
from markupsafe import Markup

from ropewright.units import in_us, us_beside, us_example

#: Parts of a page whose text is a value, a program or drawn in its own units already.
_HTML: Final = re.compile(
    r"<(script|style|textarea|title|svg|code)\b.*?</\1>|<option\b[^>]*>[^<]*"
    r'|<span class="hint">([^<]+)|<[^>]*>|[^<]+',
    re.DOTALL,
)
_PLACEHOLDER: Final = re.compile(r'(?<= placeholder=")[^"]*')
#: Beside these a keypad of digits would keep feet and inches out.
_KEYPAD: Final = ' inputmode="decimal"'
_SVG: Final = re.compile(
    r"<style\b.*?</style>|<(title|desc|text)\b[^>]*>([^<]+)|<[^>]*>|[^<]+", re.DOTALL
)
_JOIN: Final = r"(?:to|and|or|±|[–,;/×+=-])"
#: Figures that a line leaves open and the next one goes on with.
_TORN: Final = re.compile(rf"[0-9] ?{_JOIN} ?\n|[0-9] ?\n ?{_JOIN} ")


def us_page(html: str) -> str:
    """A page with US units in brackets after every metric figure of its text.

    Hints of forms get examples in US units, and no field is kept to digits, for a length is typed
    with its unit.  What stands in fields, choices, code and drawings stays as it is.

    Examples
    --------
    >>> us_page('<p>at 41.2 m</p><input value="41.2 m">')
    '<p>at 41.2 m (135.2 ft)</p><input value="41.2 m">'
    """
    return _HTML.sub(_text_of_page, html)


def _text_of_page(match: re.Match[str]) -> str:
    said = match[0]
    if not said.startswith("<"):
        return us_beside(said)
    if match[2]:
        return us_example(said)
    if said.startswith("<input"):
        return _PLACEHOLDER.sub(lambda one: us_example(one[0]), said.replace(_KEYPAD, ""))
    return said


def us_drawing(svg: str) -> str:
    """A drawing whose words are told in US units; its axis has to be drawn in them already.

    A figure that may be torn apart by the end of a line stays metric.

    Examples
    --------
    >>> us_drawing('<text x="1">hook at 41.2 m</text>')
    '<text x="1">hook at 135.2 ft</text>'
    """
    before = ""

    def one(match: re.Match[str]) -> str:
        nonlocal before
        words = match[2]
        if not words:
            return match[0]
        head = match[0][: -len(words)]
        if match[1] != "text":
            return head + us_beside(words)
        torn = _TORN.search(f"{before[-8:]}\n{words[:8]}") is not None
        before = words
        return head + (us_beside(words) if torn else in_us(words))

    return _SVG.sub(one, svg)


@pass_context
def in_units(context: Context, value: Any) -> Any:  # noqa: ANN401 - whatever a template holds
    """Advice in the person's units: a filter of the templates; what is no text stays."""
    caller = context.get("caller")
    units = context.get("units", "metric") if caller is None else caller.units
    if units != "us" or not isinstance(value, str):
        return value
    told = in_us(str(value))
    return Markup(told) if isinstance(value, Markup) else told


@pass_context
def either(context: Context, metric: str, us: str) -> str:
    """The words for the person's units."""
    caller = context.get("caller")
    return us if caller is not None and caller.units == "us" else metric
