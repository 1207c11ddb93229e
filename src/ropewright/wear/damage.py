"""Damage along the path: bends of a count weighed by a model and added up by Palmgren-Miner.

To be read, damage is given in full bends: one simple bend under the greatest force met, on the
sheave that bends the rope hardest.  So the figures of all models can stand beside each other.
"""

import math
from dataclasses import dataclass, replace
from typing import Final, Literal, TypeAlias

import numpy as np
import numpy.typing as npt

from ropewright.errors import InputError
from ropewright.geometry import DRUM, Contact, Hoist
from ropewright.wear.endurance import GRAVITY
from ropewright.wear.factor import LEAST_STRESS, Factor
from ropewright.wear.factors import groove_factor
from ropewright.wear.model import DRUM_A, BendCount
from ropewright.wear.models import (
    MODELS,
    Floats,
    ModelName,
    RopeForModel,
    damage_of_bends,
    damage_of_reverse_bends,
)

CauseKind: TypeAlias = Literal["sheave", "reverse bends", "drum", "crossovers", "layer change"]
SHEAVE_EFFICIENCY: Final = 0.98


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Cause:
    """What wore the rope: ``damage`` [-] has one figure per bin, in the model's own unit."""

    kind: CauseKind
    name: str
    damage: npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PathDamage:
    """Damage along the path of one rigging.

    Parameters
    ----------
    model
        The model used.
    causes
        Sheaves, reverse bends and the drum, each along the path.
    bin_m
        Width of the bins [m].
    full_bend
        Damage of one full bend [-].
    full_force_n
        Greatest rope force met; none where forces do not count [N].
    full_sheave_mm
        Smallest sheave or drum that bends the rope, at the groove bottom [mm].
    life_known
        Whether a damage of 1 is the end of life: the constants belong to this rope.
    light_share
        Share of the bends whose force lies below the model's range and was raised to it [-].
    unknown_share
        Share of the bends of unknown load, counted under the greatest [-].
    bends
        Bends counted in all, over all contacts and bins [bends].
    factors
        Corrections used.
    """

    model: ModelName
    causes: tuple[Cause, ...]
    bin_m: float
    full_bend: float
    full_force_n: float | None
    full_sheave_mm: float
    life_known: bool
    light_share: float
    unknown_share: float
    bends: float
    factors: tuple[Factor, ...] = ()

    @property
    def bins(self) -> int:
        """How many bins there are."""
        return self.causes[0].damage.size

    @property
    def total(self) -> Floats:
        """All causes together per bin, in the model's own unit [-]."""
        return np.asarray(sum(cause.damage for cause in self.causes))


def lines_of(hoist: Hoist) -> float:
    """Lines of rope that carry the hook [-].

    Raises
    ------
    InputError
        If the rope does not carry the hook, so that a load says nothing of its force.
    """
    lines = math.fsum(span.per_drop for span in hoist.reeving.spans)
    if lines <= 0:
        raise InputError(
            "the load does not tell the force of a rope that does not carry the hook",
            field="model",
            expected="'bends', which needs no force",
            given=hoist.reeving.name,
        )
    return lines


def line_forces_n(hoist: Hoist, loads_t: Floats) -> Floats:
    """Greatest force in the rope under several loads, on the line to the drum.

    Parameters
    ----------
    hoist
        The hoist.
    loads_t
        Loads on the falls, hook block included [t].

    Returns
    -------
    array
        Rope forces [N].

    Source: efficiency of a reeving with a fixed end, eta = (1 - e^n) / (n (1 - e)), with 0.98
    per sheave on rolling bearings, as on several trade pages; lifting.
    Provenance: second-hand
    """
    lines = lines_of(hoist)
    efficiency = (1 - SHEAVE_EFFICIENCY**lines) / (lines * (1 - SHEAVE_EFFICIENCY))
    return np.asarray(loads_t * 1000 * GRAVITY / (lines * efficiency))


def damage_of(
    count: BendCount, hoist: Hoist, rope: RopeForModel, model: ModelName = "cubic"
) -> PathDamage:
    """Damage along the path by one model.

    Parameters
    ----------
    count
        Bends by contact and load class.
    hoist
        The hoist they were counted on.
    rope
        The rope.
    model
        Which model.

    Raises
    ------
    InputError
        If nothing is counted, or a value lies outside the range of the model.
    """
    bends = float(count.half_bends.sum()) / 2
    if not bends:
        raise InputError(field="log", expected="a duty log in which the rope moves", given=0)
    forces, unknown_share = _forces(count, hoist, model)
    sheaves = {one.name: one for one in hoist.reeving.contacts}
    sizes = _sizes(count, hoist, rope)
    least = min(sizes[name] for name in count.contacts if name in sizes)
    most = float(forces[_met(count)].max())
    full = float(damage_of_bends(model, rope, np.array([most]), least)[0])
    causes, factors = [], []
    for number, name in enumerate(count.contacts):
        if name in sheaves and not sheaves[name].turns:
            continue
        each = damage_of_bends(model, rope, forces, sizes[name])
        groove = _groove(sheaves.get(name), rope, model)
        if groove is not None:
            factors.append(groove)
            each = each / groove.value
        along = np.tensordot(each, count.half_bends[number], axes=([0], [0])) / 2
        kind: CauseKind = "drum" if name in (DRUM, DRUM_A) else "sheave"
        causes.append(Cause(kind=kind, name=name, damage=along))
    causes += _reverse(count, rope, model, forces, sizes)
    light = _light_share(count, forces, rope) if model == "endurance" else 0.0
    return PathDamage(
        model=model,
        causes=tuple(causes),
        bin_m=count.bin_m,
        full_bend=full,
        full_force_n=None if model == "bends" else most,
        full_sheave_mm=least,
        life_known=model == "endurance" and rope.own_constants,
        light_share=light,
        unknown_share=unknown_share,
        bends=bends,
        factors=tuple(factors),
    )


