"""The rigging of a rope as tables of a case file."""

from collections.abc import Mapping
from fractions import Fraction
from typing import Final

from ropewright.inspection import (
    CalibrationReading,
    DrumFacts,
    PathPart,
    ReadingErrorFacts,
    ReevingFacts,
    Rigging,
    ToleranceFacts,
    TravelFacts,
    WorkPlace,
)
from ropewright.intake.write_case_text import Table, in_unit, m, mm, without_nothing

#: Keys of the case file by the core's field, where the core keeps a float in [m].
_REEVING_M: Final = {
    "anchor_radius": "anchor_m", "upper_height": "upper_height_m", "hook_below": "hook_below_m",
    "root_radius": "root_m", "to_drum": "to_drum_m", "trolley_half": "trolley_half_m",
    "jib_length": "jib_m", "foot_height": "foot_height_m", "foot_radius": "foot_radius_m",
    "a_frame_back": "a_frame_back_m", "a_frame_up": "a_frame_up_m", "pendant": "pendant_m",
    "tie_at": "tie_at_m", "beyond_boom": "beyond_boom_m", "drum_up": "drum_up_m",
    "end_sheave_radius": "end_sheave_m", "winch_radius": "winch_m",
    "out_at_top": "out_at_top_m", "out_at_top_err": "out_at_top_err_m",
}  # fmt: skip
_REEVING_MM: Final = {
    "upper_sheave": "upper_sheave_mm", "block_sheave": "block_sheave_mm",
    "root_sheave": "root_sheave_mm", "a_frame_sheave": "a_frame_sheave_mm",
    "equaliser_sheave": "equaliser_mm", "end_sheave": "end_sheave_mm",
}  # fmt: skip


def rigging_table(rigging: Rigging) -> Table:
    """One set-up of the rope's path."""
    one = rigging
    return without_nothing(
        {
            "valid_from": one.valid_from,
            "falls": one.falls,
            "drum_layers": one.drum_layers,
            "drum_grooving": one.drum_grooving,
            "drum_diameter": mm(one.drum_diameter_mm),
            "wraps_per_layer": one.drum_wraps_per_layer,
            "dead_wraps": one.dead_wraps,
            "sheaves": one.sheaves,
            "sheave_diameter": mm(one.sheave_diameter_mm),
            "hook_low": m(one.hook_low_m),
            "hook_high": m(one.hook_high_m),
            "remark": one.remark,
        }
    ) | {
        key: value
        for key, value in (
            ("reeving", None if one.reeving is None else _reeving(one.reeving)),
            ("drum", None if one.drum is None else _drum(one.drum)),
            ("travel", None if one.travel is None else _travel(one.travel)),
            ("point", [_work_place(place) for place in one.points] or None),
            ("reading", [_reading(reading) for reading in one.readings] or None),
            ("tolerance", None if one.tolerance is None else _tolerance(one.tolerance)),
            (
                "reading_error",
                None if one.reading_error is None else _reading_error(one.reading_error),
            ),
        )
        if value is not None
    }


def _reeving(facts: ReevingFacts) -> Table:
    return without_nothing(
        {
            "kind": facts.kind,
            "anchor": facts.anchor,
            "block": facts.block,
            "sheaves_lie": facts.sheaves_lie,
            "root_wrap": in_unit(facts.root_wrap_deg, "deg"),
            "lead_angle": in_unit(facts.lead_deg, "deg"),
            "trolley_rope": facts.trolley_rope,
            "root_bend": facts.root_bend,
            "drum_bend": facts.drum_bend,
            "hangs_from": facts.hangs_from,
            "end_a": facts.end_a,
            "end_a_on": facts.end_a_on,
            "part": [_part(part) for part in facts.parts] or None,
            **{key: m(getattr(facts, name)) for key, name in _REEVING_M.items()},
            **{key: in_unit(getattr(facts, name), "mm") for key, name in _REEVING_MM.items()},
        }
    )


def _drum(facts: DrumFacts) -> Table:
    cross = facts.crossover_share
    return without_nothing(
        {
            "pitch": in_unit(facts.pitch_mm, "mm"),
            "width": in_unit(facts.width_mm, "mm"),
            "flange_diameter": in_unit(facts.flange_mm, "mm"),
            "layers": facts.layers,
            "wraps": list(facts.wraps),
            "layer_rise": in_unit(facts.layer_rise_mm, "mm"),
            "crossover_share": None if cross is None else in_unit(_exact(cross) * 100, "%"),
            "crossovers": facts.crossovers,
            "clamp_flange": facts.clamp_flange,
            "far_flange": facts.far_flange,
        }
    )


