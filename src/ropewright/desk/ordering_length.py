"""How much rope the crane needs, worked out from its path; and what a reel of it weighs."""

import math
from datetime import date
from fractions import Fraction
from typing import Final

from ropewright.desk.ordering_model import OrderField, OrderWish
from ropewright.errors import InputError
from ropewright.geometry import fill_estimate_m, trace
from ropewright.inspection import Dossier, RiggedHoist, Rigging, hoist_on
from ropewright.rope import Rope

_NODES: Final = 31  # positions along each axis; corners included
REEL_BARREL_D: Final = 20
REEL_WIDTH_D: Final = 30
REEL_MARGIN_D: Final = 2
SLACK_M: Final = 2.0  # own assumption: so far off no question is asked
SLACK_SHARE: Final = 0.02
_OVERSIZE: Final = 1.05  # the largest a new rope of 8 mm or more may measure, EN 12385-4


def length_field(dossier: Dossier, today: date, wish: OrderWish) -> OrderField:
    """The length to order, added up part by part; parts that are not known are asked for.

    Common practice, no source: the greatest height times the falls, the jib, the dead wraps and
    what will be cut off; not the length of the shortened rope.  Here the path itself says how
    much rope lies between end A and the drum at the worst position of the crane.
    """
    steps: list[str] = []
    missing: list[str] = []
    total = 0.0
    for part_m, words in (
        _path_part(dossier, today),
        _wraps_part(dossier, today),
        _stated(
            wish.ends_m, "rope in clamp, sockets and seizings",
            "the rope that lies in clamp, sockets and seizings (--ends)",
        ),
        _stated(
            wish.crops_m, "rope to cut off in its life",
            "the rope to be cut off in its life (--crops)",
        ),
    ):  # fmt: skip
        if part_m is None:
            missing.append(words)
            steps.append(f"to be filled in: {words}")
        else:
            total += part_m
            steps.append(f"{part_m:.2f} m  {words}")
    steps.append(_beside(dossier))
    if missing:
        known = f"at least {total:.2f} m, and to that: " if total else ""
        return OrderField(
            key="length_m", words="Length", shown=f"{known}{'; '.join(missing)}",
            source="the crane as rigged", steps=tuple(steps),
        )  # fmt: skip
    whole = math.ceil(round(total, 6))
    steps.insert(-1, f"{total:.2f} m  together, rounded up to {whole} m")
    return OrderField(
        key="length_m", words="Length", value=float(whole), shown=f"{whole} m or a little more",
        how="worked out", source="the crane as rigged", steps=tuple(steps),
        look=_differs(dossier, total - (wish.crops_m or 0.0), whole),
    )  # fmt: skip


def _stated(length_m: float | None, words: str, ask: str) -> tuple[float | None, str]:
    return (None, ask) if length_m is None else (length_m, f"{words}, as stated")


def _beside(dossier: Dossier) -> str:
    cut_m = dossier.history.original_length_m - dossier.history.at(date.max).length_m
    cut = f", of which {cut_m:.2f} m were cut off since" if cut_m else ""
    return f"to compare: {dossier.history.original_length_m:.2f} m were first fitted{cut}"


def _differs(dossier: Dossier, least_m: float, whole_m: float) -> str:
    """A rope that was first fitted too short, or clearly longer, asks for a reason."""
    first_m = dossier.history.original_length_m
    slack_m = max(SLACK_M, SLACK_SHARE * first_m)
    if least_m - slack_m <= first_m <= whole_m + slack_m:
        return ""
    return f"the rope first fitted was {first_m:.2f} m: find out why this differs"


def _path_part(dossier: Dossier, today: date) -> tuple[float | None, str]:
    """The most rope that ever lies between end A and the drum."""
    try:
        rigged = hoist_on(dossier, today)
    except InputError as error:
        return None, f"the rope from end A to the drum ({error.expected or error})"
    facts = rigged.rigging.reeving
    if rigged.by_payout and (facts is None or facts.out_at_top_m is None):
        rigging = rigged.rigging
        height = (rigging.hook_high_m or 0.0) - (rigging.hook_low_m or 0.0)
        return None, (
            "the rope from end A to the drum with the hook at its highest; the hook's travel "
            f"of {height:.2f} m × {rigging.falls} falls = {height * (rigging.falls or 0):.2f} m "
            "comes on top"
        )
    return _greatest_out(rigged)


