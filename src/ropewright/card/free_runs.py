"""The free rope beside a walkway, for many crane positions at once."""

import math

from ropewright.geometry import CranePositions, Hoist, Section, Span, trace


def free_runs(hoist: Hoist, span: str, at: CranePositions) -> list[Section | None]:
    """The free rope in which a span lies, from the contact before it to the one after it.

    Parameters
    ----------
    hoist
        The hoist.
    span
        Name of the span.
    at
        The crane positions.

    Returns
    -------
    list of Section or None
        One per position, on the path; ``None`` where it has no length or an axis is not known.
    """
    found = trace(hoist, at)
    before = -1
    for element in hoist.reeving.elements:
        if not isinstance(element, Span):
            before += 1
        elif element.name == span:
            break
    last = before + 1 == len(found.contacts)
    starts = found.base_m if before < 0 else found.end_m[before]
    ends = found.out_m if last else found.start_m[before + 1]
    return [
        None if math.isnan(start) or math.isnan(end) or end <= start else Section(start, end)
        for start, end in zip(starts.tolist(), ends.tolist(), strict=True)
    ]
