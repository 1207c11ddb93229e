"""The people of the invented site: roles with qualification and expiry, never names."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Final


@dataclass(frozen=True, slots=True, kw_only=True)
class SitePerson:
    """A person of the site, known by the role alone."""

    role: str
    qualification: str
    competence: str
    certificate: str
    expires: date
    employer: str
    independent: bool


_CONTRACTOR: Final = "the site's inspection contractor"

#: Everybody who takes part in an inspection of the site, by the word the stories use.
PEOPLE: Final[Mapping[str, SitePerson]] = {
    "inspector": SitePerson(
        role="rope inspector",
        qualification="trained for wire ropes on cranes",
        competence="competent",
        certificate="certificate 21 (invented)",
        expires=date(2027, 3, 31),
        employer=_CONTRACTOR,
        independent=True,
    ),
    "second inspector": SitePerson(
        role="second rope inspector",
        qualification="trained for wire ropes on cranes",
        competence="competent",
        certificate="certificate 22 (invented)",
        expires=date(2026, 12, 5),
        employer=_CONTRACTOR,
        independent=True,
    ),
    "engineer": SitePerson(
        role="crane engineer of the site",
        qualification="engineer, cranes and lifting",
        competence="qualified",
        certificate="certificate 23 (invented)",
        expires=date(2028, 6, 30),
        employer="the site's crane owner",
        independent=False,
    ),
    "competent person": SitePerson(
        role="competent person of the site",
        qualification="appointed in writing for the site's cranes",
        competence="competent",
        certificate="certificate 24 (invented)",
        expires=date(2027, 9, 30),
        employer="the site",
        independent=False,
    ),
    "operator": SitePerson(
        role="crane operator",
        qualification="licensed crane operator",
        competence="trained",
        certificate="licence 31 (invented)",
        expires=date(2029, 1, 31),
        employer="the site's crane owner",
        independent=False,
    ),
    "fitter": SitePerson(
        role="rope fitter",
        qualification="trained for end fittings and spooling",
        competence="trained",
        certificate="certificate 25 (invented)",
        expires=date(2027, 5, 31),
        employer="the site's crane owner",
        independent=False,
    ),
}
