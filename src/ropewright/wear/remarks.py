"""What a log's quality means for the count, in plain sentences; and when it is no log at all."""

from datetime import UTC, datetime
from typing import Final

from ropewright.errors import InputError
from ropewright.wear.quality import QualityReport

MOST_BEYOND: Final = 0.5
"""Share of samples beyond the crane's limits above which a log is refused; own assumption."""
WORTH_SAYING: Final = 0.02
"""Shares below this are not remarked on; own assumption."""


def refuse_unbelievable(quality: QualityReport) -> None:
    """Refuse a log most of which cannot be this crane's, or whose readings mostly jump.

    Parameters
    ----------
    quality
        What the log was like.

    Raises
    ------
    InputError
        If more than half of its samples lie beyond the crane's limits, have jumped, or have no
        position.
    """
    whole = quality.samples - quality.falls_unlike
    if whole <= 0:
        return
    for count, what, expected in (
        (quality.beyond_travel, "beyond them", "readings within the crane's limits"),
        (quality.blank, "without one", "a position in each sample"),
        (quality.resets, "after a jump", "a hook that moves no faster than hooks do"),
    ):
        if count > MOST_BEYOND * whole:
            raise InputError(
                field="log",
                expected=expected,
                given=f"{count} of {whole} samples {what}",
                hint="is it this crane's log? then look at column, unit and zero",
            )


def remarks(quality: QualityReport) -> tuple[str, ...]:
    """Sentences for the reader of a count; none for a log without fault.

    Parameters
    ----------
    quality
        What the log was like.
    """
    if not quality.samples:
        return ()
    said = []
    if quality.lost_share > WORTH_SAYING:
        said.append(
            f"For {_share(quality.lost_share)} of the log's time nobody knows where the rope lay: "
            "the count is the least that can have happened."
        )
    for count, words in (
        (quality.beyond_travel, "lie beyond the crane's limits: look at column, unit and zero"),
        (quality.blank, "have no position and are left out"),
        (quality.load_unknown, "have no load: these bends cannot be weighed by it"),
        (quality.falls_unlike, "are on other falls than the set-up has, and are not counted"),
        (quality.repeated + quality.backward, "repeat a moment or go back in time"),
    ):
        if count > WORTH_SAYING * quality.samples:
            said.append(f"{_share(count / quality.samples)} of the samples {words}.")
    if quality.resets:
        first = quality.reset_list[0]
        day = datetime.fromtimestamp(first.at_ms / 1000, UTC).date().isoformat()
        times = "once" if quality.resets == 1 else f"{quality.resets} times"
        said.append(
            f"The hook's reading jumped {times}, first on {day} (UTC) by {first.by_m:+.1f} m. If "
            "its zero was changed, give that as a new set-up of that day."
        )
    return tuple(said)


def _share(value: float) -> str:
    return "all" if value > 0.995 else f"{value:.0%}"
