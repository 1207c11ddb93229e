"""The published schema of a field card: what every reader of one may rely on."""

from typing import Any, Final

from ropewright.card.as_data import CARD_SCHEMA
from ropewright.inspection import CRANE_KINDS
from ropewright.rules.ruling import LEVELS, PROVENANCES

_TEXT: Final[dict[str, Any]] = {"type": "string"}
_MAYBE_TEXT: Final[dict[str, Any]] = {"type": ["string", "null"]}
_FLAG: Final[dict[str, Any]] = {"type": "boolean"}
_MAYBE_FLAG: Final[dict[str, Any]] = {"type": ["boolean", "null"]}
_NUMBER: Final[dict[str, Any]] = {"type": "number"}
_MAYBE_NUMBER: Final[dict[str, Any]] = {"type": ["number", "null"]}
_COUNT: Final[dict[str, Any]] = {"type": "integer", "minimum": 0}
_DAY: Final[dict[str, Any]] = {"type": "string", "pattern": r"^\d{4}-\d\d-\d\d$"}
_EXACT: Final[dict[str, Any]] = {
    "type": "string",
    "pattern": r"^-?\d+(\.\d+)?$|^-?\d+/[1-9]\d*$",
    "description": "an exact number: a decimal, or a ratio where the decimal does not end",
}
_MAYBE_EXACT: Final[dict[str, Any]] = {"anyOf": [_EXACT, {"type": "null"}]}


def _list(of: dict[str, Any]) -> dict[str, Any]:
    return {"type": "array", "items": of}


def _object(fields: dict[str, Any], *, may: dict[str, Any] | None = None) -> dict[str, Any]:
    """An object that has all the fields, may have some more, and no others."""
    return {
        "type": "object",
        "required": sorted(fields),
        "properties": {**fields, **(may or {})},
        "additionalProperties": False,
    }


def _maybe(one: dict[str, Any]) -> dict[str, Any]:
    return {"anyOf": [one, {"type": "null"}]}


