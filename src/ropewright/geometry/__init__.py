"""Places on the rope: where every metre is, how sure that is, and what the rope meets there.

This room knows sections and places with their two errors, the rope's path over sheaves and drum
for any crane position, how to read a place off a sighting and how to bring it back, which way
the rope runs from the nearest nip, and what a section is exposed to.  It measures; it never
judges: no limit of any rule is known here, and no word is said about whether a way of working
is allowed.  A place of one frame cannot be mixed with one of another.  Numbers that the crane's
papers leave open are carried along as ±, never filled in silently.
"""

from ropewright.geometry.bring import Brought, Way, bring_to
from ropewright.geometry.by_payout import UNKNOWN_OUT_M, hoist_by_payout
from ropewright.geometry.calibrate import Calibration, Found, Residual, calibrate
from ropewright.geometry.direction import (
    MOTIONS,
    AwayFromNip,
    Motion,
    NoWay,
    RopePast,
    away_from_nip,
    rope_past,
)
from ropewright.geometry.drum import (
    GROOVINGS,
    Drum,
    DrumWraps,
    Flange,
    Grooving,
    drum_metres,
    drum_wraps,
    wrap_from_flange,
)
from ropewright.geometry.drum_figures import (
    DrumFigures,
    LayerShift,
    crossover_skew_deg,
    drum_figures,
    fill_estimate_m,
    fleet_angles_deg,
    helix_deg,
    shift_on_drum,
)
from ropewright.geometry.drum_layers import (
    crossover_rise_mm,
    drum_from,
    layer_rise_mm,
    valley_rise_mm,
)
from ropewright.geometry.drum_zones import (
    ZONE_KINDS,
    DrumZone,
    crossover_parts,
    drum_zones,
    in_crossover,
    in_layer_change,
)
from ropewright.geometry.exposure import (
    DRUM_LAYERS,
    SHEAVE_KINDS,
    ExposedSection,
    Exposure,
    exposure_over,
)
from ropewright.geometry.falls import BlockSheaves, Lead, falls_between
from ropewright.geometry.frames import Frame, LevelTrack, LuffingJib, TelescopicBoom
from ropewright.geometry.helping import Help, what_would_help
from ropewright.geometry.hoist import Hoist, ReadingErrors, Spread, Tolerances
from ropewright.geometry.locate import PlaceOnDrum, locate, on_drum, on_drum_now
from ropewright.geometry.met_on_path import MARGIN_M, met_on_path
from ropewright.geometry.observations import (
    AT_DRUM,
    LayerChanged,
    MarkPassed,
    Observation,
    WrapsCounted,
)
from ropewright.geometry.other_cranes import (
    bridge_hoist_single,
    bridge_hoist_twin,
    telescopic_hoist,
)
from ropewright.geometry.place import DrumPlace, PathPlace, RopePlace
from ropewright.geometry.points import InspectionPoint
from ropewright.geometry.position import (
    AXES,
    AXIS_WORDS,
    Axis,
    CranePosition,
    CranePositions,
    Floats,
    Travel,
)
from ropewright.geometry.reeving import (
    CARRIERS,
    DRUM,
    DRUM_A,
    END_A,
    LISTED,
    Carrier,
    Contact,
    Element,
    Reeving,
    Sense,
    Span,
)
from ropewright.geometry.rows import PARAMETERS, Corrections
from ropewright.geometry.section import Section, covered_length, subtract, union
from ropewright.geometry.sighting import (
    COUNTED_FROM,
    SeenAtPoint,
    SeenFromEnd,
    SeenFromMark,
    SeenOnDrum,
    Sighting,
)
from ropewright.geometry.tower_cranes import (
    ANCHORS,
    luffing_jib_hoist,
    luffing_rope,
    trolley_jib_hoist,
    trolley_rope,
)
from ropewright.geometry.trace import CHUNK, PathTrace, trace, trace_in_chunks
from ropewright.geometry.unreachable import REASONS, Reason, Unreachable
from ropewright.geometry.winding import PathZone, Wound, least_and_most_wound_m, path_zones, wound

__all__ = [
    "ANCHORS",
    "AT_DRUM",
    "AXES",
    "AXIS_WORDS",
    "AwayFromNip",
    "Axis",
    "BlockSheaves",
    "Brought",
    "CARRIERS",
    "CHUNK",
    "COUNTED_FROM",
    "Calibration",
    "Carrier",
    "Contact",
    "Corrections",
    "CranePosition",
    "CranePositions",
    "DRUM",
    "DRUM_A",
    "DRUM_LAYERS",
    "Drum",
    "DrumFigures",
    "DrumPlace",
    "DrumWraps",
    "DrumZone",
    "END_A",
    "Element",
    "ExposedSection",
    "Exposure",
    "Flange",
    "Floats",
    "Found",
    "Frame",
    "GROOVINGS",
    "Grooving",
    "Help",
    "Hoist",
    "InspectionPoint",
    "LISTED",
    "LayerChanged",
    "LayerShift",
    "Lead",
    "LevelTrack",
    "LuffingJib",
    "MARGIN_M",
    "MOTIONS",
    "MarkPassed",
    "Motion",
    "NoWay",
    "Observation",
    "PARAMETERS",
    "PathPlace",
    "PathTrace",
    "PathZone",
    "PlaceOnDrum",
    "REASONS",
    "ReadingErrors",
    "Reason",
    "Reeving",
    "Residual",
    "RopePast",
    "RopePlace",
    "SHEAVE_KINDS",
    "Section",
    "SeenAtPoint",
    "SeenFromEnd",
    "SeenFromMark",
    "SeenOnDrum",
    "Sense",
    "Sighting",
    "Span",
    "Spread",
    "TelescopicBoom",
    "Tolerances",
    "Travel",
    "UNKNOWN_OUT_M",
    "Unreachable",
    "Way",
    "Wound",
    "WrapsCounted",
    "ZONE_KINDS",
    "away_from_nip",
    "bridge_hoist_single",
    "bridge_hoist_twin",
    "bring_to",
    "calibrate",
    "covered_length",
    "crossover_parts",
    "crossover_rise_mm",
    "crossover_skew_deg",
    "drum_figures",
    "drum_from",
    "drum_metres",
    "drum_wraps",
    "drum_zones",
    "exposure_over",
    "falls_between",
    "fill_estimate_m",
    "fleet_angles_deg",
    "helix_deg",
    "hoist_by_payout",
    "in_crossover",
    "in_layer_change",
    "layer_rise_mm",
    "least_and_most_wound_m",
    "locate",
    "luffing_jib_hoist",
    "luffing_rope",
    "met_on_path",
    "on_drum",
    "on_drum_now",
    "path_zones",
    "rope_past",
    "shift_on_drum",
    "subtract",
    "telescopic_hoist",
    "trace",
    "trace_in_chunks",
    "trolley_jib_hoist",
    "trolley_rope",
    "union",
    "valley_rise_mm",
    "what_would_help",
    "wound",
    "wrap_from_flange",
]
