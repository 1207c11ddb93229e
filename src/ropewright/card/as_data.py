"""The card as plain data: limits and measured values as text, places as numbers in metres."""

from collections.abc import Iterable
from typing import Any, Final

from ropewright.card.assumed import TAPE_ERR_MM
from ropewright.card.lists import LISTS
from ropewright.card.maps import PlaceMap
from ropewright.card.model import FieldCard, MarkOnCard
from ropewright.card.on_card import last_time_as_data, limit_as_data, plan_as_card, reach_as_data
from ropewright.rules import LEVEL_WORDS, OfficeLimit
from ropewright.units import as_plain_data

CARD_SCHEMA: Final = 1


def card_as_data(card: FieldCard) -> dict[str, Any]:
    """The card as its published schema has it, in a fixed order."""
    low, high = card.path.in_service
    verdict = card.verdict
    return {
        "schema": CARD_SCHEMA,
        "rope_id": card.rope.rope_id,
        "made_at": card.made_on.isoformat(),
        "expires_at": card.expires_on.isoformat(),
        "invented": card.invented,
        "software": card.software,
        "book_head": card.book_head,
        "rules_hash": card.rules_hash,
        "crane": {"id": card.crane.crane_id, "kind": card.crane.kind, "site": card.crane.site},
        "rope": as_plain_data(card.rope),
        "service": {"from_m": low, "to_m": high, "turned": card.path.turned},
        "elsewhere": as_plain_data(card.elsewhere),
        "zones": [
            {"from_m": one.section.from_m, "to_m": one.section.to_m, **as_plain_data(one.exposure)}
            for one in card.zones
        ],
        "limits": [limit_as_data(one) for one in card.limits if not isinstance(one, OfficeLimit)],
        "office": [limit_as_data(one) for one in card.limits if isinstance(one, OfficeLimit)],
        "tape_err_mm": as_plain_data(TAPE_ERR_MM),
        "by_payout": card.by_payout,
        "place_maps": [_map(one) for one in card.place_maps],
        "not_mapped": as_plain_data(card.not_mapped),
        "travel": as_plain_data(card.travel),
        "readings": as_plain_data(card.readings),
        "drums": as_plain_data(card.drums),
        "plan": None if card.plan is None else plan_as_card(card.plan),
        "plan_missing": card.plan_missing,
        "marks": [_mark(one) for one in card.marks],
        "findings": [last_time_as_data(one) for one in card.last_time],
        "parts": [
            {"on": one.inspection.on.isoformat(), "inspection_id": one.inspection.inspection_id}
            | as_plain_data(one.finding)
            for one in card.parts
        ],
        "last": None
        if card.last is None
        else {
            "id": card.last.inspection_id,
            "kind": card.last.kind,
            "on": card.last.on.isoformat(),
            "next_by": as_plain_data(card.last.next_by),
            "by": [one.role for one in card.last.by],
        },
        "unfinished": [
            {"id": one.inspection_id, "kind": one.kind, "on": one.on.isoformat()}
            for one in card.unfinished
        ],
        "verdict": {
            "level": verdict.level,
            "words": LEVEL_WORDS[verdict.level],
            "sentence": verdict.sentence,
            "on_hold": verdict.on_hold,
            "who": verdict.who,
            "by_when": verdict.by_when,
        },
        "holds": [*verdict.hold_reasons, *_events(card)],
        "told": list(card.told),
        "cautions": as_plain_data(card.cautions),
        "lists": LISTS,
    }


def _events(card: FieldCard) -> Iterable[str]:
    for one in card.events:
        remark = f": {one.remark}" if one.remark else ""
        yield f"{one.kind} on {one.on.isoformat()}{remark}"


def _map(one: PlaceMap) -> dict[str, Any]:
    return {
        "point": one.place,
        "kind": one.kind,
        "rigging": one.rigging.isoformat(),
        "by_hand": one.by_hand,
        "remark": one.remark,
        "axes": as_plain_data(one.axes),
        "rope_m": [None if value is None else round(value, 6) for value in one.rope_m],
        "before_m": [None if value is None else round(value, 6) for value in one.before_m],
        "after_m": [None if value is None else round(value, 6) for value in one.after_m],
        "room_m": [None if value is None else round(value, 6) for value in one.room_m],
        "abs_err_m": [round(value, 4) for value in one.abs_err_m],
        "rel_err_m": [round(value, 4) for value in one.rel_err_m],
        "toward_b": one.toward_b,
        "rope_per_axis": one.rope_per_axis,
        "rope_m_per_s": one.rope_m_per_s,
        "safe_direction": None if one.direction is None else as_plain_data(one.direction),
    }


def _mark(one: MarkOnCard) -> dict[str, Any]:
    mark, again = one.mark, one.again
    return {
        "name": mark.name,
        "made_of": mark.made_of,
        "on": as_plain_data(mark.on),
        "at_m": mark.place.at_m,
        "abs_err_m": mark.place.abs_err_m,
        "rel_err_m": mark.place.rel_err_m,
        "reaches": [reach_as_data(reach) for reach in (again.reaches if again else ())],
        "not_reached": list(again.not_reached) if again else [],
        "hand_off": again.hand_off if again else "",
    }
