"""The rigging of a case file made into what the core knows, and held against itself."""

from collections.abc import Iterator
from datetime import date

from ropewright.errors import InputError, UnknownNameError
from ropewright.geometry import DRUM, DRUM_A, END_A, InspectionPoint
from ropewright.inspection import (
    Dossier,
    DrumFacts,
    ReevingFacts,
    RiggedHoist,
    Rigging,
    TravelFacts,
    WorkPlace,
    hoist_of,
)
from ropewright.inspection.rigged import PathPart
from ropewright.intake.calibration import reading_error, readings, tolerance
from ropewright.intake.path_parts import path_parts
from ropewright.intake.places import Findings
from ropewright.intake.quantities import float_of, metres_of
from ropewright.intake.rigging_models import (
    DrumModel,
    ReevingModel,
    RiggingModel,
    TravelModel,
    WorkPlaceModel,
)
from ropewright.intake.wording import not_both
from ropewright.units import metres

_NOTHING = "nothing"


def riggings(
    models: list[RiggingModel], found: Findings, *, fitted_on: date | None
) -> Iterator[Rigging]:
    """Each set-up of the rope's path, with its places to stand; complaints go to ``found``."""
    for number, model in enumerate(models, 1):
        parts = []
        if model.reeving is not None:
            parts = list(path_parts(model.reeving, f"rigging[{number}].reeving", found))
        yield Rigging(
            valid_from=model.valid_from,
            falls=model.falls,
            drum_layers=model.drum_layers,
            drum_grooving=model.drum_grooving,
            drum_diameter_mm=model.drum_diameter,
            drum_wraps_per_layer=model.wraps_per_layer,
            dead_wraps=model.dead_wraps,
            sheaves=model.sheaves,
            sheave_diameter_mm=model.sheave_diameter,
            hook_low_m=metres_of(model.hook_low),
            hook_high_m=metres_of(model.hook_high),
            remark=model.remark or "",
            reeving=None if model.reeving is None else _reeving(model.reeving, parts),
            drum=None if model.drum is None else _drum(model.drum),
            travel=None if model.travel is None else _travel(model.travel),
            points=tuple(_points(model.point, f"rigging[{number}]", found)),
            readings=tuple(
                readings(
                    model.reading,
                    f"rigging[{number}]",
                    found,
                    valid_from=model.valid_from,
                    fitted_on=fitted_on,
                )
            ),
            tolerance=None if model.tolerance is None else tolerance(model.tolerance),
            reading_error=(
                None if model.reading_error is None else reading_error(model.reading_error)
            ),
        )


def _reeving(model: ReevingModel, parts: list[PathPart]) -> ReevingFacts:
    return ReevingFacts(
        kind=model.kind,
        anchor=model.anchor,
        anchor_m=metres_of(model.anchor_radius),
        block=model.block,
        sheaves_lie=model.sheaves_lie,
        upper_height_m=metres_of(model.upper_height),
        hook_below_m=metres_of(model.hook_below),
        upper_sheave_mm=float_of(model.upper_sheave),
        block_sheave_mm=float_of(model.block_sheave),
        root_sheave_mm=float_of(model.root_sheave),
        root_m=metres_of(model.root_radius),
        root_wrap_deg=float_of(model.root_wrap),
        to_drum_m=metres_of(model.to_drum),
        trolley_half_m=metres_of(model.trolley_half),
        jib_m=metres_of(model.jib_length),
        foot_height_m=metres_of(model.foot_height),
        foot_radius_m=metres_of(model.foot_radius),
        a_frame_back_m=metres_of(model.a_frame_back),
        a_frame_up_m=metres_of(model.a_frame_up),
        a_frame_sheave_mm=float_of(model.a_frame_sheave),
        lead_deg=float_of(model.lead_angle),
        pendant_m=metres_of(model.pendant),
        tie_at_m=metres_of(model.tie_at),
        beyond_boom_m=metres_of(model.beyond_boom),
        equaliser_mm=float_of(model.equaliser_sheave),
        drum_up_m=metres_of(model.drum_up),
        trolley_rope=model.trolley_rope,
        end_sheave_m=metres_of(model.end_sheave_radius),
        end_sheave_mm=float_of(model.end_sheave),
        winch_m=metres_of(model.winch_radius),
        root_bend=model.root_bend,
        drum_bend=model.drum_bend,
        hangs_from=model.hangs_from,
        end_a=model.end_a,
        end_a_on=model.end_a_on,
        parts=tuple(parts),
        out_at_top_m=metres_of(model.out_at_top),
        out_at_top_err_m=metres_of(model.out_at_top_err),
    )


