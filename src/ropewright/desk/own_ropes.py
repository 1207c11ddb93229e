"""What a company's own ropes teach: usual life, what stays hidden inside, how well one finds."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from ropewright.errors import InputError
from ropewright.forecast import (
    Learnt,
    Limit,
    OwnDetection,
    PastRope,
    Prior,
    detection_prior,
    learn,
    own_detection,
    record_of_rope,
)
from ropewright.inspection import Dossier
from ropewright.matching import follow, same_through


@dataclass(frozen=True, slots=True, kw_only=True)
class Taught:
    """The prior after one's own experience, what it rests on in words, and what was left out.

    ``mostly_inside`` says whether opened ropes of this kind had most of their breaks inside,
    ``None`` if none was opened.
    """

    prior: Prior
    words: tuple[str, ...]
    mostly_inside: bool | None = None


def same_names(dossier: Dossier, today: date) -> dict[str, str]:
    """Later finding id to earlier finding id: as persons said, or as the matching is sure of."""
    past = sorted((one for one in dossier.inspections if one.on <= today), key=lambda one: one.on)
    said = [one for one in dossier.comparisons if one.on <= today]
    return same_through(follow(past, dossier.marks, dossier.history, decisions=said))


def is_alike(one: Dossier, other: Dossier) -> bool:
    """Whether two ropes do the same work on the same kind of crane and are built alike."""
    mine, yours = one.rope.construction, other.rope.construction
    return (
        (one.crane.kind, one.installation.purpose) == (other.crane.kind, other.installation.purpose)
        and mine.rotation_resistant == yours.rotation_resistant
        and mine.compacted == yours.compacted
        and one.rope.lay_type == other.rope.lay_type
        and (mine.core == "fibre") == (yours.core == "fibre")
    )


def taught(
    dossier: Dossier,
    own_ropes: Sequence[Dossier],
    limits: Sequence[Limit],
    prior: Prior,
    today: date,
    *,
    stated: bool,
) -> Taught:
    """What trials, opened ropes and past ropes of the same kind teach about this one.

    Parameters
    ----------
    dossier
        The rope to forecast; its own trials count too.
    own_ropes
        Other ropes of the company, those still running included; none chosen by how it ended.
    limits
        The limits of the rope to forecast.
    prior
        What is believed without them.
    today
        Later days do not exist yet.
    stated
        Whether a person stated the usual life, which then stays.
    """
    others = [one for one in own_ropes if one.rope.rope_id != dossier.rope.rope_id]
    alike = [one for one in others if is_alike(dossier, one)]
    words: list[str] = []
    prior = _with_trials(prior, (dossier, *alike), today, words)
    past, left_out = _past_ropes((dossier, *alike), today)
    learnt = learn(past, limits, prior)
    if own_ropes:
        words.append(_learnt_words(learnt, stated=stated, unlike=len(others) - len(alike)))
        words += [f"left out: {one}" for one in left_out]
    if learnt.learnt and not stated:
        prior = learnt.prior
    inside = learnt.hidden_share
    if inside is not None:
        words.append(f"in opened ropes of this kind about {inside:.0%} of the breaks lay inside")
    return Taught(
        prior=prior,
        words=tuple(words),
        mostly_inside=None if inside is None else inside > _HALF,
    )


_HALF = 0.5


def _learnt_words(learnt: Learnt, *, stated: bool, unlike: int) -> str:
    kept = "; the usual life that a person stated stays" if stated and learnt.learnt else ""
    other = f"; {unlike} of another kind or work were left aside" if unlike else ""
    return f"{learnt.words}{kept}{other}"


def _with_trials(prior: Prior, dossiers: Sequence[Dossier], today: date, words: list[str]) -> Prior:
    trials = tuple(
        trial for one in dossiers for trial in one.trials if trial.on is None or trial.on <= today
    )
    if not trials:
        return prior
    own: OwnDetection = own_detection(trials)
    words.append(
        f"own trials with {own.breaks} broken wires: an eye pass finds {own.eye[0]:.2f} to "
        f"{own.eye[1]:.2f}, a hand {own.feel[0]:.2f} to {own.feel[1]:.2f}"
    )
    detection = detection_prior(own={"eye": own.eye, "feel": own.feel})
    return replace(prior, detection=detection, version=f"{prior.version}+trials")


def _past_ropes(dossiers: Sequence[Dossier], today: date) -> tuple[list[PastRope], list[str]]:
    found: list[PastRope] = []
    left_out: list[str] = []
    for one in dossiers:
        try:
            record = record_of_rope(one, today, same=same_names(one, today))
        except InputError as problem:
            left_out.append(f"{one.rope.rope_id}: {problem}")
            continue
        opened = [item for item in one.opened if item.on is None or item.on <= today]
        found.append(
            PastRope(
                name=one.rope.rope_id,
                zones=record.zones,
                inner=sum(item.inner_broken for item in opened) if opened else None,
                outer=sum(item.outer_broken for item in opened) if opened else None,
            )
        )
    return found, left_out
