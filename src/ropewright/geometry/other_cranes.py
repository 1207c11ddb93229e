"""Builders for the hoist ropes of telescopic cranes and bridge cranes."""

from ropewright.geometry.falls import BlockSheaves, Lead, check_falls, falls_between
from ropewright.geometry.frames import LevelTrack, TelescopicBoom
from ropewright.geometry.position import check_finite, check_positive
from ropewright.geometry.reeving import Contact, Element, Reeving, Sense, Span


def telescopic_hoist(
    *,
    falls: int,
    frame: TelescopicBoom,
    sheaves: BlockSheaves,
    lead: Lead,
    beyond_boom_m: float = 0.0,
) -> Reeving:
    """Hoist rope of a telescopic crane; odd falls are anchored at the block, even at the head.

    Parameters
    ----------
    falls
        Any number, 1 or more.
    frame
        The boom's foot and heights.
    sheaves
        Sheaves of boom head (`upper_mm`) and block.
    lead
        Guide sheave behind the boom if any, and rope from there to the drum.
    beyond_boom_m
        How much longer than the boom the rope along it is (shorter: negative) [m].
    """
    check_falls(falls)
    check_finite("beyond_boom_m", beyond_boom_m)
    head = Contact(
        name="boom head sheave",
        pitch_diameter_mm=sheaves.upper_mm,
        sense=sheaves.upper_sense,
        wrap_deg=90.0,
        wrap_per_jib=1.0,
        on="jib",
        groove=sheaves.groove,
    )
    return Reeving(
        name="hoist rope",
        frame=frame,
        elements=(
            *falls_between(
                falls, sheaves, first_end="block" if falls % 2 else "above", above_on="jib"
            ),
            head,
            Span(name="along the boom", per_boom=1.0, fixed_m=beyond_boom_m),
            *lead.elements,
        ),
        end_a_on="block" if falls % 2 else "jib",
        drum_sense=lead.sense,
    )


def bridge_hoist_twin(
    *,
    falls: int,
    frame: LevelTrack,
    sheaves: BlockSheaves,
    equaliser_mm: float,
    drum_up_m: float = 0.0,
    drum_sense: Sense = 1,
) -> Reeving:
    """Hoist rope of a bridge crane with both ends on a twin drum and an equaliser in the middle.

    Parameters
    ----------
    falls
        2, 4, 6 …; half of them on each side.  With 2, 6, 10 the equaliser is in the block.
    frame
        Heights of the upper sheaves and the hook.
    sheaves
        Sheaves of crab (`upper_mm`) and block.
    equaliser_mm
        Diameter of the equaliser sheave to the rope's centre line [mm].
    drum_up_m
        How far the drum's axis lies above the centres of the upper sheaves [m].
    drum_sense
        Sense in which the drum bends the rope.
    """
    check_falls(falls, even=True)
    check_positive("equaliser_mm", equaliser_mm)
    check_finite("drum_up_m", drum_up_m)
    parts = list(
        falls_between(
            falls, sheaves, first_end="above", above_on="crane", last_fall_more_m=drum_up_m
        )
    )
    parts[0] = Span(name="fall 1", per_drop=1.0, fixed_m=drum_up_m)
    middle = len(parts) // 2
    parts[middle] = Contact(
        name="equaliser",
        pitch_diameter_mm=equaliser_mm,
        sense=sheaves.block_sense if falls % 4 else sheaves.upper_sense,
        groove=sheaves.groove,
        on="block" if falls % 4 else "crane",
        turns=False,
    )
    return Reeving(
        name="hoist rope",
        frame=frame,
        elements=tuple(parts),
        end_a="drum",
        drum_sense=drum_sense,
    )


def bridge_hoist_single(
    *,
    falls: int,
    frame: LevelTrack,
    sheaves: BlockSheaves,
    drum_up_m: float = 0.0,
    lead: Lead | None = None,
    drum_sense: Sense = 1,
) -> Reeving:
    """Hoist rope of a bridge crane with one end on a single drum.

    Parameters
    ----------
    falls
        Any number; odd ones have end A at the block, even ones at the crab.
    frame
        Heights of the upper sheaves and the hook.
    sheaves
        Sheaves of crab (`upper_mm`) and block.
    drum_up_m
        How far the drum's axis, or with a lead its first sheave, lies above the centres of the
        upper sheaves [m].
    lead
        Sheaves between the last fall and the drum, if any.
    drum_sense
        Sense in which the drum bends the rope.
    """
    check_falls(falls)
    check_finite("drum_up_m", drum_up_m)
    elements: tuple[Element, ...] = falls_between(
        falls,
        sheaves,
        first_end="block" if falls % 2 else "above",
        above_on="crane",
        last_fall_more_m=drum_up_m,
    )
    return Reeving(
        name="hoist rope",
        frame=frame,
        elements=elements if lead is None else (*elements, *lead.elements),
        end_a_on="block" if falls % 2 else "crane",
        drum_sense=drum_sense,
    )