_EXPOSURE: Final = {
    "drum": {"enum": ["none", "single", "multi", "unknown"]},
    "sheaves": {"enum": ["none", "steel", "plastic", "unknown"]},
    "crossover": _MAYBE_FLAG,
    "near_end": _MAYBE_FLAG,
    "bends": _MAYBE_FLAG,
}
_SECTION: Final = {"from_m": _NUMBER, "to_m": _NUMBER}
_DIRECTION: Final = _maybe(
    _object(
        {
            "motion": _MAYBE_TEXT, "words": _TEXT, "hand": _FLAG, "why_none": _MAYBE_TEXT,
            "nearest": _MAYBE_TEXT, "nearest_m": _MAYBE_NUMBER, "ahead": _MAYBE_TEXT,
            "ahead_m": _MAYBE_NUMBER,
        }
    )
)  # fmt: skip
_REACHES: Final = _list(
    _object(
        {
            "place": _TEXT, "words": _TEXT, "hook_m": _MAYBE_NUMBER, "hook_err_m": _NUMBER,
            "direction": _DIRECTION,
        }
    )
)  # fmt: skip
_ERRORS: Final = {
    "at_m": _NUMBER,
    "abs_err_m": {"type": "number", "minimum": 0},
    "rel_err_m": {"type": "number", "minimum": 0},
}
_COMPARE: Final = {"enum": ["reached", "more than"]}
_CLAUSE: Final = {
    "id": _TEXT, "cite": _TEXT, "title": _TEXT, "words": _TEXT,
    "provenance": {"enum": list(PROVENANCES)}, "demand": {"enum": list(LEVELS)},
    "remedy": _list(_TEXT), "who": _TEXT, "by_when": _TEXT, "at": _list(_TEXT),
}  # fmt: skip
_FIGURE: Final = _object({"value": _MAYBE_EXACT, "missing": _list(_TEXT), "unknown": _list(_TEXT)})
_WINDOW: Final = {"window": _TEXT, "shortest_mm": _EXACT, "longest_mm": _EXACT}
_KINDS: Final[dict[str, dict[str, Any]]] = {
    "breaks": {
        **_WINDOW, "sites": _list(_TEXT), "per": {"enum": ["rope", "strand"]},
        "where": {"enum": ["anywhere", "at an end", "not at an end"]}, "protruding_only": _FLAG,
        "steel_sheaves_only": _FLAG, "compare": _COMPARE,
        "limit": _object({"single": _FIGURE, "multi": _FIGURE}),
        "worn": _list(_object({"percent": _EXACT, "factor": _EXACT})),
    },
    "bunched": {**_WINDOW, "strands": _COUNT, "least": _COUNT},
    "diameter": {
        "change": {"enum": ["decrease", "increase"]}, "baseline": _TEXT, "baseline_mm": _EXACT,
        "of_mm": _EXACT, "limit": _EXACT, "unit": {"enum": ["%", "mm"]}, "compare": _COMPARE,
        "except_crushed": _FLAG,
    },
    "waviness": {"limit_mm": _EXACT, "section_bends": _FLAG, "compare": _COMPARE},
    "damage": {
        "findings": _list(_TEXT), "forms": _list(_TEXT), "grades": _list(_TEXT),
        "on_bending_rope": _MAYBE_FLAG,
        "ratings": _maybe({"type": "object", "additionalProperties": _EXACT}),
        "limit_percent": _MAYBE_EXACT,
    },
    "worn wires": {"share": _EXACT, "compare": _COMPARE},
    "part": {"parts": _list(_TEXT), "states": _list(_TEXT)},
}  # fmt: skip
_GROUP: Final = _object(
    {
        "from_mm": _EXACT, "to_mm": _EXACT, "count": _COUNT, "site": _TEXT,
        "strand": {"type": ["integer", "null"]}, "protruding": _MAYBE_FLAG,
    }
)  # fmt: skip
_FINDING: Final = _object(
    {
        "id": _TEXT, "kind": _TEXT, "on": _DAY, "inspection_id": _TEXT, "method": _MAYBE_TEXT,
        **_ERRORS, **_SECTION, "same_as": _MAYBE_TEXT, "remark": _TEXT, "photos": _list(_TEXT),
        "asks": _TEXT, "course": _list(_object({"on": _DAY, "value": _EXACT, "by": _TEXT})),
        "reaches": _REACHES, "not_reached": _list(_TEXT), "hand_off": _TEXT,
    },
    may={
        "groups": _list(_GROUP), "count": _COUNT, "offset_err_mm": _EXACT,
        "crossover_damage": _MAYBE_FLAG, "ends_broken_off": _MAYBE_FLAG,
        "readings_mm": _list(_EXACT), "crushed_by_crossover": _MAYBE_FLAG, "gap_mm": _EXACT,
        "length_m": _NUMBER, "damage": _TEXT, "form": _MAYBE_TEXT, "grade": _MAYBE_TEXT,
        "rating_percent": _MAYBE_EXACT, "depth_share": _MAYBE_EXACT, "percent": _EXACT,
        "over_mm": _MAYBE_EXACT,
    },
)  # fmt: skip
_MAP: Final = _object(
    {
        "point": _TEXT, "kind": {"enum": ["run", "walk"]}, "rigging": _DAY, "by_hand": _FLAG,
        "remark": _TEXT,
        "axes": _list(_object({"axis": _TEXT, "at": {**_list(_NUMBER), "minItems": 2}})),
        "rope_m": _list(_MAYBE_NUMBER), "before_m": _list(_MAYBE_NUMBER),
        "after_m": _list(_MAYBE_NUMBER),
        "room_m": _list(_MAYBE_NUMBER), "abs_err_m": _list(_NUMBER), "rel_err_m": _list(_NUMBER),
        "toward_b": {"enum": [-1, 1]}, "rope_per_axis": _NUMBER, "rope_m_per_s": _NUMBER,
        "safe_direction": _DIRECTION,
    }
)  # fmt: skip
_DRUM: Final = _object(
    {
        "side": {"enum": ["A", "B"]}, "length_m": _NUMBER, "clamp_flange": _TEXT,
        "far_flange": _TEXT, "own_err_m": _NUMBER,
        "layers": _list(
            _object(
                {"layer": _COUNT, **_SECTION, "turn_m": _NUMBER, "start_part": _NUMBER,
                 "wraps": _NUMBER, "abs_err_m": _NUMBER}
            )
        ),
        "zones": _list(_object({"kind": _TEXT, "layer": _COUNT, **_SECTION})),
    }
)  # fmt: skip
_ANY: Final[dict[str, Any]] = {"type": "object"}


