"""Cautions on the card, each with the moment of the work at which it must stand before a person."""

from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from ropewright.inspection import Dossier
from ropewright.rules import Verdict

Moment: TypeAlias = Literal["before", "pass", "hand", "drum", "measure", "after"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """One caution: the sign that goes with it, when it must be seen, what it says."""

    sign: str
    moment: Moment
    words: str


_ALWAYS: Final[tuple[tuple[str, Moment, str], ...]] = (
    ("book", "before", "Local rule, maker's manual and competent person come first."),
    ("two-people", "before", "Nobody alone. Agree who brings a hurt person down, and how."),
    ("weather", "before", "Thunderstorm, or wind near the crane's limit: not today."),
    ("barrier", "before", "Barrier up, a person on the ground; nobody under hook or rope."),
    ("stop", "pass", "One person commands, anyone stops, silence is stop. Try the radio now."),
    ("no-riding", "pass", "Nobody on jib or trolley while anything moves."),
    ("hook-empty", "pass", "Empty hook, creep speed, no other motion."),
    ("screen-away", "pass", "Phone away: eyes on the rope. Nobody looks at a screen."),
    ("hand-off", "pass", "A snag: stop word, hand off, height read and read back, then write."),
    (
        "nip", "hand",
        "The rope runs AWAY from the nearest sheave or drum; the next nip is well beyond reach.",
    ),
    (
        "rag", "hand",
        "Rag laid over and pinched lightly: never round hand or rope. Close gloves, nothing loose.",
    ),
    ("wires", "hand", "Never a hand where wires stand out or may stand out."),
    ("lock", "drum", "Stop, isolate, lock, try: before a guard is opened or a hand goes near."),
    ("no-bars", "drum", "Pulled-in wrap: no bars, no hands. Rope fitters re-spool under load."),
    ("slack", "drum", "A landed block makes slack rope: keep tension on, watch the drum."),
    ("lock", "measure", "Gauge and count on stopped, isolated rope only. Fall protection."),
    ("limits", "after", "Limits restored and tried with the empty hook, by name."),
)  # fmt: skip


def cautions_of(dossier: Dossier, verdict: Verdict) -> tuple[Caution, ...]:
    """Cautions for the work at this rope, the gravest first.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    verdict
        What the rules say of it before the inspection.
    """
    own: list[Caution] = []
    if verdict.level == "remove":
        words = (
            "A discard criterion is reached: nothing is lifted. The competent person decides first "
            "whether even the empty hook may run."
        )
        own.append(Caution(sign="hold", moment="before", words=words))
    elif verdict.on_hold:
        words = "On hold: the competent person decides first whether the rope may run."
        own.append(Caution(sign="hold", moment="before", words=words))
    if dossier.installation.purpose == "luffing":
        words = (
            "This rope holds the jib: the maker's procedure for laying the jib down comes first."
        )
        own.append(Caution(sign="jib", moment="before", words=words))
    always = (Caution(sign=sign, moment=when, words=words) for sign, when, words in _ALWAYS)
    return (*own, *always)
