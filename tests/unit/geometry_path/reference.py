"""The reference crane and drum that the worked figures belong to."""

import math

from ropewright.geometry import (
    BlockSheaves,
    Drum,
    Hoist,
    InspectionPoint,
    Lead,
    LevelTrack,
    Reeving,
    Travel,
    drum_from,
    trolley_jib_hoist,
)

TOWER_HEAD = InspectionPoint(name="tower head", at="root sheave", side="before", offset_m=2.0)

SHEAVES = BlockSheaves(block_mm=500, upper_mm=500, block_sense=-1, upper_sense=1)


def reference_drum(rise_of_rope: float = 0.9, layers: int = 5) -> Drum:
    """Return 20.4 mm rope on a 480 mm barrel, 28 wraps in every layer."""
    return drum_from(
        barrel_mm=480,
        rope_mm=20.4,
        wraps=28,
        layers=layers,
        rise_mm=rise_of_rope * 20.4,
        pitch_mm=20.9,
        grooving="parallel",
    )


def reference_reeving(falls: int = 2) -> Reeving:
    """Return the path of a 60 m jib; 14 m from the root sheave to the drum, its arc included."""
    return trolley_jib_hoist(
        falls=falls,
        frame=LevelTrack(sheave_height_m=62.0, hook_below_m=1.2),
        sheaves=SHEAVES,
        lead=Lead(to_drum_m=14 - math.pi * 0.25 / 2, sheave_mm=500),
        root_m=1.5,
        anchor_m=60.0,
    )


REFERENCE_TRAVEL = Travel(hook_low_m=0.0, hook_high_m=60.0, radius_min_m=2.0, radius_max_m=58.0)


def reference_hoist(falls: int = 2) -> Hoist:
    """Return the reference crane with its drum; as many layers as the highest hook needs."""
    return Hoist(
        reeving=reference_reeving(falls),
        travel=REFERENCE_TRAVEL,
        rope_m=205.0 if falls == 2 else 330.0,
        drum=reference_drum(layers=6 if falls == 2 else 7),
    )
