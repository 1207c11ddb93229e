"""The wear map: damage along the rope's own steel, through cuts, turns and changes of rigging."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

import numpy as np
import numpy.typing as npt

from ropewright.errors import InputError
from ropewright.geometry import Drum, Section
from ropewright.rope import PathMap
from ropewright.wear.damage import CauseKind, PathDamage
from ropewright.wear.drum_wear import CrossoverWeight, crossover_weight, drum_presses
from ropewright.wear.models import Floats, ModelName
from ropewright.wear.profile import Profile, bins_profile, even_edges, merged_edges, middles

CAUSE_KINDS: Final[tuple[CauseKind, ...]] = (
    "sheave", "reverse bends", "drum", "crossovers", "layer change",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DutyPiece:
    """Duty on one rigging with one length of rope, over a span of days.

    Parameters
    ----------
    first, last
        First and last day.
    days
        Days that it stands for [days].
    damage
        Damage along the path.
    path
        How rope and path belonged together.
    drum
        The drum, if it is known.
    both_ends
        Whether both ends of the rope lie on a twin drum.
    on_drum_m
        The most rope ever on the drum [m].
    """

    first: date
    last: date
    days: float
    damage: PathDamage
    path: PathMap
    drum: Drum | None = None
    both_ends: bool = False
    on_drum_m: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WearMap:
    """Damage along the rope, by cause, in rope positions.

    Parameters
    ----------
    edges_m
        Edges of the cells, in rope position [m].
    causes
        Kind and name of each cause.
    full_bends
        (causes, cells) damage in full bends [-].
    full_bend
        Damage of one full bend in the model's own unit [-].
    in_service
        The rope that is still there.
    model
        The model used.
    crossover
        What a pass through a crossover adds; none where the drum is not known or has one layer.
    life_share
        Damage of one full bend as a share of the life; none unless the constants belong to this
        kind of rope [-].
    light_share, unknown_share
        Bends raised to the model's least force, and bends of unknown load [-].
    bent_m
        Metres of rope that went through a bend, over all sheaves and the drum [m].
    full_force_n
        Greatest rope force met [N].
    """

    edges_m: npt.NDArray[np.float64]
    causes: tuple[tuple[CauseKind, str], ...]
    full_bends: npt.NDArray[np.float64]
    full_bend: float
    in_service: Section
    model: ModelName
    crossover: CrossoverWeight | None
    life_share: float | None
    light_share: float
    unknown_share: float
    bent_m: float
    full_force_n: float | None

    @property
    def total(self) -> Profile:
        """All causes together along the rope that is still there."""
        return Profile(edges_m=self.edges_m, values=self.full_bends.sum(axis=0))

    def of(self, number: int) -> Profile:
        """One cause along the rope."""
        return Profile(edges_m=self.edges_m, values=self.full_bends[number])

    def total_in(self, section: Section, unit: "WearMap") -> float:
        """Mean damage in a section, in the full bends of another map [-]."""
        mean = self.total.mean(section.from_m, section.to_m)
        return mean * self.full_bend / unit.full_bend

    def shares(self, from_m: float, to_m: float) -> tuple[tuple[CauseKind, str, float], ...]:
        """Share of each cause in a section, the greatest first, none below a hundredth.

        Parameters
        ----------
        from_m, to_m
            The section, in rope position [m].

        Returns
        -------
        tuple
            Kind, name and share [-].
        """
        means = [self.of(number).mean(from_m, to_m) for number in range(len(self.causes))]
        whole = sum(means)
        if whole <= 0:
            return ()
        parts = [
            (kind, name, mean / whole)
            for (kind, name), mean in zip(self.causes, means, strict=True)
            if mean >= 0.01 * whole
        ]
        return tuple(sorted(parts, key=lambda part: (-part[2], part[0], part[1])))


def piece_profiles(
    piece: DutyPiece, *, drum: Drum | None = None
) -> list[tuple[CauseKind, str, Profile]]:
    """Damage of one piece by cause along the path, crossovers and layer changes included.

    Parameters
    ----------
    piece
        The piece of duty.
    drum
        The drum to take instead of the piece's own.

    Returns
    -------
    list
        Kind, name and profile over path positions, in the model's own unit [-].
    """
    found: list[tuple[CauseKind, str, Profile]] = []
    length = piece.path.length_m
    shape = piece.drum if drum is None else drum
    for cause in piece.damage.causes:
        along = bins_profile(cause.damage, piece.damage.bin_m)
        found.append((cause.kind, cause.name, along))
        if cause.kind != "drum" or shape is None or shape.layers < 2:
            continue
        at_b = cause.name == "drum"
        passes = along.mirrored(length) if at_b else along
        presses = drum_presses(shape, passes, most_m=piece.on_drum_m)
        weight = weight_of(piece).value
        pressed: tuple[tuple[CauseKind, Profile], ...] = (
            ("crossovers", presses.crossovers),
            ("layer change", presses.layer_changes),
        )
        for kind, on_drum in pressed:
            on_path = on_drum.mirrored(length) if at_b else on_drum
            found.append((kind, cause.name, on_path.times(weight)))
    return found


def weight_of(piece: DutyPiece) -> CrossoverWeight:
    """What a crossover adds under the piece's greatest force."""
    force = piece.damage.full_force_n
    if force is None or piece.drum is None:
        return crossover_weight(None)
    return crossover_weight(force / piece.drum.rope_mm**2)