def card_schema() -> dict[str, Any]:
    """The schema of a card as JSON Schema, in a fixed order."""
    limits = [
        _object({"kind": {"const": kind}, **_CLAUSE, **more}) for kind, more in _KINDS.items()
    ]
    office = _object({"kind": {"const": "office"}, **_CLAUSE, "why": _TEXT})
    fields = {
        "schema": {"const": CARD_SCHEMA},
        "rope_id": _TEXT,
        "made_at": _DAY,
        "expires_at": _DAY,
        "invented": _FLAG,
        "software": _TEXT,
        "book_head": _TEXT,
        "rules_hash": {"type": "string", "pattern": "^[0-9a-f]{64}$"},
        "crane": _object({"id": _TEXT, "kind": {"enum": list(CRANE_KINDS)}, "site": _TEXT}),
        "rope": _object(
            {
                "rope_id": _TEXT, "hoist": _TEXT, "purpose": _TEXT, "construction": _TEXT,
                "diameter_mm": _EXACT, "reference_mm": _MAYBE_EXACT,
                "outer_strands": {"type": ["integer", "null"]},
                "wires": {"type": ["integer", "null"]}, "lay_mm": _MAYBE_EXACT,
                "rotation_resistant": _MAYBE_FLAG,
            }
        ),
        "service": _object({**_SECTION, "turned": _FLAG}),
        "elsewhere": _object(_EXPOSURE),
        "zones": _list(_object({**_SECTION, **_EXPOSURE})),
        "limits": _list({"oneOf": limits}),
        "office": _list(office),
        "tape_err_mm": _EXACT,
        "by_payout": _FLAG,
        "place_maps": _list(_MAP),
        "not_mapped": _list(_object({"place": _TEXT, "why": _TEXT})),
        "travel": _maybe(_ANY),
        "readings": _maybe(_ANY),
        "drums": _list(_DRUM),
        "plan": _maybe(_ANY),
        "plan_missing": _TEXT,
        "marks": _list(
            _object(
                {"name": _TEXT, "made_of": _TEXT, "on": _MAYBE_TEXT, **_ERRORS,
                 "reaches": _REACHES, "not_reached": _list(_TEXT), "hand_off": _TEXT}
            )
        ),
        "findings": _list(_FINDING),
        "parts": _list(_ANY),
        "last": _maybe(
            _object(
                {"id": _TEXT, "kind": _TEXT, "on": _DAY, "next_by": _MAYBE_TEXT,
                 "by": _list(_TEXT)}
            )
        ),
        "unfinished": _list(_object({"id": _TEXT, "kind": _TEXT, "on": _DAY})),
        "verdict": _object(
            {"level": {"enum": list(LEVELS)}, "words": _TEXT, "sentence": _TEXT,
             "on_hold": _FLAG, "who": _TEXT, "by_when": _TEXT}
        ),
        "holds": _list(_TEXT),
        "told": _list(_TEXT),
        "cautions": _list(_object({"sign": _TEXT, "moment": _TEXT, "words": _TEXT})),
        "lists": _ANY,
    }  # fmt: skip
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Field card of one rope",
        "description": "Limits and measured values are text and exact; places are metres.",
        **_object(fields),
    }
