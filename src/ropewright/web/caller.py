"""Who is asking, and by what right."""

from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

Via: TypeAlias = Literal["cookie", "token", "single user"]

ROLES: Final = (
    "operator", "inspector", "external examiner", "planner", "lift supervisor", "rope fitter",
    "keeper",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Caller:
    """A person at a request.  ``csrf`` is what a form of theirs has to bring along."""

    person_id: str
    name: str
    roles: tuple[str, ...]
    via: Via
    csrf: str = ""
    login: str = ""
    units: str = "metric"
    hand: str = "right"
    theme: str = "auto"

    @property
    def single_user(self) -> bool:
        """Whether there is no login."""
        return self.via == "single user"
