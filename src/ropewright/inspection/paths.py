"""From the stated numbers of a reeving to the rope's path, kind by kind."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Final

from ropewright.geometry import (
    BlockSheaves,
    Contact,
    Element,
    Lead,
    LevelTrack,
    LuffingJib,
    Reeving,
    Sense,
    TelescopicBoom,
    bridge_hoist_single,
    bridge_hoist_twin,
    luffing_jib_hoist,
    luffing_rope,
    telescopic_hoist,
    trolley_jib_hoist,
    trolley_rope,
)
from ropewright.inspection.dossier import Rigging
from ropewright.inspection.free_path import listed_path, turned
from ropewright.inspection.rigged import PathKind, ReevingFacts, TravelFacts


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A number that would help, under the key where it belongs."""

    key: str
    words: str


_FALLS = Asked(key="falls", words="the number of falls")
_LOW = Asked(key="hook_low", words="the lowest hook height")
_HIGH = Asked(key="hook_high", words="the highest hook height")
_BLOCK = Asked(key="reeving.block_sheave", words="the diameter of the block's sheaves")
_UPPER = Asked(key="reeving.upper_sheave", words="the diameter of the sheaves above the block")
_HEIGHT = Asked(
    key="reeving.upper_height", words="the height of the upper sheaves' centres above the zero"
)
_ROOT = Asked(key="reeving.root_radius", words="the radius of the root sheave")
_TO_DRUM = Asked(key="reeving.to_drum", words="the rope from the last sheave to the drum")
_R_MIN = Asked(key="travel.radius_min", words="the trolley's smallest radius")
_R_MAX = Asked(key="travel.radius_max", words="the trolley's largest radius")
_JIB = Asked(key="reeving.jib_length", words="the jib's length from foot pin to head sheave")
_FOOT = Asked(key="reeving.foot_height", words="the height of the foot pin above the zero")
_BACK = Asked(key="reeving.a_frame_back", words="how far the A-frame's sheave lies behind the foot")
_UP = Asked(key="reeving.a_frame_up", words="how far the A-frame's sheave lies above the foot")
_A_SHEAVE = Asked(key="reeving.a_frame_sheave", words="the diameter of the A-frame's sheave")
_JIB_MIN = Asked(key="travel.jib_min", words="the jib's smallest angle")
_JIB_MAX = Asked(key="travel.jib_max", words="the jib's largest angle")

_LUFFING = (_JIB, _FOOT, _BACK, _UP, _A_SHEAVE, _JIB_MIN, _JIB_MAX)
_NEEDS: Final[Mapping[PathKind, tuple[Asked, ...]]] = {
    "trolley-jib hoist": (
        _FALLS, _LOW, _HIGH, _HEIGHT, _UPPER, _BLOCK, _ROOT, _TO_DRUM, _R_MIN, _R_MAX,
    ),
    "trolley rope": (
        Asked(key="reeving.trolley_rope", words="whether it is the inner or the outer rope"),
        Asked(key="reeving.end_sheave_radius", words="the radius of the sheave at the jib's end"),
        Asked(key="reeving.winch_radius", words="the radius at which the trolley winch stands"),
        _R_MIN, _R_MAX,
    ),
    "luffing-jib hoist": (_FALLS, _LOW, _HIGH, _UPPER, _BLOCK, _TO_DRUM, *_LUFFING),
    "luffing rope": (
        _FALLS, _TO_DRUM, *_LUFFING,
        Asked(key="reeving.pendant", words="the pendants' length to the luffing block"),
    ),
    "telescopic hoist": (
        _FALLS, _LOW, _HIGH, _UPPER, _BLOCK, _FOOT, _TO_DRUM,
        Asked(key="travel.boom_min", words="the boom's shortest length"),
        Asked(key="travel.boom_max", words="the boom's greatest length"),
        Asked(key="travel.boom_angle_min", words="the boom's smallest angle"),
        Asked(key="travel.boom_angle_max", words="the boom's largest angle"),
    ),
    "bridge hoist, twin drum": (
        _FALLS, _LOW, _HIGH, _HEIGHT, _UPPER, _BLOCK,
        Asked(key="reeving.equaliser_sheave", words="the diameter of the equaliser sheave"),
    ),
    "bridge hoist, single drum": (_FALLS, _LOW, _HIGH, _HEIGHT, _UPPER, _BLOCK),
    "spans and sheaves": (
        Asked(key="reeving.part", words="the path as a list of spans and sheaves, from end A on"),
    ),
}  # fmt: skip

