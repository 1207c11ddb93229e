"""Where a rope stands, as one short record: derived from its entries and nothing else.

It says dates and states, never 'due', 'overdue' or 'soon': those words depend on today and are
made where the record is shown.
"""

import json
from collections.abc import Callable, Iterable, Mapping
from datetime import date
from typing import Any, Final, TypeAlias

from ropewright.inspection import THOROUGH_KINDS
from ropewright.logbook.canon import canonical
from ropewright.logbook.corrections import as_on, corrected_entries
from ropewright.logbook.entry import Entry

Standing: TypeAlias = dict[str, Any]
_Said: TypeAlias = Mapping[str, Any]


def fresh(rope_id: str) -> Standing:
    """The record of a rope nothing is known of yet."""
    return {
        "rope": rope_id,
        "state": "not fitted",
        "entries": 0,
        "findings": 0,
        "photos": 0,
        "marks": 0,
        "inspections": 0,
        "open_inspections": {},
        "holds": {},
        "overrides": {},
        "warnings": {},
        "orders": {},
    }


def standing_of(rope_id: str, entries: Iterable[Entry]) -> Standing:
    """The record of a rope from all its entries, with corrections applied.

    Parameters
    ----------
    rope_id
        The rope.
    entries
        All its entries, in the order of the book.
    """
    everything = tuple(entries)
    record = fresh(rope_id)
    for entry in corrected_entries(everything):
        _take(record, entry)
    record["entries"] = len(everything)
    return record


def standing_on(rope_id: str, entries: Iterable[Entry], as_of: date) -> Standing:
    """The record as it would have been on a day, by what is known now."""
    record = fresh(rope_id)
    kept = as_on(corrected_entries(entries), as_of)
    for entry in kept:
        _take(record, entry)
    record["entries"] = len(kept)
    return record


def advance(record: Standing, entry: Entry) -> Standing:
    """The record after one more entry that is no correction (those need all entries)."""
    _take(record, entry)
    record["entries"] += 1
    return record


def standing_text(record: Standing) -> str:
    """The record as canonical text: what the table holds."""
    return canonical(record)


def read_standing(text: str) -> Standing:
    """The record from its text."""
    return dict(json.loads(text))


def _take(record: Standing, entry: Entry) -> None:
    taker = _TAKE.get(entry.kind)
    if taker is not None:
        taker(record, json.loads(entry.payload), entry)


def _copy(*names: str) -> Callable[[Standing, _Said, Entry], None]:
    """Take over what an entry says; what the newest one leaves out is not known any more."""

    def take(record: Standing, said: _Said, _entry: Entry) -> None:
        for name in names:
            record.pop(name, None)
            if name in said:
                record[name] = said[name]

    return take


def _crane(record: Standing, said: _Said, _entry: Entry) -> None:
    record["crane"] = said["crane_id"]
    record["crane_kind"] = said.get("kind", "other")
    _copy("site", "zone")(record, said, _entry)


def _rope(record: Standing, said: _Said, _entry: Entry) -> None:
    rope = said["rope"]
    record["construction"] = rope["construction"]["name"]
    record["nominal_diameter_mm"] = rope["nominal_diameter_mm"]
    record["length_m"] = rope["length_m"]


def _fitted(record: Standing, said: _Said, entry: Entry) -> None:
    _copy(
        "hoist", "purpose", "fitted_on", "interval_days", "idle_since", "persons_lifted", "rules"
    )(record, said, entry)
    record["state"] = "fitted"
    record.pop("taken_off", None)


def _begun(record: Standing, said: _Said, _entry: Entry) -> None:
    record["inspections"] += 1
    name = said["inspection_id"]
    one = {"id": name, "kind": said["kind"], "on": said["on"]}
    if "next_by" in said:
        one["next_by"] = said["next_by"]
    record["open_inspections"][name] = one
    early = record.get("finished_early", {})
    if name in early:  # the end arrived before the beginning
        _finish(record, early.pop(name))
        if not early:
            del record["finished_early"]


def _finished(record: Standing, said: _Said, _entry: Entry) -> None:
    if said["inspection_id"] in record["open_inspections"]:
        _finish(record, said)
    else:
        record.setdefault("finished_early", {})[said["inspection_id"]] = dict(said)


