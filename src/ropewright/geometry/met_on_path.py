"""What each metre of today's path surely meets: drum, sheaves, crossovers, whether it bends.

Only what holds for every value that the set-up's numbers may have is claimed; all else is unknown.
Dead wraps lie on the drum but neither spool nor bend again: nothing is claimed of them.  Ends are
left to whoever asks how near an end is.
"""

import itertools
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Final

import numpy as np

from ropewright.errors import InputError
from ropewright.geometry.checks import reachable
from ropewright.geometry.exposure import DrumLayers, ExposedSection, Exposure, SheaveKind
from ropewright.geometry.hoist import Hoist, gradient
from ropewright.geometry.position import Floats
from ropewright.geometry.reeving import Contact
from ropewright.geometry.rows import PARAMETERS, Corrections, row_values
from ropewright.geometry.section import Section
from ropewright.geometry.winding import path_zones

MARGIN_M: Final = 0.5
"""Added to the ± of the path for what is not modelled: stretch, slope, tangent points; own."""
_NODES: Final = 9
_WORST: Final[tuple[SheaveKind, ...]] = ("plastic", "unknown", "steel", "none")


@dataclass(frozen=True, slots=True)
class _Range:
    """Where something may be on the path [m], and where it surely is (perhaps nowhere)."""

    may: tuple[float, float]
    sure: tuple[float, float]

    def may_hold(self, place: float) -> bool:
        return self.may[0] <= place <= self.may[1]

    def surely_holds(self, place: float) -> bool:
        return self.sure[0] <= place <= self.sure[1]

    @property
    def edges(self) -> tuple[float, ...]:
        return (*self.may, *self.sure)


@dataclass(frozen=True, slots=True)
class _Path:
    """The sheaves and the spooled rope of end B's drum and, on a twin drum, of end A's."""

    sheaves: tuple[tuple[Contact, _Range], ...]
    spooled: tuple[_Range, ...]
    on_drum: tuple[_Range, ...]
    zones: tuple[_Range, ...]


def met_on_path(
    hoist: Hoist,
    *,
    layers: DrumLayers = "unknown",
    sheaves: SheaveKind = "unknown",
    margin_m: float = MARGIN_M,
) -> tuple[ExposedSection, ...]:
    """What the rope of today's path meets, in sections from end A to the drum.

    Parameters
    ----------
    hoist
        The hoist; nothing is claimed where its rope length, its limits or a sheave are not known.
    layers
        How many layers its drum has, as stated; worked out from the drum if unknown.
    sheaves
        What those sheaves are made of that do not say it themselves.
    margin_m
        What is added to every ± [m].

    Returns
    -------
    tuple of ExposedSection
        Sections of the path [m] that touch each other; none at all if too little is known.
    """
    if hoist.rope_m is None or not hoist.reeving.all_sheaves:
        return ()
    try:
        path = _path(hoist, margin_m)
    except InputError:  # a limit of the travel is missing
        return ()
    if path is None:
        return ()
    end = hoist.rope_length_m()
    stated = _layers(hoist) if layers == "unknown" else layers
    edges = {0.0, end}
    for one in (*(each for _, each in path.sheaves), *path.spooled, *path.on_drum, *path.zones):
        edges.update(min(max(float(edge), 0.0), end) for edge in one.edges)
    cuts = sorted(edges)
    found: list[ExposedSection] = []
    for low, high in itertools.pairwise(cuts):
        met = _met((low + high) / 2, path, stated, sheaves)
        if found and found[-1].exposure == met:
            low = found.pop().section.from_m
        found.append(ExposedSection(section=Section(low, high), exposure=met))
    return tuple(found)


