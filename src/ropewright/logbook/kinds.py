"""The kinds of entries, each with the one form its content may have."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final, Literal, TypeAlias

from ropewright.errors import UnknownNameError
from ropewright.inspection import (
    Comparison,
    Confirmation,
    Crane,
    Event,
    InnerCount,
    Installation,
    Mark,
    Permission,
    ReferenceDiameter,
    Rigging,
    StoredForecast,
    Trial,
)
from ropewright.logbook import bookkeeping as b
from ropewright.logbook import payloads as p
from ropewright.rope import Certificate, Cut, EndForEnd

Role: TypeAlias = Literal[
    "operator", "inspector", "external examiner", "planner", "lift supervisor", "rope fitter",
    "keeper",
]  # fmt: skip
ROLES: Final[tuple[Role, ...]] = (
    "operator", "inspector", "external examiner", "planner", "lift supervisor", "rope fitter",
    "keeper",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of entry: its name, the type of its content, what it says in a few words.

    ``of_rope``: it belongs to one rope; the others belong to the book itself.
    """

    name: str
    payload: type[Any]
    says: str
    of_rope: bool = True


_ALL: Final = (
    Kind("page", p.Page, "title and people of a rope's page"),
    Kind("crane", Crane, "the crane and its site"),
    Kind("rigging", Rigging, "the path of the rope from a day on"),
    Kind("rope", p.RopeStated, "the rope itself"),
    Kind("certificate", Certificate, "the rope's certificate"),
    Kind("installation", Installation, "the rope on its hoist, and the rules chosen for it"),
    Kind("reference measurement", ReferenceDiameter, "diameter after running in"),
    Kind("permission", Permission, "a choice that a rule permits"),
    Kind("rule confirmed", Confirmation, "a clause held against an own copy"),
    Kind("cut", Cut, "rope taken off at an end"),
    Kind("end for end", EndForEnd, "the rope was turned"),
    Kind("re-termination", p.Reterminated, "an end made anew"),
    Kind("re-spool", p.Respooled, "the rope wound anew"),
    Kind("lubrication", p.Lubricated, "the rope dressed"),
    Kind("re-zero", p.ReZeroed, "the hook's zero moved"),
    Kind("limit override", p.LimitOverridden, "a limit switch bridged"),
    Kind("limit reset", p.LimitReset, "a limit switch works again"),
    Kind("event", Event, "something that may have hurt the rope"),
    Kind("hold", p.Held, "the rope is out of use"),
    Kind("release", p.Released, "a hold or event released"),
    Kind("inspection begun", p.InspectionBegun, "an inspection"),
    Kind("pass", p.PassMade, "rope run past a person"),
    Kind("hidden section", p.HiddenFound, "wires that could not be seen"),
    Kind("unseen accepted", p.UnseenAccepted, "accepted that a section was not seen"),
    Kind("examined", p.ItemExamined, "a place or part looked at"),
    Kind("instrument", p.InstrumentUsed, "a measuring instrument"),
    Kind("finding", p.FindingMade, "damage, a wave or a loss of metal"),
    Kind("cluster", p.ClusterCounted, "broken wires at one place"),
    Kind("reading", p.ReadingTaken, "a diameter"),
    Kind("part finding", p.PartFindingMade, "a finding on a part"),
    Kind("photo", p.PhotoTaken, "a photo"),
    Kind("mark", Mark, "tape or paint with a name"),
    Kind("inspection finished", p.InspectionFinished, "the inspection is finished"),
    Kind("inspection signed", p.InspectionSigned, "the inspection is signed"),
    Kind("warning shown", p.WarningShown, "a warning was shown"),
    Kind("warning dismissed", p.WarningDismissed, "a warning was put aside"),
    Kind("verdict accepted", p.VerdictAccepted, "a verdict was taken note of"),
    Kind("handover taken", p.HandoverTaken, "the next shift took over"),
    Kind("order", p.Order, "a new rope is ordered"),
    Kind("order checked", p.OrderChecked, "an order was gone over by a second person"),
    Kind("spare stored", p.SpareStored, "a rope lies in store"),
    Kind("rope taken off", p.RopeTakenOff, "the rope was taken off"),
    Kind("inner count", InnerCount, "broken wires inside an opened rope"),
    Kind("comparison", Comparison, "a finding held against an earlier one"),
    Kind("detection trial", Trial, "how much eye and hand found on one day"),
    Kind("forecast made", StoredForecast, "a forecast as it was given"),
    Kind("fitting step", p.FittingStepSaid, "a step of fitting a new rope"),
    Kind("correction", b.Correction, "an earlier entry is put right"),
    Kind("person", b.PersonNoted, "a person is known", of_rope=False),
    Kind("erased", b.Erased, "a person's data or a photo were erased", of_rope=False),
    Kind("book taken in", b.BookTakenIn, "another book's entries follow", of_rope=False),
)

#: Every kind of entry by its name.  A kind is never taken away, and its content only ever gains
#: fields that have a default; a new kind comes with a migration, so that an older version of
#: the tool refuses the book instead of passing over an entry.
KINDS: Final[Mapping[str, Kind]] = {kind.name: kind for kind in _ALL}

#: The kind for each type of content.
KIND_OF: Final[Mapping[type[Any], str]] = {kind.payload: kind.name for kind in _ALL}


def kind_of(name: str) -> Kind:
    """The kind with a name.

    Raises
    ------
    UnknownNameError
        If there is none.
    """
    if name not in KINDS:
        raise UnknownNameError(what="a kind of entry", given=name, known=KINDS, field="kind")
    return KINDS[name]
