"""Findings of a case file or a list, made into findings of the core."""

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from ropewright.errors import CaseFileError
from ropewright.geometry import RopePlace
from ropewright.inspection import (
    BreakGroup,
    BrokenWires,
    Damage,
    DiameterReading,
    MetallicLoss,
    RopeFinding,
    Waviness,
)
from ropewright.inspection.findings import BreakSite
from ropewright.intake.bench import Bench, check_instrument, doubt_readings
from ropewright.intake.inspection_models import (
    BreakModel,
    BrokenWiresModel,
    DamageModel,
    DiameterModel,
    FindingModel,
    MetallicLossModel,
    WavinessModel,
)
from ropewright.intake.places import only_one_end
from ropewright.intake.wording import as_case_error, not_both
from ropewright.units import metres, show_length_mm, show_place_m

LONG_COUNT_DIAMETERS: Final = 100
"""A count over more rope diameters than this says little about any one window."""


def rope_finding(
    model: FindingModel, *, finding_id: str, where: str, bench: Bench
) -> RopeFinding | None:
    """Make one finding; what is wrong goes to ``bench.found`` and gives ``None``.

    Parameters
    ----------
    model
        The finding as typed.
    finding_id
        Its own or its given id.
    where
        Path of the finding in its file.
    bench
        What it needs to know.
    """
    made: RopeFinding | None = None
    with bench.found.at(where):
        if isinstance(model, BrokenWiresModel):
            made = _broken_wires(model, finding_id, bench)
            _doubt_long_counts(made, where, bench)
        elif isinstance(model, DiameterModel):
            made = _diameter(model, finding_id, where, bench)
        elif isinstance(model, WavinessModel):
            made = _waviness(model, finding_id, bench)
        elif isinstance(model, MetallicLossModel):
            made = _metallic_loss(model, finding_id, bench)
        else:
            made = _damage(model, finding_id, bench)
    return made


# --- Broken wires -----------------------------------------------------------------------------


def _broken_wires(model: BrokenWiresModel, finding_id: str, bench: Bench) -> BrokenWires:
    place, groups = _short_form(model, bench) if model.breaks is None else _long_form(model, bench)
    _strands_of_this_rope(model, bench)
    _within_the_rope(place, groups, bench)
    return BrokenWires(
        finding_id=finding_id,
        place=place,
        method=model.method,
        same_as=model.same_as,
        remark=model.remark or "",
        photos=tuple(model.photos or ()),
        groups=tuple(groups),
        offset_err_mm=model.offset_err or Fraction(0),
        crossover_damage=model.crossover_damage,
        ends_broken_off=model.ends_broken_off,
    )


def _short_form(model: BrokenWiresModel, bench: Bench) -> tuple[RopePlace, list[BreakGroup]]:
    """A count over one length: ``count`` with ``over``, or with ``from`` and ``to``."""
    if model.count is None:
        raise CaseFileError(
            field="count",
            expected='how many over which length: count = 6 and over = "120 mm", or breaks',
            given=None,
        )
    ranged = model.from_ is not None or model.to is not None
    if model.over is None and not ranged and model.count > 1:
        raise CaseFileError(
            "a count needs a length",
            field="over",
            expected='how many over which length: over = "120 mm", "6 d" or "1 lay" '
            f"beside count = {model.count}",
            given=None,
        )
    if not ranged:
        length = bench.length_mm(model.over or Fraction(0), key="over")
        if length <= 0 and model.count > 1:
            raise CaseFileError(
                field="over", expected="a length above 0", given=show_length_mm(length)
            )
        place = bench.ground.place(model)
    else:
        for key, other in (("over", model.over), ("at", model.at), ("at_path", model.at_path)):
            if other is not None:
                raise not_both(key, "from and to")
        place, length = _from_to(model, bench)
    group = BreakGroup(
        from_mm=Fraction(0),
        to_mm=length,
        count=model.count,
        site=model.site or "crown",
        strand=model.strand,
        protruding=model.protruding,
    )
    return place, [_turn(group) if _runs_back(model, bench) else group]


