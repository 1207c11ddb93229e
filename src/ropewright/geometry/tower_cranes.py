"""Builders for the ropes of tower cranes: hoist, trolley ropes, luffing rope."""

from dataclasses import replace
from typing import Final, Literal, TypeAlias

from ropewright.errors import InputError
from ropewright.geometry.falls import BlockSheaves, Lead, check_falls, falls_between
from ropewright.geometry.frames import LevelTrack, LuffingJib
from ropewright.geometry.position import check_finite, check_not_negative, check_positive
from ropewright.geometry.reeving import Contact, Element, Reeving, Sense, Span

Anchor: TypeAlias = Literal["jib tip", "trolley", "jib foot"]
Block: TypeAlias = Literal["single", "convertible"]

ANCHORS: Final[tuple[Anchor, ...]] = ("jib tip", "trolley", "jib foot")


def trolley_jib_hoist(
    *,
    falls: int,
    frame: LevelTrack,
    sheaves: BlockSheaves,
    lead: Lead,
    root_m: float,
    anchor: Anchor = "jib tip",
    anchor_m: float | None = None,
    block: Block = "single",
    trolley_half_m: float = 0.0,
    outer_half_m: float | None = None,
) -> Reeving:
    """Hoist rope of a trolley-jib tower crane with 2 or 4 falls.

    Parameters
    ----------
    falls
        2 or 4.
    frame
        Heights of trolley sheaves and hook.
    sheaves
        Sheaves of trolley (`upper_mm`) and block.
    lead
        Root sheave and rope from there to the drum.
    root_m
        Radius of the root sheave [m].
    anchor
        Where end A is fastened.
    anchor_m
        Radius of end A's fitting at the jib tip or jib foot [m].
    block
        'convertible' for a block of two parts: on 2 falls its upper sheave is in the block, and
        the rope makes three close bends there; on 4 falls it is at the trolley.
    trolley_half_m
        Distance from the hook's line to the inner trolley sheave [m].
    outer_half_m
        The same outwards to the outer trolley sheave, if it differs [m].
    """
    if falls not in (2, 4):
        raise InputError(
            field="falls", expected="2 or 4 (else give spans and sheaves one by one)", given=falls
        )
    check_not_negative("root_m", root_m)
    check_not_negative("trolley_half_m", trolley_half_m)
    outer_half_m = trolley_half_m if outer_half_m is None else outer_half_m
    check_finite("outer_half_m", outer_half_m)
    elements = [
        *_anchor_side(anchor, anchor_m, sheaves, outer_half_m),
        *_trolley_falls(falls, block, sheaves),
        _quarter("inner trolley sheave", sheaves, sheaves.upper_sense),
        Span(name="along the jib", per_radius=1.0, fixed_m=-root_m - trolley_half_m),
        *lead.elements,
    ]
    return Reeving(
        name="hoist rope",
        frame=frame,
        elements=tuple(elements),
        end_a_on="trolley" if anchor == "trolley" else "crane",
        drum_sense=lead.sense,
    )


def _quarter(name: str, sheaves: BlockSheaves, sense: Sense) -> Contact:
    return Contact(
        name=name,
        pitch_diameter_mm=sheaves.upper_mm,
        sense=sense,
        wrap_deg=90.0,
        on="trolley",
        groove=sheaves.groove,
    )


def _anchor_side(
    anchor: Anchor, anchor_m: float | None, sheaves: BlockSheaves, half_m: float
) -> tuple[Element, ...]:
    if anchor not in ANCHORS:
        raise InputError(field="anchor", expected=f"one of {', '.join(ANCHORS)}", given=anchor)
    if anchor == "trolley":
        return ()
    if anchor_m is None:
        raise InputError(
            field="anchor_m", expected=f"the radius of the fitting at the {anchor}", given=None
        )
    if anchor == "jib tip":
        span = Span(name="from the jib tip", fixed_m=anchor_m - half_m, per_radius=-1.0)
        return (span, _quarter("outer trolley sheave", sheaves, sheaves.upper_sense))
    span = Span(name="from the jib foot", fixed_m=half_m - anchor_m, per_radius=1.0)
    other: Sense = -1 if sheaves.upper_sense == 1 else 1
    return (span, _quarter("outer trolley sheave", sheaves, other))