#: Keys whose names in the core differ from the key by more than the unit.
_NAMES: Final[Mapping[str, str]] = {
    "hook_low": "hook_low_m",
    "hook_high": "hook_high_m",
    "upper_sheave": "upper_sheave_mm",
    "block_sheave": "block_sheave_mm",
    "upper_height": "upper_height_m",
    "root_radius": "root_m",
    "to_drum": "to_drum_m",
    "radius_min": "radius_min_m",
    "radius_max": "radius_max_m",
    "jib_length": "jib_m",
    "foot_height": "foot_height_m",
    "a_frame_back": "a_frame_back_m",
    "a_frame_up": "a_frame_up_m",
    "a_frame_sheave": "a_frame_sheave_mm",
    "jib_min": "jib_min_deg",
    "jib_max": "jib_max_deg",
    "boom_min": "boom_min_m",
    "boom_max": "boom_max_m",
    "boom_angle_min": "boom_min_deg",
    "boom_angle_max": "boom_max_deg",
    "pendant": "pendant_m",
    "equaliser_sheave": "equaliser_mm",
    "end_sheave_radius": "end_sheave_m",
    "winch_radius": "winch_m",
    "anchor_radius": "anchor_m",
}

_FRAME: Final[Mapping[str, tuple[Asked, ...]]] = {
    "level": (),
    "luffing jib": (_JIB, _FOOT, _BACK, _UP, _JIB_MIN, _JIB_MAX),
    "telescopic boom": (
        _FOOT,
        *(one for one in _NEEDS["telescopic hoist"] if one.key.startswith("travel.boom")),
    ),
}
ROOT_SHEAVE: Final = "root sheave"
_ROOT_BEND = Asked(
    key="reeving.root_bend",
    words="whether the root sheave bends the rope the same way as the sheave before it",
)
_DRUM_BEND = Asked(
    key="reeving.drum_bend",
    words="whether the drum bends the rope the same way as the sheave before it",
)

_KIND = Asked(key="reeving.kind", words="what kind of path the rope takes")


def asked_for_path(rigging: Rigging, facts: ReevingFacts) -> tuple[Asked, ...]:
    """The numbers still missing for the whole path; none if there is enough."""
    if facts.kind is None:
        return (_KIND,)
    needs = list(_NEEDS[facts.kind])
    if facts.kind == "spans and sheaves":
        needs += _needs_of_parts(facts)
    if facts.kind == "trolley-jib hoist" and facts.anchor != "trolley":
        where = facts.anchor or "jib tip"
        words = f"the radius of the rope's fitting at the {where}"
        needs.insert(7, Asked(key="reeving.anchor_radius", words=words))
    return tuple(one for one in needs if not _is_known(rigging, facts, one.key))


def _needs_of_parts(facts: ReevingFacts) -> tuple[Asked, ...]:
    """What a path told piece by piece needs beside its pieces."""
    frame = _FRAME[facts.hangs_from or "level"]
    if any(part.per_drop for part in facts.parts):
        level = facts.hangs_from in (None, "level")
        frame = (_LOW, _HIGH, *((_HEIGHT,) if level else ()), *frame)
    if any(part.per_radius for part in facts.parts):
        frame = (*frame, _R_MIN, _R_MAX)
    return frame


def asked_for_bends(reeving: Reeving, facts: ReevingFacts) -> tuple[Asked, ...]:
    """Bends whose sense nobody stated: without them a reverse bend there stays unknown."""
    asked = []
    before = [contact.name for contact in reeving.contacts]
    if facts.root_bend is None and ROOT_SHEAVE in before[1:] and facts.kind != "spans and sheaves":
        asked.append(_ROOT_BEND)
    if facts.drum_bend is None and before:
        asked.append(_DRUM_BEND)
    return tuple(asked)


