"""From a duty log to pieces of duty: by set-up, by cuts and turns of the rope, by month.

A log knows nothing of cuts and new riggings; the rope's record does.  Each piece is counted on
the path of its own days.  Months are read off a running count, so that no movement is lost
between two of them.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from ropewright.errors import InputError
from ropewright.geometry import Hoist
from ropewright.inspection import Dossier, hoist_on
from ropewright.rope import PathMap
from ropewright.wear.damage import PathDamage, damage_of, later_minus_earlier
from ropewright.wear.model import BendCount
from ropewright.wear.models import ModelName, rope_for_model
from ropewright.wear.quality import Origin, QualityReport
from ropewright.wear.splitting import paid_out_least_m
from ropewright.wear.wear_map import DutyPiece

DAY_MS: Final = 86_400_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Tally:
    """What a count came to over some days, on the path that they had.

    ``running`` says that the count holds the one before of the same ``group`` as well.
    ``damage`` holds one answer per model, an input error where the model refuses.  ``days``
    [days] are those that the samples stand for; ``paid_out_least_m`` is where the drum began when
    it held most.
    """

    first: date
    last: date
    group: int
    running: bool
    days: float
    damage: Mapping[ModelName, PathDamage | InputError]
    paid_out_least_m: float | None
    hoist: Hoist
    path: PathMap


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupCount:
    """A count by itself, over days of one set-up and one length of rope.

    ``days`` [days] are those that it stands for.
    """

    first: date
    last: date
    days: float
    count: BendCount


@dataclass(frozen=True, slots=True, kw_only=True)
class Duty:
    """A log as counted: tallies, one whole count per set-up and rope, and what was left out.

    ``before`` and ``after`` count samples from before the rope was fitted and after the day of
    the question.
    """

    tallies: tuple[Tally, ...]
    groups: tuple[GroupCount, ...]
    before: int = 0
    after: int = 0

    @property
    def quality(self) -> QualityReport:
        """How good the log was, over all set-ups."""
        return sum((one.count.quality for one in self.groups), QualityReport())

    @property
    def models(self) -> tuple[ModelName, ...]:
        """The models by which it was weighed."""
        return tuple(self.tallies[0].damage) if self.tallies else ()

    @property
    def origin(self) -> Origin:
        """What the counts were made from."""
        kinds = {one.count.origin for one in self.groups}
        return kinds.pop() if len(kinds) == 1 else "several"

    @property
    def lifts(self) -> int:
        """Lifts seen in the log."""
        return sum(one.count.pick_ups.lifts for one in self.groups)


def days_between(first_ms: int, last_ms: int) -> float:
    """Days between two moments ``first_ms`` and ``last_ms`` [ms], an hour at least [days]."""
    return max((last_ms - first_ms) / DAY_MS, 1 / 24)


def weighed(
    dossier: Dossier, count: BendCount, hoist: Hoist, models: Sequence[ModelName]
) -> dict[ModelName, PathDamage | InputError]:
    """Damage of a count by each model, or why the model refuses."""
    rope = rope_for_model(dossier.rope)
    found: dict[ModelName, PathDamage | InputError] = {}
    for model in models:
        try:
            found[model] = damage_of(count, hoist, rope, model)
        except InputError as error:
            found[model] = error
    return found


def duty_of_counts(
    dossier: Dossier, counts: Sequence[GroupCount], *, models: Sequence[ModelName]
) -> Duty:
    """Counts made apart, such as file by file, as one duty.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    counts
        Counts in order of their days.
    models
        The models by which bends are weighed.
    """
    tallies = []
    for number, one in enumerate(counts):
        hoist = hoist_on(dossier, one.first).hoist
        tallies.append(
            Tally(
                first=one.first,
                last=one.last,
                group=number,
                running=False,
                days=one.days,
                damage=weighed(dossier, one.count, hoist, models),
                paid_out_least_m=paid_out_least_m(one.count),
                hoist=hoist,
                path=dossier.history.at(one.first),
            )
        )
    return Duty(tallies=tuple(tallies), groups=tuple(counts))


def pieces_of(duty: Duty, model: ModelName) -> tuple[DutyPiece, ...]:
    """Pieces of duty, each with its own damage, by one model.

    Parameters
    ----------
    duty
        The log as counted.
    model
        One of the models it was weighed by.

    Raises
    ------
    InputError
        If the model refuses, or the rope never moved.
    """
    found: list[DutyPiece] = []
    before: Tally | None = None
    for tally in duty.tallies:
        held = before is not None and tally.running and before.group == tally.group
        past = before.damage[model] if held and before is not None else None
        before = tally
        damage = tally.damage[model]
        if isinstance(damage, InputError):
            if damage.field == "log":
                continue
            raise damage
        least = tally.paid_out_least_m
        found.append(
            DutyPiece(
                first=tally.first,
                last=tally.last,
                days=tally.days,
                damage=later_minus_earlier(damage, past if isinstance(past, PathDamage) else None),
                path=tally.path,
                drum=tally.hoist.wound_drum() if tally.hoist.drum is not None else None,
                both_ends=tally.hoist.reeving.end_a == "drum",
                on_drum_m=0.0 if least is None else max(tally.path.length_m - least, 0.0),
            )
        )
    if not found:
        raise InputError(field="log", expected="a log in which the rope moves", given="none moved")
    return tuple(found)
