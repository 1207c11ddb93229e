"""What the next period will do to the rope: the past duty's pace, on the path as it will lie.

Bends belong to the path from end A: the same hook heights bend the same path positions however
long the rope is.  Crossovers and layer changes belong to the drum: they count from its clamp.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ropewright.errors import InputError
from ropewright.geometry import Drum
from ropewright.rope import PathMap
from ropewright.wear.drum_wear import drum_presses
from ropewright.wear.profile import Profile, bins_profile, merged_edges, middles, sum_of
from ropewright.wear.wear_map import DutyPiece, to_rope, weight_of


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Outlook:
    """Damage per day to come.

    Parameters
    ----------
    bends
        Of sheaves, reverse bends and drum, over path positions from end A [-].
    passes
        Of the drum's bends alone, over path positions [-].
    drum
        The drum, if it is known.
    weight
        What a pass through a crossover adds to its bends [-].
    paid_out_least_m
        The least rope paid out: beyond it the rope never lies on the drum [m].
    """

    bends: Profile
    passes: Profile
    drum: Drum | None
    weight: float
    paid_out_least_m: float

    def along(self, path: PathMap, *, drum: Drum | None = None) -> Profile:
        """Damage per day along the rope for any way in which rope and path belong together.

        Parameters
        ----------
        path
            The rope that is left, and which way round it lies.
        drum
            Another drum than the outlook's own.

        Returns
        -------
        Profile
            Over rope positions.
        """
        shape = self.drum if drum is None else drum
        parts = [self.bends]
        if shape is not None and shape.layers > 1:
            parts.append(self.pressed(path.length_m, shape))
        return to_rope(sum_of(parts, from_m=0.0, to_m=path.length_m), path)

    def pressed(self, rope_m: float, drum: Drum) -> Profile:
        """What crossovers and layer changes add per day, over path positions.

        Parameters
        ----------
        rope_m
            Length of the rope [m].
        drum
            The drum.
        """
        from_clamp = self.passes.mirrored(rope_m)
        presses = drum_presses(drum, from_clamp, most_m=rope_m - self.paid_out_least_m)
        both = sum_of(
            [presses.crossovers, presses.layer_changes],
            from_m=float(presses.crossovers.edges_m[0]),
            to_m=float(presses.crossovers.edges_m[-1]),
        )
        return both.mirrored(rope_m).times(self.weight)


def outlook_from(pieces: Sequence[DutyPiece], *, unit: float = 1.0) -> Outlook:
    """The pace of past duty on the rigging of the last piece.

    Parameters
    ----------
    pieces
        Duty on one rigging; rope and path may have been cut in between.
    unit
        What damage is given in, such as that of a full bend [-].

    Raises
    ------
    InputError
        If there is no day of duty, or both ends of the rope lie on a twin drum.
    """
    days = sum(piece.days for piece in pieces)
    if not pieces or days <= 0:
        raise InputError(field="log", expected="at least one day of duty", given=days)
    last = pieces[-1]
    if last.both_ends:
        raise InputError(
            field="rigging",
            expected="a rope with one end on the drum",
            given="a twin drum",
            hint="a cut on a twin drum must be the same on both sides; ask the rope engineer",
        )
    bends, passes = [], []
    for piece in pieces:
        for cause in piece.damage.causes:
            along = bins_profile(cause.damage / (days * unit), piece.damage.bin_m)
            bends.append(along)
            if cause.kind == "drum":
                passes.append(along)
    most = max(one.edges_m[-1] for one in bends)
    nothing = Profile(edges_m=np.array([0.0, float(most)]), values=np.zeros(1))
    return Outlook(
        bends=_at_least_wide(sum_of(bends, from_m=0.0, to_m=float(most))),
        passes=sum_of([*passes, nothing], from_m=0.0, to_m=float(most)),
        drum=last.drum,
        weight=weight_of(last).value if last.drum is not None else 0.0,
        paid_out_least_m=last.path.length_m - last.on_drum_m,
    )


def _at_least_wide(profile: Profile) -> Profile:
    """The profile without cells narrower than a tenth of a millimetre."""
    edges = merged_edges(
        np.round(profile.edges_m, 4),
        from_m=float(profile.edges_m[0]),
        to_m=float(profile.edges_m[-1]),
    )
    return Profile(edges_m=edges, values=profile.at(middles(edges)))