def _is_known(rigging: Rigging, facts: ReevingFacts, key: str) -> bool:
    if key == "reeving.part":
        return bool(facts.parts)
    if key in ("travel.jib_min", "travel.jib_max") and radius_for_jib(rigging, facts):
        return True
    table, _, name = key.rpartition(".")
    holder: object = rigging
    if table:
        holder = facts if table == "reeving" else rigging.travel or TravelFacts()
    return getattr(holder, _NAMES.get(name, name)) is not None


def radius_for_jib(rigging: Rigging, facts: ReevingFacts) -> bool:
    """Whether the limits of a luffing jib are told as radii, which its length turns into angles."""
    travel = rigging.travel or TravelFacts()
    angles = (travel.jib_min_deg, travel.jib_max_deg)
    radii = (travel.radius_min_m, travel.radius_max_m)
    return angles == (None, None) and None not in radii and facts.jib_m is not None


def path_of(rigging: Rigging, facts: ReevingFacts, *, rope_mm: float) -> Reeving:
    """The rope's path; every number of `asked_for_path` must be there.

    Parameters
    ----------
    rigging, facts
        What is stated.
    rope_mm
        The rope's diameter, to get from groove bottoms to its centre line [mm].
    """
    if facts.kind is None:
        raise ValueError("the kind of path must be known")
    return _with_bends(
        _MAKERS[facts.kind](_Known(rigging=rigging, facts=facts, rope_mm=rope_mm)), facts
    )


def _with_bends(reeving: Reeving, facts: ReevingFacts) -> Reeving:
    """The path with the root sheave and the drum bending the rope as stated."""
    elements: list[Element] = []
    sense: Sense = 1
    for element in reeving.elements:
        kept: Element = element
        if isinstance(element, Contact):
            first = not any(isinstance(one, Contact) for one in elements)
            if element.name == ROOT_SHEAVE and facts.root_bend is not None and not first:
                kept = replace(element, sense=turned(sense, facts.root_bend))
            sense = kept.sense if isinstance(kept, Contact) else sense
        elements.append(kept)
    drum = reeving.drum_sense if facts.drum_bend is None else turned(sense, facts.drum_bend)
    return replace(reeving, elements=tuple(elements), drum_sense=drum)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Known:
    """What is stated, with the usual values for what may be left out."""

    rigging: Rigging
    facts: ReevingFacts
    rope_mm: float

    def length(self, name: str, otherwise: float | None = None) -> float:
        """A number [m or deg] of the reeving."""
        value: float | None = getattr(self.facts, name)
        chosen = otherwise if value is None else value
        if chosen is None:
            raise ValueError(f"{name} must be known")
        return chosen

    def centre_mm(self, name: str) -> float:
        """A sheave's diameter to the rope's centre line [mm]."""
        return self.length(name) + self.rope_mm

    @property
    def falls(self) -> int:
        return self.rigging.falls or 0

    def level(self) -> LevelTrack:
        return LevelTrack(
            sheave_height_m=self.length("upper_height_m"),
            hook_below_m=self.length("hook_below_m", 0.0),
        )

    def luffing(self) -> LuffingJib:
        return LuffingJib(
            jib_m=self.length("jib_m"),
            foot_height_m=self.length("foot_height_m"),
            foot_radius_m=self.length("foot_radius_m", 0.0),
            a_frame_back_m=self.length("a_frame_back_m"),
            a_frame_up_m=self.length("a_frame_up_m"),
            hook_below_m=self.length("hook_below_m", 0.0),
        )

    def sheaves(self, usually: str) -> BlockSheaves:
        in_plane = (self.facts.sheaves_lie or usually) == "in one plane"
        block_sense: Sense = -1 if in_plane else 1
        return BlockSheaves(
            block_mm=self.centre_mm("block_sheave_mm"),
            upper_mm=self.centre_mm("upper_sheave_mm"),
            block_sense=block_sense,
            groove=self.rigging.sheaves or "unknown",
        )

    def lead(self) -> Lead:
        root = self.facts.root_sheave_mm
        return Lead(
            to_drum_m=self.length("to_drum_m"),
            sheave_mm=None if root is None else root + self.rope_mm,
            wrap_deg=self.length("root_wrap_deg", 90.0),
            groove=self.rigging.sheaves or "unknown",
        )


