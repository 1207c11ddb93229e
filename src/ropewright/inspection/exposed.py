"""What each section of a rope is exposed to on a date: stated, else worked out, else unknown.

What the case file states of a section stays.  What it leaves open comes from the path of the day,
where that is known; where it is not, layers and sheaves come from what the rigging says of the
whole hoist.  Where statement and path contradict each other the stricter one is used and both
are named.
"""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import lru_cache
from typing import Final

from ropewright.errors import InputError
from ropewright.geometry import ExposedSection, Exposure, Section, exposure_over, met_on_path
from ropewright.geometry.exposure import DrumLayers, SheaveKind
from ropewright.inspection.dossier import Crane, Dossier
from ropewright.inspection.hoists import hoist_on

_LEAST_M: Final = 0.01
_STRICTER_DRUM: Final[tuple[DrumLayers, ...]] = ("none", "single", "multi")
_DRUM_WORDS: Final = {
    "none": "never spools",
    "single": "spools in one layer",
    "multi": "spools in several layers",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Exposures:
    """Sections stated or worked out from the path, and what holds everywhere else.

    ``stated`` are the sections; ``contradictions`` name in words where the case file and the
    path do not agree: there the stricter one is in ``stated``.
    """

    stated: tuple[ExposedSection, ...]
    elsewhere: Exposure
    contradictions: tuple[str, ...] = ()

    def over(self, section: Section) -> Exposure:
        """What holds for a whole section, unknown wherever its parts disagree."""
        return exposure_over(section, self.stated, otherwise=self.elsewhere)


def exposures_on(dossier: Dossier, on: date) -> Exposures:
    """Exposure of every section of a rope on a date.

    What a section does not state comes from the path in force on that date; where that is not
    known, layers and sheaves are taken from the rigging; what nobody states stays unknown.
    """
    rigging = dossier.rigging_at(on)
    elsewhere = Exposure()
    if rigging is not None:
        elsewhere = Exposure(
            drum=rigging.drum_layers or "unknown", sheaves=rigging.sheaves or "unknown"
        )
    exposed = dossier.installation.exposed
    worked_out = _worked_out(_path_alone(dossier), on)
    if not worked_out:
        stated = tuple(
            replace(item, exposure=_filled(item.exposure, elsewhere)) for item in exposed
        )
        return Exposures(stated=stated, elsewhere=elsewhere)
    return _together(exposed, worked_out, elsewhere)


def _filled(said: Exposure, rest: Exposure) -> Exposure:
    return replace(
        said,
        drum=rest.drum if said.drum == "unknown" else said.drum,
        sheaves=rest.sheaves if said.sheaves == "unknown" else said.sheaves,
    )


# --- From the path ------------------------------------------------------------------------------


def _path_alone(dossier: Dossier) -> Dossier:
    """The dossier without inspections and events: the path does not hang on them."""
    return Dossier(
        crane=Crane(crane_id=dossier.crane.crane_id),
        rope=dossier.rope,
        installation=replace(dossier.installation, exposed=()),
        history=dossier.history,
        rigging=dossier.rigging,
        marks=dossier.marks,
    )


@lru_cache(maxsize=512)
def _worked_out(dossier: Dossier, on: date) -> tuple[ExposedSection, ...]:
    """What the path of a day says, in rope position; nothing where it is not known."""
    rigging = dossier.rigging_at(on)
    if rigging is None or rigging.reeving is None or rigging.reeving.kind is None:
        return ()
    try:
        rigged = hoist_on(dossier, on)
    except InputError:  # numbers are missing, or contradict each other: the plan says so
        return ()
    met = met_on_path(
        rigged.hoist,
        layers=rigging.drum_layers or "unknown",
        sheaves=rigging.sheaves or "unknown",
    )
    if not _always_lay_so(dossier, on):
        met = tuple(replace(one, exposure=_not_ruled_out(one.exposure, rigging.sheaves))
                    for one in met)  # fmt: skip
    path = dossier.history.at(on)
    found = []
    for one in met:
        low, high = max(one.section.from_m, 0.0), min(one.section.to_m, path.length_m)
        if high > low:
            ends = sorted((path.to_rope_m(low), path.to_rope_m(high)))
            found.append(ExposedSection(section=Section(*ends), exposure=one.exposure))
    return tuple(sorted(found, key=lambda one: one.section))


def _always_lay_so(dossier: Dossier, on: date) -> bool:
    """Whether the rope has lain on this one path, uncut and unturned, since it was fitted."""
    riggings = sum(one.valid_from <= on for one in dossier.rigging)
    return riggings == 1 and not any(step.on <= on for step in dossier.history.steps)


def _not_ruled_out(met: Exposure, sheaves: SheaveKind | None) -> Exposure:
    """What never meets a sheave or bends today may have done so on an earlier path."""
    return replace(
        met,
        sheaves=(sheaves or "unknown") if met.sheaves == "none" else met.sheaves,
        bends=None if met.bends is False else met.bends,
    )


# --- Stated and worked out together ---------------------------------------------------------------


def _together(
    exposed: Sequence[ExposedSection], worked_out: Sequence[ExposedSection], elsewhere: Exposure
) -> Exposures:
    edges = {edge for one in (*exposed, *worked_out)
             for edge in (one.section.from_m, one.section.to_m)}  # fmt: skip
    found: list[ExposedSection] = []
    against: dict[str, list[Section]] = {}
    for low, high in itertools.pairwise(sorted(edges)):
        middle = Section((low + high) / 2, (low + high) / 2)
        met = exposure_over(middle, worked_out)
        said = exposure_over(middle, exposed) if _is_stated(middle, exposed) else None
        if said is None:
            holds = met if _is_stated(middle, worked_out) else elsewhere
        else:
            holds, words = _stricter(said, met)
            if high - low > _LEAST_M:
                for one in words:
                    against.setdefault(one, []).append(Section(low, high))
        found.append(ExposedSection(section=Section(low, high), exposure=holds))
    contradictions = tuple(
        f"exposure {sections[0].from_m:.1f} to {sections[-1].to_m:.1f} m: {words}; the stricter "
        "one is used"
        for words, sections in against.items()
    )
    return Exposures(stated=tuple(found), elsewhere=elsewhere, contradictions=contradictions)


def _is_stated(place: Section, exposed: Sequence[ExposedSection]) -> bool:
    return any(one.section.overlaps(place) for one in exposed)


def _stricter(said: Exposure, met: Exposure) -> tuple[Exposure, list[str]]:
    """What holds of a stated section, and where the path contradicts it, in words."""
    words = []
    drum = met.drum if said.drum == "unknown" else said.drum
    if "unknown" not in (said.drum, met.drum) and said.drum != met.drum:
        drum = min(said.drum, met.drum, key=_STRICTER_DRUM.index)
        words.append(
            f"the case file says it {_DRUM_WORDS[said.drum]}, the path that it "
            f"{_DRUM_WORDS[met.drum]}"
        )
    sheaves = met.sheaves if said.sheaves == "unknown" else said.sheaves
    if met.sheaves == "plastic" and said.sheaves in ("none", "steel"):
        sheaves = "plastic"
        words.append(
            f"the case file says sheaves: {said.sheaves}, by the path it may run over plastic ones"
        )
    bends = met.bends if said.bends is None else said.bends
    if None not in (said.bends, met.bends) and said.bends is not met.bends:
        bends = True
        one, other = ("bends", "does not") if said.bends else ("does not bend", "does")
        words.append(f"the case file says it {one}, by the path it {other}")
    return replace(said, drum=drum, sheaves=sheaves, bends=bends), words