def _met(count: BendCount) -> npt.NDArray[np.bool_]:
    """Which load classes have any bend at all."""
    return np.asarray(count.half_bends.sum(axis=(0, 2)) > 0)


def _forces(count: BendCount, hoist: Hoist, model: ModelName) -> tuple[Floats, float]:
    """Rope force of each load class; bends of unknown load count under the greatest met."""
    loads = count.class_loads_t
    met = _met(count)
    per_class = count.half_bends.sum(axis=(0, 2))
    unknown = count.classes.unknown
    known = met & np.isfinite(loads)
    share = float(per_class[unknown] / per_class.sum())
    if model == "bends":
        return np.ones(loads.shape), share
    if not known.any():
        raise InputError(
            "the log has no loads",
            field="model",
            expected="'bends', which needs no force",
            given=MODELS[model].name,
        )
    most = float(loads[known].max())
    loads = np.where(known, loads, most)
    return line_forces_n(hoist, loads), share


def _sizes(count: BendCount, hoist: Hoist, rope: RopeForModel) -> dict[str, float]:
    """Diameter at the groove bottom of every contact that bends the rope [mm]."""
    rope_mm = rope.rope_mm if hoist.drum is None else hoist.drum.rope_mm
    sizes = {
        one.name: one.pitch_diameter_mm - rope_mm for one in hoist.reeving.contacts if one.turns
    }
    smallest = min(sizes.values(), default=None)
    for name in count.contacts:
        if name in (DRUM, DRUM_A):
            barrel = None if hoist.drum is None else hoist.drum.barrel_mm
            size = barrel if barrel is not None else smallest
            if size is None:
                raise InputError(
                    field="rigging.drum_diameter",
                    expected="the diameter of the drum or of one sheave",
                    given=None,
                )
            sizes[name] = size
    return sizes


def _groove(sheave: Contact | None, rope: RopeForModel, model: ModelName) -> Factor | None:
    """The correction for a steel groove of known radius; the formula alone knows one."""
    if sheave is None or sheave.groove_radius_mm is None or model != "endurance":
        return None
    return groove_factor("round", sheave.groove_radius_mm / rope.rope_mm)


def _reverse(
    count: BendCount,
    rope: RopeForModel,
    model: ModelName,
    forces: Floats,
    sizes: dict[str, float],
) -> list[Cause]:
    """What reverse bends add to the two simple bends that are counted already."""
    causes = []
    for number, (first, second, _) in enumerate(count.pairs):
        pair = [sizes[name] for name in (first, second) if name in sizes]
        if len(pair) < 2 or not count.reverse_bends[number].any():
            continue
        both = damage_of_reverse_bends(model, rope, forces, min(pair))
        extra = both - damage_of_bends(model, rope, forces, min(pair))
        along = np.tensordot(extra, count.reverse_bends[number], axes=([0], [0]))
        name = f"{first} and {second}"
        causes.append(Cause(kind="reverse bends", name=name, damage=along))
    return causes


def _light_share(count: BendCount, forces: Floats, rope: RopeForModel) -> float:
    per_class = count.half_bends.sum(axis=(0, 2))
    light = forces / rope.rope_mm**2 < LEAST_STRESS
    return float(per_class[light].sum() / per_class.sum())


def later_minus_earlier(later: PathDamage, earlier: PathDamage | None) -> PathDamage:
    """What was added between two counts of the same log, the later one holding the earlier.

    Parameters
    ----------
    later, earlier
        Damages by one model on one path; none for the beginning.
    """
    if earlier is None:
        return later
    before = {(cause.kind, cause.name): cause.damage for cause in earlier.causes}
    causes = tuple(
        replace(cause, damage=np.maximum(cause.damage - before[cause.kind, cause.name], 0.0))
        if (cause.kind, cause.name) in before
        else cause
        for cause in later.causes
    )
    return replace(later, causes=causes, bends=later.bends - earlier.bends)