def _trolley_falls(falls: int, block: Block, sheaves: BlockSheaves) -> tuple[Element, ...]:
    if falls == 4 or block == "single":
        return falls_between(falls, sheaves, first_end="above", above_on="trolley")
    parts = list(falls_between(4, sheaves, first_end="above", above_on="trolley"))
    # The upper sheave is pinned in the block: the two falls beside it close up.
    parts[2], parts[4] = Span(name="fall 2"), Span(name="fall 3")
    upper = parts[3]
    parts[3] = replace(upper, on="block") if isinstance(upper, Contact) else upper
    return tuple(parts)


def trolley_rope(
    *,
    rope: Literal["inner", "outer"],
    end_sheave_m: float,
    winch_m: float,
    sheave_mm: float | None = None,
    wrap_deg: float = 180.0,
    sense: Sense = 1,
    trolley_half_m: float = 0.0,
) -> Reeving:
    """Trolley rope from the trolley (end A) round the jib's end sheave to the trolley winch.

    Parameters
    ----------
    rope
        'inner' pulls the trolley in and runs to the jib foot, 'outer' to the jib tip.
    end_sheave_m
        Radius of the sheave at the jib foot or tip; without a sheave: of the winch [m].
    winch_m
        Radius at which the winch stands [m].
    sheave_mm
        Diameter of that sheave to the rope's centre line [mm]; none if the rope goes straight
        to the winch.
    wrap_deg
        Wrap on that sheave [deg].
    sense
        To which side it is bent there.
    trolley_half_m
        Distance from the trolley's middle to the rope's fitting [m].
    """
    check_not_negative("end_sheave_m", end_sheave_m)
    check_not_negative("winch_m", winch_m)
    check_not_negative("trolley_half_m", trolley_half_m)
    inner = rope == "inner"
    first = (
        Span(name="along the jib", per_radius=1.0, fixed_m=-end_sheave_m - trolley_half_m)
        if inner
        else Span(name="along the jib", per_radius=-1.0, fixed_m=end_sheave_m - trolley_half_m)
    )
    elements: list[Element] = [first]
    if sheave_mm is not None:
        name = "jib foot sheave" if inner else "jib tip sheave"
        elements.append(
            Contact(name=name, pitch_diameter_mm=sheave_mm, sense=sense, wrap_deg=wrap_deg)
        )
        back = winch_m - end_sheave_m if inner else end_sheave_m - winch_m
        if back < 0:
            raise InputError(
                field="winch_m",
                expected=f"a radius {'beyond' if inner else 'inside'} end_sheave_m, "
                f"{end_sheave_m:g}",
                given=winch_m,
            )
        elements.append(Span(name="back to the winch", fixed_m=back))
    return Reeving(
        name=f"{rope} trolley rope",
        frame=LevelTrack(sheave_height_m=0.0),
        elements=tuple(elements),
        end_a_on="trolley",
        drum_sense=sense,
    )


