"""What the wear figure shows, as plain numbers and words on one axis: rope position."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from ropewright.desk.duty_pieces import pieces_of
from ropewright.desk.wearing import WearResult, looked_over
from ropewright.geometry import Section
from ropewright.inspection import Dossier
from ropewright.inspection.evidence import evidence_on
from ropewright.wear.cut_effects import zones_on_rope
from ropewright.wear.damage import CauseKind
from ropewright.wear.rows import pick_up_rows, wear_rows, worst_rows
from ropewright.wear.wear_map import wear_map

DAMAGE_STEP_M: Final = 2.0
"""Step of the damage band: longer than a crossover and the rope to the next one; own choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Layered:
    """One layer of a stacked band: its name, and one ``values`` [-] per step."""

    name: str
    values: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DrumBand:
    """A section of rope on the drum: a layer, a crossover or a layer change."""

    kind: str
    layer: int
    section: Section


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundAt:
    """A finding on the axis: its sign, words, place and count of broken wires, if any."""

    sign: str
    name: str
    section: Section
    count: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class WearFigure:
    """Everything on the axis.

    Parameters
    ----------
    edges_m
        Edges of the steps, in rope position [m].
    pick_ups
        Pick-ups per step [-].
    bends
        Bends per step by sheave and drum [-].
    damage_edges_m
        Edges of the wider steps of the damage [m].
    damage
        Damage per step by bends, and by crossovers and layer changes, in full bends [-].
    worst
        Worst damage in each of these steps [-].
    drum
        What lies where on the drum.
    found
        What was found.
    seen
        Rope that an eye or a hand went over.
    whole
        The rope that is there.
    turned
        Whether end A's fitting is at the far end of the axis.
    """

    edges_m: tuple[float, ...]
    pick_ups: tuple[float, ...]
    bends: tuple[Layered, ...]
    damage_edges_m: tuple[float, ...]
    damage: tuple[Layered, ...]
    worst: tuple[float, ...]
    drum: tuple[DrumBand, ...]
    found: tuple[FoundAt, ...]
    seen: tuple[Section, ...]
    whole: Section
    turned: bool


def wear_figure(dossier: Dossier, found: WearResult, step_m: float) -> WearFigure:
    """Put everything on the axis.

    Parameters
    ----------
    dossier
        The rope.
    found
        Its wear.
    step_m
        Length of a step [m].
    """
    counted = wear_map(pieces_of(found.duty, "bends"), found.path)
    edges, bends = wear_rows(counted, step_m)
    wide_m = step_m if found.wear.crossover is None else max(step_m, DAMAGE_STEP_M)
    wide, damage = wear_rows(found.wear, wide_m)
    paths = [(one.count, dossier.history.at(one.first)) for one in found.duty.groups]
    evidence = evidence_on(dossier, found.on)
    low, high = found.path.in_service
    return WearFigure(
        edges_m=tuple(edges),
        pick_ups=tuple(pick_up_rows(paths, found.path, step_m)),
        bends=_stack(counted.causes, bends, ("sheave", "drum")),
        damage_edges_m=tuple(wide),
        worst=tuple(worst_rows(found.wear, wide_m)),
        damage=(
            _sum("bends", found.wear.causes, damage, ("sheave", "reverse bends", "drum")),
            _sum("crossovers and layer changes", found.wear.causes, damage,
                 ("crossovers", "layer change")),
        ),
        drum=tuple(_drum(found)),
        found=tuple(
            FoundAt(
                sign=one.finding.kind,
                name=f"{one.finding.finding_id}: {one.finding.kind}",
                section=one.finding.section,
                count=getattr(one.finding, "count", None),
            )
            for one in evidence.seen
        ),
        seen=looked_over(evidence),
        whole=Section(low, high),
        turned=found.path.turned,
    )  # fmt: skip


def _stack(
    causes: Sequence[tuple[CauseKind, str]], rows: Sequence[Sequence[float]], kinds: Sequence[str]
) -> tuple[Layered, ...]:
    return tuple(
        Layered(name=name, values=tuple(row))
        for (kind, name), row in zip(causes, rows, strict=True)
        if kind in kinds and any(row)
    )


def _sum(
    name: str,
    causes: Sequence[tuple[CauseKind, str]],
    rows: Sequence[Sequence[float]],
    kinds: Sequence[str],
) -> Layered:
    ours = [row for (kind, _), row in zip(causes, rows, strict=True) if kind in kinds]
    steps = len(rows[0]) if rows else 0
    return Layered(name=name, values=tuple(sum(row[at] for row in ours) for at in range(steps)))


def _drum(found: WearResult) -> list[DrumBand]:
    last = found.pieces[-1]
    drum = last.drum
    if drum is None:
        return []
    length = found.path.length_m
    most = min(last.on_drum_m, drum.capacity_m, length)
    bands = []
    start = 0.0
    for number, end in enumerate(drum.layer_ends_m, 1):
        if start >= most:
            break
        ends = [found.path.to_rope_m(length - place) for place in (start, min(end, most))]
        bands.append(DrumBand(kind="layer", layer=number, section=Section(min(ends), max(ends))))
        if last.both_ends:
            ends = [found.path.to_rope_m(place) for place in (start, min(end, most))]
            other = Section(min(ends), max(ends))
            bands.append(DrumBand(kind="layer", layer=number, section=other))
        start = end
    if last.both_ends:
        return bands
    for zone, section in zones_on_rope(drum, found.path, length - last.on_drum_m):
        bands.append(DrumBand(kind=zone.kind, layer=zone.layer, section=section))
    return bands
