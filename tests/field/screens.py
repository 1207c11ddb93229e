"""Every screen of the field app with the state it needs, to be looked at by itself."""

from typing import Any

PLACE = {"at_m": 201.6, "abs_err_m": 0.84, "rel_err_m": 0.22}
FOUND = {"place": PLACE, "position": {"hook_m": 97.2}, "point": "tower head platform"}
NEAR = {
    "place": {"at_m": 296.2, "abs_err_m": 0.8, "rel_err_m": 0.2},
    "position": None,
    "point": None,
}
GROUPS = [
    {"from_mm": "0", "to_mm": "0", "count": 1, "strand": 3, "site": "crown", "protruding": True},
    {
        "from_mm": "96",
        "to_mm": "96",
        "count": 1,
        "strand": 9,
        "site": "unknown",
        "protruding": None,
    },
]
CLUSTER = {
    "id": "x-1", "kind": "broken wires", "inspection_id": "2026-11-10-abcd", "place": PLACE,
    **PLACE,
    "groups": GROUPS, "offset_err_mm": "2", "crossover_damage": None, "same_as": None,
    "title": "2 at 201.6 m", "entry_id": "e-1", "position": {"hook_m": 97.2},
    "point": "tower head platform",
}  # fmt: skip
SAVED = {"title": "2 at 201.6 m", "entry_id": "e-1", "finding": CLUSTER}
CRANE = {"how": "crane", "map": 0, "pass": 0, "position": {}}

#: Name, address below the rope, draft.  A picture of each goes under its name.
OF_ROPE: tuple[tuple[str, str, dict[str, Any]], ...] = (
    ("open", "", {}),
    ("begin", "/begin", {"begin": {"kind": "periodic"}}),
    ("plan", "/plan", {}),
    ("gate", "/gate/0", {}),
    ("gate-by-hand", "/gate/4", {"gate": {"at": "4", "ticked": [0, 1]}}),
    ("pass", "/pass/0", {}),
    ("stopped", "/stopped/0", {"stop": {"at": "0", "stands": True}}),
    ("passed", "/passed/0", {}),
    ("height", "/place", {"place": CRANE}),
    ("read-back", "/place", {"place": CRANE | {"position": {"hook_m": 97.2}}}),
    ("place", "/place", {"place": CRANE | {"position": {"hook_m": 49.9}, "read": True}}),
    ("place-beyond", "/place", {"place": CRANE | {"position": {"hook_m": 166.5}}}),
    ("place-wrong", "/place", {"place": CRANE | {"position": {"hook_m": -4.0}, "read": True}}),
    ("where-from", "/place", {"place": CRANE | {"map": None}}),
    ("drum-layer", "/place", {"place": {"how": "drum"}}),
    ("drum-wrap", "/place", {"place": {"how": "drum", "layer": 2, "flange": "clamp"}}),
    ("from-mark", "/place", {"place": {"how": "mark", "mark": "7", "way": 1}}),
    ("from-end", "/place", {"place": {"how": "end"}}),
    ("what", "/what", {"found": FOUND}),
    ("cluster", "/cluster", {"found": FOUND, "cluster": {"groups": GROUPS}}),
    ("cluster-again", "/cluster", {"found": NEAR, "cluster": {"groups": GROUPS}}),
    ("strand", "/cluster", {"found": FOUND, "cluster": {"break": {"step": "strand"}}}),
    ("site", "/cluster", {"found": FOUND, "cluster": {"break": {"step": "site"}}}),
    ("diameter-reading", "/diameter", {"found": FOUND, "diameter": {"readings_mm": ["20.3"]}}),
    ("diameter", "/diameter", {"found": NEAR, "diameter": {"readings_mm": ["20.3", "19.2"]}}),
    ("wave", "/wave", {"found": FOUND, "wave": {"gap_mm": "2", "length_m": 0}}),
    ("damages", "/damage", {"found": FOUND}),
    ("damage", "/damage", {"found": FOUND, "damage": {"damage": "corrosion"}}),
    ("parts", "/part", {}),
    ("part", "/part", {"part": {"part": "sheave", "state": "groove worn"}}),
    ("mark", "/mark", {"found": FOUND}),
    ("photo", "/photo", {"saved": SAVED}),
    ("saved", "/saved", {"saved": SAVED, "found": FOUND}),
    ("end", "/end", {"end": {"items": {"drum": "seen"}, "accepted": {"0-66": {"by": True}}}}),
    ("done", "/done", {}),
    ("shift", "/shift", {"shift": {"answers": {"spooling": "not-ok"}, "words": {}}}),
    ("shift-done", "/shift", {"shift": {"answers": {}, "words": {}, "done": True,
     "found": ["spooling"], "not_seen": ["drum"]}}),
    ("hold", "/hold", {}),
    ("held", "/hold", {"hold": {"done": True}}),
)  # fmt: skip
OF_APP: tuple[tuple[str, str], ...] = (
    ("ropes", "/"), ("waiting", "/waiting"), ("mend", "/waiting/mend/e-2"),
    ("settings", "/settings"),
)  # fmt: skip

WORK: dict[str, Any] = {
    "rope_id": "KQ-1 hoist",
    "inspection": {
        "id": "2026-11-10-abcd", "kind": "periodic", "tag": "ab", "count": 1, "findings": [CLUSTER],
        "passes": [{"at": 0, "method": "eye", "sections": [{"from_m": 66.0, "to_m": 396.0}]}],
        "marks": [{"name": "8", **PLACE, "place": PLACE}], "items": {},
    },
}  # fmt: skip
REFUSED: dict[str, Any] = {
    "id": "e-2", "order": 1, "state": "refused", "title": "2 at 201.6 m",
    "reason": "payload.what.count: 1", "field": "payload.what.groups[0].count",
    "sent": {
        "kind": "cluster", "rope_id": "KQ-1 hoist", "happened_on": "2026-11-10",
        "happened_at": "2026-11-10T08:00:00+00:00", "typed_at": "2026-11-10T08:00:00+00:00",
        "person_id": "p", "payload": {"inspection_id": "2026-11-10-abcd", "what": {
            "finding_id": "x-1", "groups": [{"from_mm": "0", "to_mm": "0", "count": 0}],
        }},
    },
}  # fmt: skip
PUT = """([store, value]) => new Promise((resolve, reject) => {
  const opening = indexedDB.open('ropewright-field', 1);
  opening.onsuccess = () => {
    const change = opening.result.transaction(store, 'readwrite');
    change.objectStore(store).put(value);
    change.oncomplete = () => { opening.result.close(); resolve(); };
    change.onerror = () => reject(change.error);
  };
})"""