def _drum(model: DrumModel) -> DrumFacts:
    return DrumFacts(
        pitch_mm=float_of(model.pitch),
        width_mm=float_of(model.width),
        flange_mm=float_of(model.flange_diameter),
        layers=model.layers,
        wraps=tuple(model.wraps or ()),
        layer_rise_mm=float_of(model.layer_rise),
        crossover_share=float_of(model.crossover_share),
        crossovers=model.crossovers,
        clamp_flange=model.clamp_flange or "",
        far_flange=model.far_flange or "",
    )


def _travel(model: TravelModel) -> TravelFacts:
    return TravelFacts(
        radius_min_m=metres_of(model.radius_min),
        radius_max_m=metres_of(model.radius_max),
        jib_min_deg=float_of(model.jib_min),
        jib_max_deg=float_of(model.jib_max),
        boom_min_m=metres_of(model.boom_min),
        boom_max_m=metres_of(model.boom_max),
        boom_min_deg=float_of(model.boom_angle_min),
        boom_max_deg=float_of(model.boom_angle_max),
        ground_m=metres_of(model.ground),
        room_above_m=metres_of(model.room_above),
        creep_m_per_s=model.creep_speed,
    )


def _points(models: list[WorkPlaceModel], where: str, found: Findings) -> Iterator[WorkPlace]:
    names: set[str] = set()
    for number, model in enumerate(models, 1):
        at = f"{where}.point[{number}]"
        if model.name in names:
            found.wrong(f"{at}.name", expected="another name for each place", given=model.name)
        names.add(model.name)
        with found.at(at):
            yield WorkPlace(
                name=model.name,
                point=_point(model),
                along=model.along or "",
                by_hand=model.by_hand or False,
                remark=model.remark or "",
            )


def _point(model: WorkPlaceModel) -> InspectionPoint | None:
    if model.along is not None:
        if model.at is not None:
            raise not_both("at", "along")
        return None
    if model.at is None:
        raise InputError(
            field="at",
            expected="the sheave it lies at, 'end A', 'drum' or 'drum A'; or along, with a span's "
            "name",
            given=None,
        )
    side = model.side or ("after" if model.at in (END_A, DRUM_A) else "before")
    offset = 0.0 if model.offset is None else metres(model.offset)
    try:
        return InspectionPoint(name=model.name, at=model.at, side=side, offset_m=offset)
    except InputError as error:
        error.field = (error.field or "").removeprefix("point.").replace("offset_m", "offset")
        raise


def check_riggings(dossier: Dossier, found: Findings) -> None:
    """Note numbers of a set-up that contradict each other; what is missing is no complaint."""
    for number, rigging in enumerate(dossier.rigging, 1):
        where = f"rigging[{number}]"
        try:
            last = max((one.on for one in rigging.readings), default=rigging.valid_from)
            rigged = hoist_of(dossier, rigging, max(last, rigging.valid_from))
        except InputError as error:
            if error.given != _NOTHING:
                with found.at("" if error.field == "rope.length" else where):
                    raise
            continue
        _check_points(rigged, where, found)


def _check_points(rigged: RiggedHoist, where: str, found: Findings) -> None:
    reeving = rigged.hoist.reeving
    ends = [DRUM, DRUM_A] if reeving.end_a == "drum" else [DRUM, END_A]
    sheaves = [*ends, *(contact.name for contact in reeving.contacts)]
    spans = [span.name for span in reeving.spans]
    for number, place in enumerate(rigged.rigging.points, 1):
        with found.at(f"{where}.point[{number}]"):
            if place.point is not None and place.point.at not in sheaves and not rigged.by_payout:
                raise UnknownNameError(
                    what="a sheave of this path", given=place.point.at, known=sheaves, field="at"
                )
            if place.along and place.along not in spans and not rigged.by_payout:
                raise UnknownNameError(
                    what="a span of this path", given=place.along, known=spans, field="along"
                )