def _trolley_hoist(known: _Known) -> Reeving:
    facts = known.facts
    return trolley_jib_hoist(
        falls=known.falls,
        frame=known.level(),
        sheaves=known.sheaves("in one plane"),
        lead=known.lead(),
        root_m=known.length("root_m"),
        anchor=facts.anchor or "jib tip",
        anchor_m=facts.anchor_m,
        block=facts.block or "single",
        trolley_half_m=known.length("trolley_half_m", 0.0),
    )


def _trolley_rope(known: _Known) -> Reeving:
    facts = known.facts
    return trolley_rope(
        rope=facts.trolley_rope or "inner",
        end_sheave_m=known.length("end_sheave_m"),
        winch_m=known.length("winch_m"),
        sheave_mm=None if facts.end_sheave_mm is None else known.centre_mm("end_sheave_mm"),
        trolley_half_m=known.length("trolley_half_m", 0.0),
    )


def _luffing_hoist(known: _Known) -> Reeving:
    return luffing_jib_hoist(
        falls=known.falls,
        frame=known.luffing(),
        sheaves=known.sheaves("on one axis"),
        a_frame_sheave_mm=known.centre_mm("a_frame_sheave_mm"),
        lead_deg=known.length("lead_deg", 270.0),
        lead=known.lead(),
    )


def _luffing_rope(known: _Known) -> Reeving:
    return luffing_rope(
        falls=known.falls,
        frame=known.luffing(),
        pendant_m=known.length("pendant_m"),
        sheave_mm=known.centre_mm("a_frame_sheave_mm"),
        lead_deg=known.length("lead_deg", 270.0),
        lead=known.lead(),
        tie_at_m=known.facts.tie_at_m,
    )


def _telescopic(known: _Known) -> Reeving:
    return telescopic_hoist(
        falls=known.falls,
        frame=TelescopicBoom(
            foot_height_m=known.length("foot_height_m"),
            foot_radius_m=known.length("foot_radius_m", 0.0),
            hook_below_m=known.length("hook_below_m", 0.0),
        ),
        sheaves=known.sheaves("on one axis"),
        lead=known.lead(),
        beyond_boom_m=known.length("beyond_boom_m", 0.0),
    )


def _bridge_twin(known: _Known) -> Reeving:
    return bridge_hoist_twin(
        falls=known.falls,
        frame=known.level(),
        sheaves=known.sheaves("on one axis"),
        equaliser_mm=known.centre_mm("equaliser_mm"),
        drum_up_m=known.length("drum_up_m", 0.0),
    )


def _bridge_single(known: _Known) -> Reeving:
    return bridge_hoist_single(
        falls=known.falls,
        frame=known.level(),
        sheaves=known.sheaves("on one axis"),
        drum_up_m=known.length("drum_up_m", 0.0),
        lead=None if known.facts.to_drum_m is None else known.lead(),
    )


def _listed(known: _Known) -> Reeving:
    rigging = known.rigging
    return listed_path(
        known.facts, rope_mm=known.rope_mm, falls=rigging.falls, groove=rigging.sheaves
    )


_MAKERS: Final[Mapping[PathKind, Callable[[_Known], Reeving]]] = {
    "trolley-jib hoist": _trolley_hoist,
    "trolley rope": _trolley_rope,
    "luffing-jib hoist": _luffing_hoist,
    "luffing rope": _luffing_rope,
    "telescopic hoist": _telescopic,
    "bridge hoist, twin drum": _bridge_twin,
    "bridge hoist, single drum": _bridge_single,
    "spans and sheaves": _listed,
}