def _exact(value: float) -> Fraction:
    return Fraction(repr(value))


def _travel(facts: TravelFacts) -> Table:
    lengths = ("radius_min", "radius_max", "boom_min", "boom_max", "ground", "room_above")
    angles = {
        "jib_min": "jib_min_deg", "jib_max": "jib_max_deg", "boom_angle_min": "boom_min_deg",
        "boom_angle_max": "boom_max_deg",
    }  # fmt: skip
    return without_nothing(
        {
            **{key: m(getattr(facts, f"{key}_m")) for key in lengths},
            **{key: in_unit(getattr(facts, name), "deg") for key, name in angles.items()},
            "creep_speed": in_unit(facts.creep_m_per_s, "m/s"),
        }
    )


def _work_place(place: WorkPlace) -> Table:
    point = place.point
    return without_nothing(
        {
            "name": place.name,
            "at": None if point is None else point.at,
            "side": None if point is None else point.side,
            "offset": None if point is None or not point.offset_m else m(point.offset_m),
            "along": place.along,
            "by_hand": place.by_hand or None,
            "remark": place.remark,
        }
    )


def _part(part: PathPart) -> Table:
    if part.kind == "span":
        shares = {"per_drop": part.per_drop, "per_radius": part.per_radius,
                  "per_boom": part.per_boom, "per_luff": part.per_tie}  # fmt: skip
        return without_nothing(
            {
                "span": part.name,
                "fixed": m(part.fixed_m) if part.fixed_m else None,
                **{key: value or None for key, value in shares.items()},
            }
        )
    return without_nothing(
        {
            "sheave": part.name,
            "diameter": in_unit(part.diameter_mm, "mm"),
            "wrap": in_unit(part.wrap_deg, "deg"),
            "wrap_per_jib": part.wrap_per_jib or None,
            "wrap_per_luff": part.wrap_per_tie or None,
            "bend": part.bend,
            "on": part.on if part.on != "crane" else None,
            "groove": part.groove if part.groove != "unknown" else None,
        }
    ) | ({} if part.turns else {"turns": False})


def _reading(reading: CalibrationReading) -> Table:
    at = reading.position
    return without_nothing(
        {
            "kind": reading.kind,
            "name": reading.name,
            "on": reading.on,
            "hook": m(at.hook_m),
            "turns": at.drum_turns,
            "radius": m(at.radius_m),
            "jib": in_unit(at.jib_deg, "deg"),
            "boom": m(at.boom_m),
            "boom_angle": in_unit(at.boom_deg, "deg"),
            "layer": reading.layer,
            "wraps": reading.wraps,
            "count_err": reading.err_turns,
            "point": reading.point,
            "mark": reading.mark,
            "taped": m(reading.taped_m),
            "taped_err": m(reading.taped_err_m),
        }
    )


def _tolerance(facts: ToleranceFacts) -> Table:
    return _errors(
        facts,
        {
            "hook_zero": ("hook_zero_m", "m"), "anchor_side": ("anchor_side_m", "m"),
            "lead": ("lead_m", "m"), "rope_length": ("rope_m", "m"), "barrel": ("barrel_mm", "mm"),
            "layer_rise": ("rise_mm", "mm"), "wraps": ("wraps", ""),
        },
    )  # fmt: skip


def _reading_error(facts: ReadingErrorFacts) -> Table:
    share = facts.tape_share
    return _errors(
        facts,
        {
            "hook": ("hook_m", "m"), "radius": ("radius_m", "m"), "jib": ("jib_deg", "deg"),
            "boom": ("boom_m", "m"), "boom_angle": ("boom_deg", "deg"), "turns": ("drum_turns", ""),
            "point": ("point_m", "m"), "part_of_turn": ("part_of_turn", ""),
            "tape": ("tape_m", "m"),
        },
    ) | ({} if share is None else {"tape_share": in_unit(_exact(share) * 100, "%")})  # fmt: skip


def _errors(
    facts: ToleranceFacts | ReadingErrorFacts, keys: Mapping[str, tuple[str, str]]
) -> Table:
    """The stated ± with their units; turns and wraps are bare numbers."""
    table = {}
    for key, (name, unit) in keys.items():
        value: float | None = getattr(facts, name)
        if value is not None:
            table[key] = in_unit(value, unit) if unit else value
    return table
