"""The label that hangs at the crane: rope and hoist in words, and a code that opens its page."""

import io
from collections.abc import Sequence
from datetime import date
from typing import Final

import segno

from ropewright.errors import RenderError
from ropewright.paper.letters import written
from ropewright.paper.setting import set_page

LONGEST_LINE: Final = 80
LONGEST_ADDRESS: Final = 300


def label_pdf(
    *, title: str, lines: Sequence[str], address: str, note: str, invented: bool, made_on: date
) -> bytes:
    """A label of A7 size.

    Parameters
    ----------
    title
        The rope.
    lines
        What stands below it: crane, hoist, construction; at most six lines are printed.
    address
        What the code holds: the address of the rope's page.
    note
        What to do with it.
    invented
        Whether the data are invented, which the label then says.
    made_on
        The date of the label.

    Raises
    ------
    RenderError
        If the address is too long for a code, or the label cannot be set.
    """
    if len(address) > LONGEST_ADDRESS:
        raise RenderError(
            field="address", expected=f"at most {LONGEST_ADDRESS} letters for a code",
            given=f"{len(address)} letters",
        )  # fmt: skip
    drawn = io.BytesIO()
    segno.make_qr(address, error="q").save(drawn, kind="svg", border=2, scale=4)
    data = {
        "title": written(title[:LONGEST_LINE]),
        "lines": [written(line[:LONGEST_LINE]) for line in lines[:6]],
        "note": written(note[:200]),
        "address": written(address),
        "alt": written(f"Code that opens {address}"),
        "invented": "Invented data" if invented else "",
        "made_parts": [made_on.year, made_on.month, made_on.day],
    }
    return set_page("label.typ", data, {"code.svg": drawn.getvalue()}, made_on=made_on)
