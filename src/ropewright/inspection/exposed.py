"""What each section of a rope is exposed to on a date: stated by section, else by the rigging."""

from dataclasses import dataclass, replace
from datetime import date

from ropewright.geometry import ExposedSection, Exposure, Section, exposure_over
from ropewright.inspection.dossier import Dossier


@dataclass(frozen=True, slots=True, kw_only=True)
class Exposures:
    """Stated sections with gaps filled from the rigging, and what holds everywhere else."""

    stated: tuple[ExposedSection, ...]
    elsewhere: Exposure

    def over(self, section: Section) -> Exposure:
        """What holds for a whole section, unknown wherever its parts disagree."""
        return exposure_over(section, self.stated, otherwise=self.elsewhere)


def exposures_on(dossier: Dossier, on: date) -> Exposures:
    """Exposure of every section of a rope on a date.

    What a section does not state (drum layers, sheave material) is taken from the rigging in
    force on that date; what neither states stays unknown.
    """
    rigging = dossier.rigging_at(on)
    elsewhere = Exposure()
    if rigging is not None:
        elsewhere = Exposure(
            drum=rigging.drum_layers or "unknown", sheaves=rigging.sheaves or "unknown"
        )
    return Exposures(
        stated=tuple(
            replace(item, exposure=_filled(item.exposure, elsewhere))
            for item in dossier.installation.exposed
        ),
        elsewhere=elsewhere,
    )


def _filled(said: Exposure, rest: Exposure) -> Exposure:
    return replace(
        said,
        drum=rest.drum if said.drum == "unknown" else said.drum,
        sheaves=rest.sheaves if said.sheaves == "unknown" else said.sheaves,
    )