def to_rope(profile: Profile, path: PathMap) -> Profile:
    """A profile over path positions as one over rope positions."""
    length = path.length_m
    kept = profile.edges_m[(profile.edges_m > 0) & (profile.edges_m < length)]
    edges = merged_edges(kept, from_m=0.0, to_m=length)
    clipped = Profile(edges_m=edges, values=profile.at(middles(edges)))
    if path.turned:
        clipped = clipped.mirrored(length)
    return clipped.moved(path.first_rope_m)


def wear_map(
    pieces: Sequence[DutyPiece],
    now: PathMap,
    *,
    drums: Mapping[Drum, Drum] | None = None,
) -> WearMap:
    """Add up all pieces of duty along the rope that is still there.

    Parameters
    ----------
    pieces
        The pieces of duty, all by one model.
    now
        How rope and path belong together now.
    drums
        Other drums to take instead of those of the pieces.

    Raises
    ------
    InputError
        If there is no piece, or they are of unlike models.
    """
    if not pieces or len({piece.damage.model for piece in pieces}) > 1:
        raise InputError(field="log", expected="duty by one model", given=len(pieces))
    placed: list[tuple[CauseKind, str, Profile]] = []
    for piece in pieces:
        drum = (drums or {}).get(piece.drum) if piece.drum is not None else None
        for kind, name, along in piece_profiles(piece, drum=drum):
            placed.append((kind, name, to_rope(along, piece.path)))
    low, high = now.in_service
    edges = merged_edges(*(one.edges_m for _, _, one in placed), from_m=low, to_m=high)
    at = middles(edges)
    names = sorted(
        {(kind, name) for kind, name, _ in placed},
        key=lambda cause: (CAUSE_KINDS.index(cause[0]), cause[1]),
    )
    rows = np.zeros((len(names), at.size))
    for kind, name, along in placed:
        rows[names.index((kind, name))] += along.at(at)
    hardest = max(pieces, key=lambda piece: piece.damage.full_bend)
    full = hardest.damage.full_bend
    pressed = any(kind == "crossovers" for kind, _ in names)
    whole = sum(piece.damage.bends for piece in pieces)
    return WearMap(
        edges_m=edges,
        causes=tuple(names),
        full_bends=rows / full,
        full_bend=full,
        in_service=Section(low, high),
        model=hardest.damage.model,
        crossover=weight_of(hardest) if pressed else None,
        life_share=full if all(piece.damage.life_known for piece in pieces) else None,
        light_share=_mean([piece.damage.light_share for piece in pieces], pieces, whole),
        unknown_share=_mean([piece.damage.unknown_share for piece in pieces], pieces, whole),
        bent_m=sum(piece.damage.bends * piece.damage.bin_m for piece in pieces),
        full_force_n=hardest.damage.full_force_n,
    )


def _mean(shares: list[float], pieces: Sequence[DutyPiece], whole: float) -> float:
    """Mean share over the bends; zero where the rope never moved, such as in a month at rest."""
    bends = (share * piece.damage.bends for share, piece in zip(shares, pieces, strict=True))
    return sum(bends) / whole if whole else 0.0


def metre_by_metre(wear: WearMap, step_m: float = 1.0) -> tuple[Floats, Floats]:
    """Mean damage in steps along the rope, for a chart or a comparison with findings.

    Parameters
    ----------
    wear
        The map.
    step_m
        Length of a step [m].

    Returns
    -------
    tuple of arrays
        Edges of the steps [m] and the mean in each, in full bends [-].
    """
    edges = even_edges(wear.in_service.from_m, wear.in_service.to_m, step_m)
    return edges, wear.total.means(edges)