def _from_to(
    model: BrokenWiresModel | WavinessModel | DamageModel, bench: Bench
) -> tuple[RopePlace, Fraction]:
    """The start of a section in rope position and its exact length [mm]."""
    start, end = model.from_, model.to
    if start is None or end is None:
        key, other = ("from", "to") if start is None else ("to", "from")
        raise only_one_end(key, other)
    if end < start:
        raise CaseFileError(
            field="to",
            expected=f"a place at or beyond from, {show_place_m(metres(start))}",
            given=show_place_m(metres(end)),
        )
    bench.ground.rope_m(end, key="to")
    place = RopePlace(
        at_m=bench.ground.rope_m(start, key="from"),
        abs_err_m=metres(model.at_err or Fraction(0)),
        rel_err_m=metres(model.between_err or Fraction(0)),
    )
    return place, end - start


def _long_form(model: BrokenWiresModel, bench: Bench) -> tuple[RopePlace, list[BreakGroup]]:
    """Each break by its offset from the first, or counts over stated lengths."""
    for key, value in (
        ("count", model.count),
        ("over", model.over),
        ("from", model.from_),
        ("to", model.to),
    ):
        if value is not None:
            raise not_both(key, "breaks")
    place = bench.ground.place(model)
    groups = [
        _group(one, f"breaks[{number}]", model) for number, one in enumerate(model.breaks or (), 1)
    ]
    return place, [_turn(group) for group in groups] if _runs_back(model, bench) else groups


def _runs_back(model: FindingModel, bench: Bench) -> bool:
    """Offsets and lengths run the way the place counts: up the path, or up the steel."""
    return model.at_path is not None and bench.ground.path.turned


def _group(one: BreakModel, where: str, cluster: BrokenWiresModel) -> BreakGroup:
    site: BreakSite = one.site or cluster.site or "crown"
    count = one.count or 1
    ranged = one.from_ is not None or one.to is not None
    if one.at is not None and ranged:
        raise as_case_error(not_both("at", "from and to"), f"{where}.at")
    if ranged:
        if one.from_ is None or one.to is None:
            key, other = ("from", "to") if one.from_ is None else ("to", "from")
            raise as_case_error(only_one_end(key, other), f"{where}.{key}")
        start, end = one.from_, one.to
    elif one.at is not None:
        start = end = one.at
    else:
        raise CaseFileError(
            field=f"{where}.at",
            expected='an offset: at = "14 mm", or from and to over which it was counted',
            given=None,
        )
    if end < start:
        raise CaseFileError(
            field=f"{where}.to",
            expected=f"an offset at or beyond from, {show_length_mm(start)}",
            given=show_length_mm(end),
        )
    return BreakGroup(
        from_mm=start,
        to_mm=end,
        count=count,
        site=site,
        strand=one.strand if one.strand is not None else cluster.strand,
        protruding=one.protruding if one.protruding is not None else cluster.protruding,
    )


def _turn(group: BreakGroup) -> BreakGroup:
    """The group seen along the steel, where the path of the day ran against it."""
    return BreakGroup(
        from_mm=-group.to_mm,
        to_mm=-group.from_mm,
        count=group.count,
        site=group.site,
        strand=group.strand,
        protruding=group.protruding,
    )


def _strands_of_this_rope(model: BrokenWiresModel, bench: Bench) -> None:
    """A strand number must be one that this rope has, as far as its strands are known."""
    strands = bench.rope.construction.outer_strands
    told = [("strand", model.strand)]
    told += [(f"breaks[{n}].strand", one.strand) for n, one in enumerate(model.breaks or (), 1)]
    for key, strand in told:
        if strands is not None and strand is not None and strand > strands:
            raise CaseFileError(
                field=key,
                expected=f"a strand number from 1 to {strands}, as this rope has outer strands",
                given=strand,
            )


def _within_the_rope(place: RopePlace, groups: Sequence[BreakGroup], bench: Bench) -> None:
    """A cluster must not reach beyond the rope that is left, by more than its place may err."""
    whole = bench.ground.whole
    slack_m = place.abs_err_m + place.rel_err_m + 1e-9
    for group in groups:
        for end_mm in (group.from_mm, group.to_mm):
            end_m = place.at_m + metres(end_mm)
            if not whole.from_m - slack_m <= end_m <= whole.to_m + slack_m:
                raise CaseFileError(
                    field="at",
                    expected="a cluster that ends on the rope, which runs from "
                    f"{show_place_m(whole.from_m)} to {show_place_m(whole.to_m)}",
                    given=f"a break at {show_place_m(end_m)}",
                )