def luffing_jib_hoist(
    *,
    falls: int,
    frame: LuffingJib,
    sheaves: BlockSheaves,
    a_frame_sheave_mm: float,
    lead_deg: float,
    lead: Lead,
) -> Reeving:
    """Hoist rope of a luffing-jib tower crane; odd falls are anchored at the block.

    Parameters
    ----------
    falls
        1, 2 or 4 (any number can be built).
    frame
        Jib, A-frame and heights; its `tie_offset_m` is set here from the two sheaves.
    sheaves
        Sheaves of jib head (`upper_mm`) and block.
    a_frame_sheave_mm
        Diameter of the sheave on the A-frame to the rope's centre line [mm].
    lead_deg
        Direction in which the rope leaves the A-frame's sheave towards the drum, counted from
        'along the jib, level' over 'up': straight down is 270 [deg].
    lead
        Further sheaves if any, and rope from the A-frame's sheave to the drum.
    """
    check_falls(falls)
    check_positive("a_frame_sheave_mm", a_frame_sheave_mm)
    offset = (a_frame_sheave_mm - sheaves.upper_mm) / 2000
    head = Contact(
        name="jib head sheave",
        pitch_diameter_mm=sheaves.upper_mm,
        sense=1,
        wrap_deg=-90.0,
        wrap_per_tie=1.0,
        on="jib",
        groove=sheaves.groove,
    )
    elements = (
        *falls_between(falls, sheaves, first_end="block" if falls % 2 else "above", above_on="jib"),
        head,
        Span(name="to the A-frame", per_tie=1.0),
        _a_frame_sheave(a_frame_sheave_mm, lead_deg),
        *lead.elements,
    )
    return Reeving(
        name="hoist rope",
        frame=_frame_with(frame, tie_at_m=None, tie_offset_m=offset),
        elements=elements,
        end_a_on="block" if falls % 2 else "jib",
        drum_sense=lead.sense,
    )


def _a_frame_sheave(diameter_mm: float, lead_deg: float) -> Contact:
    return Contact(
        name="A-frame sheave",
        pitch_diameter_mm=diameter_mm,
        sense=1,
        wrap_deg=lead_deg,
        wrap_per_tie=-1.0,
    )


def _frame_with(frame: LuffingJib, *, tie_at_m: float | None, tie_offset_m: float) -> LuffingJib:
    return LuffingJib(
        jib_m=frame.jib_m,
        foot_height_m=frame.foot_height_m,
        foot_radius_m=frame.foot_radius_m,
        a_frame_back_m=frame.a_frame_back_m,
        a_frame_up_m=frame.a_frame_up_m,
        hook_below_m=frame.hook_below_m,
        tie_at_m=tie_at_m,
        tie_offset_m=tie_offset_m,
    )


def luffing_rope(
    *,
    falls: int,
    frame: LuffingJib,
    pendant_m: float,
    sheave_mm: float,
    lead_deg: float,
    lead: Lead,
    tie_at_m: float | None = None,
) -> Reeving:
    """Luffing rope between the A-frame and the block at the end of the jib's pendants.

    Parameters
    ----------
    falls
        Falls between A-frame and luffing block; odd ones have end A at the block.
    frame
        Jib and A-frame.
    pendant_m
        From the jib's fitting to the centre of the luffing block's sheaves [m].
    sheave_mm
        Diameter of the sheaves at both ends to the rope's centre line [mm].
    lead_deg
        Direction in which the rope leaves the A-frame's last sheave towards the drum, as for
        the hoist rope [deg].
    lead
        Further sheaves if any, and rope from there to the drum.
    tie_at_m
        Where along the jib the pendants are fitted; the head, if not given [m].
    """
    check_falls(falls)
    check_not_negative("pendant_m", pendant_m)
    elements: list[Element] = []
    at_a_frame = even = falls % 2 == 0
    for number in range(1, falls + 1):
        elements.append(Span(name=f"fall {number}", per_tie=1.0, fixed_m=-pendant_m))
        if number < falls:
            where = "luffing block" if at_a_frame else "upper"
            count = (number + 1) // 2
            elements.append(
                Contact(
                    name=f"{where} sheave {count}",
                    pitch_diameter_mm=sheave_mm,
                    on="jib" if at_a_frame else "crane",
                )
            )
        at_a_frame = not at_a_frame
    return Reeving(
        name="luffing rope",
        frame=_frame_with(frame, tie_at_m=tie_at_m, tie_offset_m=0.0),
        elements=(*elements, _a_frame_sheave(sheave_mm, lead_deg), *lead.elements),
        end_a_on="crane" if even else "jib",
        drum_sense=lead.sense,
    )