def _met(place: float, path: _Path, layers: DrumLayers, sheaves: SheaveKind) -> Exposure:
    spools = any(one.surely_holds(place) for one in path.spooled)
    may_lie = any(one.may_hold(place) for one in path.on_drum)
    over = [contact for contact, one in path.sheaves if one.may_hold(place)]
    bends_over = any(contact.turns and one.surely_holds(place) for contact, one in path.sheaves)
    kinds = [sheaves if contact.groove == "unknown" else contact.groove for contact in over]
    bends = True if spools or bends_over else (None if over or may_lie else False)
    crossed = spools and layers == "multi" and any(one.surely_holds(place) for one in path.zones)
    return Exposure(
        drum=layers if spools else ("unknown" if may_lie else "none"),
        sheaves=next((kind for kind in _WORST if kind in kinds), "none"),
        crossover=True if crossed else None,
        bends=bends,
    )


def _path(hoist: Hoist, margin_m: float) -> _Path | None:
    rows = hoist.rows()
    reeving, travel = hoist.reeving, hoist.travel
    count = len(reeving.contacts)
    measures, known = reeving.frame.measures(travel.grid(reeving.axes, _NODES))
    reached = reachable(reeving, travel, measures, known)

    def places(found: Corrections) -> Floats:
        these = rows if found == hoist.corrections else hoist.rows(found)
        return row_values(
            np.vstack([these.start, these.end, these.out, these.base]), measures, known
        )

    values = places(hoist.corrections)
    if np.isnan(values).any() or not reached.any():
        return None
    off = _err_m(hoist, places) + margin_m
    inside = values[:, reached]
    low, high = values.min(axis=1), values.max(axis=1)
    least, most = inside.min(axis=1), inside.max(axis=1)
    length = hoist.rope_length_m()
    sheaves = tuple(
        (
            contact,
            _Range(
                (low[number] - off, high[count + number] + off),
                (least[number] + off, most[count + number] - off),
            ),
        )
        for number, contact in enumerate(reeving.contacts)
    )
    out, base = 2 * count, 2 * count + 1
    spooled = [_Range((low[out] - off, length), (least[out] + off, most[out] - off))]
    on_drum = [_Range((low[out] - off, length), (length, length))]
    if reeving.end_a == "drum":
        spooled.append(_Range((0.0, high[base] + off), (least[base] + off, most[base] - off)))
        on_drum.append(_Range((0.0, high[base] + off), (0.0, 0.0)))
    return _Path(sheaves, tuple(spooled), tuple(on_drum), tuple(_zones(hoist, margin_m)))


def _err_m(hoist: Hoist, value: Callable[[Corrections], Floats]) -> float:
    """Largest ± of any place of an array [m], about 95 %."""
    slopes = _slopes(hoist, value)
    matrix = np.asarray(hoist.uncertainty().matrix)
    flat = slopes.reshape(len(PARAMETERS), -1)
    variance = np.einsum("ip,ij,jp->p", flat, matrix, flat)
    return 2 * float(np.sqrt(max(float(variance.max(initial=0.0)), 0.0)))


def _slopes(hoist: Hoist, value: Callable[[Corrections], Floats]) -> Floats:
    """Change of every number of an array per unit of each correction."""
    found: Floats = np.array(gradient(value, hoist.corrections))  # type: ignore[arg-type]
    return found


def _zones(hoist: Hoist, margin_m: float) -> Iterable[_Range]:
    """Crossovers and layer changes whose place the drum fixes, each narrowed by its own ±."""
    drum = hoist.drum
    if drum is None or drum.layers < 2:
        return []

    def layer_ends(found: Corrections) -> Floats:
        return hoist.rope_length_m(found) - np.array(hoist.wound_drum(found).layer_ends_m)

    off = _err_m(hoist, layer_ends) + margin_m
    found = []
    for zone in path_zones(hoist):
        section = zone.section
        if zone.kind != "crossover somewhere" and section.length_m > 2 * off:
            sure = (section.from_m + off, section.to_m - off)
            found.append(_Range(sure, sure))
    return found


def _layers(hoist: Hoist) -> DrumLayers:
    """Several layers, where the limits wind on more than one; else not known."""
    if hoist.drum is None:
        return "unknown"
    try:
        zones = path_zones(hoist)
    except InputError:
        return "unknown"
    return "multi" if any(zone.kind == "layer change" for zone in zones) else "unknown"
