"""The path model of a day, from what is stated of the rigging; and what is missing for more."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Final

from ropewright.errors import InputError
from ropewright.geometry import (
    Drum,
    Hoist,
    Lead,
    LuffingJib,
    Travel,
    drum_from,
    hoist_by_payout,
)
from ropewright.inspection.calibrated import ReadingsFit, calibrated, with_stated_errors
from ropewright.inspection.dossier import Dossier, Rigging
from ropewright.inspection.paths import (
    Asked,
    asked_for_bends,
    asked_for_path,
    path_of,
    radius_for_jib,
)
from ropewright.inspection.rigged import DrumFacts, ReevingFacts, TravelFacts

#: Names of the path model, and the keys under which a person states them.
KEYS: Final[Mapping[str, str]] = {
    "a_frame_back_m": "reeving.a_frame_back",
    "a_frame_sheave_mm": "reeving.a_frame_sheave",
    "a_frame_up_m": "reeving.a_frame_up",
    "anchor_m": "reeving.anchor_radius",
    "beyond_boom_m": "reeving.beyond_boom",
    "block_mm": "reeving.block_sheave",
    "boom_max_deg": "travel.boom_angle_max",
    "boom_max_m": "travel.boom_max",
    "boom_min_deg": "travel.boom_angle_min",
    "boom_min_m": "travel.boom_min",
    "drop_min_m": "travel.room_above",
    "drum.barrel_mm": "drum_diameter",
    "drum.crossover_share": "drum.crossover_share",
    "drum.flange_mm": "drum.flange_diameter",
    "drum.pitch_mm": "drum.pitch",
    "drum.rise_mm": "drum.layer_rise",
    "drum.width_mm": "drum.width",
    "drum.wraps": "wraps_per_layer",
    "drum_up_m": "reeving.drum_up",
    "end_sheave_m": "reeving.end_sheave_radius",
    "equaliser_mm": "reeving.equaliser_sheave",
    "foot_height_m": "reeving.foot_height",
    "foot_radius_m": "reeving.foot_radius",
    "ground_m": "travel.ground",
    "hook_below_m": "reeving.hook_below",
    "hook_high_m": "hook_high",
    "hook_low_m": "hook_low",
    "jib_m": "reeving.jib_length",
    "jib_max_deg": "travel.jib_max",
    "jib_min_deg": "travel.jib_min",
    "lead.sheave_mm": "reeving.root_sheave",
    "lead.to_drum_m": "reeving.to_drum",
    "out_at_top_err_m": "reeving.out_at_top_err",
    "out_at_top_m": "reeving.out_at_top",
    "pendant_m": "reeving.pendant",
    "radius_m": "travel.radius_max",
    "radius_max_m": "travel.radius_max",
    "radius_min_m": "travel.radius_min",
    "root_m": "reeving.root_radius",
    "sheave_height_m": "reeving.upper_height",
    "tie_at_m": "reeving.tie_at",
    "trolley_half_m": "reeving.trolley_half",
    "upper_mm": "reeving.upper_sheave",
    "winch_m": "reeving.winch_radius",
}
_NAMES: Final = re.compile(
    "|".join(rf"\b{re.escape(name)}\b" for name in sorted(KEYS, key=len, reverse=True))
)

#: Purposes of ropes whose path says nothing about falls and hook heights.
_NO_HOIST: Final = ("trolley", "luffing")

DRUM_NEEDS: Final = (
    Asked(key="drum_diameter", words="the barrel diameter at the groove bottom"),
    Asked(key="wraps_per_layer", words="the wraps of one layer, counted"),
)
PAYOUT_NEEDS: Final = (
    Asked(key="falls", words="the number of falls"),
    Asked(key="hook_low", words="the lowest hook height"),
    Asked(key="hook_high", words="the highest hook height"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class RiggedHoist:
    """The path model of a day.

    ``by_payout`` tells that only falls and hook heights carry it; ``asked`` are the numbers that
    would give the whole path, ``asked_for_drum`` those that would give places on the drum,
    ``asked_for_bends`` what would tell of reverse bends.  ``calibration`` is what readings at the
    crane made of the stated numbers; the hoist has it in it.
    """

    hoist: Hoist
    rigging: Rigging
    by_payout: bool
    asked: tuple[Asked, ...] = ()
    asked_for_drum: tuple[Asked, ...] = ()
    asked_for_bends: tuple[Asked, ...] = ()
    calibration: ReadingsFit | None = None

    def drum(self) -> Drum:
        """The drum as wound.

        Raises
        ------
        InputError
            If it is not described; names the number to give.
        """
        if self.asked_for_drum:
            raise missing(self.asked_for_drum[0], why="for places on the drum").within("rigging")
        return self.hoist.wound_drum()


def missing(asked: Asked, *, why: str = "") -> InputError:
    """The error that asks for a number."""
    return InputError(
        field=asked.key, expected=f"{asked.words}{f', {why}' if why else ''}", given=None
    )


def hoist_on(dossier: Dossier, on: date) -> RiggedHoist:
    """The path model of a rope's hoist on a day.

    Raises
    ------
    InputError
        If not even falls and two hook heights are known, or the numbers contradict each other;
        names the number to give or to change.
    """
    rigging = dossier.rigging_at(on)
    if rigging is None:
        raise InputError(
            field="rigging",
            expected=f"a set-up of the rope's path in force on {on.isoformat()}, with falls and "
            "the lowest and highest hook height",
            given=None,
        )
    try:
        return hoist_of(dossier, rigging, on)
    except InputError as error:
        raise (error if error.field == "rope.length" else error.within("rigging")) from None


def hoist_of(dossier: Dossier, rigging: Rigging, on: date) -> RiggedHoist:
    """The path model of one set-up, with the rope as it is on a day.

    Raises
    ------
    InputError
        As `hoist_on`; the field is the key within the set-up.
    """
    reference = dossier.installation.reference
    measured = None if reference is None else reference.measured_mm
    rope_mm = float(measured or dossier.rope.nominal_diameter_mm)
    rope_m = dossier.history.at(on).length_m
    facts = rigging.reeving
    if (facts is None or facts.kind is None) and dossier.installation.purpose in _NO_HOIST:
        raise missing(
            Asked(key="reeving.kind", words="what kind of path the rope takes"),
            why=f"as it is no hoist rope ({dossier.installation.purpose})",
        )
    try:
        rigged = _hoist(rigging, rope_m=rope_m, rope_mm=rope_mm)
        stated = replace(rigged, hoist=with_stated_errors(rigged.hoist, rigging))
        found = calibrated(dossier, rigging, stated.hoist, on)
    except InputError as error:
        raise _in_keys(error) from None
    if found is None:
        return stated
    hoist, fit = found
    return replace(stated, hoist=hoist, calibration=fit)


def _in_keys(error: InputError) -> InputError:
    """The same complaint in the words under which the numbers were stated."""
    field = error.field or ""
    if field == "rope_m":
        error.field = "rope.length"
    else:
        error.field = _in_parts(KEYS.get(field, field)) or None
    if error.expected:
        error.expected = _NAMES.sub(lambda found: KEYS[found.group()], error.expected)
    return error


def _in_parts(field: str) -> str:
    """The field of a single span or sheave under the key where a case file has it."""
    for name, key in ((".fixed_m", ".fixed"), (".pitch_diameter_mm", ".diameter"),
                      (".wrap_deg", ".wrap"), (".per_tie", ".per_luff")):  # fmt: skip
        if field.endswith(name):
            return field.removesuffix(name) + key
    return field


def _hoist(rigging: Rigging, *, rope_m: float, rope_mm: float) -> RiggedHoist:
    facts = rigging.reeving or ReevingFacts()
    asked_for_drum = _asked_for_drum(rigging)
    drum = None if asked_for_drum else _drum(rigging, rope_m=rope_m, rope_mm=rope_mm)
    asked = asked_for_path(rigging, facts)
    if not asked:
        hoist = Hoist(
            reeving=path_of(rigging, facts, rope_mm=rope_mm),
            travel=_travel(rigging, facts),
            rope_m=rope_m,
            drum=drum,
        )
        return RiggedHoist(
            hoist=hoist,
            rigging=rigging,
            by_payout=False,
            asked_for_drum=asked_for_drum,
            asked_for_bends=asked_for_bends(hoist.reeving, facts),
        )
    return RiggedHoist(
        hoist=_by_payout(rigging, facts, drum, rope_m=rope_m, rope_mm=rope_mm),
        rigging=rigging,
        by_payout=True,
        asked=asked,
        asked_for_drum=asked_for_drum,
    )


def _by_payout(
    rigging: Rigging, facts: ReevingFacts, drum: Drum | None, *, rope_m: float, rope_mm: float
) -> Hoist:
    if facts.kind in ("trolley rope", "luffing rope", "bridge hoist, twin drum") or facts.parts:
        raise missing(asked_for_path(rigging, facts)[0], why=f"for the path of a {facts.kind}")
    if rigging.falls is None:
        raise missing(PAYOUT_NEEDS[0], why="the least from which places are worked out")
    if rigging.hook_low_m is None:
        raise missing(PAYOUT_NEEDS[1])
    if rigging.hook_high_m is None:
        raise missing(PAYOUT_NEEDS[2])
    lead = None
    if facts.to_drum_m is not None and facts.root_sheave_mm is not None:
        lead = Lead(
            to_drum_m=facts.to_drum_m,
            sheave_mm=facts.root_sheave_mm + rope_mm,
            wrap_deg=90.0 if facts.root_wrap_deg is None else facts.root_wrap_deg,
        )
    travel = rigging.travel or TravelFacts()
    return hoist_by_payout(
        falls=rigging.falls,
        hook_low_m=rigging.hook_low_m,
        hook_high_m=rigging.hook_high_m,
        out_at_top_m=facts.out_at_top_m,
        out_at_top_err_m=0.5 if facts.out_at_top_err_m is None else facts.out_at_top_err_m,
        lead=lead,
        rope_m=rope_m,
        drum=drum,
        ground_m=travel.ground_m,
    )


def _asked_for_drum(rigging: Rigging) -> tuple[Asked, ...]:
    facts = rigging.drum or DrumFacts()
    counted = rigging.drum_wraps_per_layer is not None or bool(facts.wraps)
    known = counted or facts.width_mm is not None
    have = (rigging.drum_diameter_mm is not None, known)
    return tuple(one for one, there in zip(DRUM_NEEDS, have, strict=True) if not there)


def _drum(rigging: Rigging, *, rope_m: float, rope_mm: float) -> Drum:
    facts = rigging.drum or DrumFacts()
    grooving = rigging.drum_grooving or "smooth"
    layers = facts.layers
    if layers is None and rigging.drum_layers == "single":
        layers = 1
    return drum_from(
        barrel_mm=float(rigging.drum_diameter_mm or 0),
        rope_mm=rope_mm,
        grooving=grooving,
        pitch_mm=facts.pitch_mm,
        width_mm=facts.width_mm,
        wraps=facts.wraps or rigging.drum_wraps_per_layer,
        layers=layers,
        rope_m=rope_m,
        rise_mm=facts.layer_rise_mm,
        crossover_share=0.25 if facts.crossover_share is None else facts.crossover_share,
        crossovers=2 if facts.crossovers is None else facts.crossovers,
        flange_mm=facts.flange_mm,
    )


def _jib_limits(
    rigging: Rigging, reeving: ReevingFacts, facts: TravelFacts
) -> tuple[float | None, float | None]:
    """Smallest and largest jib angle [deg], from the radii where those are what is stated."""
    if reeving.jib_m is None or not radius_for_jib(rigging, reeving):
        return facts.jib_min_deg, facts.jib_max_deg
    jib = LuffingJib(
        jib_m=reeving.jib_m,
        foot_height_m=reeving.foot_height_m or 0.0,
        foot_radius_m=reeving.foot_radius_m or 0.0,
        a_frame_back_m=reeving.a_frame_back_m or 0.0,
        a_frame_up_m=reeving.a_frame_up_m or 1.0,
    )
    least, most = facts.radius_min_m or 0.0, facts.radius_max_m or 0.0
    return jib.jib_deg_at(most), jib.jib_deg_at(least)


def _travel(rigging: Rigging, reeving: ReevingFacts) -> Travel:
    facts = rigging.travel or TravelFacts()
    jib_min, jib_max = _jib_limits(rigging, reeving, facts)
    low = rigging.hook_low_m
    ground = facts.ground_m
    if ground is None:
        ground = min(0.0, low) if low is not None else 0.0
    return Travel(
        hook_low_m=low,
        hook_high_m=rigging.hook_high_m,
        radius_min_m=facts.radius_min_m,
        radius_max_m=facts.radius_max_m,
        jib_min_deg=jib_min,
        jib_max_deg=jib_max,
        boom_min_m=facts.boom_min_m,
        boom_max_m=facts.boom_max_m,
        boom_min_deg=facts.boom_min_deg,
        boom_max_deg=facts.boom_max_deg,
        ground_m=ground,
        drop_min_m=facts.room_above_m or 0.0,
    )
