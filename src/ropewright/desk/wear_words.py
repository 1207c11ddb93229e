"""Wear in plain sentences: how it agrees with what was found, and what the log was like."""

from collections.abc import Iterator
from datetime import UTC, datetime

from ropewright.desk.wearing import SecondOpinion, WearResult
from ropewright.wear.agreement import Agreement
from ropewright.wear.quality import ORIGIN_WORDS, QualityReport
from ropewright.wear.remarks import remarks

HOUR_MS = 3_600_000


def agreement_words(found: Agreement) -> str:
    """How well the map agrees with the broken wires found, in words."""
    if not found.assessable:
        return f"not assessable: {found.why_not}"
    head = {
        True: "the map agrees with the broken wires found",
        False: "no agreement with the broken wires found shows",
        None: "",
    }[found.agrees]
    share, rank = found.top_share or 0.0, found.correlation or 0.0
    return (
        f"{head}: {share * 100:.0f} % of {found.breaks} lie in the tenth of the rope that is "
        f"worn most (by luck this happens with a chance of {_chance(found.top_chance)}); rank "
        f"correlation {rank:.2f} (by luck {_chance(found.correlation_chance)})"
    )


def _chance(value: float | None) -> str:
    return "unknown" if value is None else f"{value * 100:.0f} %" if value >= 0.01 else "under 1 %"


def opinion_words(opinion: SecondOpinion) -> str:
    """Broken wires that ended the life of ropes in tests, in words."""
    count = opinion.count
    if count is None:
        return f"no number of broken wires: {opinion.why_not}"
    return (
        f"ropes like this ({count.rope}) were done at {count.on_30d:.0f} broken wires on 30 d or "
        f"{count.on_6d:.0f} on 6 d, {count.visible_30d:.0f} and {count.visible_6d:.0f} of them "
        f"visible ({count.provenance}). A second opinion: the rules decide."
    )


def duty_words(found: WearResult) -> str:
    """What the log stands for, in words."""
    first, last = found.pieces[0].first, found.pieces[-1].last
    return (
        f"{ORIGIN_WORDS[found.duty.origin]}, {first.isoformat()} to {last.isoformat()}: "
        f"{found.duty.lifts:,} lifts; {found.wear.bent_m / 1000:,.0f} km of rope went through a "
        "bend"
    )


def _unlike(one: QualityReport) -> str:
    """What is said of samples on other falls: how much of the log, and when."""
    share = one.falls_unlike / one.samples
    words = "under 1 %" if share < 0.01 else "all" if share == 1 else f"{share * 100:.0f} %"
    first, last = (
        "" if at_ms is None else f"{datetime.fromtimestamp(at_ms / 1000, UTC):%Y-%m-%d %H:%M}"
        for at_ms in (one.unlike_first_ms, one.unlike_last_ms)
    )
    when = f", between {first} and {last} (UTC)" if first and last else ""
    return f"on other falls than the set-up has: not counted; {words} of the log{when}"


def quality_lines(quality: QualityReport) -> tuple[str, ...]:
    """What a log was like and what was left out of it, a line each; none for a list of lifts."""
    return tuple(_quality(quality)) if quality.samples else ()


def _quality(one: QualityReport) -> Iterator[str]:
    yield f"{one.samples:,} samples; rope moved for {one.moving_ms / HOUR_MS:,.1f} h"
    if one.gaps:
        yield (
            f"{one.gaps:,} gaps, {one.gap_ms / HOUR_MS:,.1f} h: each taken as one direct move of "
            "unknown load"
        )
    if one.slack_spells:
        yield f"slack rope {one.slack_spells:,} times, left out until the rope was tight again"
    if one.resets:
        yield f"{one.resets:,} jumps of the reading: nothing counted across them"
    for count, words in (
        (one.repeated + one.backward, "repeat a moment or go back in time: left out"),
        (one.blank, "without a position: left out"),
        (one.beyond_travel, "beyond the crane's travel: left out"),
        (one.load_unknown, "without a load: counted as 'not known', never as zero"),
        (one.falls_unlike, _unlike(one)),
    ):
        if count:
            yield f"{count:,} samples {words}"
    yield from remarks(one)
    if not one.slack_known:
        yield "Slack rope cannot be seen: state the hook block's mass."