def _finish(record: Standing, said: _Said) -> None:
    one = record["open_inspections"].pop(said["inspection_id"])
    if "next_by" in said:
        one["next_by"] = said["next_by"]
    names = ["last"] + ["last_thorough"] * (one["kind"] in THOROUGH_KINDS)
    for name in names:
        if record.get(name, {}).get("on", "") <= one["on"]:
            record[name] = dict(one)


def _signed(record: Standing, said: _Said, _entry: Entry) -> None:
    for name in ("last", "last_thorough"):
        if record.get(name, {}).get("id") == said["inspection_id"]:
            record[name]["signed"] = True


def _event(record: Standing, said: _Said, _entry: Entry) -> None:
    _put_on_hold(record, said["event_id"], said["on"], said["kind"])


def _hold(record: Standing, said: _Said, _entry: Entry) -> None:
    _put_on_hold(record, said["hold_id"], said["on"], said["reason"])


def _put_on_hold(record: Standing, name: str, on: str, why: str) -> None:
    early = record.get("released_early", [])
    if name not in early:
        record["holds"][name] = {"on": on, "why": why}
        return
    early.remove(name)  # its release arrived first
    if not early:
        del record["released_early"]


def _released(record: Standing, said: _Said, _entry: Entry) -> None:
    if record["holds"].pop(said["of"], None) is None:
        record.setdefault("released_early", []).append(said["of"])


def _override(record: Standing, said: _Said, entry: Entry) -> None:
    on = None if entry.happened_on is None else entry.happened_on.isoformat()
    record["overrides"][said["override_id"]] = {"on": on, "which": said["which"]}


def _reset(record: Standing, said: _Said, _entry: Entry) -> None:
    if said["tried"]:
        record["overrides"].pop(said["override_id"], None)


def _warning(record: Standing, said: _Said, _entry: Entry) -> None:
    record["warnings"][said["warning_id"]] = said["words"]


def _dismissed(record: Standing, said: _Said, _entry: Entry) -> None:
    record["warnings"].pop(said["warning_id"], None)


def _count(name: str) -> Callable[[Standing, _Said, Entry], None]:
    def take(record: Standing, _said: _Said, _entry: Entry) -> None:
        record[name] += 1

    return take


def _verdict(record: Standing, said: _Said, _entry: Entry) -> None:
    if record.get("verdict", {}).get("as_of", "") <= said["as_of"]:
        record["verdict"] = {name: said[name] for name in ("level", "as_of", "sentence")}


def _order(record: Standing, said: _Said, _entry: Entry) -> None:
    order = {name: said[name] for name in ("needed_by", "lead_weeks") if name in said}
    record["orders"][said["order_id"]] = {**order, "checked": False}


def _order_checked(record: Standing, said: _Said, _entry: Entry) -> None:
    order = record["orders"].get(said["order_id"])
    if order is not None:
        order["checked"] = said["agrees"]


def _stored(record: Standing, said: _Said, _entry: Entry) -> None:
    record["state"] = "in store"
    _copy("where", "reel_turned_on")(record, said, _entry)


def _taken_off(record: Standing, said: _Said, entry: Entry) -> None:
    record["state"] = "taken off"
    on = None if entry.happened_on is None else entry.happened_on.isoformat()
    record["taken_off"] = {"on": on, "why": said["why"], "went_to": said.get("went_to", "scrap")}


_TAKE: Final[Mapping[str, Callable[[Standing, _Said, Entry], None]]] = {
    "page": _copy("title", "invented"),
    "crane": _crane,
    "rope": _rope,
    "installation": _fitted,
    "inspection begun": _begun,
    "inspection finished": _finished,
    "inspection signed": _signed,
    "event": _event,
    "hold": _hold,
    "release": _released,
    "limit override": _override,
    "limit reset": _reset,
    "warning shown": _warning,
    "warning dismissed": _dismissed,
    "finding": _count("findings"),
    "cluster": _count("findings"),
    "reading": _count("findings"),
    "part finding": _count("findings"),
    "photo": _count("photos"),
    "mark": _count("marks"),
    "verdict accepted": _verdict,
    "order": _order,
    "order checked": _order_checked,
    "spare stored": _stored,
    "rope taken off": _taken_off,
}
