"""A path told piece by piece, drawn in its order: falls upright, everything else in a row."""

from ropewright.geometry import Contact, Hoist, Span
from ropewright.picture.rope_line import Round

NOTE = "sheaves in their order along the rope; where they stand in space is not stated"


def listed_rounds(
    hoist: Hoist, *, r: float, drum_r: float, left: float, right: float, upper_y: float,
    block_y: float,
) -> tuple[Round, ...]:  # fmt: skip
    """What the drawn rope goes round, from end A on the right to the drum on the left.

    Parameters
    ----------
    hoist
        The hoist as rigged.
    r, drum_r
        Radii of a drawn sheave and of the drawn drum [-].
    left, right
        The room there is [-].
    upper_y, block_y
        Where sheaves above and sheaves of the block are drawn [-].
    """
    upright = _upright(hoist)
    falls = sum(upright[:-1])
    wide = (right - left - 2 * r * falls) / max(len(upright) - falls, 1)
    reeving = hoist.reeving
    x = right
    low = reeving.end_a_on == "block"
    rounds = []
    if reeving.end_a == "drum":
        rounds.append(Round(name="drum A", x=x, y=upper_y - r + drum_r, r=drum_r, turn=1))
        x -= drum_r + r
    else:
        rounds.append(
            Round(name="end A", x=x, y=block_y if low else upper_y - r * (not upright[0]))
        )
    for number, contact in enumerate(reeving.contacts):
        step = r if upright[number] and number == 0 else 2 * r if upright[number] else wide
        x -= step
        below = contact.on == "block"
        rounds.append(
            Round(
                name=contact.name,
                x=x,
                y=block_y if below else upper_y,
                r=r,
                turn=-1 if below else 1,
            )
        )
    rounds.append(Round(name="drum", x=left, y=upper_y - r + drum_r, r=drum_r, turn=1))
    return tuple(rounds)


def _upright(hoist: Hoist) -> list[bool]:
    """For each run of free rope between contacts, whether it grows with the drop."""
    found = [False]
    for element in hoist.reeving.elements:
        if isinstance(element, Span):
            found[-1] = found[-1] or bool(element.per_drop)
        elif isinstance(element, Contact):
            found.append(False)
    return found