def _greatest_out(rigged: RiggedHoist) -> tuple[float | None, str]:
    hoist = rigged.hoist
    try:
        grid = hoist.travel.grid(hoist.reeving.axes, _NODES)
    except InputError as error:
        return None, f"the rope from end A to the drum ({error.expected})"
    seen = trace(hoist, grid)
    outside = seen.out_m - seen.base_m
    most = int(outside.argmax())
    length_m = float(outside[most])
    if not math.isfinite(length_m):
        return None, "the rope from end A to the drum (a limit of the travel is not known)"
    at = grid.at(most)
    where = ", ".join(
        f"{word} {value:.1f} {unit}"
        for word, value, unit in (
            ("hook at", at.hook_m, "m"), ("radius", at.radius_m, "m"), ("jib at", at.jib_deg, "°"),
            ("boom", at.boom_m, "m"), ("boom at", at.boom_deg, "°"),
        )
        if value is not None
    )  # fmt: skip
    falls = f"{hoist.reeving.falls:g} falls, " if hoist.reeving.falls else ""
    return length_m, f"from end A over all sheaves to the drum, {falls}{where}"


def _wraps_part(dossier: Dossier, today: date) -> tuple[float | None, str]:
    rigging = dossier.rigging_at(today)
    ask = "the dead wraps (wraps left at the lowest hook position, and the barrel's diameter)"
    if rigging is None or rigging.dead_wraps is None:
        return None, ask
    wrap_m, how = _one_wrap(dossier, rigging)
    if wrap_m is None:
        return None, ask
    drums = 2 if _is_twin(rigging) else 1
    on = f" on each of {drums} drum ends" if drums > 1 else ""
    return (
        drums * rigging.dead_wraps * wrap_m,
        f"dead wraps: {rigging.dead_wraps:g}{on} × {wrap_m:.3f} m, {how}",
    )


def _is_twin(rigging: Rigging) -> bool:
    return rigging.reeving is not None and rigging.reeving.kind == "bridge hoist, twin drum"


def _one_wrap(dossier: Dossier, rigging: Rigging) -> tuple[float | None, str]:
    stated = dossier.installation.drum_wrap_length_m
    if stated is not None:
        return stated, "as measured"
    if rigging.drum_diameter_mm is None:
        return None, ""
    barrel, rope = float(rigging.drum_diameter_mm), float(dossier.rope.nominal_diameter_mm)
    return math.pi * (barrel + rope) / 1000, f"π × ({barrel:g} + {rope:g}) mm"


# --- The reel ---------------------------------------------------------------------------------


def reel_fields(rope: Rope, length_m: float | None) -> tuple[OrderField, ...]:
    """Size and mass of a reel for ``length_m`` [m]; its bore is the reel stand's: asked for."""
    bore = OrderField(
        key="reel_bore_mm", words="Reel bore", shown="the shaft of your reel stand",
    )  # fmt: skip
    if length_m is None:
        ask = "follows from the length"
        return (
            OrderField(key="reel", words="Reel size", shown=ask),
            OrderField(key="reel_mass_kg", words="Mass of the rope", shown=ask),
            bore,
        )
    return _reel_size(rope, length_m), _reel_mass(rope, length_m), bore


def _reel_size(rope: Rope, length_m: float) -> OrderField:
    d_mm = float(rope.nominal_diameter_mm)
    barrel, width, margin = REEL_BARREL_D * d_mm, REEL_WIDTH_D * d_mm, REEL_MARGIN_D * d_mm
    step = 0.5 * d_mm
    flange = barrel + 2 * margin + step
    while length_m > fill_estimate_m(
        barrel_mm=barrel, flange_mm=flange, margin_mm=margin, width_mm=width,
        rope_mm=_OVERSIZE * d_mm,
    ):  # fmt: skip
        flange += step
    steps = (
        f"rule of thumb for drums (within 10 to 20 %): {length_m:.0f} m on a barrel of "
        f"{REEL_BARREL_D} d, {REEL_WIDTH_D} d wide, {REEL_MARGIN_D} d of flange left free"
    )
    shown = f"about {flange / 1000:.2f} m flange, {width / 1000:.2f} m wide between flanges"
    return OrderField(
        key="reel", words="Reel size", value=shown, shown=f"{shown}; the maker says what it is",
        how="estimate", source="own assumption, for crane and transport to plan with",
        steps=(steps,),
    )  # fmt: skip


def _reel_mass(rope: Rope, length_m: float) -> OrderField:
    per_m = rope.length_mass()
    if per_m is None:
        return OrderField(
            key="reel_mass_kg", words="Mass of the rope",
            shown="ask the maker: no mass per metre is known for this make",
        )  # fmt: skip
    mass = per_m.value * Fraction(repr(length_m))
    whole = math.ceil(mass)
    return OrderField(
        key="reel_mass_kg", words="Mass of the rope", value=Fraction(whole),
        shown=f"about {whole} kg, the reel comes on top", how="estimate",
        source=per_m.source,
        steps=(f"{float(per_m.value):.3f} kg/m × {length_m:g} m",),
    )  # fmt: skip