def _doubt_long_counts(made: BrokenWires, where: str, bench: Bench) -> None:
    longest = LONG_COUNT_DIAMETERS * bench.rope.nominal_diameter_mm
    for group in made.groups:
        if group.to_mm - group.from_mm > longest:
            bench.found.doubt(
                where,
                f"{group.count} broken wires over {show_length_mm(group.to_mm - group.from_mm)}: "
                "so long a length says little; count at the worst place",
            )


# --- Diameter, waves, damage --------------------------------------------------------------------


def _diameter(model: DiameterModel, finding_id: str, where: str, bench: Bench) -> DiameterReading:
    check_instrument(
        model.instrument,
        where=f"{where}.instrument",
        instruments=bench.instruments,
        found=bench.found,
    )
    doubt_readings(
        model.readings,
        nominal_mm=bench.rope.nominal_diameter_mm,
        where=f"{where}.readings",
        found=bench.found,
    )
    return DiameterReading(
        finding_id=finding_id,
        place=bench.ground.place(model),
        method=model.method,
        same_as=model.same_as,
        remark=model.remark or "",
        photos=tuple(model.photos or ()),
        readings_mm=tuple(model.readings),
        instrument=model.instrument,
        tension=model.tension or "",
        crushed_by_crossover=model.crushed_by_crossover,
    )


def _extent(model: WavinessModel | DamageModel, bench: Bench) -> tuple[RopePlace, float]:
    """Place and length [m]: ``at`` with ``length``, or ``from`` and ``to``."""
    if model.from_ is not None or model.to is not None:
        for key, other in (("at", model.at), ("at_path", model.at_path), ("length", model.length)):
            if other is not None:
                raise not_both(key, "from and to")
        place, length_mm = _from_to(model, bench)
        return place, metres(length_mm)
    place = bench.ground.place(model)
    length_m = metres(model.length or Fraction(0))
    whole = bench.ground.whole
    if _runs_back(model, bench):
        place = RopePlace(
            at_m=place.at_m - length_m, abs_err_m=place.abs_err_m, rel_err_m=place.rel_err_m
        )
    slack_m = place.abs_err_m + 1e-9
    if place.at_m < whole.from_m - slack_m or place.at_m + length_m > whole.to_m + slack_m:
        raise CaseFileError(
            field="length",
            expected="a length that ends on the rope, which runs from "
            f"{show_place_m(whole.from_m)} to {show_place_m(whole.to_m)}",
            given=model.length and show_length_mm(model.length),
        )
    return place, length_m


def _waviness(model: WavinessModel, finding_id: str, bench: Bench) -> Waviness:
    place, length_m = _extent(model, bench)
    return Waviness(
        finding_id=finding_id,
        place=place,
        method=model.method,
        same_as=model.same_as,
        remark=model.remark or "",
        photos=tuple(model.photos or ()),
        gap_mm=model.gap,
        length_m=length_m,
    )


def _damage(model: DamageModel, finding_id: str, bench: Bench) -> Damage:
    place, length_m = _extent(model, bench)
    return Damage(
        finding_id=finding_id,
        place=place,
        method=model.method,
        same_as=model.same_as,
        remark=model.remark or "",
        photos=tuple(model.photos or ()),
        damage=model.kind,
        length_m=length_m,
        form=model.form,
        grade=model.grade,
        rating_percent=model.rating,
        depth_share=model.depth,
    )


def _metallic_loss(model: MetallicLossModel, finding_id: str, bench: Bench) -> MetallicLoss:
    place = bench.ground.place(model)
    over_mm = None if model.over is None else bench.length_mm(model.over, key="over")
    length_m = metres(over_mm or Fraction(0))
    if _runs_back(model, bench):
        place = RopePlace(
            at_m=place.at_m - length_m, abs_err_m=place.abs_err_m, rel_err_m=place.rel_err_m
        )
    return MetallicLoss(
        finding_id=finding_id,
        place=place,
        method=model.method or "mrt",
        same_as=model.same_as,
        remark=model.remark or "",
        photos=tuple(model.photos or ()),
        percent=model.loss,
        over_mm=over_mm,
        of=model.of or "metallic area",
    )
